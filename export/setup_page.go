package export

import (
	"fmt"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// Heads and feet of pages, mm.
const (
	setupHead  = 15 // height of the head of a page
	setupFoot  = 9  // of its foot with one line
	footLine   = 6  // of another line in it
	titleRoom  = 50 // beside a title, for the program's number
	numberRoom = 40 // at the foot of a page, for its own

	stepHeadRoom  = 26 // the head of a step that follows another on its page
	stepRoomLeast = 40 // how much of that step must follow it there
)

func (f *setupFlow) newPage() {
	f.pages = append(f.pages, sheet.Sheet{Title: f.sheet.title(f.step), Description: f.sheet.about(), Width: f.paper.Width, Height: f.paper.Height})
	f.title(f.paper.Height - setupMargin - 6)
	f.addFoot()
	f.y = f.top()
}

// top is where the first line of a page stands.
func (f *setupFlow) top() float64 { return f.paper.Height - setupMargin - setupHead }

// title sets the title of a step and its place among the programs, over a line.
func (f *setupFlow) title(y float64) {
	title, height := f.sheet.title(f.step), 5.0
	if f.textWidth(title, height, true) > f.width()-titleRoom {
		height = 4
	}
	look := sheet.Text{At: geom.Point{X: setupMargin, Y: y}, Height: height, Bold: true, Content: title}
	f.page().Add("head", "head of the page", f.shortened(look, f.width()-titleRoom),
		sheet.Text{At: geom.Point{X: f.paper.Width - setupMargin, Y: y}, Height: setupLetter, Anchor: sheet.End, Bold: true, Content: f.sheet.place(f.step)},
		sheet.Line(sheet.Pen{Width: 0.6}, setupMargin, y-4, f.paper.Width-setupMargin, y-4))
}

// beginStep goes on with the next step, on the same page where that has room.
func (f *setupFlow) beginStep(step int) {
	f.step = step
	if f.room() < stepHeadRoom+stepRoomLeast {
		f.newPage()
		return
	}
	f.title(f.y - 13)
	_, program := f.sheet.names(step)
	f.page().Add("head", "head of the page", f.shortened(sheet.Text{At: geom.Point{X: setupMargin, Y: f.y - 22.5}, Height: setupLetter, Content: program}, f.width()))
	f.y -= stepHeadRoom
}

// addFoot writes the names by which paper and program are matched: in one line, or in two
// where that is too long.
func (f *setupFlow) addFoot() {
	file, program := f.sheet.names(f.step)
	lines := []string{program + ". " + file}
	f.foot = setupFoot
	if f.textWidth(lines[0], setupLetter, false) > f.width()-numberRoom {
		lines = []string{program, file}
		f.foot += footLine
	}
	rule := setupMargin + f.foot - 2
	f.page().Add("foot", "foot of the page", sheet.Line(rulePen, setupMargin, rule, f.paper.Width-setupMargin, rule))
	for i, line := range lines {
		room := f.width()
		if i == 0 {
			room -= numberRoom
		}
		look := sheet.Text{At: geom.Point{X: setupMargin, Y: setupMargin + 1.5 + float64(i)*footLine}, Height: setupLetter, Content: line}
		f.page().Add("foot", "foot of the page", f.shortened(look, room))
	}
}

// pageNumber writes the number of a page at its foot.
func pageNumber(s *sheet.Sheet, number, of int) {
	s.Add("foot", "foot of the page", sheet.Text{At: geom.Point{X: s.Width - setupMargin, Y: setupMargin + 1.5}, Height: setupLetter, Anchor: sheet.End,
		Content: fmt.Sprintf("page %d of %d", number, of)})
}

// finished draws the pictures and returns the pages.
func (f *setupFlow) finished() []sheet.Sheet {
	for _, p := range f.figures {
		p.draw(&f.pages[p.page], p.box)
	}
	return f.pages
}

// shortened takes letters out of the middle of a text until it fits.
func (f *setupFlow) shortened(text sheet.Text, room float64) sheet.Text {
	letters := []rune(text.Content)
	for cut := 1; cut < len(letters)-2 && f.ruler.Width(text) > room; cut++ {
		from := (len(letters) - cut) / 2
		text.Content = string(letters[:from]) + "…" + string(letters[from+cut:])
	}
	return text
}
