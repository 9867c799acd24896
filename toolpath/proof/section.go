package proof

import "math"

// GrooveSection is a groove as it was cut, at one column of nodes.
type GrooveSection struct {
	X      float64
	Depth  float64 // under the face there, mm
	Width  float64 // at the face, mm
	Centre float64 // y half way between the lips
}

// Station is a groove as it was cut beside the groove as designed.
type Station struct {
	X                                      float64
	Depth, Width, Centre                   float64
	DesignDepth, DesignWidth, DesignCentre float64
}

// SectionAt measures the groove nearest to the place (x, y): its depth by the parabola
// through the lowest node and its neighbours, its lips by the parabola through the
// last three nodes inside, followed up to the face. ok is false where there is none.
func (m *Map) SectionAt(x, y float64) (s GrooveSection, ok bool) {
	return m.measure(x, y, func(column, row int) float64 { return m.Stock(column, row) - m.At(column, row) })
}

// Station measures the groove nearest to the place (x, y) in the cut and in the design,
// both in the same way at the same nodes.
func (m *Map) Station(design Surface, x, y float64) (s Station, ok bool) {
	cut, found := m.SectionAt(x, y)
	wanted, designed := m.measure(x, y, func(column, row int) float64 {
		return m.Stock(column, row) - design.Height(m.Grid.X(column), m.Grid.Y(row))
	})
	if !found && !designed {
		return s, false
	}
	return Station{math.Max(cut.X, wanted.X), cut.Depth, cut.Width, cut.Centre, wanted.Depth, wanted.Width, wanted.Centre}, true
}

func (m *Map) measure(x, y float64, under func(column, row int) float64) (s GrooveSection, ok bool) {
	g := m.Grid
	column := int(math.Round((x - g.X0) / g.Step))
	middle := int(math.Round((y - g.Y0) / g.Step))
	if column < 0 || column >= g.Columns || middle < 0 || middle >= g.Rows {
		return s, false
	}
	depth := func(row int) float64 { return under(column, row) }
	inside := func(row int) bool { return row >= 0 && row < g.Rows && depth(row) > 0 }
	if !inside(middle) {
		return s, false
	}
	low, high := middle, middle
	for inside(low - 1) {
		low--
	}
	for inside(high + 1) {
		high++
	}
	if high-low < 4 {
		return s, false
	}
	deepest := low
	for row := low; row <= high; row++ {
		if depth(row) > depth(deepest) {
			deepest = row
		}
	}
	s.X = g.X(column)
	s.Depth = peak(depth(max(low, deepest-1)), depth(deepest), depth(min(high, deepest+1)))
	bottom := g.Y(low) - g.Step*beyond(depth(low+2), depth(low+1), depth(low))
	top := g.Y(high) + g.Step*beyond(depth(high-2), depth(high-1), depth(high))
	s.Width, s.Centre = top-bottom, (top+bottom)/2
	return s, true
}

// peak returns the top of the parabola through three values a step apart, of which the
// middle one is greatest.
func peak(a, b, c float64) float64 {
	bend := a - 2*b + c
	if bend >= 0 {
		return b
	}
	return b - (c-a)*(c-a)/(8*bend)
}

// beyond returns how many steps after the last of three values, a step apart and
// falling, their parabola comes to 0: between 0 and 1 by the choice of the nodes.
func beyond(a, b, c float64) float64 {
	bend := (a - 2*b + c) / 2
	slope := (3*c - 4*b + a) / 2 // at the last
	if math.Abs(bend) < 1e-12 {
		return math.Min(1, math.Max(0, -c/slope))
	}
	root := math.Sqrt(math.Max(0, slope*slope-4*bend*c))
	return math.Min(1, math.Max(0, -2*c/(slope-root)))
}

// LeastLand returns the narrowest flat of the face that is left across the blade: from
// lip to lip of neighbouring grooves, or from a lip to the side of the bar where that
// lies on the map (to the last node on the bar). +Inf where there is none.
func (m *Map) LeastLand() Deviation {
	g := m.Grid
	out := Deviation{Value: math.Inf(1)}
	for column := range g.Columns {
		if d := m.landIn(column); d.Value < out.Value {
			out = d
		}
	}
	return out
}

// landIn returns the narrowest flat in a column.
func (m *Map) landIn(column int) Deviation {
	g := m.Grid
	out := Deviation{Value: math.Inf(1)}
	start, bounded := 0.0, false // where the flat at hand begins, and whether it does on the map
	onBar := func(row int) bool { return !math.IsInf(m.Stock(column, row), -1) }
	depth := func(row int) float64 { return m.Stock(column, row) - m.At(column, row) }
	flat := func(row int) bool { return onBar(row) && depth(row) <= touch }
	end := func(end float64) {
		if width := end - start; bounded && width < out.Value {
			out = Deviation{Value: width, X: g.X(column), Y: (start + end) / 2}
		}
	}
	seen := false // a groove, on either side of the flat
	for row := range g.Rows {
		if row == 0 || flat(row) == flat(row-1) && onBar(row) == onBar(row-1) {
			continue
		}
		switch {
		case flat(row) && onBar(row-1): // out of a groove
			start, bounded, seen = g.Y(row-1)+g.Step*m.lip(column, row-1, -1), true, true
		case flat(row): // on to the bar
			start, bounded, seen = g.Y(row), true, false
		case flat(row-1) && onBar(row): // into a groove
			end(g.Y(row) - g.Step*m.lip(column, row, 1))
		case flat(row-1) && seen: // off the bar
			end(g.Y(row - 1))
		}
	}
	return out
}

// lip returns how many steps before the groove's last node, seen from the side that
// inward points away from, its wall comes up to the face.
func (m *Map) lip(column, row, inward int) float64 {
	depth := func(k int) float64 { return m.Stock(column, row+k*inward) - m.At(column, row+k*inward) }
	for k := 1; k <= 2; k++ {
		if r := row + k*inward; r < 0 || r >= m.Grid.Rows || !(depth(k) > depth(k-1)) {
			return 0.5 // a groove of few nodes
		}
	}
	return beyond(depth(2), depth(1), depth(0))
}
