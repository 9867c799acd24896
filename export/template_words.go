package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// above returns what is said over a view, and where it points.
func (m marks) above(v view) []callout {
	b := m.blade
	length := b.Knife.Blade.Length
	out := []callout{
		{v.at(geom.Point{Y: b.BackAt(0)}), "guard plane, shoulder"},
		{v.at(b.ClipStart()), fmt.Sprintf("clip start %s", m.say(b.ClipStart().X))},
		{v.at(geom.Point{X: 0.22 * length, Y: b.BackAt(0.22 * length)}), "spine"},
		{v.at(b.Point()), fmt.Sprintf("point %s", m.say(b.Point().X))},
	}
	for i, f := range b.Fullers {
		if f.Size.Cut(v.face) {
			x := 0.6*f.StartVisible + 0.4*f.EndVisible
			at, _ := f.Finished.Place(f.Finished.AtX(x))
			out = append(out, callout{v.at(at), fmt.Sprintf("fuller %d, seen from %s to %s", i+1, m.sayNear(f), m.sayFar(f))})
		}
	}
	return out
}

// sayNear and sayFar say where a fuller ends, and whether it is open there.
func (m marks) sayNear(f profile.Fuller) string {
	if f.Size.OpenStart() {
		return "the open shoulder"
	}
	return m.say(f.StartVisible)
}

func (m marks) sayFar(f profile.Fuller) string {
	if f.Size.OpenEnd() {
		return m.say(f.EndVisible) + ", open"
	}
	return m.say(f.EndVisible)
}

// below returns what is said under a view.
func (m marks) below(v view) []callout {
	b, k := m.blade, m.blade.Knife
	x := 0.55 * k.Blade.Length
	out := []callout{
		{v.at(geom.Point{X: k.Ricasso.Length, Y: b.EdgeAt(k.Ricasso.Length)}), fmt.Sprintf("plunge line %s", m.say(k.Ricasso.Length))},
		{v.at(geom.Point{X: x, Y: b.EdgeAt(x)}), "edge"},
		{v.at(geom.Point{X: -k.Tang.Length * 0.4, Y: b.EdgeAt(-k.Tang.Length * 0.4)}), "tang"},
	}
	for i, h := range k.Holes {
		if h.Depth == 0 || h.Face == v.face.String() {
			text := fmt.Sprintf("hole %d, drill %s", i+1, m.say(h.Bore()))
			if h.Thread != "" {
				text += ", tap " + h.Thread
			}
			out = append(out, callout{v.at(h.Place()), text})
		}
	}
	if end, thread, ok := m.rod(); ok {
		out = append(out, callout{v.at(end), "thread " + thread.Name + ", centre"})
	}
	return out
}

// ordinates returns the figures under each station: how far it is from the guard plane and how
// far the back and the edge lie under the spine line there, a row each.
func (m marks) ordinates(v view, top float64) (out []sheet.Text) {
	const row = 4.0
	b := m.blade
	toward := sheet.End
	if v.signX < 0 {
		toward = sheet.Start
	}
	for i, line := range []struct {
		name string
		at   func(x float64) float64
	}{
		{"from the guard plane, " + m.unit.String(), func(x float64) float64 { return x }},
		{"spine line down to the back", func(x float64) float64 { return -b.BackAt(x) }},
		{"spine line down to the edge", func(x float64) float64 { return -b.EdgeAt(x) }},
	} {
		y := top - smallLetter - float64(i)*row
		text := func(x float64, anchor sheet.Anchor, content string, bold bool) {
			out = append(out, sheet.Text{At: geom.Point{X: v.at(geom.Point{X: x}).X, Y: y}, Height: smallLetter, Anchor: anchor, Bold: bold, Content: content})
		}
		text(-0.6*m.step(), toward, line.name, false)
		for _, x := range m.stations {
			text(x, sheet.Middle, m.say(line.at(math.Min(x, b.Knife.Blade.Length-1e-6))), i == 0)
		}
	}
	return out
}
