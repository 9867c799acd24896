// Package lettering sets a maker's mark in a single-stroke alphabet, for a small ball
// cutter that follows the middle of each line.
//
// The alphabet was drawn for this program, of lines and circular arcs. Its heights and
// spaces are those of ISO 3098, lettering B, upright, from memory; its letters are our
// own. Lengths are millimetres; x runs along the baseline, y up.
//
// It sets one line of text and knows nothing of cutters: how wide a line a ball leaves
// at a depth is for toolpath to say.
package lettering

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fullerwright/profile/geom"
)

// Limits of what can be set, our own figures: below the least height a line leaves no
// room inside an e, and beyond the greatest it is no mark any more; a line wider than
// a sixth of the height closes the eyes of e and a.
const (
	LeastHeight    = 0.5  // mm
	GreatestHeight = 50.0 // mm
	widestLine     = 1.0 / 6
)

// UnknownCharacters is the error of a text with characters that the alphabet lacks.
type UnknownCharacters struct {
	Text       string
	Characters []rune // each once, in the order of the text
}

// Error names each character, and all that there are.
func (e UnknownCharacters) Error() string {
	var names []string
	for _, c := range e.Characters {
		names = append(names, fmt.Sprintf("%q (%U)", c, c))
	}
	return fmt.Sprintf("the text %q has characters that the alphabet lacks: %s; it has a space and %s",
		e.Text, strings.Join(names, ", "), Alphabet())
}

// Alphabet returns every character that can be set but the space, in the order of
// their code points.
func Alphabet() string {
	var all []rune
	for c := range alphabet() {
		all = append(all, c)
	}
	slices.Sort(all)
	return string(all)
}

// Set sets a text. The height is that of its capitals as they are seen, over the
// outside of the line, as ISO 3098 measures it; line is the width of the line that will
// be cut, or 0 to have the height between the middles of the lines.
//
// The strokes stand on the baseline y = 0 with the middles of their lines, and begin at
// x = 0; spaces before and after the text take no room. Each stroke begins where the
// cutter goes in and ends where it comes out; strokes are cut letter by letter from the
// left. The middles of strokes of neighbouring letters are at least LeastGap apart.
//
// A text with nothing to cut, a height outside LeastHeight and GreatestHeight, a line
// wider than a sixth of the height, and characters that the alphabet lacks
// (UnknownCharacters) are errors, all reported at once.
func Set(text string, height, line float64) (Strokes, error) {
	letters := alphabet()
	if err := validate(text, height, line, letters); err != nil {
		return Strokes{}, err
	}
	unit := (height - line) / capitals
	out := Strokes{capital: height - line}
	x, free := 0.0, 0.0 // where the next letter may begin, and how much before it is free
	for i, character := range []rune(strings.Trim(text, " ")) {
		if character == ' ' {
			free += wordGap - gap
			continue
		}
		g := letters[character]
		if i > 0 {
			x += free + g.left
		}
		for _, s := range g.strokes {
			out.chains = append(out.chains, s.chain().Translate(geom.Point{X: x}).Scale(unit))
		}
		x, free = x+g.width(), g.right
	}
	out.width = x * unit
	return out, nil
}

// LeastGap returns how far the middles of the strokes of neighbouring letters are apart
// at least, mm: at the width of line that ISO 3098 gives, a tenth of the height, this
// leaves one line's width between the lines.
func LeastGap(height, line float64) float64 { return leastGap * (height - line) / capitals }

// rounding is how far a line may be beyond its limit for the sum that it came from, as a
// part of it: a height told as the least must be taken.
const rounding = 1e-9

func validate(text string, height, line float64, letters map[rune]glyph) error {
	var faults []error
	if !(height >= LeastHeight && height <= GreatestHeight) {
		faults = append(faults, fmt.Errorf("height: %g mm must be from %g to %g mm", height, LeastHeight, GreatestHeight))
	}
	if !(line >= 0 && line <= height*widestLine*(1+rounding)) {
		faults = append(faults, fmt.Errorf("line: %g mm must be from 0 to a sixth of the height, %.3g mm", line, height*widestLine))
	}
	if strings.Trim(text, " ") == "" {
		faults = append(faults, errors.New("text: there is nothing to cut in it"))
	}
	unknown := UnknownCharacters{Text: text}
	for _, character := range text {
		if _, known := letters[character]; !known && character != ' ' && !slices.Contains(unknown.Characters, character) {
			unknown.Characters = append(unknown.Characters, character)
		}
	}
	if len(unknown.Characters) > 0 {
		faults = append(faults, unknown)
	}
	return errors.Join(faults...)
}
