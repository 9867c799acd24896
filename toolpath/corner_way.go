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

// wayParts is at how many places of each piece of its way a pass is looked at.
const wayParts = 40

// contact returns the greatest angle over which the leading half of the cutter stands in the
// steel that the corner of before left, radians: pi in a slot. The walls themselves are
// clean.
func (p cornerPass) contact() float64 {
	way, err := p.way()
	old, bad := p.corner.fillet(p.from)
	if err != nil || bad != nil {
		return 0
	}
	left := leftSteel{old, old.Start(), old.End(), p.corner}
	most := 0.0
	for _, piece := range way {
		for i := range wayParts + 1 {
			t := float64(i) / wayParts
			most = math.Max(most, left.contact(piece.At(t), piece.Tangent(t), p.radius))
		}
	}
	return most
}

// leftSteel is the steel between the walls of a corner and the arc that it is round by.
type leftSteel struct {
	round      geom.Arc
	start, end geom.Point // of the arc
	corner     insideCorner
}

// outside is how far outside an arc a cutter is taken to cut, mm: less is touching.
const outside = 1e-6

// contact returns over what angle a cutter that stands at a place between the walls meets the
// steel in the half that leads: where it is outside the arc's circle, and beside the arc.
// Each of these is one stretch of the cutter's edge, in closed form.
func (l leftSteel) contact(at, along geom.Point, radius float64) float64 {
	away := geom.Point{X: at.X - l.round.Centre.X, Y: at.Y - l.round.Centre.Y}
	distance := math.Hypot(away.X, away.Y)
	if distance < outside { // all of the edge is as far from the arc's centre
		if radius <= l.round.Radius+outside {
			return 0
		}
		away, distance = along, outside
	}
	reach := l.round.Radius + outside
	ahead := func(from, d geom.Point) float64 { return (at.X-from.X)*d.X + (at.Y-from.Y)*d.Y }
	edge := turns{{-math.Pi / 2, math.Pi / 2}}
	edge = edge.within(along, away, (reach*reach-radius*radius-distance*distance)/(2*radius*distance))
	edge = edge.within(along, l.corner.in, -ahead(l.start, l.corner.in)/radius)
	edge = edge.within(along, geom.Point{X: -l.corner.out.X, Y: -l.corner.out.Y}, ahead(l.end, l.corner.out)/radius)
	met := 0.0
	for _, s := range edge {
		met += s[1] - s[0]
	}
	return met
}

// turns are parts of a circle, each from one angle to another, radians from straight ahead.
type turns [][2]float64

// within returns what of the turns lies so near to a direction that the cosine of the
// angle between is no less than given.
func (s turns) within(ahead, direction geom.Point, cosine float64) turns {
	half := math.Acos(clampUnit(cosine))
	middle := math.Atan2(ahead.X*direction.Y-ahead.Y*direction.X, ahead.X*direction.X+ahead.Y*direction.Y)
	var out turns
	for _, part := range s {
		for _, turn := range []float64{-2 * math.Pi, 0, 2 * math.Pi} {
			if from, to := math.Max(part[0], middle-half+turn), math.Min(part[1], middle+half+turn); from < to {
				out = append(out, [2]float64{from, to})
			}
		}
	}
	return out
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
