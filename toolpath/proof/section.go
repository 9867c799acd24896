package proof

import "math"

// GrooveSection is a groove as it was cut, at one column of nodes.
type GrooveSection struct {
	X      float64
	Depth  float64 // under the face there, mm
	Width  float64 // at the face, mm
	Centre float64 // y half way between the lips
}

// SectionAt measures the groove nearest to the place (x, y): its depth by the parabola
// through the lowest node and its neighbours, its lips by the parabola through the
// last three nodes inside, followed up to the face. ok is false where there is none.
func (m *Map) SectionAt(x, y float64) (s GrooveSection, ok bool) {
	g := m.Grid
	column := int(math.Round((x - g.X0) / g.Step))
	middle := int(math.Round((y - g.Y0) / g.Step))
	if column < 0 || column >= g.Columns || middle < 0 || middle >= g.Rows {
		return s, false
	}
	depth := func(row int) float64 { return m.Stock(column, row) - m.At(column, row) }
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

// Web returns the least steel between two faces, and where: the sum of their heights
// at the nodes, which must be the same ones.
func Web(right, left *Map) Deviation {
	least := Deviation{Value: math.Inf(1)}
	g := right.Grid
	for row := range g.Rows {
		for column := range g.Columns {
			if w := right.At(column, row) + left.At(column, row); w < least.Value {
				least = Deviation{Value: w, X: g.X(column), Y: g.Y(row)}
			}
		}
	}
	return least
}

// Mismatch returns the greatest difference in height between two faces whose designs
// are alike, and where.
func Mismatch(right, left *Map) Deviation {
	var most Deviation
	g := right.Grid
	for row := range g.Rows {
		for column := range g.Columns {
			if d := math.Abs(right.At(column, row) - left.At(column, row)); d > most.Value {
				most = Deviation{Value: d, X: g.X(column), Y: g.Y(row)}
			}
		}
	}
	return most
}
