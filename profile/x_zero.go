package profile

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
)

// XZeroKind is what is touched for X.
type XZeroKind string

// What may be touched for X: the butt at the stop, or, where that is rough, something
// that is found again on either face.
const (
	ButtZero  XZeroKind = "butt"
	DowelZero XZeroKind = "dowel"       // a dowel in a hole of the knife file
	LineZero  XZeroKind = "sawn line"   // across the bar, in the waste
	FlatZero  XZeroKind = "milled flat" // square to the bar's length, in the waste
)

// XReference is what is touched for X and where it stands, x in the blade frame. The zero
// value is the butt at the stop.
type XReference struct {
	Kind XZeroKind
	X    float64
}

// Touched reports whether it is another thing than the bar's end at the stop.
func (r XReference) Touched() bool { return r.Kind != "" && r.Kind != ButtZero }

// xReference returns what is touched for X of a bar whose butt stands at the given x.
func (k Knife) xReference(butt float64) XReference {
	r := XReference{Kind: k.Bar.XZero, X: butt + k.Bar.XZeroFromButt.Or(0)}
	if hole, found := k.dowelNear(r.X); found && r.Kind == DowelZero {
		r.X = hole.At
	}
	return r
}

// dowelNear returns the hole whose middle stands at x, as far as dimensions agree.
func (k Knife) dowelNear(x float64) (hole Hole, found bool) {
	nearest := agreement + k.Allowance.Growth*math.Abs(x)
	for _, h := range k.Holes {
		if off := math.Abs(h.At - x); off <= nearest {
			hole, nearest, found = h, off, true
		}
	}
	return hole, found
}

// validateXZero checks that what is touched for X is there, and on no part of the knife.
func (k Knife) validateXZero() (faults document.FieldErrors) {
	if !(XReference{Kind: k.Bar.XZero}).Touched() {
		if k.Bar.XZeroFromButt.Known {
			faults = append(faults, k.fault("bar", 0, "x_zero_from_butt", "the butt itself is what is touched", fmt.Sprintf("delete it, or set x_zero to %q, %q or %q", DowelZero, LineZero, FlatZero)))
		}
		return faults
	}
	if !k.Bar.XZeroFromButt.Known {
		return append(faults, k.fault("bar", 0, "x_zero_from_butt", fmt.Sprintf("is needed: a %s stands somewhere", k.Bar.XZero), "measure it from the butt"))
	}
	butt := BarOf(k, Measured{}).Butt
	x := butt + k.Bar.XZeroFromButt.Value
	switch hole, found := k.dowelNear(x); {
	case k.Bar.XZero == DowelZero && !found:
		faults = append(faults, k.fault("bar", 0, "x_zero_from_butt", fmt.Sprintf("no hole has its middle there, at = %s", k.say(x)), "give the knife a [[hole]] there, or the distance of one that it has"))
	case k.Bar.XZero == DowelZero && hole.Depth > 0:
		faults = append(faults, k.fault("bar", 0, "x_zero_from_butt", "the hole there is blind, and its dowel cannot be touched with the other face up", "let it go right through, with depth = 0, or name another hole"))
	case k.Bar.XZero != DowelZero && x > -k.Tang.Length && x < k.Blade.Length:
		faults = append(faults, k.fault("bar", 0, "x_zero_from_butt", fmt.Sprintf("a %s there would mar the knife, which begins %s from the butt", k.Bar.XZero, k.say(-k.Tang.Length-butt)), "put it into the waste of either end"))
	}
	return faults
}
