package profile

import (
	"math"

	"fullerwright/profile/geom"
)

// lips returns the two places at which a groove cuts the ground face of this section: those
// of the blade's sides where it runs over them. ok is false where it does not reach below
// the face.
func (c *CrossSection) lips(g *grooveCut) (lower, upper float64, ok bool) {
	at, direction := g.groove.PlaceAt(c.X)
	inside, ok := c.cutBy(g, at, direction)
	if !ok {
		return 0, 0, false
	}
	under := func(y float64) float64 { return g.height(y) - c.ground(y) }
	face := c.Flat // where the centreline has left the blade
	if c.clamped(at.Y) == at.Y {
		face = c.ground(at.Y)
	}
	deep := g.groove.beneath(g.groove.AtX(c.X), face)
	level := deep.halfWidth() / direction.X // to a lip, were the face level
	lip := func(side float64) float64 {
		y := at.Y + side*level
		beside := c.clamped(y)
		there := c.ground(beside)
		if inside == at.Y && there == face && beside == y && direction.Y == 0 && len(g.groove.Plan) == 2 {
			return y
		}
		rise := (there - face) / max(math.Abs(beside-at.Y), resolution)
		aside, steep := deep.lip(direction.X, side*direction.Y, rise)
		end := c.clamped(at.Y + side*(g.groove.Radius/direction.X+resolution))
		first := guess{c.clamped(at.Y + side*aside), side * steep}
		if side*(first.at-inside) <= 0 {
			first.at = end
		}
		return rootNear(under, first, inside, end)
	}
	return lip(-1), lip(1), true
}

// clamped returns the place of the section that is nearest to y.
func (c *CrossSection) clamped(y float64) float64 { return min(max(y, c.Bottom), c.Top) }

// cutBy returns a place at which a groove lies under the ground face, and whether there is
// one: on its centreline, whose place and direction are given, or anywhere where that has
// left the blade.
func (c *CrossSection) cutBy(g *grooveCut, at, direction geom.Point) (y float64, ok bool) {
	over := g.height(at.Y) - c.ground(at.Y)
	if !g.groove.leaves {
		return at.Y, over < 0
	}
	if over < -resolution { // a floor level with the tang's face is no groove
		return at.Y, true
	}
	reach := g.groove.reachUnder(c.Flat) / direction.X
	return c.lowestUnder(g, span{from: at.Y - reach, to: at.Y + reach})
}

// lowestUnder returns a place in a stretch of the section at which a groove lies under the
// ground face, by more than a resolution. How far it lies over it is convex, since a wheel is
// larger than a ball: where it rises to both sides of a place, it is lowest there.
func (c *CrossSection) lowestUnder(g *grooveCut, within span) (y float64, ok bool) {
	from, to := max(c.Bottom, within.from), min(c.Top, within.to)
	if from >= to {
		return 0, false
	}
	over := func(y float64) float64 { return g.height(y) - c.ground(y) }
	lowest, least := from, math.Inf(1)
	for _, y := range []float64{from, to, c.edgeLine(), c.backLine()} { // where the face changes
		y = min(max(y, from), to)
		if h := over(y); h < least {
			lowest, least = y, h
		}
	}
	if least < -resolution {
		return lowest, true
	}
	switch {
	case over(max(lowest-beside, from)) < least:
		to = lowest
	case over(min(lowest+beside, to)) < least:
		from = lowest
	default:
		return 0, false
	}
	return underBetween(over, from, to)
}

// beside is how near to a place is looked at for which way a groove falls there, mm: a ball
// of a millimetre or more falls by less than a resolution over it.
const beside = 1e-5

// underBetween returns a place between two at which a convex function lies under 0 by more
// than a resolution, and whether there is one: by the golden section, until a place is found
// or what was seen of the function leaves no room for one.
func underBetween(f func(float64) float64, from, to float64) (y float64, ok bool) {
	const golden = 0.6180339887498949
	before, after := f(from), f(to)
	for to-from > near {
		a, b := to-golden*(to-from), from+golden*(to-from)
		fa, fb := f(a), f(b)
		// Beyond two of its places the function lies over the line through them.
		lowest := min(fb-(after-fb)/(to-b)*(b-a), fb-(fa-fb)/(b-a)*(to-b))
		if fa < fb {
			lowest = min(fa-(before-fa)/(a-from)*(b-a), fa-(fb-fa)/(b-a)*(a-from))
		}
		switch {
		case fa < -resolution:
			return a, true
		case fb < -resolution:
			return b, true
		case lowest >= -resolution:
			return 0, false
		case fa < fb:
			to, after = b, fb
		default:
			from, before = a, fa
		}
	}
	return 0, false
}
