package toolpath

import (
	"math"

	"fullerwright/profile"
)

// How far a bar may stand out of the jaws while it is cut there, in thicknesses; how much of
// it must be held, in lengths that stand out; and how much of its edges the jaws must bear
// on, mm (common practice, no source).
const overhangMost, heldLeast, bearingLeast = 10.0, 2.0, 2.0

// holdingChecks looks at how the vise holds the bar: how much of the edges the jaws bear on
// below their top, how far the cut goes beyond their ends, and how much is held beside that.
func (j *Job) holdingChecks(b profile.Blade, shop Shop) []Check {
	const practice = "common practice, no source"
	thickness := b.Bar.Thickness(j.Setup.TouchX)
	thinnest := j.thinnest(shop.Vise)
	wanted := math.Min(bearingLeast, thinnest/2)
	// Where the bar is thinnest its face may lie under the top of the jaws.
	stand := j.Stand(shop)
	bearing := thinnest/2 + math.Min(thinnest/2, j.Setup.Top-stand.Above)
	jaws, cut := j.JawSpan(shop.Vise), j.Cut()
	beyond := math.Max(0, math.Max(jaws.From-cut.From, cut.To-jaws.To))
	held := math.Min(jaws.To, j.Setup.Length) - math.Max(0, jaws.From)
	grip := least("bar held in the jaws", held, heldLeast*beyond, "mm").from(practice + ": twice what stands out").
		orElse("hold more of the bar, or take longer jaws")
	if j.Step.Operation != Shoulders {
		grip = grip.mild() // it stands out to both sides, and a ball pushes little
	}
	edges := least("edges of the bar below the top of the jaws", bearing, wanted, "mm").from(practice)
	if bearing > 0 { // it is held, if by little
		edges = edges.mild()
	}
	if high := under(j.Setup.Top + thinnest/2 - wanted); stand.Known() {
		edges = edges.orElse("parallels of %.2f mm, or lower, would do", under(stand.Parallels-stand.Above+high))
	} else {
		edges = edges.orElse("parallels that let the bar stand %.2f mm above the jaws would do", high)
	}
	return append([]Check{
		edges,
		most("cut beyond the end of the jaws", beyond, overhangMost*thickness, "mm").mild().from(practice+": ten thicknesses of the bar").
			orElse("put a jack under the bar, or jaws of %.2f mm would do", over(jaws.To-jaws.From+2*(beyond-overhangMost*thickness))),
		grip,
	}, j.standChecks(shop)...)
}
