package match

import (
	"math"

	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// curve is the outline of a knife with what calipers ask of it: the heights of its two
// sides. Beyond the point and beyond the end of the tang its sides go on straight, so
// that a station a little too far out has a height as well.
type curve struct {
	chain  geom.Chain
	pieces []geom.Piece // of the chain, then the four straight ends
	count  int          // of the pieces of the chain
	point  geom.Point
	end    float64 // x of the end of the tang
	// atPoint is the piece that ends at the point, atEnd that across the end of the tang.
	atPoint, atEnd int
}

// The straight ends by their place behind the pieces of the chain.
const (
	backEnd = iota
	edgeEnd
	tangTopEnd
	tangBottomEnd
)

// reach is how long the straight ends are, mm: no reading of a blade lies further out.
const reach = 100

// newCurve returns the curve of a knife; ok is false where it is none.
func newCurve(k profile.Knife) (c curve, ok bool) {
	chain, err := k.QuickOutline()
	if err != nil {
		return curve{}, false
	}
	c = curve{chain: chain, pieces: chain.Pieces(), point: geom.Point{X: k.Blade.Length, Y: -k.Clip.Drop}, end: -k.Tang.Length}
	c.count = len(c.pieces)
	c.atPoint, c.atEnd = -1, -1
	for i, p := range c.pieces {
		if e := p.End(); math.Hypot(e.X-c.point.X, e.Y-c.point.Y) < 1e-6 && c.atPoint < 0 {
			c.atPoint = i
		}
		if p.Start().X < c.end+1e-9 && p.End().X < c.end+1e-9 {
			c.atEnd = i
		}
	}
	if c.atPoint < 0 || c.atPoint+1 >= c.count || c.atEnd < 1 || c.atEnd+1 >= c.count {
		return curve{}, false
	}
	onward := func(from, direction geom.Point) geom.Piece {
		return geom.Line{From: from, To: geom.Point{X: from.X + reach*direction.X, Y: from.Y + reach*direction.Y}}
	}
	against := func(p geom.Point) geom.Point { return geom.Point{X: -p.X, Y: -p.Y} }
	edge, back := c.pieces[c.atPoint], c.pieces[c.atPoint+1]
	top, bottom := c.pieces[c.atEnd-1], c.pieces[c.atEnd+1]
	c.pieces = append(c.pieces, onward(c.point, against(back.Tangent(0))), onward(c.point, edge.Tangent(1)),
		onward(top.End(), top.Tangent(1)), onward(bottom.Start(), against(bottom.Tangent(0))))
	return c, true
}

// at returns the point of a place.
func (c curve) at(p geom.Place) geom.Point { return c.pieces[p.Piece].At(p.T) }

// side returns the place of the spine side or the edge side at a station.
func (c curve) side(x float64, spine bool) geom.Place {
	ending := -1
	switch {
	case x >= c.point.X-1e-9 && spine:
		ending = backEnd
	case x >= c.point.X-1e-9:
		ending = edgeEnd
	case x <= c.end+1e-9 && spine:
		ending = tangTopEnd
	case x <= c.end+1e-9:
		ending = tangBottomEnd
	}
	if ending >= 0 {
		line := c.pieces[c.count+ending]
		run := line.End().X - line.Start().X
		if math.Abs(run) < 1e-3*reach {
			return geom.Place{Piece: c.count + ending}
		}
		return geom.Place{Piece: c.count + ending, T: (x - line.Start().X) / run}
	}
	if x == 0 {
		x = 1e-9 // the guard plane belongs to the blade, not to the corner of the tang
	}
	for i := c.first(x, spine); i < c.count; i++ {
		if t, ok := geom.AtX(c.pieces[i], x); ok {
			return geom.Place{Piece: i, T: t}
		}
	}
	// In the rounding between two pieces.
	place, _ := c.chain.Nearest(geom.Point{X: x, Y: c.point.Y})
	return place
}

// first returns the piece from which on a side passes a station in front of or behind the
// guard plane: along the outline come the top of the tang, its bottom, the edge, the back.
func (c curve) first(x float64, spine bool) int {
	switch {
	case x >= 0 && spine:
		return c.atPoint + 1
	case x < 0 && spine:
		return 0
	}
	return c.atEnd + 1
}

// steepest is the least run of a side over its length that a height is told by: where a
// side stands more upright, a station says nothing of its height.
const steepest = 0.02

// slope returns the rise of the curve over its run at a place.
func (c curve) slope(p geom.Place) float64 {
	t := c.pieces[p.Piece].Tangent(p.T)
	return t.Y / math.Copysign(math.Max(math.Abs(t.X), steepest), t.X)
}

// foot returns the place of the outline nearest to a point, the signed distance, positive
// outside, and the direction in which it grows.
func (c curve) foot(q geom.Point) (place geom.Place, distance float64, outward geom.Point) {
	place, distance = c.chain.Nearest(q)
	t := c.pieces[place.Piece].Tangent(place.T)
	outward = geom.Point{X: t.Y, Y: -t.X} // the chain runs counterclockwise
	if distance < 1e-9 {
		return place, 0, outward
	}
	f := c.at(place)
	away := geom.Point{X: (q.X - f.X) / distance, Y: (q.Y - f.Y) / distance}
	if away.X*outward.X+away.Y*outward.Y < 0 {
		return place, -distance, geom.Point{X: -away.X, Y: -away.Y}
	}
	return place, distance, away
}
