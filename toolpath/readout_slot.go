package toolpath

import (
	"math"

	"fullerwright/toolpath/motion"
)

// slotReadout returns the passes of a guard's slot: along its middle at each level, as the
// program goes, and round inside its wall against the program's way.
func (j *Job) slotReadout() SideReadout {
	var out SideReadout
	middle := j.Setup.Placement.Work(motion.Vec{})
	for level := 1; level <= j.RoughLevels(); level++ {
		inner, ring := j.slotMoves(level)
		depth := SideDepth{level, inner.low}
		row := SidePass{Lane: 1, Purpose: Rough, Feed: j.Feeds.Slot, Places: []SidePlace{{middle.X, middle.Y}, {inner.least.X, middle.Y}, {inner.most.X, middle.Y}}}
		if inner.ramps > 0 {
			row.Purpose, row.Feed, row.Places, row.Down = RampIn, j.Feeds.Ramp, row.Places[1:], j.SideLevel/float64(inner.ramps)
		}
		out.add(row, depth)
		out.addRing(ring, SidePass{Lane: 2, Purpose: Rough, Feed: j.Feeds.Slot}, depth, middle)
	}
	_, wall := j.slotMoves(0)
	for range wall.rounds {
		out.addRing(wall, SidePass{Purpose: Finish, Feed: j.Feeds.Finish}, SideDepth{Z: wall.low}, middle)
	}
	return out
}

// slotExtent is how far some moves of a slot reach.
type slotExtent struct {
	least, most   motion.Vec // in X and Y
	low           float64    // of Z
	ramps, rounds int
}

// slotMoves returns how far the moves of one level reach along the slot's middle and round
// its wall; level 0 is the finishing.
func (j *Job) slotMoves(level int) (inner, ring slotExtent) {
	inner, ring = noExtent(), noExtent()
	var at motion.Vec
	for _, m := range j.Moves {
		cuts := m.Purpose == Rough || m.Purpose == RampIn || m.Purpose == Finish
		switch {
		case m.Level != level || !cuts:
		case m.Lane == 1:
			inner.take(at)
			inner.take(m.To)
			if m.Purpose == RampIn {
				inner.ramps++
			}
		default:
			ring.take(m.To)
			// Each round is rolled on to its wall by an arc, and off it by another.
			if m.Kind == motion.Arc && m.To.Y < at.Y {
				ring.rounds++
			}
		}
		at = m.To
	}
	return inner, ring
}

func noExtent() slotExtent {
	high := motion.Vec{X: math.Inf(1), Y: math.Inf(1)}
	return slotExtent{least: high, most: high.Scale(-1), low: math.Inf(1)}
}

func (e *slotExtent) take(at motion.Vec) {
	e.least = motion.Vec{X: math.Min(e.least.X, at.X), Y: math.Min(e.least.Y, at.Y)}
	e.most = motion.Vec{X: math.Max(e.most.X, at.X), Y: math.Max(e.most.Y, at.Y)}
	e.low = math.Min(e.low, at.Z)
}

// addRing adds a pass round inside the wall of a slot, clockwise, so that the steel lies to
// its left: from the middle straight to the near wall, round, and back.
func (r *SideReadout) addRing(e slotExtent, p SidePass, depth SideDepth, middle motion.Vec) {
	if e.rounds == 0 {
		return
	}
	p.Places = []SidePlace{{middle.X, middle.Y}, {middle.X, e.least.Y}, {e.least.X, e.least.Y}, {e.least.X, e.most.Y},
		{e.most.X, e.most.Y}, {e.most.X, e.least.Y}, {middle.X, e.least.Y}, {middle.X, middle.Y}}
	r.add(p, depth)
}
