package geom

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Cubic is a cubic Bézier with its four control points. Its zero value is invalid.
type Cubic struct{ P0, P1, P2, P3 Point }

// QuadraticAsCubic returns the parabola with the given control points as a cubic: the
// same curve, exactly.
func QuadraticAsCubic(start, control, end Point) Cubic {
	return Cubic{start, mix(start, control, 2.0/3), mix(end, control, 2.0/3), end}
}

// Start returns where the curve begins.
func (c Cubic) Start() Point { return c.P0 }

// End returns where the curve ends.
func (c Cubic) End() Point { return c.P3 }

// At returns the point at t by de Casteljau's construction.
func (c Cubic) At(t float64) Point {
	a, b, d := mix(c.P0, c.P1, t), mix(c.P1, c.P2, t), mix(c.P2, c.P3, t)
	return mix(mix(a, b, t), mix(b, d, t), t)
}

// derivative returns the derivative by t.
func (c Cubic) derivative(t float64) Point {
	a, b, d := sub(c.P1, c.P0), sub(c.P2, c.P1), sub(c.P3, c.P2)
	return scale(3, mix(mix(a, b, t), mix(b, d, t), t))
}

// Tangent returns the direction of travel at t. Where the derivative vanishes at an
// end it is the limit.
func (c Cubic) Tangent(t float64) Point {
	if d := c.derivative(t); norm(d) > 1e-12*norm(sub(c.P3, c.P0)) {
		return unit(d)
	}
	if t < 0.5 {
		return unit(sub(c.At(t+1e-6), c.At(t)))
	}
	return unit(sub(c.At(t), c.At(t-1e-6)))
}

// Length returns the length along the curve, by Gauss-Legendre integration on halves
// until they agree to 1e-10 of the whole.
func (c Cubic) Length() float64 {
	return c.lengthBetween(0, 1, c.gauss(0, 1), 0)
}

func (c Cubic) lengthBetween(a, b, whole float64, depth int) float64 {
	m := (a + b) / 2
	left, right := c.gauss(a, m), c.gauss(m, b)
	if sum := left + right; depth > 30 || math.Abs(sum-whole) <= 1e-12*(1+sum) {
		return sum
	}
	return c.lengthBetween(a, m, left, depth+1) + c.lengthBetween(m, b, right, depth+1)
}

// The five-point Gauss-Legendre rule on [-1, 1] (standard tables).
var (
	gaussAt     = [5]float64{0, 0.5384693101056831, -0.5384693101056831, 0.9061798459386640, -0.9061798459386640}
	gaussWeight = [5]float64{0.5688888888888889, 0.4786286704993665, 0.4786286704993665, 0.2369268850561891, 0.2369268850561891}
)

func (c Cubic) gauss(a, b float64) float64 {
	sum := 0.0
	for i, x := range gaussAt {
		sum += gaussWeight[i] * norm(c.derivative((a+b)/2+x*(b-a)/2))
	}
	return sum * (b - a) / 2
}

// Bounds returns the box of the curve, with its own extremes.
func (c Cubic) Bounds() r2.Box {
	points := []Point{c.P0, c.P3}
	for _, t := range append(c.turns(func(p Point) float64 { return p.X }), c.turns(func(p Point) float64 { return p.Y })...) {
		points = append(points, c.At(t))
	}
	return boxOf(points...)
}

// turns returns the parameters inside (0, 1) at which a coordinate turns, ascending.
func (c Cubic) turns(of func(Point) float64) []float64 {
	d0, d1, d2 := of(c.P1)-of(c.P0), of(c.P2)-of(c.P1), of(c.P3)-of(c.P2)
	a, b, k := d0-2*d1+d2, 2*(d1-d0), d0
	var roots []float64
	if math.Abs(a) < 1e-14*(math.Abs(b)+math.Abs(k)+1e-300) {
		if b != 0 {
			roots = []float64{-k / b}
		}
	} else if disc := float64(b*b) - float64(4*a*k); disc >= 0 {
		q := -(b + math.Copysign(math.Sqrt(disc), b)) / 2
		roots = []float64{q / a}
		if q != 0 {
			roots = append(roots, k/q)
		}
	}
	var inside []float64
	for _, t := range roots {
		if t > 0 && t < 1 {
			inside = append(inside, t)
		}
	}
	if len(inside) == 2 && inside[0] > inside[1] {
		inside[0], inside[1] = inside[1], inside[0]
	}
	return inside
}

// Reverse returns the curve travelled the other way.
func (c Cubic) Reverse() Piece { return Cubic{c.P3, c.P2, c.P1, c.P0} }

func (c Cubic) valid() bool {
	return finite(c.P0.X, c.P0.Y, c.P1.X, c.P1.Y, c.P2.X, c.P2.Y, c.P3.X, c.P3.Y) &&
		(c.P0 != c.P3 || c.P1 != c.P0 || c.P2 != c.P0)
}

// moments integrates polynomials of degree up to 8 exactly by the five-point rule,
// which is exact up to degree 9.
func (c Cubic) moments() (area, aboutY, aboutX float64) {
	for i, x := range gaussAt {
		t, w := (1+x)/2, gaussWeight[i]/2
		p, d := c.At(t), c.derivative(t)
		area += w * cross(p, d) / 2
		aboutY += w * float64(p.X*p.X) * d.Y / 2
		aboutX -= w * float64(p.Y*p.Y) * d.X / 2
	}
	return area, aboutY, aboutX
}

// appendRuns: the runs are given by parameters.
func (c Cubic) appendRuns(to []run) []run {
	from := 0.0
	for _, until := range append(c.turns(func(p Point) float64 { return p.X }), 1) {
		p, q := c.At(from).X, c.At(until).X
		to = append(to, run{from: from, until: until, least: min(p, q), most: max(p, q)})
		from = until
	}
	return to
}

// y returns the y at t, as At does.
func (c *Cubic) y(t float64) float64 {
	a, b, d := c.P0.Y+t*(c.P1.Y-c.P0.Y), c.P1.Y+t*(c.P2.Y-c.P1.Y), c.P2.Y+t*(c.P3.Y-c.P2.Y)
	e, f := a+t*(b-a), b+t*(d-b)
	return e + t*(f-e)
}

// parameterAt finds the parameter at which the curve has the given x by Halley's steps
// (any textbook of numerical analysis), each of which triples the figures that are right,
// where they stay inside, and by halving where they do not.
func (c *Cubic) parameterAt(x, from, until float64) float64 {
	first, _, _ := c.x(from)
	last, _, _ := c.x(until)
	left := first < x
	a, b := from, until
	t := min(max(a+(x-first)/(last-first)*(b-a), a), b)
	third := c.P3.X - c.P0.X - 3*(c.P2.X-c.P1.X) // a sixth of the third derivative
	for range 100 {
		at, rate, bend := c.x(t)
		if at == x {
			return t
		}
		if (at < x) == left {
			a = t
		} else {
			b = t
		}
		straight := (at - x) / rate
		turn := straight * bend / rate // how much the rate changes over a straight step, as a part of it
		step := straight / (1 - turn/2)
		next := t - step
		if !(next > a && next < b) {
			next = (a + b) / 2
		} else if off := turn*turn/4 + math.Abs(third*step*step/rate); math.Abs(step)*off < 1e-17 {
			return next // it is off by about so much
		}
		if next == t || next == a || next == b {
			break
		}
		t = next
	}
	return t
}

// x returns the x at t with its first and second derivative, by de Casteljau's
// construction.
func (c *Cubic) x(t float64) (at, rate, bend float64) {
	a, b, d := c.P0.X+t*(c.P1.X-c.P0.X), c.P1.X+t*(c.P2.X-c.P1.X), c.P2.X+t*(c.P3.X-c.P2.X)
	e, f := a+t*(b-a), b+t*(d-b)
	return e + t*(f-e), 3 * (f - e), 6 * (d - 2*b + a)
}

// steps: over a step h of t a chord lies at most h²/8 times the greatest second
// derivative from the curve, and that is greatest at an end, since it is linear in t.
func (c Cubic) steps(chordError float64) int {
	second := func(a, b, d Point) float64 { return 6 * norm(add(sub(a, scale(2, b)), d)) }
	bend := math.Max(second(c.P0, c.P1, c.P2), second(c.P1, c.P2, c.P3))
	return max(1, int(math.Ceil(math.Sqrt(bend/(8*chordError)))))
}

func (c Cubic) transform(m similarity) Piece {
	return Cubic{m.apply(c.P0), m.apply(c.P1), m.apply(c.P2), m.apply(c.P3)}
}
