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
	inside, over := c.cutBy(g, at, direction)
	if over >= 0 {
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
		if !(side*(first.at-inside) > 0) {
			first.at = end
		}
		return rootNear(under, first, inside, end)
	}
	return lip(-1), lip(1), true
}

// clamped returns the place of the section that is nearest to y.
func (c *CrossSection) clamped(y float64) float64 { return min(max(y, c.Bottom), c.Top) }

// cutBy returns the place at which a groove is looked for under the ground face, and how far
// it is from lying under it there, negative where it does: on its centreline, whose place and
// direction are given, or anywhere beside it, where that lies off the blade or over the face
// of a bevel. It must lie under the face by more than a resolution: a floor level with the
// tang's face is no groove.
func (c *CrossSection) cutBy(g *grooveCut, at, direction geom.Point) (y, over float64) {
	height := g.height(at.Y)
	over = height - c.ground(at.Y) + resolution
	if over < 0 || c.Empty() {
		return at.Y, over
	}
	beside := c.besideCut(g, height, at, direction)
	if beside.from >= beside.to {
		return at.Y, over
	}
	y, over = c.lowestUnder(g, beside)
	return y, over + resolution
}

// besideCut returns the stretch of the section beside which a groove takes nothing, whose
// centreline has the given place, direction and height there. It is empty where it takes
// nothing at all: no face lies higher than the flat, under which a centreline along the blade
// has the lowest place of its groove, and any other one a length that can be told.
func (c *CrossSection) besideCut(g *grooveCut, height float64, at, direction geom.Point) span {
	var reach float64
	if direction.Y == 0 && len(g.groove.Plan) == 2 {
		if height >= c.Flat {
			return span{}
		}
		reach = g.groove.beneath(g.groove.AtX(c.X), c.Flat).halfWidth()
	} else {
		if g.groove.endsBefore(c.X, direction, c.Flat) {
			return span{}
		}
		reach = g.groove.reachUnder(c.Flat) / direction.X
	}
	return span{from: max(c.Bottom, at.Y-reach), to: min(c.Top, at.Y+reach)}
}

// lowestUnder returns a place in a stretch of the section at which a groove lies under the
// ground face by more than a resolution, and how far it lies over it there, negative; where
// there is none, the lowest place that was looked at. How far it lies over it is convex, since
// a wheel is larger than a ball: where it rises to both sides of a place, it is lowest there.
func (c *CrossSection) lowestUnder(g *grooveCut, within span) (lowest, least float64) {
	from, to := max(c.Bottom, within.from), min(c.Top, within.to)
	if from >= to {
		return from, math.Inf(1)
	}
	over := func(y float64) float64 { return g.height(y) - c.ground(y) }
	lowest, least = from, math.Inf(1)
	for _, y := range []float64{from, to, c.edgeLine(), c.backLine()} { // where the face changes
		y = min(max(y, from), to)
		if h := over(y); h < least {
			lowest, least = y, h
		}
	}
	if least < -resolution {
		return lowest, least
	}
	switch {
	case over(max(lowest-beside, from)) < least:
		return underBetween(over, from, lowest)
	case over(min(lowest+beside, to)) < least:
		return underBetween(over, lowest, to)
	}
	return lowest, least
}

// beside is how near to a place is looked at for which way a groove falls there, mm: a ball
// of a millimetre or more falls by less than a resolution over it.
const beside = 1e-5

// seen is a place with the value that a function has there.
type seen struct{ at, value float64 }

// underBetween returns a place between two at which a convex function lies under 0 by more
// than a resolution, and its value there: by the golden section, until a place is found or
// what was seen of the function leaves no room for one. Then it returns the lowest place seen.
func underBetween(f func(float64) float64, from, to float64) (y, value float64) {
	const golden = 0.6180339887498949
	look := func(y float64) seen { return seen{y, f(y)} }
	first, last := look(from), look(to)
	lowest := first
	if last.value < first.value {
		lowest = last
	}
	for last.at-first.at > near {
		across := golden * (last.at - first.at)
		a, b := look(last.at-across), look(first.at+across)
		if a.value < b.value {
			last, lowest = b, a
		} else {
			first, lowest = a, b
		}
		if lowest.value < -resolution || convexBound(first, lowest, last) >= -resolution {
			break
		}
	}
	return lowest.at, lowest.value
}

// convexBound returns what a convex function does not go under between the first and the
// last of three places in order, of which the middle one is the lowest: beyond two of its
// places it lies over the line through them.
func convexBound(first, middle, last seen) float64 {
	before, behind := middle.at-first.at, last.at-middle.at
	return min(middle.value-(first.value-middle.value)/before*behind, middle.value-(last.value-middle.value)/behind*before)
}
