package geom

import "math"

// roundPieces returns lines and arcs within the tolerance of the pieces, mm: the lines
// and arcs among them as they are, cubics as tangent arcs, arcs flatter than flattest
// as lines.
func roundPieces(pieces []Piece, tolerance float64) []Piece {
	var out []Piece
	for _, piece := range pieces {
		switch p := piece.(type) {
		case Line:
			out = append(out, p)
		case Arc:
			out = append(out, p.unlessFlat(tolerance)...)
		case Cubic:
			out = append(out, p.biarcs([2]float64{0, 1}, tolerance)...)
		}
	}
	return out
}

// unlessFlat returns the arc, or chords within the tolerance of it where it is flatter
// than flattest. A chord of length c lies c²/8r from its arc.
func (a Arc) unlessFlat(tolerance float64) []Piece {
	if a.Radius <= flattest {
		return []Piece{a}
	}
	n := math.Ceil(a.Length() / math.Sqrt(8*a.Radius*tolerance))
	var out []Piece
	from := a.Start()
	for i := 1.0; i <= n; i++ {
		to := a.At(i / n)
		out = append(out, Line{from, to})
		from = to
	}
	return out
}

// biarcs returns tangent arcs within the tolerance of a span of the curve, halving the
// span until a pair of them fits.
func (c Cubic) biarcs(span [2]float64, tolerance float64) []Piece {
	a, b := span[0], span[1]
	start, end := c.At(a), c.At(b)
	if arcs, ok := biarc(start, c.Tangent(a), end, c.Tangent(b)); ok && c.fits(arcs, span, tolerance) {
		return arcs
	}
	if c.gauss(a, b) <= tolerance { // no longer than that: about a cusp
		if start == end {
			return nil
		}
		return []Piece{Line{start, end}}
	}
	middle := (a + b) / 2
	return append(c.biarcs([2]float64{a, middle}, tolerance), c.biarcs([2]float64{middle, b}, tolerance)...)
}

// fits reports whether the curve over a span lies within the tolerance of the pieces.
func (c Cubic) fits(pieces []Piece, span [2]float64, tolerance float64) bool {
	const looks = 16
	for i := 1; i < looks; i++ {
		if distanceToPieces(pieces, c.At(span[0]+(span[1]-span[0])*float64(i)/looks)) > tolerance {
			return false
		}
	}
	return true
}

// biarc returns the arcs of Biarc where both directions go the way of the chord and
// turn by no more than a right angle, as in a short span of a curve.
func biarc(start, leave, end, reach Point) ([]Piece, bool) {
	chord, both := sub(end, start), add(leave, reach)
	if dot(leave, reach) < 0 || dot(chord, both) <= 0 {
		return nil, false
	}
	return Biarc(start, leave, end, reach)
}

// Biarc returns two arcs that leave the start in one direction, pass into each other
// smoothly and reach the end in the other, with equal legs to their joint, an arc that
// is next to straight as a line; and whether there are such arcs. Directions have
// length 1, and together must not point against the chord.
func Biarc(start, leave, end, reach Point) ([]Piece, bool) {
	chord, both := sub(end, start), add(leave, reach)
	if norm(chord) == 0 || dot(chord, both) < 0 {
		return nil, false
	}
	// The legs d solve 2(1 - leave·reach) d² + 2 (chord·both) d - chord² = 0, here by
	// the form of the root that stays good where the directions agree.
	spread, along := dot(sub(leave, reach), sub(leave, reach)), dot(chord, both)
	leg := dot(chord, chord) / (along + math.Sqrt(float64(along*along)+spread*dot(chord, chord)))
	middle := mix(add(start, scale(leg, leave)), sub(end, scale(leg, reach)), 0.5)
	first, second := arcOrLine(start, leave, middle), arcOrLine(end, scale(-1, reach), middle).Reverse()
	return []Piece{first, second}, first.valid() && second.valid()
}

// arcOrLine returns the arc that leaves start in a direction and ends at end, or the
// line where the arc would be flatter than flattest.
func arcOrLine(start, direction, end Point) Piece {
	chord := sub(end, start)
	// The radius is half the chord over the sine of the angle between the two.
	if dot(chord, chord) >= 2*flattest*math.Abs(cross(direction, chord)) {
		return Line{start, end}
	}
	return ArcTangent(start, direction, end)
}

// distanceToPieces returns how far a point lies from the nearest of some lines and
// arcs, mm.
func distanceToPieces(pieces []Piece, q Point) float64 {
	least := math.Inf(1)
	for _, piece := range pieces {
		least = math.Min(least, Distance(piece, q))
	}
	return least
}

// Distance returns how far a point lies from a line or an arc, mm.
func Distance(piece Piece, q Point) float64 {
	switch p := piece.(type) {
	case Line:
		along := sub(p.To, p.From)
		t := dot(sub(q, p.From), along) / dot(along, along)
		return norm(sub(q, p.At(math.Max(0, math.Min(1, t)))))
	case Arc:
		if turned := p.turnedTo(q); turned <= math.Abs(float64(p.Sweep)) {
			return math.Abs(norm(sub(q, p.Centre)) - p.Radius)
		}
		return math.Min(norm(sub(q, p.Start())), norm(sub(q, p.End())))
	}
	panic("impossible: the distance to a piece that is no line and no arc")
}

// turnedTo returns the angle from the start of the arc to the direction of a point
// from its centre, in the arc's own sense, from 0 to a full turn.
func (a Arc) turnedTo(q Point) float64 {
	d := sub(q, a.Centre)
	turned := math.Mod(math.Copysign(1, float64(a.Sweep))*(math.Atan2(d.Y, d.X)-float64(a.From)), 2*math.Pi)
	if turned < 0 {
		turned += 2 * math.Pi
	}
	return turned
}
