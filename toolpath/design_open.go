package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
)

// beforeLeaving returns the sections in which a land must be wide enough: all of them, but
// at an open end not those in which it narrows to nothing on the way out. A land that is
// too narrow and does not narrow there counts.
func beforeLeaving(sections []profile.Section, size profile.FullerSize, land func(profile.Section) float64, limit float64) []profile.Section {
	n := len(sections)
	for ; size.OpenEnd() && n > 1; n-- {
		here, before := land(sections[n-1]), land(sections[n-2])
		if !(here < limit && before > here+slack) {
			break
		}
	}
	return sections[:n]
}

// openEndChecks looks at the steel that a fuller leaves where it runs out of the blade:
// in the groove, and at a rim that it runs over.
func openEndChecks(b profile.Blade, index int, shop Shop) []Check {
	f := b.Fullers[index]
	if !f.Size.OpenEnd() {
		return nil
	}
	number := index + 1
	web, webAt := b.WebLeaving(index)
	rim, rimAt := b.RimLeaving(index)
	if math.IsInf(web, 1) { // it leaves the blade at once
		return nil
	}
	out := []Check{least(sayFuller(number, "web where it leaves the blade"), web, shop.Limits.Web, "mm").at("%.0f mm from the guard plane", webAt).
		from("shop file, limits.web; "+fromPractice).
		orElse("a lesser depth, a thicker last taper station, or an end before it leaves the blade").byDepth(f.Size, index).lastTaper(b)}
	if math.IsInf(rim, 1) {
		return out
	}
	a := b.Knife.Allowance
	rim += 2 * (a.Finish + a.Scale)
	return append(out, least(sayFuller(number, "rim it runs over, before hardening"), rim, shop.Limits.EdgeBeforeQuench, "mm").at("%.0f mm from the guard plane", rimAt).
		from("shop file, limits.edge_before_quench; "+fromPractice+": a thinner one warps and cracks in the quench").
		orElse("make the fuller less deep").byDepth(f.Size, index))
}

// throughShoulder reports whether a fuller runs through the shoulder.
func throughShoulder(f profile.Fuller) bool { return f.Size.OpenStart() || f.StartVisible < 0 }

// underGuardChecks looks at a fuller that runs through the shoulder under the guard: what
// stays open there, and what it leaves of the tang.
func underGuardChecks(b profile.Blade, index int, shop Shop) []Check {
	f := b.Fullers[index]
	if !throughShoulder(f) {
		return nil
	}
	const justBehind = 1e-6 // mm
	number := index + 1
	open := b.InSteelAt(index, -justBehind).Depth
	out := []Check{most(sayFuller(number, "gap between its floor and the guard's slot"), open, b.Knife.Guard.Clearance, "mm").mild().at("at the guard plane").
		from("guard.clearance; "+fromPractice+": a groove that runs on under the guard stays open beneath it and takes in water").
		orElse("shoulder.face_step of %.2f mm with start_run_out = \"open\" would close it, or fill it when the guard is fitted", over(b.Knife.Shoulder.FaceStep+open))}
	if f.StartCut > -justBehind { // it takes nothing of the tang
		return out
	}
	land, at, web := math.Inf(1), 0.0, math.Inf(1)
	for i := range checkStations {
		x := math.Max(f.StartCut, -b.Knife.Tang.Length) * (float64(i) + 0.5) / checkStations
		lower, upper, ok := b.Span(index, x)
		if !ok {
			continue
		}
		s := b.SectionAt(index, x)
		if beside := math.Min(s.SpineLand, s.LowerLand); beside < land {
			land, at = beside, x
		}
		left, _ := b.CrossSectionAt(x).Least(lower, upper)
		web = math.Min(web, left)
	}
	if math.IsInf(land, 1) { // at no place that was looked at
		return out
	}
	return append(out,
		least(sayFuller(number, "tang beside it"), land, shop.Limits.BevelLand, "mm").mild().at("%.0f mm behind the guard plane", -at).
			from("shop file, limits.bevel_land; "+fromPractice).
			orElse("a tang %.2f mm wider there on that side, or a start in front of it", over(shop.Limits.BevelLand-land)),
		least(sayFuller(number, "web on the tang"), web, shop.Limits.Web, "mm").at("behind the guard plane").
			from("shop file, limits.web; "+fromPractice).orElse("make the fuller less deep").byDepth(f.Size, index).bySearch(fullerKey(index, "start"), 1))
}

// lastTaper adds the thickness of the last taper station.
func (c Check) lastTaper(b profile.Blade) Check {
	if n := len(b.Knife.Taper); n > 0 {
		return c.bySearch(fmt.Sprintf("taper[%d].thickness", n), 1)
	}
	return c
}
