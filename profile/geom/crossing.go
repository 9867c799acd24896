package geom

import (
	"cmp"
	"math"
	"slices"
)

// crossingError bounds how far the chords used to look for crossings lie from their
// pieces, mm. A chain that passes itself by more than twice that is found out.
const crossingError = 5e-4

// Crossing is a place where a chain meets itself.
type Crossing struct {
	Point         Point
	First, Second int // the pieces, counted from 0
}

// chordOf is a chord of a piece.
type chordOf struct {
	a, b        Point
	least, most float64 // x
	piece       int
	index       int // along the whole chain
}

// SelfCrossings returns the places where the chain meets itself other than where one
// piece goes on into the next. Chords within crossingError stand for the pieces.
func (c Chain) SelfCrossings() []Crossing {
	chords := c.chords()
	n := len(chords)
	slices.SortFunc(chords, func(p, q chordOf) int { return cmp.Or(cmp.Compare(p.least, q.least), p.index-q.index) })
	var out []Crossing
	for i := range chords {
		first := &chords[i]
		for j := i + 1; j < n && chords[j].least <= first.most; j++ {
			second := &chords[j]
			if c.neighbours(first.index, second.index, n) || !first.levelWith(second) {
				continue
			}
			if p, meet := meeting(*first, *second); meet {
				out = append(out, crossingOf(p, *first, *second))
			}
		}
	}
	return mergeCrossings(out)
}

// levelWith reports whether two chords come to within the width of a joint of each
// other's heights.
func (c *chordOf) levelWith(d *chordOf) bool {
	return min(c.a.Y, c.b.Y) <= max(d.a.Y, d.b.Y)+joint && min(d.a.Y, d.b.Y) <= max(c.a.Y, c.b.Y)+joint
}

func (c Chain) chords() []chordOf {
	n := 0
	for _, p := range c.pieces {
		n += p.steps(crossingError)
	}
	out := make([]chordOf, 0, n)
	for i, p := range c.pieces {
		n := p.steps(crossingError)
		from := p.Start()
		for j := 1; j <= n; j++ {
			to := p.At(float64(j) / float64(n))
			if j == n {
				to = p.End()
			}
			if from != to {
				out = append(out, chordOf{from, to, min(from.X, to.X), max(from.X, to.X), i, len(out)})
			}
			from = to
		}
	}
	return out
}

func (c Chain) neighbours(i, j, n int) bool {
	apart := i - j
	if apart < 0 {
		apart = -apart
	}
	return apart == 1 || c.closed && apart == n-1
}

// meeting returns where two chords meet. Chords that lie on one line meet where they
// overlap.
func meeting(p, q chordOf) (Point, bool) {
	d, e, w := sub(p.b, p.a), sub(q.b, q.a), sub(q.a, p.a)
	across := cross(d, e)
	if math.Abs(across) <= 1e-12*norm(d)*norm(e) {
		return overlap(p, q, d, w)
	}
	s, t := cross(w, e)/across, cross(w, d)/across
	if s < 0 || s > 1 || t < 0 || t > 1 {
		return Point{}, false
	}
	return mix(p.a, p.b, s), true
}

func overlap(p, q chordOf, d, w Point) (Point, bool) {
	length := norm(d)
	if math.Abs(cross(d, w)) > joint*length {
		return Point{}, false
	}
	from, to := dot(d, w)/(length*length), dot(d, sub(q.b, p.a))/(length*length)
	lo, hi := math.Max(0, math.Min(from, to)), math.Min(1, math.Max(from, to))
	if lo > hi {
		return Point{}, false
	}
	return mix(p.a, p.b, (lo+hi)/2), true
}

func crossingOf(p Point, a, b chordOf) Crossing {
	if a.piece > b.piece {
		a, b = b, a
	}
	return Crossing{Point: p, First: a.piece, Second: b.piece}
}

// mergeCrossings leaves one of those that neighbouring chords found at one place.
func mergeCrossings(all []Crossing) []Crossing {
	var out []Crossing
	for _, c := range all {
		known := false
		for _, o := range out {
			known = known || norm(sub(c.Point, o.Point)) < 2*crossingError
		}
		if !known {
			out = append(out, c)
		}
	}
	return out
}
