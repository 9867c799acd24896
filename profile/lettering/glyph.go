package lettering

import (
	"slices"
	"sync"

	"fullerwright/profile/geom"
)

// The design grid has one unit to the width of the line of ISO 3098's lettering B, a
// tenth of the height h of its capitals over the outside of the line. Glyphs are drawn
// as the middles of their lines, so they are a unit less than what is seen. All from
// memory of ISO 3098-1:2015 and ISO 3098-0:1997, table for lettering B: capitals
// (10/10) h, small letters without stems (7/10) h, tails (3/10) h, between characters
// (2/10) h, between words (6/10) h, and between two characters half as much where that
// looks better, as in LA or TV.
const (
	gridHeight  = 10.0 // h in units
	capitals    = gridHeight - 1
	smallHeight = 6.0
	tail        = 3.0
	gap         = 3.0 // between the middles of two upright neighbours: 2 units clear and the line
	leastGap    = 2.0 // between the middles of any two neighbours: 1 unit clear and the line
	wordGap     = 7.0 // between the middles of two upright ends of words: 6 units clear and the line
)

// What is left and right of a letter: half of what stands between it and another such.
// The eye takes a round or an open side for farther away than an upright one, so it
// stands nearer. Our own figures, by eye.
const (
	upright = gap / 2
	round   = 1.25
	open    = leastGap / 2
)

// dotRadius is that of the ring a dot is cut as, in units: our own figure, by eye; the
// dot is then 1.4 lines wide.
const dotRadius = 0.2

// longest bounds the sweep of an arc, as programs want it; see also path.curve.
const longest = 170 * geom.Degree

// glyph is a character as it is drawn, in units: the baseline at y = 0, its leftmost
// stroke at x = 0.
type glyph struct {
	left, right float64 // what is kept free beside it
	strokes     []path
}

// as makes a glyph.
func as(left, right float64, strokes ...path) glyph {
	return glyph{left: left, right: right, strokes: strokes}
}

// and returns the glyph with more strokes, cut after its own.
func (g glyph) and(strokes ...path) glyph {
	g.strokes = append(slices.Clone(g.strokes), strokes...)
	return g
}

// width returns how far the glyph reaches to the right, in units.
func (g glyph) width() float64 { return boundsOf(g.chains()).Max.X }

func (g glyph) chains() []geom.Chain {
	var out []geom.Chain
	for _, s := range g.strokes {
		out = append(out, s.chain())
	}
	return out
}

// alphabet returns every glyph, drawn once. Nobody writes to it.
var alphabet = sync.OnceValue(func() map[rune]glyph {
	all := map[rune]glyph{}
	for _, some := range []map[rune]glyph{capitalLetters(), smallLetters(), figures(), signs()} {
		for character, g := range some {
			all[character] = g
		}
	}
	for character, g := range marked(all) {
		all[character] = g
	}
	return all
})
