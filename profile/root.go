package profile

import (
	"math"

	"fullerwright/profile/search"
)

// near is how closely a place on a section is found, mm.
const near = 1e-10

// bisect returns a root of f between a and b, where f(a) and f(b) differ in sign, to
// the last bits that float64 keeps apart; where they do not differ, b.
func bisect(f func(float64) float64, a, b float64) float64 {
	fa, fb := f(a), f(b)
	if (fa < 0) == (fb < 0) {
		return b
	}
	return search.Root(f, search.Bracket{A: a, B: b, FA: fa, FB: fb}, 0)
}

// bisectTo returns a root of f between a and b, in whichever order, within near. Where f
// does not change its sign it returns the end with the value nearer to 0.
func bisectTo(f func(float64) float64, a, b float64) float64 {
	fa, fb := f(a), f(b)
	if (fa < 0) == (fb < 0) {
		if math.Abs(fa) < math.Abs(fb) {
			return a
		}
		return b
	}
	return search.Root(f, search.Bracket{A: a, B: b, FA: fa, FB: fb}, near)
}

// guess is where a root of a function is thought to be, and how fast it rises there.
type guess struct{ at, rise float64 }

// rootNear returns a root of f between from, where f is negative, and to, within near. It
// looks first at a guess and then, where that is not the root already, twice as far toward
// the root as the rise there says.
func rootNear(f func(float64) float64, first guess, from, to float64) float64 {
	a, fa := first.at, f(first.at)
	step := -fa / first.rise
	if math.Abs(step) < near/2 && math.Abs(fa) < near {
		return a + step
	}
	end := to
	if fa >= 0 {
		end = from
	}
	b := a + 2*step
	if !((b-a)*(end-b) > 0) {
		b = end
	}
	fb := f(b)
	if (fa < 0) == (fb < 0) && b != end {
		a, fa, b, fb = b, fb, end, f(end)
	}
	if (fa < 0) == (fb < 0) {
		return end
	}
	return search.Root(f, search.Bracket{A: a, B: b, FA: fa, FB: fb}, near)
}
