package cutting

import "math"

// A square end mill whose axis is tilted in the direction of feed cuts a groove that is
// half an ellipse: half axes a across and b = a·sin φ in depth, for a mill of radius a
// tilted by φ from upright. At its floor the ellipse has the radius a/sin φ. Derived.

// TiltFor returns the tilt, radians, at which a square end mill leaves a floor of the
// given radius, and whether there is one: the mill must not be larger than the groove.
func TiltFor(mill, groove float64) (tilt float64, ok bool) {
	if !(mill > 0 && mill <= groove) {
		return 0, false
	}
	return math.Asin(mill / groove), true
}

// TiltedWidth returns the width of the groove at a depth of at most a·sin φ:
// 2·a·sqrt(1 - (1 - d/(a·sin φ))²).
func TiltedWidth(mill, tilt, depth float64) float64 {
	along := math.Max(0, 1-depth/(mill*math.Sin(tilt)))
	return 2 * mill * math.Sqrt(1-along*along)
}

// TiltedOverArc returns how high the groove's lip stands over the arc of radius a/sin φ that
// its floor follows, mm upright at the edge of its width, where that is most:
//
//	d - (R - sqrt(R² - (w/2)²)),  R = a/sin φ
func TiltedOverArc(mill, tilt, depth float64) float64 {
	half, radius := TiltedWidth(mill, tilt, depth)/2, mill/math.Sin(tilt)
	return depth - (radius - math.Sqrt(radius*radius-half*half))
}
