package profile

import (
	"math"
	"slices"
)

// faceCut is a groove cut at a section, with the lips of what it takes of the face where
// they were looked for.
type faceCut struct {
	grooveCut
	lips stretch
	ok   bool // it reaches below the face
}

// cutRoom is room for the cuts of both faces, so that most sections need none on the heap.
type cutRoom [2][3]faceCut

// cuts returns the cuts of the grooves of both faces; of the left one none where that is
// like the right one.
func (c *CrossSection) cuts(room *cutRoom) (out [2][]faceCut) {
	for face := range out {
		out[face] = room[face][:0]
		for i := range c.grooves[face] {
			if Face(face) == Left && c.alike {
				break
			}
			out[face] = append(out[face], faceCut{grooveCut: c.grooves[face][i].across(c.X)})
		}
	}
	return out
}

// findLips looks for the lips of the cuts of a face.
func (c *CrossSection) findLips(cuts []faceCut) {
	for i := range cuts {
		cut := &cuts[i]
		cut.lips.from, cut.lips.to, cut.ok = c.lips(&cut.grooveCut)
	}
}

// halfOf returns the height of a face with its cuts over the centre-plane at y.
func (c *CrossSection) halfOf(cuts []faceCut, y float64) float64 {
	h := c.ground(y)
	for i := range cuts {
		h = min(h, cuts[i].height(y))
	}
	return h
}

// thicknessOf returns the thickness at y with the cuts of both faces; 0 outside the outline.
func (c *CrossSection) thicknessOf(cuts [2][]faceCut, y float64) float64 {
	half := c.halfOf(cuts[Right], y)
	if c.alike {
		return half + half
	}
	return half + c.halfOf(cuts[Left], y)
}

// breaks returns the places from Bottom to Top, ascending, between which one surface
// makes a face: the bevel lines, where the bevels meet, and the lips of the fullers.
func (c *CrossSection) breaks(face Face) []float64 {
	var room cutRoom
	cuts := c.cuts(&room)[face]
	if face == Left && c.alike {
		return c.breaks(Right)
	}
	c.findLips(cuts)
	return c.appendBreaks(nil, cuts)
}

// appendBreaks adds the breaks of a face with its cuts, whose lips are known.
func (c *CrossSection) appendBreaks(ys []float64, cuts []faceCut) []float64 {
	ground, n := c.groundBreaks()
	ys = append(ys, ground[:n]...)
	add := func(y float64) {
		if c.within(y) {
			ys = append(ys, y)
		}
	}
	for i := range cuts {
		cut := &cuts[i]
		if !cut.ok {
			continue
		}
		add(cut.lips.from)
		add(cut.lips.to)
		for j := range cuts[:i] {
			other := &cuts[j]
			if other.ok && cut.lips.overlaps(other.lips) { // they meet in a ridge
				apart := func(y float64) float64 { return cut.height(y) - other.height(y) }
				add(bisectTo(apart, max(cut.lips.from, other.lips.from), min(cut.lips.to, other.lips.to)))
			}
		}
	}
	slices.Sort(ys)
	return ys
}

// Least returns the least thickness of the section and where it lies, between two
// places: of the web under opposite fullers, or of a hollow bevel. It looks at the
// breaks, at n places between each two of them, and over the axes of the fullers.
func (c CrossSection) Least(from, to float64) (thickness, y float64) {
	var room cutRoom
	cuts := c.cuts(&room)
	for _, cuts := range cuts {
		c.findLips(cuts)
	}
	return c.leastOf(cuts, from, to)
}

// leastOf returns the same of a section with its cuts, whose lips are known.
func (c *CrossSection) leastOf(cuts [2][]faceCut, from, to float64) (thickness, y float64) {
	const n = 8
	thickness = math.Inf(1)
	consider := func(at float64) {
		if at < from || at > to {
			return
		}
		if t := c.thicknessOf(cuts, at); t < thickness {
			thickness, y = t, at
		}
	}
	consider(from)
	consider(to)
	for face := range cuts {
		if Face(face) == Left && c.alike {
			break
		}
		var room [8]float64
		ys := c.appendBreaks(room[:0], cuts[face])
		for i := 1; i < len(ys); i++ {
			for j := range n + 1 {
				consider(ys[i-1] + (ys[i]-ys[i-1])*float64(j)/n)
			}
		}
		for i := range cuts[face] {
			at, _ := cuts[face][i].groove.PlaceAt(c.X)
			consider(at.Y)
		}
	}
	return thickness, y
}
