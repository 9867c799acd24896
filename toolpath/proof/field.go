package proof

import "math"

// Field is a deviation at each node of a grid, for pictures.
type Field struct {
	Grid Grid
	// Values are by rows, cut less design, upright, mm: below 0 where the cut is too
	// deep. NaN where nothing is designed or cut.
	Values []float32
}

// Field returns how far the map lies from a design at every node.
func (m *Map) Field(design Target) Field {
	f := Field{Grid: m.Grid, Values: make([]float32, len(m.Height))}
	for i, d := range m.deviations(design) {
		f.Values[i] = float32(d)
	}
	return f
}

// deviations returns how far the cut lies from the target at every node.
func (m *Map) deviations(design Target) []float64 {
	g := m.Grid
	out := make([]float64, len(m.Height))
	inRows(g, func(row int) {
		y := g.Y(row)
		for column := range g.Columns {
			i := row*g.Columns + column
			out[i] = m.from(design, g.X(column), y, m.Height[i], m.stock[i])
		}
	})
	return out
}

// Profile is a section of a face: heights at places along x or y, mm.
type Profile struct{ At, Design, Cut, Stock []float64 }

func (p *Profile) add(at float64, design, cut, stock float64) {
	p.At, p.Design, p.Cut, p.Stock = append(p.At, at), append(p.Design, design), append(p.Cut, cut), append(p.Stock, stock)
}

// Across returns the section across the blade in the column of nodes nearest to x:
// heights over y.
func (m *Map) Across(design Surface, x float64) Profile {
	var p Profile
	column := nearest((x-m.Grid.X0)/m.Grid.Step, m.Grid.Columns)
	for row := range m.Grid.Rows {
		y := m.Grid.Y(row)
		p.add(y, design.Height(m.Grid.X(column), y), m.At(column, row), m.Stock(column, row))
	}
	return p
}

// Along returns the section along the blade in the row of nodes nearest to y: heights
// over x.
func (m *Map) Along(design Surface, y float64) Profile {
	var p Profile
	row := nearest((y-m.Grid.Y0)/m.Grid.Step, m.Grid.Rows)
	for column := range m.Grid.Columns {
		x := m.Grid.X(column)
		p.add(x, design.Height(x, m.Grid.Y(row)), m.At(column, row), m.Stock(column, row))
	}
	return p
}

// nearest returns the number nearest to a place, of those below n.
func nearest(place float64, n int) int {
	return int(math.Max(0, math.Min(float64(n-1), math.Round(place))))
}
