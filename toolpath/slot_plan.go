package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// slotSteps returns the programs for the guard's slot, if the knife has a guard: the hole
// that the mill goes down in, where the drawer has a drill for it, and the slot.
func slotSteps(b profile.Blade, shop Shop) []Step {
	if _, has := b.GuardSlot(0); !has {
		return nil
	}
	var out []Step
	if bore := slotDrill(b, shop); bore > 0 {
		out = append(out, Step{Operation: Slot, Bore: bore})
	}
	return append(out, Step{Operation: Slot})
}

// slotSetup returns the clamping of the guard's blank: its front up, its long sides in the
// jaws, one end at the stop.
func slotSetup(s profile.GuardSlot) Setup {
	return Setup{Blank: true, Top: s.Thickness / 2, Length: s.BlankLength, Width: s.BlankWidth,
		Placement: motion.Placement{SignX: 1, SignY: 1, X0: s.BlankLength / 2, Y0: -s.BlankWidth / 2, Z0: -s.Thickness / 2}}
}

// PlanSlot plans the slot of the guard, in a blank of the guard's size, with the cutter of
// the given name, or, where name is empty, with the best of the drawer.
func PlanSlot(b profile.Blade, shop Shop, name string) (*Job, []Candidate, error) {
	if _, has := b.GuardSlot(0); !has {
		return nil, nil, &PlanError{"the knife has no guard", "give it a [guard] with length, width and thickness"}
	}
	if _, err := shop.guardData(b); err != nil {
		return nil, nil, err
	}
	best, candidates := shop.choose(name, func(c Cutter) (*Job, string) { return planSlotWith(b, shop, c) })
	if best == nil {
		slot, _ := b.GuardSlot(0)
		return nil, candidates, shop.unfitError(name, candidates, fmt.Sprintf("a slot %.2f mm wide and %.2f mm deep", slot.Width, slot.Thickness),
			fmt.Sprintf("a square end mill of up to %.2f mm diameter with flutes of %.2f mm would; or drill a row of holes and file it", under(slot.Width-2*slotRoom), over(slot.Thickness+breakThrough)))
	}
	return best, candidates, nil
}

const (
	// slotRoom is the least that a cutter must be narrower than its slot on each side, mm,
	// so that both walls are finished by themselves (judgement).
	slotRoom = 0.1
)

func planSlotWith(b profile.Blade, shop Shop, c Cutter) (*Job, string) {
	slot, _ := b.GuardSlot(c.Radius())
	switch room := slot.Width/2 - c.Radius(); {
	case c.End != SquareEnd:
		return nil, "its end is not square"
	case room < slotRoom:
		return nil, fmt.Sprintf("its diameter is %.2f mm", 2*c.Radius())
	}
	data, _ := shop.guardData(b)
	if err := data.Refuses(c.tool()); err != nil {
		return nil, err.Error()
	}
	depth := slot.Thickness + breakThrough + c.CornerRadius
	if why := tooSlender(c, depth); why != "" {
		return nil, why
	}
	p := sidePlanFor(shop, data, c, depth)
	p.stock = math.Min(p.stock, (slot.Width/2-c.Radius())/2)
	p.lastPass(data)
	setup := slotSetup(slot)
	job := &Job{Step: Step{Operation: Slot}, Name: b.Knife.Name, Steel: b.Knife.Guard.Material, Setup: setup, Cutter: c, Coolant: shop.Machine.Coolant,
		Corner: c.Radius(), Stages: []Stage{{"slot", 1, p.levels}}, SideLevel: p.level, Deepest: depth}
	job.sideSpeeds(data, shop, p)
	m := slotMill{slot: slot, side: p, feeds: job.Feeds, radius: c.Radius(), drilled: slotDrill(b, shop) >= 2*c.Radius()+downRoom, ramp: shop.ramp(),
		course: &course{setup: setup, clearance: slot.Thickness/2 + shop.Work.Clearance}}
	m.mill()
	job.Moves = m.course.moves
	job.Clearance = setup.Placement.Work(motion.Vec{Z: m.course.clearance}).Z
	job.measure(shop.Machine)
	job.Checks = job.slotChecks(shop, data, slot, p)
	return job, ""
}

// slotMill lays the moves of a slot.
type slotMill struct {
	slot    profile.GuardSlot
	side    sidePlan
	feeds   Feeds
	radius  float64
	drilled bool    // there is a hole in the middle to go down in
	ramp    float64 // steepest way down over way along
	course  *course
}

// mill goes down the middle of the slot a level at a time, in the hole that is there or else
// by ramps, which is lane 1, widens each level to the finishing stock, lane 2, and finishes the wall in as many
// passes as it takes.
func (m slotMill) mill() {
	c := m.course
	top, bottom := m.slot.Thickness/2, m.slot.Thickness/2-m.side.whole
	reach := m.slot.Length/2 - m.radius - m.side.stock
	at := -reach
	if m.drilled {
		at = 0
	}
	c.over(geom.Point{X: at})
	c.sink(geom.Point{X: at}, top+approachGap, m.feeds)
	m.along(at, top, m.feeds.Plunge, Approach)
	for level := 1; level <= m.side.levels; level++ {
		c.level, c.lane = level, 1
		from := top + (bottom-top)*float64(level-1)/float64(m.side.levels)
		h := top + (bottom-top)*float64(level)/float64(m.side.levels)
		if m.drilled {
			m.along(0, h, m.feeds.Plunge, Approach)
			m.along(-reach, h, m.feeds.Slot, Rough)
			m.along(reach, h, m.feeds.Slot, Rough)
		} else {
			at = m.rampDown(at, reach, from, h)
		}
		c.lane = 2
		m.contour(m.side.stock, h, m.feeds.Slot, Rough)
		m.along(at, h, m.feeds.Slot, Rough)
	}
	c.level, c.lane = 0, 0
	for range m.side.passes {
		m.contour(0, bottom, m.feeds.Finish, Finish)
	}
	m.along(0, bottom, m.feeds.Finish, Finish)
	c.retract()
}

// along goes straight to a place of the slot's middle line.
func (m slotMill) along(x, h, feed float64, purpose Purpose) {
	m.course.add(Move{Kind: motion.Line, To: m.course.place(geom.Point{X: x}, h), Feed: feed, Purpose: purpose})
}

// rampDown goes down to and fro from one level to the next and takes the wedge that the last
// leg left; it returns the end of the slot at which it is then.
func (m slotMill) rampDown(at, reach, from, h float64) float64 {
	legs := max(1, int(math.Ceil((from-h)/(2*reach*m.ramp))))
	for leg := 1; leg <= legs; leg++ {
		at = -at
		m.along(at, from+(h-from)*float64(leg)/float64(legs), m.feeds.Ramp, RampIn)
	}
	m.along(-at, h, m.feeds.Slot, Rough)
	return -at
}

// contour runs round the slot inside its wall, the steel to the right: rolled on to the
// lower side and off it again by quarters of a circle.
func (m slotMill) contour(stock, h, feed float64, purpose Purpose) {
	a, b := m.slot.Length/2-m.radius-stock, m.slot.Width/2-m.radius-stock
	if b < 1e-6 {
		return
	}
	corner := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	round := func(from geom.Angle) geom.Arc {
		return geom.Arc{Radius: b, From: from, Sweep: 90 * geom.Degree}
	}
	m.course.follow([]geom.Piece{
		round(180 * geom.Degree),
		geom.Line{From: corner(0, -b), To: corner(a, -b)}, geom.Line{From: corner(a, -b), To: corner(a, b)},
		geom.Line{From: corner(a, b), To: corner(-a, b)}, geom.Line{From: corner(-a, b), To: corner(-a, -b)},
		geom.Line{From: corner(-a, -b), To: corner(0, -b)},
		round(270 * geom.Degree),
	}, h, feed, purpose)
}

func (j *Job) slotChecks(shop Shop, data cutting.Data, slot profile.GuardSlot, p sidePlan) []Check {
	out := j.sideChecks(shop, data, p)
	out = append(out, slotCornerCheck(slot),
		least("wall of the guard beside the slot", (slot.BlankWidth-slot.Finished.Y)/2, guardWall, "mm").from(fromPractice).
			orElse("make the guard wider").by("guard.width", over(slot.Finished.Y+2*guardWall)),
		least("guard beyond the ends of the slot", (slot.BlankLength-slot.Finished.X)/2, guardWall, "mm").from(fromPractice).
			orElse("make the guard longer").by("guard.length", over(slot.Finished.X+2*guardWall)),
		j.rampCheck(shop))
	return append(append(out, j.standChecks(shop)...), j.travelChecks(shop)...)
}

// slotCornerCheck looks at whether the tang goes in beside the corners that are left.
func slotCornerCheck(slot profile.GuardSlot) Check {
	return most("corner that the cutter leaves in the slot, beside what the tang's edges clear", slot.Corner, slot.CornerCleared, "mm").mild().
		from("the knife file, tang.edge_break, and geometry: a corner of radius r clears a square one where r is at most 3.4 times the clearance").
		orElse("file the corners square, or break the tang's edges by %.2f mm", over(slot.NeededTangBreak)).
		by("tang.edge_break", over(slot.NeededTangBreak))
}

// guardWall is the least metal around the slot of a guard, mm (common practice, no source).
const guardWall = 2.0
