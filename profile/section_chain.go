package profile

import (
	"math"

	"fullerwright/profile/geom"
)

// sectionError bounds how far the arcs that stand for a surface that is neither a line
// nor an arc, such as a sloping groove cut upright, lie from it, mm.
const sectionError = 1e-6

// Chain returns the outline of the section as a closed chain, counterclockwise, seen
// from the tang toward the point with X out of the right face and Y toward the spine.
// Flats, flat, hollow and convex bevels and level grooves are exact; what else there is
// lies within sectionError. An empty section is an error of the chain.
func (c CrossSection) Chain() (geom.Chain, error) {
	right := c.facePieces(Right)
	left := right
	if !c.alike {
		left = c.facePieces(Left)
	}
	var pieces []geom.Piece
	pieces = append(pieces, geom.Line{From: geom.Point{X: -c.end(left, false), Y: c.Bottom}, To: geom.Point{X: c.end(right, false), Y: c.Bottom}})
	pieces = append(pieces, right...)
	pieces = append(pieces, geom.Line{From: geom.Point{X: c.end(right, true), Y: c.Top}, To: geom.Point{X: -c.end(left, true), Y: c.Top}})
	for i := len(left) - 1; i >= 0; i-- {
		pieces = append(pieces, mirrored(left[i]).Reverse())
	}
	return geom.NewChain(dropEmpty(pieces)...)
}

func (c CrossSection) end(pieces []geom.Piece, top bool) float64 {
	switch {
	case len(pieces) == 0:
		return 0
	case top:
		return pieces[len(pieces)-1].End().X
	}
	return pieces[0].Start().X
}

// mirrored returns a piece with X and -X exchanged.
func mirrored(p geom.Piece) geom.Piece {
	chain, err := geom.NewChain(p)
	if err != nil {
		panic("impossible: a piece of a section is none: " + err.Error())
	}
	return chain.MirrorX().Pieces()[0]
}

// facePieces returns the line of one face from the edge side up to the back.
func (c CrossSection) facePieces(face Face) []geom.Piece {
	var out []geom.Piece
	ys := c.breaks(face)
	on := func(y float64) geom.Point { return geom.Point{X: c.Half(face, y), Y: y} }
	for i := 1; i < len(ys); i++ {
		from, to := ys[i-1], ys[i]
		switch {
		case to-from < resolution:
		case c.straight(face, (from+to)/2):
			out = append(out, geom.Line{From: on(from), To: on(to)})
		default:
			out = c.curve(out, face, on(from), on(to))
		}
	}
	return out
}

// curve adds arcs through points of a face, halving them until they lie within the
// error.
func (c CrossSection) curve(out []geom.Piece, face Face, a, b geom.Point) []geom.Piece {
	on := func(t float64) geom.Point {
		y := a.Y + (b.Y-a.Y)*t
		return geom.Point{X: c.Half(face, y), Y: y}
	}
	middle := on(0.5)
	piece := arcOver(a, middle, b)
	for _, t := range []float64{0.125, 0.25, 0.375, 0.625, 0.75, 0.875} {
		if b.Y-a.Y > 1e-3 && away(piece, on(t)) > sectionError {
			return c.curve(c.curve(out, face, a, middle), face, middle, b)
		}
	}
	return append(out, piece)
}

// arcOver returns the arc from a to b through a place between, or the line where they
// lie on one.
func arcOver(a, middle, b geom.Point) geom.Piece {
	chord := math.Hypot(b.X-a.X, b.Y-a.Y)
	ux, uy := (b.X-a.X)/chord, (b.Y-a.Y)/chord
	along := (middle.X-a.X)*ux + (middle.Y-a.Y)*uy
	left := (middle.Y-a.Y)*ux - (middle.X-a.X)*uy
	if math.Abs(left) < resolution {
		return geom.Line{From: a, To: b}
	}
	// The centre lies square to the middle of the chord, as far from a as from the
	// place between; the arc on the side of that place.
	half := chord / 2
	centre := (square(along-half) + square(left) - square(half)) / (2 * left)
	return geom.ArcThrough(a, b, centre+math.Copysign(math.Hypot(half, centre), left))
}

// away returns how far a point lies from a line or an arc.
func away(piece geom.Piece, p geom.Point) float64 {
	if arc, ok := piece.(geom.Arc); ok {
		return math.Abs(math.Hypot(p.X-arc.Centre.X, p.Y-arc.Centre.Y) - arc.Radius)
	}
	a, b := piece.Start(), piece.End()
	return math.Abs((p.X-a.X)*(b.Y-a.Y)-(p.Y-a.Y)*(b.X-a.X)) / math.Hypot(b.X-a.X, b.Y-a.Y)
}
