package profile

import (
	"math"
	"slices"
)

// SectionProperties are the properties of a cross-section. Lengths in mm; Y is in the
// blade frame, Z positive toward the right face.
type SectionProperties struct {
	Area float64 // mm²
	Y, Z float64 // of the centroid
	// Flat and Edge are the second moments of area about the centroid, mm⁴: against
	// bending sideways, through the thickness, and against bending edgewise.
	Flat, Edge float64
}

// rule is a Gauss-Legendre rule on the stretch from -1 to 1.
type rule struct{ at, weight [12]float64 }

// twelvePoints is the Gauss-Legendre rule of 12 points (Abramowitz and Stegun, Handbook
// of Mathematical Functions, table 25.4, from memory; a test holds it against gonum's),
// good to rounding for the arcs of a section.
func twelvePoints() rule {
	half := [6]float64{0.1252334085114689, 0.3678314989981802, 0.5873179542866175, 0.7699026741943047, 0.9041172563704749, 0.9815606342467192}
	weights := [6]float64{0.2491470458134028, 0.2334925365383548, 0.2031674267230659, 0.1600783285433462, 0.1069393259953184, 0.0471753363865118}
	var r rule
	for i := range half {
		r.at[2*i], r.at[2*i+1] = -half[i], half[i]
		r.weight[2*i], r.weight[2*i+1] = weights[i], weights[i]
	}
	return r
}

// crowded returns the rule for the sine of its points: they crowd toward the ends, so
// that walls that stand upright at a lip are followed as well as level ones.
func (r rule) crowded() rule {
	var out rule
	for i, at := range r.at {
		sin, cos := math.Sincos(math.Pi / 2 * at)
		out.at[i], out.weight[i] = sin, math.Pi/2*cos*r.weight[i]
	}
	return out
}

// Properties returns the area, the centroid and the second moments of a section:
// integrals of the half thicknesses over y between the places where the surface
// changes. They are exact but for rounding where a face is straight, and good to about
// 1e-10 of the whole along arcs.
func (c CrossSection) Properties() SectionProperties {
	curved := twelvePoints().crowded()
	with, _ := c.properties(&curved)
	return with
}

// faceMoments are the integrals over y of a half thickness h: of h, y·h, y²·h, h²/2 and
// h³/3.
type faceMoments struct{ area, first, second, out, cubed float64 }

// add adds the place y with the half thickness h at the weight w.
func (m *faceMoments) add(w, y, h float64) {
	wh := w * h
	m.area += wh
	m.first += wh * y
	m.second += wh * y * y
	m.out += wh * h / 2
	m.cubed += wh * h * h / 3
}

// plus returns m and f times n.
func (m faceMoments) plus(f float64, n faceMoments) faceMoments {
	return faceMoments{m.area + f*n.area, m.first + f*n.first, m.second + f*n.second, m.out + f*n.out, m.cubed + f*n.cubed}
}

// properties returns the properties of the section, and those without its fullers. The
// rule is the one for curved pieces.
func (c *CrossSection) properties(curved *rule) (with, plain SectionProperties) {
	if c.Empty() {
		empty := SectionProperties{Y: c.Bottom}
		return empty, empty
	}
	ground := c.groundMoments(c.Bottom, c.Top, curved)
	right := c.faceMoments(Right, ground, curved)
	left := right
	if !c.alike {
		left = c.faceMoments(Left, ground, curved)
	}
	return c.propertiesOf(right, left), c.propertiesOf(ground, ground)
}

func (c *CrossSection) propertiesOf(right, left faceMoments) SectionProperties {
	p := SectionProperties{Area: right.area + left.area}
	if p.Area <= 0 {
		return SectionProperties{Y: c.Bottom}
	}
	p.Y = (right.first + left.first) / p.Area
	p.Z = (right.out - left.out) / p.Area
	p.Edge = right.second + left.second - float64(p.Area*p.Y)*p.Y
	p.Flat = right.cubed + left.cubed - float64(p.Area*p.Z)*p.Z
	return p
}

// groundMoments returns the moments of a face before the fullers between two places.
func (c *CrossSection) groundMoments(from, to float64, curved *rule) (m faceMoments) {
	ys, n := c.groundBreaks()
	for i := 1; i < n; i++ {
		if a, b := max(from, ys[i-1]), min(to, ys[i]); a < b {
			c.addGroundPiece(&m, a, b, curved)
		}
	}
	return m
}

// addGroundPiece adds a stretch of a face that one surface makes. Where that is straight,
// Simpson's rule is exact: the greatest power is the third.
func (c *CrossSection) addGroundPiece(m *faceMoments, from, to float64, curved *rule) {
	middle, half := (from+to)/2, (to-from)/2
	surface, straight := c.surfaceAt(middle)
	if straight {
		m.add(half/3, from, surface.height(from))
		m.add(4*half/3, middle, surface.height(middle))
		m.add(half/3, to, surface.height(to))
		return
	}
	for i, at := range curved.at {
		y := middle + half*at
		m.add(half*curved.weight[i], y, surface.height(y))
	}
}

// groundSurface is one of the surfaces that the grinder makes, along a section: a bevel,
// or the flat where there is none.
type groundSurface struct {
	bevel  *bevelCut
	inward float64 // 1 where the rim is the edge, -1 where it is the back
	flat   float64
}

// surfaceAt returns the surface that makes the face at y before the fullers, and whether
// it is straight.
func (c *CrossSection) surfaceAt(y float64) (groundSurface, bool) {
	edge, back := c.edge.over(y-c.edge.rim), c.back.over(c.back.rim-y)
	switch {
	case edge <= back && edge < c.Flat:
		return groundSurface{&c.edge, 1, 0}, c.edge.kind == FlatBevel
	case back < c.Flat:
		return groundSurface{&c.back, -1, 0}, c.back.kind == FlatBevel
	}
	return groundSurface{flat: c.Flat}, true
}

func (s groundSurface) height(y float64) float64 {
	if s.bevel == nil {
		return s.flat
	}
	return s.bevel.surface(s.inward * (y - s.bevel.rim))
}

// faceMoments returns the moments of a face with its fullers: those before the fullers
// with what each takes. Where fullers run into each other, the face is taken piece by
// piece.
func (c *CrossSection) faceMoments(face Face, ground faceMoments, curved *rule) faceMoments {
	m := ground
	var free [4]stretch
	taken := free[:0]
	for i := range c.grooves[face] {
		cut := c.grooves[face][i].across(c.X)
		lower, upper, ok := c.lips(&cut)
		if !ok {
			continue
		}
		s := stretch{max(lower, c.Bottom), min(upper, c.Top)}
		if slices.ContainsFunc(taken, s.overlaps) {
			return c.momentsByPieces(face, curved)
		}
		taken = append(taken, s)
		m = m.plus(-1, c.groundMoments(s.from, s.to, curved))
		m = m.plus(1, cut.moments(s, curved))
	}
	return m
}

// moments returns the moments of the groove between two places of its cut.
func (c *grooveCut) moments(s stretch, curved *rule) (m faceMoments) {
	middle, half := (s.from+s.to)/2, (s.to-s.from)/2
	for i, at := range curved.at {
		y := middle + half*at
		m.add(half*curved.weight[i], y, c.height(y))
	}
	return m
}

// stretch is what a fuller takes of a face.
type stretch struct{ from, to float64 }

func (s stretch) overlaps(t stretch) bool { return s.from < t.to && t.from < s.to }

func (c *CrossSection) momentsByPieces(face Face, curved *rule) (m faceMoments) {
	ys := c.breaks(face)
	for i := 1; i < len(ys); i++ {
		middle, half := (ys[i-1]+ys[i])/2, (ys[i]-ys[i-1])/2
		for j, at := range curved.at {
			y := middle + half*at
			m.add(half*curved.weight[j], y, c.Half(face, y))
		}
	}
	return m
}

// straight reports whether the piece of a face at y is a straight line.
func (c *CrossSection) straight(face Face, y float64) bool {
	if c.Half(face, y) < c.ground(y) {
		return false
	}
	_, straight := c.surfaceAt(y)
	return straight
}
