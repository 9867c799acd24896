// Package export turns moves and geometry into what a person or a machine reads:
// programs, drawings and sheets. It decides nothing about them.
package export

import (
	"fmt"
	"math"
	"strings"

	"fullerwright/export/sheet"
	"fullerwright/profile"
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
	letter     = 2.5 // height of capitals of notes, mm
	margin     = 10  // of a page, mm
	viewPad    = 6   // around a view, mm
	noteStrip  = 13  // over and under a view, for its words, mm
	overlap    = 15  // of neighbouring pages, mm
	checkBand  = 60  // at the foot of a page, for the check lines, mm
	titleBand  = 16  // at the head of a page, mm
	checkLine  = 100 // mm
	inchLine   = 101.6
	checkBoxMM = 50
)

// view is one face laid on paper: where x and y of the blade frame lie.
type view struct {
	face   profile.Face
	origin geom.Point // of the blade frame
	sign   float64    // of x: the left face has its point to the left
}

func (v view) at(p geom.Point) geom.Point {
	return geom.Point{X: v.origin.X + v.sign*p.X, Y: v.origin.Y + p.Y}
}

func (v view) chain(c geom.Chain) []geom.Piece {
	if v.sign < 0 {
		c = c.MirrorX()
	}
	return c.Translate(v.origin).Pieces()
}

// points takes points of the blade frame to the paper.
func (v view) points(points []geom.Point) []geom.Point {
	out := make([]geom.Point, len(points))
	for i, p := range points {
		out[i] = v.at(p)
	}
	return out
}

// upright returns a line across the blade at x, between two heights.
func (v view) upright(pen sheet.Pen, x, y0, y1 float64) sheet.Path {
	a, b := v.at(geom.Point{X: x, Y: y0}), v.at(geom.Point{X: x, Y: y1})
	return sheet.Line(pen, a.X, a.Y, b.X, b.Y)
}

func (v view) level(pen sheet.Pen, y, x0, x1 float64) sheet.Path {
	a, b := v.at(geom.Point{X: x0, Y: y}), v.at(geom.Point{X: x1, Y: y})
	return sheet.Line(pen, a.X, a.Y, b.X, b.Y)
}

// Template returns the grinding template of a blade as one sheet at true size: both
// faces, one over the other, the right one with its point to the right and the left
// one with its point to the left, both with the spine up.
func Template(b profile.Blade, digest string) sheet.Sheet {
	size := templateSize(b)
	s := sheet.Sheet{
		Title:       "Grinding template: " + b.Knife.Name,
		Description: describe(b, digest),
		Width:       size.width + 2*margin,
		Height:      titleBand + 2*size.view + checkBand + 2*margin,
	}
	s.Add(notesLayer, "notes", titleText(b, digest, margin, s.Height-margin-5)...)
	addViews(&s, b, margin, s.Height-margin-titleBand, profile.Faces())
	addChecks(&s, b, margin, margin)
	return s
}

// extents are the sizes of the template's parts, mm.
type extents struct{ width, view float64 }

func templateSize(b profile.Blade) extents {
	box := b.Outline.Bounds()
	return extents{width: box.Max.X - box.Min.X + 2*viewPad, view: box.Max.Y - box.Min.Y + 2*noteStrip}
}

func describe(b profile.Blade, digest string) string {
	return fmt.Sprintf("%s, blade %.2f mm, overall %.2f mm, %s. True size in millimetres. Parameters %s.",
		b.Knife.Name, b.Knife.Blade.Length, b.Knife.OverallLength(), rungWords(b), digest)
}

// rungWords says on which rung of the allowance ladder the outline stands.
func rungWords(b profile.Blade) string {
	if b.Knife.Allowance.Growth != 0 {
		return "outline before hardening"
	}
	return "finished outline"
}

// addViews draws faces from the top down.
func addViews(s *sheet.Sheet, b profile.Blade, left, top float64, faces []profile.Face) {
	box, size := b.Outline.Bounds(), templateSize(b)
	for i, face := range faces {
		v := view{face: face, sign: 1}
		v.origin.Y = top - float64(i)*size.view - noteStrip - box.Max.Y
		v.origin.X = left + viewPad - box.Min.X
		if face == profile.Left {
			v.sign, v.origin.X = -1, left+viewPad+box.Max.X
		}
		addView(s, b, v)
	}
}

func addView(s *sheet.Sheet, b profile.Blade, v view) {
	k, box := b.Knife, b.Outline.Bounds()
	s.Add(outlineLayer, "finished outline", sheet.Path{Pieces: v.chain(b.Outline), Pen: outlinePen})
	rough, _ := roughLine(b)
	for _, line := range rough {
		s.Add("rough", "rough line: the outline with the grinding allowance", sheet.Path{Pieces: v.chain(line), Pen: roughPen})
	}

	tangMiddle := -k.ShoulderTop() - k.Tang.Width/2
	s.Add(scribeLayer, "scribe lines",
		v.level(centrePen, tangMiddle, box.Min.X-3, box.Max.X+3),
		v.upright(scribePen, 0, box.Min.Y-3, box.Max.Y+3),
		v.upright(scribePen, b.ClipStart().X, b.ClipStart().Y-2, b.ClipStart().Y+3),
	)
	for _, line := range b.GroundLines() {
		s.Add(scribeLayer, "scribe lines", sheet.Polyline(dashedPen, v.points(line.Points)))
	}
	for i, f := range b.Fullers {
		if !f.Size.Cut(v.face) {
			continue
		}
		upper, lower := b.Lips(i, 121)
		s.Add("fullers", "fuller lips and centrelines",
			sheet.Polyline(scribePen, v.points(upper)), sheet.Polyline(scribePen, v.points(lower)),
			sheet.Polyline(centrePen, v.points(centrelineOf(b, f))))
	}
	addWords(s, b, v)
}

// roughLine returns the line that rough profiling keeps to, the outline with the grinding
// allowance around it, and the words that say so, or why there is none.
func roughLine(b profile.Blade) (lines []geom.Chain, note string) {
	const tolerance = 1e-3 // mm, far finer than a pen
	allowance := b.Knife.Allowance.Grinding
	if allowance < 2*tolerance {
		return nil, "No grinding allowance outside the outline."
	}
	lines, err := b.Outline.Offset(allowance, tolerance)
	if err != nil {
		return nil, fmt.Sprintf("No rough line can be drawn at %.2f mm: choose another allowance.grinding.", allowance)
	}
	return lines, fmt.Sprintf("Dotted outside: rough line, with %.2f mm left for grinding.", allowance)
}

// centrelineOf returns the centreline of a fuller, a little beyond its ends.
func centrelineOf(b profile.Blade, f profile.Fuller) []geom.Point {
	const beyond, n = 4, 41
	g := f.Finished
	from, to := g.AtX(f.StartVisible)-beyond, g.AtX(f.EndVisible)+beyond
	out := make([]geom.Point, n)
	for i := range out {
		out[i], _ = g.Place(from + (to-from)*float64(i)/(n-1))
	}
	if len(g.Plan) == 2 {
		return []geom.Point{out[0], out[n-1]}
	}
	return out
}

// addWords writes what the lines of a view are, over and under it.
func addWords(s *sheet.Sheet, b profile.Blade, v view) {
	k, box := b.Knife, b.Outline.Bounds()
	above, below := box.Max.Y+4.5, box.Min.Y-4.5-letter
	word := func(x, y float64, anchor sheet.Anchor, text string) sheet.Text {
		return sheet.Text{At: v.at(geom.Point{X: x, Y: y}), Height: letter, Anchor: anchor, Content: text}
	}
	outward, inward := sheet.Start, sheet.End
	if v.sign < 0 {
		outward, inward = inward, outward
	}
	title := sheet.Text{At: v.at(geom.Point{X: box.Min.X, Y: above}), Height: 3.5, Anchor: outward, Bold: true, Content: faceTitle(v.face)}
	items := []sheet.Item{
		title,
		word(1.5, above, outward, "guard plane"),
		word(b.ClipStart().X, above, sheet.Middle, "clip start"),
		word(box.Max.X, above+4.2, inward, strings.ToLower(faceTitle(v.face))+": point, spine up"),
		word(k.Ricasso.Length, below, outward, fmt.Sprintf("plunge line, %.1f mm from the guard plane", k.Ricasso.Length)),
		word(box.Max.X, below, inward, "edge"),
		word(box.Min.X, below, outward, "tang"),
	}
	s.Add(notesLayer, "notes", items...)
}

func faceTitle(f profile.Face) string {
	if f == profile.Left {
		return "LEFT FACE"
	}
	return "RIGHT FACE"
}

func titleText(b profile.Blade, digest string, x, y float64) []sheet.Item {
	k := b.Knife
	return []sheet.Item{
		sheet.Text{At: geom.Point{X: x, Y: y}, Height: 4, Bold: true, Content: "Grinding template: " + k.Name},
		sheet.Text{At: geom.Point{X: x, Y: y - 6}, Height: letter,
			Content: fmt.Sprintf("Blade %.2f mm, width %.2f mm, overall %.2f mm, %s. Parameters %s", k.Blade.Length, k.Blade.Width, k.OverallLength(), rungWords(b), digest)},
	}
}

// addChecks draws what proves the scale of the sheet, from its lower left corner: a
// line of 100 mm, one of 4 inches, and a square with its diagonals.
func addChecks(s *sheet.Sheet, b profile.Blade, x, y float64) {
	const tick = 2
	rule := func(left, height, length float64, label string) {
		s.Add(checkLayer, "check lines",
			sheet.Line(thinPen, left, height, left+length, height),
			sheet.Line(thinPen, left, height-tick, left, height+tick),
			sheet.Line(thinPen, left+length, height-tick, left+length, height+tick),
			sheet.Text{At: geom.Point{X: left + length/2, Y: height + 1.2}, Height: letter, Anchor: sheet.Middle, Content: label})
	}
	right := x + checkBoxMM + 12
	rule(right, y+10, checkLine, "100 mm between the ticks")
	rule(right, y+22, inchLine, "4 in between the ticks")
	s.Add(checkLayer, "check lines",
		sheet.Rectangle(thinPen, x, y, checkBoxMM, checkBoxMM),
		sheet.Line(thinPen, x, y, x+checkBoxMM, y+checkBoxMM),
		sheet.Line(thinPen, x, y+checkBoxMM, x+checkBoxMM, y),
		sheet.Text{At: geom.Point{X: x, Y: y + checkBoxMM + 1.5}, Height: letter,
			Content: fmt.Sprintf("50 mm square, diagonals %.2f mm", checkBoxMM*math.Sqrt2)})
	_, rough := roughLine(b)
	for i, line := range []string{
		"Print at actual size (100 %), not fitted to the page.",
		"Measure every check line with a rule before you trust the sheet.",
		"Grind to the middle of the drawn outline.",
		rough,
		"Full lines inside: lips of the finished fullers.",
		"Dashed: bevel, plunge and false edge. Dash and dot: centre lines.",
		"Wear eye and breathing protection at the grinder.",
	} {
		s.Add(notesLayer, "notes", sheet.Text{At: geom.Point{X: right, Y: y + 54 - float64(i)*4.2}, Height: letter, Content: line})
	}
}
