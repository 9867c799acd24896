package sheet

// Ruler measures texts by the real widths of the font that they are drawn in, before
// they are put on a sheet.
type Ruler struct{ fonts fonts }

// NewRuler returns a ruler. It must not be used by two goroutines.
func NewRuler() (Ruler, error) {
	f, err := newFonts()
	return Ruler{f}, err
}

// Width returns how long a text is, mm.
func (r Ruler) Width(t Text) float64 { return r.fonts.width(t) }

// Box returns the box that a text takes up.
func (r Ruler) Box(t Text) Box { return t.box(r.fonts.width(t)) }
