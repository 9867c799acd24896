// Package strength tells what a tang and its shoulder bear: the stress that an inside
// corner concentrates, the stress at the guard for a push on the handle, how far a
// corner holds a guard off, and what slot a tang needs.
//
// Lengths are millimetres, forces newtons, stresses N/mm².
package strength

import (
	"fmt"
	"math"
)

// Step is a flat bar that steps from a wide part to a narrow one, alike on both sides,
// with a round inside corner.
type Step struct{ Wide, Narrow, Radius float64 }

// Load is a way of loading a stepped bar.
type Load uint8

// The ways of loading.
const (
	Tension Load = iota
	Bending      // in the plane of the bar's face
)

// RangeError says that a step lies outside what the formula was made for.
type RangeError struct {
	Step        Step
	Ratio       float64 // of the step's height to the radius
	Least, Most float64
}

// Error says the range and what radius lies in it.
func (e *RangeError) Error() string {
	height := (e.Step.Wide - e.Step.Narrow) / 2
	switch {
	case e.Step.Narrow <= 0:
		return fmt.Sprintf("a narrow part %.3f mm wide bears nothing: give it a width", e.Step.Narrow)
	case e.Step.Radius <= 0:
		return fmt.Sprintf("a sharp inside corner has no bound on its stress: a radius of %.3f mm or more would do", height/e.Most)
	}
	return fmt.Sprintf("the step is %.3g times as high as its corner's radius of %.3f mm; the formula holds from %g to %g: a radius between %.3f and %.3f mm would do",
		e.Ratio, e.Step.Radius, e.Least, e.Most, height/e.Most, height/e.Least)
}

// coefficients holds the three factors of 1, sqrt(h/r) and h/r in each of C1 to C4.
type coefficients [4][3]float64

// MostRatio is the greatest ratio of a step's height to its radius that Concentration
// covers.
const MostRatio = 20

// The least such ratio, and where the two sets of coefficients meet.
const (
	leastRatio = 0.1
	setsMeet   = 2
)

func coefficientsFor(load Load, ratio float64) coefficients {
	shallow := ratio <= setsMeet
	switch {
	case load == Tension && shallow:
		return coefficients{{1.007, 1.000, -.031}, {-.114, -.585, .314}, {.241, -.992, -.271}, {-.134, .577, -.012}}
	case load == Tension:
		return coefficients{{1.042, .982, -.036}, {-.074, -.156, -.010}, {-3.418, 1.220, -.005}, {3.450, -2.046, .051}}
	case shallow:
		return coefficients{{1.007, 1.000, -.031}, {-.270, -2.404, .749}, {.677, 1.133, -.904}, {-.414, .271, .186}}
	}
	return coefficients{{1.042, .982, -.036}, {-3.599, 1.619, -.431}, {6.084, -5.607, 1.158}, {-2.527, 3.006, -.691}}
}

// Concentration returns how many times the stress at the inside corner is that of the
// narrow part by the plain formula: Kt = C1 + C2·u + C3·u² + C4·u³ with u = 2h/D.
//
// Source: Young, Roark's Formulas for Stress and Strain, table 17.1, stepped flat bar
// (read), for 0.1 <= h/r <= 20; a RangeError outside. The wide part must be longer than
// 3·D/(r/d)^¼ in tension, 0.8·D/(r/d)^¼ in bending. A sharp corner has no value at all.
func Concentration(load Load, s Step) (float64, error) {
	height := (s.Wide - s.Narrow) / 2
	ratio := height / s.Radius
	if s.Narrow <= 0 {
		return 0, &RangeError{s, ratio, leastRatio, MostRatio}
	}
	if height <= 0 {
		return 1, nil
	}
	if !(s.Radius > 0 && ratio >= leastRatio && ratio <= MostRatio) {
		return 0, &RangeError{s, ratio, leastRatio, MostRatio}
	}
	u, root, power, sum := 2*height/s.Wide, math.Sqrt(ratio), 1.0, 0.0
	for _, c := range coefficientsFor(load, ratio) {
		sum += power * (c[0] + c[1]*root + c[2]*ratio)
		power *= u
	}
	return sum, nil
}

// Flat is the cross-section of a flat bar.
type Flat struct{ Width, Thickness float64 }

// BendingStress returns the stress at the edge of a flat bar for a push in the plane of
// its face at a lever from there, by the plain formula 6·F·L/(thickness·width²).
func BendingStress(force, lever float64, section Flat) float64 {
	return 6 * force * lever / (section.Thickness * section.Width * section.Width)
}

// StandOff returns how far an inside corner of radius r holds a guard with a sharp slot
// off the shoulder, where the slot has a clearance c on that side:
// r - sqrt(2·r·c - c²), 0 for c >= r, and r for a press fit, where c is 0 or less. Derived.
func StandOff(radius, clearance float64) float64 {
	if clearance >= radius {
		return 0
	}
	clearance = math.Max(0, clearance)
	return radius - math.Sqrt(2*radius*clearance-clearance*clearance)
}

// ChamferNeeded returns the chamfer of the slot's front rim, at 45 degrees, over which a
// guard closes on the shoulder in spite of the corner: a little less than the radius
// would do; the radius is safe (common practice, no source).
func ChamferNeeded(radius, clearance float64) float64 {
	if StandOff(radius, clearance) == 0 {
		return 0
	}
	return radius
}

// CoverMargin is what a shoulder's step must stand over the chamfer to hide it, mm
// (common practice, no source).
const CoverMargin = 0.5

// Slot is a guard's slot and the tools to make it, mm.
type Slot struct {
	Length, Width float64 // of the finished slot
	Drill         float64 // for the row of holes, a quarter of a millimetre under the width
	Mill          float64 // width to mill to, before filing
}

// Common practice, no source: a row of holes 0.010 in (0.25 mm) under the width, milled
// to within 3 or 4 thousandths of an inch (0.09 mm), the rest by file.
const (
	drillUnder = 0.25
	fileStock  = 0.09
)

// SlotFor returns the slot for a tang of the given section at the guard plane with a
// clearance on each side.
func SlotFor(width, thickness, clearance float64) Slot {
	s := Slot{Length: width + 2*clearance, Width: thickness + 2*clearance}
	s.Drill = math.Max(0.1, math.Floor((s.Width-drillUnder)*10)/10)
	s.Mill = s.Width - fileStock
	return s
}
