package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/mismatch"
	"fullerwright/toolpath/motion"
)

// shoulderSteps returns the programs that the shoulders need: the sides are milled
// through from the right face, so that they lie in one plane; the left face is turned up
// only for its own step.
func shoulderSteps(b profile.Blade) []Step {
	cut, err := b.ShoulderCut(b.Knife.Tang.CornerRadius)
	switch {
	case err != nil, len(cut.Sides) == 0 && !cut.Stepped:
		return nil
	case cut.Stepped:
		return []Step{{Operation: Shoulders, Face: profile.Right}, {Operation: Shoulders, Face: profile.Left}}
	}
	return []Step{{Operation: Shoulders, Face: profile.Right}}
}

const (
	// breakThrough is how far the tip goes below the bar where it mills through, beside
	// what its corner needs, mm (common practice, no source).
	breakThrough = 0.3
	// besideBar is how far beside the bar, over its radius, a cutter begins, mm.
	besideBar = 1.0
	// jawRoom is how far the jaws stay from the nearest place of a cutter that mills
	// through, mm (common practice, no source).
	jawRoom = 5.0
)

// PlanShoulder plans the shoulder on one face with the cutter of the given name, or,
// where name is empty, with the best of the drawer.
func PlanShoulder(b profile.Blade, shop Shop, setup Setup, name string) (*Job, []Candidate, error) {
	best, candidates := shop.choose(name, func(c Cutter) (*Job, string) { return planShoulderWith(b, shop, setup, c) })
	if best == nil {
		return nil, candidates, shop.unfitError(name, candidates, "the shoulder",
			fmt.Sprintf("a square end mill of up to %.2f mm diameter would leave the corner as drawn; or saw and file it", 2*b.Knife.Tang.CornerRadius))
	}
	return best, candidates, nil
}

// planShoulderWith plans the shoulder with one cutter.
func planShoulderWith(b profile.Blade, shop Shop, setup Setup, c Cutter) (*Job, string) {
	radius := c.Radius()
	if c.End != SquareEnd {
		return nil, "its end is not square"
	}
	cut, err := b.ShoulderCut(math.Max(b.Knife.Tang.CornerRadius, radius))
	if err != nil {
		return nil, err.Error()
	}
	if room := cut.Plane - cut.Back; room < 2*radius+2*shop.Work.FinishStock {
		return nil, fmt.Sprintf("it is wider than the %.2f mm of tang that are milled", room)
	}
	data, _ := shop.steelData(b)
	if err := data.Refuses(c.tool()); err != nil {
		return nil, err.Error()
	}
	top := highestFace(b.Bar)
	through := setup.Face == profile.Right && len(cut.Sides) > 0
	depth := top - stepFloor(b)
	bottom := -top - breakThrough - c.CornerRadius
	if through {
		depth = top - bottom
	}
	if why := tooSlender(c, depth); why != "" {
		return nil, why
	}
	setup.Jaws = jawsBeyond(b.Bar, shop, cut.Plane+radius+jawRoom)
	p := sidePlanFor(shop, data, c, depth)
	job := &Job{Step: Step{Operation: Shoulders, Face: setup.Face}, Name: b.Knife.Name, Steel: b.Knife.Blade.Steel, Setup: setup, Cutter: c, Coolant: shop.Machine.Coolant,
		FaceCorner: c.CornerRadius}
	if len(cut.Sides) > 0 {
		job.Corner = cut.Corner
	}
	job.sideSpeeds(data, shop, p)
	m := shoulderMill{cut: cut, bar: b.Bar, side: p, feeds: job.Feeds, radius: radius,
		course: &course{setup: setup, clearance: top + shop.Work.Clearance}}
	levels := 0
	if cut.Stepped {
		levels = m.faceStep(top, stepFloor(b))
		job.Stages = append(job.Stages, Stage{"face step", 1, levels})
	}
	if through {
		for _, side := range cut.Sides {
			m.throughSide(side, levels, top, bottom)
			job.Stages = append(job.Stages, Stage{sideName(side), levels + 1, levels + p.levels})
			levels += p.levels
		}
	}
	m.course.retract()
	job.Moves = m.course.moves
	job.Clearance = setup.Placement.Work(motion.Vec{Z: m.course.clearance}).Z
	job.SideLevel, job.Deepest = p.level, depth
	job.measure(shop.Machine)
	job.Checks = job.shoulderChecks(b, shop, data, shoulderPlanned{cut, p, through})
	return job, ""
}

// sideName names a side of the tang.
func sideName(side profile.ShoulderSide) string {
	if side.Up > 0 {
		return "spine side"
	}
	return "edge side"
}

// stepFloor returns the height of the face step's floor over the centre-plane.
func stepFloor(b profile.Blade) float64 {
	return (b.Knife.Blade.Thickness - 2*b.Knife.Shoulder.FaceStep) / 2
}

// jawsBeyond returns where the jaws stand when the part of the bar behind a place hangs
// out of them: as much of their length as the bar covers.
func jawsBeyond(bar profile.Bar, shop Shop, from float64) [2]float64 {
	return [2]float64{from, math.Min(from+shop.Vise.JawLength, bar.Front)}
}

// shoulderMill lays the moves of a shoulder.
type shoulderMill struct {
	cut    profile.ShoulderCut
	bar    profile.Bar
	side   sidePlan
	feeds  Feeds
	radius float64
	course *course
}

// faceStep mills the step of the face that is up: passes across the whole bar, begun
// beside it, from the back to the shoulder, each leaving the steel of the shoulder to its
// right; the last one, at full depth, is the shoulder itself. It returns how many levels it
// took.
func (m shoulderMill) faceStep(top, floor float64) (levels int) {
	n := max(1, int(math.Ceil((top-floor)/m.side.level-1e-9)))
	low := geom.Point{Y: m.bar.Bottom - m.radius - besideBar}
	high := geom.Point{Y: m.bar.Top + m.radius + besideBar}
	if m.course.setup.turned() {
		low, high = high, low
	}
	pass := func(x, h, feed float64, purpose Purpose) {
		from, to := geom.Point{X: x, Y: low.Y}, geom.Point{X: x, Y: high.Y}
		m.course.over(from)
		m.course.sink(from, h, m.feeds)
		m.course.follow([]geom.Piece{geom.Line{From: from, To: to}}, h, feed, purpose)
	}
	last := m.cut.Plane - m.radius - m.side.stock
	first := m.cut.Back + m.radius
	// A step of a little over a radius leaves no ridge under a flat end.
	steps := max(1, int(math.Ceil((last-first)/(stepShare*m.radius))))
	for level := 1; level <= n; level++ {
		m.course.level = level
		h := top + (floor-top)*float64(level)/float64(n)
		for i := range steps + 1 {
			pass(first+(last-first)*float64(i)/float64(steps), h, m.feeds.Slot, Rough)
		}
	}
	m.course.level = 0
	pass(m.cut.Plane-m.radius, floor, m.feeds.Finish, Finish)
	return n
}

// stepShare is the way between passes of a face step, as a part of the radius.
const stepShare = 1.2

// throughSide mills one side of the tang and its shoulder through the bar: in each level
// from the outside in, begun and ended beside the bar, then the whole wall in one pass
// and again until the cutter bends no more than it may. Its levels are counted on from
// those of the side before.
func (m shoulderMill) throughSide(side profile.ShoulderSide, levelsBefore int, top, bottom float64) {
	height := math.Max(math.Abs(side.Shoulder.To.Y-side.Edge.From.Y), math.Abs(side.Shoulder.To.Y-side.Edge.To.Y))
	offset := m.radius + m.side.stock
	rows := max(1, int(math.Ceil((height-m.side.stock)/m.side.step)))
	room := m.cut.Plane - offset - m.cut.Back
	across := 0.0
	if rows > 1 {
		across = math.Min(m.side.step, 0.99*room/float64(rows-1))
	}
	for level := 1; level <= m.side.levels; level++ {
		m.course.level = levelsBefore + level
		h := top + (bottom-top)*float64(level)/float64(m.side.levels)
		for i := rows - 1; i >= 0; i-- {
			m.course.lane = rows - i
			m.along(m.way(side, offset+float64(i)*m.side.step, offset+float64(i)*across), h, m.feeds.Slot, Rough)
		}
	}
	m.course.level, m.course.lane = 0, 0
	for range m.side.passes {
		m.along(m.way(side, m.radius, m.radius), bottom, m.feeds.Finish, Finish)
	}
}

// way returns the way of the cutter's axis along a side at a distance from the tang's
// edge and from the shoulder: in from beside the bar at the back, along the tang, round
// the corner and out beside the bar.
func (m shoulderMill) way(side profile.ShoulderSide, fromEdge, fromShoulder float64) []geom.Piece {
	d := side.Edge.Tangent(0)
	away := geom.Point{X: -side.Up * d.Y * fromEdge, Y: side.Up * d.X * fromEdge}
	start := geom.Point{X: side.Edge.From.X + away.X, Y: side.Edge.From.Y + away.Y}
	// The line of the tang's edge, moved out, meets the shoulder's line, moved back.
	x := m.cut.Plane - fromShoulder
	corner := geom.Point{X: x, Y: start.Y + (x-start.X)*d.Y/d.X}
	outside := side.Shoulder.To.Y + side.Up*(m.radius+besideBar)
	edge, out := geom.Line{From: start, To: corner}, geom.Line{From: corner, To: geom.Point{X: x, Y: outside}}
	in := geom.Line{From: geom.Point{X: start.X, Y: outside}, To: start}
	if left := side.Corner.Radius - fromEdge; left > 1e-6 && fromEdge == fromShoulder {
		if before, arc, after, err := geom.Fillet(edge, out, left); err == nil {
			return []geom.Piece{in, before, arc, after}
		}
	}
	return []geom.Piece{in, edge, out}
}

// along runs a way at a height with the steel to the right for the machine.
func (m shoulderMill) along(way []geom.Piece, h, feed float64, purpose Purpose) {
	// From the back to the shoulder the steel of the upper side lies to the right.
	right := way[0].Start().Y > way[0].End().Y
	if right == m.course.setup.turned() {
		way = reversed(way)
	}
	m.course.over(way[0].Start())
	m.course.sink(way[0].Start(), h, m.feeds)
	m.course.follow(way, h, feed, purpose)
}

// shoulderPlanned is what the checks on a shoulder look at.
type shoulderPlanned struct {
	cut     profile.ShoulderCut
	side    sidePlan
	through bool // the sides of the tang are cut in this setup
}

// footCorner names the checks on the inside corner that a cutter leaves at the foot of the
// face step.
const footCorner = "corner left at the foot of the face step"

func (j *Job) shoulderChecks(b profile.Blade, shop Shop, data cutting.Data, p shoulderPlanned) []Check {
	k := b.Knife
	out := append(stockChecks(b), j.sideChecks(shop, data, p.side)...)
	if p.through {
		out = append(out, shoulderCornerCheck(k, j.Corner))
	}
	if p.cut.Stepped {
		depth := b.Bar.Face(p.cut.Plane) - stepFloor(b)
		out = append(out,
			least(footCorner, j.FaceCorner, sharpCorner, "mm").mild().from("common practice, no source: a sharp inside corner cracks in the quench").
				orElse("a cutter with a corner radius of %.2f mm would do", sharpCorner),
			most(footCorner, j.FaceCorner, math.Max(sharpCorner, math.Min(k.Guard.Chamfer, depth)), "mm").mild().
				from("the knife file, guard.chamfer: the guard must clear it").orElse("chamfer the guard's slot by %.2f mm", over(j.FaceCorner)).by("guard.chamfer", over(j.FaceCorner)))
	}
	out = append(out, j.planeChecks(b, shop, p.cut)...)
	out = append(out, j.holdingChecks(b, shop)...)
	return append(out, j.travelChecks(shop)...)
}

// cornerCleared returns the radius up to which the corner between tang and shoulder needs no
// file, mm: the knife's own, or what the chamfer of the guard's slot clears.
func cornerCleared(k profile.Knife) float64 {
	if k.Guard.Thickness > 0 {
		return math.Max(k.Tang.CornerRadius, k.Guard.Chamfer)
	}
	return k.Tang.CornerRadius
}

// cornerSlack is how much rounder a corner may be than its guard clears, mm: it holds the
// guard off by slack²/2r, half a thousandth of a millimetre in a corner of 0.8 mm. Derived; the
// amount is judgement.
const cornerSlack = 0.03

// shoulderCornerCheck looks at the corner that is left between tang and shoulder.
func shoulderCornerCheck(k profile.Knife, left float64) Check {
	return most("corner that the cutter leaves, beside the knife's own", left, cornerCleared(k)+cornerSlack, "mm").mild().
		from("the knife file, tang.corner_radius and guard.chamfer").
		orElse("file it to %.2f mm, or chamfer the guard's slot by %.2f mm", k.Tang.CornerRadius, over(left)).
		by("guard.chamfer", over(left))
}

// sharpCorner is the least radius of an inside corner that is not called sharp, mm
// (common practice, no source).
const sharpCorner = 0.2

// planeChecks looks at whether the guard closes on the shoulder all round: how far the
// shoulder of one setup is skew to the blade, and how far the planes of two setups gape.
func (j *Job) planeChecks(b profile.Blade, shop Shop, cut profile.ShoulderCut) []Check {
	width := b.Knife.RicassoWidth()
	allowance := b.Knife.Shoulder.FileStock
	swept := mismatch.ShoulderOf(shop.Errors.JawSweep.Radians(), width)
	reading := mismatch.SweepFor(allowance, width, 100)
	out := []Check{most("shoulder skew to the blade by the jaw's sweep", swept.Skew, allowance, "mm").mild().from("the knife file, shoulder.file_allowance").
		orElse("a jaw swept to %.3f mm over 100 mm would do", math.Floor(1000*reading.ForSkew)/1000)}
	if !cut.Stepped {
		return out
	}
	steps := TurningFor(Shoulders, b, shop).Chosen().Along
	return append(out,
		most("gap between the shoulders of the two setups by the jaw's sweep", swept.Gap, allowance, "mm").mild().from("the knife file, shoulder.file_allowance").
			orElse("a jaw swept to %.3f mm over 100 mm would do", math.Floor(1000*reading.ForGap)/1000),
		most("step between the shoulders of the two setups, at worst", steps.Worst(), allowance, "mm").mild().from("the knife file, shoulder.file_allowance; the errors in the shop file").
			orElse("a file_allowance of %.3f mm would do", over(steps.Worst())).by("shoulder.file_allowance", over(steps.Worst())))
}
