package geom

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// halved returns the parameter between two at which a cubic, whose x does not turn between
// them, has the given x: by halving alone.
func halved(c Cubic, x, from, until float64) float64 {
	left := c.At(from).X < x
	for range 100 {
		if middle := (from + until) / 2; (c.At(middle).X < x) == left {
			from = middle
		} else {
			until = middle
		}
	}
	return until
}

// TestCubicAtX: the place of a cubic at an x, against halving; also close beside where it
// stands upright, and where it is nearly straight.
func TestCubicAtX(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	looked := 0
	for n := range 300 {
		var p [4]Point
		for i := range p {
			p[i] = Point{X: 100 * rng.Float64(), Y: 100 * rng.Float64()}
		}
		switch n % 3 {
		case 1: // it leaves its first end upright
			p[1].X = p[0].X
		case 2: // the belly of a blade
			p = [4]Point{{X: 0, Y: 0}, {X: 40, Y: 0.1 * rng.Float64()}, {X: 80, Y: 5 * rng.Float64()}, {X: 100, Y: 30}}
		}
		c := Cubic{p[0], p[1], p[2], p[3]}
		for _, r := range c.appendRuns(nil) {
			for _, share := range []float64{1e-9, 1e-4, rng.Float64(), rng.Float64(), 1 - 1e-6} {
				x := r.least + share*(r.most-r.least)
				at := c.parameterAt(x, r.from, r.until)
				assert.InDelta(t, x, c.At(at).X, 1e-12, "%v", c)
				_, rate, _ := c.x(at)
				assert.InDelta(t, c.At(halved(c, x, r.from, r.until)).Y, c.y(at), 1e-11*max(1, 1000/math.Abs(rate)), "%v at %g", c, x)
				looked++
			}
		}
	}
	assert.Greater(t, looked, 1000)
}

// TestArcAtX: an arc of any turn crosses an upright line where the circle's equation says
// and the arc has been, seen from its angles alone.
func TestArcAtX(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 2))
	for range 300 {
		a := Arc{Centre: Point{X: 10 * rng.Float64(), Y: 10 * rng.Float64()}, Radius: 1 + 50*rng.Float64(),
			From: Angle(20 * (rng.Float64() - 0.5)), Sweep: Angle(2 * math.Pi * (2*rng.Float64() - 1))}
		x := a.Centre.X + a.Radius*(2*rng.Float64()-1)
		var want []float64
		for _, side := range []float64{-1, 1} {
			turn := math.Mod(side*math.Acos((x-a.Centre.X)/a.Radius)-min(float64(a.From), float64(a.From+a.Sweep)), 2*math.Pi)
			if turn < 0 {
				turn += 2 * math.Pi
			}
			if turn < math.Abs(float64(a.Sweep)) {
				want = append(want, a.Centre.Y+side*math.Sqrt(a.Radius*a.Radius-(x-a.Centre.X)*(x-a.Centre.X)))
			}
		}
		slices.Sort(want)
		assert.InDeltaSlice(t, want, chain(t, a).Crossings(x), 1e-9)
	}
}
