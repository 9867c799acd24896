package proof

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath/motion"
)

// envelopeError is how far the envelope may lie from the oracle, mm.
const envelopeError = 1e-5

// cutters are one of each end.
func cutters(size float64) []Cutter {
	return []Cutter{{Radius: size}, {Square: true, Radius: size}, {Square: true, Radius: size, CornerRadius: 0.4 * size}}
}

// oracle is the height over a node and the nearest that the axis comes to it, found by
// setting the cutter down at many places along a motion and then looking ever closer
// around the best one. It knows the end of the cutter by a formula of its own.
type oracle struct {
	motion motion.Motion
	cutter Cutter
	places []motion.Vec
}

const oraclePlaces = 800

func newOracle(v motion.Motion, c Cutter) oracle {
	o := oracle{motion: v, cutter: c}
	for i := range oraclePlaces + 1 {
		o.places = append(o.places, v.At(float64(i)/oraclePlaces))
	}
	return o
}

func (o oracle) down(p motion.Vec, x, y float64) (h, away float64) {
	away = math.Sqrt((x-p.X)*(x-p.X) + (y-p.Y)*(y-p.Y))
	r, corner := o.cutter.Radius, o.cutter.Radius
	if o.cutter.Square {
		corner = o.cutter.CornerRadius
	}
	switch {
	case away > r:
		return math.Inf(1), away
	case away < r-corner:
		return p.Z, away
	}
	return p.Z + corner - math.Sqrt(math.Max(0, corner*corner-(away-r+corner)*(away-r+corner))), away
}

func (o oracle) over(x, y float64) (h, away float64) {
	h, away = math.Inf(1), math.Inf(1)
	best, closest := 0, 0
	for i, p := range o.places {
		hi, ai := o.down(p, x, y)
		if hi < h {
			h, best = hi, i
		}
		if ai < away {
			away, closest = ai, i
		}
	}
	height := func(t float64) float64 { v, _ := o.down(o.motion.At(t), x, y); return v }
	distance := func(t float64) float64 { _, v := o.down(o.motion.At(t), x, y); return v }
	away = math.Min(away, least(distance, closest))
	if away > o.cutter.Radius {
		return math.Inf(1), away
	}
	return math.Min(h, least(height, best)), away
}

// least looks for the least value of f between the places beside place i, by golden
// section.
func least(f func(float64) float64, i int) float64 {
	const golden = 0.6180339887498949
	a, b := math.Max(0, float64(i-1)/oraclePlaces), math.Min(1, float64(i+1)/oraclePlaces)
	low := math.Min(f(a), f(b))
	for range 40 {
		c, d := b-golden*(b-a), a+golden*(b-a)
		fc, fd := f(c), f(d)
		low = math.Min(low, math.Min(fc, fd))
		if fc < fd || fc == fd && f(a) < f(b) {
			b = d
		} else {
			a = c
		}
	}
	return low
}

// rim is where an end is so steep that a millionth beside is more than envelopeError
// up, from its inside to just beyond its radius.
func rim(c Cutter) (from, to float64) {
	corner := c.Radius
	if c.Square {
		corner = c.CornerRadius
	}
	return math.Min(c.Radius-0.01*corner, 0.999*c.Radius), 1.001 * c.Radius
}

// agree compares every node of a map that some motions have cut with the oracle.
func agree(t *testing.T, name string, m *Map, c Cutter, motions []motion.Motion) (compared int) {
	t.Helper()
	var oracles []oracle
	for _, v := range motions {
		oracles = append(oracles, newOracle(v, c))
	}
	inside, outside := rim(c)
	for row := range m.Grid.Rows {
		for column := range m.Grid.Columns {
			x, y := m.Grid.X(column), m.Grid.Y(row)
			want, steep := m.Stock(column, row), false
			for _, o := range oracles {
				h, away := o.over(x, y)
				want = math.Min(want, h)
				steep = steep || away > inside && away < outside
			}
			if steep {
				continue
			}
			compared++
			require.InDelta(t, want, m.At(column, row), envelopeError, "%s: node %d, %d", name, column, row)
			if compared%9 == 0 {
				require.InDelta(t, want, m.HeightAt(x, y), envelopeError, "%s: HeightAt node %d, %d", name, column, row)
			}
		}
	}
	return compared
}

// TestEnvelopes compares every node with the oracle for random lines in any direction,
// arcs of all planes, helices, spirals and full circles, and for every end.
func TestEnvelopes(t *testing.T) {
	random := rand.New(rand.NewPCG(21, 22))
	compared := 0
	for trial := range 60 {
		for _, c := range cutters(1 + 4*random.Float64()) {
			v := randomMotion(random, trial)
			m := NewMap(Grid{X0: -14, Y0: -14, Step: 2.2, Columns: 14, Rows: 14}, level(50))
			m.Cut(here, c, []motion.Motion{v})
			compared += agree(t, "trial", m, c, []motion.Motion{v})
		}
	}
	assert.Greater(t, compared, 25000, "and most nodes are compared")
}

// TestStraightAlongAxes: lines along x, along y, up and down, which have formulas of
// their own.
func TestStraightAlongAxes(t *testing.T) {
	for _, to := range []motion.Vec{vec(6, 0, 0), vec(-6, 0, 0), vec(6, 0, -2), vec(-6, 0, 2), vec(0, 6, 0), vec(0, -6, 2), vec(0, 5, -9), vec(5, 0, -9), vec(0, 0, -3), vec(0, 0, 3), vec(0, 0, 0)} {
		for _, c := range cutters(3) {
			from := vec(0.3, -0.2, 1)
			v := fed(from, from.Add(to))
			m := NewMap(Grid{X0: -10, Y0: -10, Step: 1.1, Columns: 19, Rows: 19}, level(50))
			m.Cut(here, c, []motion.Motion{v})
			agree(t, "line", m, c, []motion.Motion{v})
		}
	}
}

// TestChains: motions that follow one another share what stands round their joints;
// nothing is lost there, whether they go on straight, turn, come back, rise or pause.
func TestChains(t *testing.T) {
	random := rand.New(rand.NewPCG(51, 52))
	between := func(a, b float64) float64 { return a + (b-a)*random.Float64() }
	for trial := range 15 {
		var motions []motion.Motion
		at, d := vec(between(-5, 5), between(-5, 5), 0), vec(1, 0, 0)
		for i := range 7 {
			var v motion.Motion
			switch kind := random.IntN(6); {
			case kind == 0:
				v = randomMotion(random, 1+trial) // an arc, moved to where we are
				shift := at.Sub(v.From)
				v.From, v.To, v.Centre = v.From.Add(shift), v.To.Add(shift), v.Centre.Add(shift)
			case kind == 1:
				v = fed(at, at.Add(vec(0, 0, between(-1, 1))))
			case kind == 2 && i > 0:
				v = fed(at, at.Sub(d))
			case kind == 3:
				d = vec(between(-3, 3), between(-3, 3), between(-1, 1))
				v = fed(at, at.Add(d))
			default: // straight on
				v = fed(at, at.Add(d.Scale(between(0.2, 1.5))))
			}
			v.TextLine = i + 1
			if random.IntN(4) == 0 {
				motions = append(motions, motion.Motion{Kind: motion.Dwell, From: at, To: at})
			}
			motions = append(motions, v)
			at = v.To
		}
		var cutting []motion.Motion
		for _, v := range motions {
			if v.Kind != motion.Dwell {
				cutting = append(cutting, v)
			}
		}
		for _, c := range cutters(2) {
			m := NewMap(Grid{X0: -12, Y0: -12, Step: 1.9, Columns: 13, Rows: 13}, level(50))
			m.Cut(here, c, motions)
			agree(t, "chain", m, c, cutting)
		}
	}
}

// TestChainsAsSingles: a chain leaves at every node of a fine grid what its motions leave
// when each is cut alone, with all that lies round its ends: straight moves that turn,
// rise and fall, and some that begin elsewhere.
func TestChainsAsSingles(t *testing.T) {
	random := rand.New(rand.NewPCG(61, 62))
	between := func(a, b float64) float64 { return a + (b-a)*random.Float64() }
	slopes := []float64{0, 0, 0.1, -0.1, 1.5, -1.5, 6, -6}
	for trial := range 150 {
		var motions []motion.Motion
		at := vec(0.013, 0.017, 0)
		for i := range 4 {
			if random.IntN(6) == 0 {
				at = vec(between(-2, 2), between(-2, 2), between(-1, 1))
			}
			angle, way := between(-math.Pi, math.Pi), between(0.3, 2)
			if random.IntN(3) == 0 {
				angle = 0
			}
			to := at.Add(vec(way*math.Cos(angle), way*math.Sin(angle), way*slopes[random.IntN(len(slopes))]))
			v := fed(at, to)
			v.TextLine = i + 1
			if random.IntN(5) == 0 {
				v.Kind = motion.Rapid
			}
			motions = append(motions, v)
			at = to
		}
		for _, c := range cutters(1.6) {
			chain := NewMap(GridOver(Box{-6, -6, 8, 6}, 0.19), level(50))
			single := NewMap(chain.Grid, level(50))
			chain.Cut(here, c, motions)
			for _, v := range motions {
				single.Cut(here, c, []motion.Motion{v})
			}
			for i := range chain.Height {
				require.InDelta(t, single.Height[i], chain.Height[i], 1e-6, "trial %d, %v", trial, c.End())
			}
		}
	}
}

// TestExtents: what a motion's tip passes holds every place of it, and no more.
func TestExtents(t *testing.T) {
	random := rand.New(rand.NewPCG(71, 72))
	for trial := range 60 {
		v := randomMotion(random, trial)
		reach, low, high := extent(v)
		sampled, bottom, top := box(v.From, v.To, 0), v.From.Z, v.From.Z
		for i := range 2001 {
			p := v.At(float64(i) / 2000)
			sampled = sampled.Join(box(p, p, 0))
			bottom, top = math.Min(bottom, p.Z), math.Max(top, p.Z)
		}
		// Samples 0.003 radians apart miss the extremes of a circle of 8 mm by 1e-5.
		for i, pair := range [][2]float64{{reach.MinX, sampled.MinX}, {reach.MaxX, sampled.MaxX}, {reach.MinY, sampled.MinY}, {reach.MaxY, sampled.MaxY}, {low, bottom}, {high, top}} {
			require.InDelta(t, pair[1], pair[0], 2e-5, "trial %d, side %d", trial, i)
		}
	}
}

// TestSplitLine: a line given in many parts cuts what it cuts in one, and each part is
// named for its own stretch. At the very rim rounding shows as its square root.
func TestSplitLine(t *testing.T) {
	onRim := func(away float64) bool { return math.Abs(away-3) < 1e-9 }
	for _, to := range []motion.Vec{vec(20, 0, 0), vec(20, 7, 0), vec(20, 7, -1.5), vec(20, 0, -1.5), vec(-20, 0, 1.1)} {
		for _, c := range cutters(3) {
			whole := NewMap(GridOver(Box{-25, -8, 25, 12}, 0.2), level(5))
			whole.Cut(here, c, []motion.Motion{fed(vec(0, 0, 2), vec(0, 0, 2).Add(to))})
			parts := NewMap(whole.Grid, level(5))
			var motions []motion.Motion
			for i := range 40 {
				v := fed(vec(0, 0, 2).Add(to.Scale(float64(i)/40)), vec(0, 0, 2).Add(to.Scale(float64(i+1)/40)))
				v.TextLine = i + 1
				motions = append(motions, v)
			}
			parts.Cut(here, c, motions)
			named := map[int32]bool{}
			for i := range whole.Height {
				x, y := whole.Grid.X(i%whole.Grid.Columns), whole.Grid.Y(i/whole.Grid.Columns)
				beside := math.Abs(x*to.Y-y*to.X) / math.Hypot(to.X, to.Y)
				if onRim(beside) || onRim(math.Hypot(x, y)) || onRim(math.Hypot(x-to.X, y-to.Y)) {
					continue // rounding says whether it is reached
				}
				require.InDelta(t, whole.Height[i], parts.Height[i], 1e-6, "to %v, %v, at %v, %v", to, c, x, y)
				if whole.Height[i] < 5 {
					named[parts.Line[i]] = true
				}
			}
			assert.Len(t, named, 40)
			assert.NotContains(t, named, int32(0))
		}
	}
}

// TestSpirals: an arc that ends at another radius than it began, as far off as the
// standard allows, is followed to where it ends.
func TestSpirals(t *testing.T) {
	for _, plane := range []motion.Plane{motion.PlaneXY, motion.PlaneZX, motion.PlaneYZ} {
		for _, off := range []float64{0.002, -0.002} {
			for _, c := range cutters(3) {
				radius := 5.0
				v := motion.Motion{Kind: motion.Arc, TextLine: 1, Plane: plane, Centre: plane.Join(0, 0, 0.4), From: plane.Join(radius, 0, 0.4), Sweep: 2.5,
					To: plane.Join((radius+off)*math.Cos(2.5), (radius+off)*math.Sin(2.5), 0.4), Feed: 100, Spindle: motion.SpindleClockwise}
				m := NewMap(Grid{X0: -9, Y0: -9, Step: 1.6, Columns: 12, Rows: 12}, level(50))
				m.Cut(here, c, []motion.Motion{v})
				agree(t, "spiral", m, c, []motion.Motion{v})
			}
		}
	}
}

// TestEarliestIsNamed: of two motions that leave a node equally high the first has made
// it.
func TestEarliestIsNamed(t *testing.T) {
	m := NewMap(GridOver(Box{0, -5, 20, 5}, 0.25), level(2))
	first, again := fed(vec(0, 0, 1), vec(20, 0, 1)), fed(vec(20, 0, 1), vec(0, 0, 1))
	first.TextLine, again.TextLine = 11, 12
	m.Cut(here, Cutter{Radius: 3}, []motion.Motion{first, again})
	for i, line := range m.Line {
		if m.Height[i] < 2 {
			require.EqualValues(t, 11, line)
		} else {
			require.Zero(t, line)
		}
	}
}

// TestNonsenseDoesNotPanic: motions and cutters that make no sense leave the bar or cut
// something, and end.
func TestNonsenseDoesNotPanic(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	places := []motion.Vec{vec(0, 0, 0), vec(nan, 0, 0), vec(0, nan, 1), vec(0, 0, nan), vec(inf, 0, 0), vec(0, -inf, 0), vec(1e300, 1e300, -1e300), vec(0, 0, -inf)}
	for _, c := range append(cutters(2), Cutter{}, Cutter{Radius: nan}, Cutter{Square: true, Radius: 1, CornerRadius: 5}) {
		for _, from := range places {
			for _, to := range places {
				for _, plane := range []motion.Plane{motion.PlaneZX, 9} {
					m := NewMap(GridOver(Box{-2, -2, 2, 2}, 1), level(2))
					v := motion.Motion{Kind: motion.Arc, From: from, To: to, Plane: plane, Sweep: 1, Centre: vec(1, 1, 1)}
					w := v
					w.Kind = motion.Line
					require.NotPanics(t, func() { Describe(m, m.Cut(here, c, []motion.Motion{v, w}), Limits{}, c) })
					for _, h := range m.Height {
						require.False(t, math.IsInf(h, 0) || math.IsNaN(h), "from %v to %v", from, to)
					}
				}
			}
		}
	}
}
