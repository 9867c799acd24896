package cutting

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Level is one level of a groove that a ball cuts along its own track: sunk to Total
// under the face, Depth deeper than the level before, mm. On the first level the two are
// equal, and the cut is a slot in solid steel. Total and Depth must be positive, and
// Depth at most Total.
//
// Angles of a tooth are counted from the wall at which it enters, so that it stands in
// the direction of feed at a right angle. A tooth whose edge is in the steel up to the
// height z over the tip makes a chip of the area feed per tooth · sin(angle) · z; its
// thickness at the angle κ from the tip is feed per tooth · sin(angle) · sin κ. The feed
// per tooth is taken for small against the radius. Derived; TestLevelsByBruteForce and
// TestChipsHoldTheSteel check it.
type Level struct{ Radius, Depth, Total float64 }

// Area returns the cross-section of the steel that the level takes, mm².
func (l Level) Area() float64 {
	return SegmentArea(l.Radius, l.Total) - SegmentArea(l.Radius, l.Total-l.Depth)
}

// EffectiveDiameter returns the diameter at which the cutter meets the face: that of the
// whole depth, since every level reaches up to the lips.
func (l Level) EffectiveDiameter() float64 { return EffectiveDiameter(2*l.Radius, l.Total) }

// ThickestChip returns the greatest thickness of a chip. It is met straight ahead, at
// the height of the level's own depth, however deep the groove is already.
func (l Level) ThickestChip(perTooth float64) float64 {
	return TopChip(perTooth, 2*l.Radius, l.Depth)
}

// engagedHeight returns how far over the tip the edge of a tooth at an angle is in the
// steel: up to the groove of the level before, and at most to the face. With q the depth
// over the radius and a = sin²(angle), that groove is met at cos κ =
// (sqrt(q²(1 - a) + a²) - q)/a, and over the ball's middle at q + 1 - sin(angle) radii.
func (l Level) engagedHeight(angle float64) float64 {
	sin := math.Sin(angle)
	q, a := l.Depth/l.Radius, sin*sin
	if sin < q && l.Total > l.Radius {
		return math.Min(l.Total, l.Radius*(q+1-sin))
	}
	if a == 0 {
		return l.Total
	}
	cos := (math.Sqrt(q*q*(1-a)+a*a) - q) / a
	return math.Min(l.Total, l.Radius*(1-cos))
}

// leavingAngle returns the angle up to which a tooth is in the steel as far as the face.
func (l Level) leavingAngle() float64 {
	q, cos := l.Depth/l.Radius, 1-l.Total/l.Radius
	if cos < 0 {
		return math.Asin(math.Min(1, math.Max(0, q+cos)))
	}
	return math.Asin(math.Min(1, math.Sqrt((2*cos*q+q*q)/(1-cos*cos))))
}

// edge returns the length of cutting edge from the tip up to a height.
func (l Level) edge(height float64) float64 {
	return l.Radius*HalfAngle(l.Radius, height) + math.Max(0, height-l.Radius)
}

// gaussPoints make the mean chip right to nine digits.
const gaussPoints = 40

// MeanChip returns the mean thickness of the chips over all edge that is in the steel,
// through the whole turn of a tooth. On the first level it is 2/π of EdgeChip.
func (l Level) MeanChip(perTooth float64) float64 {
	leaving := l.leavingAngle()
	area := l.Total * (1 - math.Cos(leaving))
	edge := l.edge(l.Total) * leaving
	over := func(f func(angle float64) float64) float64 {
		return quad.Fixed(f, leaving, math.Pi/2, gaussPoints, quad.Legendre{}, 0)
	}
	area += over(func(angle float64) float64 { return math.Sin(angle) * l.engagedHeight(angle) })
	edge += over(func(angle float64) float64 { return l.edge(l.engagedHeight(angle)) })
	return perTooth * area / edge
}

// peakHeight returns the height up to which the tooth with the greatest chip is in the
// steel. In radii it is 2 - sqrt(2 - q), with q the depth over the radius, where the
// groove is that deep, and else the whole depth.
func (l Level) peakHeight() float64 {
	q := l.Depth / l.Radius
	if q >= 1 {
		return l.Depth
	}
	return math.Min(l.Total, l.Radius*(2-math.Sqrt(2-q)))
}

// PeakChipArea returns the greatest area of the chip of one tooth, mm². On the first
// level it is the feed per tooth times the depth; on the nth of equal shallow levels
// about sqrt(n) times that, since the groove's walls lean on the tooth as well.
func (l Level) PeakChipArea(perTooth float64) float64 {
	q, z := l.Depth/l.Radius, l.peakHeight()/l.Radius
	if q >= 1 {
		return perTooth * l.Depth
	}
	return perTooth * l.Radius * math.Sqrt(z*(2*q*(1-z)+q*q)/(2-z))
}

// PeakForce returns the greatest force on one tooth, N: the greatest chip at the specific
// force of its own mean thickness. Good to ForceUncertainty.
func (l Level) PeakForce(perTooth float64, steel Data) float64 {
	area := l.PeakChipArea(perTooth)
	return area * steel.SpecificForce(area/l.edge(l.peakHeight()))
}

// SideForce returns the greatest force across the feed, N, met by the tooth straight
// ahead: feed per tooth times the level's own depth, at the specific force of EdgeChip.
// Good to ForceUncertainty.
func (l Level) SideForce(perTooth float64, steel Data) float64 {
	return PeakForce(perTooth, l.Depth, steel.SpecificForce(EdgeChip(perTooth, l.Radius, l.Depth)))
}

// Power returns the power at the cutter, W, at a feed: the steel removed at the specific
// force of the mean chip.
func (l Level) Power(perTooth, feed float64, steel Data) Estimate {
	return l.powerAt(l.MeanChip(perTooth), feed, steel)
}

// powerAt is Power with a mean chip that is known.
func (l Level) powerAt(meanChip, feed float64, steel Data) Estimate {
	return forceEstimate(SlotPower(RemovalRate(l.Area(), feed), steel.SpecificForce(meanChip)))
}
