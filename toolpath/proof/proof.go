// Package proof cuts a simulated bar with the motions that were read from a program's
// text, and compares what is left with the design.
//
// It works in the face frame of the blade (motion.Placement): x toward the point, y
// toward the spine, h the height over the blade's centre-plane toward the face that is
// up, all in millimetres. The bar's face is a map of heights at the nodes of a grid. A
// node's height after a motion is exact but for rounding: the lowest place that the
// cutter's envelope reaches over it. What lies between nodes is known within a bound
// that is stated (Grid.Bound). The package takes its motions from a reader and its
// target from the design; it shares no code with whatever planned the cut.
//
// A map of heights shows no undercuts; an upright cutter leaves none.
package proof

import (
	"math"

	"fullerwright/toolpath/motion"
)

// Grid is the set of nodes at which the bar is looked at: Columns by Rows of them,
// Step apart, the first at (X0, Y0).
type Grid struct {
	X0, Y0, Step  float64
	Columns, Rows int
}

// X returns the x of a column of nodes.
func (g Grid) X(column int) float64 { return g.X0 + float64(float64(column)*g.Step) }

// Y returns the y of a row of nodes.
func (g Grid) Y(row int) float64 { return g.Y0 + float64(float64(row)*g.Step) }

// Box is an upright box of the face frame.
type Box struct{ MinX, MinY, MaxX, MaxY float64 }

// Join returns the smallest box that holds both.
func (b Box) Join(c Box) Box {
	return Box{math.Min(b.MinX, c.MinX), math.Min(b.MinY, c.MinY), math.Max(b.MaxX, c.MaxX), math.Max(b.MaxY, c.MaxY)}
}

// GridOver returns the grid of the given step that covers a box.
func GridOver(b Box, step float64) Grid {
	return Grid{X0: b.MinX, Y0: b.MinY, Step: step,
		Columns: int(math.Ceil((b.MaxX-b.MinX)/step)) + 1, Rows: int(math.Ceil((b.MaxY-b.MinY)/step)) + 1}
}

// Bound returns how far a surface between the nodes may lie from the one through
// them, square to the wall, mm.
//
// Between two nodes a curve departs from its chord by at most h²/8 times its second
// derivative. A wall of curvature 1/r that leans by θ has, upright, at most
// 1/(r·cos³θ), and 1/(r·cos²θ) square to itself; there are two directions. The design
// is evaluated at the same nodes and is less curved than the cut, so that the bound
// holds for their difference. It holds between the ridges where two passes meet; at a
// ridge that stands between nodes the cut is looked at on its own (Judgement.Leftover).
func (g Grid) Bound(radius, lean float64) float64 {
	return 2 * g.Step * g.Step / (8 * radius * math.Cos(lean) * math.Cos(lean))
}

// StepFor returns the step at which Bound is the given one, but at most coarsest.
func StepFor(bound, radius, lean, coarsest float64) float64 {
	return math.Min(coarsest, 2*math.Cos(lean)*math.Sqrt(bound*radius))
}

// Surface is a height over every place of a face, -Inf where there is no bar.
type Surface interface {
	Height(x, y float64) float64
}

// Map is a face of the bar: a height at each node and the line of the program that
// last lowered it. Only Cut changes it.
type Map struct {
	Grid   Grid
	Height []float64 // by rows; -Inf outside the bar
	Line   []int32   // 0 where nothing was cut
	stock  []float64 // as it was before the first cut
	top    float64   // greatest height of the stock
	bar    Surface   // before the first cut
	below  Surface   // what the face was lowered to before; nil for nothing
	cuts   []sweep   // all that has cut, in order
	before int       // how many of them had cut when the map was settled

	// Watch, where it is not nil, is told how many of all parts of the map a cut has
	// been made in, by several goroutines.
	Watch func(done, all int)
}

// NewMap returns the face of a bar before it is cut.
func NewMap(g Grid, stock Surface) *Map {
	n := g.Columns * g.Rows
	m := &Map{Grid: g, Height: make([]float64, n), Line: make([]int32, n), top: math.Inf(-1), bar: stock}
	inRows(g, func(row int) {
		y := g.Y(row)
		for column := range g.Columns {
			m.Height[row*g.Columns+column] = stock.Height(g.X(column), y)
		}
	})
	m.stock = append([]float64(nil), m.Height...)
	for _, h := range m.stock {
		m.top = math.Max(m.top, h)
	}
	return m
}

// Lower takes the face down to a surface where that lies under it: what was cut before
// and is known by its measures alone.
func (m *Map) Lower(to Surface) {
	m.below = to
	g := m.Grid
	inRows(g, func(row int) {
		for column := range g.Columns {
			i := row*g.Columns + column
			m.Height[i] = math.Min(m.Height[i], to.Height(g.X(column), g.Y(row)))
		}
	})
}

// At returns the height at a node.
func (m *Map) At(column, row int) float64 { return m.Height[row*m.Grid.Columns+column] }

// HeightAt returns the height at any place on the map, exact but for rounding, from all
// that has cut. It takes as long as there were motions: the nodes are for looking at
// many places.
func (m *Map) HeightAt(x, y float64) float64 { return m.heightAfter(m.cuts, x, y) }

// heightAfter returns the height at a place after some sweeps.
func (m *Map) heightAfter(sweeps []sweep, x, y float64) float64 {
	low := m.bar.Height(x, y)
	if m.below != nil {
		low = math.Min(low, m.below.Height(x, y))
	}
	var spans []span
	for i := range sweeps {
		s := &sweeps[i]
		if s.lowest >= low || x < s.reach.MinX || x > s.reach.MaxX || y < s.reach.MinY || y > s.reach.MaxY {
			continue
		}
		spans = s.shape.spans(y, spans[:0])
		for _, p := range spans {
			if x < p.x0-joint || x > p.x1+joint {
				continue
			}
			h := p.at(x)
			if p.node {
				h = s.shape.over(x, y)
			}
			if h < low {
				low = h
			}
		}
	}
	return low
}

// Stock returns the height at a node before the first cut.
func (m *Map) Stock(column, row int) float64 { return m.stock[row*m.Grid.Columns+column] }

// toFace takes a motion from the work frame to the face frame. A frame with one of
// its axes turned round sees arcs the other way.
func toFace(v motion.Motion, p motion.Placement) motion.Motion {
	v.From, v.To, v.Centre = p.Face(v.From), p.Face(v.To), p.Face(v.Centre)
	turned := map[motion.Plane]float64{motion.PlaneXY: p.SignX * p.SignY, motion.PlaneZX: p.SignX, motion.PlaneYZ: p.SignY}
	v.Sweep *= turned[v.Plane]
	return v
}
