package toolpath

import (
	"math"

	"fullerwright/toolpath/motion"
)

// SideTouch is what a cut with the side of the cutter must measure, mm, once its first level
// is roughed and once it is finished: whoever measures before going on sets the zeros right.
type SideTouch struct {
	Stage           int // counted from 0 in the job's
	What            TouchedPlace
	At              float64 // X at which it is measured; only of TouchedTang
	Rough, Finished float64
}

// TouchedPlace says what is measured.
type TouchedPlace string

// What is measured.
const (
	TouchedShoulder TouchedPlace = "shoulder"    // X of the shoulder's wall
	TouchedTang     TouchedPlace = "tang"        // Y of the tang's side
	TouchedWidth    TouchedPlace = "slot width"  // across the slot
	TouchedLength   TouchedPlace = "slot length" // along it
	TouchedSide     TouchedPlace = "slot side"   // Y of its wall next the fixed jaw
	TouchedEnd      TouchedPlace = "slot end"    // X of its left end
)

// sideTouches returns what is measured of a side cut.
func (j *Job) sideTouches(r SideReadout) []SideTouch {
	if j.Step.Operation == Slot {
		return j.slotTouches(r)
	}
	var out []SideTouch
	for stage := range j.Stages {
		rough, finished, found := j.sideWalls(stage)
		if !found {
			continue
		}
		out = append(out, SideTouch{Stage: stage, What: TouchedShoulder, Rough: rough.shoulder, Finished: finished.shoulder})
		if rough.hasTang && finished.hasTang {
			out = append(out, SideTouch{Stage: stage, What: TouchedTang, At: finished.tang.X, Rough: rough.tang.Y, Finished: finished.tang.Y})
		}
	}
	return out
}

// sideWall is where the cutter touches the walls of a shoulder: X of the shoulder, and the
// place of the tang's side nearest to it.
type sideWall struct {
	shoulder float64
	tang     motion.Vec
	hasTang  bool
}

// sideWalls returns the walls that the last roughing pass of a stage's first level leaves,
// and those of its finishing.
func (j *Job) sideWalls(stage int) (rough, finished sideWall, found bool) {
	first, last := false, false
	for _, w := range j.sideWays() {
		switch {
		case w.stage != stage:
		case w.depth.Number == j.Stages[stage].From:
			rough, first = j.wallsOf(w), true
		case w.depth.Number == 0:
			finished, last = j.wallsOf(w), true
		}
	}
	return rough, finished, first && last
}

// wallsOf returns the walls beside a way: the steel lies to its right, a radius from the
// cutter's axis.
func (j *Job) wallsOf(w sideWay) sideWall {
	out, radius := sideWall{}, j.Cutter.Radius()
	at := w.from
	for _, m := range w.moves {
		d := m.To.Sub(at)
		long := math.Hypot(d.X, d.Y)
		across := motion.Vec{X: d.Y / long * radius, Y: -d.X / long * radius}
		switch {
		case m.Kind == motion.Arc:
		case math.Abs(d.X) < straightSlack:
			if across.X*j.Setup.Placement.SignX > 0 { // toward the blade
				out.shoulder = at.X + across.X
			}
		default:
			near := m.To
			if (at.X-near.X)*j.Setup.Placement.SignX > 0 {
				near = at
			}
			out.tang, out.hasTang = near.Add(across), true
		}
		at = m.To
	}
	return out
}

// slotTouches returns what is measured of a slot.
func (j *Job) slotTouches(r SideReadout) []SideTouch {
	rough, finished := noExtent(), noExtent()
	for _, p := range r.Passes {
		for _, place := range p.Places {
			if p.Purpose == Finish {
				finished.take(motion.Vec{X: place.X, Y: place.Y})
			} else {
				rough.take(motion.Vec{X: place.X, Y: place.Y})
			}
		}
	}
	d := 2 * j.Cutter.Radius()
	return []SideTouch{
		{What: TouchedWidth, Rough: rough.most.Y - rough.least.Y + d, Finished: finished.most.Y - finished.least.Y + d},
		{What: TouchedLength, Rough: rough.most.X - rough.least.X + d, Finished: finished.most.X - finished.least.X + d},
		{What: TouchedSide, Rough: rough.most.Y + d/2, Finished: finished.most.Y + d/2},
		{What: TouchedEnd, Rough: rough.least.X - d/2, Finished: finished.least.X - d/2},
	}
}
