package toolpath

import (
	"math"

	"fullerwright/toolpath/motion"
)

// Parallel is a pair of parallels that the maker has: what the bar is laid on in the vise.
type Parallel struct{ Height float64 } // mm

func parallelsGroup() shopGroup {
	return shopGroup{name: "parallels", meaning: "a pair of parallels that you have; with them and jaw_height the setup sheet says which to lay in", repeated: true, entries: []entry{
		{demanded(lengthKey("height", "how high they are, on edge or flat", "", 1, 150)), func(s *Shop, i int) any { return &s.Parallels[i].Height }},
	}}
}

// Stand is how high a bar stands in the vise.
type Stand struct {
	Parallels float64 // their height, mm; 0 where the shop file does not tell of jaws and parallels
	Above     float64 // of the face that is up over the top of the jaws, mm
}

// Known reports whether the parallels are.
func (s Stand) Known() bool { return s.Parallels > 0 }

// aboveLeast is how far a face must stand above the jaws at least, mm: so that an indicator
// and a straight edge lie on it and not on the jaws (common practice, no source).
const aboveLeast = 0.1

// StandOf returns how a bar or a blank of a thickness, mm, stands on the pair of parallels
// that brings it nearest to where the shop file wants it over the jaws,
//
//	above = parallels + thickness - jaws,
//
// among those that let it stand out and be held; where none does, among all. Where the shop
// file does not tell of them it stands as it is wanted.
func (s Shop) StandOf(thickness float64) Stand {
	best := Stand{Above: s.Vise.BarAboveJaws}
	if s.Vise.JawHeight == 0 || len(s.Parallels) == 0 {
		return best
	}
	worst := math.Inf(1)
	from, to := s.parallelsFor(thickness)
	for _, p := range s.Parallels {
		above := p.Height + thickness - s.Vise.JawHeight
		off := math.Abs(above - s.Vise.BarAboveJaws)
		if p.Height < from-slack || p.Height > to+slack {
			off += s.Vise.JawHeight + thickness // beyond any that does
		}
		if off < worst {
			best, worst = Stand{p.Height, above}, off
		}
	}
	return best
}

// parallelsFor returns between which heights parallels let a bar stand out of the jaws and
// be held by enough of its edges: what is held is how much lower they are than the jaws.
func (s Shop) parallelsFor(thickness float64) (from, to float64) {
	return s.Vise.JawHeight + aboveLeast - thickness, s.Vise.JawHeight - math.Min(bearingLeast, thickness/2)
}

// Stand returns how the bar or the blank of a job stands in the vise.
func (j *Job) Stand(shop Shop) Stand { return shop.StandOf(2 * j.Setup.Top) }

const (
	// airLeast is how much air there must be under a cutter that comes through the bar, mm,
	// and sideLeast how far it stays from the jaws where it works below their top (common
	// practice, no source).
	airLeast, sideLeast = 1.0, 0.5
)

// standChecks looks at how the work stands in the vise: whether it opens far enough, whether
// the parallels let the face stand out of the jaws, whether a cutter that comes through finds
// air under the work, and whether one that works below the top of the jaws keeps off them.
func (j *Job) standChecks(shop Shop) []Check {
	const practice = "common practice, no source"
	stand, vise := j.Stand(shop), shop.Vise
	out := []Check{
		most("width against the opening of the vise", j.Setup.Width, vise.JawOpening, "mm").from("the shop file, vise.jaw_opening").
			orElse("a vise that opens %.2f mm would do", over(j.Setup.Width)),
	}
	if near := j.toJaws(vise, stand.Above); !math.IsInf(near, 1) {
		out = append(out, least("cutter to the jaws below their top", near, sideLeast, "mm").from(practice).
			orElse("a bar that stands %.2f mm above the jaws would do", over(-j.lowestZ())))
	}
	if !stand.Known() {
		return out
	}
	from, to := shop.parallelsFor(2 * j.Setup.Top)
	out = append(out, least("face above the top of the jaws", stand.Above, aboveLeast, "mm").from(practice).
		orElse("parallels of %.2f to %.2f mm would do", over(from), under(to)))
	if below := -j.lowestZ() - 2*j.Setup.Top; below > 0 {
		out = append(out, least("air under the cutter that comes through", stand.Parallels-below, airLeast, "mm").from(practice).
			orElse("parallels of %.2f mm would do", over(below+airLeast)))
	}
	return out
}

// lowestZ returns the lowest that the tip goes.
func (j *Job) lowestZ() float64 {
	low := math.Inf(1)
	for _, m := range j.Moves {
		low = math.Min(low, m.To.Z)
	}
	return low
}

// toJaws returns how near the cutter comes to the jaws, across, where it reaches below
// their top; without end where it never does.
func (j *Job) toJaws(vise Vise, above float64) float64 {
	near, jaws := math.Inf(1), j.JawSpan(vise)
	var at motion.Vec
	for _, m := range j.Moves {
		low := math.Min(at.Z, m.To.Z)
		r := j.halfWidthAt(-above - low)
		from, to := math.Min(at.X, m.To.X), math.Max(at.X, m.To.X)
		if m.Kind != motion.Rapid && r > 0 && to+r > jaws.From && from-r < jaws.To {
			for _, y := range []float64{at.Y, m.To.Y} {
				near = math.Min(near, math.Min(-(y+r), y-r+j.Setup.Width))
			}
		}
		at = m.To
	}
	return near
}

// halfWidthAt returns half the width of the cutter at a height over its tip, mm: of a ball
// that of its chord; 0 below the tip.
func (j *Job) halfWidthAt(height float64) float64 {
	r := j.Cutter.Radius()
	switch {
	case height <= 0:
		return 0
	case j.Cutter.End == BallEnd && height < r:
		return math.Sqrt(height * (2*r - height))
	}
	return r
}
