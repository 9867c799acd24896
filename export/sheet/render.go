package sheet

import (
	"fmt"

	"github.com/tdewolff/canvas"

	"fullerwright/profile/geom"
)

// lettering is how words are put on a canvas: by their outlines, or as text, which takes
// a fortieth of the room in a document and can be searched.
type lettering bool

const (
	outlined lettering = false
	asText   lettering = true
)

// drawSheet puts a sheet on a canvas. A panic of the library becomes an error.
func drawSheet(s Sheet, f fonts, words lettering) (c *canvas.Canvas, err error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	defer func() {
		if problem := recover(); problem != nil {
			err = fmt.Errorf("the sheet %q cannot be drawn: %v", s.Title, problem)
		}
	}()
	c = canvas.New(s.Width, s.Height)
	ctx := canvas.NewContext(c)
	warp := s.Warp.matrix()
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			switch v := item.(type) {
			case Path:
				drawPath(ctx, v, warp)
			case Text:
				if err := drawText(ctx, v, f, words, warp); err != nil {
					return nil, err
				}
			}
		}
	}
	return c, nil
}

// matrix returns the map of a sheet as the library has it.
func (w Warp) matrix() canvas.Matrix {
	if w.None() {
		return canvas.Identity
	}
	shift := w.shift()
	return canvas.Matrix{{w.XX, w.XY, shift.X}, {w.YX, w.YY, shift.Y}}
}

func drawPath(ctx *canvas.Context, p Path, warp canvas.Matrix) {
	path := &canvas.Path{}
	var begin, at geom.Point // of the run of pieces that hang together
	closed := true           // a run that was closed may not go on
	for _, piece := range p.Pieces {
		if start := piece.Start(); closed || !near(start, at) {
			path.MoveTo(start.X, start.Y)
			begin = start
		}
		addPiece(path, piece)
		at = piece.End()
		if closed = near(begin, at); closed {
			path.Close()
		}
	}
	ctx.SetFillColor(canvas.Transparent)
	if p.Fill != "" {
		ctx.SetFillColor(canvas.Hex(p.Fill))
	}
	ctx.SetStrokeColor(canvas.Transparent)
	if p.Pen.Width > 0 {
		ctx.SetStrokeColor(canvas.Black)
		ctx.SetStrokeWidth(p.Pen.Width)
	}
	ctx.SetDashes(0)
	if strokes, ok := dashes(p); ok {
		path = strokes
	} else {
		// The library takes dashes in widths of the line.
		for _, v := range p.Pen.Dash {
			ctx.Style.Dashes = append(ctx.Style.Dashes, v/p.Pen.Width)
		}
	}
	ctx.DrawPath(0, 0, path.Transform(warp))
}

// dashes returns the strokes of a dashed path of lines and arcs; ok is false for any
// other. The library's own dashes fail on lines of many short pieces: some come out
// solid.
func dashes(p Path) (strokes *canvas.Path, ok bool) {
	if len(p.Pen.Dash) == 0 {
		return nil, false
	}
	strokes = &canvas.Path{}
	index, left, down := 0, p.Pen.Dash[0], false
	for i, piece := range p.Pieces {
		if _, bent := piece.(geom.Cubic); bent {
			return nil, false
		}
		down = down && near(p.Pieces[i-1].End(), piece.Start())
		length := piece.Length()
		for done := 0.0; done < length; {
			step := min(left, length-done)
			if index%2 == 0 {
				// The parameter of a line and of an arc goes with the length.
				part := stretch(piece, done/length, (done+step)/length)
				if !down {
					strokes.MoveTo(part.Start().X, part.Start().Y)
				}
				addPiece(strokes, part)
			}
			down = index%2 == 0
			done += step
			if left -= step; left <= 0 {
				index = (index + 1) % len(p.Pen.Dash)
				left = p.Pen.Dash[index]
			}
		}
	}
	return strokes, true
}

func addPiece(path *canvas.Path, piece geom.Piece) {
	switch v := piece.(type) {
	case geom.Arc:
		n := arcParts(v)
		for i := 1; i <= n; i++ {
			p := v.At(float64(i) / float64(n))
			path.ArcTo(v.Radius, v.Radius, 0, false, v.Sweep > 0, p.X, p.Y)
		}
	case geom.Cubic:
		path.CubeTo(v.P1.X, v.P1.Y, v.P2.X, v.P2.Y, v.P3.X, v.P3.Y)
	default:
		path.LineTo(piece.End().X, piece.End().Y)
	}
}

func drawText(ctx *canvas.Context, t Text, f fonts, words lettering, warp canvas.Matrix) error {
	at := t.begin(f.width(t))
	place := warp.Translate(at.X, at.Y)
	if t.Upright {
		place = place.Rotate(90)
	}
	if words == asText {
		ctx.RenderText(canvas.NewTextLine(f.face(t), t.Content, canvas.Left), place)
		return nil
	}
	outline, _, err := f.face(t).ToPath(t.Content)
	if err != nil {
		return fmt.Errorf("the text %q cannot be drawn: %w", t.Content, err)
	}
	ctx.SetFillColor(canvas.Black)
	ctx.SetStrokeColor(canvas.Transparent)
	ctx.DrawPath(0, 0, outline.Transform(place))
	return nil
}
