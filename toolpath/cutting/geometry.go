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
	theta := math.Acos(1 - depth/radius)
	return radius * radius * (theta - math.Sin(theta)*math.Cos(theta))
}

// FlatCusp returns the height of the ridge between passes of a ball of the given
// radius on a flat, step apart: r - sqrt(r² - step²/4). Derived.
func FlatCusp(radius, step float64) float64 {
	if step >= 2*radius {
		return radius
	}
	return radius - math.Sqrt(radius*radius-step*step/4)
}

// Stepover returns the step between passes on a flat that leaves ridges of the given
// height: 2·sqrt(2·r·cusp - cusp²). Derived.
func Stepover(radius, cusp float64) float64 {
	if cusp >= radius {
		return 2 * radius
	}
	return 2 * math.Sqrt(2*radius*cusp-cusp*cusp)
}

// ConcaveCusp returns the height, square to the wall, of the ridge between two passes
// of a ball of radius r along the inside of a cylinder of radius R, pitch apart about
// its axis:
//
//	R - [Rc·cos(pitch/2) + sqrt(r² - Rc²·sin²(pitch/2))], Rc = R - r.
//
// Derived, and checked against brute force. It is 0 for r = R; r must not exceed R.
func ConcaveCusp(groove, cutter, pitch float64) float64 {
	centre := groove - cutter
	sin, cos := math.Sincos(pitch / 2)
	return groove - (centre*cos + math.Sqrt(math.Max(0, cutter*cutter-centre*centre*sin*sin)))
}

// ConcavePitch returns the pitch about the axis at which passes leave ridges of the
// given height: the inverse of ConcaveCusp,
//
//	2·acos((Rc² + (R - cusp)² - r²) / (2·Rc·(R - cusp))),
//
// and π where one pass does.
func ConcavePitch(groove, cutter, cusp float64) float64 {
	centre := groove - cutter
	if centre <= 1e-9 {
		return math.Pi
	}
	at := groove - cusp
	cos := (centre*centre + at*at - cutter*cutter) / (2 * centre * at)
	if cos <= 0 {
		return math.Pi
	}
	return 2 * math.Acos(math.Min(1, cos))
}

// LaneCount returns the number of passes, evenly spaced from lip to lip over twice the
// half angle, that leave ridges no higher than cusp: 1 + ceil(2·half / pitch).
func LaneCount(groove, cutter, half, cusp float64) int {
	if groove-cutter <= 1e-9 {
		return 1
	}
	return 1 + int(math.Ceil(2*half/ConcavePitch(groove, cutter, cusp)-1e-9))
}
