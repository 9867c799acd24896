package export

import (
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// foldedPair draws both faces as one piece of paper that is folded over the bar's two
// long edges: from below, the edge side with its scribe lines, the right face, the spine
// side, the left face with its edge up. Fold lines lie the thickness of the bar apart.
// The words of it are returned with their boxes, for seams to keep clear of.
func (m marks) foldedPair(setter sheet.Typesetter) (s sheet.Sheet, fixed []sheet.Box) {
	b, bar := m.blade, m.blade.Bar
	box := b.Outline.Bounds()
	thickness, spread := m.foldThickness()
	s = sheet.Sheet{Title: "FOLD-OVER PAIR", Description: "left face over right face"}
	right := view{face: profile.Right, signX: 1, signY: 1}
	left := view{face: profile.Left, signX: 1, signY: -1, shiftY: 2*bar.Top + thickness}
	m.draw(&s, right)
	m.draw(&s, left)

	const layer, label = "folds", "fold lines and the edges of the bar"
	from, to := bar.Butt, bar.Front
	for _, y := range []float64{bar.Bottom, bar.Top, bar.Top + thickness} {
		s.Add(layer, label, sheet.Line(foldPen, from, y, to, y))
	}
	low, high := bar.Bottom-thickness, 2*bar.Top+thickness-bar.Bottom
	for _, y := range []float64{low, high} {
		s.Add(layer, label, sheet.Line(barPen, from, y, to, y))
	}
	s.Add(layer, label, sheet.Line(barPen, from, low, from, high), sheet.Line(barPen, to, low, to, high))
	m.addEdgeScribes(&s)

	write := func(text sheet.Text) {
		s.Add(notesLayer, "notes", text)
		fixed = append(fixed, setter.Box(text))
	}
	title := sheet.Text{At: geom.Point{X: math.Min(from, box.Min.X), Y: high + 3}, Height: titleLetter, Bold: true, Content: s.Title}
	write(title)
	outermost := from
	if end, _, ok := m.rod(); ok {
		outermost = math.Min(outermost, end.X-b.Knife.Tang.ThreadLength)
	}
	side := func(y float64, text string) {
		write(sheet.Text{At: geom.Point{X: outermost - 2, Y: y - letter/2}, Height: letter, Anchor: sheet.End, Content: text})
	}
	side((bar.Bottom+bar.Top)/2, "right face")
	side(bar.Top+thickness/2, "spine side")
	side((high+bar.Top+thickness)/2, "left face")
	side(low+thickness/2, "edge side")
	note := document.Say("fold lines %.2f mm apart: bar %s", thickness, barWords(b)).In(b.Knife.Units)
	if spread > 0.005 {
		note = document.Say("fold lines %.2f mm apart, the middle of a bar %s that differs by %.2f mm", thickness, barWords(b), spread).In(b.Knife.Units)
	}
	write(sheet.Text{At: geom.Point{X: title.At.X + setter.Width(title) + 4, Y: title.At.Y}, Height: letter, Content: note})
	return s, fixed
}

// foldThickness returns how far apart the fold lines lie, in the middle between the least
// and the greatest thickness of the bar under the sheet, and the difference of those.
func (m marks) foldThickness() (middle, spread float64) {
	bar := m.blade.Bar
	least, most := bar.Thickness(bar.Butt), bar.Thickness(bar.Butt)
	for _, x := range append(bar.Stations(), bar.Front) {
		if x >= bar.Butt && x <= bar.Front {
			least, most = math.Min(least, bar.Thickness(x)), math.Max(most, bar.Thickness(x))
		}
	}
	return (least + most) / 2, most - least
}

// addEdgeScribes draws on the flap of the edge side the pair of lines between which the
// edge is left, each at its height over the face of the bar that it is scribed from, and
// the middle of the bar beside them, behind the guard plane.
func (m marks) addEdgeScribes(s *sheet.Sheet) {
	b, bar := m.blade, m.blade.Bar
	var upper, lower []geom.Point
	for _, x := range m.stations {
		g, t := b.GrindingAt(math.Min(x, b.Knife.Blade.Length-1e-6)), bar.Thickness(x)
		upper = append(upper, geom.Point{X: x, Y: bar.Bottom - g.ScribeOnBar})
		lower = append(lower, geom.Point{X: x, Y: bar.Bottom - t + g.ScribeOnBar})
	}
	s.Add("edge", "edge centre scribes", sheet.Polyline(scribePen, upper), sheet.Polyline(scribePen, lower),
		sheet.Line(centrePen, bar.Butt, bar.Bottom-bar.Thickness(bar.Butt)/2, -2, bar.Bottom-bar.Thickness(0)/2))
}
