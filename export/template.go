// Package export turns moves and geometry into what a person or a machine reads:
// programs, drawings and sheets. It decides nothing about them.
package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// Pens of the template. Lines that steel is cut or ground to are fine; what they mark
// is the middle of the line.
var (
	outlinePen = sheet.Pen{Width: 0.18}
	scribePen  = sheet.Pen{Width: 0.13}
	roughPen   = sheet.Pen{Width: 0.13, Dash: []float64{0.6, 0.8}}
	centrePen  = sheet.Pen{Width: 0.13, Dash: []float64{8, 1.5, 1.5, 1.5}}
	dashedPen  = sheet.Pen{Width: 0.13, Dash: []float64{3, 1.5}}
	foldPen    = sheet.Pen{Width: 0.18, Dash: []float64{5, 1.5, 1, 1.5, 1, 1.5}}
	barPen     = sheet.Pen{Width: 0.13, Dash: []float64{1.5, 1.5}}
	thinPen    = sheet.Pen{Width: 0.1}
)

// Layers of the template.
const (
	outlineLayer = "outline"
	scribeLayer  = "scribe"
	notesLayer   = "notes"
	checkLayer   = "check"
)

const (
	letter      = 2.5 // height of capitals of notes, mm
	smallLetter = 2.2 // of the figures of a table
	titleLetter = 3.5 // of the name of a view
)

// Stamp says from what a sheet was made, so that paper and programs can be matched.
type Stamp struct{ File, Digest string }

func (s Stamp) String() string { return fmt.Sprintf("%s, parameters %s", s.File, s.Digest) }

// Template is the grinding template of a blade: its views at true size, each drawn once,
// from which the drawing in one piece and the pages for any paper are put together.
type Template struct {
	blade  profile.Blade
	stamp  Stamp
	rough  roughOutline
	panels []templateView
	setter sheet.Typesetter
}

// templateView is one view, drawn in a frame of its own in which x is counted as in all the
// others of its template; its title names it, and its description says how it lies. It can be drawn again so that its words keep
// clear of seams; fixed are the boxes of the words that stay where they are, the first of
// them that of its name.
type templateView struct {
	sheet.Sheet
	box   sheet.Box
	fixed []sheet.Box
	draw  func(seams []float64) (whole sheet.Sheet, fixed []sheet.Box)
}

// clearOf draws the view again for given seams.
func (p templateView) clearOf(seams []float64, setter sheet.Typesetter) templateView {
	p.Sheet, p.fixed = p.draw(seams)
	p.box = p.Bounds(setter)
	return p
}

func (p templateView) height() float64 { return p.box.MaxY - p.box.MinY }

// NewTemplate draws the views of a blade: both faces as they are seen, and the pair that
// is folded over the bar.
func NewTemplate(b profile.Blade, stamp Stamp) (Template, error) {
	setter, err := sheet.NewTypesetter()
	if err != nil {
		return Template{}, err
	}
	t := Template{blade: b, stamp: stamp, rough: roughLine(b), setter: setter}
	marks := marksOf(b, t.rough)
	for _, face := range profile.Faces() {
		bare := marks.faceView(face)
		t.panels = append(t.panels, templateView{draw: func(seams []float64) (sheet.Sheet, []sheet.Box) { return bare.worded(setter, seams) }})
	}
	pair, words := marks.foldedPair(setter)
	t.panels = append(t.panels, templateView{draw: func([]float64) (sheet.Sheet, []sheet.Box) { return pair, words }})
	for i, p := range t.panels {
		t.panels[i] = p.clearOf(nil, setter)
	}
	return t, nil
}

func (t Template) title() string { return "Grinding template: " + t.blade.Knife.Name }

func (t Template) describe() string {
	k := t.blade.Knife
	return document.Say("%s, blade %.2f mm, overall %.2f mm, %s. True size in millimetres. %s.",
		k.Name, k.Blade.Length, k.OverallLength(), rungWords(t.blade), t.stamp).In(k.Units)
}

// rungWords says on which rung of the allowance ladder the outline stands.
func rungWords(b profile.Blade) string {
	if b.Knife.Allowance.Growth != 0 {
		return "outline before hardening"
	}
	return "finished outline"
}

// barWords says whether the bar drawn is the real one.
func barWords(b profile.Blade) string {
	if len(b.Bar.MeasuredAt) > 0 {
		return "as measured at " + plural(len(b.Bar.MeasuredAt), "station", "stations")
	}
	if b.Bar.TaperedFirst() {
		return "as ground to the taper, not measured"
	}
	return "as ordered, not measured"
}

// Sheet returns the template in one piece at true size: all views under each other.
func (t Template) Sheet() sheet.Sheet {
	const margin, gap = 10.0, 8.0
	all := t.extents()
	width := math.Max(all.MaxX-all.MinX, leastSheet)
	height := frameTop + ruleBand + gap
	for _, p := range t.panels {
		height += p.height() + gap
	}
	s := sheet.Sheet{Title: t.title(), Description: t.describe(), Width: width + ruleBand + 2*margin, Height: height + 2*margin}
	y := s.Height - margin - frameTop - gap
	for _, p := range t.panels {
		by := geom.Point{X: margin + ruleBand - all.MinX, Y: y - p.box.MaxY}
		s.Place(t.setter, p.Sheet, sheet.Span{Least: all.MinX, Most: all.MaxX}, sheet.Span{Least: all.MinX, Most: all.MaxX}, by)
		y -= p.height() + gap
	}
	inside := sheet.Box{MinX: margin, MinY: margin, MaxX: s.Width - margin, MaxY: s.Height - margin}
	t.addFrame(&s, inside, "in one piece, not corrected for any printer")
	return s
}

// leastSheet is the least width of the drawing in one piece, mm: its heading takes it.
const leastSheet = 160

// extents returns the box around all views, in x as they count it.
func (t Template) extents() sheet.Box {
	out := t.panels[0].box
	for _, p := range t.panels {
		out.MinX, out.MaxX = math.Min(out.MinX, p.box.MinX), math.Max(out.MaxX, p.box.MaxX)
	}
	return out
}

// roughOutline is the line that rough profiling keeps to, and the words that say so, or
// why there is none.
type roughOutline struct {
	lines []geom.Chain
	note  string
}

// roughLine returns the outline with the grinding allowance around it.
func roughLine(b profile.Blade) roughOutline {
	const tolerance = 1e-3 // mm, far finer than a pen
	allowance := b.Knife.Allowance.Grinding
	if allowance < 2*tolerance {
		return roughOutline{note: "No grinding allowance outside the outline."}
	}
	lines, err := b.Outline.Offset(allowance, tolerance)
	if err != nil {
		return roughOutline{note: document.Say("No rough line can be drawn at %.2f mm: choose another allowance.grinding.", allowance).In(b.Knife.Units)}
	}
	return roughOutline{lines, document.Say("rough line, %.2f mm left for grinding", allowance).In(b.Knife.Units)}
}
