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

// TestEnvelopeAgainstBruteForce compares every node with the cutter set down at 40,000
// places along random lines, arcs of all planes and helices.
//
// Set down every d along the way a ball misses its envelope by at most d²/(8 r) at the
// bottom, more on its flanks: with ways under 60 mm that is 1e-6 on the lower nine
// tenths of the ball, which are looked at.
func TestEnvelopeAgainstBruteForce(t *testing.T) {
	// Helices are followed in chords within 1e-6, which a steep flank turns into more.
	const chords = 1e-5
	random := rand.New(rand.NewPCG(21, 22))
	between := func(a, b float64) float64 { return a + (b-a)*random.Float64() }
	for trial := range 60 {
		cutter := Cutter{Radius: between(1, 5), Square: trial%3 == 2}
		v := randomMotion(random, trial)
		grid := Grid{X0: -14, Y0: -14, Step: 1.7, Columns: 18, Rows: 18}
		m := NewMap(grid, level(50))
		m.Cut(here, cutter, []motion.Motion{v})
		brute := bruteForce(grid, v, cutter, 50)
		for row := range grid.Rows {
			for column := range grid.Columns {
				got, want := m.At(column, row), brute[row*grid.Columns+column]
				if math.IsInf(want, 1) || got == 50 && want > 49 {
					continue
				}
				low := math.Min(v.From.Z, v.To.Z)
				if cutter.Square || want-low > 0.9*cutter.Radius && v.Plane == motion.PlaneXY {
					assert.LessOrEqual(t, got, want+chords, "trial %d", trial)
					continue
				}
				assert.LessOrEqual(t, got, want+chords, "trial %d at %d, %d", trial, column, row)
				if steepHere(grid, v, cutter, column, row) {
					continue
				}
				assert.InDelta(t, want, got, 1e-5, "trial %d (%v) at %d, %d", trial, v.Kind, column, row)
			}
		}
	}
}

// steepHere reports whether a node is touched only by the steep rim of the ball, where
// a sample is poor.
func steepHere(g Grid, v motion.Motion, c Cutter, column, row int) bool {
	nearest := math.Inf(1)
	for i := range 2001 {
		p := v.At(float64(i) / 2000)
		nearest = math.Min(nearest, math.Hypot(g.X(column)-p.X, g.Y(row)-p.Y))
	}
	return nearest > 0.97*c.Radius
}

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
	if trial%5 == 1 {
		end += between(-3, 3) // a helix
	}
	return motion.Motion{Kind: motion.Arc, TextLine: 7, From: from, Plane: plane, Sweep: sweep, Centre: plane.Join(ca, cb, n),
		To: plane.Join(ca+radius*math.Cos(start+sweep), cb+radius*math.Sin(start+sweep), end), Feed: 100, Spindle: motion.SpindleClockwise}
}

func bruteForce(g Grid, v motion.Motion, c Cutter, stock float64) []float64 {
	out := make([]float64, g.Columns*g.Rows)
	for i := range out {
		out[i] = stock
	}
	const places = 40000
	for i := range places + 1 {
		p := v.At(float64(i) / places)
		for row := range g.Rows {
			dy := g.Y(row) - p.Y
			if math.Abs(dy) > c.Radius {
				continue
			}
			reach := math.Sqrt(c.Radius*c.Radius - dy*dy)
			first := max(0, int(math.Ceil((p.X-reach-g.X0)/g.Step)))
			last := min(g.Columns-1, int(math.Floor((p.X+reach-g.X0)/g.Step)))
			for column := first; column <= last; column++ {
				h := p.Z
				if !c.Square {
					dx := g.X(column) - p.X
					h += c.Radius - math.Sqrt(math.Max(0, c.Radius*c.Radius-dx*dx-dy*dy))
				}
				k := row*g.Columns + column
				out[k] = math.Min(out[k], h)
			}
		}
	}
	return out
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
	for i := range 60 {
		v := randomMotion(random, i)
		v.TextLine = i + 1
		motions = append(motions, v)
	}
	cut := func(workers int) (*Map, []Block) {
		m := NewMap(GridOver(Box{-15, -15, 15, 15}, 0.2), level(1))
		return m, m.cut(here, Cutter{Radius: 3}, motions, workers)
	}
	one, blocks := cut(1)
	for _, workers := range []int{2, 3, 8} {
		many, others := cut(workers)
		assert.Equal(t, one.Height, many.Height)
		assert.Equal(t, one.Line, many.Line)
		assert.Equal(t, blocks, others)
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

type groove struct{ radius, depth, top float64 }

func (g groove) Height(x, y float64) float64 {
	if x < 0 || x > 40 {
		return g.top
	}
	if d := g.radius*g.radius - y*y; d > 0 {
		return math.Min(g.top, g.top-g.depth+g.radius-math.Sqrt(d))
	}
	return g.top
}

func limits() Limits {
	return Limits{Feed: 1000, FeedPerTooth: 0.1, RampSlope: math.Tan(3 * math.Pi / 180), SteepCut: 0.4, BarTop: 2, JawTop: 0, FixedJaw: 10, MovingJaw: -10, LeastX: -5, MostX: 45, HighestTip: 8}
}

// program is a clean cut: over, down beside the steel, in, and up.
func program() []motion.Motion {
	on := motion.SpindleClockwise
	out := []motion.Motion{
		{Kind: motion.Rapid, TextLine: 1, From: vec(-4, 0, 7), To: vec(0, 0, 7), Spindle: on},
		{Kind: motion.Line, TextLine: 2, From: vec(0, 0, 7), To: vec(0, 0, 2), Feed: 100, Spindle: on},
		{Kind: motion.Line, TextLine: 3, From: vec(0, 0, 2), To: vec(20, 0, 1), Feed: 100, Spindle: on},
		{Kind: motion.Line, TextLine: 4, From: vec(20, 0, 1), To: vec(0, 0, 1), Feed: 100, Spindle: on},
		{Kind: motion.Line, TextLine: 5, From: vec(0, 0, 1), To: vec(40, 0, 1), Feed: 100, Spindle: on},
		{Kind: motion.Rapid, TextLine: 6, From: vec(40, 0, 1), To: vec(40, 0, 7), Spindle: on},
	}
	for i := range out {
		out[i].Speed = 3000
	}
	return out
}

func judged(motions []motion.Motion) Judgement {
	cutter := Cutter{Radius: 3, Flutes: 2, FluteLength: 8, StickOut: 20}
	m := NewMap(GridOver(Box{3.5, -5, 36.5, 5}, 0.1), level(2))
	blocks := m.Cut(here, cutter, motions)
	return Judge(m, groove{3, 1, 2}, blocks, Tolerance{Gouge: 0.005, Leftover: 0.01}, limits(), cutter, 0.001)
}

func TestCleanProgramIsClean(t *testing.T) {
	j := judged(program())
	assert.Empty(t, j.Findings)
	assert.Less(t, j.Gouge.Value, 1e-9)
	assert.Less(t, j.Leftover.Value, 1e-9)
	// A chip of 100/6000 mm a tooth, 1 mm deep in a ball of 3 mm radius: sqrt(1·5)/3 of
	// it at the top.
	assert.InDelta(t, 100.0/6000*math.Sqrt(5)/3, j.ThickestChip.Value, 1e-9)
}

// TestPlantedFaults: each fault is found, at the line that has it.
func TestPlantedFaults(t *testing.T) {
	for name, row := range map[string]struct {
		kind  string
		line  int
		plant func(p []motion.Motion)
	}{
		"rapid at depth":   {"rapid through steel", 5, func(p []motion.Motion) { p[4].Kind = motion.Rapid }},
		"spindle off":      {"spindle off", 3, func(p []motion.Motion) { p[2].Spindle = motion.SpindleOff }},
		"turning backward": {"spindle reversed", 3, func(p []motion.Motion) { p[2].Spindle = motion.SpindleCounterclockwise }},
		"too thick a chip": {"chip", 4, func(p []motion.Motion) { p[3].Feed = 900 }},
		"too fast":         {"feed", 4, func(p []motion.Motion) { p[3].Feed = 1001 }},
		"too deep":         {"gouge", 5, func(p []motion.Motion) { p[4].From.Z -= 0.05; p[4].To.Z -= 0.05 }},
		"too shallow": {"leftover", 4, func(p []motion.Motion) {
			p[2].To.Z += 0.05
			p[3].From.Z += 0.05
			p[3].To.Z += 0.05
			p[4].From.Z += 0.05
			p[4].To.Z += 0.05
		}},
		"plunge":       {"plunge", 3, func(p []motion.Motion) { p[2].From.X, p[1].To.X, p[1].From.X = 18, 18, 18 }},
		"astray":       {"astray", 2, func(p []motion.Motion) { p[1].From.Z = 30 }},
		"tool changed": {"tool change", 6, func(p []motion.Motion) { p[5].Kind = motion.Tool }},
		"over the jaw": {"jaw", 6, func(p []motion.Motion) { p[5].From, p[5].To = vec(40, 8, -1), vec(40, 8, 7) }},
		"off the end":  {"outside the bar", 6, func(p []motion.Motion) { p[5].From = vec(60, 0, 1); p[5].To = vec(60, 0, 7) }},
		"sideways":     {"gouge", 5, func(p []motion.Motion) { p[4].From.Y, p[4].To.Y = 0.05, 0.05 }},
	} {
		p := program()
		row.plant(p)
		found := false
		for _, f := range judged(p).Findings {
			found = found || f.Kind == row.kind && f.TextLine == row.line
		}
		assert.True(t, found, "%s: %+v", name, judged(p).Findings)
	}
	air := judged(program()[:2])
	kinds := map[string]bool{}
	for _, f := range air.Findings {
		kinds[f.Kind] = true
	}
	assert.True(t, kinds["air"])
}

func TestCoarseGridIsFound(t *testing.T) {
	m := NewMap(GridOver(Box{3.5, -5, 36.5, 5}, 0.5), level(2))
	blocks := m.Cut(here, Cutter{Radius: 3}, program())
	j := Judge(m, groove{3, 1, 2}, blocks, Tolerance{Gouge: 0.005, Leftover: 0.01}, limits(), Cutter{Radius: 3}, m.Grid.Bound(3, 0.8))
	require.Len(t, j.Findings, 1)
	assert.Equal(t, "grid", j.Findings[0].Kind)
}

func TestWebAndMismatch(t *testing.T) {
	grid := GridOver(Box{0, -5, 20, 5}, 0.1)
	right, left := NewMap(grid, level(2)), NewMap(grid, level(2))
	right.Cut(here, Cutter{Radius: 3}, []motion.Motion{fed(vec(0, 0, 1), vec(20, 0, 1))})
	left.Cut(here, Cutter{Radius: 3}, []motion.Motion{fed(vec(0, 0, 1.1), vec(20, 0, 1.1))})
	assert.InDelta(t, 2.1, Web(right, left).Value, 1e-9)
	assert.InDelta(t, 0.1, Mismatch(right, left).Value, 0.02)
}

// benchmarkMap is a groove's worth of nodes.
func benchmarkCut(b *testing.B, step float64, passes int) {
	var motions []motion.Motion
	for i := range passes {
		y := float64(i%10)*0.3 - 1.5
		motions = append(motions, fed(vec(0, y, 1), vec(120, y, 1)))
	}
	m := NewMap(GridOver(Box{-4, -6, 124, 6}, step), level(2))
	before := append([]float64(nil), m.Height...)
	nodes := float64(len(before))
	for b.Loop() {
		copy(m.Height, before)
		m.Cut(here, Cutter{Radius: 3}, motions)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/nodes/float64(passes), "ns/node/pass")
}

func BenchmarkCutCoarse(b *testing.B)   { benchmarkCut(b, 0.1, 20) }
func BenchmarkCutFine(b *testing.B)     { benchmarkCut(b, 0.05, 20) }
func BenchmarkCutLongPath(b *testing.B) { benchmarkCut(b, 0.1, 80) }

// BenchmarkCopy copies the same memory, as a measure of the machine.
func BenchmarkCopy(b *testing.B) {
	m := NewMap(GridOver(Box{-4, -6, 124, 6}, 0.1), level(2))
	to := make([]float64, len(m.Height))
	for b.Loop() {
		copy(to, m.Height)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(to)), "ns/node")
}
