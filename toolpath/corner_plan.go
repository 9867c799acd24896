package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// cornerWork is what a program leaves in its inside corners for a smaller cutter: in the same
// setup, with the cutter changed.
type cornerWork struct {
	after   *Job // the program that leaves them
	step    Step
	corners []insideCorner
	from    float64 // radius that they have, mm
	design  float64 // radius that they are not to be cut beyond, mm; 0 for as sharp as can be
	top     float64 // heights between which they are cut, before what the cutter's end needs
	bottom  float64
	data    cutting.Data
	checks  func(*Job) []Check // that the operation asks for besides
	corner  func(left float64) Check
}

// to returns the radius that a cutter leaves.
func (w cornerWork) to(c Cutter) float64 { return math.Max(w.design, c.Radius()) }

// most returns the radius up to which the corners need no file.
func (w cornerWork) most() float64 { return w.corner(0).Limit }

// cornerWorkAfter returns what a job leaves in its inside corners; ok is false where it leaves
// nothing to mill.
func cornerWorkAfter(b profile.Blade, shop Shop, after *Job) (w cornerWork, ok bool) {
	if after.Corner == 0 {
		return cornerWork{}, false
	}
	w = cornerWork{after: after, step: after.Step, from: after.Corner}
	w.step.Corner++
	switch after.Step.Operation {
	case Shoulders:
		w.ofShoulder(b, shop)
	case Slot:
		w.ofSlot(b, shop)
	}
	return w, len(w.corners) > 0 && w.from > w.most()
}

// ofShoulder fills in the corners between tang and shoulder, which are milled through from
// the right face.
func (w *cornerWork) ofShoulder(b profile.Blade, shop Shop) {
	cut, err := b.ShoulderCut(w.from)
	if err != nil || w.after.Setup.Face != profile.Right {
		return
	}
	for _, side := range cut.Sides {
		w.corners = append(w.corners, cornerOf(side))
	}
	w.data, _ = shop.steelData(b)
	w.design = b.Knife.Tang.CornerRadius
	w.top = highestFace(b.Bar)
	w.bottom = -w.top - breakThrough
	w.checks = func(j *Job) []Check { return append(stockChecks(b), j.holdingChecks(b, shop)...) }
	w.corner = func(left float64) Check { return shoulderCornerCheck(b.Knife, left) }
}

// ofSlot fills in the corners of the guard's slot.
func (w *cornerWork) ofSlot(b profile.Blade, shop Shop) {
	slot, has := b.GuardSlot(w.from)
	if !has {
		return
	}
	w.corners = slotCorners(slot)
	w.data, _ = shop.guardData(b)
	w.top = slot.Thickness / 2
	w.bottom = -w.top - breakThrough
	w.checks = func(j *Job) []Check { return j.standChecks(shop) }
	w.corner = func(left float64) Check {
		slot, _ := b.GuardSlot(left)
		return slotCornerCheck(slot)
	}
}

// planWith plans the corners with one cutter.
func (w cornerWork) planWith(shop Shop, c Cutter) (*Job, string) {
	to := w.to(c)
	switch {
	case c.End != SquareEnd:
		return nil, "its end is not square"
	case to > w.from-leastOffCorner:
		return nil, fmt.Sprintf("its diameter is %.2f mm", 2*c.Radius())
	}
	if err := w.data.Refuses(c.tool()); err != nil {
		return nil, err.Error()
	}
	passes := cornerPasses(w.corners[0], w.from, to, c.Radius())
	if passes == nil {
		return nil, fmt.Sprintf("it stands in more than %.0f degrees of steel in a corner of %.2f mm", contactMost*180/math.Pi, to)
	}
	bottom := w.bottom - c.CornerRadius
	p := w.sidePlan(shop, c, passes)
	job := &Job{Step: w.step, Name: w.after.Name, Steel: w.after.Steel, Setup: w.after.Setup, Cutter: c, Coolant: w.after.Coolant,
		CornerFrom: w.from, Corner: to, SideLevel: p.level, Deepest: w.top - bottom}
	for i := range w.corners {
		job.Stages = append(job.Stages, Stage{fmt.Sprintf("corner %d", i+1), i*p.levels + 1, (i + 1) * p.levels})
	}
	job.sideSpeeds(w.data, shop, p)
	m := cornerMill{corners: w.corners, from: w.from, passes: passes, side: p, feeds: job.Feeds,
		course: &course{setup: job.Setup, clearance: w.top + shop.Work.Clearance}}
	if err := m.mill(w.top, bottom); err != nil {
		return nil, err.Error()
	}
	job.Moves = m.course.moves
	job.Clearance = job.Setup.Placement.Work(motion.Vec{Z: m.course.clearance}).Z
	job.measure(shop.Machine)
	job.Checks = w.jobChecks(job, shop, p)
	return job, ""
}

// leastOffCorner is the least that is worth taking off a corner's radius, mm (judgement).
const leastOffCorner = 0.05

// sidePlan chooses levels and feed for the corners: the cutter stands in the steel of one
// level up to the greatest contact of its passes.
func (w cornerWork) sidePlan(shop Shop, c Cutter, passes []float64) sidePlan {
	contact, from := 0.0, w.from
	for _, to := range passes {
		contact = math.Max(contact, cornerPass{w.corners[0], from, to, c.Radius()}.contact())
		from = to
	}
	diameter := 2 * c.Radius()
	depth := w.top - w.bottom + c.CornerRadius
	feed := w.data.FeedPerTooth(c.tool())
	limit := shop.cornerBend(c)
	most := squareDepth * w.data.DepthRatioMost * diameter * stickOutShare(c)
	least := max(1, int(math.Ceil(depth/most-1e-9)))
	var best sidePlan
	straight := false
	for levels := least; levels <= max(least, mostCornerLevels); levels++ {
		p := sidePlan{cutter: c, beside: diameter * (1 - math.Cos(contact)) / 2, whole: depth, levels: levels, level: depth / float64(levels)}
		perTooth, bend := p.rough().feedBending(limit, feed, c, w.data)
		p.perTooth, p.finishFeed = perTooth, perTooth
		if !straight || p.slowness() < best.slowness()*(1-slack) {
			best, straight = p, bend <= limit*(1+slack)
		}
		if p.perTooth >= feed.Most*(1-slack) {
			break // more levels are fed no faster
		}
	}
	return best
}

// mostCornerLevels is how many levels a corner may be divided into before it is given up.
const mostCornerLevels = 150

// cornerBend returns how far a cutter may bend in a corner, mm: no pass comes after it.
func (s Shop) cornerBend(c Cutter) float64 {
	return math.Min(s.bendMost(c), s.Limits.CutterBendFinishing)
}

// bentCorner returns the radius that a corner has where the cutter bends away from it: what
// stays along the diagonal is the radius's (sqrt(2) - 1) part. Derived, for square corners.
func bentCorner(radius, bend float64) float64 { return radius + bend*(math.Sqrt2+1) }

// stiffer returns the least diameter of a cutter as long that bends no more than it may in
// such levels, mm, in steps in which cutters are sold.
func (w cornerWork) stiffer(shop Shop, c Cutter, p sidePlan) float64 {
	const step = 0.05
	diameter := 2 * c.Radius()
	c.Diameter, c.Measured = diameter, profile.Optional{}
	for ; ; c.Diameter += step {
		c.ShankDiameter = math.Max(c.ShankDiameter, c.Diameter)
		cut := sideCut{p.level, p.beside * c.Diameter / diameter}
		if cut.bend(w.data.FeedPerTooth(c.tool()).Least, c, w.data) <= shop.cornerBend(c) || c.Diameter >= 2*w.from {
			return c.Diameter
		}
	}
}

func (w cornerWork) jobChecks(j *Job, shop Shop, p sidePlan) []Check {
	c := j.Cutter
	perTooth := j.Feeds.Slot / (j.Spindle * float64(c.Flutes))
	bend, limit := p.rough().bend(perTooth, c, w.data), shop.cornerBend(c)
	stiffer := w.stiffer(shop, c, p)
	stress := c.tool().Stress(p.rough().force(perTooth, c, w.data))
	chip, rub := cutting.GreatestSideChip(perTooth, 2*c.Radius(), p.beside), cutting.RubbingLimit(2*c.Radius())
	out := append(w.checks(j),
		most("contact of the cutter in a corner", math.Acos(1-p.beside/c.Radius())*180/math.Pi, contactMost*180/math.Pi, "degrees").
			from("judgement: both walls of the corner are touched in the end, a right angle").orElse("take a smaller cutter"),
		most("deflection of the cutter in a corner", bend, limit, "mm").from(fromShop).
			orElse("a cutter of %.2f mm would do, and leave a corner of %.2f mm to file", over(stiffer), over(stiffer/2)),
		most("bending stress in the cutter", stress, shop.Limits.CutterStress, "N/mm²").from(fromShop).
			orElse("levels of %.2f mm would do", under(p.level*shop.Limits.CutterStress/math.Max(stress, 1e-9))),
		least("thickest chip in a corner against rubbing", chip, rub, "mm").mild().from("judgement, from edge radii").
			orElse("a feed per tooth of %.4f mm would do", perTooth*rub/chip),
		w.corner(bentCorner(j.Corner, bend)))
	for _, c := range j.sideChecks(shop, w.data, p) {
		if c.Name != bentRoughing { // it may bend no more in a corner
			out = append(out, c)
		}
	}
	return append(out, j.travelChecks(shop)...)
}

// cornerMill lays the moves of a program that mills corners alone.
type cornerMill struct {
	corners []insideCorner
	from    float64
	passes  []float64 // radius after each
	side    sidePlan
	feeds   Feeds
	course  *course
}

// mill cuts one corner after the other, level by level: all passes of a level, rolled on and
// off the walls, before the cutter goes down to the next through what is open already. The
// steel lies to the right of the way.
func (m cornerMill) mill(top, bottom float64) error {
	c, radius := m.course, m.side.cutter.Radius()
	for number, corner := range m.corners {
		for level := 1; level <= m.side.levels; level++ {
			c.level = number*m.side.levels + level
			h := top + (bottom-top)*float64(level)/float64(m.side.levels)
			from := m.from
			for i, to := range m.passes {
				lap, err := cornerPass{corner, from, to, radius}.lap(radius / 2)
				if err != nil {
					return err
				}
				c.lane = i + 1
				m.begin(level == 1 && i == 0, lap[0].Start(), h)
				c.follow(lap, h, m.feeds.Slot, Rough)
				from = to
			}
		}
	}
	c.level, c.lane = 0, 0
	c.retract()
	return nil
}

// begin takes the cutter to where a pass begins: from over the work to a corner's first pass,
// to each other through what is open, and straight down there.
func (m cornerMill) begin(first bool, at geom.Point, h float64) {
	c := m.course
	if first {
		c.over(at)
	} else {
		across := c.place(at, h)
		across.Z = c.at.Z
		c.add(Move{Kind: motion.Line, To: across, Feed: m.feeds.Air, Purpose: Approach})
	}
	c.sink(at, h, m.feeds)
}
