package geom

import "math"

// Place is a place on a chain: the parameter T from 0 to 1 on one of its pieces, counted
// from 0.
type Place struct {
	Piece int
	T     float64
}

// Nearest returns the place of a chain that lies nearest to a point, and how far it is,
// mm: exactly on lines and arcs, and on cubics the least of the roots of
// (c(t) - q)·c'(t) = 0, each to the last bits. Of the zero value the distance is infinite.
func (c Chain) Nearest(q Point) (Place, float64) {
	best, least := Place{}, math.Inf(1)
	for i, piece := range c.pieces {
		if distanceToBox(piece, q) >= least {
			continue
		}
		t := nearestOn(piece, q)
		if d := norm(sub(q, piece.At(t))); d < least {
			best, least = Place{i, t}, d
		}
	}
	return best, least
}

// distanceToBox bounds from below how far a point lies from a piece. The box of the
// control points holds a cubic and is quicker made than its own.
func distanceToBox(piece Piece, q Point) float64 {
	var outside Point
	switch p := piece.(type) {
	case Line:
		outside = outsideOf(q, p.From, p.To)
	case Cubic:
		outside = outsideOf(q, p.P0, p.P1, p.P2, p.P3)
	case Arc:
		return math.Abs(norm(sub(q, p.Centre)) - p.Radius)
	}
	return norm(outside)
}

// outsideOf returns how far a point lies outside the upright box of others.
func outsideOf(q Point, points ...Point) Point {
	low, high := points[0], points[0]
	for _, p := range points[1:] {
		low = Point{X: math.Min(low.X, p.X), Y: math.Min(low.Y, p.Y)}
		high = Point{X: math.Max(high.X, p.X), Y: math.Max(high.Y, p.Y)}
	}
	return Point{X: math.Max(0, math.Max(low.X-q.X, q.X-high.X)), Y: math.Max(0, math.Max(low.Y-q.Y, q.Y-high.Y))}
}

// nearestOn returns the parameter of the place of a piece that lies nearest to a point.
func nearestOn(piece Piece, q Point) float64 {
	switch p := piece.(type) {
	case Line:
		along := sub(p.To, p.From)
		return math.Max(0, math.Min(1, dot(sub(q, p.From), along)/dot(along, along)))
	case Arc:
		if turned := p.turnedTo(q); turned <= math.Abs(float64(p.Sweep)) {
			return turned / math.Abs(float64(p.Sweep))
		}
		if norm(sub(q, p.Start())) <= norm(sub(q, p.End())) {
			return 0
		}
		return 1
	case Cubic:
		return p.nearest(q)
	}
	panic("impossible: a piece that is no line, arc or cubic")
}

// nearest looks for the roots between equal steps of t, which is fine enough for curves
// that turn by less than a half circle.
func (c Cubic) nearest(q Point) float64 {
	const looks = 24
	away := func(t float64) float64 { return dot(sub(c.At(t), q), c.derivative(t)) }
	best, least := 0.0, norm(sub(q, c.P0))
	consider := func(t float64) {
		if d := norm(sub(q, c.At(t))); d < least {
			best, least = t, d
		}
	}
	consider(1)
	before := away(0)
	for i := 1; i <= looks; i++ {
		from, to := float64(i-1)/looks, float64(i)/looks
		after := away(to)
		if before < 0 && after >= 0 {
			consider(rootBetween(away, from, to))
		}
		before = after
	}
	return best
}

// rootBetween returns a root of a function that is negative at a and not at b, by false
// position with the stale end halved (the Illinois form), which keeps the root enclosed.
func rootBetween(f func(float64) float64, a, b float64) float64 {
	fa, fb := f(a), f(b)
	side := 0
	for range 60 {
		t := b - fb*(b-a)/(fb-fa)
		ft := f(t)
		switch {
		case ft == 0 || b-a < 1e-15:
			return t
		case ft > 0:
			b, fb = t, ft
			if side == 1 {
				fa /= 2
			}
			side = 1
		default:
			a, fa = t, ft
			if side == -1 {
				fb /= 2
			}
			side = -1
		}
		if math.Abs(ft) < 1e-14*(math.Abs(fa)+math.Abs(fb)+1e-300) {
			return t
		}
	}
	return (a + b) / 2
}

// AtX returns the parameter at which a piece that goes one way along x, from its start to
// its end, passes the upright line at x; ok is false where it does not.
func AtX(piece Piece, x float64) (t float64, ok bool) {
	from, to := piece.Start().X, piece.End().X
	if from == to || x < math.Min(from, to) || x > math.Max(from, to) {
		return 0, false
	}
	switch p := piece.(type) {
	case Line:
		return (x - from) / (to - from), true
	case Arc:
		half := math.Acos(math.Max(-1, math.Min(1, (x-p.Centre.X)/p.Radius)))
		for _, angle := range []float64{half, -half} {
			if t := p.turnedTo(p.on(angle)) / math.Abs(float64(p.Sweep)); t <= 1 {
				return t, true
			}
		}
		// At an end a rounding may put it outside.
		if math.Abs(x-from) < math.Abs(x-to) {
			return 0, true
		}
		return 1, true
	case Cubic:
		sign := math.Copysign(1, to-from)
		return rootBetween(func(t float64) float64 { return sign * (p.At(t).X - x) }, 0, 1), true
	}
	panic("impossible: a piece that is no line, arc or cubic")
}
