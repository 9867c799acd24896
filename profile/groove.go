package profile

import (
	"math"
	"sort"

	"fullerwright/profile/geom"
)

// Groove is what a ball leaves whose centre follows an axis: a canal surface, in the
// face frame. The axis lies over a centreline in plan, a chain of straight pieces;
// over it, it is a chain of straight pieces too, with an arc at either end that lifts
// the ball out of the face (the run-out). The zero value is invalid.
type Groove struct {
	Radius float64 // of the ball, mm

	// Plan holds the vertices of the centreline; beyond its ends the groove goes
	// straight on.
	Plan []geom.Point
	// Axis holds the vertices of the straight part of the axis: S along Plan from its
	// first vertex, H over the centre-plane.
	Axis []AxisPoint
	// StartArc and EndArc are the arcs that follow on at either end, in the upright
	// plane of the centreline there. An arc of radius 0 leaves the ball's own shape.
	StartArc, EndArc AxisArc

	lengths []float64 // along a curved centreline to its vertices
	bends   []bend    // of a curved one, ascending in x
	longest float64   // of the bends along x
}

// AxisPoint is a vertex of a groove's axis, mm.
type AxisPoint struct{ S, H float64 }

// AxisArc is a quarter or less of a circle that the centre of the ball follows at a
// run-out, smoothly on from the straight axis. S and H give its centre, Lean the sine
// of the angle from straight down at which it begins, positive outward.
type AxisArc struct{ S, H, Radius, Lean float64 }

// floor returns the height of the lowest line of a groove at s, mm: of the surface
// itself, right over the axis.
func (g *Groove) floor(s float64) float64 { return g.under(s, g.Radius) }

// under returns the lower envelope at s of circles of radius w whose centres follow
// the axis; beyond the reach of both run-outs it is +Inf.
//
// For a piece of slope m = dH/dS the circle that touches stands w·m/sqrt(1+m²) before
// s. Along a run-out the circles of radius w about an arc of radius a envelop the
// arc of radius a + w about the same centre.
func (g *Groove) under(s, w float64) float64 { return under(g.Axis, g.StartArc, g.EndArc, s, w) }

func under(axis []AxisPoint, start, end AxisArc, s, w float64) float64 {
	// The piece beside the place comes first: most others are then seen to lie higher.
	beside := min(pieceAt(axis, s), len(axis)-1)
	low := underLine(axis[beside-1], axis[beside], s, w)
	for i := pieceAt(axis, s-w); i < len(axis) && axis[i-1].S <= s+w; i++ {
		a, b := &axis[i-1], &axis[i]
		beyond, over := max(a.S-s, s-b.S, 0), min(a.H, b.H)-low
		if left := float64(w*w) - float64(beyond*beyond); i != beside && !(over > 0 && over*over >= left) {
			low = min(low, underLine(*a, *b, s, w))
		}
	}
	low = min(low, underArc(start, -1, s, w))
	return min(low, underArc(end, 1, s, w))
}

// pieceAt returns the index of the end of the first piece of an axis that does not end
// before s.
func pieceAt(axis []AxisPoint, s float64) int {
	least, most := 1, len(axis)
	for least < most {
		if middle := (least + most) / 2; axis[middle].S < s {
			least = middle + 1
		} else {
			most = middle
		}
	}
	return least
}

func underLine(a, b AxisPoint, s, w float64) float64 {
	m := (b.H - a.H) / (b.S - a.S)
	at := min(max(s-w*m/math.Sqrt(1+float64(m*m)), a.S), b.S)
	reach := float64(w*w) - square(s-at)
	if reach < 0 {
		return math.Inf(1)
	}
	return a.H + m*(at-a.S) - math.Sqrt(reach)
}

// underArc is the envelope along a run-out toward the given side, where the circle
// that touches stands on the arc.
func underArc(arc AxisArc, side, s, w float64) float64 {
	beyond := side * (s - arc.S)
	if beyond < arc.Lean*(arc.Radius+w) || beyond > arc.Radius+w {
		return math.Inf(1)
	}
	return arc.H - rootOf(square(arc.Radius+w)-square(beyond))
}

// Height returns the height of the groove's surface over the centre-plane at a place
// of the face, mm; +Inf where the groove does not reach at any height. It is exact.
func (g Groove) Height(x, y float64) float64 {
	c := g.cutAt(x)
	return c.envelope(y)
}

// same reports whether two grooves are one: share their axis and have one radius.
func (g *Groove) same(other *Groove) bool {
	return &g.Axis[0] == &other.Axis[0] && &g.Plan[0] == &other.Plan[0] && g.Radius == other.Radius
}

// Place returns the point of the centreline at s, and the direction there.
func (g Groove) Place(s float64) (at, direction geom.Point) {
	before := 0.0
	for i := 1; ; i++ {
		a, b := g.Plan[i-1], g.Plan[i]
		span := math.Hypot(b.X-a.X, b.Y-a.Y)
		if s <= before+span || i == len(g.Plan)-1 {
			u := geom.Point{X: (b.X - a.X) / span, Y: (b.Y - a.Y) / span}
			return geom.Point{X: a.X + (s-before)*u.X, Y: a.Y + (s-before)*u.Y}, u
		}
		before += span
	}
}

// AtX returns the distance along the centreline of the place with the given x. The
// centreline must advance in x throughout.
func (g Groove) AtX(x float64) float64 {
	i := g.pieceAtX(x)
	a, b := g.Plan[i-1], g.Plan[i]
	return g.lengthTo(i-1) + (x-a.X)*distance(a, b)/(b.X-a.X)
}

// lengthTo returns how far along the centreline one of its vertices lies.
func (g *Groove) lengthTo(vertex int) float64 {
	if len(g.lengths) > 0 {
		return g.lengths[vertex]
	}
	length := 0.0
	for i := range vertex {
		length += distance(g.Plan[i], g.Plan[i+1])
	}
	return length
}

func distance(a, b geom.Point) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// pieceAtX returns the index of the end of the piece of the centreline at x; before it and
// beyond it, of the first and the last.
func (g *Groove) pieceAtX(x float64) int {
	if len(g.Plan) == 2 {
		return 1
	}
	return 1 + sort.Search(len(g.Plan)-2, func(i int) bool { return x <= g.Plan[i+1].X })
}

// PlaceAt returns the point of the centreline with the given x, and the direction there.
func (g Groove) PlaceAt(x float64) (at, direction geom.Point) {
	i := g.pieceAtX(x)
	a, b := g.Plan[i-1], g.Plan[i]
	slope := (b.Y - a.Y) / (b.X - a.X)
	level := 1 / math.Sqrt(1+float64(slope*slope))
	return geom.Point{X: x, Y: a.Y + (x-a.X)*slope}, geom.Point{X: level, Y: slope * level}
}

// HalfWidth returns half the width of the groove at s under a face at height face,
// mm, measured square to the centreline; 0 where its floor does not reach the face. At
// the lip the axis, seen from the side, is as far from the face as half the width leaves
// of the radius. A groove deeper than its radius has upright walls above the axis.
func (g Groove) HalfWidth(s, face float64) float64 { return g.beneath(s, face).halfWidth() }

// WithRadius returns the groove about the same axis with another radius: what is left
// before sanding takes the difference.
func (g Groove) WithRadius(radius float64) Groove {
	g.Radius = radius
	return g
}
