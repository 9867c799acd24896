package export

import (
	"fmt"
	"strings"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/profile/material"
)

const (
	titleHeight = 27.0
	titleLayer  = "title-block"
	titleRow    = 9.0
	nameField   = 60.0 // room of the knife's name
	makerField  = 44.0 // of its maker's
	fieldEdges  = 2.0  // of a field that its value may not take
)

// titleEntry is a field of a title block: what it is, and what it says.
type titleEntry struct {
	name, value string
	width       float64
}

// titleBlock is what stands in the foot of a page, in rows (the fields of ISO 7200,
// from memory, as far as a maker who works alone needs them).
type titleBlock struct {
	rows       [][]titleEntry
	firstAngle bool
}

func titleOf(b profile.Blade, o PlanOptions, scale, page string) titleBlock {
	k := b.Knife
	return titleBlock{firstAngle: o.FirstAngle, rows: [][]titleEntry{
		{{"name", k.Name, nameField}, {"drawing", "plan, finished dimensions", 62}, {"scale", scale, 32}, {"sheet", page, 20}},
		{{"steel", k.Blade.Steel, 28}, {"hardness target", hardness(k.Blade.Steel), 32}, {"lengths in", o.Lengths.Words(), 50}, {"maker", k.Maker, makerField}, {"paper", o.Paper.Name, 20}},
		{{"knife file", shorten(o.Source, 34), 60}, {"parameters", o.Digest, 28}, {"not otherwise stated", "ISO 2768-m", 34}, {"projection", map[bool]string{true: "first angle", false: "third angle"}[o.FirstAngle], 32}, {"", "", 20}},
	}}
}

// shorten keeps the end of a long text.
func shorten(text string, most int) string {
	runes := []rune(text)
	if len(runes) <= most {
		return text
	}
	return "…" + string(runes[len(runes)-most+1:])
}

// hardness returns the target for a steel.
func hardness(steel string) string {
	s, known := material.SteelNamed(steel)
	if !known {
		return "see its data sheet"
	}
	return fmt.Sprintf("%.0f to %.0f HRC", s.Hardened.Least, s.Hardened.Most)
}

// titleBlock draws the frame of a page and its title block, in the lower right corner.
func (p pencil) titleBlock(t titleBlock) {
	s := p.sheet
	p.add(titleLayer, sheet.Rectangle(edgePen, planFrame, planFrame, s.Width-2*planFrame, s.Height-2*planFrame))
	width := 0.0
	for _, e := range t.rows[0] {
		width += e.width
	}
	left, top := s.Width-planFrame-width, planFrame+titleHeight
	p.add(titleLayer, sheet.Rectangle(edgePen, left, planFrame, width, titleHeight))
	for i, row := range t.rows {
		x, y := left, top-float64(i+1)*titleRow
		if i > 0 {
			p.add(titleLayer, sheet.Line(finePen, left, y+titleRow, left+width, y+titleRow))
		}
		for j, e := range row {
			if j > 0 {
				p.add(titleLayer, sheet.Line(finePen, x, y, x, y+titleRow))
			}
			p.field(e, x, y)
			x += e.width
		}
	}
	p.projection(left+width-10, planFrame+titleRow/2, t.firstAngle)
	p.add(titleLayer, sheet.Text{At: geom.Point{X: planFrame + 2, Y: planFrame + 2}, Height: planLetter, Content: "Read CAUTIONS.md before you cut steel."})
}

// field writes one field, its value as large as its room lets it be, and cut where it
// is too long even so.
func (p pencil) field(e titleEntry, x, y float64) {
	if strings.TrimSpace(e.name+e.value) == "" {
		return
	}
	value := sheet.Text{At: geom.Point{X: x + 1.5, Y: y + 1.3}, Height: 3.2, Bold: true, Content: e.value}
	if p.ruler.Width(value) > e.width-fieldEdges {
		value.Bold, value.Height = false, planLetter
		value = fitted(p.ruler.Width, value, e.width-fieldEdges)
	}
	p.add(titleLayer, sheet.Text{At: geom.Point{X: x + 1.5, Y: y + 5.7}, Height: planLetter, Content: e.name}, value)
}

// projection draws the symbol of ISO 5456-2 (from memory): a cone cut short, seen from
// the side and from its thin end. What is seen from the left stands on the left in
// third-angle projection, on the right in first-angle.
func (p pencil) projection(x, y float64, firstAngle bool) {
	side, end := x+1.0, x-5.5
	if firstAngle {
		side, end = x-8, x+4.5
	}
	pen := sheet.Pen{Width: 0.35}
	p.add(titleLayer,
		sheet.Polyline(pen, []geom.Point{{X: side, Y: y - 1.25}, {X: side + 6, Y: y - 2.5}, {X: side + 6, Y: y + 2.5}, {X: side, Y: y + 1.25}, {X: side, Y: y - 1.25}}),
		sheet.Circle(pen, geom.Point{X: end, Y: y}, 1.25), sheet.Circle(pen, geom.Point{X: end, Y: y}, 2.5),
		sheet.Line(sheet.Pen{Width: 0.18, Dash: []float64{2, 0.5, 0.4, 0.5}}, x-9, y, x+8.5, y))
}
