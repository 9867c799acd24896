package export

import (
	"fmt"
	"strings"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// Measures of the setup sheet, mm. It is read at the machine, at arm's length.
const (
	setupLetter  = 3.5 // height of capitals
	setupLine    = 5.7 // from line to line
	setupMargin  = 12
	setupHead    = 15 // height of the head of a page
	setupFoot    = 15 // of its foot: two lines
	setupGap     = 3  // between columns
	setupBox     = 4  // side of a box to tick
	headingRoom  = 11
	headingBand  = 7.4
	blankLength  = 26 // of the line to write a value on
	groupedLines = 4  // that must follow a heading on its page
	titleRoom    = 50 // beside the title of a page, for the program's number
)

var (
	rulePen = sheet.Pen{Width: 0.15}
	boxPen  = sheet.Pen{Width: 0.35}
)

const bandFill = "#dfe6ec"

// setupFlow sets blocks on pages from the top down.
type setupFlow struct {
	sheet   SetupSheet
	step    int
	paper   Paper
	ruler   sheet.Ruler
	pages   []sheet.Sheet
	y       float64 // where the next line's top is
	heading string  // the last one, to be said again on a new page
	pending string  // a heading that waits for what it is over
	section float64 // height of what is under the heading, where that stays together
	kept    float64 // the same for the heading that waits
}

func newFlow(s SetupSheet, step int, paper Paper, ruler sheet.Ruler) *setupFlow {
	f := &setupFlow{sheet: s, step: step, paper: paper, ruler: ruler}
	f.newPage()
	return f
}

func (f *setupFlow) page() *sheet.Sheet { return &f.pages[len(f.pages)-1] }
func (f *setupFlow) width() float64     { return f.paper.Width - 2*setupMargin }
func (f *setupFlow) room() float64      { return f.y - setupMargin - setupFoot }

func (f *setupFlow) newPage() {
	s := sheet.Sheet{Title: f.sheet.title(f.step), Description: f.sheet.about(), Width: f.paper.Width, Height: f.paper.Height}
	top := f.paper.Height - setupMargin
	title, height := f.sheet.title(f.step), 5.0
	if f.textWidth(title, height, true) > f.width()-titleRoom {
		height = 4
	}
	s.Add("head", "head of the page",
		sheet.Text{At: geom.Point{X: setupMargin, Y: top - 6}, Height: height, Bold: true, Content: f.fitted(title, height, f.width()-titleRoom)},
		sheet.Text{At: geom.Point{X: f.paper.Width - setupMargin, Y: top - 6}, Height: setupLetter, Anchor: sheet.End, Bold: true,
			Content: f.sheet.place(f.step)},
		sheet.Line(sheet.Pen{Width: 0.6}, setupMargin, top-10, f.paper.Width-setupMargin, top-10))
	foot := setupMargin + 1.5
	file, program := f.sheet.names(f.step)
	s.Add("foot", "foot of the page",
		sheet.Line(rulePen, setupMargin, foot+11.5, f.paper.Width-setupMargin, foot+11.5),
		sheet.Text{At: geom.Point{X: setupMargin, Y: foot + 6}, Height: setupLetter, Content: f.fitted(file, setupLetter, f.width())},
		sheet.Text{At: geom.Point{X: setupMargin, Y: foot}, Height: setupLetter, Content: program})
	f.pages = append(f.pages, s)
	f.y = top - setupHead
}

// pageNumber writes the number of a page at its foot.
func pageNumber(s *sheet.Sheet, number, of int) {
	s.Add("foot", "foot of the page", sheet.Text{At: geom.Point{X: s.Width - setupMargin, Y: setupMargin + 1.5}, Height: setupLetter, Anchor: sheet.End,
		Content: fmt.Sprintf("page %d of %d", number, of)})
}

func (f *setupFlow) finished() []sheet.Sheet { return f.pages }

// fitted shortens a text in its middle until it fits.
func (f *setupFlow) fitted(text string, height, width float64) string {
	if f.textWidth(text, height, true) <= width {
		return text
	}
	letters := []rune(text)
	for cut := 1; cut < len(letters)-2; cut++ {
		from := (len(letters) - cut) / 2
		shorter := string(letters[:from]) + "…" + string(letters[from+cut:])
		if f.textWidth(shorter, height, true) <= width {
			return shorter
		}
	}
	return ""
}

func (f *setupFlow) textWidth(text string, height float64, bold bool) float64 {
	return f.ruler.Width(sheet.Text{Height: height, Bold: bold, Content: text})
}

// wrapped parts a text into lines that fit a width. A word too long for any line is cut.
func (f *setupFlow) wrapped(text string, width float64, bold bool) []string {
	var lines []string
	line := ""
	fits := func(s string) bool { return f.textWidth(s, setupLetter, bold) <= width }
	for _, word := range strings.Fields(text) {
		if line != "" && fits(line+" "+word) {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for !fits(word) && len([]rune(word)) > 1 {
			n := len([]rune(word)) - 1
			for n > 1 && !fits(string([]rune(word)[:n])) {
				n--
			}
			lines, word = append(lines, string([]rune(word)[:n])), string([]rune(word)[n:])
		}
		line = word
	}
	return append(lines, line)
}

// need begins a new page where less than the given height is left.
func (f *setupFlow) need(height float64) {
	if f.room() >= height {
		return
	}
	f.newPage()
	if f.heading != "" {
		f.band(f.heading + ", continued")
	}
}

// write sets lines of words from the current place down and returns how far that went.
func (f *setupFlow) write(x, down float64, lines []string, look sheet.Text) float64 {
	for i, line := range lines {
		if line == "" {
			continue
		}
		t := look
		t.Content, t.Height = line, setupLetter
		t.At = geom.Point{X: x, Y: f.y - down - float64(i)*setupLine - setupLetter - 1}
		f.page().Add("words", "words", t)
	}
	return float64(len(lines)) * setupLine
}

func (f *setupFlow) tickAt(x float64) {
	f.page().Add("boxes", "boxes to tick", sheet.Rectangle(boxPen, x, f.y-setupBox-0.8, setupBox, setupBox))
}

// rule draws a line across under what was set last.
func (f *setupFlow) rule() {
	f.page().Add("rules", "rules", sheet.Line(rulePen, setupMargin, f.y, f.paper.Width-setupMargin, f.y))
}

func (f *setupFlow) band(text string) {
	box := sheet.Box{MinX: setupMargin, MaxX: f.paper.Width - setupMargin, MaxY: f.y, MinY: f.y - headingBand}
	f.page().Add("bands", "bands of the headings", sheet.Filled(bandFill, box))
	f.page().Add("words", "words", sheet.Text{At: geom.Point{X: setupMargin + 2, Y: f.y - 5.6}, Height: 3.8, Bold: true, Content: text})
	f.y -= headingBand + 1
}

// keep begins a new page where a block that should stay whole, with its heading, has no
// room on this one; and sets the heading.
func (f *setupFlow) keep(b setupBlock) {
	height := f.leastOf(b)
	if f.pending != "" {
		f.need(headingRoom + max(height, f.kept))
		f.y -= headingRoom - headingBand - 1
		f.band(f.pending)
		f.heading, f.pending = f.pending, ""
		return
	}
	f.need(height)
}

// sectionLeast returns the height of the blocks up to the next heading, mm, where all are
// short lists to tick or to write on, which are not parted; else 0.
func (f *setupFlow) sectionLeast(blocks []setupBlock) (height float64) {
	for _, b := range blocks {
		switch v := b.(type) {
		case heading:
			return height
		case paragraph:
			height += float64(len(f.wrapped(v.text, f.width(), false))) * setupLine
		case tickList, blanks:
			height += f.leastOf(b)
		default:
			return 0
		}
	}
	return height
}

// setupWholeRows is how many rows a table may have to be kept on one page.
const setupWholeRows = 10

// leastOf returns about how much of a block must stand on one page, mm: the whole of a
// short list or table, some lines of the others. Each block looks again as it is set.
func (f *setupFlow) leastOf(b setupBlock) float64 {
	switch v := b.(type) {
	case tickList:
		return float64(len(v.items)) * setupLine
	case figureBox:
		return v.height
	case blanks:
		return float64((len(v.labels)+1)/2) * (setupLine + 1.6)
	case grid:
		if len(v.rows) <= setupWholeRows {
			return float64(len(v.rows)+1) * (setupLine + 0.4)
		}
	}
	return groupedLines * setupLine
}

// add sets one block.
func (f *setupFlow) add(b setupBlock) {
	if h, ok := b.(heading); ok {
		f.pending, f.heading, f.kept = h.text, "", f.section
		return
	}
	f.keep(b)
	switch v := b.(type) {
	case paragraph:
		lines := f.wrapped(v.text, f.width(), false)
		f.need(float64(len(lines)) * setupLine)
		f.y -= f.write(setupMargin, 0, lines, sheet.Text{})
	case facts:
		f.addFacts(v)
	case blanks:
		f.addBlanks(v)
	case tickList:
		f.addItems(v.items, f.tickAt)
	case bulletList:
		f.addItems(v.items, func(x float64) {
			dot := sheet.Circle(sheet.Pen{}, geom.Point{X: x + setupBox/2, Y: f.y - setupLetter/2 - 1}, 0.7)
			dot.Fill = "#000000"
			f.page().Add("boxes", "boxes to tick", dot)
		})
	case figureBox:
		f.need(v.height)
		v.draw(f.page(), sheet.Box{MinX: setupMargin, MaxX: f.paper.Width - setupMargin, MinY: f.y - v.height, MaxY: f.y})
		f.y -= v.height
	case grid:
		f.addGrid(v)
	}
}

// factsShare is the part of the width that the names of facts take.
const factsShare = 0.25

func (f *setupFlow) addFacts(v facts) {
	for _, row := range v.rows {
		split := f.width() * factsShare
		name, value := f.wrapped(row[0], split-setupGap, true), f.wrapped(row[1], f.width()-split, false)
		height := float64(max(len(name), len(value))) * setupLine
		f.need(height)
		f.write(setupMargin, 0, name, sheet.Text{Bold: true})
		f.write(setupMargin+split, 0, value, sheet.Text{})
		f.y -= height
	}
}

// addBlanks sets labels in two columns, each with a line to write on.
func (f *setupFlow) addBlanks(v blanks) {
	column := (f.width() - 2*setupGap) / 2
	for i := 0; i < len(v.labels); i += 2 {
		pair := v.labels[i:min(i+2, len(v.labels))]
		var wrapped [][]string
		lines := 0
		for _, label := range pair {
			w := f.wrapped(label, column-blankLength-setupGap, false)
			wrapped, lines = append(wrapped, w), max(lines, len(w))
		}
		height := float64(lines)*setupLine + 1.6
		f.need(height)
		for j, w := range wrapped {
			x := setupMargin + float64(j)*(column+2*setupGap)
			f.write(x, 1.2, w, sheet.Text{})
			low := f.y - height + 0.8
			f.page().Add("rules", "rules", sheet.Line(boxPen, x+column-blankLength, low, x+column, low))
		}
		f.y -= height
	}
}

func (f *setupFlow) addItems(items []string, mark func(x float64)) {
	for _, item := range items {
		lines := f.wrapped(item, f.width()-setupBox-setupGap, false)
		f.need(float64(len(lines)) * setupLine)
		mark(setupMargin)
		f.y -= f.write(setupMargin+setupBox+setupGap, 0, lines, sheet.Text{})
	}
}

// addGrid sets a table; its head is said again on every page.
func (f *setupFlow) addGrid(v grid) {
	left := float64(setupMargin)
	if v.tick {
		left += setupBox + setupGap
	}
	total := 0.0
	for _, s := range v.shares {
		total += s
	}
	unit := (f.paper.Width - setupMargin - left) / total
	row := func(cells []string, bold, measureOnly bool) float64 {
		x, lines := left, 0
		for i, cell := range cells {
			width := v.shares[i] * unit
			w := f.wrapped(cell, width-setupGap, bold)
			lines = max(lines, len(w))
			if !measureOnly {
				look, at := sheet.Text{Bold: bold}, x
				if i >= v.texts {
					look.Anchor, at = sheet.End, x+width-setupGap/2
				}
				f.write(at, 0, w, look)
			}
			x += width
		}
		return float64(lines)*setupLine + 0.4
	}
	head := row(v.head, true, true)
	setHead := func() {
		row(v.head, true, false)
		f.y -= head
		f.rule()
	}
	first := head
	if len(v.rows) > 0 {
		first += row(v.rows[0], false, true)
	}
	f.need(first)
	setHead()
	for _, cells := range v.rows {
		height := row(cells, false, true)
		if f.room() < height {
			f.need(height)
			setHead()
		}
		if v.tick {
			f.tickAt(setupMargin)
		}
		row(cells, false, false)
		f.y -= height
		f.rule()
	}
	f.y -= 1
}
