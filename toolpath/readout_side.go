package toolpath

import (
	"math"

	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// SideReadout is the table for a manual mill of a cut with the side of the cutter: of a
// shoulder, or of a guard's slot. It is made from the planned moves alone.
type SideReadout struct {
	Passes  []SidePass
	Touches []SideTouch
}

// SidePass is a way of the cutter's axis for a mill that is run by its handwheels: legs
// along X or along Y alone, in the order of work. Where the program climbs a wall it is run
// the other way round, so that the cutter pushes the table against its screws. What slants
// or is round is cut in steps that touch the wall and lie beside it, never in it.
type SidePass struct {
	Stage   int // counted from 0 in the job's
	Lane    int // of its levels, as the program counts them; 0 for the finishing
	Purpose Purpose
	Places  []SidePlace // the first is come to beside the steel; each other by one wheel
	Levels  []SideDepth // at which it is run; one without a number for the finishing
	Times   int         // that it is run at each
	Feed    float64     // mm/min
	Left    float64     // greatest ridge that steps leave at the wall, mm; 0 where nothing is stepped
	Down    float64     // mm that the quill goes down at each end of a ramp
}

// SidePlace is a place to stop at, mm in the work frame: of the cutter's axis, so that its
// radius is reckoned in.
type SidePlace struct{ X, Y float64 }

// SideDepth is a level by its number and Z of the tip.
type SideDepth struct {
	Number int
	Z      float64
}

// handRidge is the most that steps along a slanting or round wall leave, mm (judgement:
// what a file takes off).
const handRidge = 0.1

// SideReadout returns the table of a shoulder or a slot; it is empty for all other jobs.
func (j *Job) SideReadout() SideReadout {
	var out SideReadout
	if j.Step.Corner > 0 || j.Step.Bore > 0 {
		return out
	}
	switch j.Step.Operation {
	case Shoulders:
		ways := j.sideWays()
		nearest := nearestLanes(ways)
		for _, way := range ways {
			if lane := way.moves[0].Lane; way.depth.Number > 0 && lane < nearest[way.stage] {
				way = way.squared()
			}
			out.add(way.pass(j.Cutter.Radius()), way.depth)
		}
	case Slot:
		out = j.slotReadout()
	default:
		return out
	}
	out.Touches = j.sideTouches(out)
	return out
}

// sideWay is a stretch of a program at one depth between two ways through the air.
type sideWay struct {
	stage int
	from  motion.Vec
	moves []Move
	depth SideDepth
}

// sideWays parts the moves at whatever does not cut, and says of which stage each part is:
// finishing belongs to the stage before it.
func (j *Job) sideWays() []sideWay {
	var out []sideWay
	var at motion.Vec
	stage, broken := 0, true
	for _, m := range j.Moves {
		if m.Level > 0 {
			stage = j.stageOf(m.Level)
		}
		switch {
		case m.Purpose != Rough && m.Purpose != Finish:
			broken = true
		case broken:
			out, broken = append(out, sideWay{stage, at, []Move{m}, SideDepth{m.Level, m.To.Z}}), false
		default:
			last := &out[len(out)-1]
			last.moves = append(last.moves, m)
		}
		at = m.To
	}
	return out
}

// nearestLanes returns the last lane of the roughing of each stage, which is the one nearest
// the wall.
func nearestLanes(ways []sideWay) map[int]int {
	out := map[int]int{}
	for _, w := range ways {
		out[w.stage] = max(out[w.stage], w.moves[0].Lane)
	}
	return out
}

// squared returns a way whose slanting leg, far from the wall, runs along X where it lies
// farthest out: in, along and out again. A way with a round corner stays as it is.
func (w sideWay) squared() sideWay {
	at := w.from
	out := w
	out.moves = nil
	for _, m := range w.moves {
		if m.Kind == motion.Arc {
			return w
		}
		if slants := math.Abs(m.To.X-at.X) > straightSlack && math.Abs(m.To.Y-at.Y) > straightSlack; slants {
			far := at.Y
			if math.Abs(m.To.Y-w.from.Y) < math.Abs(far-w.from.Y) {
				far = m.To.Y
			}
			out.moves[len(out.moves)-1].To.Y, m.To.Y = far, far
		}
		out.moves, at = append(out.moves, m), m.To
	}
	return out
}

// stageOf returns the place among a job's stages of a level.
func (j *Job) stageOf(level int) int {
	for i, s := range j.Stages {
		if level >= s.From && level <= s.To {
			return i
		}
	}
	return 0
}

// pass turns a way of the program into one for handwheels.
func (w sideWay) pass(radius float64) SidePass {
	first := w.moves[0]
	p := SidePass{Stage: w.stage, Lane: first.Lane, Purpose: first.Purpose, Feed: first.Feed, Places: []SidePlace{{w.from.X, w.from.Y}}}
	at := w.from
	for _, m := range w.moves {
		places, left := handSteps(at, m, radius)
		p.Places, p.Left = append(p.Places, places...), math.Max(p.Left, left)
		at = m.To
	}
	for i, n := 0, len(p.Places); i < n/2; i++ {
		p.Places[i], p.Places[n-1-i] = p.Places[n-1-i], p.Places[i]
	}
	return p
}

// handSteps returns the places by which a move is followed with one handwheel at a time:
// its end where it runs along X or Y, else steps whose inner corners touch it and whose
// outer ones lie to its left, where the steel is not.
func handSteps(from motion.Vec, m Move, radius float64) (places []SidePlace, left float64) {
	if m.Kind != motion.Arc && (math.Abs(m.To.X-from.X) < straightSlack || math.Abs(m.To.Y-from.Y) < straightSlack) {
		return []SidePlace{{m.To.X, m.To.Y}}, 0
	}
	n := 1
	for left = handLeft(from, m, radius, n); left > handRidge; left = handLeft(from, m, radius, n) {
		n++
	}
	whole := motion.Motion{Kind: m.Kind, From: from, To: m.To, Plane: m.Plane, Centre: m.Centre, Sweep: m.Sweep}
	a := from
	for i := 1; i <= n; i++ {
		b := m.To
		if i < n {
			b = whole.At(float64(i) / float64(n))
		}
		corner := SidePlace{b.X, a.Y}
		if (b.X-a.X)*(corner.Y-a.Y)-(b.Y-a.Y)*(corner.X-a.X) < 0 {
			corner = SidePlace{a.X, b.Y}
		}
		places = append(places, corner, SidePlace{b.X, b.Y})
		a = b
	}
	return places, left
}

// handLeft returns the greatest ridge that n steps along a move leave at the wall, mm.
// Between two places at which the cutter touches a straight wall that slants by an angle
// there stands no more than the cusp of the two, and no more than the step's own corner,
//
//	step · sin(angle) · cos(angle),
//
// beside a round wall the cusp of a concave one.
func handLeft(from motion.Vec, m Move, radius float64, n int) float64 {
	if m.Kind == motion.Arc {
		centre := math.Hypot(from.X-m.Centre.X, from.Y-m.Centre.Y)
		return cutting.ConcaveCusp(centre+radius, radius, math.Abs(m.Sweep)/float64(n))
	}
	dx, dy := math.Abs(m.To.X-from.X), math.Abs(m.To.Y-from.Y)
	length := math.Hypot(dx, dy)
	step := length / float64(n)
	corner := step * dx * dy / (length * length)
	if step >= 2*radius {
		return corner
	}
	return math.Min(cutting.FlatCusp(radius, step), corner)
}

// add adds a pass, or its depth to the one before with the same places.
func (r *SideReadout) add(p SidePass, depth SideDepth) {
	for i := range r.Passes {
		same := &r.Passes[i]
		if same.Stage != p.Stage || same.Purpose != p.Purpose || same.Lane != p.Lane || !samePlaces(same.Places, p.Places) {
			continue
		}
		if last := same.Levels[len(same.Levels)-1]; last == depth {
			same.Times++
		} else {
			same.Levels = append(same.Levels, depth)
		}
		return
	}
	p.Levels, p.Times = []SideDepth{depth}, 1
	r.Passes = append(r.Passes, p)
}

func samePlaces(a, b []SidePlace) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Abs(a[i].X-b[i].X) > straightSlack || math.Abs(a[i].Y-b[i].Y) > straightSlack {
			return false
		}
	}
	return true
}
