package export

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

const (
	margin       = 10.0 // of a page, mm: most printers leave less than 7 blank (common practice, no source)
	overlap      = 16.0 // of neighbouring pages, mm
	registerBand = 8.0  // over and under a row of views, for the crosses, mm
	viewGap      = 5.0  // between views, mm
)

// layout is how the views are spread over pages of one size.
type layout struct {
	width, height float64
	warp          sheet.Warp
	inside        sheet.Box // what a page may use
	rows          []row
}

// row is what stands on pages that belong side by side: views under each other, and the
// windows, one a page, through which they are seen.
type row struct {
	panels  []templateView
	windows []window
	height  float64
}

// window is the stretch of a row that one page shows, in x as the views count it. Seam is
// where it joins the page before.
type window struct{ least, most, seam float64 }

func (l layout) pages() (n int) {
	for _, r := range l.rows {
		n += len(r.windows)
	}
	return n
}

// content returns the part of a page between its heading and its rules.
func (l layout) content() sheet.Box {
	return sheet.Box{MinX: l.inside.MinX + ruleBand, MinY: l.inside.MinY + ruleBand, MaxX: l.inside.MaxX, MaxY: l.inside.MaxY - frameTop}
}

// pageOf returns an empty layout for pages of one size: what lies inside the margins both
// on the page as drawn, after the printer's correction, and on the paper as printed.
func pageOf(width, height float64, printer Printer) layout {
	l := layout{width: width, height: height, warp: printer.warp(width, height)}
	x, y := width/2-margin, height/2-margin
	if w := l.warp; !w.None() {
		x, y = math.Min(x, (x-math.Abs(w.XY)*y)/w.XX), math.Min(y, (y-math.Abs(w.YX)*x)/w.YY)
	}
	l.inside = sheet.Box{MinX: width/2 - x, MinY: height/2 - y, MaxX: width/2 + x, MaxY: height/2 + y}
	return l
}

// layoutFor spreads the views over pages of a given size; ok is false where a view is
// higher than a page. Views that are drawn again for their seams may come out higher;
// then they are spread once more.
func (t Template) layoutFor(width, height float64, printer Printer) (l layout, ok bool) {
	const attempts = 4
	panels := t.panels
	for range attempts {
		l = pageOf(width, height, printer)
		box := l.content()
		room := box.MaxY - box.MinY - 2*registerBand
		if l.rows, ok = rowsOf(panels, room); !ok {
			return layout{}, false
		}
		var drawn []templateView
		fits := true
		for i := range l.rows {
			r := &l.rows[i]
			if r.windows, ok = windowsOf(r.panels, box.MaxX-box.MinX); !ok {
				return layout{}, false
			}
			r.height = -viewGap
			for j, p := range r.panels {
				r.panels[j] = p.clearOf(r.seams(), t.setter)
				r.height += viewGap + r.panels[j].height()
			}
			drawn = append(drawn, r.panels...)
			fits = fits && r.height <= room
		}
		if fits {
			return l, true
		}
		panels = drawn
	}
	return layout{}, false
}

// rowsOf puts views under each other as long as there is room.
func rowsOf(panels []templateView, room float64) (rows []row, ok bool) {
	for _, p := range panels {
		if p.height() > room {
			return nil, false
		}
		if n := len(rows); n > 0 && rows[n-1].height+viewGap+p.height() <= room {
			rows[n-1].panels = append(rows[n-1].panels, p)
			rows[n-1].height += viewGap + p.height()
		} else {
			rows = append(rows, row{panels: []templateView{p}, height: p.height()})
		}
	}
	return rows, true
}

func (r row) seams() (out []float64) {
	for _, w := range r.windows[1:] {
		out = append(out, w.seam)
	}
	return out
}

// windowsOf cuts a row into as few windows of at most a width as it takes, about equally
// wide, with seams that run through no word that stays where it is; ok is false where
// there are no such seams.
func windowsOf(panels []templateView, wide float64) (out []window, ok bool) {
	least, most := math.Inf(1), math.Inf(-1)
	var words []sheet.Box
	for _, p := range panels {
		least, most = math.Min(least, p.box.MinX), math.Max(most, p.box.MaxX)
		words = append(words, p.fixed...)
	}
	const enough = 40
	if wide <= 2*overlap {
		return nil, false
	}
	for n := math.Max(1, math.Ceil((most-least-overlap)/(wide-overlap)-1e-9)); n < enough; n++ {
		if out, ok = cutInto(n, least, most, wide, words); ok {
			return out, true
		}
	}
	return nil, false
}

// cutInto cuts a stretch into a number of windows.
func cutInto(n, least, most, wide float64, words []sheet.Box) (out []window, ok bool) {
	equal := (most - least + (n-1)*overlap) / n
	at, seam := least, least
	for i := 1.0; i < n; i++ {
		next := seamNear(words, least+i*(equal-overlap)+overlap/2, at+wide-overlap/2, at+overlap)
		if math.IsNaN(next) {
			return nil, false
		}
		out = append(out, window{at, next + overlap/2, seam})
		at, seam = next-overlap/2, next
	}
	return append(out, window{at, most, seam}), at+wide >= most-1e-9
}

// seamNear returns the x that no word lies at, nearest to the one wanted and between the
// greatest and the least that may be, or NaN.
func seamNear(words []sheet.Box, wanted, most, least float64) float64 {
	const clear, step = 0.3, 0.1
	free := func(x float64) bool {
		return x >= least && x <= most+1e-9 && !slices.ContainsFunc(words, func(w sheet.Box) bool { return w.MinX-clear < x && x < w.MaxX+clear })
	}
	for away := 0.0; away < most-least; away += step {
		for _, x := range []float64{wanted + away, wanted - away} {
			if free(x) {
				return x
			}
		}
	}
	return math.NaN()
}

// bestLayout takes the pages upright or across, whichever are fewer; where they are as
// many, the one with fewer rows, which are to be glued together less.
func (t Template) bestLayout(paper Paper, printer Printer) (layout, error) {
	upright, okUpright := t.layoutFor(paper.Width, paper.Height, printer)
	across, okAcross := t.layoutFor(paper.Height, paper.Width, printer)
	switch {
	case !okUpright && !okAcross:
		return layout{}, fmt.Errorf("the views of a blade %.0f mm wide do not fit the height of %s paper; take a larger paper", t.blade.Knife.Blade.Width, paper.Name)
	case !okUpright, okAcross && across.pages() < upright.pages(),
		okAcross && across.pages() == upright.pages() && len(across.rows) > len(upright.rows):
		return across, nil
	}
	return upright, nil
}

// Pages returns the template on pages of one size of paper: a sheet with the square to be
// measured, the map of the pages and what the lines are, and then the views, on pages
// laid upright or across, whichever takes fewer. Neighbouring pages overlap and carry
// register crosses that lie on each other. Everything on a page is drawn through the one
// map that makes up for the printer.
func (t Template) Pages(paper Paper, printer Printer) ([]sheet.Sheet, error) {
	l, err := t.bestLayout(paper, printer)
	if err != nil {
		return nil, err
	}
	total := 1 + l.pages()
	pages := []sheet.Sheet{t.checkSheet(paper, printer, l)}
	seams := 0
	for _, r := range l.rows {
		for i := range r.windows {
			page := sheet.Sheet{Title: t.title(), Description: t.describe(), Width: l.width, Height: l.height, Warp: l.warp}
			words := pageWords(paper, len(pages)+1, total, printer)
			if len(r.windows) > 1 {
				words += fmt.Sprintf(", part %d of %d", i+1, len(r.windows))
			}
			t.addFrame(&page, l.inside, words)
			t.addWindow(&page, l, r, i, seams)
			pages = append(pages, page)
		}
		seams += len(r.windows) - 1
	}
	return pages, nil
}

func pageWords(paper Paper, page, total int, printer Printer) string {
	words := fmt.Sprintf("%s, page %d of %d", paper.Name, page, total)
	if printer.Corrects() {
		words += ", printer corrected"
	}
	return words
}

// addWindow draws what one page shows of its row, in the middle of its height.
func (t Template) addWindow(s *sheet.Sheet, l layout, r row, index, seams int) {
	box, w := l.content(), r.windows[index]
	top := box.MaxY - registerBand - (box.MaxY-box.MinY-2*registerBand-r.height)/2
	shift := box.MinX - w.least
	if len(r.windows) == 1 {
		shift += (box.MaxX - box.MinX - (w.most - w.least)) / 2
	}
	lines, words := sheet.Span{Least: w.least, Most: w.most}, sheet.Span{Least: w.seam, Most: w.most}
	if index < len(r.windows)-1 {
		words.Most = r.windows[index+1].seam
	}
	y := top
	for _, p := range r.panels {
		by := geom.Point{X: shift, Y: y - p.box.MaxY}
		s.Place(t.setter, p.Sheet, lines, words, by)
		for _, text := range p.nameOn(words, t.setter) {
			text.At = geom.Point{X: text.At.X + by.X, Y: text.At.Y + by.Y}
			s.Add(notesLayer, "notes", text)
		}
		y -= p.height() + viewGap
	}
	if index > 0 {
		addRegister(s, w.seam+shift, top, top-r.height, seams+index)
	}
	if index < len(r.windows)-1 {
		addRegister(s, r.windows[index+1].seam+shift, top, top-r.height, seams+index+1)
	}
}

// nameOn returns what names a view, and says how it lies, on a page that shows the words
// of a span without the view's own name: in the row of that, behind what else is written
// there. Where there is little room the name is small and alone.
func (p templateView) nameOn(words sheet.Span, setter sheet.Typesetter) []sheet.Text {
	const aside = 3
	row := p.fixed[0]
	if row.MinX >= words.Least && row.MaxX <= words.Most {
		return nil
	}
	at := geom.Point{X: words.Least + aside, Y: row.MaxY - titleLetter}
	for _, box := range p.fixed {
		if box.MinY < row.MaxY && row.MinY < box.MaxY && box.MaxX > words.Least && box.MinX < words.Most {
			at.X = math.Max(at.X, box.MaxX+aside)
		}
	}
	name := sheet.Text{At: at, Height: titleLetter, Bold: true, Content: p.Title + ", continued"}
	lies := sheet.Text{At: geom.Point{X: setter.Box(name).MaxX + 4, Y: at.Y}, Height: letter, Content: p.Description}
	small := sheet.Text{At: at, Height: letter, Bold: true, Content: p.Title}
	for _, texts := range [][]sheet.Text{{name, lies}, {name}, {small}} {
		if setter.Box(texts[len(texts)-1]).MaxX < words.Most-1 {
			return texts
		}
	}
	return nil
}

// addRegister draws the line on which two pages join and a cross at either end of it.
func addRegister(s *sheet.Sheet, x, top, bottom float64, number int) {
	const arm = 3
	s.Add("register", "seams and register crosses", sheet.Line(sheet.Pen{Width: 0.1, Dash: []float64{1, 2}}, x, bottom-1, x, top+1))
	for i, y := range []float64{top + registerBand/2, bottom - registerBand/2} {
		s.Add("register", "seams and register crosses",
			sheet.Line(thinPen, x-arm, y, x+arm, y), sheet.Line(thinPen, x, y-arm, x, y+arm),
			sheet.Circle(thinPen, geom.Point{X: x, Y: y}, 1.5),
			sheet.Text{At: geom.Point{X: x + 1.7, Y: y + 0.7}, Height: smallLetter, Content: fmt.Sprintf("%d%c", number, 'A'+i)})
	}
}

// PDF returns the template's pages for one size of paper as one document.
func (t Template) PDF(paper Paper, printer Printer) ([]byte, error) {
	pages, err := t.Pages(paper, printer)
	if err != nil {
		return nil, err
	}
	return sheet.PDF(sheet.Document{Title: t.title(), Subject: t.describe(), Author: t.blade.Knife.Maker}, pages)
}
