package toolpath

import (
	"math"

	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// insideCorner is where two upright walls meet: the place, and the directions of travel
// along the first wall to it and along the second away from it, with the steel to the
// right.
type insideCorner struct {
	at      geom.Point
	in, out geom.Point // of length 1
}

// wallLength is how much of each wall a corner looks at, mm: more than any fillet needs.
const wallLength = 100

// fillet returns the arc of the given radius that touches both walls.
func (c insideCorner) fillet(radius float64) (geom.Arc, error) {
	far := func(d geom.Point, sign float64) geom.Point {
		return geom.Point{X: c.at.X + sign*wallLength*d.X, Y: c.at.Y + sign*wallLength*d.Y}
	}
	_, arc, _, err := geom.Fillet(geom.Line{From: far(c.in, -1), To: c.at}, geom.Line{From: c.at, To: far(c.out, 1)}, radius)
	return arc, err
}

// leftOf returns a place a distance to the left of another, seen along a direction.
func leftOf(p, d geom.Point, distance float64) geom.Point {
	return geom.Point{X: p.X - distance*d.Y, Y: p.Y + distance*d.X}
}

// cornerPass is one pass of a small cutter through a corner that an earlier one left round.
type cornerPass struct {
	corner   insideCorner
	from, to float64 // radius of the corner before and after, mm
	radius   float64 // of the cutter
}

// tightest is the least radius of the axis's way in a corner, mm: under it the axis turns on
// the spot.
const tightest = 0.002

// way returns the way of the cutter's axis from where the corner of before leaves the first
// wall to where it meets the second: straight, round, straight.
func (p cornerPass) way() ([]geom.Piece, error) {
	old, err := p.corner.fillet(p.from)
	if err != nil {
		return nil, err
	}
	arc, err := p.corner.fillet(p.to)
	if err != nil {
		return nil, err
	}
	start, end := leftOf(old.Start(), p.corner.in, p.radius), leftOf(old.End(), p.corner.out, p.radius)
	if p.to-p.radius < tightest {
		return []geom.Piece{geom.Line{From: start, To: arc.Centre}, geom.Line{From: arc.Centre, To: end}}, nil
	}
	arc.Radius = p.to - p.radius
	return []geom.Piece{geom.Line{From: start, To: arc.Start()}, arc, geom.Line{From: arc.End(), To: end}}, nil
}

// lap returns the whole way of a pass: on to the first wall by a quarter of a circle of the
// given radius, through the corner, and off the second wall by another.
func (p cornerPass) lap(rolling float64) ([]geom.Piece, error) {
	way, err := p.way()
	if err != nil {
		return nil, err
	}
	quarter := geom.Angle(math.Pi / 2)
	angle := func(d geom.Point) geom.Angle { return geom.Angle(math.Atan2(d.Y, d.X)) }
	start, end := way[0].Start(), way[len(way)-1].End()
	on := geom.Arc{Centre: leftOf(start, p.corner.in, rolling), Radius: rolling, From: angle(p.corner.in) - 2*quarter, Sweep: quarter}
	off := geom.Arc{Centre: leftOf(end, p.corner.out, rolling), Radius: rolling, From: angle(p.corner.out) - quarter, Sweep: quarter}
	return append(append([]geom.Piece{on}, way...), off), nil
}

// Along the way of a pass, and round the cutter, so many places are looked at for the steel
// that it meets.
const wayParts, roundParts = 40, 360

// contact returns the greatest angle over which the leading half of the cutter stands in the
// steel that the corner of before left, radians: pi in a slot. The walls themselves are
// clean.
func (p cornerPass) contact() float64 {
	way, err := p.way()
	old, bad := p.corner.fillet(p.from)
	if err != nil || bad != nil {
		return 0
	}
	most := 0.0
	for _, piece := range way {
		for i := range wayParts + 1 {
			t := float64(i) / wayParts
			most = math.Max(most, p.contactAt(piece.At(t), piece.Tangent(t), old))
		}
	}
	return most
}

// contactAt is contact at one place of the way, in one direction.
func (p cornerPass) contactAt(at, along geom.Point, old geom.Arc) float64 {
	const outside = 1e-6 // mm; the walls are touched, not cut
	met := 0
	for i := range roundParts {
		angle := math.Pi * (float64(i) + 0.5) / roundParts // from the wall at the right, over straight ahead, to the left
		sin, cos := math.Sincos(angle)
		edge := geom.Point{X: at.X + p.radius*(sin*along.X+cos*along.Y), Y: at.Y + p.radius*(sin*along.Y-cos*along.X)}
		if p.corner.steelAt(edge, old, outside) {
			met++
		}
	}
	return math.Pi * float64(met) / roundParts
}

// steelAt reports whether there is steel at a place beside a corner that is round by an arc.
func (c insideCorner) steelAt(p geom.Point, round geom.Arc, outside float64) bool {
	dx, dy := p.X-c.at.X, p.Y-c.at.Y
	beside := func(d geom.Point) float64 { return d.X*dy - d.Y*dx } // to the left of a wall
	if beside(c.in) < -outside || beside(c.out) < -outside {
		return true
	}
	// Only in the wedge between the arc's ends is it the arc that bounds the steel.
	ahead := func(from, d geom.Point) float64 { return (p.X-from.X)*d.X + (p.Y-from.Y)*d.Y }
	if ahead(round.Start(), c.in) < 0 || ahead(round.End(), c.out) > 0 {
		return false
	}
	return math.Hypot(p.X-round.Centre.X, p.Y-round.Centre.Y) > round.Radius+outside
}

// contactMost is the greatest contact of a pass through a corner, radians: in the end both
// walls are touched, a right angle in a square corner, and what is taken off adds a little
// (judgement).
const contactMost = 100 * math.Pi / 180

// cornerPasses returns the radii that the corner has after each pass, from the one that it
// has to the one that it is to have, in as few passes as the contact allows; nil where even
// the last can take nothing.
func cornerPasses(corner insideCorner, from, to, radius float64) []float64 {
	const finest = 0.005 // mm off the radius in a pass
	out := []float64{to}
	for at := to; ; {
		pass := func(before float64) float64 { return cornerPass{corner, before, at, radius}.contact() }
		if pass(from) <= contactMost {
			return out
		}
		low, high := at, from
		for high-low > finest/4 {
			if middle := (low + high) / 2; pass(middle) <= contactMost {
				low = middle
			} else {
				high = middle
			}
		}
		if low-at < finest {
			return nil
		}
		at = low
		out = append([]float64{at}, out...)
	}
}

// cornerOf returns the inside corner between a side of the tang and its shoulder.
func cornerOf(side profile.ShoulderSide) insideCorner {
	along := side.Edge.Tangent(0)
	x := side.Shoulder.From.X
	c := insideCorner{at: geom.Point{X: x, Y: side.Edge.From.Y + (x-side.Edge.From.X)*along.Y/along.X}}
	// From the tang's back to the shoulder the steel of the upper side lies to the right.
	if c.in, c.out = along, side.Shoulder.Tangent(0); side.Up < 0 {
		c.in, c.out = geom.Point{X: -c.out.X, Y: -c.out.Y}, geom.Point{X: -c.in.X, Y: -c.in.Y}
	}
	return c
}

// slotCorners returns the inside corners of a slot.
func slotCorners(slot profile.GuardSlot) []insideCorner {
	a, b := slot.Length/2, slot.Width/2
	right, up, left, down := geom.Point{X: 1}, geom.Point{Y: 1}, geom.Point{X: -1}, geom.Point{Y: -1}
	return []insideCorner{
		{geom.Point{X: a, Y: -b}, right, up}, {geom.Point{X: a, Y: b}, up, left},
		{geom.Point{X: -a, Y: b}, left, down}, {geom.Point{X: -a, Y: -b}, down, right},
	}
}
