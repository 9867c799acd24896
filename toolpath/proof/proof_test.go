package proof

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath/motion"
)

// level is a face of constant height.
type level float64

func (l level) Height(float64, float64) float64 { return float64(l) }

var here = motion.Placement{SignX: 1, SignY: 1}

func fed(from, to motion.Vec) motion.Motion {
	return motion.Motion{Kind: motion.Line, TextLine: 7, From: from, To: to, Feed: 100, Spindle: motion.SpindleClockwise}
}

func vec(x, y, z float64) motion.Vec { return motion.Vec{X: x, Y: y, Z: z} }

func randomMotion(random *rand.Rand, trial int) motion.Motion {
	between := func(a, b float64) float64 { return a + (b-a)*random.Float64() }
	from := vec(between(-8, 8), between(-8, 8), between(-3, 3))
	if trial%4 == 0 {
		to := vec(between(-8, 8), between(-8, 8), between(-3, 3))
		if trial%8 == 0 {
			to.Z = from.Z
		}
		return fed(from, to)
	}
	plane := motion.Plane(trial % 3)
	a, b, n := plane.Split(from)
	radius, start, sweep := between(1, 8), between(0, 2*math.Pi), between(-6, 6)
	ca, cb := a-radius*math.Cos(start), b-radius*math.Sin(start)
	end := n
	switch trial % 5 {
	case 1:
		end += between(-3, 3) // a helix
	case 2:
		sweep = math.Copysign(2*math.Pi, sweep) // once round
	case 3:
		radius = between(0.2, 1) // less than the cutter's
		ca, cb = a-radius*math.Cos(start), b-radius*math.Sin(start)
	}
	return motion.Motion{Kind: motion.Arc, TextLine: 7, From: from, Plane: plane, Sweep: sweep, Centre: plane.Join(ca, cb, n),
		To: plane.Join(ca+radius*math.Cos(start+sweep), cb+radius*math.Sin(start+sweep), end), Feed: 100, Spindle: motion.SpindleClockwise}
}

// TestLevelGroove: a ball sunk by D along a line leaves a floor at D and a width of
// 2·sqrt(2RD - D²).
func TestLevelGroove(t *testing.T) {
	for _, row := range []struct{ radius, depth float64 }{{6, 1}, {3, 0.5}, {8.5, 1}, {5, 0.8}} {
		m := NewMap(GridOver(Box{-5, -10, 45, 10}, 0.1), level(2))
		m.Cut(here, Cutter{Radius: row.radius}, []motion.Motion{fed(vec(0, 0.033, 2-row.depth), vec(40, 0.033, 2-row.depth))})
		s, ok := m.SectionAt(20, 0)
		require.True(t, ok)
		// The parabola through three nodes leaves no more than a hundred-thousandth.
		assert.InDelta(t, row.depth, s.Depth, 1e-5)
		assert.InDelta(t, 2*math.Sqrt(2*row.radius*row.depth-row.depth*row.depth), s.Width, 0.002)
		assert.InDelta(t, 0.033, s.Centre, 0.001)
	}
}

// TestWorkersAgree: any number of workers leaves the same bits.
func TestWorkersAgree(t *testing.T) {
	random := rand.New(rand.NewPCG(31, 32))
	var motions []motion.Motion
	for i := range 40 {
		v := randomMotion(random, i)
		v.TextLine = i + 1
		motions = append(motions, v)
	}
	for i, c := range cutters(3) {
		few := motions[:len(motions)/(1+3*i)] // round corners go along upright arcs in many chords
		c.FluteLength, c.StickOut, c.HolderRadius = 4, 5, 6
		cut := func(workers int) (*Map, []Block) {
			m := NewMap(GridOver(Box{-15, -15, 15, 15}, 0.4), level(3))
			return m, m.cut(here, c, few, workers)
		}
		one, blocks := cut(1)
		for _, workers := range []int{2, 3 + i} {
			many, others := cut(workers)
			assert.Equal(t, one.Height, many.Height)
			assert.Equal(t, one.Line, many.Line)
			assert.Equal(t, blocks, others)
		}
	}
}

// TestPlacementsAgree: the same cut made in a work frame turned about Y or about X is
// the same cut in the face frame.
func TestPlacementsAgree(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 42))
	for i := range 20 {
		v := randomMotion(random, i)
		plain := NewMap(GridOver(Box{-15, -15, 15, 15}, 0.5), level(1))
		plain.Cut(here, Cutter{Radius: 2}, []motion.Motion{v})
		for _, p := range []motion.Placement{{SignX: -1, SignY: 1, X0: 100, Y0: -3, Z0: -2}, {SignX: 1, SignY: -1, X0: 4, Y0: -30, Z0: 1}, {SignX: -1, SignY: -1, X0: 4}} {
			turned := v
			turned.From, turned.To, turned.Centre = p.Work(v.From), p.Work(v.To), p.Work(v.Centre)
			turned.Sweep *= map[motion.Plane]float64{motion.PlaneXY: p.SignX * p.SignY, motion.PlaneZX: p.SignX, motion.PlaneYZ: p.SignY}[v.Plane]
			m := NewMap(plain.Grid, level(1))
			m.Cut(p, Cutter{Radius: 2}, []motion.Motion{turned})
			for k := range m.Height {
				assert.InDelta(t, plain.Height[k], m.Height[k], 1e-9)
			}
		}
	}
}

// TestEnds names the ends, of odd cutters too.
func TestEnds(t *testing.T) {
	assert.Equal(t, Ball, Cutter{Radius: 3, CornerRadius: 1}.End())
	assert.Equal(t, Square, Cutter{Square: true, Radius: 3}.End())
	assert.Equal(t, CornerRadius, Cutter{Square: true, Radius: 3, CornerRadius: 1}.End())
	assert.Equal(t, Ball, Cutter{Square: true, Radius: 3, CornerRadius: 4}.End(), "a corner that leaves no flat")
}

// TestBoundHolds: between the nodes a groove departs from the chord by no more than
// the bound, square to the wall.
func TestBoundHolds(t *testing.T) {
	for _, row := range []struct{ radius, lean float64 }{{3, 0.3}, {6, 0.7}, {6, 0.9}, {12, 0.5}} {
		g := Grid{Step: 0.1}
		bound := g.Bound(row.radius, row.lean)
		surface := func(u float64) float64 { return row.radius - math.Sqrt(row.radius*row.radius-u*u) }
		worst := 0.0
		for u := 0.0; u+g.Step < row.radius*math.Sin(row.lean); u += 0.01 {
			a, b, middle := surface(u), surface(u+g.Step), surface(u+g.Step/2)
			worst = math.Max(worst, ((a+b)/2-middle)*math.Cos(math.Asin((u+g.Step/2)/row.radius)))
		}
		assert.LessOrEqual(t, worst, bound)
		assert.Greater(t, worst, bound/4, "and is no idle one")
		assert.InDelta(t, bound, Grid{Step: StepFor(bound, row.radius, row.lean, 9)}.Bound(row.radius, row.lean), 1e-15)
	}
}

func TestCoarseGridIsFound(t *testing.T) {
	m := NewMap(GridOver(Box{3.5, -5, 36.5, 5}, 0.5), level(2))
	blocks := m.Cut(here, Cutter{Radius: 3}, program())
	j := Judge(m, Exactly(groove{3, 1, 2}), blocks, Tolerance{Gouge: 0.005, Leftover: 0.01}, limits(), Cutter{Radius: 3}, m.Grid.Bound(3, 0.8))
	require.Len(t, j.Findings, 1)
	assert.Equal(t, "grid", j.Findings[0].Kind)
	for _, row := range []struct {
		bound float64
		ok    bool
	}{{0.00124, true}, {0.00126, false}} {
		fine := NewMap(GridOver(Box{3.5, -5, 36.5, 5}, 0.1), level(2))
		blocks := fine.Cut(here, Cutter{Radius: 3}, program())
		assert.Equal(t, row.ok, Judge(fine, Exactly(groove{3, 1, 2}), blocks, Tolerance{Gouge: 0.005, Leftover: 0.01}, limits(), Cutter{Radius: 3}, row.bound).OK())
	}
}

func TestWebAndMismatch(t *testing.T) {
	grid := GridOver(Box{0, -5, 20, 5}, 0.1)
	right, left := NewMap(grid, level(2)), NewMap(grid, level(2))
	right.Cut(here, Cutter{Radius: 3}, []motion.Motion{fed(vec(0, 0, 1), vec(20, 0, 1))})
	left.Cut(here, Cutter{Radius: 3}, []motion.Motion{fed(vec(0, 0, 1.1), vec(20, 0, 1.1))})
	assert.InDelta(t, 2.1, Web(right, left).Value, 1e-9)
	assert.InDelta(t, 0.1, Mismatch(right, left).Value, 0.02)
}
