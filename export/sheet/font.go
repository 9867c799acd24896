package sheet

import (
	"fmt"

	"github.com/tdewolff/canvas"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"fullerwright/profile/geom"
)

// fonts are the two faces of one drawing. Each drawing has its own, since a font
// family must not be used by two goroutines.
type fonts struct {
	regular, bold *canvas.FontFamily
	widths        map[Text]float64 // of texts at the origin, a millimetre high
}

func newFonts() (fonts, error) {
	f := fonts{canvas.NewFontFamily("Go"), canvas.NewFontFamily("Go Bold"), map[Text]float64{}}
	if err := f.regular.LoadFont(goregular.TTF, 0, canvas.FontRegular); err != nil {
		return fonts{}, fmt.Errorf("the regular font cannot be loaded: %w", err)
	}
	if err := f.bold.LoadFont(gobold.TTF, 0, canvas.FontRegular); err != nil {
		return fonts{}, fmt.Errorf("the bold font cannot be loaded: %w", err)
	}
	return f, nil
}

// pointsPerMM: a point is 1/72 inch.
const pointsPerMM = 72 / 25.4

// capShare is the height of a capital of the Go fonts over the size of the font
// (their own metrics: 1480 of 2048 units, read from the font files).
const capShare = 1480.0 / 2048

// face returns the face whose capitals have the height of a text.
func (f fonts) face(t Text) *canvas.FontFace {
	family := f.regular
	if t.Bold {
		family = f.bold
	}
	return family.Face(t.Height/capShare*pointsPerMM, canvas.Black)
}

// width returns how wide a text is.
func (f fonts) width(t Text) float64 {
	unit := Text{Height: 1, Bold: t.Bold, Content: t.Content}
	width, known := f.widths[unit]
	if !known {
		width = f.face(unit).TextWidth(t.Content)
		f.widths[unit] = width
	}
	return width * t.Height
}

// Box is an upright box on a sheet.
type Box struct{ MinX, MinY, MaxX, MaxY float64 }

// Overlaps reports whether two boxes share any area.
func (b Box) Overlaps(c Box) bool {
	return b.MinX < c.MaxX && c.MinX < b.MaxX && b.MinY < c.MaxY && c.MinY < b.MaxY
}

// descent is how far letters reach below the baseline over the height of a capital
// (the Go fonts' own metrics, rounded up).
const descent = 0.3

// TextBoxes returns the boxes that the texts of a sheet take up, by the widths of the
// font, with the texts themselves.
func (s Sheet) TextBoxes() ([]Text, []Box, error) {
	f, err := newFonts()
	if err != nil {
		return nil, nil, err
	}
	var texts []Text
	var boxes []Box
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			if t, ok := item.(Text); ok {
				texts = append(texts, t)
				boxes = append(boxes, t.box(f.width(t)))
			}
		}
	}
	return texts, boxes, nil
}

func (t Text) box(width float64) Box {
	start := t.begin(width)
	if t.Upright {
		return Box{start.X - t.Height, start.Y, start.X + descent*t.Height, start.Y + width}
	}
	return Box{start.X, start.Y - descent*t.Height, start.X + width, start.Y + t.Height}
}

// begin returns where the first letter of a text of the given width stands.
func (t Text) begin(width float64) geom.Point {
	back := map[Anchor]float64{Start: 0, Middle: width / 2, End: width}[t.Anchor]
	if t.Upright {
		return geom.Point{X: t.At.X, Y: t.At.Y - back}
	}
	return geom.Point{X: t.At.X - back, Y: t.At.Y}
}
