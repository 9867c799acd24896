package sheet

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"fullerwright/profile/geom"
)

// SVG returns a sheet as a scalable drawing at true size: width, height and viewBox in
// millimetres, each layer a named group, text kept as text and as wide as in the font it
// was measured in, whatever font a viewer has. The same sheet gives the
// same bytes.
func SVG(s Sheet) ([]byte, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	f, err := newFonts()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\" style=\"background:#fff\">\n",
		decimal(s.Width), decimal(s.Height), decimal(s.Width), decimal(s.Height))
	fmt.Fprintf(&b, "<title>%s</title>\n<desc>%s</desc>\n", escape(s.Title), escape(s.Description))
	if !s.Warp.None() {
		b.WriteString(s.svgWarp())
	}
	for _, layer := range s.Layers {
		fmt.Fprintf(&b, "<g id=\"%s\" aria-label=\"%s\">\n", escape(layer.ID), escape(layer.Label))
		for _, item := range layer.Items {
			switch v := item.(type) {
			case Path:
				s.svgPath(&b, v)
			case Text:
				s.svgText(&b, v, f.width(v))
			}
		}
		b.WriteString("</g>\n")
	}
	if !s.Warp.None() {
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	return b.Bytes(), nil
}

// svgWarp opens the group that maps everything in it. There y points down: with H the
// height of the sheet, y there is H - y here.
func (s Sheet) svgWarp() string {
	w, shift := s.Warp, s.Warp.shift()
	x := shift.X + w.XY*s.Height
	y := s.Height - shift.Y - w.YY*s.Height
	return fmt.Sprintf("<g transform=\"matrix(%.8f %.8f %.8f %.8f %.6f %.6f)\">\n", w.XX, -w.YX, -w.XY, w.YY, x, y)
}

// decimal writes a length with four decimals at most and no negative zero.
func decimal(v float64) string {
	text := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.4f", v), "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

func escape(s string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;").Replace(s)
}

func (s Sheet) svgPoint(p geom.Point) string { return decimal(p.X) + " " + decimal(s.Height-p.Y) }

func (s Sheet) svgPath(b *bytes.Buffer, p Path) {
	var d strings.Builder
	var at geom.Point
	for i, piece := range p.Pieces {
		if start := piece.Start(); i == 0 || !near(start, at) {
			d.WriteString("M" + s.svgPoint(start))
		}
		d.WriteString(s.svgPiece(piece))
		at = piece.End()
	}
	fill := "none"
	if p.Fill != "" {
		fill = p.Fill
	}
	fmt.Fprintf(b, "<path d=\"%s\" fill=\"%s\"", d.String(), fill)
	if p.Pen.Width > 0 {
		fmt.Fprintf(b, " stroke=\"#000\" stroke-width=\"%s\"", decimal(p.Pen.Width))
	}
	if len(p.Pen.Dash) > 0 {
		dashes := make([]string, len(p.Pen.Dash))
		for i, v := range p.Pen.Dash {
			dashes[i] = decimal(v)
		}
		fmt.Fprintf(b, " stroke-dasharray=\"%s\"", strings.Join(dashes, " "))
	}
	b.WriteString("/>\n")
}

func near(a, b geom.Point) bool { return math.Hypot(a.X-b.X, a.Y-b.Y) < 1e-6 }

// svgPiece writes a piece from the current point. An arc beyond a third of a turn is
// written in parts, since the format cannot tell a whole turn from none.
func (s Sheet) svgPiece(piece geom.Piece) string {
	switch v := piece.(type) {
	case geom.Arc:
		n := arcParts(v)
		var d strings.Builder
		for i := 1; i <= n; i++ {
			sweep := 0
			if v.Sweep < 0 {
				sweep = 1 // y points down there
			}
			fmt.Fprintf(&d, "A%s %s 0 0 %d %s", decimal(v.Radius), decimal(v.Radius), sweep, s.svgPoint(v.At(float64(i)/float64(n))))
		}
		return d.String()
	case geom.Cubic:
		return "C" + s.svgPoint(v.P1) + " " + s.svgPoint(v.P2) + " " + s.svgPoint(v.P3)
	}
	return "L" + s.svgPoint(piece.End())
}

func arcParts(a geom.Arc) int {
	return max(1, int(math.Ceil(math.Abs(a.Sweep.Degrees())/120)))
}

// svgText writes a text with its length, so that a viewer without the font squeezes
// another one into the same room.
func (s Sheet) svgText(b *bytes.Buffer, t Text, width float64) {
	anchor := map[Anchor]string{Start: "start", Middle: "middle", End: "end"}[t.Anchor]
	weight := ""
	if t.Bold {
		weight = ` font-weight="bold"`
	}
	turn := ""
	if t.Upright {
		turn = fmt.Sprintf(` transform="rotate(-90 %s)"`, s.svgPoint(t.At))
	}
	fmt.Fprintf(b, "<text x=\"%s\" y=\"%s\" font-family=\"Go, Arial, Helvetica, sans-serif\" font-size=\"%s\" text-anchor=\"%s\" textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\"%s%s>%s</text>\n",
		decimal(t.At.X), decimal(s.Height-t.At.Y), decimal(t.Height/capShare), anchor, decimal(width), weight, turn, escape(t.Content))
}

// check refuses what no renderer can draw.
func (s Sheet) check() error {
	if !(s.Width > 0) || !(s.Height > 0) || math.IsInf(s.Width+s.Height, 0) {
		return fmt.Errorf("a sheet of %g by %g mm cannot be drawn", s.Width, s.Height)
	}
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			if p, ok := item.(Path); ok {
				for _, piece := range p.Pieces {
					if e := piece.End(); math.IsNaN(e.X+e.Y) || math.IsInf(e.X+e.Y, 0) {
						return fmt.Errorf("layer %s holds a piece without a place: %v", layer.ID, piece)
					}
				}
			}
		}
	}
	return nil
}
