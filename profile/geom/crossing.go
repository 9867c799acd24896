package geom

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
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
	chords, n := c.chords(c.mayCross())
	order := make([]*chordOf, len(chords))
	for i := range chords {
		order[i] = &chords[i]
	}
	slices.SortFunc(order, func(p, q *chordOf) int {
		if p.least != q.least {
			return cmp.Compare(p.least, q.least)
		}
		return p.index - q.index
	})
	var out []Crossing
	for i, first := range order {
		for _, second := range order[i+1:] {
			if second.least > first.most {
				break
			}
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

// chords returns chords of the pieces that are wanted, and how many all pieces together
// have.
func (c Chain) chords(wanted []bool) (out []chordOf, all int) {
	room := 0
	for i, p := range c.pieces {
		if wanted[i] {
			room += p.steps(crossingError)
		}
	}
	out = make([]chordOf, 0, room)
	for i, p := range c.pieces {
		n := p.steps(crossingError)
		from := p.Start()
		for j := 1; j <= n && wanted[i]; j++ {
			to := p.At(float64(j) / float64(n))
			if j == n {
				to = p.End()
			}
			if from != to {
				out = append(out, chordOf{from, to, min(from.X, to.X), max(from.X, to.X), i, all + j})
			}
			from = to
		}
		all += n
	}
	return out, all
}

// mayCross reports which pieces may meet themselves or another piece: those that turn, and
// those whose boxes overlap by more than an edge or a corner.
func (c Chain) mayCross() []bool {
	out := make([]bool, len(c.pieces))
	boxes := make([]r2.Box, len(c.pieces))
	for i, p := range c.pieces {
		boxes[i] = p.Bounds()
		out[i] = !spanned(p, boxes[i])
	}
	for i := range boxes {
		for j := range i {
			if overlapping(boxes[i], boxes[j]) {
				out[i], out[j] = true, true
			}
		}
	}
	return out
}

// spanned reports whether a piece goes from one corner of its box to the opposite one, so
// that neither x nor y turns along it.
func spanned(p Piece, box r2.Box) bool {
	a, b := p.Start(), p.End()
	return math.Abs(math.Abs(b.X-a.X)-(box.Max.X-box.Min.X)) <= joint && math.Abs(math.Abs(b.Y-a.Y)-(box.Max.Y-box.Min.Y)) <= joint
}

// overlapping reports whether two boxes have more in common than the edge or the corner in
// which pieces that do not turn can only end. A box without width overlaps what it touches.
func overlapping(a, b r2.Box) bool {
	common := func(aMin, aMax, bMin, bMax float64) bool {
		flat := aMax-aMin <= joint || bMax-bMin <= joint
		over := min(aMax, bMax) - max(aMin, bMin)
		return over > joint || flat && over >= -joint
	}
	return common(a.Min.X, a.Max.X, b.Min.X, b.Max.X) && common(a.Min.Y, a.Max.Y, b.Min.Y, b.Max.Y)
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
