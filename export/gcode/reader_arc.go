package gcode

import (
	"math"

	"fullerwright/toolpath/motion"
)

// The report's tolerances: how far the radii at the start and at the end of an arc
// may differ, in the units in force (3.5.3.2), and how nearly a chord may be as long
// as the diameter to count as a semicircle.
//
// Two points closer than samePoint (mm) are one: an arc that ends at the coordinates it
// starts from is a full circle, and shifts of the coordinates may have left a rounding
// error of some 1e-13 mm between the two.
const (
	samePoint           = 1e-9
	radiusToleranceMM   = 0.002
	radiusToleranceInch = 0.0002
	semicircle          = 1e-12
)

// arc does a circular or helical move.
func (m *machine) arc(b *block, clockwise bool) error {
	column := max(1, b.gColumn[motionGroup])
	words := [...]struct{ axes, offsets, wrong string }{{"XY", "IJ", "K"}, {"XZ", "IK", "J"}, {"YZ", "JK", "I"}}[m.plane]
	switch {
	case !b.hasAny("IJK") && !b.has('R'):
		return m.rule(column, "", "an arc needs a centre (I, J, K) or a radius (R)", "3.5.3")
	case b.hasAny("IJK") && b.has('R'):
		return m.rule(b.word('R').column, "R", "an arc has a centre or a radius, not both", "3.5.3")
	case b.has(words.wrong[0]):
		return m.rule(b.word(words.wrong[0]).column, words.wrong, "this offset does not lie in the plane of the arc", "3.5.3.2")
	case !b.hasAny(words.axes):
		return m.rule(column, "", "the end of an arc needs a coordinate in its plane ("+words.axes+")", "3.5.3")
	}
	to := m.target(b)
	v := motion.Motion{Kind: motion.Arc, From: m.at, To: to, Plane: m.plane}
	var err error
	if b.has('R') {
		v.Centre, v.Sweep, err = m.byRadius(b, to, clockwise)
	} else {
		v.Centre, v.Sweep, err = m.byCentre(b, to, clockwise)
	}
	if err != nil {
		return err
	}
	m.tellArc(v)
	return m.emit(v)
}

// byCentre solves an arc given by the offsets of its centre from its start.
func (m *machine) byCentre(b *block, to motion.Vec, clockwise bool) (motion.Vec, float64, error) {
	unit := m.unit()
	centre := m.at.Add(motion.Vec{X: b.value('I') * unit, Y: b.value('J') * unit, Z: b.value('K') * unit})
	a0, b0, _ := m.plane.Split(m.at)
	a1, b1, _ := m.plane.Split(to)
	ca, cb, _ := m.plane.Split(centre)
	r0, r1 := math.Hypot(a0-ca, b0-cb), math.Hypot(a1-ca, b1-cb)
	tolerance := radiusToleranceMM
	if m.inch {
		tolerance = radiusToleranceInch * millimetresPerInch
	}
	column := m.firstOffset(b)
	switch {
	case r0 == 0 || r1 == 0:
		return centre, 0, m.rule(column, "", "the radius of an arc must not be 0", "3.5.3.2")
	case math.Abs(r0-r1) > tolerance:
		return centre, 0, m.rule(column, "", "the start and the end of the arc lie at different distances from its centre", "3.5.3.2")
	}
	return centre, sweepOf(math.Atan2(b0-cb, a0-ca), math.Atan2(b1-cb, a1-ca), clockwise, math.Hypot(a1-a0, b1-b0) < samePoint), nil
}

func (m *machine) firstOffset(b *block) int {
	for _, l := range []byte("IJK") {
		if b.has(l) {
			return b.word(l).column
		}
	}
	return 1
}

// sweepOf returns the signed sweep from one angle to another; a whole turn where the
// arc ends where it starts.
func sweepOf(from, to float64, clockwise, whole bool) float64 {
	sweep := to - from
	switch {
	case whole && clockwise:
		return -2 * math.Pi
	case whole:
		return 2 * math.Pi
	case clockwise && sweep >= 0:
		sweep -= 2 * math.Pi
	case !clockwise && sweep <= 0:
		sweep += 2 * math.Pi
	}
	return sweep
}

// byRadius solves an arc given by its radius: at most half a turn where that is
// positive, more where it is negative.
func (m *machine) byRadius(b *block, to motion.Vec, clockwise bool) (motion.Vec, float64, error) {
	radius := b.value('R') * m.unit()
	a0, b0, n := m.plane.Split(m.at)
	a1, b1, _ := m.plane.Split(to)
	half := math.Hypot(a1-a0, b1-b0) / 2
	column := b.word('R').column
	switch {
	case 2*half < samePoint:
		return motion.Vec{}, 0, m.rule(column, "R", "an arc by its radius must not end where it starts", "3.5.3.1")
	case radius == 0 || half/math.Abs(radius) > 1+semicircle:
		return motion.Vec{}, 0, m.rule(column, "R", "the radius is too small to reach the end", "3.5.3.1")
	}
	turn := 2 * math.Asin(math.Min(1, half/math.Abs(radius)))
	away := math.Sqrt(math.Max(0, radius*radius-half*half))
	if half/math.Abs(radius) > 1-semicircle {
		away = 0
	}
	if radius < 0 {
		turn, away = 2*math.Pi-turn, -away
	}
	// For a counterclockwise arc of up to half a turn the centre lies to the left.
	if clockwise {
		away = -away
	}
	ca := (a0+a1)/2 - away*(b1-b0)/(2*half)
	cb := (b0+b1)/2 + away*(a1-a0)/(2*half)
	if clockwise {
		turn = -turn
	}
	return m.plane.Join(ca, cb, n), turn, nil
}

// tellArc traces an arc as the report's canonical function has it: end and centre in
// the plane's axes, the turns, the end along the normal.
func (m *machine) tellArc(v motion.Motion) {
	if m.trace == nil {
		return
	}
	scale := 1 / m.unit()
	to, centre := v.To.Sub(m.shift()).Scale(scale), v.Centre.Sub(m.shift()).Scale(scale)
	e0, e1, n := v.Plane.Split(to)
	c0, c1, _ := v.Plane.Split(centre)
	turn := 1
	if v.Sweep < 0 {
		turn = -1
	}
	m.tell("ARC_FEED(%.4f, %.4f, %.4f, %.4f, %d, %.4f)", e0, e1, c0, c1, turn, n)
}
