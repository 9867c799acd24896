package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// Measures of a sheet for the bench: one at true size, with lines that prove its scale,
// drawn through the map that makes up for the printer, mm.
const (
	benchHeading = 12.0 // for what the sheet is
	benchStrip   = 9.0  // along its right side and its foot, for the lines
	benchRow     = 5.4
	benchTitle   = 4.5
	benchGap     = 4.0 // between texts of a heading
	benchFoot    = 3.5 // from the last row of the statement to the edge
	provingLine  = 100.0
)

// bench returns a blank sheet for the bench and what of it may be used: what lies inside
// the margins as drawn and as printed.
func (o PlanOptions) bench(title string, across bool) (sheet.Sheet, sheet.Box) {
	width, height := o.Paper.Width, o.Paper.Height
	if across {
		width, height = height, width
	}
	page := pageOf(width, height, o.Printer)
	return sheet.Sheet{Title: title, Width: width, Height: height, Warp: page.warp,
		Description: fmt.Sprintf("%s, in %s, parameters %s. %s", title, o.Lengths.Words(), o.Digest, o.Printer.words())}, page.inside
}

// statement says how a sheet for the bench is to be trusted, and whether it makes up for
// the printer.
func (o PlanOptions) statement() string {
	words := "Print at actual size, 100 %, and measure the lines. " + o.Printer.words()
	if o.Printer.Corrects() {
		return words + " The lines must be true now. Never take readings for --printer from this sheet: the correction would be made twice."
	}
	return words
}

// shopHead writes the heading of a sheet for the bench that lies across: on one line, or
// with the caution under a long title.
func (p pencil) shopHead(inside sheet.Box, title, caution, page string) {
	y := inside.MaxY - 5
	head := sheet.Text{At: geom.Point{X: inside.MinX, Y: y}, Height: benchTitle, Bold: true, Content: title}
	warn := sheet.Text{At: geom.Point{X: (inside.MinX + inside.MaxX) / 2, Y: y}, Height: shopLetter, Anchor: sheet.Middle, Content: caution}
	side := sheet.Text{At: geom.Point{X: inside.MaxX, Y: y}, Height: shopLetter, Anchor: sheet.End, Content: page}
	if p.ruler.Box(head).MaxX > p.ruler.Box(warn).MinX-benchGap {
		warn.At, warn.Anchor = geom.Point{X: inside.MinX, Y: y - benchRow}, sheet.Start
	}
	p.add("notes", p.titleBeside(head, side), warn, side)
}

// titleBeside sets a title in the room that a text at the other end of its line leaves: in
// smaller letters where it is long, and cut where it is too long even so.
func (p pencil) titleBeside(head, side sheet.Text) sheet.Text {
	room := p.ruler.Box(side).MinX - benchGap - head.At.X
	if wide := p.ruler.Width(head); wide > room {
		head.Height = math.Max(side.Height, head.Height*room/wide)
	}
	return fitted(p.ruler.Width, head, room)
}

// provingLines draws a line of 100 mm in each direction, in the lower right corner.
func (p pencil) provingLines(inside sheet.Box) {
	p.provingLine(geom.Point{X: inside.MaxX - provingLine - 1, Y: inside.MinY + 2}, geom.Point{X: 1})
	p.provingLine(geom.Point{X: inside.MaxX - 4, Y: inside.MinY + 12}, geom.Point{Y: 1})
}

// provingLine draws a line of 100 mm along a direction with its length.
func (p pencil) provingLine(from, along geom.Point) {
	to := geom.Point{X: from.X + provingLine*along.X, Y: from.Y + provingLine*along.Y}
	line := func(a, b geom.Point) { p.add(checkLayer, sheet.Line(cardPen, a.X, a.Y, b.X, b.Y)) }
	line(from, to)
	for _, end := range []geom.Point{from, to} {
		line(geom.Point{X: end.X - 1.5*along.Y, Y: end.Y - 1.5*along.X}, geom.Point{X: end.X + 1.5*along.Y, Y: end.Y + 1.5*along.X})
	}
	text := sheet.Text{At: geom.Point{X: (from.X+to.X)/2 + along.Y*shopLetter/2, Y: (from.Y+to.Y)/2 + along.X*0.8},
		Height: shopLetter, Anchor: sheet.Middle, Upright: along.Y != 0, Content: "100 mm"}
	p.add(checkLayer, sheet.Filled("#ffffff", p.ruler.Box(text)), text)
}

// benchFootRows breaks the statement of a sheet for the bench into rows beside its level line.
func (o PlanOptions) benchFootRows(r sheet.Ruler, inside sheet.Box) []string {
	words := o.statement() + " Lengths in " + o.Lengths.unitWord() + "."
	return wrapped(r, words, shopLetter, inside.MaxX-inside.MinX-provingLine-6)
}

// shopRoom returns what is free on a sheet for the bench that lies across.
func (o PlanOptions) shopRoom(r sheet.Ruler) area {
	_, inside := o.bench("", true)
	foot := math.Max(benchStrip, benchFoot+benchRow*float64(len(o.benchFootRows(r, inside))))
	return area{inside.MinX, inside.MaxY - benchHeading, inside.MaxX - inside.MinX - benchStrip, inside.MaxY - inside.MinY - benchHeading - foot}
}

// shopPages lays cells on sheets for the bench.
func shopPages(p pencil, o PlanOptions, title, caution string, cells []cell) []sheet.Sheet {
	g := newPaging(p, o.shopRoom(p.ruler), func() sheet.Sheet {
		s, _ := o.bench(title, true)
		return s
	})
	rest, _ := g.cells(cells, nil)
	if len(rest) > 0 {
		g.turn()
		g.cells(rest, nil)
	}
	_, inside := o.bench(title, true)
	for i := range g.pages {
		p.sheet = &g.pages[i]
		p.shopHead(inside, title, caution, fmt.Sprintf("%d of %d, %s", i+1, len(g.pages), o.Digest))
		p.provingLines(inside)
		rows := o.benchFootRows(p.ruler, inside)
		p.rowsAt(rows, geom.Point{X: inside.MinX, Y: inside.MinY + 1.5 + benchRow*float64(len(rows)-1)})
	}
	return g.pages
}

// rowsAt writes rows of letters for the bench downward from a baseline.
func (p pencil) rowsAt(rows []string, at geom.Point) {
	for i, line := range rows {
		p.add("notes", sheet.Text{At: geom.Point{X: at.X, Y: at.Y - benchRow*float64(i)}, Height: shopLetter, Content: line})
	}
}
