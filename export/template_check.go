package export

import (
	"fmt"
	"math"
	"strings"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// scribeTable is the height of the table of edge scribes, mm.
const scribeTable = 34

// leading is from one line of notes to the next, mm.
const leading = 4.2

// checkSheet is the first page: the square to be measured, how the pages belong together,
// what the lines are, and where the edge is scribed.
func (t Template) checkSheet(paper Paper, printer Printer, l layout) sheet.Sheet {
	page := pageOf(paper.Width, paper.Height, printer)
	s := sheet.Sheet{Title: t.title(), Description: t.describe(), Width: paper.Width, Height: paper.Height, Warp: page.warp}
	t.addFrame(&s, page.inside, pageWords(paper, 1, 1+l.pages(), printer))
	box := page.content()
	corner := geom.Point{X: box.MinX + 8, Y: box.MaxY - 4 - squareSide}
	addSquare(&s, corner, printer.feedUp(paper.Width, paper.Height))
	right := corner.X + squareSide + 9
	t.addMeasuring(&s, geom.Point{X: right, Y: box.MaxY - 4}, box.MaxX-right, printer)

	top, middle := corner.Y-14, (box.MinX+box.MaxX)/2
	table := box.MinY + scribeTable
	t.addMap(&s, geom.Point{X: box.MinX + 4, Y: top}, sheet.Box{MaxX: middle - box.MinX - 8, MaxY: top - table - 3}, l)
	t.addLegend(&s, geom.Point{X: middle + 2, Y: top}, box.MaxX-middle-2)
	t.addScribeTable(&s, geom.Point{X: box.MinX + 4, Y: table})
	return s
}

// addSquare draws the square with its diagonals, named so that the letters keep their
// direction to the feed on any paper.
func addSquare(s *sheet.Sheet, at geom.Point, feedUp bool) {
	const side = squareSide
	s.Add(checkLayer, "check lines",
		sheet.Rectangle(thinPen, at.X, at.Y, side, side),
		sheet.Line(thinPen, at.X, at.Y, at.X+side, at.Y+side), sheet.Line(thinPen, at.X, at.Y+side, at.X+side, at.Y))
	level, upright, rising, falling := "A", "B", "C", "D"
	const aside, from, to = 4.5, 8.0, 38.0
	feed := []geom.Point{{X: side + aside, Y: from}, {X: side + aside, Y: to}, {X: side + aside - 1, Y: to - 3}, {X: side + aside + 1, Y: to - 3}, {X: side + aside, Y: to}}
	word := geom.Point{X: side + aside + 1.2, Y: to + 2}
	if !feedUp {
		level, upright, rising, falling = "B", "A", "D", "C"
		for i, p := range feed {
			feed[i] = geom.Point{X: p.Y, Y: side - p.X}
		}
		word = geom.Point{X: to + 2, Y: -aside - 1.2}
	}
	for i, p := range feed {
		feed[i] = geom.Point{X: at.X + p.X, Y: at.Y + p.Y}
	}
	s.Add(checkLayer, "check lines", sheet.Polyline(outlinePen, feed))
	text := func(x, y float64, content string) {
		s.Add(checkLayer, "check lines", sheet.Text{At: geom.Point{X: at.X + x, Y: at.Y + y}, Height: titleLetter, Bold: true, Content: content})
	}
	text(side/2-1, -6, level)
	text(-5.5, side/2-1.5, upright)
	text(28, 21, rising)
	text(28, 75.5, falling)
	s.Add(checkLayer, "check lines", sheet.Text{At: geom.Point{X: at.X + word.X, Y: at.Y + word.Y}, Height: letter, Upright: feedUp, Content: "feed"})
}

// paragraph writes wrapped words downward and returns where the next line stands.
func (t Template) paragraph(s *sheet.Sheet, at geom.Point, width float64, words string) geom.Point {
	for _, line := range t.setter.Wrap(words, letter, width) {
		s.Add(notesLayer, "notes", sheet.Text{At: geom.Point{X: at.X, Y: at.Y - letter}, Height: letter, Content: line})
		at.Y -= leading
	}
	return at
}

func (t Template) head(s *sheet.Sheet, at geom.Point, words string) geom.Point {
	s.Add(notesLayer, "notes", sheet.Text{At: geom.Point{X: at.X, Y: at.Y - letter}, Height: letter, Bold: true, Content: words})
	return geom.Point{X: at.X, Y: at.Y - leading - 0.8}
}

// addMeasuring says what to measure before the pages are trusted, with room to write.
func (t Template) addMeasuring(s *sheet.Sheet, at geom.Point, width float64, printer Printer) {
	at = t.head(s, at, "Measure first")
	at = t.paragraph(s, at, width, "Print at actual size (100 %), not fitted to the page. Measure the square from line to line:")
	at.Y -= 1.5
	for _, row := range []struct {
		name string
		true float64
	}{{"A", squareSide}, {"B", squareSide}, {"C", squareSide * math.Sqrt2}, {"D", squareSide * math.Sqrt2}} {
		y := at.Y - letter
		s.Add(notesLayer, "notes",
			sheet.Text{At: geom.Point{X: at.X, Y: y}, Height: letter, Bold: true, Content: row.name},
			sheet.Line(thinPen, at.X+4, y-0.6, at.X+20, y-0.6),
			sheet.Text{At: geom.Point{X: at.X + 21.5, Y: y}, Height: letter, Content: fmt.Sprintf("to be %.1f", row.true)})
		at.Y -= 6
	}
	at.Y -= 0.5
	advice := "Within 0.2 mm: good. Otherwise make the pages again with template --printer A,B,C,D and these readings."
	if printer.Corrects() {
		advice = "The square must be true now. Never enter readings of this sheet: the correction would be made twice."
	}
	at = t.paragraph(s, at, width, printer.words()+" "+advice)
	at.Y -= 1.5
	t.paragraph(s, at, width, "Then lay a rule along both rules of every page. Use the pages soon: paper moves with the weather.")
}

// addMap draws which page shows what, within a room whose upper left corner is at a place,
// names the views, and says in which order the pages are glued.
func (t Template) addMap(s *sheet.Sheet, at geom.Point, room sheet.Box, l layout) {
	width := room.MaxX
	foot := at.Y - room.MaxY
	at = t.head(s, at, "Map of the pages")
	words := []string{mapWords(l), glueWords(l)}
	for _, paragraph := range words {
		foot += leading * float64(len(t.setter.Wrap(paragraph, letter, width)))
	}
	all, high := t.extents(), -viewGap
	for _, r := range l.rows {
		high += r.height + viewGap
	}
	scale := math.Min(width/(all.MaxX-all.MinX), math.Min(at.Y-2-foot, 90)/high)
	page, y := 2, at.Y
	for _, r := range l.rows {
		first, bottom := page, y-r.height*scale
		t.mapRow(s, r, geom.Point{X: at.X - all.MinX*scale, Y: y}, scale)
		for i, w := range r.windows {
			x0, x1 := at.X+(w.least-all.MinX)*scale, at.X+(w.most-all.MinX)*scale
			s.Add("map", "map of the pages", sheet.Rectangle(thinPen, x0, bottom, x1-x0, y-bottom))
			middle := geom.Point{X: (x0 + x1) / 2, Y: (y+bottom)/2 - titleLetter/2}
			s.Add("map", "map of the pages", sheet.Filled("#ffffff", sheet.Box{MinX: middle.X - 3, MinY: middle.Y - 1, MaxX: middle.X + 3, MaxY: middle.Y + titleLetter + 1}),
				sheet.Text{At: middle, Height: titleLetter, Anchor: sheet.Middle, Bold: true, Content: fmt.Sprint(first + i)})
		}
		page += len(r.windows)
		y = bottom - viewGap*scale
	}
	at.Y = y - 2
	for _, paragraph := range words {
		at = t.paragraph(s, at, width, paragraph)
	}
}

// glueWords says in which order the pages are glued, and how.
func glueWords(l layout) string {
	if l.pages() == len(l.rows) {
		return "Each page stands alone: nothing is to be glued."
	}
	return "Glue from left to right: " + glueOrder(l) + ". Cut the right-hand page along its dashed seam and lay it on the one before so that crosses of one name meet."
}

// mapWords says which views the pages show.
func mapWords(l layout) string {
	var out []string
	page := 2
	for _, r := range l.rows {
		var names []string
		for _, p := range r.panels {
			names = append(names, strings.ToLower(p.Title))
		}
		pages := fmt.Sprintf("page %d", page)
		switch n := len(r.windows); {
		case n == 2:
			pages = fmt.Sprintf("pages %d and %d", page, page+1)
		case n > 2:
			pages = fmt.Sprintf("pages %d to %d", page, page+n-1)
		}
		out = append(out, pages+": "+strings.Join(names, " over "))
		page += len(r.windows)
	}
	words := strings.Join(out, "; ") + "."
	return strings.ToUpper(words[:1]) + words[1:]
}

// mapRow draws the outlines of a row's views small.
func (t Template) mapRow(s *sheet.Sheet, r row, at geom.Point, scale float64) {
	y := 0.0
	for _, p := range r.panels {
		for _, layer := range p.Layers {
			if layer.ID != outlineLayer {
				continue
			}
			for _, item := range layer.Items {
				path := sheet.Path{Pen: thinPen}
				for _, piece := range item.(sheet.Path).Pieces {
					const n = 8
					for i := range n {
						a, b := piece.At(float64(i)/n), piece.At(float64(i+1)/n)
						path.Pieces = append(path.Pieces, geom.Line{
							From: geom.Point{X: at.X + a.X*scale, Y: at.Y + (a.Y-p.box.MaxY-y)*scale},
							To:   geom.Point{X: at.X + b.X*scale, Y: at.Y + (b.Y-p.box.MaxY-y)*scale}})
					}
				}
				s.Add("map", "map of the pages", path)
			}
		}
		y += p.height() + viewGap
	}
}

// glueOrder names the pages that belong side by side.
func glueOrder(l layout) string {
	var out []string
	page := 2
	for _, r := range l.rows {
		if len(r.windows) > 1 {
			var names []string
			for i := range r.windows {
				names = append(names, fmt.Sprint(page+i))
			}
			out = append(out, strings.Join(names, " + "))
		}
		page += len(r.windows)
	}
	return strings.Join(out, ", then ")
}

// addLegend says what the lines are.
func (t Template) addLegend(s *sheet.Sheet, at geom.Point, width float64) {
	at = t.head(s, at, "The lines")
	for _, entry := range []struct {
		pen   sheet.Pen
		words string
	}{
		{outlinePen, "outline: grind to the middle of it"},
		{roughPen, t.rough.note},
		{scribePen, "fuller lips, guard plane, edge scribes"},
		{dashedPen, "bevel, plunge and false edge"},
		{centrePen, "centre lines"},
		{foldPen, "fold-over pair: fold here, over the bar's long edges"},
		{barPen, "fold-over pair: edges of the bar"},
	} {
		s.Add(notesLayer, "notes", sheet.Line(entry.pen, at.X, at.Y-letter/2, at.X+11, at.Y-letter/2))
		next := t.paragraph(s, geom.Point{X: at.X + 13, Y: at.Y}, width-13, entry.words)
		at.Y = next.Y
	}
	at.Y -= 1
	t.paragraph(s, at, width, "Wear eye and breathing protection at the grinder; hot paper burns.")
}

// addScribeTable says at which heights over the plate the edge is scribed on the bar.
func (t Template) addScribeTable(s *sheet.Sheet, at geom.Point) {
	const rows, row = 5, 4.0
	b := t.blade
	at = t.head(s, at, "Edge scribes: height over the plate with the bar on a face, bar "+barWords(b))
	columns := []float64{24, 52, 80, 108}
	line := func(bold bool, cells ...string) {
		for i, cell := range cells {
			s.Add(notesLayer, "notes", sheet.Text{At: geom.Point{X: at.X + columns[i], Y: at.Y - letter}, Height: letter, Anchor: sheet.End, Bold: bold, Content: cell})
		}
		at.Y -= row
	}
	line(true, "from guard", "bar thick", "lower line", "upper line")
	for _, g := range b.GrindingTable(rows) {
		thick := b.Bar.Thickness(g.X)
		fine := func(mm float64) string { return sayLength(mm, b.Knife.Units, 2) + " " + b.Knife.Units.String() }
		line(false, sayLength(g.X, b.Knife.Units, 1)+" "+b.Knife.Units.String(), fine(thick), fine(g.ScribeOnBar), fine(thick-g.ScribeOnBar))
	}
}
