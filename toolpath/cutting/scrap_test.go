package cutting

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestFitBall: closed forms. Chord and height of Machinery's Handbook, 31st ed., p. 79
// (read): a chord of 16 at a height of 6 has the radius 8 1/3, one of 59.8665 at 8 the
// radius 60; two such segments of one circle give it and no shift. Programmed less deep
// than they are, the shift comes out.
func TestFitBall(t *testing.T) {
	for _, c := range []struct{ radius, sunk float64 }{{25.0 / 3, 0}, {60, 0}, {5.97, 0.021}, {6.05, -0.04}, {2.98, 0.1}} {
		var widths []GrooveWidth
		for _, depth := range []float64{0.1, 0.2, 0.4} {
			d := depth * c.radius
			widths = append(widths, GrooveWidth{d - c.sunk, 2 * math.Sqrt(2*c.radius*d-d*d)})
		}
		for _, some := range [][]GrooveWidth{widths[:2], widths[1:], widths} {
			fit, err := FitBall(some, 0.02)
			require.NoError(t, err)
			assert.InDelta(t, c.radius, fit.Radius, 1e-9)
			assert.InDelta(t, c.sunk, fit.Sunk, 1e-9)
			for _, rest := range fit.Rest {
				assert.InDelta(t, 0, rest, 1e-9)
			}
		}
	}
	handbook, err := FitBall([]GrooveWidth{{6, 16}, {3, 2 * math.Sqrt(50-9)}}, 0.02)
	require.NoError(t, err)
	assert.InDelta(t, 8.33333, handbook.Radius, 5e-6)
	assert.InDelta(t, GrooveRadius(16, 6), handbook.Radius, 1e-9, "one groove of known depth says the same")
}

// TestFitBallErrors: with widths off by a caliper's error, thrown at random, radius and
// depth scatter as their standard errors say.
func TestFitBallErrors(t *testing.T) {
	const radius, sunk, caliper, throws = 6.0, 0.02, 0.02, 4000
	r := rand.New(rand.NewPCG(7, 11))
	var radii, depths, said, saidDepth float64
	for range throws {
		var widths []GrooveWidth
		for _, d := range []float64{0.5, 1, 2.5} {
			widths = append(widths, GrooveWidth{d - sunk, 2*math.Sqrt(2*radius*d-d*d) + caliper*r.NormFloat64()})
		}
		fit, err := FitBall(widths, caliper)
		require.NoError(t, err)
		radii, depths = radii+square(fit.Radius-radius), depths+square(fit.Sunk-sunk)
		said, saidDepth = said+square(fit.RadiusError), saidDepth+square(fit.SunkError)
	}
	assert.InEpsilon(t, math.Sqrt(said/throws), math.Sqrt(radii/throws), 0.05)
	assert.InEpsilon(t, math.Sqrt(saidDepth/throws), math.Sqrt(depths/throws), 0.05)
}

// TestFitBallOfOneDepth: a groove alone gives the radius of its chord and height, as
// Machinery's Handbook, 31st ed., p. 79, has it (a chord of 16 and a height of 6 belong to a
// radius of 8 1/3), and four of one depth by half the error.
func TestFitBallOfOneDepth(t *testing.T) {
	one, err := FitBall([]GrooveWidth{{6, 16}}, 0.02)
	require.NoError(t, err)
	assert.InDelta(t, 25.0/3, one.Radius, 1e-12)
	assert.True(t, one.ZeroTaken)
	off, _ := FitBall([]GrooveWidth{{6, 16.02}}, 0.02)
	assert.InDelta(t, off.Radius-one.Radius, one.RadiusError, 1e-5, "what a caliper's error makes of it")
	four, _ := FitBall([]GrooveWidth{{6, 15.98}, {6, 16.02}, {6, 16}, {6, 16}}, 0.02)
	assert.InDelta(t, 25.0/3, four.Radius, 1e-12)
	assert.InDelta(t, one.RadiusError/2, four.RadiusError, 1e-12)
	assert.InDeltaSlice(t, []float64{-0.02, 0.02, 0, 0}, four.Rest, 1e-12)
	two, _ := FitBall([]GrooveWidth{{6, 16}, {3, 2 * math.Sqrt(50-9)}}, 0.02)
	assert.False(t, two.ZeroTaken)
}

// TestFitBallRefuses widths that say nothing.
func TestFitBallRefuses(t *testing.T) {
	for _, widths := range [][]GrooveWidth{nil, {{0.2, 6}, {1, 2}}} {
		fit, err := FitBall(widths, 0.02)
		assert.Error(t, err)
		assert.Zero(t, fit.Radius)
	}
}
