// Package cutting holds the formulas of milling with ball-ended cutters and the
// cutting data of blade steels.
//
// Lengths are millimetres, feeds millimetres a minute, spindle speeds revolutions a
// minute, surface speeds metres a minute, forces newtons, powers watts, angles radians.
package cutting

import "math"

// EffectiveDiameter returns the diameter at which a ball-ended cutter meets the face
// of the work when it is sunk by depth:
//
//	2·sqrt(depth·(diameter - depth)) for depth up to half the diameter,
//	the diameter beyond.
//
// It is the width of the groove as well. Source: cutting-data page of a solid end-mill
// catalogue (Sandvik Coromant Plura, D155), read there; beyond half the diameter the
// formula does not hold and the diameter itself is right.
func EffectiveDiameter(diameter, depth float64) float64 {
	switch {
	case depth <= 0:
		return 0
	case depth >= diameter/2:
		return diameter
	}
	return 2 * math.Sqrt(depth*(diameter-depth))
}

// InclinedDiameter returns the diameter at which a ball-ended cutter meets a surface that
// leans by inclination from square to the cutter's axis, where it takes off depth square
// to that surface: D·sin(inclination + ψ) with ψ = acos(1 - 2·depth/D), and D where that
// is a right angle or more. On the wall of a groove of radius R the surface leans by
// asin(y/R) at y beside the centreline. Derived; the same form stands in makers' guides
// (from memory).
func InclinedDiameter(diameter, depth, inclination float64) float64 {
	if depth <= 0 {
		return 0
	}
	return diameter * math.Sin(math.Min(math.Pi/2, math.Abs(inclination)+capAngle(diameter, depth)))
}

// TipCuts reports whether the tip of a ball-ended cutter, where it has no speed, is in
// the steel on a surface that leans so: where the inclination is at most ψ of
// InclinedDiameter.
func TipCuts(diameter, depth, inclination float64) bool {
	return depth > 0 && math.Abs(inclination) <= capAngle(diameter, depth)
}

// capAngle is half the angle of the cap that a depth cuts off a ball.
func capAngle(diameter, depth float64) float64 {
	return math.Acos(math.Max(-1, 1-2*depth/diameter))
}

// SegmentArea returns the area of the cross-section of a groove of the given radius
// and depth: R²·(θ - sinθ·cosθ) with θ = acos(1 - depth/R), and upright walls above a
// depth of R. Derived; agrees with Machinery's Handbook, 31st ed., p. 50.
func SegmentArea(radius, depth float64) float64 {
	if depth <= 0 {
		return 0
	}
	if depth > radius {
		return math.Pi*radius*radius/2 + 2*radius*(depth-radius)
	}
	theta := HalfAngle(radius, depth)
	return radius * radius * (theta - math.Sin(theta)*math.Cos(theta))
}

// HalfAngle returns half the angle that a groove of the given radius and depth spans
// about its axis: acos(1 - depth/R), and a right angle where it is deeper than its
// radius. The arc of the groove is twice the radius times that.
func HalfAngle(radius, depth float64) float64 {
	return math.Acos(math.Min(1, math.Max(0, 1-depth/radius)))
}

// GrooveDepth returns the depth of a groove by its width at the face, of at most twice
// the radius: R - sqrt(R² - w²/4). So a caliper across the lips shows the depth: the width
// changes 4·(R - d)/w times as much as the depth does.
func GrooveDepth(radius, width float64) float64 {
	half := math.Min(width/2, radius)
	return radius - math.Sqrt(radius*radius-half*half)
}

// GrooveRadius returns the radius of a groove by its width at the face and its depth, of
// at most the radius: (w² + 4·d²)/(8·d). So a test groove gives the true radius of a
// cutter.
func GrooveRadius(width, depth float64) float64 {
	return (width*width + 4*depth*depth) / (8 * depth)
}
