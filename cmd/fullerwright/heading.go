package main

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

// heading returns the comments at the head of a program: what the operator must know
// before pressing start.
func heading(w *work, j *toolpath.Job) []string {
	s, bar := j.Setup, w.blade.Bar
	// Lengths in the program's own unit: whoever sets zero by them must not convert.
	unit, places := document.Millimetre, 3
	if w.shop.Inch {
		unit, places = document.Inch, 5
	}
	long := unit.Millimetres()
	say := func(mm float64) string { return fmt.Sprintf("%.*f", places, mm/long) }
	if s.Blank {
		return w.blankHeading(j, unit, say)
	}
	lines := []string{
		fmt.Sprintf("Fullerwright %s, %s face", j.Step.Operation, s.Face),
		fmt.Sprintf("Knife %s, steel %s", j.Name, j.Steel),
		"Parameters " + w.digest,
		fmt.Sprintf("Bar %s x %s x %s %s", say(bar.Length()), say(bar.Width()), say(2*s.Top), unit),
		fmt.Sprintf("Up: %s face", s.Face),
	}
	if s.Face == profile.Left {
		lines = append(lines, fmt.Sprintf("Bar turned %s after the right face", s.Flip))
	}
	lines = append(lines,
		fmt.Sprintf("%s side at the fixed jaw", s.EdgeAtJaw()),
		fmt.Sprintf("%s at the stop, point to the %s", s.EndAtStop(), s.PointLies()),
	)
	lines = append(lines, xZeroHeading(s, unit, say)...)
	lines = append(lines,
		"Y zero at the fixed jaw, bar at minus Y",
		fmt.Sprintf("Z zero on top of the bar at X %s %s", say(s.Placement.SignX*s.TouchX+s.Placement.X0), unit),
	)
	if s.Jaws != [2]float64{} {
		a, b := s.Placement.SignX*s.Jaws[0]+s.Placement.X0, s.Placement.SignX*s.Jaws[1]+s.Placement.X0
		lines = append(lines, fmt.Sprintf("Jaws from X %s to X %s %s", say(math.Min(a, b)), say(math.Max(a, b)), unit), "The tang stands out of the jaws")
	}
	lines = append(lines, bedHeading(j, w.shop, unit, say)...)
	if s.Plate {
		lines = append(lines, "On a plate, clamped by both ends, no vise")
	}
	if j.Step.Operation == toolpath.Holes {
		lines = append(lines, "Nothing under the holes but air")
	}
	lines = append(lines, cornerHeading(j, unit, say)...)
	lines = append(lines, w.readHeading(j, say)...)
	return append(lines, cutterHeading(j, unit, say)...)
}

// bedHeading says how a bar whose faces are not parallel is borne.
func bedHeading(j *toolpath.Job, shop toolpath.Shop, unit document.Unit, say func(float64) string) []string {
	beds := j.Beds(shop.Vise)
	if len(beds) == 0 {
		return nil
	}
	lines := []string{"Bar not of one thickness, its middle level", "Thickest place flat, shims under the rest"}
	for _, b := range beds {
		lines = append(lines, fmt.Sprintf("At X %s shim %s %s", say(b.X), say(b.Packing), unit))
	}
	return lines
}

// xZeroHeading says where X zero is and what is touched for it.
func xZeroHeading(s toolpath.Setup, unit document.Unit, say func(float64) string) []string {
	if s.MakesXZero {
		return []string{"X zero at the stop, left end of the bar", "From here on touch a dowel in this hole for X"}
	}
	if !s.XZero.Touched() {
		return []string{"X zero at the stop, left end of the bar"}
	}
	return []string{fmt.Sprintf("Touch the %s for X, it stands at X %s %s", s.XZero.Kind, say(s.XZeroAt()), unit)}
}

// cornerHeading says of a program that mills inside corners alone what must be cut before it.
func cornerHeading(j *toolpath.Job, unit document.Unit, say func(float64) string) []string {
	if j.Step.Corner == 0 {
		return nil
	}
	return []string{fmt.Sprintf("Corners alone, change %d of the cutter", j.Step.Corner),
		fmt.Sprintf("They must be cut round by %s, it leaves them round by %s %s", say(j.CornerFrom), say(j.Corner), unit),
		"Same clamping, touch Z again with this cutter"}
}

// blankHeading is the heading of a program for the guard's blank.
func (w *work) blankHeading(j *toolpath.Job, unit document.Unit, say func(float64) string) []string {
	s := j.Setup
	lines := []string{
		fmt.Sprintf("Fullerwright %s of the guard", j.Step.Operation),
		fmt.Sprintf("Knife %s, guard of %s", j.Name, j.Steel),
		"Parameters " + w.digest,
		fmt.Sprintf("Blank %s x %s x %s %s", say(s.Length), say(s.Width), say(2*s.Top), unit),
		"Up: the front of the guard",
		"One long side at the fixed jaw, one end at the stop",
		"Nothing under the slot but air",
		"X zero at the stop, left end of the blank",
		"Y zero at the fixed jaw, blank at minus Y",
		"Z zero on top of the blank",
	}
	switch {
	case j.Step.Corner > 0:
		lines = append(lines, cornerHeading(j, unit, say)...)
	case j.Step.Bore > 0:
		lines = append(lines, "A hole in the middle, for the slot mill to go down in")
	case !slices.ContainsFunc(j.Moves, func(m toolpath.Move) bool { return m.Purpose == toolpath.RampIn }):
		lines = append(lines, "Goes down in the drilled hole: drill it first")
	}
	return append(lines, cutterHeading(j, unit, say)...)
}

// cutterHeading says the cutter and its speeds.
func cutterHeading(j *toolpath.Job, unit document.Unit, say func(float64) string) []string {
	end := string(j.Cutter.End)
	switch {
	case j.Cutter.End == toolpath.DrillEnd:
		end += fmt.Sprintf(" end, point %.1f degrees", j.Cutter.PointAngle.Degrees())
	case j.Cutter.CornerRadius > 0:
		end += fmt.Sprintf(" end with corner radius %s %s", say(j.Cutter.CornerRadius), unit)
	default:
		end += " end"
	}
	return []string{
		fmt.Sprintf("Cutter %s: %s, diameter %s %s, %d flutes", j.Cutter.Name, end, say(2*j.Cutter.Radius()), unit, j.Cutter.Flutes),
		fmt.Sprintf("Stick-out %s %s", say(j.Cutter.StickOut), unit),
		fmt.Sprintf("Spindle %.0f rev/min, feed %.1f %s/min", j.Spindle, j.Feeds.Slot/unit.Millimetres(), unit),
		"First run above the work. Read CAUTIONS.md",
	}
}
