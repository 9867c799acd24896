package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
)

const tight = 1e-9

func chain(t *testing.T, pieces ...Piece) Chain {
	t.Helper()
	c, err := NewChain(pieces...)
	require.NoError(t, err)
	return c
}

func polygon(points ...Point) []Piece {
	var out []Piece
	for i, p := range points {
		out = append(out, Line{p, points[(i+1)%len(points)]})
	}
	return out
}

// TestAreasWithClosedForms checks areas and centroids that are known exactly.
func TestAreasWithClosedForms(t *testing.T) {
	half := Arc{Centre: Point{X: 3, Y: 2}, Radius: 2, From: 0, Sweep: 180 * Degree}
	// A parabola over a base of 6 with height 3 holds two thirds of base times height,
	// its centroid at two fifths of the height.
	parabola := QuadraticAsCubic(Point{X: 0, Y: 0}, Point{X: 3, Y: 6}, Point{X: 6, Y: 0})
	for name, row := range map[string]struct {
		pieces   []Piece
		area     float64
		centroid Point
	}{
		"square":      {polygon(Point{X: 1, Y: 1}, Point{X: 3, Y: 1}, Point{X: 3, Y: 3}, Point{X: 1, Y: 3}), 4, Point{X: 2, Y: 2}},
		"clockwise":   {polygon(Point{X: 1, Y: 1}, Point{X: 1, Y: 3}, Point{X: 3, Y: 3}, Point{X: 3, Y: 1}), -4, Point{X: 2, Y: 2}},
		"circle":      {[]Piece{Arc{Centre: Point{X: 5, Y: -4}, Radius: 3, Sweep: 360 * Degree}}, 9 * math.Pi, Point{X: 5, Y: -4}},
		"half circle": {[]Piece{half, Line{half.End(), half.Start()}}, 2 * math.Pi, Point{X: 3, Y: 2 + 8/(3*math.Pi)}},
		"parabola":    {[]Piece{parabola.Reverse(), Line{Point{}, Point{X: 6}}}, 12, Point{X: 3, Y: 1.2}},
	} {
		c := chain(t, row.pieces...)
		assert.True(t, c.Closed(), name)
		assert.InDelta(t, row.area, c.Area(), tight, name)
		assert.InDelta(t, row.centroid.X, c.Centroid().X, tight, name)
		assert.InDelta(t, row.centroid.Y, c.Centroid().Y, tight, name)
	}
}

// TestSegmentOfACircle: Machinery's Handbook, 31st ed., p. 50, read there: radius
// 12 cm, depth 2 cm: chord 13.27 cm, area 18.01 cm², arc 14.06 cm; p. 79: chord 16 and
// height 6 give a radius of 8 1/3.
func TestSegmentOfACircle(t *testing.T) {
	half := math.Sqrt(12*12 - 10*10)
	arc := ArcThrough(Point{X: -half}, Point{X: half}, 2)
	c := chain(t, arc, Line{arc.End(), arc.Start()})
	assert.InDelta(t, 12, arc.Radius, tight)
	assert.InDelta(t, 13.27, 2*half, 0.005)
	assert.InDelta(t, 18.01, math.Abs(c.Area()), 0.005)
	assert.InDelta(t, 14.06, arc.Length(), 0.005)
	assert.InDelta(t, 25.0/3, ArcThrough(Point{}, Point{X: 16}, 6).Radius, tight)
}

func TestArcThrough(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		a := Point{X: random.Float64()*100 - 50, Y: random.Float64()*100 - 50}
		b := Point{X: random.Float64()*100 - 50, Y: random.Float64()*100 - 50}
		length := norm(sub(b, a))
		sag := (random.Float64()*2 - 1) * length / 2
		arc := ArcThrough(a, b, sag)
		assert.InDelta(t, 0, norm(sub(arc.Start(), a)), 1e-7)
		assert.InDelta(t, 0, norm(sub(arc.End(), b)), 1e-7)
		middle := sub(arc.At(0.5), mix(a, b, 0.5))
		left := Point{X: -(b.Y - a.Y) / length, Y: (b.X - a.X) / length}
		assert.InDelta(t, sag, dot(middle, left), 1e-7, "the sagitta, positive to the left")
	}
}

func TestArcTangent(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		a, d := Point{X: random.Float64(), Y: random.Float64()}, Point{X: random.Float64() - 0.5, Y: random.Float64() - 0.5}
		b := Point{X: random.Float64()*10 + 2, Y: random.Float64()*10 + 2}
		arc := ArcTangent(a, d, b)
		assert.InDelta(t, 0, norm(sub(arc.Start(), a)), 1e-6)
		assert.InDelta(t, 0, norm(sub(arc.End(), b)), 1e-6)
		assert.InDelta(t, 1, dot(arc.Tangent(0), unit(d)), 1e-9, "leaves in the direction given")
	}
}

// TestLengthOfACubic compares with a general-purpose integrator.
func TestLengthOfACubic(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	point := func() Point { return Point{X: random.Float64() * 50, Y: random.Float64() * 50} }
	for range 50 {
		c := Cubic{point(), point(), point(), point()}
		speed := func(x float64) float64 { return norm(c.derivative(x)) }
		want := quad.Fixed(speed, 0, 1, 400, quad.Legendre{}, 0)
		assert.InDelta(t, want, c.Length(), 1e-5*want)
	}
}

// TestSampleStaysWithinItsError looks at the curve between the points of a sample.
func TestSampleStaysWithinItsError(t *testing.T) {
	curve := Cubic{Point{}, Point{X: 30, Y: 40}, Point{X: -10, Y: 40}, Point{X: 25, Y: 2}}
	c := chain(t, Arc{Centre: Point{X: -20}, Radius: 20, From: 180 * Degree, Sweep: 180 * Degree}, curve)
	for _, chordError := range []float64{0.1, 0.01, 0.001} {
		points := c.Sample(chordError)
		worst := 0.0
		for _, p := range c.Pieces() {
			for i := range 4001 {
				worst = math.Max(worst, nearest(points, p.At(float64(i)/4000)))
			}
		}
		assert.LessOrEqual(t, worst, chordError*(1+1e-6))
		assert.Greater(t, worst, chordError/20, "not far finer than asked")
	}
}

func nearest(points []Point, p Point) float64 {
	least := math.Inf(1)
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		d := sub(b, a)
		t := math.Max(0, math.Min(1, dot(sub(p, a), d)/dot(d, d)))
		least = math.Min(least, norm(sub(p, mix(a, b, t))))
	}
	return least
}

// TestBoundsHoldEveryPoint compares the exact box with a dense sample.
func TestBoundsHoldEveryPoint(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	point := func() Point { return Point{X: random.Float64() * 50, Y: random.Float64() * 50} }
	for range 100 {
		for _, p := range []Piece{Cubic{point(), point(), point(), point()}, Line{point(), point()},
			Arc{Centre: point(), Radius: 1 + random.Float64()*20, From: Angle(random.Float64() * 6), Sweep: Angle(random.Float64()*12 - 6)}} {
			box := p.Bounds()
			least, most := Point{X: math.Inf(1), Y: math.Inf(1)}, Point{X: math.Inf(-1), Y: math.Inf(-1)}
			for i := range 2001 {
				q := p.At(float64(i) / 2000)
				least = Point{X: math.Min(least.X, q.X), Y: math.Min(least.Y, q.Y)}
				most = Point{X: math.Max(most.X, q.X), Y: math.Max(most.Y, q.Y)}
			}
			const sampled = 1e-3
			assert.InDelta(t, box.Min.X, least.X, sampled)
			assert.InDelta(t, box.Min.Y, least.Y, sampled)
			assert.InDelta(t, box.Max.X, most.X, sampled)
			assert.InDelta(t, box.Max.Y, most.Y, sampled)
		}
	}
}

func TestReverseIsTheSameCurve(t *testing.T) {
	for _, p := range []Piece{Line{Point{X: 1}, Point{Y: 2}}, Arc{Radius: 3, From: 1, Sweep: -2}, Cubic{Point{}, Point{X: 1}, Point{X: 1, Y: 1}, Point{Y: 5}}} {
		for _, at := range []float64{0, 0.3, 1} {
			a, b := p.At(at), p.Reverse().At(1-at)
			assert.InDelta(t, 0, norm(sub(a, b)), tight)
			assert.InDelta(t, -1, dot(p.Tangent(at), p.Reverse().Tangent(1-at)), 1e-6)
		}
	}
}

// TestSimilarity: scaled by f an area is f² times as large; mirrored it turns its sign.
func TestSimilarity(t *testing.T) {
	arc := Arc{Centre: Point{X: 3, Y: 2}, Radius: 2, From: 0, Sweep: 180 * Degree}
	c := chain(t, arc, Line{arc.End(), arc.Start()})
	assert.InDelta(t, 6.25*c.Area(), c.Scale(2.5).Area(), tight)
	assert.InDelta(t, -c.Area(), c.MirrorX().Area(), tight)
	assert.InDelta(t, c.Area(), c.Translate(Point{X: 7, Y: -3}).Area(), tight)
	assert.InDelta(t, -c.Centroid().X, c.MirrorX().Centroid().X, tight)
	assert.True(t, c.MirrorX().Closed())
}

func TestSelfCrossings(t *testing.T) {
	loop := Cubic{Point{}, Point{X: 30, Y: 30}, Point{X: -10, Y: 30}, Point{X: 20, Y: 0}}
	for name, row := range map[string]struct {
		pieces []Piece
		want   int
	}{
		"square":           {polygon(Point{}, Point{X: 4}, Point{X: 4, Y: 4}, Point{Y: 4}), 0},
		"bow tie":          {polygon(Point{}, Point{X: 4, Y: 4}, Point{X: 4}, Point{Y: 4}), 1},
		"circle":           {[]Piece{Arc{Radius: 3, Sweep: 360 * Degree}}, 0},
		"looping curve":    {[]Piece{loop, Line{loop.P3, Point{X: 20, Y: -5}}}, 1},
		"line through arc": {[]Piece{Arc{Radius: 5, From: 0, Sweep: 180 * Degree}, Line{Point{X: -5}, Point{X: 0, Y: 10}}, Line{Point{Y: 10}, Point{X: 0, Y: 1}}}, 2},
		"there and back":   {[]Piece{Line{Point{}, Point{X: 9}}, Line{Point{X: 9}, Point{X: 9, Y: 3}}, Line{Point{X: 9, Y: 3}, Point{X: 4, Y: 0}}, Line{Point{X: 4}, Point{X: 2}}}, 1},
	} {
		got := chain(t, row.pieces...).SelfCrossings()
		if row.want == 0 {
			assert.Empty(t, got, name)
		} else {
			assert.GreaterOrEqual(t, len(got), row.want, name)
		}
	}
}

// TestRandomPolygonsCross compares with a test of every pair of sides.
func TestRandomPolygonsCross(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 12))
	for range 300 {
		var points []Point
		for range 6 {
			points = append(points, Point{X: math.Round(random.Float64() * 40), Y: math.Round(random.Float64() * 40)})
		}
		c, err := NewChain(polygon(points...)...)
		if err != nil {
			continue // two corners in one place
		}
		assert.Equal(t, bruteCrosses(points), len(c.SelfCrossings()) > 0, "%v", points)
	}
}

func bruteCrosses(points []Point) bool {
	n := len(points)
	side := func(a, b, c Point) float64 { return cross(sub(b, a), sub(c, a)) }
	between := func(a, b, p Point) bool {
		return math.Min(a.X, b.X) <= p.X && p.X <= math.Max(a.X, b.X) && math.Min(a.Y, b.Y) <= p.Y && p.Y <= math.Max(a.Y, b.Y)
	}
	for i := range n {
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			a, b, c, d := points[i], points[i+1], points[j], points[(j+1)%n]
			s1, s2, s3, s4 := side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)
			switch {
			case s1*s2 < 0 && s3*s4 < 0,
				s1 == 0 && between(a, b, c), s2 == 0 && between(a, b, d), s3 == 0 && between(c, d, a), s4 == 0 && between(c, d, b):
				return true
			}
		}
	}
	return false
}

func TestFillet(t *testing.T) {
	a, b := Line{Point{X: -10}, Point{}}, Line{Point{}, Point{X: 2, Y: 9}}
	before, corner, after, err := Fillet(a, b, 1.5)
	require.NoError(t, err)
	c := chain(t, before, corner, after)
	assert.InDelta(t, 1, dot(before.Tangent(1), corner.Tangent(0)), tight)
	assert.InDelta(t, 1, dot(corner.Tangent(1), after.Tangent(0)), tight)
	assert.InDelta(t, 1.5, corner.Radius, tight)
	assert.Less(t, c.Length(), a.Length()+b.Length())
	_, _, _, err = Fillet(a, b, 20)
	assert.Error(t, err, "too large to fit")
	_, _, _, err = Fillet(a, Line{Point{}, Point{X: 5}}, 1)
	assert.Error(t, err, "no corner")
	_, _, _, err = Fillet(a, b, 0)
	assert.Error(t, err, "no radius")
}

func TestNewChainRefuses(t *testing.T) {
	for name, pieces := range map[string][]Piece{
		"nothing":      nil,
		"a gap":        {Line{Point{}, Point{X: 1}}, Line{Point{X: 2}, Point{X: 3}}},
		"no length":    {Line{Point{X: 1}, Point{X: 1}}},
		"not a number": {Line{Point{}, Point{X: math.NaN()}}},
		"infinite":     {Arc{Radius: math.Inf(1), Sweep: 1}},
		"no sweep":     {Arc{Radius: 2}},
		"nil":          {nil},
	} {
		_, err := NewChain(pieces...)
		assert.Error(t, err, name)
	}
}

// TestZeroValues: a zero chain answers and does not panic.
func TestZeroValues(t *testing.T) {
	var c Chain
	assert.Zero(t, c.Area())
	assert.Zero(t, c.Length())
	assert.Empty(t, c.Sample(0.1))
	assert.Empty(t, c.SelfCrossings())
	assert.Empty(t, c.Crossings(0))
	assert.False(t, c.Closed())
}

func TestContains(t *testing.T) {
	c := chain(t, Arc{Centre: Point{X: 5, Y: -4}, Radius: 3, Sweep: 360 * Degree})
	assert.True(t, c.Contains(Point{X: 6, Y: -2}))
	assert.False(t, c.Contains(Point{X: 6, Y: 0}))
	assert.False(t, c.Contains(Point{X: 1, Y: -4}))
}

func BenchmarkArea(b *testing.B) {
	arc := Arc{Centre: Point{X: 3, Y: 2}, Radius: 2, From: 0, Sweep: 180 * Degree}
	c, err := NewChain(arc, Cubic{arc.End(), Point{}, Point{X: 2}, arc.Start()})
	require.NoError(b, err)
	for b.Loop() {
		c.Area()
	}
}

// TestRotate turns a half disc by angles of known sine; turned back, it is where it was.
func TestRotate(t *testing.T) {
	half := Arc{Centre: Point{X: 3, Y: 2}, Radius: 2, From: 0, Sweep: 180 * Degree}
	c := chain(t, half, Line{half.End(), half.Start()})
	quarter := c.Rotate(90 * Degree)
	assert.InDelta(t, -2-8/(3*math.Pi), quarter.Centroid().X, tight)
	assert.InDelta(t, 3, quarter.Centroid().Y, tight)
	assert.InDelta(t, c.Area(), quarter.Area(), tight)
	_, err := NewChain(c.Rotate(33 * Degree).Pieces()...)
	assert.NoError(t, err, "arcs and lines turn together")
	back := c.Rotate(33 * Degree).Rotate(-33 * Degree).Bounds()
	assert.InDelta(t, 1, back.Min.X, tight)
	assert.InDelta(t, 4, back.Max.Y, tight)
}
