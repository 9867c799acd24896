package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/profile/document"
)

// How far two faces may differ before it is worth a word, mm (common practice, no source:
// depth and place to a twentieth, ends to a tenth). A width changes about four times as
// much as the depth does (derived).
const (
	alikeInDepth, alikeInPlace, alikeAtEnds = 0.05, 0.05, 0.1
	alikeInWidth                            = 4 * alikeInDepth
)

// How far off a caliper across two lips, and a depth read over a pin or a ball, may be, mm
// (judgement).
const (
	caliperOff = 0.02
	depthOff   = 0.01
)

const fromReadings = "common practice, no source, against the file of measured values"

// readingChecks looks at how a fuller came out, and at what the second face makes of it.
func readingChecks(b profile.Blade, index int, shop Shop) []Check {
	var out []Check
	f, read := b.Fullers[index], false
	for _, face := range profile.Faces() {
		if came, there := f.Came(face); there {
			read = true
			out = append(out, cameChecks(b, index, face, came)...)
			out = append(out, cameLands(b.On(face), index, face, shop)...)
		}
	}
	if !read || !f.Size.Cut(profile.Right) || !f.Size.Cut(profile.Left) {
		return out
	}
	return append(out, alikeChecks(b, index)...)
}

// cameChecks holds a face that was read against the design.
func cameChecks(b profile.Blade, index int, face profile.Face, came profile.Came) []Check {
	name := func(what string) string { return sayFuller(index+1, fmt.Sprintf("%s face as read, %s", face, what)) }
	remedy := document.Say("it is %.3f mm too deep: nothing puts it back; second_face says what the other face makes of it", came.Shift.Sunk)
	if came.Shift.Sunk < 0 {
		remedy = document.Say("a touch-up pass sunk by %.3f mm would do: mill --touch-up", -came.Shift.Sunk)
	}
	out := []Check{
		most(name("depth off the design"), math.Abs(came.Shift.Sunk), alikeInDepth, "mm").mild().from(fromReadings).orElse("%s", remedy),
		most(name("depths of the readings apart"), came.Spread, alikeInDepth, "mm").mild().from(fromReadings).
			orElse("read the stations again; their mean is %.3f mm off the design", came.Shift.Sunk),
	}
	if !came.RadiusRead {
		return out
	}
	g := b.Fullers[index].On(face).Milled
	s := b.On(face).Sections(index, 3)[1]
	return append(out, most(name("radius by width and depth, off the design"), math.Abs(came.Shift.Wider), radiusOff(s.BarWidth, s.MilledDepth), "mm").mild().
		from(fmt.Sprintf("derived: what a caliper %.2f mm off and a depth %.2f mm off make of it", caliperOff, depthOff)).
		orElse("the radius it has is %.3f mm: cut a test groove, and put the cutter's measured_diameter into the shop file", g.Radius))
}

// cameLands looks at the lands beside a fuller where it really lies.
func cameLands(b profile.Blade, index int, face profile.Face, shop Shop) []Check {
	checks := landChecks(b, index, alongVisible(b, index), shop)
	for i := range checks {
		checks[i].Name = fmt.Sprintf("%s face as read, %s", face, checks[i].Name)
		if checks[i].Verdict != OK {
			checks[i].Remedy = document.Say("the groove is cut: %.2f mm of limit would let it pass, or a back or bevel moved by %.2f mm", under(checks[i].Value), over(checks[i].Limit-checks[i].Value))
		}
	}
	return checks
}

// radiusOff returns how far off the radius of a groove may be by its width and depth, for
// what the readings may be off: R = w²/(8·d) + d/2, derived by both.
func radiusOff(width, depth float64) float64 {
	return math.Hypot(width/(4*depth)*caliperOff, (0.5-width*width/(8*depth*depth))*depthOff)
}

// alikeChecks says how far the two faces are, or will be, from alike.
func alikeChecks(b profile.Blade, index int) []Check {
	f := b.Fullers[index]
	right, left := f.ShiftIn(profile.Right), f.ShiftIn(profile.Left)
	narrow, wide, shallow := b.On(profile.Left).Sections(index, 3)[1], b.On(profile.Right).Sections(index, 3)[1], profile.Left
	if narrow.BarWidth > wide.BarWidth {
		narrow, wide = wide, narrow
	}
	if right.Sunk < left.Sunk {
		shallow = profile.Right
	}
	deep, across, along := math.Abs(right.Sunk-left.Sunk), math.Abs(right.Aside-left.Aside), math.Abs(right.Along-left.Along)
	wider := wide.BarWidth - narrow.BarWidth
	// The width changes 4·(R - d)/w times as much as the depth.
	sink := wider * narrow.BarWidth / (4 * (f.Milled.Radius - narrow.MilledDepth))
	name := func(what string) string { return sayFuller(index+1, "mismatch left between the faces, "+what) }
	return []Check{
		most(name("depth"), deep, alikeInDepth, "mm").mild().from(fromReadings).orElse("the %s face %.3f mm deeper would leave none", shallow, deep),
		most(name("width"), wider, alikeInWidth, "mm").mild().from(fromReadings).orElse("the narrower one sunk by %.3f mm would be as wide", sink),
		most(name("across"), across, alikeInPlace, "mm").mild().from(fromReadings).orElse("taken %.3f mm off the land on either side it does not show", across/2),
		most(name("ends"), along, alikeAtEnds, "mm").mild().from(fromReadings).orElse("drawn out by %.3f mm with the file at either end it does not show", along/2),
	}
}
