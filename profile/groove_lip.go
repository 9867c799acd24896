package profile

import (
	"math"

	"fullerwright/profile/geom"
)

// beneath is how a place, seen from the side, lies to the axis of a groove.
type beneath struct {
	radius    float64 // of the groove
	away      float64 // how far the place lies under the axis; 0 where it lies over it
	along, up float64 // how fast that grows along the centreline, and upward
}

// beneath returns how the place at s and height h, seen from the side, lies to the axis.
func (g *Groove) beneath(s, h float64) beneath {
	out := beneath{radius: g.Radius, away: math.Inf(1)}
	// Away from a place of the axis, or from the centre of an arc of it.
	consider := func(ds, dh, arc float64) {
		from := math.Sqrt(square(ds) + square(dh))
		if away := max(0, from-arc); away < out.away {
			out.away, out.along, out.up = away, ds/from, dh/from
		}
	}
	if g.StartArc.abreast(-1, s, h) {
		consider(s-g.StartArc.S, h-g.StartArc.H, g.StartArc.Radius)
	}
	if g.EndArc.abreast(1, s, h) {
		consider(s-g.EndArc.S, h-g.EndArc.H, g.EndArc.Radius)
	}
	for i := pieceAt(g.Axis, s-g.Radius); i < len(g.Axis) && g.Axis[i-1].S <= s+g.Radius; i++ {
		a, b := g.Axis[i-1], g.Axis[i]
		ds, dh := b.S-a.S, b.H-a.H
		t := (float64((s-a.S)*ds) + float64((h-a.H)*dh)) / (float64(ds*ds) + float64(dh*dh))
		if t >= 0 && t <= 1 && h >= a.H+t*dh {
			return beneath{radius: g.Radius}
		}
		t = min(max(t, 0), 1)
		consider(s-a.S-t*ds, h-a.H-t*dh, 0)
	}
	return out
}

// abreast reports whether a place lies under the arc of a run-out toward the given side,
// square to a place of it.
func (a AxisArc) abreast(side, s, h float64) bool {
	ds, dh := side*(s-a.S), a.H-h
	return dh > 0 && ds >= a.Lean*math.Sqrt(square(ds)+square(dh))
}

// halfWidth returns half the width of the groove there, measured square to the centreline.
func (b beneath) halfWidth() float64 {
	if b.away >= b.radius {
		return 0
	}
	return math.Sqrt((b.radius - b.away) * (b.radius + b.away))
}

// lip returns how far aside a face meets the wall of the groove, and how steeply the wall
// rises over the face there: where the axis is straight exactly, else nearly. A step of 1
// aside goes so far across the centreline and along it, and rises so far with the face.
//
// A place of the wall is as far from the axis as the radius, across and, seen from the
// side, under it.
func (b beneath) lip(across, along, rise float64) (aside, steep float64) {
	under := float64(along*b.along) + float64(rise*b.up) // how fast the face goes down from the axis
	away := square(across) + square(under)
	aside = (rootOf(square(b.away*under)+away*(b.radius-b.away)*(b.radius+b.away)) - b.away*under) / away
	here := b.away + under*aside
	return aside, (square(across)*aside + here*under) / (-b.up * here)
}

// endsBefore reports whether both run-outs have come up to a height before a groove gets to a
// distance from the guard plane, at which its centreline has the given direction: what lies
// there on it or beside it belongs to places that are not further along than its slope says.
func (g *Groove) endsBefore(x float64, direction geom.Point, h float64) bool {
	slope := math.Abs(direction.Y) / direction.X
	if len(g.Plan) > 2 { // an arc is steepest at one end of what reaches there
		for _, end := range []float64{x - g.Radius, x + g.Radius} {
			_, u := g.PlaceAt(end)
			slope = max(slope, math.Abs(u.Y)/u.X)
		}
	}
	s, aside := g.AtX(x), g.Radius*slope
	first, rises := g.StartArc.comesUp(-1, g.Radius, h)
	if rises && s+aside <= first {
		return true
	}
	last, rises := g.EndArc.comesUp(1, g.Radius, h)
	return rises && s-aside >= last
}

// comesUp returns where the run-out of a groove toward the given side comes up to a height,
// and whether it begins under that.
func (a AxisArc) comesUp(side, radius, h float64) (s float64, rises bool) {
	radius += a.Radius
	up := a.H - h
	return a.S + side*rootOf(square(radius)-square(max(0, up))), up < radius*math.Sqrt(1-square(a.Lean))
}

// reachUnder bounds how far beside its centreline a groove lies under a height, measured
// square to it: as far as where its axis comes lowest.
func (g *Groove) reachUnder(h float64) float64 {
	lowest := min(g.StartArc.H-g.StartArc.Radius, g.EndArc.H-g.EndArc.Radius)
	for _, p := range g.Axis {
		lowest = min(lowest, p.H)
	}
	return rootOf(square(g.Radius) - square(max(0, lowest-h)))
}
