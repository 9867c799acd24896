package export

import (
	"strings"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// Measures of the setup sheet, mm. It is read at the machine, at arm's length.
const (
	setupLetter  = 3.5 // height of capitals
	setupMargin  = 12
	setupGap     = 3 // between columns
	setupBox     = 4 // side of a box to tick
	headingBand  = 7.4
	blankLength  = 26 // of the line to write a value on
	groupedLines = 4  // that must follow a heading on its page
)

var (
	rulePen = sheet.Pen{Width: 0.15}
	boxPen  = sheet.Pen{Width: 0.35}
)

const bandFill = "#dfe6ec"

// A setupPitch is how far apart lines and sections stand, mm, and how many rows a table may
// have to be kept on one page.
type setupPitch struct {
	line, heading float64
	wholeRows     int
}

// setupPitches are those that a program may be set with, the roomiest first.
func setupPitches() []setupPitch {
	return []setupPitch{{5.7, 11, setupWholeRows}, {5.5, 10, setupWholeRows}, {5.3, 9.4, setupWholeRows}, {5.5, 10, fewRows}, {5.3, 9.4, fewRows}}
}

// Rows that a table may have to be kept on one page: most of the time, and where a page is
// saved by parting it.
const (
	setupWholeRows = 10
	fewRows        = 4
)

// setupFlow sets blocks on pages from the top down.
type setupFlow struct {
	sheet   SetupSheet
	step    int
	paper   Paper
	ruler   sheet.Ruler
	pitch   setupPitch
	pages   []sheet.Sheet
	figures []placedFigure
	y       float64 // where the next line's top is
	foot    float64 // height of the foot of this page
	heading string  // the last one, to be said again on a new page
	pending string  // a heading that waits for what it is over
	section float64 // height of what is under the heading, where that stays together
	kept    float64 // the same for the heading that waits
	labels  float64 // room for the names of facts in this section
}

// placedFigure is a picture that is drawn once it is known where all things stand.
type placedFigure struct {
	page int
	box  sheet.Box
	draw func(*sheet.Sheet, sheet.Box)
}

// flowed sets blocks on as few pages as it can, and with the most room on so many. They
// begin with a step; others may follow, each from a head of its own.
func flowed(s SetupSheet, step int, paper Paper, ruler sheet.Ruler, blocks []setupBlock) *setupFlow {
	var best *setupFlow
	for _, pitch := range setupPitches() {
		f := &setupFlow{sheet: s, step: step, paper: paper, ruler: ruler, pitch: pitch}
		f.newPage()
		for i, b := range blocks {
			if _, begins := b.(heading); begins || i == 0 {
				f.labels = f.labelRoom(blocks[i+1:])
			}
			f.section = f.sectionLeast(blocks[i+1:])
			f.add(b)
		}
		if best == nil || len(f.pages) < len(best.pages) {
			best = f
		}
	}
	return best
}

func (f *setupFlow) page() *sheet.Sheet { return &f.pages[len(f.pages)-1] }
func (f *setupFlow) width() float64     { return f.paper.Width - 2*setupMargin }
func (f *setupFlow) room() float64      { return f.y - setupMargin - f.foot }

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
		t.At = geom.Point{X: x, Y: f.y - down - float64(i)*f.pitch.line - setupLetter - 1}
		f.page().Add("words", "words", t)
	}
	return float64(len(lines)) * f.pitch.line
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
		f.need(f.pitch.heading + max(height, f.kept))
		if f.y < f.top() {
			f.y -= f.pitch.heading - headingBand - 1
		}
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
		case heading, stepHead:
			return height
		case paragraph:
			height += float64(len(f.wrapped(v.text, f.width(), false))) * f.pitch.line
		case tickList, blanks:
			height += f.leastOf(b)
		default:
			return 0
		}
	}
	return height
}

// leastOf returns about how much of a block must stand on one page, mm: the whole of a
// short list or table, some lines of the others. Each block looks again as it is set.
func (f *setupFlow) leastOf(b setupBlock) float64 {
	switch v := b.(type) {
	case tickList:
		return float64(len(v.items)) * f.pitch.line
	case figureBox:
		return v.height
	case blanks:
		return float64((len(v.labels)+1)/2) * (f.pitch.line + 1.6)
	case grid:
		if len(v.rows) <= f.pitch.wholeRows {
			return float64(len(v.rows)+1) * (f.pitch.line + 0.4)
		}
	}
	return groupedLines * f.pitch.line
}

// add sets one block.
func (f *setupFlow) add(b setupBlock) {
	switch h := b.(type) {
	case heading:
		f.pending, f.heading, f.kept = h.text, "", f.section
		return
	case stepHead:
		f.pending, f.heading = "", ""
		f.beginStep(h.step)
		return
	}
	f.keep(b)
	switch v := b.(type) {
	case paragraph:
		lines := f.wrapped(v.text, f.width(), false)
		f.need(float64(len(lines)) * f.pitch.line)
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
		f.figures = append(f.figures, placedFigure{len(f.pages) - 1, sheet.Box{MinX: setupMargin, MaxX: f.paper.Width - setupMargin, MinY: f.y - v.height, MaxY: f.y}, v.draw})
		f.y -= v.height
	case grid:
		f.addGrid(v)
	}
}

// factsShare is the greatest part of the width that the names of facts take.
const factsShare = 0.25

// labelRoom returns how wide the names of facts are from here to the next heading.
func (f *setupFlow) labelRoom(blocks []setupBlock) float64 {
	widest := 0.0
	for _, b := range blocks {
		switch v := b.(type) {
		case heading, stepHead:
			return min(widest, f.width()*factsShare)
		case facts:
			for _, row := range v.rows {
				widest = max(widest, f.textWidth(row[0], setupLetter, true)+setupGap+1)
			}
		}
	}
	return min(widest, f.width()*factsShare)
}

func (f *setupFlow) addFacts(v facts) {
	for _, row := range v.rows {
		split := f.labels
		name, value := f.wrapped(row[0], split-setupGap, true), f.wrapped(row[1], f.width()-split, false)
		height := float64(max(len(name), len(value))) * f.pitch.line
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
		height := float64(lines)*f.pitch.line + 1.6
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
		f.need(float64(len(lines)) * f.pitch.line)
		mark(setupMargin)
		f.y -= f.write(setupMargin+setupBox+setupGap, 0, lines, sheet.Text{})
	}
}
