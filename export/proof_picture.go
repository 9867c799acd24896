package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/toolpath"
	"fullerwright/toolpath/proof"
)

// A class is a range of deviation with its look. The two hues, blue under the design
// and amber over it, differ in lightness as well, so that they can be told apart in
// grey and by eyes that do not see red and green; beyond tolerance there is hatching.
type class struct {
	least  float64 // as a part of the tolerance of its side
	fill   string
	hatch  bool
	legend string
}

var (
	underClasses = []class{
		{1, "#123a6b", true, "gouged beyond tolerance"},
		{0.5, "#3f76b5", false, "below, over half the tolerance"},
		{0.1, "#a9c8e8", false, "below, over a tenth"},
	}
	overClasses = []class{
		{1, "#8a4b00", true, "left beyond tolerance"},
		{0.5, "#e0942e", false, "above, over half the tolerance"},
		{0.1, "#f7dba6", false, "above, over a tenth"},
	}
	closeClass = class{0, "#ececec", false, "within a tenth of the tolerance"}
)

const (
	pictureWidth, pictureHeight = 297.0, 210.0
	pictureMargin               = 12.0
	mapHeightMost               = 60.0
	blockMM                     = 0.3 // on paper: a block of the map shows the worst node in it
)

// ProofPicture draws the proof of one face: a map of how far the cut lies from the
// design, with stations and legend, a section along the first fuller, and sections
// across it.
func ProofPicture(b profile.Blade, shop toolpath.Shop, p toolpath.FaceProof, cusp float64) sheet.Sheet {
	unit := b.Knife.Units
	s := sheet.Sheet{Title: document.Say("Proof of the %s: %s", document.Words(sayStep(p.Step)), b.Knife.Name).In(unit),
		Description: document.Say("Deviation of the simulated cut from the design, greatest gouge %.4f mm, greatest leftover %.4f mm.", p.Judged.Gouge.Value, p.Judged.Leftover.Value).In(unit),
		Width:       pictureWidth, Height: pictureHeight}
	d := deviation{unit: unit, step: p.Step, m: p.Map, field: p.Map.Field(p.Target), gouge: shop.Limits.Gouge, leftover: cusp + shop.Limits.Leftover}
	d.place()
	top := pictureHeight - pictureMargin
	s.Add("notes", "notes",
		sheet.Text{At: geom.Point{X: pictureMargin, Y: top - 5}, Height: 4.5, Bold: true, Content: s.Title},
		sheet.Text{At: geom.Point{X: pictureMargin, Y: top - 12}, Height: 2.8,
			Content: document.Say("Greatest gouge %.4f mm (%.4f allowed), greatest leftover %.4f mm (%.4f allowed, square to the wall). Grid %.3f mm, which may hide %.5f mm.",
				p.Judged.Gouge.Value, document.Dimension(d.gouge), p.Judged.Leftover.Value, document.Dimension(d.leftover), p.Judged.Step, p.Judged.Bound).In(unit)})
	d.drawMap(&s)
	d.drawStations(&s)
	drawLegend(&s, d)
	if p.Step.Operation == toolpath.Fullers {
		drawSections(&s, b, p, d)
	} else {
		drawMiddleSections(&s, p, d)
	}
	return s
}

// sayStep names a step in a title.
func sayStep(s toolpath.Step) string {
	switch {
	case s.Corner > 0 && s.Operation == toolpath.Slot:
		return fmt.Sprintf("slot's corners, cutter %d", s.Corner+1)
	case s.Corner > 0:
		return fmt.Sprintf("%s's corners, cutter %d, %s face", s.Operation, s.Corner+1, s.Face)
	case s.Operation == toolpath.Slot && s.Bore > 0:
		return fmt.Sprintf("hole of %.2f mm in the slot of the guard", s.Bore)
	case s.Operation == toolpath.Slot:
		return "slot of the guard"
	case s.Bore > 0:
		return fmt.Sprintf("%s of %.2f mm, %s face", s.Operation, s.Bore, s.Face)
	}
	return fmt.Sprintf("%s, %s face", s.Operation, s.Face)
}

// sayWays says where the map's lengths count from and which way it lies.
func sayWays(s toolpath.Step, unit document.Unit) string {
	where := "from the guard plane; the point is to the right, the spine is up"
	switch {
	case s.Operation == toolpath.Slot:
		where = "from the middle of the blank, seen from its front"
	case s.Face == profile.Left:
		where += ": the left face as if seen through the bar"
	}
	return units{unit == document.Inch}.names() + " " + where
}

// deviation is a map of the difference between cut and design, laid on paper.
type deviation struct {
	unit            document.Unit // that lengths are told in
	step            toolpath.Step
	m               *proof.Map
	field           proof.Field
	gouge, leftover float64
	scale           float64    // paper over steel
	corner          geom.Point // on paper, of the node of least x and y
}

func (d *deviation) place() {
	g := d.m.Grid
	width, height := float64(g.Columns-1)*g.Step, float64(g.Rows-1)*g.Step
	d.scale = math.Min((pictureWidth-2*pictureMargin)/width, mapHeightMost/height)
	d.corner = geom.Point{X: (pictureWidth - width*d.scale) / 2, Y: pictureHeight - pictureMargin - 20 - height*d.scale}
}

func (d deviation) at(x, y float64) geom.Point {
	return geom.Point{X: d.corner.X + (x-d.m.Grid.X0)*d.scale, Y: d.corner.Y + (y-d.m.Grid.Y0)*d.scale}
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
	for row := 0; row < g.Rows; row += nodes {
		start, current, drawn := 0, class{}, false
		flush := func(end int) {
			if drawn {
				d.fill(s, current, start, end, row, min(g.Rows, row+nodes))
			}
		}
		for column := 0; column < g.Columns; column += nodes {
			share, ok := d.worst(column, row, nodes)
			if c := classOf(share); ok != drawn || c != current {
				flush(column)
				start, current, drawn = column, c, ok
			}
		}
		flush(g.Columns)
	}
	low, high := d.at(g.X0, g.Y0), d.at(g.X(g.Columns-1), g.Y(g.Rows-1))
	s.Add("frame", "frame", sheet.Rectangle(sheet.Pen{Width: 0.2}, low.X, low.Y, high.X-low.X, high.Y-low.Y))
}

// worst returns the greatest share of tolerance in a block of nodes.
func (d deviation) worst(column, row, nodes int) (share float64, ok bool) {
	for r := row; r < min(d.m.Grid.Rows, row+nodes); r++ {
		for c := column; c < min(d.m.Grid.Columns, column+nodes); c++ {
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

// drawStations marks every ten or twenty millimetres from the guard plane, or every half or
// whole inch, and the way to point and spine.
func (d deviation) drawStations(s *sheet.Sheet) {
	g := d.m.Grid
	every := 10.0
	if d.scale < 1 {
		every = 20
	}
	text := "%.0f"
	if d.unit == document.Inch {
		every, text = every/20*d.unit.Millimetres(), "%.1f"
	}
	for x := math.Ceil(g.X0/every) * every; x <= g.X(g.Columns-1); x += every {
		p := d.at(x, g.Y0)
		s.Add("frame", "frame", sheet.Line(sheet.Pen{Width: 0.15}, p.X, p.Y, p.X, p.Y-1.5),
			sheet.Text{At: geom.Point{X: p.X, Y: p.Y - 4.5}, Height: 2.2, Anchor: sheet.Middle, Content: fmt.Sprintf(text, x/d.unit.Millimetres())})
	}
	low := d.at(g.X0, g.Y0)
	s.Add("notes", "notes",
		sheet.Text{At: geom.Point{X: pictureMargin, Y: low.Y - 9}, Height: 2.5, Content: sayWays(d.step, d.unit)},
		sheet.Text{At: geom.Point{X: pictureWidth - pictureMargin, Y: low.Y - 9}, Height: 2.5, Anchor: sheet.End, Content: fmt.Sprintf("map %.2f to 1", d.scale)})
}

func drawLegend(s *sheet.Sheet, d deviation) {
	x, y := pictureMargin, d.corner.Y-18
	entry := func(c class) {
		box := sheet.Box{MinX: x, MinY: y, MaxX: x + 6, MaxY: y + 3.2}
		s.Add("legend", "legend", sheet.Filled(c.fill, box), sheet.Rectangle(sheet.Pen{Width: 0.1}, box.MinX, box.MinY, 6, 3.2))
		if c.hatch {
			s.Add("legend", "legend", sheet.Hatch(sheet.Pen{Width: 0.1}, box, 0.6))
		}
		s.Add("legend", "legend", sheet.Text{At: geom.Point{X: x + 8, Y: y + 0.5}, Height: 2.4, Content: c.legend})
		y -= 5
	}
	for _, c := range underClasses {
		entry(c)
	}
	x, y = pictureMargin+95, d.corner.Y-18
	entry(closeClass)
	x, y = pictureMargin+190, d.corner.Y-18
	for _, c := range overClasses {
		entry(c)
	}
}

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

// drawMiddleSections draws a section along what was milled and two across it.
func drawMiddleSections(s *sheet.Sheet, p toolpath.FaceProof, d deviation) {
	low, high, any := d.milled()
	if !any {
		return
	}
	base := pictureMargin + 6
	height := d.corner.Y - 44 - base
	s.Add("notes", "notes", sheet.Text{At: geom.Point{X: pictureMargin + 175, Y: pictureMargin - 3}, Height: 2.2, Content: "sections across: spine to the left"})
	y := low.Y + 0.85*(high.Y-low.Y)
	along := section{x: pictureMargin, y: base, width: 165, height: height,
		title: document.Say("along at %.1f mm, depth enlarged; line: design, dots: cut", -y).In(d.unit), unit: d.unit}
	design, cut := sectionPoints(p.Map.Along(p.Target.Low, y), 1)
	along.draw(s, design, cut)
	for i, share := range []float64{0.35, 0.9} {
		x := low.X + share*(high.X-low.X)
		across := section{x: pictureMargin + 175 + float64(i)*51, y: base, width: 46, height: height, title: document.Say("across at %.0f", document.Dimension(x)).In(d.unit), unit: d.unit}
		design, cut := sectionPoints(p.Map.Across(p.Target.Low, x), -1)
		across.draw(s, design, cut)
	}
}

// milled returns the corners of the box of all nodes that are designed or cut.
func (d deviation) milled() (low, high geom.Point, any bool) {
	g := d.m.Grid
	low, high = geom.Point{X: math.Inf(1), Y: math.Inf(1)}, geom.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for row := range g.Rows {
		for column := range g.Columns {
			if math.IsNaN(float64(d.field.Values[row*g.Columns+column])) {
				continue
			}
			any = true
			low = geom.Point{X: math.Min(low.X, g.X(column)), Y: math.Min(low.Y, g.Y(row))}
			high = geom.Point{X: math.Max(high.X, g.X(column)), Y: math.Max(high.Y, g.Y(row))}
		}
	}
	return low, high, any
}

// sectionPoints returns a section's design as lines, broken where it does not matter what
// is left, and its cut as dots, under the face of the bar; what is milled through ends at
// its underside.
func sectionPoints(p proof.Profile, side float64) (design [][]geom.Point, cut []geom.Point) {
	var run []geom.Point
	end := func() {
		if len(run) > 1 {
			design = append(design, run)
		}
		run = nil
	}
	for i, at := range p.At {
		if math.IsInf(p.Stock[i], -1) {
			end()
			continue
		}
		under := func(h float64) float64 { return math.Max(-2*p.Stock[i], math.Min(0, h-p.Stock[i])) }
		if math.IsNaN(p.Design[i]) {
			if i == 0 || i+1 == len(p.At) || math.IsNaN(p.Design[i-1]) || math.IsNaN(p.Design[i+1]) {
				end()
			}
		} else {
			run = append(run, geom.Point{X: side * at, Y: under(p.Design[i])})
		}
		if i%6 == 0 {
			cut = append(cut, geom.Point{X: side * at, Y: under(p.Cut[i])})
		}
	}
	end()
	return design, cut
}

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
	s.Add("sections", "sections", sheet.Rectangle(sheet.Pen{Width: 0.15}, c.x, c.y, c.width, c.height),
		sheet.Text{At: geom.Point{X: c.x, Y: c.y + c.height + 1.5}, Height: 2.4, Content: c.title},
		sheet.Text{At: geom.Point{X: c.x + c.width, Y: c.y - 3.6}, Height: 2.2, Anchor: sheet.End, Content: document.Say("depth %.3f mm", -low).In(c.unit)})
	for _, p := range cut {
		q := place(p)
		dot := sheet.Circle(sheet.Pen{}, q, 0.35)
		dot.Fill = "#000000"
		s.Add("sections", "sections", dot)
	}
}
