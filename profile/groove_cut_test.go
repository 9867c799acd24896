package profile

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"fullerwright/profile/geom"
)

// randomGroove returns a groove of a straight centreline, which may lie oblique, about an
// axis of pieces that bend up and down, with run-outs of any radius.
func randomGroove(rng *rand.Rand) Groove {
	radius, turn := 2+8*rng.Float64(), 0.0
	if rng.IntN(2) == 0 {
		turn = 0.5 * (rng.Float64() - 0.5)
	}
	axis := []AxisPoint{{0, 1}}
	for range 1 + rng.IntN(8) {
		last := axis[len(axis)-1]
		step := 0.3 + 30*math.Pow(rng.Float64(), 4)
		axis = append(axis, AxisPoint{last.S + step, last.H + 1.2*(rng.Float64()-0.5)*step})
	}
	g := Groove{Radius: radius, Plan: []geom.Point{{X: 3, Y: -5}, {X: 103, Y: -5 + 100*turn}}, Axis: axis}
	last := len(g.Axis) - 1
	g.StartArc = runOut(g.Axis[0], g.Axis[1], 30*rng.Float64()*float64(rng.IntN(2)))
	g.EndArc = runOut(g.Axis[last], g.Axis[last-1], 30*rng.Float64()*float64(rng.IntN(2)))
	return g
}

// TestCutOfOnePieceIsTheEnvelope: the height of a cut of which one piece or one arc makes
// all is that of the envelope of the balls along the whole axis.
func TestCutOfOnePieceIsTheEnvelope(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 1))
	var kinds [3]int
	for range 400 {
		g := randomGroove(rng)
		from, to := g.StartArc.S-g.StartArc.Radius-g.Radius, g.EndArc.S+g.EndArc.Radius+g.Radius
		for range 40 {
			s := from + (to-from)*rng.Float64()
			if rng.IntN(2) == 0 { // beside a joint
				s = g.Axis[rng.IntN(len(g.Axis))].S + 4*(rng.Float64()-0.5)
			}
			at, u := g.Place(s)
			cut := g.across(at.X)
			kinds[cut.alone]++
			for range 5 {
				y := at.Y + g.Radius*(2*rng.Float64()-1)/u.X
				if want := g.Height(at.X, y); math.IsInf(want, 1) {
					assert.Equal(t, want, cut.height(y))
				} else {
					assert.InDelta(t, want, cut.height(y), 1e-11, "%+v at %g, %g", g, at.X, y)
				}
			}
		}
	}
	for kind, n := range kinds {
		assert.Greater(t, n, 1000, "of kind %d", kind)
	}
}
