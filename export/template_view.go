package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// marks is all that a view shows, worked out once for all views, in the blade frame.
type marks struct {
	blade    profile.Blade
	rough    roughOutline
	ground   []profile.GroundLine
	lips     [][2][]geom.Point
	centres  [][]geom.Point
	stations []float64
	unit     document.Unit
}

func marksOf(b profile.Blade, rough roughOutline) marks {
	m := marks{blade: b, rough: rough, ground: b.GroundLines(), unit: b.Knife.Units}
	for i, f := range b.Fullers {
		upper, lower := b.Lips(i, 121)
		m.lips = append(m.lips, [2][]geom.Point{upper, lower})
		m.centres = append(m.centres, centrelineOf(f))
	}
	step, length := m.step(), b.Knife.Blade.Length
	for x := 0.0; x < length-0.85*step; x += step {
		m.stations = append(m.stations, x)
	}
	m.stations = append(m.stations, length)
	return m
}

// step is from one station to the next: 10 mm, or half an inch.
func (m marks) step() float64 {
	if m.unit == document.Inch {
		return m.unit.Millimetres() / 2
	}
	return 10
}

// say writes a length in the knife's unit: to a tenth of a millimetre, or a thousandth
// of an inch.
func (m marks) say(mm float64) string { return sayLength(mm, m.unit, 1) }

// sayLength writes a length in a unit, to so many places of a millimetre or two more of an
// inch, without a negative zero.
func sayLength(mm float64, unit document.Unit, places int) string {
	if unit == document.Inch {
		places += 2
	}
	text := fmt.Sprintf("%.*f", places, mm/unit.Millimetres())
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// centrelineOf returns the centreline of a fuller, a little beyond its ends.
func centrelineOf(f profile.Fuller) []geom.Point {
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

// view is one face laid on paper: x of the blade frame times signX, plus shiftX, and
// likewise y.
type view struct {
	face                         profile.Face
	signX, shiftX, signY, shiftY float64
}

func (v view) at(p geom.Point) geom.Point {
	return geom.Point{X: v.shiftX + v.signX*p.X, Y: v.shiftY + v.signY*p.Y}
}

func (v view) chain(c geom.Chain) []geom.Piece {
	if v.signX < 0 {
		c = c.MirrorX()
	}
	pieces := c.Translate(geom.Point{X: v.shiftX}).Pieces()
	for i, piece := range pieces {
		pieces[i] = v.upright(piece)
	}
	return pieces
}

// upright turns a piece over about the level line, where the view asks for it.
func (v view) upright(piece geom.Piece) geom.Piece {
	turn := func(p geom.Point) geom.Point { return geom.Point{X: p.X, Y: v.shiftY + v.signY*p.Y} }
	switch p := piece.(type) {
	case geom.Arc:
		p.Centre = turn(p.Centre)
		if v.signY < 0 {
			p.From, p.Sweep = -p.From, -p.Sweep
		}
		return p
	case geom.Cubic:
		return geom.Cubic{P0: turn(p.P0), P1: turn(p.P1), P2: turn(p.P2), P3: turn(p.P3)}
	}
	return geom.Line{From: turn(piece.Start()), To: turn(piece.End())}
}

// points takes points of the blade frame to the paper.
func (v view) points(points []geom.Point) []geom.Point {
	out := make([]geom.Point, len(points))
	for i, p := range points {
		out[i] = v.at(p)
	}
	return out
}

// line returns a straight line between two places of the blade frame.
func (v view) line(pen sheet.Pen, x0, y0, x1, y1 float64) sheet.Path {
	a, b := v.at(geom.Point{X: x0, Y: y0}), v.at(geom.Point{X: x1, Y: y1})
	return sheet.Line(pen, a.X, a.Y, b.X, b.Y)
}

// guardReach is how far the line of the guard plane reaches beyond the outline, mm.
const guardReach = 3.0

// draw puts the lines of a face on a drawing.
func (m marks) draw(s *sheet.Sheet, v view) {
	b := m.blade
	k, box := b.Knife, b.Outline.Bounds()
	s.Add(outlineLayer, "finished outline", sheet.Path{Pieces: v.chain(b.Outline), Pen: outlinePen})
	for _, line := range m.rough.lines {
		s.Add("rough", "rough line: the outline with the grinding allowance", sheet.Path{Pieces: v.chain(line), Pen: roughPen})
	}
	middle := -k.ShoulderTop() - k.Tang.Width/2
	s.Add(scribeLayer, "scribe lines",
		v.line(centrePen, box.Min.X-3, middle, box.Max.X+3, middle),
		v.line(scribePen, 0, box.Min.Y-guardReach, 0, box.Max.Y+guardReach))
	for _, line := range m.ground {
		s.Add(scribeLayer, "scribe lines", sheet.Polyline(dashedPen, v.points(line.Points)))
	}
	for i, f := range b.Fullers {
		if f.Size.Cut(v.face) {
			s.Add("fullers", "fuller lips and centrelines",
				sheet.Polyline(scribePen, v.points(m.lips[i][0])), sheet.Polyline(scribePen, v.points(m.lips[i][1])),
				sheet.Polyline(centrePen, v.points(m.centres[i])))
		}
	}
	m.drawCentres(s, v)
	m.drawStations(s, v)
}

// drawCentres draws holes and the threaded extension with crosses at their centres.
func (m marks) drawCentres(s *sheet.Sheet, v view) {
	const layer, label = "centres", "centres of holes and of the thread"
	cross := func(x, y, arm float64) {
		s.Add(layer, label, v.line(scribePen, x-arm, y, x+arm, y), v.line(scribePen, x, y-arm, x, y+arm))
	}
	for _, h := range m.blade.Knife.Holes {
		if h.Depth > 0 && h.Face != v.face.String() {
			continue
		}
		at := h.Place()
		s.Add(layer, label, sheet.Circle(scribePen, v.at(at), h.Bore()/2))
		cross(at.X, at.Y, h.Bore()/2+2)
	}
	if end, thread, ok := m.rod(); ok {
		far := end.X - m.blade.Knife.Tang.ThreadLength
		for _, side := range []float64{-1, 1} {
			s.Add(layer, label, v.line(dashedPen, end.X, end.Y+side*thread.Major/2, far, end.Y+side*thread.Major/2))
		}
		s.Add(layer, label, v.line(dashedPen, far, end.Y-thread.Major/2, far, end.Y+thread.Major/2))
		cross(end.X, end.Y, 2.5)
	}
}

// rod returns where the threaded extension of the tang begins, at the end of the tang on
// its middle, and its thread.
func (m marks) rod() (end geom.Point, thread profile.Thread, ok bool) {
	k := m.blade.Knife
	thread, err := profile.ThreadNamed(k.Tang.Thread)
	if err != nil || k.Tang.ThreadLength <= 0 {
		return geom.Point{}, thread, false
	}
	return geom.Point{X: -k.Tang.Length, Y: -k.ShoulderTop() - k.Tang.Width/2}, thread, true
}

// drawStations marks the stations where the outline crosses them.
func (m marks) drawStations(s *sheet.Sheet, v view) {
	const reach = 1.5
	for _, x := range m.stations[1 : len(m.stations)-1] {
		for _, y := range []float64{m.blade.BackAt(x), m.blade.EdgeAt(x)} {
			s.Add("stations", "stations along the spine", v.line(thinPen, x, y-reach, x, y+reach))
		}
	}
}

// faceView is a face as it is seen, spine up: its lines, without words.
type faceView struct {
	marks
	view
	lines sheet.Sheet
}

func (m marks) faceView(face profile.Face) faceView {
	v := view{face: face, signX: 1, signY: 1}
	if face == profile.Left {
		// Whole steps, so that the columns of both views lie over each other and a seam
		// can run between them.
		box := m.blade.Outline.Bounds()
		v.signX, v.shiftX = -1, math.Round((box.Min.X+box.Max.X)/m.step())*m.step()
	}
	f := faceView{marks: m, view: v}
	m.draw(&f.lines, v)
	return f
}

// worded returns the view with its words and its ordinates. No word of it but its heading
// and the figures lies on a seam; the boxes of those are returned too.
func (f faceView) worded(setter sheet.Typesetter, seams []float64) (s sheet.Sheet, fixed []sheet.Box) {
	m, v := f.marks, f.view
	title, toward := "RIGHT FACE", "point to the right, spine up"
	if v.face == profile.Left {
		title, toward = "LEFT FACE", "point to the left, spine up"
	}
	s = sheet.Sheet{Title: title, Description: toward, Layers: slices.Clone(f.lines.Layers)}
	for i := range s.Layers {
		s.Layers[i].Items = slices.Clip(s.Layers[i].Items)
	}
	box := m.blade.Outline.Bounds()
	allowance := m.blade.Knife.Allowance.Grinding
	l := labels{setter: setter, sheet: &s, limit: math.Max(v.at(box.Max).X, v.at(box.Min).X) + allowance, seams: seams}
	away := math.Max(allowance+2.5, guardReach+1)
	top := l.place(m.above(v), box.Max.Y+away, 1)
	bottom := l.place(m.below(v), box.Min.Y-away, -1)
	figures := m.ordinates(v, bottom-2)
	left := math.Min(v.at(box.Min).X, v.at(box.Max).X)
	name := sheet.Text{At: geom.Point{X: left, Y: top + 2}, Height: titleLetter, Bold: true, Content: title}
	which := sheet.Text{At: geom.Point{X: left + setter.Width(name) + 4, Y: top + 2}, Height: letter, Content: toward}
	s.Add(notesLayer, "notes", name, which)
	for _, text := range figures {
		s.Add("ordinates", "ordinates along the spine", text)
	}
	for _, text := range append([]sheet.Text{name, which}, figures...) {
		fixed = append(fixed, setter.Box(text))
	}
	return s, fixed
}
