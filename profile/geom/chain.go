package geom

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// joint bounds how far the end of one piece may lie from the start of the next, mm:
// well over the rounding of a metre-long outline, well under anything a machine moves.
const joint = 1e-9

// Chain is a run of pieces, each beginning where the one before ends. It does not
// change once made. The zero value has no pieces.
type Chain struct {
	pieces []Piece
	closed bool
	runs   []run
}

// run is a stretch of a piece along which x does not turn.
type run struct {
	from, until float64 // parameters of the piece
	least, most float64 // x at its ends
	piece       Piece   // which the chain fills in
}

// yAt returns the y at which a run meets the upright line at x. It is a switch and no
// method of a piece: so chains that are only looked at stay off the heap.
func (r *run) yAt(x float64) float64 {
	switch p := r.piece.(type) {
	case Line:
		return p.yAt(x)
	case Arc:
		return p.yAt(x, r.from, r.until)
	case Cubic:
		return p.y(p.parameterAt(x, r.from, r.until))
	}
	panic("impossible: a piece of no kind")
}

// slopeAt returns the same y, and the direction of the piece there, of any length.
func (r *run) slopeAt(x float64) (y float64, direction Point) {
	switch p := r.piece.(type) {
	case Line:
		return p.yAt(x), sub(p.To, p.From)
	case Arc:
		y = p.yAt(x, r.from, r.until)
		return y, Point{X: p.Centre.Y - y, Y: x - p.Centre.X}
	case Cubic:
		t := p.parameterAt(x, r.from, r.until)
		return p.y(t), p.Tangent(t)
	}
	panic("impossible: a piece of no kind")
}

// chainOf puts pieces that are known to be sound together.
func chainOf(pieces []Piece, closed bool) Chain {
	c := Chain{pieces: pieces, closed: closed, runs: make([]run, 0, len(pieces))}
	for _, p := range pieces {
		first := len(c.runs)
		c.runs = p.appendRuns(c.runs)
		for i := range c.runs[first:] {
			c.runs[first+i].piece = p
		}
	}
	return c
}

// NewChain makes a chain. Every piece must have finite coordinates and some length,
// and begin where the one before ends; all faults are reported at once. The chain is
// closed when it ends where it begins.
func NewChain(pieces ...Piece) (Chain, error) {
	var faults []error
	if len(pieces) == 0 {
		return Chain{}, errors.New("a chain needs at least one piece")
	}
	for i, p := range pieces {
		if p == nil || !p.valid() {
			faults = append(faults, fmt.Errorf("piece %d has no length or a coordinate that is not finite: %v", i+1, p))
		}
	}
	if len(faults) > 0 {
		return Chain{}, errors.Join(faults...)
	}
	for i := 1; i < len(pieces); i++ {
		if gap := norm(sub(pieces[i].Start(), pieces[i-1].End())); gap > joint {
			faults = append(faults, fmt.Errorf("piece %d begins %g mm from the end of piece %d", i+1, gap, i))
		}
	}
	if len(faults) > 0 {
		return Chain{}, errors.Join(faults...)
	}
	closed := norm(sub(pieces[0].Start(), pieces[len(pieces)-1].End())) <= joint
	return chainOf(append([]Piece(nil), pieces...), closed), nil
}

// Pieces returns the pieces in order.
func (c Chain) Pieces() []Piece { return append([]Piece(nil), c.pieces...) }

// Closed reports whether the chain ends where it begins.
func (c Chain) Closed() bool { return c.closed }

// Length returns the length along the chain.
func (c Chain) Length() float64 {
	sum := 0.0
	for _, p := range c.pieces {
		sum += p.Length()
	}
	return sum
}

// Bounds returns the smallest upright box that holds the chain; of the zero value, an
// empty box at the origin.
func (c Chain) Bounds() r2.Box {
	var corners []Point
	for _, p := range c.pieces {
		b := p.Bounds()
		corners = append(corners, b.Min, b.Max)
	}
	if len(corners) == 0 {
		return r2.Box{}
	}
	return boxOf(corners...)
}

// Area returns the area inside a closed chain, mm², positive when it runs
// counterclockwise: by Green's theorem on the pieces, exact but for rounding.
func (c Chain) Area() float64 {
	sum := 0.0
	for _, p := range c.pieces {
		area, _, _ := p.moments()
		sum += area
	}
	return sum
}

// Centroid returns the centroid of the area inside a closed chain.
func (c Chain) Centroid() Point {
	var area, aboutY, aboutX float64
	for _, p := range c.pieces {
		a, my, mx := p.moments()
		area, aboutY, aboutX = area+a, aboutY+my, aboutX+mx
	}
	return Point{X: aboutY / area, Y: aboutX / area}
}

// Crossings returns the y, ascending, at which the upright line at x meets the chain.
// On a closed chain their number is even: a line through a vertex counts as lying just
// right of it.
func (c Chain) Crossings(x float64) []float64 { return c.AppendCrossings(nil, x) }

// AppendCrossings puts the crossings at x in place of what to holds, and allocates
// nothing where they have room there.
func (c Chain) AppendCrossings(to []float64, x float64) []float64 {
	to = to[:0]
	for i := range c.runs {
		// A run crosses where one of its ends lies left of x and the other does not.
		if r := &c.runs[i]; r.least < x && x <= r.most {
			y := r.yAt(x)
			j := len(to)
			for to = append(to, y); j > 0 && to[j-1] > y; j-- { // they are few
				to[j] = to[j-1]
			}
			to[j] = y
		}
	}
	return to
}

// LowestSlope returns the slope, dy by dx, of the chain where the upright line at x meets
// it lowest: +Inf or -Inf where the chain stands upright there, NaN where they do not meet.
func (c Chain) LowestSlope(x float64) float64 {
	lowest, slope := math.Inf(1), math.NaN()
	for i := range c.runs {
		if r := &c.runs[i]; r.least < x && x <= r.most {
			if y, along := r.slopeAt(x); y < lowest {
				lowest, slope = y, along.Y/along.X
			}
		}
	}
	return slope
}

// Sample returns points along the chain whose chords lie within the given error of
// it, mm; a closed chain ends with its first point again.
func (c Chain) Sample(chordError float64) []Point {
	if len(c.pieces) == 0 {
		return nil
	}
	out := []Point{c.pieces[0].Start()}
	for _, p := range c.pieces {
		n := p.steps(chordError)
		for i := 1; i < n; i++ {
			out = append(out, p.At(float64(i)/float64(n)))
		}
		out = append(out, p.End())
	}
	if c.closed {
		out[len(out)-1] = out[0]
	}
	return out
}

// Reverse returns the chain travelled the other way.
func (c Chain) Reverse() Chain {
	pieces := make([]Piece, len(c.pieces))
	for i, p := range c.pieces {
		pieces[len(pieces)-1-i] = p.Reverse()
	}
	return chainOf(pieces, c.closed)
}

// similarity is a uniform scaling, a mirroring in the y axis or not, a turn about the
// origin, and a shift.
type similarity struct {
	factor float64
	mirror bool
	turn   Angle
	shift  Point
}

func (m similarity) apply(p Point) Point {
	if m.mirror {
		p.X = -p.X
	}
	p = scale(m.factor, p)
	if m.turn != 0 {
		sin, cos := math.Sincos(float64(m.turn))
		p = Point{X: float64(p.X*cos) - float64(p.Y*sin), Y: float64(p.X*sin) + float64(p.Y*cos)}
	}
	return add(p, m.shift)
}

func (c Chain) transform(m similarity) Chain {
	pieces := make([]Piece, len(c.pieces))
	for i, p := range c.pieces {
		pieces[i] = p.transform(m)
	}
	return chainOf(pieces, c.closed)
}

// Scale returns the chain enlarged about the origin; the factor must be positive.
func (c Chain) Scale(factor float64) Chain { return c.transform(similarity{factor: factor}) }

// Translate returns the chain moved.
func (c Chain) Translate(by Point) Chain { return c.transform(similarity{factor: 1, shift: by}) }

// Rotate returns the chain turned about the origin, counterclockwise where the angle is
// positive.
func (c Chain) Rotate(angle Angle) Chain { return c.transform(similarity{factor: 1, turn: angle}) }

// MirrorX returns the chain with x and -x exchanged.
func (c Chain) MirrorX() Chain { return c.transform(similarity{factor: 1, mirror: true}) }

// Contains reports whether a point lies inside a closed chain that does not cross
// itself.
func (c Chain) Contains(p Point) bool {
	below := 0
	for _, y := range c.Crossings(p.X) {
		if y < p.Y {
			below++
		}
	}
	return below%2 == 1
}
