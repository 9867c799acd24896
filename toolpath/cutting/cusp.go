package cutting

import "math"

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
