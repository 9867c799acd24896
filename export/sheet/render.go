package sheet

import (
	"fmt"

	"github.com/tdewolff/canvas"

	"fullerwright/profile/geom"
)

// drawSheet puts a sheet on a canvas. Text is drawn by its outlines. A panic of the library
// becomes an error.
func drawSheet(s Sheet, f fonts) (c *canvas.Canvas, err error) {
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
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			switch v := item.(type) {
			case Path:
				drawPath(ctx, v)
			case Text:
				if err := drawText(ctx, v, f); err != nil {
					return nil, err
				}
			}
		}
	}
	return c, nil
}

func drawPath(ctx *canvas.Context, p Path) {
	path := &canvas.Path{}
	var at geom.Point
	for i, piece := range p.Pieces {
		if start := piece.Start(); i == 0 || !near(start, at) {
			path.MoveTo(start.X, start.Y)
		}
		addPiece(path, piece)
		at = piece.End()
	}
	if len(p.Pieces) > 0 && near(p.Pieces[0].Start(), at) {
		path.Close()
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
	// The library takes dashes in widths of the line.
	dashes := make([]float64, len(p.Pen.Dash))
	for i, v := range p.Pen.Dash {
		dashes[i] = v / p.Pen.Width
	}
	ctx.SetDashes(0, dashes...)
	ctx.DrawPath(0, 0, path)
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

func drawText(ctx *canvas.Context, t Text, f fonts) error {
	outline, width, err := f.face(t).ToPath(t.Content)
	if err != nil {
		return fmt.Errorf("the text %q cannot be drawn: %w", t.Content, err)
	}
	at := t.begin(width)
	if t.Upright {
		outline = outline.Transform(canvas.Identity.Rotate(90))
	}
	ctx.SetFillColor(canvas.Black)
	ctx.SetStrokeColor(canvas.Transparent)
	ctx.DrawPath(at.X, at.Y, outline)
	return nil
}
