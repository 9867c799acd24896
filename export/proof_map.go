package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/toolpath"
	"fullerwright/toolpath/proof"
)

// deviation is a map of the difference between cut and design, laid on paper.
type deviation struct {
	unit            document.Unit // that lengths are told in
	step            toolpath.Step
	m               *proof.Map
	field           proof.Field
	gouge, leftover float64
	columns, rows   [2]int     // that are shown, the first and the last
	scale           float64    // paper over steel
	corner          geom.Point // on paper, of the node of least x and y that is shown
}

// aroundMilled is how far around what is milled a map shows the bar, mm.
const aroundMilled = 4

// newDeviation returns the map of a proof, to be placed in a box of the given size.
func newDeviation(p toolpath.FaceProof, gouge, leftover, width, height float64) deviation {
	d := deviation{step: p.Step, m: p.Map, field: p.Map.Field(p.Target), gouge: gouge, leftover: leftover}
	g := d.m.Grid
	d.columns, d.rows = [2]int{0, g.Columns - 1}, [2]int{0, g.Rows - 1}
	if p.Step.Operation != toolpath.Slot { // the slot is looked at in its whole blank
		d.lookCloser()
	}
	w, h := d.size()
	d.scale = math.Min(width/w, height/h)
	return d
}

// lookCloser shows what is milled and a little around it.
func (d *deviation) lookCloser() {
	low, high, any := d.milled()
	if !any {
		return
	}
	around := int(math.Ceil(aroundMilled / d.m.Grid.Step))
	d.columns = [2]int{max(0, low[0]-around), min(d.columns[1], high[0]+around)}
	d.rows = [2]int{max(0, low[1]-around), min(d.rows[1], high[1]+around)}
}

// size returns the length and height of what is shown, mm.
func (d deviation) size() (length, height float64) {
	step := d.m.Grid.Step
	return float64(d.columns[1]-d.columns[0]) * step, float64(d.rows[1]-d.rows[0]) * step
}

// milled returns the first and the last column and row with nodes that are designed or cut.
func (d deviation) milled() (low, high [2]int, any bool) {
	g := d.m.Grid
	low, high = [2]int{g.Columns, g.Rows}, [2]int{-1, -1}
	for row := range g.Rows {
		for column := range g.Columns {
			if math.IsNaN(float64(d.field.Values[row*g.Columns+column])) {
				continue
			}
			low = [2]int{min(low[0], column), min(low[1], row)}
			high = [2]int{max(high[0], column), max(high[1], row)}
		}
	}
	return low, high, high[0] >= 0
}

func (d *deviation) place() {
	width, height := d.size()
	d.corner = geom.Point{X: (pictureWidth - width*d.scale) / 2, Y: pictureHeight - pictureMargin - 20 - height*d.scale}
}

func (d deviation) at(x, y float64) geom.Point {
	g := d.m.Grid
	return geom.Point{X: d.corner.X + (x-g.X(d.columns[0]))*d.scale, Y: d.corner.Y + (y-g.Y(d.rows[0]))*d.scale}
}

// classAt returns the class of a node; ok is false where nothing is designed or cut.
func (d deviation) classAt(column, row int) (share float64, ok bool) {
	off := float64(d.field.Values[row*d.m.Grid.Columns+column])
	switch {
	case math.IsNaN(off):
		return 0, false
	case off < 0:
		return off / d.gouge, true
	}
	return off / d.leftover, true
}

func classOf(share float64) class {
	classes := overClasses
	if share < 0 {
		classes, share = underClasses, -share
	}
	for _, c := range classes {
		if share > c.least {
			return c
		}
	}
	return closeClass
}

// drawMap fills blocks of nodes by the worst of them, runs of alike blocks at once.
func (d deviation) drawMap(s *sheet.Sheet) {
	g := d.m.Grid
	nodes := max(1, int(math.Ceil(blockMM/(g.Step*d.scale))))
	for row := d.rows[0]; row <= d.rows[1]; row += nodes {
		start, current, drawn := d.columns[0], class{}, false
		flush := func(end int) {
			if drawn {
				d.fill(s, current, start, min(d.columns[1], end), row, min(d.rows[1], row+nodes))
			}
		}
		for column := d.columns[0]; column <= d.columns[1]; column += nodes {
			share, ok := d.worst(column, row, nodes)
			if c := classOf(share); ok != drawn || c != current {
				flush(column)
				start, current, drawn = column, c, ok
			}
		}
		flush(d.columns[1])
	}
	low, high := d.at(g.X(d.columns[0]), g.Y(d.rows[0])), d.at(g.X(d.columns[1]), g.Y(d.rows[1]))
	s.Add("frame", "frame", sheet.Rectangle(sheet.Pen{Width: 0.2}, low.X, low.Y, high.X-low.X, high.Y-low.Y))
}

// worst returns the greatest share of tolerance in a block of nodes.
func (d deviation) worst(column, row, nodes int) (share float64, ok bool) {
	for r := row; r <= min(d.rows[1], row+nodes-1); r++ {
		for c := column; c <= min(d.columns[1], column+nodes-1); c++ {
			if v, here := d.classAt(c, r); here {
				ok = true
				if math.Abs(v) > math.Abs(share) {
					share = v
				}
			}
		}
	}
	return share, ok
}

func (d deviation) fill(s *sheet.Sheet, c class, from, to, low, high int) {
	g := d.m.Grid
	a, b := d.at(g.X(from), g.Y(low)), d.at(g.X(to), g.Y(high))
	box := sheet.Box{MinX: a.X, MinY: a.Y, MaxX: b.X, MaxY: b.Y}
	s.Add("map", "deviation", sheet.Filled(c.fill, box))
	if c.hatch {
		s.Add("hatching", "beyond tolerance", sheet.Hatch(sheet.Pen{Width: 0.1}, box, 0.6))
	}
}

// stationRoom is the least distance between stations, mm on paper.
const stationRoom = 8

// drawStations marks every one, two, five, ten or more millimetres from the guard plane, or
// tenths of an inch, and the way to point and spine.
func (d deviation) drawStations(s *sheet.Sheet) {
	g := d.m.Grid
	every, text := 1.0, "%.0f"
	if d.unit == document.Inch {
		every, text = 0.1*d.unit.Millimetres(), "%.1f"
	}
	for _, step := range []float64{2, 2.5, 2} { // 2, 5, 10
		if every*d.scale < stationRoom {
			every *= step
		}
	}
	for every*d.scale < stationRoom {
		every *= 2
	}
	first := math.Ceil(g.X(d.columns[0])/every) * every
	for n := 0; first+float64(n)*every <= g.X(d.columns[1]); n++ {
		x := first + float64(n)*every
		p := d.at(x, g.Y(d.rows[0]))
		s.Add("frame", "frame", sheet.Line(sheet.Pen{Width: 0.15}, p.X, p.Y, p.X, p.Y-1.5),
			sheet.Text{At: geom.Point{X: p.X, Y: p.Y - 4.5}, Height: 2.2, Anchor: sheet.Middle, Content: fmt.Sprintf(text, x/d.unit.Millimetres()+0)})
	}
	s.Add("notes", "notes",
		sheet.Text{At: geom.Point{X: pictureMargin, Y: d.corner.Y - 9}, Height: 2.5, Content: sayWays(d.step, d.unit)},
		sheet.Text{At: geom.Point{X: pictureWidth - pictureMargin, Y: d.corner.Y - 9}, Height: 2.5, Anchor: sheet.End, Content: fmt.Sprintf("map %.2f to 1", d.scale)})
}
