package mismatch

import "math"

// Shoulder is what the sweep of the fixed jaw does to the shoulders of a tang, mm.
type Shoulder struct {
	// Skew is by how much all that is cut in one setup runs out of square across the
	// width. It lies in one plane all the same, and a guard closes on it, askew.
	Skew float64
	// Gap is by how much the shoulders of two setups may disagree: a guard cannot close
	// on them.
	Gap float64
}

// ShoulderOf returns what a sweep, radians, does to shoulders as wide as the blade: skew
// of sweep · width, and twice that between two setups, whichever way the bar was turned.
func ShoulderOf(sweep, width float64) Shoulder {
	skew := math.Abs(sweep) * width
	return Shoulder{Skew: skew, Gap: 2 * skew}
}

// SweepReading is the greatest movement of an indicator along the jaw, mm.
type SweepReading struct{ ForSkew, ForGap float64 }

// SweepFor returns the readings over a length of jaw that keep skew and gap of shoulders
// as wide as the blade within an allowance each. Width must be positive.
func SweepFor(allowance, width, over float64) SweepReading {
	reading := allowance / width * over
	return SweepReading{ForSkew: reading, ForGap: reading / 2}
}
