package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

const (
	frameTop = 13.0 // for the heading of a page, mm
	ruleBand = 10.0 // for the rule along its foot and the one up its left side, mm
)

// addFrame gives a page its heading and, along two sides, rules that prove its scale. The
// box is what the page may use.
func (t Template) addFrame(s *sheet.Sheet, inside sheet.Box, page string) {
	k := t.blade.Knife
	at := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	heading := sheet.Text{At: at(inside.MinX, inside.MaxY-4), Height: 4, Bold: true, Content: t.title()}
	second := sheet.Text{At: at(inside.MinX, inside.MaxY-9.5), Height: letter,
		Content: fmt.Sprintf("Blade %s %s, width %s %s, %s. Knife file: %s", sayLength(k.Blade.Length, k.Units, 2), k.Units, sayLength(k.Blade.Width, k.Units, 2), k.Units, rungWords(t.blade), t.stamp)}
	side := sheet.Text{At: at(inside.MaxX, inside.MaxY-4), Height: letter, Anchor: sheet.End, Content: page}
	s.Add(notesLayer, "notes", t.fit(heading, inside.MaxX-inside.MinX-t.setter.Width(side)-4), t.fit(second, inside.MaxX-inside.MinX), side)
	addRule(s, at(inside.MinX+ruleBand, inside.MinY+5), inside.MaxX-inside.MinX-ruleBand, false)
	addRule(s, at(inside.MinX+5, inside.MinY+ruleBand), inside.MaxY-inside.MinY-ruleBand-frameTop, true)
}

func (t Template) fit(text sheet.Text, room float64) sheet.Text {
	return fitted(t.setter.Width, text, room)
}

// fitted cuts a text that is wider than its room.
func fitted(width func(sheet.Text) float64, text sheet.Text, room float64) sheet.Text {
	letters := []rune(text.Content)
	for n := len(letters); n > 0 && width(text) > room; n-- {
		text.Content = string(letters[:n-1]) + "…"
	}
	return text
}

// addRule draws a rule from a point to the right or upward, as long as the room allows:
// millimetres to one side of its line, inches to the other, zero at its end.
func addRule(s *sheet.Sheet, from geom.Point, room float64, upward bool) {
	const inch = 25.4
	long := func(along, across float64) geom.Point {
		if upward {
			return geom.Point{X: from.X + across, Y: from.Y + along}
		}
		return geom.Point{X: from.X + along, Y: from.Y + across}
	}
	// Inward is to the right of a rule that goes up, and over one that goes right.
	line := func(a0, c0, a1, c1 float64) {
		p, q := long(a0, c0), long(a1, c1)
		s.Add(checkLayer, "check lines", sheet.Line(thinPen, p.X, p.Y, q.X, q.Y))
	}
	number := func(along, across float64, text string) {
		s.Add(checkLayer, "check lines", sheet.Text{At: long(along+0.7, across), Height: smallLetter, Upright: upward, Content: text})
	}
	// Baselines of the numbers; letters that are turned stand to the left of theirs.
	millimetres, inchSide := 1.2, -1.2-smallLetter
	if upward {
		millimetres, inchSide = 1.2+smallLetter, -1.2
	}
	tens, inches := math.Floor((room-13)/10), math.Floor((room-13)/inch)
	line(0, 0, math.Max(tens*10, inches*inch), 0)
	for i := 0.0; i <= tens; i++ {
		tick, major := 1.6, math.Mod(i, 5) == 0 || i == tens
		if major {
			tick = 3.4
		}
		line(10*i, 0, 10*i, tick)
		switch {
		case i == tens:
			number(10*i, millimetres, fmt.Sprintf("%.0f mm", 10*i))
		case major && i > 0 && i < tens-1:
			number(10*i, millimetres, fmt.Sprintf("%.0f", 10*i))
		}
	}
	for i := 0.0; i <= 2*inches; i++ {
		tick, whole := 1.6, math.Mod(i, 2) == 0
		if whole {
			tick = 3.4
		}
		line(inch*i/2, 0, inch*i/2, -tick)
		if whole && i > 0 {
			text := fmt.Sprintf("%.0f", i/2)
			if i == 2*inches {
				text += " in"
			}
			number(inch*i/2, inchSide, text)
		}
	}
}
