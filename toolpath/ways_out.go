package toolpath

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/profile"
)

// WaysOut returns single changes each of which alone lets the fullers of a face be milled
// where the checks stop the work or nothing fits: a smaller depth, a cutter set otherwise,
// another cutter, another condition of the steel. Each was tried: with it, planning ends
// without a stop, and the blade's own checks are no worse. There may be none.
func WaysOut(b profile.Blade, shop Shop, setup Setup, cutter string) []string {
	try := trial{blade: b, shop: shop, setup: setup, cutter: cutter}
	var out []string
	for _, way := range []func() string{try.shallower, try.shorter, try.otherCutter, try.annealed} {
		if says := way(); says != "" {
			out = append(out, says)
		}
	}
	return out
}

// trial is a job that cannot be done as it is.
type trial struct {
	blade  profile.Blade
	shop   Shop
	setup  Setup
	cutter string
}

// works reports whether the job can be done with a changed knife and shop.
func (t trial) works(change func(k *profile.Knife), shop Shop, cutter string) bool {
	k := t.blade.Knife
	k.Fullers = slices.Clone(k.Fullers)
	change(&k)
	if k.Validate() != nil {
		return false
	}
	b, err := t.blade.With(k)
	if err != nil || len(Stops(DesignChecks(b, shop))) > len(Stops(DesignChecks(t.blade, t.shop))) {
		return false
	}
	setup := SetupFor(b.Bar, t.setup.Face, t.setup.Flip)
	if len(b.Grooves(setup.Face)) == 0 {
		return false
	}
	job, _, err := PlanFullers(b, shop, setup, cutter)
	return err == nil && len(Stops(job.Checks)) == 0
}

func asItIs(*profile.Knife) {}

// sharesTried is into how many parts the way to nothing is divided to look for a share that
// works, and finerParts into how many each of those.
const sharesTried, finerParts = 10, 10

// greatestShare returns the greatest share under 1, to a hundredth, that works, or 0.
func greatestShare(works func(share float64) bool) float64 {
	for i := sharesTried - 1; i > 0; i-- {
		coarse := float64(i) / sharesTried
		if !works(coarse) {
			continue
		}
		for j := finerParts - 1; j > 0; j-- {
			if fine := coarse + float64(j)/(sharesTried*finerParts); works(fine) {
				return fine
			}
		}
		return coarse
	}
	return 0
}

// shallower looks for less deep fullers, one alone or all alike.
func (t trial) shallower() string {
	var all []int
	for i, f := range t.blade.Knife.Fullers {
		if f.Cut(t.setup.Face) {
			all = append(all, i)
		}
	}
	choices := [][]int{all}
	if len(all) > 1 {
		choices = nil
		for _, i := range all {
			choices = append(choices, []int{i})
		}
		choices = append(choices, all)
	}
	for _, chosen := range choices {
		lower := func(share float64) func(k *profile.Knife) {
			return func(k *profile.Knife) {
				for _, i := range chosen {
					t.lower(&k.Fullers[i], i, share)
				}
			}
		}
		share := greatestShare(func(share float64) bool { return t.works(lower(share), t.shop, t.cutter) })
		if share == 0 {
			continue
		}
		k := t.blade.Knife
		k.Fullers = slices.Clone(k.Fullers)
		lower(share)(&k)
		says := ""
		for _, i := range chosen {
			if says != "" {
				says += " and "
			}
			says += sayFullerDepth(i+1, k.Fullers[i])
		}
		return says
	}
	return ""
}

// lower makes a fuller as deep as a share of what it is at its deepest, by its own law.
func (t trial) lower(f *profile.FullerSize, i int, share float64) {
	switch {
	case f.Depth.Known:
		f.Depth.Value = under(f.Depth.Value * share)
	case f.Ratio.Known:
		f.Ratio.Value = math.Floor(f.Ratio.Value*share*1000) / 1000
	default:
		deepest := 0.0
		for _, s := range t.blade.Sections(i, sectionsLookedAt) {
			deepest = math.Max(deepest, s.Depth)
		}
		f.Web.Value = over(f.Web.Value + 2*deepest*(1-share))
	}
	f.Width = profile.Optional{} // it follows
}

// sectionsLookedAt is how many sections of a fuller its greatest depth is looked for at.
const sectionsLookedAt = 9

func sayFullerDepth(number int, f profile.FullerSize) string {
	switch {
	case f.Depth.Known:
		return fmt.Sprintf("a depth of %.2f mm for fuller %d", f.Depth.Value, number)
	case f.Ratio.Known:
		return fmt.Sprintf("a ratio of %.3f for fuller %d", f.Ratio.Value, number)
	}
	return fmt.Sprintf("a web of %.2f mm for fuller %d", f.Web.Value, number)
}

// shorter looks for a cutter of the drawer that would do if it stood out less.
func (t trial) shorter() string {
	for i, c := range t.shop.Cutters {
		if c.End != BallEnd || t.cutter != "" && c.Name != t.cutter {
			continue
		}
		set := func(share float64) (Shop, float64) {
			s := t.shop
			s.Cutters = slices.Clone(s.Cutters)
			s.Cutters[i].StickOut = under(c.StickOut * share)
			return s, s.Cutters[i].StickOut
		}
		share := greatestShare(func(share float64) bool {
			s, _ := set(share)
			return t.works(asItIs, s, c.Name)
		})
		if share > 0 {
			_, out := set(share)
			return fmt.Sprintf("the cutter %q standing out %.2f mm", c.Name, out)
		}
	}
	return ""
}

// sizesSold are diameters of balls that are sold everywhere, mm (common practice, no
// source).
func sizesSold() []float64 { return []float64{20, 16, 12, 10, 8, 6, 5, 4, 3, 2, 1} }

// otherCutter looks for a cutter that would do: of the groove's own radius, or of a size
// that is sold everywhere.
func (t trial) otherCutter() string {
	sizes := []float64{2 * smallestRadius(t.blade, t.setup.Face)}
	for _, size := range sizesSold() {
		if size < sizes[0] {
			sizes = append(sizes, size)
		}
	}
	for _, size := range sizes {
		ball := Cutter{Name: "tried", End: BallEnd, Diameter: size, RunOut: triedRunOut, Flutes: 2, FluteLength: 2 * size, ShankDiameter: math.Max(size, 6),
			StickOut: under(3 * size), HolderRadius: 16, Material: "carbide", Coated: true}
		s := t.shop
		s.Cutters = []Cutter{ball}
		if t.works(asItIs, s, ball.Name) {
			return fmt.Sprintf("a coated carbide ball of %.2f mm with two flutes %.2f mm long, standing out %.2f mm, that runs out no more than %.3f mm", size, ball.FluteLength, ball.StickOut, triedRunOut)
		}
	}
	return ""
}

// triedRunOut is what a good collet runs out, mm (common practice, no source).
const triedRunOut = 0.005

// annealed looks at the bar as annealed.
func (t trial) annealed() string {
	condition := t.blade.Knife.Bar.Condition
	if condition == "" || condition == "annealed" {
		return ""
	}
	soft := func(k *profile.Knife) { k.Bar.Condition, k.Bar.Hardness = "annealed", profile.Optional{} }
	if t.works(soft, t.shop, t.cutter) {
		return "the bar annealed instead of " + condition
	}
	return ""
}
