package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// Paper is a size of paper, upright.
type Paper struct {
	Name          string
	Width, Height float64 // mm
}

// Papers returns the sizes of paper known here. The A sizes are those of ISO 216; the
// others are exact in inches (ANSI/ASME Y14.1 sizes A and B, from memory; Legal is
// common practice): 8.5 by 11, 8.5 by 14 and 11 by 17.
func Papers() []Paper {
	const inch = 25.4
	return []Paper{{"A4", 210, 297}, {"Letter", 8.5 * inch, 11 * inch}, {"Legal", 8.5 * inch, 14 * inch}, {"A3", 297, 420}, {"Tabloid", 11 * inch, 17 * inch}}
}

// PaperNamed returns the paper of a name.
func PaperNamed(name string) (Paper, bool) {
	for _, p := range Papers() {
		if p.Name == name {
			return p, true
		}
	}
	return Paper{}, false
}

// layout is how a template is spread over pages of one size.
type layout struct {
	width, height float64 // of a page
	facesOnPage   int
	windows       int     // pages side by side
	step          float64 // from one to the next
}

func (l layout) pages() int { return l.windows * (2 / l.facesOnPage) }

// layoutFor spreads a template over pages of a given size; ok is false where not even
// one face fits the height.
func layoutFor(size extents, width, height float64) (l layout, ok bool) {
	l = layout{width: width, height: height, facesOnPage: 2}
	usable := width - 2*margin
	room := height - 2*margin - titleBand - checkBand
	if 2*size.view > room {
		l.facesOnPage = 1
	}
	l.step = usable - overlap
	l.windows = 1
	if size.width > usable {
		l.windows = 1 + int(math.Ceil((size.width-usable)/l.step))
	}
	return l, size.view <= room && l.step > overlap
}

// TemplatePages returns the template on pages of one size of paper, laid upright or
// across, whichever takes fewer pages. Neighbouring pages overlap and carry register
// crosses that lie on each other.
func TemplatePages(b profile.Blade, paper Paper, digest string) ([]sheet.Sheet, error) {
	size := templateSize(b)
	across, okAcross := layoutFor(size, paper.Height, paper.Width)
	upright, okUpright := layoutFor(size, paper.Width, paper.Height)
	best := across
	switch {
	case !okAcross && !okUpright:
		return nil, fmt.Errorf("a blade %.0f mm wide does not fit the height of %s paper; take a larger paper", b.Knife.Blade.Width, paper.Name)
	case !okAcross, okUpright && upright.pages() < across.pages():
		best = upright
	}
	var pages []sheet.Sheet
	groups := [][]profile.Face{profile.Faces()}
	if best.facesOnPage == 1 {
		groups = [][]profile.Face{{profile.Right}, {profile.Left}}
	}
	for _, faces := range groups {
		for i := range best.windows {
			page, err := templatePage(b, best, faces, i, digest)
			if err != nil {
				return nil, err
			}
			pages = append(pages, page)
		}
	}
	for i := range pages {
		pages[i].Add(notesLayer, "notes", sheet.Text{At: geom.Point{X: best.width - margin, Y: best.height - margin - 5}, Height: letter, Anchor: sheet.End,
			Content: fmt.Sprintf("%s, page %d of %d", paper.Name, i+1, len(pages))})
	}
	return pages, nil
}

// templatePage returns one page: the window of the given number, counted from the
// left.
func templatePage(b profile.Blade, l layout, faces []profile.Face, window int, digest string) (sheet.Sheet, error) {
	s := sheet.Sheet{Title: "Grinding template: " + b.Knife.Name, Description: describe(b, digest), Width: l.width, Height: l.height}
	left, top := margin-float64(window)*l.step, l.height-margin-titleBand
	addViews(&s, b, left, top, faces)
	if err := keepTextOnPage(&s, margin, l.width-margin); err != nil {
		return sheet.Sheet{}, err
	}
	s.Add(notesLayer, "notes", titleText(b, digest, margin, l.height-margin-5)...)
	addChecks(&s, b, margin, margin)
	bottom := top - float64(len(faces))*templateSize(b).view
	if window > 0 {
		addRegister(&s, margin+overlap/2, top, bottom, window)
	}
	if window < l.windows-1 {
		addRegister(&s, margin+l.step+overlap/2, top, bottom, window+1)
	}
	return s, nil
}

// keepTextOnPage drops the words that belong to other pages and moves those near an
// edge in.
func keepTextOnPage(s *sheet.Sheet, least, most float64) error {
	texts, boxes, err := s.TextBoxes()
	if err != nil {
		return err
	}
	next := 0
	for i := range s.Layers {
		var kept []sheet.Item
		for _, item := range s.Layers[i].Items {
			t, isText := item.(sheet.Text)
			if !isText {
				kept = append(kept, item)
				continue
			}
			box := boxes[next]
			t = texts[next]
			next++
			if t.At.X < least || t.At.X > most {
				continue
			}
			t.At.X += math.Max(0, least-box.MinX) - math.Max(0, box.MaxX-most)
			kept = append(kept, t)
		}
		s.Layers[i].Items = kept
	}
	return nil
}

// addRegister draws the line on which two pages join and a cross at either end of it.
func addRegister(s *sheet.Sheet, x, top, bottom float64, number int) {
	const arm = 3
	s.Add(checkLayer, "check lines", sheet.Line(sheet.Pen{Width: 0.1, Dash: []float64{1, 2}}, x, bottom, x, top))
	for i, y := range []float64{top + 1.5, bottom + 1} {
		s.Add(checkLayer, "check lines",
			sheet.Line(thinPen, x-arm, y, x+arm, y), sheet.Line(thinPen, x, y-arm, x, y+arm),
			sheet.Circle(thinPen, geom.Point{X: x, Y: y}, 1.5),
			sheet.Text{At: geom.Point{X: x + 4, Y: y - 1}, Height: letter, Content: fmt.Sprintf("%d%c", number, 'A'+i)})
	}
}

// TemplatePDF returns the template's pages for one size of paper as one document.
func TemplatePDF(b profile.Blade, paper Paper, digest string) ([]byte, error) {
	pages, err := TemplatePages(b, paper, digest)
	if err != nil {
		return nil, err
	}
	return sheet.PDF(sheet.Document{Title: "Grinding template: " + b.Knife.Name, Subject: describe(b, digest), Author: ""}, pages)
}
