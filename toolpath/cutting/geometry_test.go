package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

const degree = math.Pi / 180

// TestEffectiveDiameterTable checks the effective cutting diameters in inches that a
// cutter maker prints (Dapra Corp., ball-nose table, read there). They are rounded to a
// thousandth; every one reproduces within 0.0006.
func TestEffectiveDiameterTable(t *testing.T) {
	depths := []float64{.005, .010, .015, .025, .035, .050, .100, .125, .150, .200, .250}
	const published = .0006
	for diameter, row := range map[float64][]float64{
		.250:  {.070, .098, .119, .150, .173, .200, .245, .250},
		.375:  {.086, .121, .147, .187, .218, .255, .332, .354, .367},
		.500:  {.099, .140, .171, .218, .255, .300, .400, .433, .458, .490, .500},
		.750:  {.122, .172, .210, .269, .316, .374, .510, .559, .600, .663, .707},
		1.000: {.141, .199, .243, .312, .368, .436, .600, .661, .714, .800, .866},
		1.250: {.158, .223, .272, .350, .412, .490, .678, .750, .812, .917, 1.000},
	} {
		for i, want := range row {
			assert.InDelta(t, want, EffectiveDiameter(diameter, depths[i]), published, "D %g at %g", diameter, depths[i])
		}
	}
	// The table prints .374 for D .375 at .200, beyond the middle of the ball, where
	// the formula does not hold: the diameter itself is right.
	assert.Equal(t, .375, EffectiveDiameter(.375, .200))
	assert.Zero(t, EffectiveDiameter(6, -1))
}

// TestSpeedFactors checks D/D_eff against a milling catalogue (Dormer Pramet 2021-22,
// p. 114, read there), printed to two decimals.
func TestSpeedFactors(t *testing.T) {
	for share, want := range map[float64]float64{.05: 2.29, .10: 1.67, .15: 1.40, .20: 1.25, .25: 1.15, .30: 1.09, .40: 1.02, .50: 1.00} {
		assert.InDelta(t, want, 1/EffectiveDiameter(1, share), .006, "%g", share)
	}
}

// TestEffectiveSpeeds: derived values; rounded as far as they are given.
func TestEffectiveSpeeds(t *testing.T) {
	assert.InDelta(t, 3.6, EffectiveDiameter(6, .6), 1e-12)
	assert.InDelta(t, 8842, SpindleSpeed(100, EffectiveDiameter(6, .6)), .5)
	assert.InDelta(t, 5305, SpindleSpeed(100, EffectiveDiameter(6, 3)), .5, "at the diameter itself")
	assert.InDelta(t, 2.6153, EffectiveDiameter(6, .3), 5e-5)
	assert.InDelta(t, 3.4117, EffectiveDiameter(10, .3), 5e-5)
	assert.InDelta(t, 11196, SpindleSpeed(120, EffectiveDiameter(10, .3)), .5)
	assert.InDelta(t, .0980, EffectiveDiameter(.25, .01), 5e-5)
	// 3.8197·SFM/D with D_eff rounded to .0980 is 9744; unrounded it is the 9746 here.
	assert.InDelta(t, 9746, SpindleSpeed(250*.3048, 25.4*EffectiveDiameter(.25, .01)), .5)
}

// TestInclinedDiameter: derived.
func TestInclinedDiameter(t *testing.T) {
	assert.InDelta(t, 25.842*degree, capAngle(6, .3), 5e-4*degree)
	assert.InDelta(t, 4.3045, InclinedDiameter(6, .3, 20*degree), 5e-5)
	assert.InDelta(t, 4.3045, InclinedDiameter(6, .3, -20*degree), 5e-5, "either wall")
	assert.InDelta(t, EffectiveDiameter(6, .3), InclinedDiameter(6, .3, 0), 1e-12, "a level surface")
	assert.InDelta(t, 6, InclinedDiameter(6, .3, 70*degree), 1e-12, "over the middle of the ball")
	assert.Zero(t, InclinedDiameter(6, 0, 20*degree))
	assert.True(t, TipCuts(6, .3, 25.8*degree))
	assert.False(t, TipCuts(6, .3, 25.9*degree))
	assert.False(t, TipCuts(6, 0, 0))
}

// TestInclinedDiameterByBruteForce looks for the point of the ball farthest from its
// axis, among those that lie under the leaning surface.
func TestInclinedDiameterByBruteForce(t *testing.T) {
	const diameter, steps = 6.0, 20000
	for _, depth := range []float64{.1, .3, 1.1, 2.9} {
		for _, lean := range []float64{0, 10, 35, 60, 80} {
			farthest := 0.0
			for i := range steps {
				// A point of the great circle in the plane of the lean.
				sin, cos := math.Sincos(math.Pi * (float64(i)/steps - .5))
				x, z := diameter/2*sin, -diameter/2*cos
				down := x*math.Sin(lean*degree) - z*math.Cos(lean*degree) // into the surface
				if down >= diameter/2-depth {
					farthest = math.Max(farthest, 2*math.Abs(x))
				}
			}
			assert.InDelta(t, farthest, InclinedDiameter(diameter, depth, lean*degree), 2e-3, "depth %g, lean %g", depth, lean)
		}
	}
}

// TestHandbookSegments checks Machinery's Handbook, 31st ed., pp. 50 and 79, read there.
// It cuts the chord of radius 60 and height 8 short to 59.86, and has the angle from
// rounded inputs.
func TestHandbookSegments(t *testing.T) {
	assert.InDelta(t, 59.86, EffectiveDiameter(2*60, 8), .01)
	assert.InDelta(t, 8+1.0/3, GrooveRadius(16, 6), 1e-12)
	assert.InDelta(t, 13.27, EffectiveDiameter(2*12, 2), .005)
	assert.InDelta(t, 18.01, SegmentArea(12, 2), .005)
	assert.InDelta(t, 67.13, 2*HalfAngle(12, 2)/degree, .02)
	assert.InDelta(t, 14.06, 2*12*HalfAngle(12, 2), .005)
	// The same unrounded; derived.
	assert.InDelta(t, 59.8665, EffectiveDiameter(2*60, 8), 5e-5)
	assert.InDelta(t, 13.26650, EffectiveDiameter(2*12, 2), 5e-6)
	assert.InDelta(t, 18.00622, SegmentArea(12, 2), 5e-6)
	assert.InDelta(t, 67.1146, 2*HalfAngle(12, 2)/degree, 5e-5)
	assert.InDelta(t, 14.05645, 2*12*HalfAngle(12, 2), 5e-6)
}

// TestGrooves: derived; areas by numeric integration as well.
func TestGrooves(t *testing.T) {
	for _, row := range []struct{ radius, depth, width, area float64 }{
		{6, .8, 5.98665, 3.238039}, {12.7, 1.5, 11.97497, 12.123967}, {3, .6, 3.6, 1.471510},
	} {
		assert.InDelta(t, row.width, EffectiveDiameter(2*row.radius, row.depth), 5e-6)
		assert.InDelta(t, row.area, SegmentArea(row.radius, row.depth), 5e-7)
		assert.InDelta(t, row.depth, GrooveDepth(row.radius, EffectiveDiameter(2*row.radius, row.depth)), 1e-12)
		assert.InDelta(t, row.radius, GrooveRadius(EffectiveDiameter(2*row.radius, row.depth), row.depth), 1e-12)
	}
	// Letters with balls of 0.5 mm and a fiftieth of an inch.
	for depth, width := range map[float64]float64{.025: .218, .05: .300, .10: .400} {
		assert.InDelta(t, width, EffectiveDiameter(.5, depth), 5e-4)
	}
	for depth, width := range map[float64]float64{.025: .220, .05: .303, .10: .404} {
		assert.InDelta(t, width, EffectiveDiameter(.508, depth), 5e-4)
	}
	assert.InDelta(t, 29.9264, HalfAngle(6, .8)/degree, 5e-5)
	assert.InDelta(t, .6813, SegmentArea(3, .6)/(3.6*.6), 5e-5, "not width times depth, but two thirds of it")
	assert.InDelta(t, math.Pi*9/2+6*1, SegmentArea(3, 4), 1e-12, "upright walls over a half circle")
	assert.InDelta(t, math.Pi/2, HalfAngle(3, 4), 1e-12)
	assert.Zero(t, SegmentArea(3, 0))
	assert.Zero(t, HalfAngle(3, -1))
	assert.InDelta(t, 3, GrooveDepth(3, 7), 1e-12, "no wider than twice the radius")
}
