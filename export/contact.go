package export

import (
	"fmt"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// ContactSheet draws the right faces of several knives under each other, all to one
// scale, with their names and sizes.
func ContactSheet(blades []profile.Blade, scale float64) sheet.Sheet {
	const left, gap = 12.0, 9.0
	width, height := 0.0, gap
	for _, b := range blades {
		box := b.Outline.Bounds()
		width = max(width, (box.Max.X-box.Min.X)*scale)
		height += (box.Max.Y-box.Min.Y)*scale + gap
	}
	s := sheet.Sheet{Title: "Patterns", Description: fmt.Sprintf("Right faces, scale %.2f to 1.", scale), Width: width + 2*left, Height: height}
	y := height - gap
	for _, b := range blades {
		box := b.Outline.Bounds()
		origin := geom.Point{X: left - box.Min.X*scale, Y: y - box.Max.Y*scale}
		place := func(points []geom.Point) []geom.Point {
			out := make([]geom.Point, len(points))
			for i, p := range points {
				out[i] = geom.Point{X: origin.X + scale*p.X, Y: origin.Y + scale*p.Y}
			}
			return out
		}
		s.Add("outlines", "outlines", sheet.Path{Pieces: b.Outline.Scale(scale).Translate(origin).Pieces(), Pen: sheet.Pen{Width: 0.25}})
		for i := range b.Fullers {
			upper, lower := b.Lips(i, 81)
			s.Add("fullers", "fullers", sheet.Polyline(sheet.Pen{Width: 0.15}, place(upper)), sheet.Polyline(sheet.Pen{Width: 0.15}, place(lower)))
		}
		for _, line := range b.GroundLines() {
			s.Add("bevels", "bevel lines", sheet.Polyline(sheet.Pen{Width: 0.13, Dash: []float64{2, 1}}, place(line.Points)))
		}
		s.Add("names", "names", sheet.Text{At: geom.Point{X: left, Y: y + 2.2}, Height: 2.6,
			Content: fmt.Sprintf("%s, blade %.0f mm, %s", b.Knife.Name, b.Knife.Blade.Length, b.Knife.Blade.Steel)})
		y -= (box.Max.Y-box.Min.Y)*scale + gap
	}
	return s
}
