package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/mismatch"
)

// Turning is how the bar is turned between the two faces of an operation, and what either
// way would make of them.
type Turning struct {
	Flip           Flip
	Why            string
	AboutX, AboutY mismatch.Mismatch
	Lengthwise     bool // what counts is the mismatch along the blade, else that across it
}

// Counts returns what counts of the mismatch of a flip.
func (t Turning) Counts(flip Flip) mismatch.Budget {
	m := t.AboutY
	if flip == AboutX {
		m = t.AboutX
	}
	if t.Lengthwise {
		return m.Along
	}
	return m.Across
}

// Chosen returns all of the mismatch of the chosen flip.
func (t Turning) Chosen() mismatch.Mismatch {
	if t.Flip == AboutX {
		return t.AboutX
	}
	return t.AboutY
}

// TurningFor returns the turning for an operation: about the axis that the shop file
// names, or, where it says best, the one with the smaller likely mismatch of what the
// operation makes: of fullers and marks across the blade, of shoulders along it.
func TurningFor(operation Operation, b profile.Blade, shop Shop) Turning {
	e, f := shop.errorsOn(b.Bar).reckonedFor(b.Bar.XZero), featureOf(operation, b)
	t := Turning{AboutX: mismatch.AboutX(e, f), AboutY: mismatch.AboutY(e, f), Lengthwise: operation == Shoulders}
	said, along := shop.Flip.Fuller, "across the blade"
	if t.Lengthwise {
		said, along = shop.Flip.Shoulder, "along the blade"
	}
	if said != "best" {
		t.Flip, t.Why = Flip(said), "as the shop file says"
		return t
	}
	x, y := t.Counts(AboutX), t.Counts(AboutY)
	t.Flip = AboutY
	if x.Likely() < y.Likely() {
		t.Flip = AboutX
	}
	t.Why = fmt.Sprintf("predicted mismatch %s, likely and at worst: %.3f and %.3f mm turned about Y, %.3f and %.3f mm about X",
		along, y.Likely(), y.Worst(), x.Likely(), x.Worst())
	return t
}

// errorsOn returns the errors of the shop with a bar: how far its edges are from parallel, where
// its widths tell of more than the shop reckons with.
func (s Shop) errorsOn(bar profile.Bar) ErrorSources {
	e := s.Errors
	if slope, known := bar.EdgesApart(); known {
		e.EdgesNotParallel = max(e.EdgesNotParallel, geom.Angle(math.Atan(slope)))
	}
	return e
}

// parallelCheck looks at whether the long edges of a bar are as nearly parallel as the shop
// reckons with.
func (s Shop) parallelCheck(bar profile.Bar) []Check {
	slope, known := bar.EdgesApart()
	if !known {
		return nil
	}
	return []Check{most("edges of the bar out of parallel, by the widths measured", math.Atan(slope)*180/math.Pi, s.Errors.EdgesNotParallel.Degrees(), "degrees").mild().
		from("edges_not_parallel in the shop file").orElse("the edges run apart by %.3f mm over the bar, and the predicted mismatch of the faces has that in it: grind them parallel, or turn the bar so that the same edge lies at the fixed jaw", slope*bar.Length())}
}

// reckonedFor returns the errors with what is touched for X. Holes drilled with a dowel's
// own stand as true to it as the mill.
func (e ErrorSources) reckonedFor(x profile.XReference) mismatch.Errors {
	out := e.reckoned()
	if !x.Touched() {
		return out
	}
	out.XTouched = true
	switch x.Kind {
	case profile.DowelZero:
		out.XTouch = e.TouchDowel
	case profile.LineZero:
		out.XTouch = e.TouchLine
	case profile.FlatZero:
		out.XTouch = e.TouchFlat
	}
	return out
}

// reckoned returns the errors as the prediction takes them.
func (e ErrorSources) reckoned() mismatch.Errors {
	return mismatch.Errors{BarWidth: e.BarWidth, BarLength: e.BarLength, BarThickness: e.BarThickness, YZero: e.YZero, Stop: e.Stop,
		Seating: e.Seating, Readout: e.Readout, JawSweep: e.JawSweep.Radians(), EdgesNotParallel: e.EdgesNotParallel.Radians(), SideShift: e.SideShift}
}

// featureOf returns what an operation mills on both faces. The finishing passes of
// fullers run so that their side-shifts fall to the same side of the blade whichever way
// it is turned (Setup.finishDirection).
func featureOf(operation Operation, b profile.Blade) mismatch.Feature {
	from, to := extentOf(operation, b)
	f := mismatch.Feature{Length: to - from}
	if operation == Shoulders {
		f.Length = b.Knife.RicassoWidth()
	}
	if operation == Fullers {
		f.FloorSlope = steepestFloor(b)
	}
	reach := func(x float64) float64 { return math.Max(math.Abs(from-x), math.Abs(to-x)) }
	f.FromMiddle = reach((b.Bar.Butt + b.Bar.Front) / 2)
	f.FromTouch = reach(0) // the zero at the jaw is touched at the guard plane
	f.FromWidth = f.FromTouch
	if _, known := b.Bar.EdgesApart(); known {
		f.FromWidth = (to - from) / 2
	}
	f.Wedge = unpackedWedge(b.Bar, from, to)
	return f
}

// extentOf returns x in the blade frame between which an operation mills both faces. Of holes,
// marks and the outline the ricasso stands for what must lie alike on both.
func extentOf(operation Operation, b profile.Blade) (from, to float64) {
	switch {
	case operation == Fullers && len(b.Fullers) > 0:
		from, to = math.Inf(1), math.Inf(-1)
		for _, one := range b.Fullers {
			from, to = math.Min(from, one.StartVisible), math.Max(to, one.EndVisible)
		}
		return from, to
	case operation == Shoulders:
		return b.Knife.Shoulder.FileStock, b.Knife.Shoulder.FileStock
	}
	return 0, b.Knife.RicassoWidth()
}

// steepestFloor returns the greatest slope of a fuller's floor along the blade, as a ratio.
func steepestFloor(b profile.Blade) float64 {
	slope := 0.0
	for _, one := range b.Fullers {
		axis := one.Milled.Axis
		for i := 1; i < len(axis); i++ {
			slope = math.Max(slope, math.Abs((axis[i].H-axis[i-1].H)/(axis[i].S-axis[i-1].S)))
		}
	}
	return slope
}
