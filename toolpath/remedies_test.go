package toolpath

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
)

// remedyCase is a knife and a shop in which one check stops a step of the work.
type remedyCase struct {
	name   string
	check  string // beginning of its name
	step   Step   // the zero step for the blade alone
	knife  func(k *profile.Knife)
	shop   func(s *Shop)
	cutter string // asked for
	want   []string
}

func onlyCutter(name string, change func(c *Cutter)) func(s *Shop) {
	return func(s *Shop) {
		s.Cutters = slices.DeleteFunc(s.Cutters, func(c Cutter) bool { return c.Name != name })
		change(&s.Cutters[0])
	}
}

// remedyKnife has every feature that is milled.
func remedyKnife() profile.Knife {
	k := testKnife()
	k.Guard = profile.Guard{Length: 44, Width: 14, Thickness: 6, Material: "brass", Clearance: 0.02, Chamfer: 1}
	k.Mark = profile.Mark{Text: "AB", Height: 2.5, Depth: 0.1, Radius: 0.25, Face: "right"}
	k.Ricasso.Length = 14
	k.Outline = profile.OutlineSize{Hold: profile.Tabs, TabWidth: 6, Height: 0.8}
	k.Bar.TangAllowance, k.Bar.PointAllowance = 30, 30
	k.Holes = []profile.Hole{{At: -40, FromSpine: 17, Diameter: profile.Some(4), Face: "right"}}
	return k
}

func remedyCases() []remedyCase {
	asIs := func(*profile.Knife) {}
	fuller, shoulder, slot := Step{Operation: Fullers}, Step{Operation: Shoulders}, Step{Operation: Slot}
	outline, mark, holes := Step{Operation: Outline}, Step{Operation: Marks}, Step{Operation: Holes, Bore: 4}
	machine := func(change func(m *Machine)) func(s *Shop) { return func(s *Shop) { change(&s.Machine) } }
	return []remedyCase{
		{"fuller, weak mill", "", fuller, asIs, machine(func(m *Machine) { m.Power = 21 }), "ball 12", nil},
		{"fuller, fast spindle", "", fuller, asIs, machine(func(m *Machine) { m.SpindleLeast, m.SpindleMost = 9000, 9000 }), "ball 12", nil},
		{"fuller, far out", "", fuller, asIs, onlyCutter("ball 12", func(c *Cutter) { c.StickOut = 95 }), "", nil},
		{"fuller, thin shank", "", fuller, asIs, onlyCutter("ball 12", func(c *Cutter) { c.ShankDiameter = 2 }), "", nil},
		{"fuller, short flutes", "", fuller, asIs, onlyCutter("ball 12", func(c *Cutter) { c.FluteLength = 0.5 }), "", nil},
		{"fuller, short", "", fuller, asIs, onlyCutter("ball 12", func(c *Cutter) { c.FluteLength, c.StickOut = 2, 2.5 }), "", nil},
		{"fuller, too large", "", fuller, func(k *profile.Knife) { k.Fullers[0].Radius = 5 }, func(*Shop) {}, "ball 12", nil},
		{"fuller, travel", "", fuller, asIs, machine(func(m *Machine) { m.TravelX, m.TravelZ = 60, 200 }), "ball 12", nil},
		{"fuller, travel Z", "", fuller, asIs, machine(func(m *Machine) { m.TravelZ = 5.5 }), "ball 12", nil},
		{"fuller, jaws", "", fuller, asIs, func(s *Shop) { s.Vise.JawHeight, s.Vise.BarAboveJaws = 0, 20 }, "ball 12", nil},
		{"shoulder, far out", "", shoulder, asIs, onlyCutter("square 6", func(c *Cutter) { c.StickOut = 250 }), "", nil},
		{"shoulder, short flutes", "", shoulder, asIs, onlyCutter("square 6", func(c *Cutter) { c.FluteLength = 3 }), "", nil},
		{"shoulder, short", "", shoulder, asIs, onlyCutter("square 6", func(c *Cutter) { c.FluteLength, c.StickOut = 6.5, 6.6 }), "", nil},
		{"shoulder, weak", "", shoulder, asIs, machine(func(m *Machine) { m.Power = 20 }), "square 6", nil},
		{"shoulder, fast", "", shoulder, asIs, machine(func(m *Machine) { m.SpindleLeast, m.SpindleMost = 30000, 30000 }), "square 6", nil},
		{"shoulder, vise", "", shoulder, asIs, func(s *Shop) { s.Vise.JawLength = 20 }, "square 6", nil},
		{"shoulder, low parallels", "face above", shoulder, asIs, func(s *Shop) { s.Parallels = []Parallel{{5}} }, "square 6", nil},
		{"shoulder, high parallels", "edges of the bar", shoulder, asIs, func(s *Shop) { s.Parallels = []Parallel{{60}} }, "square 6", nil},
		{"slot, no air", "air under", slot, asIs, func(s *Shop) { s.Vise.JawHeight, s.Parallels = 6, []Parallel{{1}} }, "square 3", nil},
		{"shoulder, narrow vise", "width against", shoulder, asIs, func(s *Shop) { s.Vise.JawOpening = 36 }, "square 6", nil},
		{"shoulder, travel", "", shoulder, asIs, machine(func(m *Machine) { m.TravelY = 35 }), "square 6", nil},
		{"slot, far out", "", slot, asIs, onlyCutter("square 3", func(c *Cutter) { c.StickOut = 250 }), "", nil},
		{"slot, short flutes", "", slot, asIs, onlyCutter("square 3", func(c *Cutter) { c.FluteLength = 3 }), "", nil},
		{"slot, narrow guard", "wall of the guard", slot, func(k *profile.Knife) { k.Guard.Width = 8 }, func(*Shop) {}, "", nil},
		{"outline, tang", "bar to clamp behind", outline, func(k *profile.Knife) { k.Bar.TangAllowance = 5 }, func(*Shop) {}, "", nil},
		{"outline, point", "bar to clamp in front", outline, func(k *profile.Knife) { k.Bar.PointAllowance = 5 }, func(*Shop) {}, "", nil},
		{"outline, tabs", "tabs with", outline, func(k *profile.Knife) { k.Outline.Height = 2.2 }, func(*Shop) {}, "", nil},
		{"outline, flutes", "depth against the flutes", outline, asIs, onlyCutter("square 6", func(c *Cutter) { c.FluteLength = 3 }), "", nil},
		{"holes, short flutes", "depth against the flutes", holes, asIs, onlyCutter("drill 4", func(c *Cutter) { c.FluteLength = 3 }), "", nil},
		{"holes, short", "depth against the stick-out", holes, asIs, onlyCutter("drill 4", func(c *Cutter) { c.FluteLength, c.StickOut = 8, 8.1 }), "", nil},
		{"holes, fast", "surface speed", holes, asIs, machine(func(m *Machine) { m.SpindleLeast = 5000 }), "", nil},
		{"mark, deep", "depth of the mark on the bar", mark, func(k *profile.Knife) { k.Allowance.CleanUp = 0.6 }, func(*Shop) {}, "", nil},
		{"mark, in the fuller", "fuller under the mark", mark, func(k *profile.Knife) { k.Mark.At = profile.Some(60); k.Mark.FromSpine = profile.Some(10) }, func(*Shop) {}, "", nil},
		{"mark, fast", "", mark, asIs, machine(func(m *Machine) { m.SpindleLeast, m.SpindleMost = 99000, 99000 }), "", nil},
	}
}

// TestRemediesLetTheWorkBeDone: for every check that can stop a program there is a knife and
// a shop in which it does; each way out that it offers, put into the files and planned
// anew, does away with it and brings no other stop.
func TestRemediesLetTheWorkBeDone(t *testing.T) {
	reached := map[string]bool{}
	for _, row := range remedyCases() {
		k, shop := remedyKnife(), builtInShop(t)
		row.knife(&k)
		row.shop(&shop)
		job, stops := stopsAnew(t, row, k, shop, "")
		found := false
		for _, c := range job.Checks {
			if c.Verdict != Stop || !strings.HasPrefix(c.Name, row.check) {
				continue
			}
			found, reached[withoutFuller(c.Name)] = true, true
			ways := c.Ways()
			assert.NotEmpty(t, ways, "%s: %s", row.name, c)
			assert.NotRegexp(t, `\d+ (levels|rev/min|mm/min)`, c.Remedy.String(), "a number in words alone: %s", c)
			for _, way := range ways {
				mended, changed, bought := change(t, k, shop, way)
				_, left := stopsAnew(t, row, mended, changed, bought)
				assert.NotContains(t, left, c.Name, "%s: %s: %+v", row.name, c, way)
				assert.Subset(t, stops, left, "%s: %s: %+v", row.name, c, way)
			}
		}
		assert.True(t, found, "%s: no %q stops: %v", row.name, row.check, stops)
	}
	// What planning chooses inside the limit stops nothing; limits_test holds it.
	for _, name := range []string{"spindle speed", "depth of a level", "feed", "ridge between passes", "feed for a turn over the diameter", "contact of the cutter in a corner"} {
		assert.False(t, reached[name], "%s is chosen inside its limit", name)
	}
}

func withoutFuller(name string) string {
	name, _, _ = strings.Cut(name, ", fuller")
	return name
}

// stopsAnew plans the step of a case as it would be from files, and names what stops it or
// the blade.
func stopsAnew(t *testing.T, row remedyCase, k profile.Knife, shop Shop, bought string) (*Job, []string) {
	t.Helper()
	require.NoError(t, k.Validate(), row.name)
	b := mustBuild(t, k)
	cutter := row.cutter
	if cutter != "" && bought != "" {
		cutter = bought
	}
	job, _, err := Plan(b, shop, row.step, SetupFor(b.Bar, row.step.Face, AboutY), cutter)
	require.NoError(t, err, row.name)
	var names []string
	for _, c := range append(Stops(job.Checks), Stops(DesignChecks(b, shop))...) {
		names = append(names, c.Name)
	}
	return job, names
}

// change makes a change as a person would, in knife and shop.
func change(t *testing.T, k profile.Knife, shop Shop, way Way) (knife profile.Knife, changed Shop, bought string) {
	t.Helper()
	for _, one := range append([]Way{way}, way.Also...) {
		var err error
		switch {
		case one.Cutter != nil:
			bought = one.Cutter.Name
			shop.Cutters = append(slices.Clone(shop.Cutters), *one.Cutter)
		case one.File == ShopFile:
			shop, err = shop.Put(one.Key, one.Value)
		case one.Word != "":
			k, err = k.PutWord(one.Key, one.Word)
		default:
			k, err = k.Put(one.Key, one.Value)
		}
		require.NoError(t, err, "%+v", way)
	}
	return k, shop, bought
}

// TestWaysOutLetAStepBeDone: where a step is stopped by several checks, or no cutter fits,
// each single change lets the whole of it be done; a hundredth less of it would not.
func TestWaysOutLetAStepBeDone(t *testing.T) {
	thin := onlyCutter("ball 12", func(c *Cutter) { c.StickOut = 95 })
	flutes := onlyCutter("ball 12", func(c *Cutter) { c.FluteLength = 1.5 })
	fuller := Step{Operation: Fullers}
	as := func(f profile.FullerSize) func(k *profile.Knife) {
		return func(k *profile.Knife) {
			k.Fullers[0].Depth, k.Fullers[0].Web, k.Fullers[0].Ratio = f.Depth, f.Web, f.Ratio
		}
	}
	for _, row := range []remedyCase{
		{"far out", "", fuller, func(*profile.Knife) {}, thin, "", []string{"cutter[1].stick_out", "cutter"}},
		{"too deep for the flutes", "", fuller, as(profile.FullerSize{Depth: profile.Some(2)}), flutes, "", []string{"fuller[1].depth", "cutter"}},
		{"the same by web", "", fuller, as(profile.FullerSize{Web: profile.Some(2.5)}), flutes, "", []string{"fuller[1].web", "cutter"}},
		{"the same by ratio", "", fuller, as(profile.FullerSize{Ratio: profile.Some(0.3)}), flutes, "", []string{"fuller[1].ratio", "cutter"}},
		{"a hard bar", "", fuller, func(k *profile.Knife) { k.Bar.Condition, k.Bar.Hardness = "hardened", profile.Some(55) }, func(*Shop) {}, "", []string{"bar.condition"}},
		{"a ball too large", "", fuller, func(k *profile.Knife) { k.Fullers[0].Radius = 4 }, onlyCutter("ball 12", func(*Cutter) {}), "", []string{"cutter"}},
		{"two fullers", "", fuller, func(k *profile.Knife) {
			k.Fullers[0].Radius, k.Fullers[0].FromSpine = 6, 6
			k.Fullers = append(k.Fullers, k.Fullers[0])
			k.Fullers[1].FromSpine = 15
		}, onlyCutter("ball 12", func(c *Cutter) { c.FluteLength = 0.7 }), "", []string{"fuller[1].depth", "cutter"}},
		{"no square end", "", Step{Operation: Slot}, func(*profile.Knife) {}, onlyCutter("ball 12", func(*Cutter) {}), "", []string{"cutter"}},
	} {
		k, shop := remedyKnife(), builtInShop(t)
		row.knife(&k)
		row.shop(&shop)
		b := mustBuild(t, k)
		setup := SetupFor(b.Bar, row.step.Face, AboutY)
		job, _, err := Plan(b, shop, row.step, setup, "")
		require.True(t, err != nil || len(Stops(job.Checks)) > 0, "%s cannot be done", row.name)
		ways := WaysOut(b, shop, row.step, setup, "")
		for _, key := range row.want {
			assert.True(t, slices.ContainsFunc(ways, func(w Way) bool { return w.Key == key }), "%s: no %s in %+v", row.name, key, ways)
		}
		done := func(way Way) bool {
			mended, changed, bought := change(t, k, shop, way)
			b := mustBuild(t, mended)
			job, _, err := Plan(b, changed, row.step, SetupFor(b.Bar, row.step.Face, AboutY), bought)
			return err == nil && len(Stops(job.Checks)) == 0
		}
		for _, way := range ways {
			assert.True(t, done(way), "%s: %+v", row.name, way)
			if less := map[string]float64{"fuller[1].depth": 0.01, "fuller[1].web": -0.01, "cutter[1].stick_out": 0.01}[way.Key]; less != 0 && len(way.Also) == 0 {
				way.Value += less
				assert.False(t, done(way), "%s: so would %+v", row.name, way)
			}
		}
	}
}
