package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
)

// Mismatch returns the predicted sideways mismatch of the two faces for a flip, mm:
// the worst case and the root of the sum of squares.
func Mismatch(flip Flip, e ErrorSources, grooveLength float64) (worst, likely float64) {
	parts := []float64{math.Sqrt2 * e.Seating, math.Sqrt2 * e.Readout, 2 * e.JawSweep.Radians() * grooveLength}
	if flip == AboutX {
		parts = append(parts, e.BarWidth, 2*e.YZero, e.EdgesNotParallel.Radians()*grooveLength, 2*e.SideShift)
	}
	return added(parts)
}

// LengthwiseMismatch returns the predicted mismatch of two faces along the blade, as that
// of the planes of a shoulder of the given width: the worst case and the root of the sum
// of squares, mm.
func LengthwiseMismatch(flip Flip, e ErrorSources, width float64) (worst, likely float64) {
	parts := []float64{math.Sqrt2 * e.Seating, math.Sqrt2 * e.Readout, 2 * e.JawSweep.Radians() * width}
	if flip == AboutY {
		parts = append(parts, e.BarLength, 2*e.Stop)
	}
	return added(parts)
}

func added(parts []float64) (worst, likely float64) {
	for _, p := range parts {
		worst += math.Abs(p)
		likely += p * p
	}
	return worst, math.Sqrt(likely)
}

// FlipFor returns the flip between the two faces of an operation: the shop's, or, where
// it says best, the one with the smaller predicted mismatch of what the operation makes;
// and why.
func FlipFor(operation Operation, b profile.Blade, shop Shop) (Flip, string) {
	said, mismatch := shop.Flip.Fuller, Mismatch
	size, along := grooveLength(b), "sideways"
	if operation == Shoulders {
		said, mismatch, size, along = shop.Flip.Shoulder, LengthwiseMismatch, b.Knife.RicassoWidth(), "along the blade"
	}
	if said != "best" {
		return Flip(said), "as the shop file says"
	}
	_, y := mismatch(AboutY, shop.Errors, size)
	_, x := mismatch(AboutX, shop.Errors, size)
	why := fmt.Sprintf("predicted mismatch %s %.3f mm turned about Y, %.3f mm about X", along, y, x)
	if x < y {
		return AboutX, why
	}
	return AboutY, why
}

func grooveLength(b profile.Blade) float64 {
	longest := 0.0
	for _, f := range b.Fullers {
		longest = math.Max(longest, f.EndVisible-f.StartVisible)
	}
	return longest
}
