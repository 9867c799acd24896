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

// rootNear returns a root of f between from, where f is negative, and to, within near. It
// looks first beside a guess, by a part of how far that lies from the one end.
func rootNear(f func(float64) float64, guess, from, to float64) float64 {
	const beside = 0.005
	a, fa := guess, f(guess)
	b, end := guess+beside*(guess-from), to
	if fa >= 0 {
		b, end = guess-beside*(guess-from), from
	}
	fb := f(b)
	if (fa < 0) == (fb < 0) {
		a, fa, b, fb = b, fb, end, f(end)
	}
	if (fa < 0) == (fb < 0) {
		return end
	}
	return search.Root(f, search.Bracket{A: a, B: b, FA: fa, FB: fb}, near)
}
