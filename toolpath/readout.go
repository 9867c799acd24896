package toolpath

import (
	"math"
	"slices"

	"fullerwright/toolpath/motion"
)

// ReadoutRow is one straight cut for a mill that is run by its handwheels and a readout:
// places of the cutter's tip in the work frame, mm, exactly those of the planned moves.
type ReadoutRow struct {
	Fuller     int     // counted from 1
	Level      int     // of roughing, counted from 1; 0 for finishing
	Lane       int     // counted from 1 in its level, or of the finishing lanes
	Purpose    Purpose // RampIn, StepOver, Rough or Finish
	XFrom, XTo float64
	YFrom, Y   float64 // the same but for a step over
	Beside     int     // of a step over: the lane of its level whose open groove it begins in
	ZFrom, ZTo float64
	Feed       float64 // mm/min
	Raised     float64 // Z of the whole cut with the bar raised by the fuller's shim; NaN on a ramp
}

// Readout is the table for a manual mill of the fullers of one face, as far as they run
// straight along X.
type Readout struct {
	Rows   []ReadoutRow
	Shims  []Shim
	Ends   []ReadoutEnd
	Curved []int // the fullers that do not run along X, by number: no table can be made of them
}

// ReadoutEnd is how lanes of a fuller run out at both ends, as steps outward: raise to Z,
// then run out to X. Each step lies over the planned arc and touches it at the step's end,
// so that nothing is cut too deep; what stands between the steps is blended by hand. Raised
// is Z with the bar raised by the fuller's shim. Lanes that stand alike on both sides of
// the middle share their steps. Where an end is no arc of the machine it has none.
type ReadoutEnd struct {
	Fuller      int
	Level       int // of roughing, counted from 1; 0 for finishing
	Lanes       []int
	Left, Right []ReadoutStep
}

// ReadoutStep is one step of a run-out, mm in the work frame.
type ReadoutStep struct{ X, Z, Raised float64 }

// readoutPass is a stretch of a program between two rapids, and the places it begins at.
type readoutPass struct {
	fuller int
	first  int // of its moves among the job's
	from   motion.Vec
	moves  []Move
}

// Readout returns the table of a fuller job. It is made from the moves alone; the setup
// says where Z is touched again on a raised bar.
func (j *Job) Readout() Readout {
	passes := j.readoutPasses()
	var out Readout
	curved := map[int]bool{}
	for _, p := range passes {
		if !p.alongX() && !curved[p.fuller] {
			curved[p.fuller] = true
			out.Curved = append(out.Curved, p.fuller)
		}
	}
	for _, p := range passes {
		if !curved[p.fuller] {
			rows := p.rows()
			if len(rows) > 0 && rows[0].Purpose == StepOver {
				rows[0].Beside = out.laneAt(rows[0])
			}
			out.Rows = append(out.Rows, rows...)
		}
	}
	for _, l := range j.Lanes {
		if !curved[l.Fuller] && l.Count > 0 {
			out.Shims = append(out.Shims, out.shim(l.Fuller, j.Setup))
		}
	}
	for i := range out.Rows {
		out.Rows[i].Raised = math.NaN()
		if r := out.Rows[i]; r.Purpose != RampIn {
			out.Rows[i].Raised = out.shimOf(r.Fuller).Z(r.XFrom, r.ZFrom)
		}
	}
	for _, p := range passes {
		if !curved[p.fuller] {
			out.addEnd(p, out.shimOf(p.fuller))
		}
	}
	return out
}

// laneAt returns the lane that was run before in the level of a step over, where that begins.
func (r Readout) laneAt(row ReadoutRow) int {
	i := slices.IndexFunc(r.Rows, func(other ReadoutRow) bool {
		return other.Fuller == row.Fuller && other.Level == row.Level && math.Abs(other.Y-row.YFrom) <= straightSlack
	})
	return r.Rows[i].Lane
}

// Of returns what of a table belongs to a part of the program; shims are those of the whole.
func (r Readout) Of(p Part) Readout {
	out := r
	out.Rows, out.Ends = nil, nil
	for _, row := range r.Rows {
		if p.Holds(row.Level) {
			out.Rows = append(out.Rows, row)
		}
	}
	for _, end := range r.Ends {
		if p.Holds(end.Level) {
			out.Ends = append(out.Ends, end)
		}
	}
	return out
}

// readoutPasses parts the moves at their rapids and says which fuller each part cuts:
// roughing and finishing each go through the fullers in the order of the job's figures,
// and levels and lanes count up within one. What is run a second time stands once.
func (j *Job) readoutPasses() []readoutPass {
	var passes []readoutPass
	var at motion.Vec
	broken := true
	for i, m := range j.Moves {
		switch {
		case m.Kind == motion.Rapid, m.Spring:
			broken = true
		case m.Purpose.cuts() && broken:
			passes, broken = append(passes, readoutPass{first: i, from: at, moves: []Move{m}}), false
		case m.Purpose.cuts():
			last := &passes[len(passes)-1]
			last.moves = append(last.moves, m)
		}
		at = m.To
	}
	rough, finish := j.fullerOrder()
	j.assignFullers(passes, rough, finish)
	return passes
}

// fullerOrder returns the numbers of the fullers that are roughed and finished, in the
// order of work.
func (j *Job) fullerOrder() (rough, finish []int) {
	for _, l := range j.Levels {
		if len(rough) == 0 || rough[len(rough)-1] != l.Fuller {
			rough = append(rough, l.Fuller)
		}
	}
	for _, l := range j.Lanes {
		if l.Count > 0 {
			finish = append(finish, l.Fuller)
		}
	}
	return rough, finish
}

// assignFullers numbers the passes: the next fuller begins where level and lane do not
// count up. A fuller that has no such level is none of theirs.
func (j *Job) assignFullers(passes []readoutPass, rough, finish []int) {
	order, next := rough, 0
	level, lane, finishing := 0, 0, false
	for i := range passes {
		m := passes[i].moves[0]
		if m.Level == 0 && !finishing {
			order, next, level, lane, finishing = finish, 0, 0, 0, true
		}
		if m.Level < level || m.Level == level && m.Lane <= lane {
			next++
		}
		for m.Level > 0 && next+1 < len(order) && m.Level > j.levelsOfFuller(order[next]) {
			next++
		}
		level, lane = m.Level, m.Lane
		if len(order) > 0 {
			passes[i].fuller = order[min(next, len(order)-1)]
		}
	}
}

// straightSlack is how far the ends of a cut may differ in Y for it to run along X, mm:
// less than any readout shows.
const straightSlack = 1e-6

func (p readoutPass) alongX() bool {
	at := p.from
	for _, m := range p.moves {
		if math.Abs(m.To.Y-at.Y) > straightSlack && m.Purpose != StepOver {
			return false
		}
		at = m.To
	}
	return true
}

// rows returns the ramps and the straight cuts of a pass, each stretch once, however
// often the moves go over it.
func (p readoutPass) rows() []ReadoutRow {
	var out []ReadoutRow
	at := p.from
	for _, m := range p.moves {
		if m.Purpose == StepOver || m.Kind == motion.Line && math.Abs(m.To.X-at.X) > straightSlack {
			out = append(out, ReadoutRow{Fuller: p.fuller, Level: m.Level, Lane: m.Lane, Purpose: m.Purpose,
				XFrom: at.X, XTo: m.To.X, YFrom: at.Y, Y: m.To.Y, ZFrom: at.Z, ZTo: m.To.Z, Feed: m.Feed})
		}
		at = m.To
	}
	return out
}

// readoutSteps is how many steps stand for a run-out.
const readoutSteps = 6

// addEnd adds the run-outs of a pass, or its lane to one before with the same steps.
func (r *Readout) addEnd(p readoutPass, shim Shim) {
	end := ReadoutEnd{Fuller: p.fuller, Level: p.moves[0].Level, Lanes: []int{p.moves[0].Lane}}
	at := p.from
	for _, m := range p.moves {
		if m.Kind == motion.Arc {
			if steps, right := stepsOfArc(at, m, shim); right {
				end.Right = steps
			} else {
				end.Left = steps
			}
		}
		at = m.To
	}
	if end.Left == nil && end.Right == nil {
		return
	}
	for i, e := range r.Ends {
		if e.Fuller == end.Fuller && e.Level == end.Level && sameSteps(e.Left, end.Left) && sameSteps(e.Right, end.Right) {
			r.Ends[i].Lanes = append(e.Lanes, end.Lanes...)
			return
		}
	}
	r.Ends = append(r.Ends, end)
}

func sameSteps(a, b []ReadoutStep) bool {
	return slices.EqualFunc(a, b, func(a, b ReadoutStep) bool {
		return math.Abs(a.X-b.X) < straightSlack && math.Abs(a.Z-b.Z) < straightSlack
	})
}

// stepsOfArc parts an arc into steps of equal height, from its lower end outward, and says
// whether that is toward +X.
func stepsOfArc(from motion.Vec, m Move, shim Shim) (steps []ReadoutStep, right bool) {
	low, high := from, m.To
	if low.Z > high.Z {
		low, high = high, low
	}
	radius := math.Hypot(low.X-m.Centre.X, low.Z-m.Centre.Z)
	side := math.Copysign(1, high.X-low.X)
	for i := 1; i <= readoutSteps; i++ {
		z := low.Z + (high.Z-low.Z)*float64(i)/readoutSteps
		x := m.Centre.X + side*math.Sqrt(math.Max(0, radius*radius-(m.Centre.Z-z)*(m.Centre.Z-z)))
		steps = append(steps, ReadoutStep{X: x, Z: z, Raised: shim.Z(x, z)})
	}
	return steps, side > 0
}
