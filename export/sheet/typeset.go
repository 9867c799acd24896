package sheet

import "strings"

// Typesetter measures text by the real widths of the font. It must not be used by two
// goroutines.
type Typesetter struct{ fonts fonts }

// NewTypesetter loads the fonts.
func NewTypesetter() (Typesetter, error) {
	f, err := newFonts()
	return Typesetter{f}, err
}

// Width returns how wide a text is, mm.
func (t Typesetter) Width(text Text) float64 { return t.fonts.width(text) }

// Box returns the box that a text takes up.
func (t Typesetter) Box(text Text) Box { return text.box(t.Width(text)) }

// Wrap breaks words into lines no wider than a width, mm. A word that is wider alone has
// a line of its own.
func (t Typesetter) Wrap(words string, height, width float64) (lines []string) {
	line := ""
	for _, word := range strings.Fields(words) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && t.Width(Text{Height: height, Content: longer}) > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
