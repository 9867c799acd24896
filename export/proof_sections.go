package export

import (
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/toolpath"
	"fullerwright/toolpath/proof"
)

// drawSections draws a section along the first fuller of the face and three across it:
// the design as a line, the cut as dots.
func drawSections(s *sheet.Sheet, b profile.Blade, p toolpath.FaceProof, d deviation) {
	index := -1
	for i, f := range b.Fullers {
		if index < 0 && f.Size.Cut(p.Step.Face) {
			index = i
		}
	}
	if index < 0 {
		return
	}
	f := b.On(p.Step.Face).Fullers[index]
	base := pictureMargin + 6
	s.Add("notes", "notes", sheet.Text{At: geom.Point{X: pictureMargin + 175, Y: pictureMargin - 3}, Height: 2.2, Content: "sections across: spine to the left"})
	height := d.corner.Y - 44 - base
	along := section{x: pictureMargin, y: base, width: 165, height: height,
		title: "along the centreline of the first fuller, depth enlarged; line: design, dots: cut", unit: d.unit}
	at := func(x float64) float64 { c, _ := f.Milled.Place(f.Milled.AtX(x)); return c.Y }
	var design, cut []geom.Point
	g := d.m.Grid
	for column := range g.Columns {
		x := g.X(column)
		row := int(math.Round((at(x) - g.Y0) / g.Step))
		if row < 0 || row >= g.Rows {
			continue
		}
		design = append(design, geom.Point{X: x, Y: p.Target.Low.Height(x, at(x)) - d.m.Stock(column, row)})
		if column%12 == 0 {
			cut = append(cut, geom.Point{X: x, Y: d.m.At(column, row) - d.m.Stock(column, row)})
		}
	}
	along.draw(s, [][]geom.Point{design}, cut)
	for i, share := range []float64{0.02, 0.5, 0.98} {
		x := f.StartFull + (f.EndFull-f.StartFull)*share
		across := section{x: pictureMargin + 175 + float64(i)*34, y: base, width: 30, height: height, title: document.Say("across at %.0f", document.Dimension(x)).In(d.unit), unit: d.unit}
		column := int(math.Round((x - g.X0) / g.Step))
		design, cut = nil, nil
		for row := range g.Rows {
			y := g.Y(row)
			if math.Abs(y-at(x)) > 1.3*f.Milled.HalfWidth(f.Milled.AtX(x), b.Bar.Face(x)) {
				continue
			}
			design = append(design, geom.Point{X: -y, Y: p.Target.Low.Height(g.X(column), y) - d.m.Stock(column, row)})
			if row%6 == 0 {
				cut = append(cut, geom.Point{X: -y, Y: d.m.At(column, row) - d.m.Stock(column, row)})
			}
		}
		across.draw(s, [][]geom.Point{design}, cut)
	}
}

// drawMiddleSections draws a section along what was milled where most was cut, and two
// across it.
func drawMiddleSections(s *sheet.Sheet, b profile.Blade, p toolpath.FaceProof, d deviation) {
	row, columns, any := mostCut(p.Map)
	if !any {
		return
	}
	base := pictureMargin + 6
	height := d.corner.Y - 44 - base
	face := faceHeight(b, p.Step)
	g := p.Map.Grid
	design, cut := sectionPoints(p.Map.Along(p.Target.Low, g.Y(row)), 1, d.columns, face)
	section{x: pictureMargin, y: base, width: 165, height: height, title: document.Say("%s, depth enlarged; line: design, dots: cut", sayAlong(p.Step, g.Y(row))).In(d.unit), unit: d.unit}.draw(s, design, cut)
	for i, column := range columns {
		x := g.X(column)
		design, cut := sectionPoints(p.Map.Across(p.Target.Low, x), -1, d.rows, func(float64) float64 { return face(x) })
		section{x: pictureMargin + 175 + float64(i)*51, y: base, width: 46, height: height, title: document.Say("across at %.1f mm", tenths(x)).In(d.unit), unit: d.unit}.draw(s, design, cut)
	}
	if p.Step.Operation != toolpath.Slot {
		s.Add("notes", "notes", sheet.Text{At: geom.Point{X: pictureMargin + 175, Y: pictureMargin - 3}, Height: 2.2, Content: "sections across: spine to the left"})
	}
}

// faceHeight returns how high the face that is milled lies over the middle of bar or
// blank, before anything was cut.
func faceHeight(b profile.Blade, step toolpath.Step) func(x float64) float64 {
	if slot, has := b.GuardSlot(0); has && step.Operation == toolpath.Slot {
		return func(float64) float64 { return slot.Thickness / 2 }
	}
	return b.Bar.Face
}

// sayAlong says where a section along the work lies.
func sayAlong(step toolpath.Step, y float64) document.Sentence {
	switch {
	case step.Operation == toolpath.Slot:
		return document.Say("along, %.1f mm from the middle", tenths(math.Abs(y)))
	case y > 0:
		return document.Say("along, %.1f mm above the spine line", tenths(y))
	}
	return document.Say("along, %.1f mm below the spine line", tenths(-y))
}

// tenths rounds a length to a tenth of a millimetre, so that none is told as -0.0.
func tenths(mm float64) float64 { return math.Round(10*mm)/10 + 0 }

// leastCut is how deep a node must be cut to count as cut, mm.
const leastCut = 1e-3

// mostCut returns the row in which a program cut most nodes, and two columns, those of
// each half of the cut; ok is false where it cut none.
func mostCut(m *proof.Map) (row int, columns [2]int, ok bool) {
	g := m.Grid
	inRow, inColumn := make([]int, g.Rows), make([]int, g.Columns)
	first, last := g.Columns, -1
	for r := range g.Rows {
		for c := range g.Columns {
			if m.At(c, r) < m.Stock(c, r)-leastCut {
				inRow[r]++
				inColumn[c]++
				first, last = min(first, c), max(last, c)
			}
		}
	}
	if last < 0 {
		return 0, columns, false
	}
	middle := (first + last + 1) / 2
	return greatest(inRow, 0, g.Rows-1), [2]int{greatest(inColumn, first, max(first, middle-1)), greatest(inColumn, middle, last)}, true
}

// greatest returns the place of the greatest count from one place to another, of the first
// run of alike ones its middle.
func greatest(count []int, from, to int) int {
	best, end := from, from
	for i := from + 1; i <= to; i++ {
		switch {
		case count[i] > count[best]:
			best, end = i, i
		case count[i] == count[best] && i == end+1:
			end = i
		}
	}
	return (best + end) / 2
}

// sectionDots is about how many places of a cut are drawn.
const sectionDots = 60

// sectionPoints returns the part of a section between two of its places: the design as
// lines, broken where it does not matter what is left, and the cut as dots, under the face
// of bar or blank as it was before anything was cut; what is milled through ends at the
// underside.
func sectionPoints(p proof.Profile, side float64, shown [2]int, face func(at float64) float64) (design [][]geom.Point, cut []geom.Point) {
	var run []geom.Point
	end := func() {
		if len(run) > 1 {
			design = append(design, run)
		}
		run = nil
	}
	every := max(1, (shown[1]-shown[0])/sectionDots)
	for i := shown[0]; i <= shown[1]; i++ {
		at := p.At[i]
		if math.IsInf(p.Stock[i], -1) {
			end()
			continue
		}
		under := func(h float64) float64 { return math.Max(-2*face(at), math.Min(0, h-face(at))) }
		if math.IsNaN(p.Design[i]) {
			if i == 0 || i+1 == len(p.At) || math.IsNaN(p.Design[i-1]) || math.IsNaN(p.Design[i+1]) {
				end()
			}
		} else {
			run = append(run, geom.Point{X: side * at, Y: under(p.Design[i])})
		}
		if (i-shown[0])%every == 0 {
			cut = append(cut, geom.Point{X: side * at, Y: under(p.Cut[i])})
		}
	}
	end()
	return design, cut
}

// sectionFrame draws the frame of a section.
var sectionFrame = sheet.Pen{Width: 0.15}

// section is a small frame with a curve and dots in it.
type section struct {
	x, y, width, height float64
	title               string
	unit                document.Unit
}

func (c section) draw(s *sheet.Sheet, design [][]geom.Point, cut []geom.Point) {
	left, right, low := math.Inf(1), math.Inf(-1), 0.0
	for _, run := range append(append([][]geom.Point(nil), design...), cut) {
		for _, p := range run {
			left, right, low = math.Min(left, p.X), math.Max(right, p.X), math.Min(low, p.Y)
		}
	}
	if !(left < right) {
		return
	}
	if low == 0 {
		low = -1
	}
	place := func(p geom.Point) geom.Point {
		return geom.Point{X: c.x + (p.X-left)/(right-left)*c.width, Y: c.y + c.height*(0.95-0.85*p.Y/low)}
	}
	for _, run := range design {
		line := make([]geom.Point, len(run))
		for i, p := range run {
			line[i] = place(p)
		}
		s.Add("sections", "sections", sheet.Polyline(sheet.Pen{Width: 0.2}, line))
	}
	s.Add("sections", "sections", sheet.Rectangle(sectionFrame, c.x, c.y, c.width, c.height),
		sheet.Text{At: geom.Point{X: c.x, Y: c.y + c.height + 1.5}, Height: 2.4, Content: c.title},
		sheet.Text{At: geom.Point{X: c.x + c.width, Y: c.y - 3.6}, Height: 2.2, Anchor: sheet.End, Content: document.Say("depth %.3f mm", -low).In(c.unit)})
	for _, p := range cut {
		q := place(p)
		dot := sheet.Circle(sheet.Pen{}, q, 0.35)
		dot.Fill = "#000000"
		s.Add("sections", "sections", dot)
	}
}
