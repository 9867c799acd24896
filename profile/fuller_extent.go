package profile

import (
	"slices"

	"fullerwright/profile/search"
)

// aloneStations is at how many places a fuller is looked at for whether it meets nothing but
// the face it is cut into.
const aloneStations = 16

// settle finds where a fuller begins and ceases to cut the finished steel, and where on the
// way the outline or a bevel begins to cut into it or lets go: on the tang, through the
// shoulder, over the back or the edge, at an open end or at any other.
func (d *fullerDraft) settle(f *Fuller) {
	f.StartCut, f.EndCut = f.StartVisible, f.EndVisible
	if !f.Size.OpenStart() {
		f.StartCut = d.endOfCut(f, f.StartVisible, -1)
	}
	if !f.Size.OpenEnd() {
		f.EndCut = d.endOfCut(f, f.EndVisible, 1)
	}
	f.leaves = f.Size.OpenStart() || f.Size.OpenEnd()
	if f.leaves || f.StartCut < 0 || !d.alone(f) {
		d.findKinks(f)
	}
}

// endOfCut returns how far a fuller cuts the steel toward a side, where its centreline comes
// up to the face at the given place: to there on a flat, but less far where the outline has
// it by then, and further where it lies on a bevel, which is higher beside the centreline,
// or oblique.
func (d *fullerDraft) endOfCut(f *Fuller, seen, side float64) float64 {
	const inside = 1e-6 // mm, where a run-out clearly lies under the face
	g := &f.Finished
	over := func(x float64) float64 { return d.ground.over(g, x) }
	x := seen - side*inside
	value := over(x)
	if value >= 0 {
		return rootFrom(over, seen, (f.StartFull+f.EndFull)/2)
	}
	if _, direction := g.PlaceAt(seen); direction.Y == 0 && f.Size.On == OnFlat {
		return seen
	}
	for step := 2 * inside; step < d.knife.Blade.Length; step *= 4 {
		further := x + side*step
		beyond := over(further)
		if beyond >= 0 {
			return search.Root(over, search.Bracket{A: x, B: further, FA: value, FB: beyond}, near)
		}
		x, value = further, beyond
	}
	return x
}

// alone reports whether a fuller meets neither the outline nor a bevel line at any of some
// places along it.
func (d *fullerDraft) alone(f *Fuller) bool {
	for i := range aloneStations {
		x := f.StartCut + (f.EndCut-f.StartCut)*(float64(i)+0.5)/aloneStations
		c := d.ground.section(x)
		cut := f.Finished.across(x)
		for _, over := range c.over(&cut) {
			if over < 0 {
				return false
			}
		}
	}
	return true
}

// fullerPart is a part of a fuller up to a distance from the guard plane, with how many
// places of it are looked at.
type fullerPart struct {
	to      float64
	samples int
}

// parts returns the parts of a fuller along which its form and the tang or blade that it is
// cut into stay the same.
func (f *Fuller) parts() []fullerPart {
	out := []fullerPart{{0, 24}, {f.StartFull, 24}, {f.EndFull, 48}, {f.EndCut, 24}}
	if f.StartFull < 0 {
		out[0], out[1] = fullerPart{f.StartFull, 24}, fullerPart{0, 24}
	}
	return out
}

// findKinks finds the distances along a fuller at which the outline or a bevel begins to cut
// into it or to let go, and whether it runs over a side of the blade anywhere.
func (d *fullerDraft) findKinks(f *Fuller) {
	at := func(x float64) [4]float64 {
		c := d.ground.section(x)
		cut := f.Finished.across(x)
		return c.over(&cut)
	}
	look := func(from, to float64, samples int) {
		if !(from < to) {
			return
		}
		before, x0 := at(from+near), from
		for j := 1; j <= samples; j++ {
			x := from + (to-from)*float64(j)/float64(samples) - near
			after := at(x)
			f.leaves = f.leaves || after[0] < 0 || after[3] < 0
			for i := range after {
				if (after[i] < 0) != (before[i] < 0) {
					over := func(x float64) float64 { return at(x)[i] }
					f.kinks = append(f.kinks, search.Root(over, search.Bracket{A: x0, B: x, FA: before[i], FB: after[i]}, near))
				}
			}
			before, x0 = after, x
		}
	}
	from := f.StartCut
	for _, part := range f.parts() {
		to := min(max(part.to, from), f.EndCut)
		look(from, to, part.samples)
		from = to
	}
	slices.Sort(f.kinks)
}
