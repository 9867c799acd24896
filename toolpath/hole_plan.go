package toolpath

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/motion"
)

// holeSteps returns the programs that the holes of a blade need: one for each face and
// diameter, the smallest first; but before all others the one with the hole for the dowel
// that is touched for X, so that they can be.
func holeSteps(b profile.Blade) []Step {
	var out []Step
	for _, face := range profile.Faces() {
		var bores []float64
		for _, i := range b.Knife.HolesFrom(face) {
			if bore := b.Knife.Holes[i].Bore(); !slices.Contains(bores, bore) {
				bores = append(bores, bore)
			}
		}
		slices.Sort(bores)
		for _, bore := range bores {
			out = append(out, Step{Operation: Holes, Face: face, Bore: bore})
		}
	}
	slices.SortStableFunc(out, func(a, c Step) int {
		switch first, second := drillsDowel(b, a), drillsDowel(b, c); {
		case first && !second:
			return -1
		case second && !first:
			return 1
		}
		return 0
	})
	return out
}

// drillsDowel reports whether a program drills the hole for the dowel that all others touch
// for X.
func drillsDowel(b profile.Blade, step Step) bool {
	return b.Bar.XZero.Kind == profile.DowelZero && step.Operation == Holes &&
		slices.ContainsFunc(holesOf(b, step), func(i int) bool { return b.Knife.Holes[i].At == b.Bar.XZero.X })
}

// holesOf returns the holes of one program.
func holesOf(b profile.Blade, step Step) []int {
	var out []int
	for _, i := range b.Knife.HolesFrom(step.Face) {
		if math.Abs(b.Knife.Holes[i].Bore()-step.Bore) < boreSlack {
			out = append(out, i)
		}
	}
	return out
}

// boreSlack is how far a drill's diameter may be from that of its hole, mm: a drill cuts a
// few hundredths larger than it is in any case (common practice, no source).
const boreSlack = 0.01

// PlanHoles plans the holes of one diameter from one face.
func PlanHoles(b profile.Blade, shop Shop, step Step, setup Setup, name string) (*Job, []Candidate, error) {
	if drillsDowel(b, step) {
		setup.XZero, setup.MakesXZero = profile.XReference{}, true // its hole is not there yet
	}
	best, candidates := shop.choose(name, drilling(step.Bore, func(c Cutter) *Job { return planHolesWith(b, shop, step, setup, c) }))
	if best == nil {
		return nil, candidates, shop.unfitError(name, candidates, fmt.Sprintf("holes of %.2f mm", step.Bore),
			fmt.Sprintf("put a drill of %.2f mm into the drawer, or drill them by hand", step.Bore))
	}
	return best, candidates, nil
}

// drilling tries the drills of a bore.
func drilling(bore float64, plan func(Cutter) *Job) attempt {
	return func(c Cutter) (*Job, string) {
		switch {
		case c.End != DrillEnd:
			return nil, "it is no drill"
		case math.Abs(2*c.Radius()-bore) > boreSlack:
			return nil, fmt.Sprintf("its diameter is %.2f mm", 2*c.Radius())
		}
		return plan(c), ""
	}
}

const (
	// peckShare is how deep a drill goes before it is drawn out, over its diameter, and
	// peckGap how far over the bottom it is fed again, mm (common practice, no source).
	peckShare, peckGap = 0.75, 0.3
	// overFace is how far over the face a drill is fed from, mm.
	overFace = 1.0
)

// pointHeight returns the height of a drill's point.
func (c Cutter) pointHeight() float64 {
	if c.End != DrillEnd {
		return 0
	}
	return c.Radius() / math.Tan(c.PointAngle.Radians()/2)
}

func planHolesWith(b profile.Blade, shop Shop, step Step, setup Setup, c Cutter) *Job {
	data, _ := shop.steelData(b)
	job := &Job{Step: step, Name: b.Knife.Name, Steel: b.Knife.Blade.Steel, Setup: setup, Cutter: c, Coolant: shop.Machine.Coolant}
	job.drillSpeeds(data, shop)
	clearance := highestFace(b.Bar) + shop.Work.Clearance
	course := &course{setup: setup, clearance: clearance}
	job.Holes = holesOf(b, step)
	for n, i := range job.Holes {
		course.lane = n + 1
		bottom := holeBottom(b, c, i)
		job.Deepest = math.Max(job.Deepest, b.Bar.Face(b.Knife.Holes[i].At)-bottom)
		course.peck(b.Knife.Holes[i].Place(), pecking{from: b.Bar.Face(b.Knife.Holes[i].At), to: bottom, step: peckShare * 2 * c.Radius()}, job.Feeds)
	}
	course.retract()
	job.Moves = course.moves
	job.Clearance = setup.Placement.Work(motion.Vec{Z: clearance}).Z
	job.measure(shop.Machine)
	job.Checks = job.drillChecks(shop, data)
	return job
}

// holeBottom returns how low the tip of a drill goes: to the full diameter's depth, or out
// at the back of the bar.
func holeBottom(b profile.Blade, c Cutter, index int) float64 {
	h := b.Knife.Holes[index]
	face := b.Bar.Face(h.At)
	if h.Depth > 0 {
		return face - h.Depth - c.pointHeight()
	}
	return -face - breakThrough - c.pointHeight()
}

// pecking is a hole drilled in steps.
type pecking struct{ from, to, step float64 }

// peck drills a hole step by step, out over the face after each to clear the chips. The
// drilling is written out, since not every machine has a cycle for it.
func (c *course) peck(p geom.Point, way pecking, feeds Feeds) {
	c.over(p)
	above := c.place(p, way.from+overFace)
	down := func(h float64, rapid bool) {
		m := Move{Kind: motion.Line, To: c.place(p, h), Feed: feeds.Plunge, Purpose: Rough}
		if rapid {
			m = Move{Kind: motion.Rapid, To: c.place(p, h), Purpose: Approach}
		}
		c.add(m)
	}
	c.add(Move{Kind: motion.Rapid, To: above, Purpose: Approach})
	steps := max(1, int(math.Ceil((way.from-way.to)/way.step-1e-9)))
	for i := 1; i <= steps; i++ {
		c.level = i
		if i > 1 {
			down(way.from+(way.to-way.from)*float64(i-1)/float64(steps)+peckGap, true)
		}
		down(way.from+(way.to-way.from)*float64(i)/float64(steps), false)
		c.add(Move{Kind: motion.Rapid, To: above, Purpose: Retract})
	}
	c.level = 0
}

// holeDesignChecks looks at the steel around the holes of a blade.
func holeDesignChecks(b profile.Blade) []Check {
	var out []Check
	for i, h := range b.Knife.Holes {
		steel, inside := b.AroundHole(i)
		name, limit, remedy := fmt.Sprintf("steel around hole %d", i+1), math.Max(holeSteel, h.Bore()/2), "move it, or drill it smaller"
		if !inside {
			name, limit = fmt.Sprintf("waste around hole %d", i+1), b.Knife.Allowance.Grinding+holeWaste
		}
		out = append(out, least(name, steel, limit, "mm").at("%.0f mm from the guard plane", h.At).from(fromPractice).
			orElse("%s", remedy).byHole(i, h))
		if low := b.FullerSurface(profile.Right).Height(h.At, -h.FromSpine); low < b.Bar.Face(h.At) {
			out = append(out, least(fmt.Sprintf("bar's face at hole %d over the floor of a fuller", i+1), low-b.Bar.Face(h.At), 0, "mm").at("%.0f mm from the guard plane", h.At).
				from("geometry: it would be drilled into a fuller").orElse("move it").byHole(i, h))
		}
	}
	return out
}

// Least steel around a hole in the blade, and least waste around one outside it beside the
// grinding allowance, mm (common practice, no source).
const holeSteel, holeWaste = 1.5, 1.0
