package profile

import (
	"math"
	"slices"

	"fullerwright/profile/search"
)

// aloneStations is at how many places a fuller is looked at for whether it meets nothing but
// the face it is cut into.
const aloneStations = 16

// firstStep is how far beyond the place where its centreline comes up to a bevel a fuller is
// looked for first, mm; what it is further is mostly less.
const firstStep = 0.05

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
// up to the face at the given place: to there on a flat, but for some thousandths of a
// millimetre of an oblique one, less far where the outline has it by then, and further where
// it lies on a bevel, which is higher beside the centreline.
func (d *fullerDraft) endOfCut(f *Fuller, seen, side float64) float64 {
	const (
		inside  = 1e-6 // mm, where a run-out clearly lies under the face
		closely = 1e-5 // mm, how far off the end may be found: what lies beyond is nothing
	)
	g := &f.Finished
	over := func(x float64) float64 { return d.ground.over(g, x) }
	x := seen - side*inside
	value := over(x)
	if value >= 0 {
		return rootFrom(over, seen, (f.StartFull+f.EndFull)/2)
	}
	if f.Size.On == OnFlat {
		return seen
	}
	for step := firstStep; step < d.knife.Blade.Length; step *= 4 {
		further := x + side*step
		beyond := over(further)
		if beyond >= 0 {
			return search.Root(over, search.Bracket{A: x, B: further, FA: value, FB: beyond}, closely)
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
		for _, turn := range d.turns(f, x) {
			if turn < 0 {
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
// cut into stay the same; of one that runs over a side twice as many places are looked at.
func (f *Fuller) parts() []fullerPart {
	out := []fullerPart{{0, 12}, {f.StartFull, 12}, {f.EndFull, 24}, {f.EndCut, 12}}
	if f.StartFull < 0 {
		out[0].to, out[1].to = f.StartFull, 0
	}
	return out
}

// turns returns values of which each turns its sign where the sections along a fuller change
// their form: how high it lies over the sides and the bevel lines; how far it reaches under
// the face where it comes lowest, which at its ends is nothing but for rounding; and where it is cut into a bevel, how far
// its centreline lies over the bevel lines, at which its floor bends.
func (d *fullerDraft) turns(f *Fuller, x float64) (out [7]float64) {
	c := d.ground.section(x)
	cut := f.Finished.across(x)
	over := c.over(&cut)
	copy(out[:], over[:])
	at, direction := f.Finished.PlaceAt(x)
	_, whole := c.cutBy(&cut, at, direction)
	out[4] = resolution - whole
	if f.Size.On != OnBevel {
		return out
	}
	lines := c.lines()
	for i, line := range lines[1:3] {
		if aside := at.Y - line; math.Abs(aside) > besideLine {
			out[5+i] = aside
		}
	}
	return out
}

// besideLine is how far beside a bevel line a centreline lies clearly beside it, mm: one that
// runs along a ridge lies on it but for rounding.
const besideLine = 1e-6

// findKinks finds the distances along a fuller at which the outline or a bevel begins to cut
// into it or to let go, and whether it runs over a side of the blade anywhere.
func (d *fullerDraft) findKinks(f *Fuller) {
	at := func(x float64) [7]float64 { return d.turns(f, x) }
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
		if f.leaves {
			part.samples *= 2
		}
		look(from, to, part.samples)
		from = to
	}
	slices.Sort(f.kinks)
}
