package search

import "math"

// Bracket is a stretch at whose ends a function differs in sign.
type Bracket struct{ A, B, FA, FB float64 }

// Root returns a root of f in a bracket within an error, by halving and, where the last
// three values allow it, inverse quadratic interpolation: the method of Chandrupatla
// (Advances in Engineering Software 28, 1997, from memory). A value that is infinite
// counts by its sign alone. With an error of 0 it goes to the last bits that float64
// keeps apart. It needs about eight values where f is smooth; halving to the last bit
// needs fifty-five.
func Root(f func(float64) float64, in Bracket, within float64) float64 {
	const most = 200
	// x1 is the latest place, the root lies between it and x2, x3 is the one before.
	x1, f1, x2, f2 := in.B, in.FB, in.A, in.FA
	x3, f3, t := x1, f1, 0.5
	for range most {
		x := x1 + t*(x2-x1)
		fx := f(x)
		if (fx < 0) == (f1 < 0) {
			x3, f3 = x1, f1
		} else {
			x3, f3, x2, f2 = x2, f2, x1, f1
		}
		x1, f1 = x, fx
		best, value := x1, f1
		if math.Abs(f2) < math.Abs(f1) {
			best, value = x2, f2
		}
		const roundings = 0x1p-52
		finest := (2*roundings*math.Abs(best) + within/2) / math.Abs(x2-x1)
		if finest > 0.5 || value == 0 {
			return best
		}
		t = min(max(interpolated(x1, x2, x3, f1, f2, f3), finest), 1-finest)
	}
	return x1
}

// interpolated returns the part of the way from x1 to x2 at which to look next: by
// inverse quadratic interpolation where that is sound, else half.
func interpolated(x1, x2, x3, f1, f2, f3 float64) float64 {
	xi, phi := (x1-x2)/(x3-x2), (f1-f2)/(f3-f2)
	if !(phi*phi < xi && (1-phi)*(1-phi) < 1-xi) {
		return 0.5
	}
	t := f1/(f2-f1)*f3/(f2-f3) + (x3-x1)/(x2-x1)*f1/(f3-f1)*f2/(f3-f2)
	if math.IsNaN(t) {
		return 0.5
	}
	return t
}
