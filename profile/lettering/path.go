package lettering

import (
	"math"

	"fullerwright/profile/geom"
)

// path is a stroke while it is being drawn: its pieces so far, where it stands, and
// which way it faces there. Each step returns a longer path and leaves the one it
// began from as it was.
type path struct {
	pieces []geom.Piece
	last   geom.Point
	face   geom.Point
}

// at begins a stroke.
func at(x, y float64) path { return path{last: geom.Point{X: x, Y: y}} }

// to goes straight to a point.
func (p path) to(x, y float64) path {
	end := geom.Point{X: x, Y: y}
	return p.with(geom.Line{From: p.last, To: end})
}

// facing turns on the spot, so that the next curve leaves in the direction of an angle,
// degrees.
func (p path) facing(degrees float64) path {
	p.face = direction(degrees)
	return p
}

// curve leaves the way the path faces and reaches a point in the direction of an angle,
// degrees: as one arc where one does it, else as two that pass into each other.
func (p path) curve(x, y, degrees float64) path {
	end, reach := geom.Point{X: x, Y: y}, direction(degrees)
	one := geom.ArcTangent(p.last, p.face, end)
	if same(one.Tangent(1), reach) && math.Abs(float64(one.Sweep)) < float64(longest) {
		return p.with(one)
	}
	two, ok := geom.Biarc(p.last, p.face, end, reach)
	if !ok {
		panic("impossible: a glyph asks for a curve that two arcs do not make")
	}
	return p.with(two...)
}

// bend leaves the way the path faces and reaches a point by one arc, in whatever
// direction that gives.
func (p path) bend(x, y float64) path {
	return p.with(geom.ArcTangent(p.last, p.face, geom.Point{X: x, Y: y}))
}

// swing reaches a point in the direction of an angle, degrees, by one arc, which leaves
// in whatever direction that takes. It is the mirror image in time of bend.
func (p path) swing(x, y, degrees float64) path {
	back := geom.ArcTangent(geom.Point{X: x, Y: y}, direction(degrees+180), p.last)
	return p.with(back.Reverse())
}

func (p path) with(pieces ...geom.Piece) path {
	p.pieces = append(p.pieces[:len(p.pieces):len(p.pieces)], pieces...)
	end := pieces[len(pieces)-1]
	p.last, p.face = end.End(), end.Tangent(1)
	return p
}

func (p path) chain() geom.Chain {
	chain, err := geom.NewChain(p.pieces...)
	if err != nil {
		panic("impossible: a glyph is badly drawn: " + err.Error())
	}
	return chain
}

// direction returns the direction of length 1 at an angle, degrees, exactly upright or
// level at whole quarters.
func direction(degrees float64) geom.Point {
	switch math.Mod(degrees+720, 360) {
	case 0:
		return geom.Point{X: 1}
	case 90:
		return geom.Point{Y: 1}
	case 180:
		return geom.Point{X: -1}
	case 270:
		return geom.Point{Y: -1}
	}
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return geom.Point{X: cos, Y: sin}
}

// same reports whether two directions agree but for rounding.
func same(a, b geom.Point) bool { return math.Hypot(a.X-b.X, a.Y-b.Y) < 1e-12 }

// ring draws a circle of a radius about a centre, from its right and counterclockwise.
func ring(x, y, radius float64) path {
	p := at(x+radius, y)
	for _, from := range []geom.Angle{0, 120 * geom.Degree, 240 * geom.Degree} {
		p = p.with(geom.Arc{Centre: geom.Point{X: x, Y: y}, Radius: radius, From: from, Sweep: 120 * geom.Degree})
	}
	return p
}

// oval draws a closed oval that fills a box from its top, counterclockwise.
func oval(left, bottom, right, top float64) path {
	x, y := (left+right)/2, (bottom+top)/2
	return at(x, top).facing(180).curve(left, y, 270).curve(x, bottom, 0).curve(right, y, 90).curve(x, top, 180)
}

// dot draws the small ring that a point is cut as: its middle is cleared by the line's
// own width.
func dot(x, y float64) path { return ring(x, y, dotRadius) }
