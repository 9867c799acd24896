package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// overlayPen draws one of the two knives of an overlay.
type overlayPen struct {
	outline, line sheet.Pen
}

// overlayPens: the first knife is dashed, the second drawn out, so that they are told
// apart in black.
func overlayPens() [2]overlayPen {
	return [2]overlayPen{
		{sheet.Pen{Width: 0.25, Dash: []float64{2.2, 1.1}}, sheet.Pen{Width: 0.15, Dash: []float64{1.4, 0.9}}},
		{sheet.Pen{Width: 0.45}, sheet.Pen{Width: 0.2}},
	}
}

const (
	overlaySheetWidth, overlaySheetHeight = 297.0, 210.0 // A4 lying
	overlayStations                       = 4
)

// Overlay draws two knives on each other, guard plane on guard plane and spine line on
// spine line: the right faces, and sections of both at shares of the shorter blade.
func Overlay(a, b profile.Blade, nameA, nameB string) sheet.Sheet {
	s := sheet.Sheet{Title: fmt.Sprintf("%s and %s", nameA, nameB), Width: overlaySheetWidth, Height: overlaySheetHeight,
		Description: document.Say("%s dashed, blade %.2f mm; %s drawn out, blade %.2f mm.", nameA, a.Knife.Blade.Length, nameB, b.Knife.Blade.Length).In(a.Knife.Units)}
	top := chartHead(&s, nil)
	drawOverlayKey(&s, top-2, [2]string{describeSize(nameA, a, a.Knife.Units), describeSize(nameB, b, a.Knife.Units)})
	blades := [2]profile.Blade{a, b}
	v := overlayView(blades, top-15)
	for i, blade := range blades {
		v.draw(&s, blade, overlayPens()[i])
	}
	bottom := v.drawScale(&s, a.Knife.Units)
	drawOverlaySections(&s, blades, v, bottom)
	return s
}

func describeSize(name string, b profile.Blade, unit document.Unit) string {
	k := b.Knife
	return document.Say("%s: blade %.1f × %.1f × %.2f mm, with tang %.1f mm", name, k.Blade.Length, k.Blade.Width, k.Blade.Thickness, k.OverallLength()).In(unit)
}

func drawOverlayKey(s *sheet.Sheet, y float64, says [2]string) {
	for i, pen := range overlayPens() {
		row := y - 5*float64(i)
		s.Add("legend", "legend", sheet.Line(pen.outline, chartMargin, row+1, chartMargin+14, row+1),
			sheet.Text{At: geom.Point{X: chartMargin + 17, Y: row}, Height: 2.5, Content: says[i]})
	}
}

// overlaid is where both knives lie on the sheet.
type overlaid struct {
	scale       float64
	origin      geom.Point // of the blade frame
	low         float64    // on the sheet, of the lower of both
	least, most float64    // x, mm
}

// overlayView puts both knives under a height, as large as the sheet allows and no larger
// than life.
func overlayView(blades [2]profile.Blade, top float64) overlaid {
	p, q := blades[0].Outline.Bounds(), blades[1].Outline.Bounds()
	least, most := min(p.Min.X, q.Min.X), max(p.Max.X, q.Max.X)
	low, high := min(p.Min.Y, q.Min.Y), max(p.Max.Y, q.Max.Y)
	const room = 75.0 // of the height, for the view of the faces
	scale := min(1, (overlaySheetWidth-2*chartMargin)/(most-least), room/(high-low))
	v := overlaid{scale: scale, least: least, most: most}
	v.origin = geom.Point{X: (overlaySheetWidth-(most-least)*scale)/2 - least*scale, Y: top - high*scale}
	v.low = v.origin.Y + low*scale
	return v
}

func (v overlaid) at(p geom.Point) geom.Point {
	return geom.Point{X: v.origin.X + v.scale*p.X, Y: v.origin.Y + v.scale*p.Y}
}

func (v overlaid) points(points []geom.Point) []geom.Point {
	out := make([]geom.Point, len(points))
	for i, p := range points {
		out[i] = v.at(p)
	}
	return out
}

func (v overlaid) draw(s *sheet.Sheet, b profile.Blade, pen overlayPen) {
	const near = 0.02 // mm of the outline from its chords
	s.Add("outlines", "outlines", sheet.Polyline(pen.outline, v.points(b.Outline.Sample(near))))
	for i := range b.Fullers {
		const places = 81
		upper, lower := b.Lips(i, places)
		s.Add("fullers", "fullers", sheet.Polyline(pen.line, v.points(upper)), sheet.Polyline(pen.line, v.points(lower)))
	}
	for _, line := range b.GroundLines() {
		s.Add("bevels", "bevel lines", sheet.Polyline(pen.line, v.points(line.Points)))
	}
}

// drawScale writes distances from the guard plane under the faces and returns the height
// under them.
func (v overlaid) drawScale(s *sheet.Sheet, unit document.Unit) float64 {
	y := v.low - 4
	long := unit.Millimetres()
	values, decimals := ticks(v.least/long, v.most/long, 12)
	left, right := v.at(geom.Point{X: v.least}), v.at(geom.Point{X: v.most})
	s.Add("scales", "scales", sheet.Line(sheet.Pen{Width: 0.15}, left.X, y, right.X, y))
	for _, x := range values {
		p := v.at(geom.Point{X: x * long})
		s.Add("scales", "scales", sheet.Line(sheet.Pen{Width: 0.15}, p.X, y, p.X, y-1.3),
			sheet.Text{At: geom.Point{X: p.X, Y: y - 4.2}, Height: 2.2, Anchor: sheet.Middle, Content: sayTick(x, decimals)})
	}
	s.Add("notes", "notes", sheet.Text{At: geom.Point{X: left.X, Y: y - 8.6}, Height: 2.2,
		Content: fmt.Sprintf("%s from the guard plane; drawn %.2f to 1; right faces, guard planes and spine lines on each other", units{unit == document.Inch}.names(), v.scale)})
	return y - 12
}

// drawOverlaySections draws sections of both knives on each other, all to one scale,
// spine up.
func drawOverlaySections(s *sheet.Sheet, blades [2]profile.Blade, v overlaid, top float64) {
	shorter := math.Min(blades[0].Knife.Blade.Length, blades[1].Knife.Blade.Length)
	width, low, high := 1.0, 0.0, 0.0
	for _, b := range blades {
		box := b.Outline.Bounds()
		width, low, high = max(width, thickest(b)), min(low, box.Min.Y), max(high, box.Max.Y)
	}
	room := (overlaySheetWidth - 2*chartMargin) / overlayStations
	bottom := chartMargin + 6
	scale := math.Min((top-bottom-6)/(high-low), (room-8)/width)
	for i := range overlayStations {
		x := shorter * (0.02 + 0.88*float64(i)/(overlayStations-1))
		middle := chartMargin + room*(float64(i)+0.5)
		for j, b := range blades {
			chain, err := b.CrossSectionAt(x).Chain()
			if err != nil {
				continue // there is no blade here
			}
			moved := chain.Scale(scale).Translate(geom.Point{X: middle, Y: top - 3 - high*scale})
			s.Add("sections", "sections", sheet.Polyline(overlayPens()[j].outline, moved.Sample(0.02)))
		}
		p := v.at(geom.Point{X: x})
		s.Add("sections", "sections", sheet.Line(sheet.Pen{Width: 0.1, Dash: []float64{3, 0.8, 0.6, 0.8}}, p.X, v.low-3, p.X, v.low+(high-low)*v.scale+2),
			sheet.Text{At: geom.Point{X: middle, Y: bottom - 5}, Height: 2.3, Anchor: sheet.Middle, Content: document.Say("section at %.0f mm, %.1f to 1", x, scale).In(blades[0].Knife.Units)})
	}
}

// thickest returns the greatest thickness of a blade, mm.
func thickest(b profile.Blade) float64 {
	const places = 50
	out := 0.0
	for i := range places {
		out = max(out, b.Thickness(b.Knife.Blade.Length*float64(i)/places))
	}
	return out
}
