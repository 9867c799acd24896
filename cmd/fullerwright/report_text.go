package main

import (
	"fmt"
	"math"
	"strings"

	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

// reportText writes the report for a person.
func reportText(w *work, r report) []byte {
	var b strings.Builder
	unit := w.knife.Units
	line := func(format string, values ...any) { sayIn(&b, unit, format+"\n", values...) }
	line("%s", r.Name)
	line("parameters %s, from %s", r.Parameters, strings.Join(r.Sources, ", "))
	line("verdict: %s", r.Verdict)
	if unit == document.Inch {
		line("lengths are in inches where no unit stands beside them")
	}
	line("")
	line("BLADE")
	line("  length %s, overall %s, width %s", both(r.Outline.Length, unit), both(r.Outline.Overall, unit), both(r.Outline.Width, unit))
	line("  area of the outline %.1f mm2", r.Outline.Area)
	line("")
	line("ALLOWANCE LADDER (thickness at the ricasso)")
	for _, l := range r.Ladder {
		line("  %-16s %7.3f mm, blade %8.3f mm long: %s", l.Rung, l.Thickness, l.Length, l.Why)
	}
	line("")
	measured := "as ordered"
	if r.Bar.Measured {
		measured = "as measured"
	}
	line("BAR, %s: %.3f x %.3f x %.3f mm", measured, r.Bar.Length, r.Bar.Width, r.Bar.Thickness)
	if len(r.Bar.Ground) > 0 {
		line("  its faces are ground to the taper before they are milled, to")
		line("  from butt  from guard  thickness  off each face")
	}
	for _, s := range r.Bar.Ground {
		line("  %9.2f  %10.2f  %9.3f  %13.3f", dimension(s.FromButt), dimension(s.X), dimension(s.Thickness), dimension(s.OffEach))
	}
	for _, f := range r.Fullers {
		textFuller(line, f)
	}
	textMeasures(line, r.Measures)
	for _, p := range r.Programs {
		textProgram(line, p)
	}
	for _, h := range r.ByHand {
		line("")
		line("BY HAND: %s, %s face: %s", h.Operation, h.Face, document.Words(h.Why))
	}
	if r.LeastWeb != nil {
		line("")
		line("BOTH FACES AS MILLED")
		line("  least web %.3f mm, %.1f mm from the guard plane", r.LeastWeb.Value, r.LeastWeb.X)
		line("  the two faces differ by at most %.4f mm in height, their fullers by %.4f mm sideways", r.Mismatch.Value, math.Abs(r.Sideways.Value))
	}
	textChecks(line, "CHECKS ON THE BLADE (limits from the sources named)", w.checks)
	for _, f := range w.faces {
		textChecks(line, fmt.Sprintf("CHECKS ON %s, WITH THE CUTTER %s", f.sayPrograms(), f.job.Cutter.Name), f.job.Checks)
	}
	return []byte(b.String())
}

func textChecks(line func(string, ...any), title string, checks []toolpath.Check) {
	line("")
	line("%s", title)
	for _, c := range checks {
		line("  %s", c)
		line("          %s", c.Source)
	}
}

// inSteelApart is how far beyond the steel an end is told of, mm.
const inSteelApart = 0.01

func textFuller(line func(string, ...any), f fullerReport) {
	line("")
	line("FULLER %d: radius %.3f mm, milled with radius %.3f mm", f.Number, f.Radius, f.MilledRadius)
	line("  seen from %.2f to %.2f mm, full depth from %.2f to %.2f mm from the guard plane", f.StartVisible, f.EndVisible, f.StartFull, f.EndFull)
	if f.StartCut > f.StartVisible+inSteelApart || f.EndCut < f.EndVisible-inSteelApart {
		line("  its ends lie beside the steel: it cuts that from %.2f to %.2f mm", f.StartCut, f.EndCut)
	}
	if f.OpenStart {
		line("  open through the shoulder: it runs out of the steel there")
	}
	if f.OpenEnd {
		line("  open toward the point: its whole width ends at %.2f mm, the last of it leaves the blade at %.2f mm", f.EndFull, f.EndVisible)
	}
	line("  %8s %10s %8s %8s %8s %11s %11s %14s %13s", "station", "thickness", "depth", "width", "web", "upper land", "lower land", "depth to mill", "width on bar")
	for _, s := range f.Stations {
		line("  %8.2f %10.3f %8.3f %8.3f %8.3f %11.2f %11.2f %14.3f %13.3f", dimension(s.X), dimension(s.Thickness), dimension(s.Depth), dimension(s.Width), dimension(s.Web),
			dimension(s.SpineLand), dimension(s.LowerLand), dimension(s.MilledDepth), dimension(s.BarWidth))
	}
}

func textProgram(line func(string, ...any), p programReport) {
	line("")
	line("PROGRAM %s", p.File)
	line("  %s side at the fixed jaw, %s at the stop", p.EdgeAtJaw, p.EndAtStop)
	if p.Flip != "" {
		line("  turned %s between the faces: %s", p.Flip, document.Words(p.FlipWhy))
	}
	line("  cutter %s, %.0f rev/min, %.0f mm/min, on ramps %.0f mm/min", p.Cutter, p.Spindle, p.SlotFeed, p.RampFeed)
	if p.CornerFrom > 0 {
		line("  the inside corners alone, with the cutter changed in the same setup: from a radius of %.2f mm to %.2f mm", p.CornerFrom, p.Corner)
	}
	finishing := ""
	if p.Lanes > 0 {
		finishing = plural(p.Lanes, "finishing pass", "finishing passes") + ", "
	}
	line("  %s of roughing, %sabout %s", plural(p.Levels, "level", "levels"), finishing, sayMinutes(p.Seconds))
	if t := p.Time; t != nil {
		line("  of %.0f s planned: roughing %.0f, finishing %.0f, ramps %.0f, ways between passes %.0f, speeding up and slowing down %.0f;", t.Planned, t.Rough, t.Finish, t.Ramp, t.Link, t.Acceleration)
		line("  %.2f times the %.0f s that the shop's limits allow at the least", t.Ratio, t.Bound)
	}
	line("  proof: greatest gouge %.4f mm, greatest leftover %.4f mm (grid %.3f mm, which may hide %.5f mm)", p.Gouge.Value, p.Leftover.Value, p.Grid, p.Bound)
	if p.Land != nil {
		line("  least land left on the bar's face %.3f mm, %.1f mm from the guard plane", p.Land.Value, p.Land.X)
	}
	if len(p.Stations) > 0 {
		line("  %8s %12s %12s %12s %12s", "station", "depth cut", "designed", "width cut", "designed")
	}
	for _, s := range p.Stations {
		line("  %8.2f %12.4f %12.4f %12.4f %12.4f", dimension(s.X), dimension(s.Depth), dimension(s.DesignDepth), dimension(s.Width), dimension(s.DesignWidth))
	}
	for _, c := range p.Candidates {
		line("  cutter %s: %s", c.Cutter, document.Words(c.Why))
	}
}

func sayMinutes(seconds float64) string {
	whole := int(math.Round(seconds))
	return fmt.Sprintf("%d min %02d s at the machine", whole/60, whole%60)
}

// both writes a length in the reader's unit and in the nearest sixty-fourth of an inch.
func both(mm float64, unit document.Unit) string {
	text, _ := document.NearestFraction(mm, 64)
	return document.Say("%.2f mm (about %s)", mm, text).In(unit)
}
