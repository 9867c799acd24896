package sheet

import (
	"math"

	"fullerwright/profile/geom"
)

// Span is what lies between two upright lines.
type Span struct{ Least, Most float64 }

// Place adds what of another drawing lies in a span, moved by a displacement. Lines are cut
// off at its ends; a text goes along only where it lies whole in a span of its own, so
// that of drawings that overlap one alone has it.
func (s *Sheet) Place(setter Typesetter, part Sheet, lines, words Span, by geom.Point) {
	for _, layer := range part.Layers {
		var items []Item
		for _, item := range layer.Items {
			switch v := item.(type) {
			case Path:
				if cut := v.between(lines.Least, lines.Most).moved(by); len(cut.Pieces) > 0 {
					items = append(items, cut)
				}
			case Text:
				if box := setter.Box(v); box.MinX >= words.Least && box.MaxX <= words.Most {
					v.At = geom.Point{X: v.At.X + by.X, Y: v.At.Y + by.Y}
					items = append(items, v)
				}
			}
		}
		if len(items) > 0 {
			s.Add(layer.ID, layer.Label, items...)
		}
	}
}

func (p Path) moved(by geom.Point) Path {
	to := func(q geom.Point) geom.Point { return geom.Point{X: q.X + by.X, Y: q.Y + by.Y} }
	out := p
	out.Pieces = make([]geom.Piece, len(p.Pieces))
	for i, piece := range p.Pieces {
		switch v := piece.(type) {
		case geom.Arc:
			v.Centre = to(v.Centre)
			out.Pieces[i] = v
		case geom.Cubic:
			out.Pieces[i] = geom.Cubic{P0: to(v.P0), P1: to(v.P1), P2: to(v.P2), P3: to(v.P3)}
		default:
			out.Pieces[i] = geom.Line{From: to(piece.Start()), To: to(piece.End())}
		}
	}
	return out
}

// between returns what of a path lies between two upright lines.
func (p Path) between(least, most float64) Path {
	out := p
	out.Pieces = nil
	for _, piece := range p.Pieces {
		box := piece.Bounds()
		switch {
		case box.Min.X >= least && box.Max.X <= most:
			out.Pieces = append(out.Pieces, piece)
		case box.Max.X > least && box.Min.X < most:
			out.Pieces = append(out.Pieces, cutBetween(piece, least, most)...)
		}
	}
	return out
}

// cutBetween returns the stretches of a piece between two upright lines.
func cutBetween(piece geom.Piece, least, most float64) (out []geom.Piece) {
	breaks := []float64{0}
	for i := range cuts {
		from, to := float64(i)/cuts, float64(i+1)/cuts
		for _, x := range []float64{least, most} {
			if t, ok := meets(piece, x, from, to); ok {
				breaks = append(breaks, t)
			}
		}
	}
	breaks = append(breaks, 1)
	// Two crossings within one stretch, as a short line has them, may stand in the
	// wrong order.
	for i := 1; i < len(breaks); i++ {
		for j := i; j > 0 && breaks[j] < breaks[j-1]; j-- {
			breaks[j], breaks[j-1] = breaks[j-1], breaks[j]
		}
	}
	for i := 1; i < len(breaks); i++ {
		from, to := breaks[i-1], breaks[i]
		if middle := piece.At((from + to) / 2).X; to-from > 1e-12 && middle > least && middle < most {
			out = append(out, stretch(piece, from, to))
		}
	}
	return out
}

// cuts is into how many stretches a piece is taken to find where it meets a line; a
// piece that meets it twice within one of them bends by less than is seen.
const cuts = 64

// meets returns where between two parameters a piece crosses the upright line at x.
func meets(piece geom.Piece, x, from, to float64) (t float64, ok bool) {
	first := piece.At(from).X < x
	if first == (piece.At(to).X < x) {
		return 0, false
	}
	for range 60 {
		middle := (from + to) / 2
		if (piece.At(middle).X < x) == first {
			from = middle
		} else {
			to = middle
		}
	}
	return to, true
}

// stretch returns a piece between two of its parameters.
func stretch(piece geom.Piece, from, to float64) geom.Piece {
	switch v := piece.(type) {
	case geom.Arc:
		v.From, v.Sweep = v.From+v.Sweep*geom.Angle(from), v.Sweep*geom.Angle(to-from)
		return v
	case geom.Cubic:
		return subcubic(v, from, to)
	}
	return geom.Line{From: piece.At(from), To: piece.At(to)}
}

// subcubic takes a stretch of a cubic by its blossom: the control points are those of
// the parameters (a,a,a), (a,a,b), (a,b,b) and (b,b,b).
func subcubic(c geom.Cubic, a, b float64) geom.Cubic {
	mix := func(p, q geom.Point, t float64) geom.Point {
		return geom.Point{X: p.X + t*(q.X-p.X), Y: p.Y + t*(q.Y-p.Y)}
	}
	blossom := func(t, u, v float64) geom.Point {
		p, q, r := mix(c.P0, c.P1, t), mix(c.P1, c.P2, t), mix(c.P2, c.P3, t)
		return mix(mix(p, q, u), mix(q, r, u), v)
	}
	return geom.Cubic{P0: blossom(a, a, a), P1: blossom(a, a, b), P2: blossom(a, b, b), P3: blossom(b, b, b)}
}

// Bounds returns the smallest upright box that holds all lines and texts of a sheet.
func (s Sheet) Bounds(setter Typesetter) Box {
	all := Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	add := func(b Box) {
		all = Box{math.Min(all.MinX, b.MinX), math.Min(all.MinY, b.MinY), math.Max(all.MaxX, b.MaxX), math.Max(all.MaxY, b.MaxY)}
	}
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			switch v := item.(type) {
			case Path:
				for _, piece := range v.Pieces {
					b := piece.Bounds()
					add(Box{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y})
				}
			case Text:
				add(setter.Box(v))
			}
		}
	}
	return all
}
