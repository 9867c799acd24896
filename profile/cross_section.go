package profile

// CrossSection is the finished blade cut square to its length at one distance from the
// guard plane. It is empty, with Bottom not below Top, where there is no blade.
type CrossSection struct {
	X           float64
	Bottom, Top float64 // y of the edge side and of the back
	Flat        float64 // half the thickness between the bevels

	edge, back bevelCut
	grooves    [2][]Groove // by face
	alike      bool        // both faces have the same grooves
}

// Empty reports whether there is no steel at the section.
func (c CrossSection) Empty() bool { return !(c.Bottom < c.Top) }

// CrossSectionAt returns the finished blade or tang at the distance x from the guard
// plane.
func (b Blade) CrossSectionAt(x float64) CrossSection {
	f, c := b.finished(), b.ground.section(x)
	f.cut(&c)
	return c
}

// HalfThickness returns the height of the finished face over the centre-plane at a
// place of the blade, mm; 0 outside the outline.
func (b Blade) HalfThickness(face Face, x, y float64) float64 {
	return b.CrossSectionAt(x).Half(face, y)
}

// GroundHalf returns the same before the fullers: the surface that the grinder leaves.
func (b Blade) GroundHalf(x, y float64) float64 { return b.ground.half(x, y) }

// Half returns the height of a face over the centre-plane at y; 0 outside the outline.
func (c CrossSection) Half(face Face, y float64) float64 {
	h := c.ground(y)
	for _, g := range c.grooves[face] {
		h = min(h, g.Height(c.X, y))
	}
	return h
}

// ground returns half the thickness before the fullers.
func (c *CrossSection) ground(y float64) float64 {
	if y < c.Bottom || y > c.Top {
		return 0
	}
	return min(c.Flat, min(c.edge.over(y-c.edge.rim), c.back.over(c.back.rim-y)))
}

// within reports whether a place lies clearly between Bottom and Top.
func (c *CrossSection) within(y float64) bool { return y > c.Bottom+resolution && y < c.Top-resolution }

// groundBreaks returns breaks without the lips of fullers, and how many they are.
func (c *CrossSection) groundBreaks() (ys [4]float64, n int) {
	ys[0], n = c.Bottom, 1
	add := func(y float64) {
		if c.within(y) && y > ys[n-1] {
			ys[n] = y
			n++
		}
	}
	edgeLine, backLine := c.edgeLine(), c.backLine()
	if c.edge.present && c.back.present && edgeLine > backLine {
		// Below, the edge's bevel is the lower one; above, that of the back.
		add(c.meeting(max(backLine, c.Bottom), min(edgeLine, c.Top)))
	} else {
		add(edgeLine)
		add(backLine)
	}
	ys[n] = c.Top
	return ys, n + 1
}

// meeting returns where the bevels of edge and back are level, between two places.
func (c *CrossSection) meeting(from, to float64) float64 {
	return bisectTo(func(y float64) float64 { return c.edge.over(y-c.edge.rim) - c.back.over(c.back.rim-y) }, from, to)
}

// edgeLine returns the y at which the edge's bevel meets the flat; Bottom where there is
// no bevel.
func (c *CrossSection) edgeLine() float64 {
	if !c.edge.present {
		return c.Bottom
	}
	return c.edge.rim + max(0, c.edge.lineAt(c.Flat))
}

// backLine returns the y at which the bevel of the back meets the flat; Top where there
// is none.
func (c *CrossSection) backLine() float64 {
	if !c.back.present {
		return c.Top
	}
	return c.back.rim - max(0, c.back.lineAt(c.Flat))
}

// EdgeBevelLine returns the y of the bevel line of the edge, and whether there is a
// bevel at this section that meets the flat within the blade.
func (c CrossSection) EdgeBevelLine() (y float64, ok bool) {
	y = c.edgeLine()
	return y, c.edge.present && y > c.Bottom+resolution && y < c.Top-resolution && !(c.back.present && y >= c.backLine()-touching)
}

// BackBevelLine returns the y of the lower bound of the false edge or second edge, and
// whether there is one at this section that meets the flat within the blade.
func (c CrossSection) BackBevelLine() (y float64, ok bool) {
	y = c.backLine()
	return y, c.back.present && y < c.Top-resolution && y > c.Bottom+resolution && !(c.edge.present && y <= c.edgeLine()+touching)
}
