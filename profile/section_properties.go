package profile

import "math"

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
type rule struct{ at, weight []float64 }

// Gauss-Legendre rules of 3 and 12 points (Abramowitz and Stegun, Handbook of
// Mathematical Functions, table 25.4, from memory; a test holds them against gonum's).
// Three points are exact for the straight pieces of a section, twelve are good to
// rounding for its arcs.
func threePoints() rule {
	return rule{[]float64{-0.7745966692414834, 0, 0.7745966692414834},
		[]float64{5.0 / 9, 8.0 / 9, 5.0 / 9}}
}

func twelvePoints() rule {
	half := []float64{0.1252334085114689, 0.3678314989981802, 0.5873179542866175, 0.7699026741943047, 0.9041172563704749, 0.9815606342467192}
	weights := []float64{0.2491470458134028, 0.2334925365383548, 0.2031674267230659, 0.1600783285433462, 0.1069393259953184, 0.0471753363865118}
	var r rule
	for i := range half {
		r.at = append(r.at, -half[i], half[i])
		r.weight = append(r.weight, weights[i], weights[i])
	}
	return r
}

// over integrates f from a to b.
func (r rule) over(a, b float64, f func(at, weight float64)) {
	middle, half := (a+b)/2, (b-a)/2
	for i, at := range r.at {
		f(middle+half*at, half*r.weight[i])
	}
}

// rules are the rules used for a section.
type rules struct{ straight, curved rule }

func newRules() rules { return rules{threePoints(), twelvePoints().crowded()} }

// crowded returns the rule for the sine of its points: they crowd toward the ends, so
// that walls that stand upright at a lip are followed as well as level ones.
func (r rule) crowded() rule {
	var out rule
	for i, at := range r.at {
		sin, cos := math.Sincos(math.Pi / 2 * at)
		out.at, out.weight = append(out.at, sin), append(out.weight, math.Pi/2*cos*r.weight[i])
	}
	return out
}

// Properties returns the area, the centroid and the second moments of a section:
// integrals of the half thicknesses over y between the places where the surface
// changes. They are exact but for rounding where a face is straight, and good to about
// 1e-10 of the whole along arcs.
func (c CrossSection) Properties() SectionProperties { return c.properties(newRules()) }

// faceMoments are the integrals over y of a half thickness h: of h, y·h, y²·h, h²/2 and
// h³/3.
type faceMoments struct{ area, first, second, out, cubed float64 }

func (c CrossSection) properties(r rules) SectionProperties {
	if c.Empty() {
		return SectionProperties{Y: c.Bottom}
	}
	right := c.faceMoments(Right, r)
	left := right
	if !c.alike {
		left = c.faceMoments(Left, r)
	}
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

func (c CrossSection) faceMoments(face Face, r rules) (m faceMoments) {
	ys := c.breaks(face)
	for i := 1; i < len(ys); i++ {
		use := r.curved
		if c.straight(face, (ys[i-1]+ys[i])/2) {
			use = r.straight
		}
		use.over(ys[i-1], ys[i], func(y, w float64) {
			h := c.Half(face, y)
			m.area += w * h
			m.first += w * y * h
			m.second += w * y * y * h
			m.out += w * h * h / 2
			m.cubed += w * h * h * h / 3
		})
	}
	return m
}

// straight reports whether the piece of a face at y is a straight line.
func (c CrossSection) straight(face Face, y float64) bool {
	h := c.ground(y)
	for _, g := range c.grooves[face] {
		if g.Height(c.X, y) < h {
			return false
		}
	}
	edge, back := c.edge.over(y-c.edge.rim), c.back.over(c.back.rim-y)
	switch {
	case edge <= back && edge < c.Flat:
		return c.edge.kind == FlatBevel
	case back < c.Flat:
		return c.back.kind == FlatBevel
	}
	return true
}

// Least returns the least thickness of the section and where it lies, between two
// places: of the web under opposite fullers, or of a hollow bevel. It looks at the
// breaks and at n places between each two of them.
func (c CrossSection) Least(from, to float64) (thickness, y float64) {
	const n = 8
	thickness = math.Inf(1)
	consider := func(at float64) {
		if at < from || at > to {
			return
		}
		if t := c.Half(Right, at) + c.Half(Left, at); t < thickness {
			thickness, y = t, at
		}
	}
	consider(from)
	consider(to)
	for _, face := range Faces() {
		ys := c.breaks(face)
		for i := 1; i < len(ys); i++ {
			for j := range n + 1 {
				consider(ys[i-1] + (ys[i]-ys[i-1])*float64(j)/n)
			}
		}
	}
	return thickness, y
}
