package export

import (
	"fmt"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// ownHoles returns the numbers, counted from 0, of the holes whose middles lie in the
// blade or its tang; others stand in the waste of the bar.
func ownHoles(b profile.Blade) []int {
	var out []int
	for i, h := range b.Knife.Holes {
		if b.Outline.Contains(h.Place()) {
			out = append(out, i)
		}
	}
	return out
}

// holeName names a hole so that its number is not read into the length that follows.
func holeName(i int) string { return fmt.Sprintf("hole %d at", i+1) }

// holes draws holes with their centre lines, by a view's place and scale.
func (p pencil) holes(b profile.Blade, numbers []int, scale float64, place func(geom.Point) geom.Point) {
	for _, i := range numbers {
		h := b.Knife.Holes[i]
		at, radius := place(h.Place()), h.Bore()/2*scale
		p.add("outline", sheet.Circle(faceEdgePen, at, radius))
		if thread, err := profile.ThreadNamed(h.Thread); err == nil {
			p.add("outline", sheet.Path{Pen: finePen, Pieces: []geom.Piece{geom.Arc{Centre: at, Radius: thread.Major / 2 * scale, From: 10 * geom.Degree, Sweep: 270 * geom.Degree}}})
		}
		arm := radius + 2
		p.add("centre-lines", sheet.Line(finePen, at.X-arm, at.Y, at.X+arm, at.Y), sheet.Line(finePen, at.X, at.Y-arm, at.X, at.Y+arm))
	}
}

// holeGroups returns the tables of holes and of the mark, those that there are.
func holeGroups(b profile.Blade) []dimensionGroup {
	var out []dimensionGroup
	for _, i := range ownHoles(b) {
		h := b.Knife.Holes[i]
		g := dimensionGroup{title: "Hole " + fmt.Sprint(i+1) + ", from the " + h.Face + " face"}
		g.rows = append(g.rows, lengthRow("from the guard plane", h.At), lengthRow("below the spine line", h.FromSpine))
		if h.Thread != "" {
			g.rows = append(g.rows, wordRow("thread", "%s", h.Thread), fineRow("tap drill", h.Bore()))
		} else {
			g.rows = append(g.rows, fineRow("diameter", h.Bore()))
		}
		if h.Depth > 0 {
			g.rows = append(g.rows, fineRow("depth from the bar's face", h.Depth))
		}
		out = append(out, g)
	}
	if m := b.Knife.Mark; m.Text != "" {
		out = append(out, dimensionGroup{title: "Mark, " + m.Face + " face", rows: []dimensionRow{
			wordRow("text", "%s", m.Text), fineRow("height of its capitals", m.Height), fineRow("depth, finished", m.Depth), fineRow("radius of its ball", m.Radius)}})
	}
	return out
}

// mark draws the strokes of the mark on the right face.
func (p pencil) mark(b profile.Blade, l viewLayout) {
	if !b.Knife.MarkedOn(profile.Right) {
		return
	}
	cut, err := b.MarkCut(profile.Right)
	if err != nil {
		return // the knife would not have been built
	}
	for _, stroke := range cut.Strokes {
		p.add("mark", sheet.Path{Pieces: stroke.Scale(l.scale).Translate(l.side).Pieces(), Pen: finePen})
	}
}
