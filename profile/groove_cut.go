package profile

import "math"

// grooveCut is a groove cut square to the blade's length: what its heights along that
// cut have in common.
type grooveCut struct {
	groove *Groove
	x      float64
	ux, uy float64 // the direction of a straight centreline
	along  float64 // of the place with the y of Plan[0], along it
	across float64 // and square to it
	bends  []bend  // of a curved one, those within reach

	alone aloneKind // what of the axis of a straight one makes all of the cut
	base  float64   // of a straight piece: its height at the y of Plan[0]
	rise  float64   // how fast that grows with y
	steep float64   // and how many times deeper than the root of what is left a ball comes
	side  float64   // to which a run-out leads, 1 toward the point
}

// aloneKind says what of a groove's axis makes a cut by itself.
type aloneKind int

const (
	manyPieces aloneKind = iota // more than one piece, or it was not looked at
	straightPiece
	runOutArc
)

// cutAt returns the cut at x, at which nothing is known of what makes it.
func (g *Groove) cutAt(x float64) grooveCut {
	c := grooveCut{groove: g, x: x}
	if len(g.Plan) > 2 {
		c.bends = g.bendsNear(x)
		return c
	}
	a, b := g.Plan[0], g.Plan[1]
	dx, dy := b.X-a.X, b.Y-a.Y
	span := math.Sqrt(float64(dx*dx) + float64(dy*dy))
	c.ux, c.uy = dx/span, dy/span
	c.along, c.across = float64((x-a.X)*c.ux), float64((x-a.X)*c.uy)
	return c
}

// across returns the cut at x, ready for many heights.
func (g *Groove) across(x float64) grooveCut {
	c := g.cutAt(x)
	if len(g.Plan) == 2 {
		c.findAlone()
	}
	return c
}

// findAlone looks whether one piece of the axis, or the arc of a run-out, makes all of the
// cut. At s a ball whose half width there is w leaves the least, over the places t of the
// axis, of the axis's height less sqrt(w² - (s-t)²). That is convex in t over a straight
// piece and over an arc; over a piece it is least where t is w·sin before s, sin being the
// sine of the piece's slope. So a piece makes the cut alone where it holds that place for
// every w up to the radius, while on all before it the place lies beyond them and on all
// behind it short of them. The arcs go on smoothly from the axis and ask nothing more.
func (c *grooveCut) findAlone() {
	g := c.groove
	middle, aside := c.along+c.across*c.uy/c.ux, g.Radius*math.Abs(c.uy)/c.ux
	least, most := middle-aside, middle+aside // all of s within reach
	i := pieceAt(g.Axis, middle)
	switch {
	case middle < g.Axis[0].S:
		if g.risesFrom(0, most) {
			c.alone, c.side = runOutArc, -1
		}
	case i == len(g.Axis):
		if g.fallsTo(i, least) {
			c.alone, c.side = runOutArc, 1
		}
	case g.holds(i, least, most) && g.fallsTo(i, least) && g.risesFrom(i, most):
		a := g.Axis[i-1]
		slope := g.slopeOf(i)
		c.alone, c.base = straightPiece, a.H+slope*(c.along-a.S)
		c.rise, c.steep = slope*c.uy, math.Sqrt(1+float64(slope*slope))
	}
}

// slopeOf returns the slope of the piece of the axis that ends at a vertex.
func (g *Groove) slopeOf(i int) float64 {
	a, b := &g.Axis[i-1], &g.Axis[i]
	return (b.H - a.H) / (b.S - a.S)
}

// touches returns how far before and behind s the places lie at which balls touch the floor
// over a piece at s, for all half widths up to the radius.
func (g *Groove) touches(i int) (before, behind float64) {
	slope := g.slopeOf(i)
	furthest := g.Radius * slope / math.Sqrt(1+float64(slope*slope))
	return max(0, furthest), max(0, -furthest)
}

// holds reports whether the balls that touch anywhere between two places stand on a piece.
func (g *Groove) holds(i int, least, most float64) bool {
	before, behind := g.touches(i)
	return least-before >= g.Axis[i-1].S && most+behind <= g.Axis[i].S
}

// fallsTo reports whether, for places from least on, every piece before one is the lower
// the nearer it is to that.
func (g *Groove) fallsTo(i int, least float64) bool {
	for j := i - 1; j > 0 && g.Axis[j].S >= least-g.Radius; j-- {
		if before, _ := g.touches(j); least-before < g.Axis[j].S {
			return false
		}
	}
	return true
}

// risesFrom reports the same of the pieces behind one, for places up to most.
func (g *Groove) risesFrom(i int, most float64) bool {
	for j := i + 1; j < len(g.Axis) && g.Axis[j-1].S <= most+g.Radius; j++ {
		if _, behind := g.touches(j); most+behind > g.Axis[j-1].S {
			return false
		}
	}
	return true
}

// height returns the height of the groove's surface at y.
func (c *grooveCut) height(y float64) float64 {
	if c.alone == manyPieces {
		return c.envelope(y)
	}
	aside := y - c.groove.Plan[0].Y
	across := c.across - float64(aside*c.ux)
	reach := square(c.groove.Radius) - square(across)
	if reach <= 0 {
		return math.Inf(1)
	}
	w := math.Sqrt(reach)
	if c.alone == straightPiece {
		return c.base + float64(c.rise*aside) - float64(c.steep*w)
	}
	arc := &c.groove.StartArc
	if c.side > 0 {
		arc = &c.groove.EndArc
	}
	beyond, arm := c.side*(c.along+float64(aside*c.uy)-arc.S), arc.Radius+w
	if beyond > arm {
		return math.Inf(1)
	}
	return arc.H - math.Sqrt((arm-beyond)*(arm+beyond))
}

// envelope returns the same as the lower envelope of the balls along all of the axis.
func (c *grooveCut) envelope(y float64) float64 {
	g := c.groove
	if len(g.Plan) > 2 {
		return bendHeight(c.bends, g.Radius, c.x, y)
	}
	aside := y - g.Plan[0].Y
	along := c.along + float64(aside*c.uy)
	across := c.across - float64(aside*c.ux)
	reach := float64(g.Radius*g.Radius) - float64(across*across)
	if reach <= 0 {
		return math.Inf(1)
	}
	return under(g.Axis, g.StartArc, g.EndArc, along, math.Sqrt(reach))
}
