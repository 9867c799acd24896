package profile

import (
	"math"

	"fullerwright/profile/geom"
)

// HollowCeiling returns the greatest height of a bevel, from the edge, that a wheel of
// the given radius can grind without leaving the blade thinner over the edge than at
// it: sqrt(R·(t-e) - ((t-e)/2)²), where the wheel's lowest place comes to the edge.
// Derived; t is the thickness at the bevel line, e that at the edge, mm.
func HollowCeiling(wheel, t, e float64) float64 {
	return rootOf(wheel*(t-e) - square((t-e)/2))
}

// Sharpened is the final edge: the little bevels that sharpening grinds.
type Sharpened struct {
	Height float64 // from the final edge up to where they meet the primary bevel, mm
	Width  float64 // of each, along its slope, mm
}

// Sharpening returns the final edge for a thickness and an angle of each side to the
// centre-plane, taking the primary bevel as upright over so short a way: heights of
// (e/2)/tan and widths of (e/2)/sin. Derived.
func Sharpening(thickness float64, angle geom.Angle) Sharpened {
	return Sharpened{thickness / 2 / math.Tan(angle.Radians()), thickness / 2 / math.Sin(angle.Radians())}
}

// GrindingStation is what the grinder must know at one distance from the guard plane.
// Lengths in mm, angles in radians.
type GrindingStation struct {
	X               float64
	Thickness       float64 // finished
	PerFace         float64 // to take off each face of the bar as bought, for taper and clean-up
	Height, Angle   float64 // of the bevel: from the edge up to its line, and to the centre-plane in this section
	LineY           float64 // of the bevel line
	OverBack        bool    // the bevel line lies over the back: the bevel reaches all the way up
	EdgeAngle       float64 // of the bevel to the centre-plane, square to the edge: what a protractor reads
	ConstantAngleAt float64 // height that the angle at the plunge line would give here
	ScribeFromFace  float64 // from each finished face to the nearer edge line
	ScribeOnBar     float64 // from each face of the bar, for the edge as it must be before hardening
	HollowCeiling   Optional
	HollowLeast     Optional // least thickness within a hollow bevel
}

// GrindingTable returns what the grinder must know at n stations, evenly from the
// plunge line to the last place where the bevel still has a line, n at least 2.
func (b Blade) GrindingTable(n int) []GrindingStation {
	k := b.Knife
	from, to := k.Ricasso.Length, k.Blade.Length
	if last := k.bellyStart().X; last > from {
		to = last
	}
	if k.Edge.BellyLength > 0 {
		to += k.Edge.BellyLength * 0.6
	}
	to = min(to, k.Blade.Length-1)
	out := make([]GrindingStation, n)
	for i := range out {
		out[i] = b.grindingAt(from + (to-from)*float64(i)/float64(n-1))
	}
	return out
}

// GrindingAt returns what the grinder must know at x.
func (b Blade) GrindingAt(x float64) GrindingStation { return b.grindingAt(x) }

func (b *Blade) grindingAt(x float64) GrindingStation {
	k, t := &b.Knife, b.ground.blade.value(x)
	edge := &b.ground.edge
	e := 2 * edge.rimHalf
	height := edge.heightAt(t)
	lowest, highest, there := b.ground.sides(x)
	if !there {
		lowest, highest = math.NaN(), math.NaN()
	}
	s := GrindingStation{X: x, Thickness: t, PerFace: b.Bar.Bought().Face(x) - t/2, Height: height, Angle: math.Atan2(t-e, 2*height),
		LineY: b.ground.rim(x, lowest) + height, ScribeFromFace: (t - e) / 2, ScribeOnBar: b.Bar.Face(x) - e/2 - k.Allowance.Finish - k.Allowance.Scale,
		ConstantAngleAt: (t - e) / 2 / math.Tan(k.BevelAngle())}
	s.OverBack = s.LineY > highest
	s.EdgeAngle = math.Atan(math.Tan(s.edgeSlope(edge.kind, edge.wheel, e)) * math.Hypot(1, b.edgeClimb(x)))
	if edge.kind == HollowBevel {
		s.HollowCeiling = Some(HollowCeiling(edge.wheel, t, e))
		if c := b.CrossSectionAt(x); x >= edge.foot+edge.plunge {
			least, _ := c.Least(c.Bottom, min(c.Top, c.edgeLine()))
			s.HollowLeast = Some(least)
		}
	}
	return s
}

// edgeSlope returns the angle of the bevel to the centre-plane at the very edge, in the
// section across the blade: of the chord, less or more by half the turn of the arc.
func (s *GrindingStation) edgeSlope(kind BevelKind, wheel, e float64) float64 {
	chord := math.Hypot(s.Height, (s.Thickness-e)/2)
	switch kind {
	case HollowBevel:
		return s.Angle - math.Asin(min(1, chord/2/wheel))
	case ConvexBevel:
		return 2 * s.Angle
	}
	return s.Angle
}

// edgeClimb returns the slope of the edge at x: how fast it rises toward the point.
func (b *Blade) edgeClimb(x float64) float64 {
	if x <= b.ground.heel.X || x >= b.Knife.Blade.Length {
		return 0
	}
	return b.Outline.LowestSlope(x)
}
