package toolpath

import (
	"math"
	"slices"

	"fullerwright/profile"
)

// openEnds are the ends at which a groove runs out of the bar into the air.
type openEnds struct{ start, end bool }

func (o openEnds) any() bool { return o.start || o.end }

// track returns the track of a centre under the axis of the groove, as below does, without
// run-outs at open ends.
func (c fullerCut) track(drop float64) track {
	t := below(c.groove, drop)
	if c.air.start {
		t.pieces = t.pieces[1:]
	}
	if c.air.end {
		t.pieces = t.pieces[:len(t.pieces)-1]
	}
	return t
}

// endInAir shortens the axis of an open groove so that the cutter, at the end of any lane,
// stands just clear of the bar: profile.BeyondBar over its radius.
func (c *fullerCut) endInAir(bar profile.Bar) {
	axis := slices.Clone(c.groove.Axis)
	clear := func(s float64) float64 {
		_, u := c.groove.Place(s)
		return c.cutter + profile.BeyondBar + c.reach()*math.Abs(u.Y)
	}
	// The floor beside the bar runs on level.
	if last := len(axis) - 1; c.air.end {
		axis[last].S = c.groove.AtX(bar.Front + clear(axis[last].S))
	}
	if c.air.start {
		axis[0].S = c.groove.AtX(bar.Butt - clear(axis[0].S))
	}
	c.groove.Axis = axis
}

// inBar returns the part of a track that lies over the bar.
func (c fullerCut) inBar(t track) track { return t.between(c.butt, c.front) }

// roughFromAir adds one pass of roughing that begins beside the bar, at the depth of the
// level: no ramp is needed. A groove open at one end is entered there by every pass.
func (c fullerCut) roughFromAir(out *course, tip track, u float64, feeds Feeds, forward bool) {
	if !(c.air.start && c.air.end) {
		forward = c.air.start
	}
	begin := tip.start()
	if !forward {
		begin = tip.end()
	}
	h := tip.height(begin)
	out.goOver(c.plan, begin, u)
	out.lower(c.plan, begin, u, descent{open: h, to: h}, feeds)
	out.run(c.plan, tip, u, forward, feeds.Slot, Rough)
}

// openTo returns the height down to which there is nothing in the way at the beginning of
// a finishing pass: the face of the bar, or in the air beside it the pass's own.
func (c fullerCut) openTo(s, h float64) float64 {
	axis := c.groove.Axis
	if c.air.start && s <= axis[0].S+near || c.air.end && s >= axis[len(axis)-1].S-near {
		return h
	}
	return c.face(s)
}

// OverStop returns how far below the top of the bar the cutter goes where it runs out over
// the stop, which stands at X = 0; 0 where it does not.
func (j *Job) OverStop() float64 {
	deepest := 0.0
	if j.Step.Operation != Fullers {
		return 0
	}
	for _, m := range j.Moves {
		if m.To.X < 0 {
			deepest = math.Max(deepest, -m.To.Z)
		}
	}
	return deepest
}

// near is how closely two places along a groove are the same, mm.
const near = 1e-6

// besideForFullers returns how far beside the bar a program of a blade's fullers goes below the
// face, over the cutter's radius, mm; 0 where no fuller is open at the end of the bar.
func besideForFullers(b profile.Blade) float64 {
	beside := 0.0
	for _, f := range b.Fullers {
		if f.StartInAir || f.EndInAir {
			_, u := f.Milled.Place(f.Milled.AtX(f.EndVisible))
			beside = math.Max(beside, profile.BeyondBar+f.Milled.Radius*math.Abs(u.Y)+proofRoom)
		}
	}
	return beside
}
