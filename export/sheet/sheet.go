// Package sheet describes drawings once and renders them to SVG, PDF and PNG.
//
// Lengths are millimetres on paper at true size, x to the right and y up from the lower
// left corner of the sheet. A drawing is the same in every format; text is measured by
// the real widths of the font it is drawn in (the Go fonts).
package sheet

import (
	"math"

	"fullerwright/profile/geom"
)

// Sheet is one drawing.
type Sheet struct {
	Title, Description string
	Width, Height      float64
	Layers             []Layer
	Warp               Warp // of everything drawn, when it is rendered
}

// Layer is a named group of things drawn.
type Layer struct {
	ID, Label string
	Items     []Item
}

// Item is a Path or a Text.
type Item interface{ item() }

// Pen draws lines: black, Width wide, dashed where Dash gives strokes and gaps in turn.
type Pen struct {
	Width float64
	Dash  []float64
}

// Path is a run of pieces, drawn by a pen in black and filled with a colour as #rrggbb,
// or not filled where Fill is empty.
type Path struct {
	Pieces []geom.Piece
	Pen    Pen
	Fill   string
}

// Anchor says which end of a text its place is.
type Anchor uint8

// The anchors of a text, all on its baseline.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of writing. Height is that of its capitals.
type Text struct {
	At      geom.Point
	Height  float64
	Anchor  Anchor
	Upright bool // turned a quarter counterclockwise
	Bold    bool
	Content string
}

func (Path) item() {}
func (Text) item() {}

// Add puts items on the layer of the given name, which is made when it is not there.
func (s *Sheet) Add(id, label string, items ...Item) {
	for i := range s.Layers {
		if s.Layers[i].ID == id {
			s.Layers[i].Items = append(s.Layers[i].Items, items...)
			return
		}
	}
	s.Layers = append(s.Layers, Layer{ID: id, Label: label, Items: items})
}

// Line returns a straight line.
func Line(pen Pen, x0, y0, x1, y1 float64) Path {
	return Path{Pieces: []geom.Piece{geom.Line{From: geom.Point{X: x0, Y: y0}, To: geom.Point{X: x1, Y: y1}}}, Pen: pen}
}

// Polyline returns straight lines from point to point.
func Polyline(pen Pen, points []geom.Point) Path {
	p := Path{Pen: pen}
	for i := 1; i < len(points); i++ {
		if points[i] != points[i-1] {
			p.Pieces = append(p.Pieces, geom.Line{From: points[i-1], To: points[i]})
		}
	}
	return p
}

// Rectangle returns an upright rectangle.
func Rectangle(pen Pen, x, y, width, height float64) Path {
	return Polyline(pen, []geom.Point{{X: x, Y: y}, {X: x + width, Y: y}, {X: x + width, Y: y + height}, {X: x, Y: y + height}, {X: x, Y: y}})
}

// Filled returns an upright rectangle filled with a colour.
func Filled(fill string, b Box) Path {
	p := Rectangle(Pen{}, b.MinX, b.MinY, b.MaxX-b.MinX, b.MaxY-b.MinY)
	p.Fill = fill
	return p
}

// Hatch returns lines at 45 degrees, apart by the given distance, inside an upright
// rectangle.
func Hatch(pen Pen, b Box, apart float64) Path {
	p := Path{Pen: pen}
	// The line x - y = c meets the rectangle between its lower left and upper right.
	first := math.Ceil((b.MinX - b.MaxY) / apart)
	for c := first * apart; c < b.MaxX-b.MinY; c += apart {
		x0, x1 := math.Max(b.MinX, c+b.MinY), math.Min(b.MaxX, c+b.MaxY)
		if x1 > x0 {
			p.Pieces = append(p.Pieces, geom.Line{From: geom.Point{X: x0, Y: x0 - c}, To: geom.Point{X: x1, Y: x1 - c}})
		}
	}
	return p
}

// Circle returns a circle.
func Circle(pen Pen, centre geom.Point, radius float64) Path {
	return Path{Pieces: []geom.Piece{geom.Arc{Centre: centre, Radius: radius, Sweep: 360 * geom.Degree}}, Pen: pen}
}
