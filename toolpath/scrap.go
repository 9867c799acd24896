package toolpath

import (
	"cmp"
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
	"fullerwright/toolpath/proof"
)

// Scrap is a piece of the same steel with a row of short level grooves of one pass each, cut
// before the bar: their widths tell the true radius of the cutter and where Z zero stands.
// It lies with its first end at the stop and a long side at the fixed jaw.
type Scrap struct {
	Size    PlainBar
	Grooves []ScrapGroove
}

// ScrapGroove is one of them: programmed depth, the width that a cutter as it stands in the
// shop file leaves there, and X between the ends of its full depth, mm.
type ScrapGroove struct{ Depth, Width, From, To float64 }

const (
	// scrapFlat is how long each groove has its full depth, mm: room for the jaws of a
	// caliper (common practice, no source).
	scrapFlat = 20
	// scrapGap is what is left between two grooves and beyond the first and the last, mm.
	scrapGap = 6
	// scrapLand is what is left beside the widest groove, mm (judgement).
	scrapLand = 4
)

// Width and depth say the more of the radius the deeper the deepest groove is: it goes to
// scrapDeeper times the fuller's depth, to scrapShare of the radius and to half the
// thickness at most.
const scrapDeeper, scrapShare = 2.5, 0.5

// PlanScrap plans the scrap for the fullers of a blade, with the cutter of the given name,
// or, where name is empty, with the one that the fullers are milled with: grooves of half
// their greatest depth, that depth, and one deeper. A size of 0 is as large as needed, as
// wide and as thick as the bar.
func PlanScrap(b profile.Blade, shop Shop, size PlainBar, name string) (*Job, Scrap, error) {
	b = b.Designed()
	if len(b.Fullers) == 0 {
		return nil, Scrap{}, &PlanError{"the knife has no fuller", "give it a [[fuller]]: test grooves are as deep as its fullers"}
	}
	face := profile.Right
	if len(b.Grooves(face)) == 0 {
		face = profile.Left
	}
	whole, _, err := PlanFullers(b, shop, SetupFor(b.Bar, face, AboutY), name)
	if err != nil {
		return nil, Scrap{}, err
	}
	if size.Width == 0 {
		size.Width = b.Bar.Width()
	}
	if size.Thickness == 0 {
		size.Thickness = b.Bar.Thickness(0)
	}
	s := Scrap{Size: size}
	s.layOut(whole.Cutter, deepestOf(b, face, whole.Cutter, shop))
	if s.Size.Length == 0 {
		s.Size.Length = s.needed()
	}
	data, err := shop.steelData(b)
	if err != nil {
		return nil, Scrap{}, err
	}
	job := &Job{Step: Step{Operation: Fullers, Face: profile.Right}, Name: b.Knife.Name, Named: "scrap-groove", Steel: b.Knife.Blade.Steel,
		Setup: s.setup(), Cutter: whole.Cutter, Coolant: shop.Machine.Coolant}
	var cuts []fullerCut
	for i := range s.Grooves {
		groove := s.groove(i, job.Cutter.Radius())
		cuts = append(cuts, fullerCut{fuller: i + 1, groove: groove, plan: planOf(groove), cutter: job.Cutter.Radius(), stock: shop.Work.FinishStock,
			deepest: s.Grooves[i].Depth, face: func(float64) float64 { return s.Size.Thickness / 2 }})
	}
	job.cutGrooves(shop, data, cuts, s.Size.Thickness/2)
	job.Checks = job.fullerChecks(b, shop, data, cuts)
	job.findsWays(&trial{blade: b, shop: shop, plan: func(b profile.Blade, shop Shop, bought string) (*Job, error) {
		job, _, err := PlanScrap(b, shop, size, cmp.Or(bought, name))
		return job, err
	}}, Step{Operation: Fullers, Face: face})
	job.Checks = append(job.Checks, s.checks()...) // their numbers are those of a flag
	return job, s, nil
}

func deepestOf(b profile.Blade, face profile.Face, cutter Cutter, shop Shop) float64 {
	deepest := 0.0
	for _, f := range b.Fullers {
		if f.Size.Cut(face) {
			deepest = math.Max(deepest, newFullerCut(b, f, cutter.Radius(), shop.Work.FinishStock).deepest)
		}
	}
	return deepest
}

// layOut sets the grooves one after the other along the middle of the scrap.
func (s *Scrap) layOut(cutter Cutter, depth float64) {
	r := cutter.Radius()
	deep := math.Min(math.Min(scrapDeeper*depth, scrapShare*r), math.Min(cutter.FluteLength, s.Size.Thickness/2))
	depth = math.Min(depth, scrapShare*r) // a groove deeper than the ball has upright walls, whose width tells nothing
	depths := []float64{under(depth / 2), under(depth)}
	if deep > 1.2*depth {
		depths = append(depths, under(deep))
	}
	at := 0.0
	for _, d := range depths {
		half := cutting.EffectiveDiameter(2*r, d) / 2
		from := at + scrapGap + half
		s.Grooves = append(s.Grooves, ScrapGroove{Depth: d, Width: 2 * half, From: from, To: from + scrapFlat})
		at = from + scrapFlat + half
	}
}

// needed is the least length of the scrap.
func (s Scrap) needed() float64 {
	last := s.Grooves[len(s.Grooves)-1]
	return math.Ceil(last.To + last.Width/2 + scrapGap)
}

func (s Scrap) setup() Setup {
	return Setup{Blank: true, Top: s.Size.Thickness / 2, Length: s.Size.Length, Width: s.Size.Width,
		Placement: motion.Placement{SignX: 1, SignY: 1, Z0: -s.Size.Thickness / 2}}
}

func (s Scrap) groove(i int, radius float64) profile.Groove {
	g := s.Grooves[i]
	return profile.LevelGroove(radius, s.Size.Thickness/2-g.Depth, -s.Size.Width/2, g.From, g.To)
}

// checks looks at whether the grooves fit the scrap.
func (s Scrap) checks() []Check {
	last := s.Grooves[len(s.Grooves)-1]
	const from = "geometry, and what a caliper needs: judgement"
	return []Check{
		least("length of the scrap", s.Size.Length, s.needed(), "mm").from(from).orElse("a scrap %.0f mm long would do", s.needed()),
		least("width of the scrap", s.Size.Width, last.Width+2*scrapLand, "mm").from(from).orElse("a scrap %.2f mm wide would do", over(last.Width+2*scrapLand)),
	}
}

// Height returns the height that the face of the scrap must have once it is milled with a
// ball of the given radius.
func (s Scrap) height(radius float64) surface {
	grooves := make([]profile.Groove, len(s.Grooves))
	for i := range grooves {
		grooves[i] = s.groove(i, radius)
	}
	return func(x, y float64) float64 {
		low := s.Size.Thickness / 2
		for _, g := range grooves {
			low = math.Min(low, g.Height(x, y))
		}
		return low
	}
}

// Prove cuts a simulated scrap with the motions of its program, of one file or of several
// that are run in order, and judges what is left.
func (s Scrap) Prove(job *Job, shop Shop, files ...[]motion.Motion) FaceProof {
	cutter, setup := job.Cutter, s.setup()
	r, deepest := cutter.Radius(), s.Grooves[len(s.Grooves)-1].Depth
	top, lean := s.Size.Thickness/2, math.Acos(1-deepest/r)
	box := proof.Box{MinX: 0, MaxX: s.Size.Length, MinY: -s.Size.Width, MaxY: 0}
	grid := proof.GridOver(box, proof.StepFor(shop.Limits.Gouge/4, r, lean, coarsestStep))
	_, _, perTooth := cutting.FeedPerTooth(cutter.Diameter)
	t := targeted{Target: proof.Exactly(s.height(r)), bound: grid.Bound(r, lean),
		limits: proof.Limits{Span: shop.Machine.travel(), Feed: shop.Machine.FeedMost, FeedPerTooth: perTooth,
			RampSlope: rampRounding * math.Tan(shop.Limits.Ramp.Radians()), SteepCut: steepStocks * shop.Work.FinishStock,
			BarTop: top, JawTop: top - shop.StandOf(2*top).Above, HighestTip: top + shop.Work.Clearance,
			FixedJaw: 0, MovingJaw: -s.Size.Width, MostX: s.Size.Length}}
	state := &BarState{shop: shop}
	var proofs []FaceProof
	for i, motions := range files {
		state.unfinished = i < len(files)-1
		p := state.judgeOn(proof.NewMap(grid, s.Size), t, setup, cutter, motions)
		p.Step, p.Seconds = job.Step, secondsOf(motions, shop.Machine)
		state.pass(passed{setup, cutter, motions})
		proofs = append(proofs, p)
	}
	last := len(proofs) - 1
	return proofs[last].After(proofs[:last]...)
}

// String says where a groove of the scrap lies and how wide it must measure.
func (g ScrapGroove) String() string {
	return fmt.Sprintf("X %.1f to %.1f, %.3f deep: %.3f wide", g.From, g.To, g.Depth, g.Width)
}
