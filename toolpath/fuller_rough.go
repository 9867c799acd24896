package toolpath

import (
	"math"

	"fullerwright/toolpath/motion"
)

// rough adds the roughing of a fuller. Each lane begins over the end where the last
// one left off and first cuts its way to the near end of the straight part: the first of
// a level down a ramp from the level before, the others sideways out of the groove that
// a lane beside them has cleared. From there it goes out along the run-out and back
// through to the other end. So no cut begins by plunging, and the wedge that the ramp
// leaves is taken on the way. A fuller that is open at the end of the bar is entered there
// from beside the bar instead, at the depth of the level.
func (c fullerCut) rough(out *course, levels []level, feeds func(level) Feeds, ramp float64) {
	passes := 0
	for _, l := range levels {
		passes += len(l.passes)
	}
	// The last pass ends where finishing begins.
	forward := (passes%2 == 0) == (out.setup.finishDirection() > 0)
	for _, l := range levels {
		out.level = l.number
		for i, pass := range l.passes {
			out.lane = i + 1
			if c.roughAlong(out, pass, l.passes[:i], feeds(l), ramp, forward) {
				forward = !forward
			}
		}
	}
	out.level, out.lane = 0, 0
}

// roughAlong adds one pass of roughing, if any of it lies under the face; cleared are the
// passes of its level that were run before.
func (c fullerCut) roughAlong(out *course, pass roughPass, cleared []roughPass, feeds Feeds, ramp float64, forward bool) bool {
	tip := pass.centre.lifted(-c.cutter)
	from, to, any := tip.whereBelow(0, c.face)
	if !any {
		return false
	}
	if c.air.any() {
		c.roughFromAir(out, tip.between(from, to), pass.u, feeds, forward)
		return true
	}
	whole := tip.between(from, to)
	flat, any := whole.betweenRunOuts()
	if !any {
		return false
	}
	end := flat.start()
	if !forward {
		end = flat.end()
	}
	if beside, found := c.clearedBeside(pass, cleared, end); found {
		c.stepOver(out, rampPlace{end, flat.height(end)}, beside, pass.u, feeds)
	} else {
		c.rampIn(out, pass, flat, feeds, ramp, forward)
	}
	if forward {
		out.run(c.plan, tip.between(from, end), pass.u, false, feeds.Slot, Rough)
	} else {
		out.run(c.plan, tip.between(end, to), pass.u, true, feeds.Slot, Rough)
	}
	out.run(c.plan, whole, pass.u, forward, feeds.Slot, Rough)
	return true
}

// clearedBeside returns how far beside the centreline the nearest pass runs that has
// cleared the place s at least as deep as another is to go there, if there is any.
func (c fullerCut) clearedBeside(pass roughPass, cleared []roughPass, s float64) (u float64, found bool) {
	nearest := 2 * c.cutter
	for _, other := range cleared {
		t := other.centre
		away := math.Abs(other.u - pass.u)
		if away < nearest && s >= t.start() && s <= t.end() && t.height(s) <= pass.centre.height(s)+near {
			u, nearest, found = other.u, away, true
		}
	}
	return u, found
}

// stepOver takes the cutter straight down in the groove that a pass beside has cleared, and
// from there sideways into the steel: its ball meets no more of it than in a slot of the
// level's depth.
func (c fullerCut) stepOver(out *course, to rampPlace, cleared, u float64, feeds Feeds) {
	out.goOver(c.plan, to.s, cleared)
	out.lower(c.plan, to.s, cleared, descent{open: to.h, to: to.h}, feeds)
	out.add(Move{Kind: motion.Line, To: out.work(c.plan, to.s, u, to.h), Feed: feeds.Ramp, Purpose: StepOver})
}

// rampIn takes the cutter down a ramp to the end of the part between the run-outs where the
// pass begins.
func (c fullerCut) rampIn(out *course, pass roughPass, flat track, feeds Feeds, slope float64, forward bool) {
	before := func(s float64) float64 {
		if len(pass.above.pieces) == 0 {
			return c.face(s)
		}
		return math.Min(c.face(s), pass.above.height(clampTo(pass.above, s))-c.cutter)
	}
	places := rampPlaces(flat, c.plan.vertices(), before, slope, forward)
	begin := places[0]
	out.goOver(c.plan, begin.s, pass.u)
	out.lower(c.plan, begin.s, pass.u, descent{open: begin.h, to: begin.h}, feeds)
	for _, p := range places[1:] {
		out.add(Move{Kind: motion.Line, To: out.work(c.plan, p.s, pass.u, p.h), Feed: feeds.Ramp, Purpose: RampIn})
	}
}

func clampTo(t track, s float64) float64 { return math.Max(t.start(), math.Min(t.end(), s)) }
