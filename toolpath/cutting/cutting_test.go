package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

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

// TestEffectiveSpeeds: derived values.
func TestEffectiveSpeeds(t *testing.T) {
	assert.InDelta(t, 3.6, EffectiveDiameter(6, .6), 1e-12)
	assert.InDelta(t, 8842, SpindleSpeed(100, EffectiveDiameter(6, .6)), .5)
	assert.InDelta(t, 2.6153, EffectiveDiameter(6, .3), 5e-5)
	assert.InDelta(t, 3.4117, EffectiveDiameter(10, .3), 5e-5)
	assert.InDelta(t, 11196, SpindleSpeed(120, EffectiveDiameter(10, .3)), .5)
	assert.InDelta(t, 9746, SpindleSpeed(250*.3048, 25.4*EffectiveDiameter(.25, .01)), 2)
}

// TestGrooveArea: derived, by numeric integration as well; Machinery's Handbook, 31st
// ed., p. 50, read there, for the last.
func TestGrooveArea(t *testing.T) {
	assert.InDelta(t, 3.238039, SegmentArea(6, .8), 5e-7)
	assert.InDelta(t, 12.123967, SegmentArea(12.7, 1.5), 5e-7)
	assert.InDelta(t, 1.471510, SegmentArea(3, .6), 5e-7)
	assert.InDelta(t, 18.01, SegmentArea(12, 2), .005)
	assert.InDelta(t, math.Pi*9/2+6*1, SegmentArea(3, 4), 1e-12, "upright walls over a half circle")
	assert.Zero(t, SegmentArea(3, 0))
}

// TestLineOffsetTable checks the step for a theoretical roughness that a catalogue
// prints (Dormer Pramet, p. 114, read there) to two decimals.
func TestLineOffsetTable(t *testing.T) {
	roughness := []float64{2, 4, 8, 16, 32, 63, 125, 250}
	for diameter, row := range map[float64][]float64{
		2:  {.13, .18, .25, .36, .50, .70, .97, 1.32},
		3:  {.15, .22, .31, .44, .62, .86, 1.20, 1.66},
		4:  {.18, .25, .36, .50, .71, 1.00, 1.39, 1.94},
		5:  {.20, .28, .40, .56, .80, 1.12, 1.56, 2.18},
		6:  {.22, .31, .44, .62, .87, 1.22, 1.71, 2.40},
		10: {.28, .40, .57, .80, 1.13, 1.58, 2.22, 3.12},
		12: {.31, .44, .62, .88, 1.24, 1.73, 2.44, 3.43},
	} {
		for i, want := range row {
			assert.InDelta(t, want, Stepover(diameter/2, roughness[i]/1000), .0055, "D %g, Rth %g", diameter, roughness[i])
		}
	}
}

// TestCusps: derived, in micrometres, checked by brute force.
func TestCusps(t *testing.T) {
	assert.InDelta(t, 10.4348, 1000*FlatCusp(3, .5), 5e-5)
	assert.InDelta(t, .0004006, FlatCusp(.125, .020), 5e-8, "inch; the page that prints .000402 rounds early")
	for _, row := range []struct{ groove, cutter, arc, want float64 }{{8, 3, .5, 6.5117}, {8, 3, 1, 26.0616}, {6, 3, .5, 5.2076}} {
		assert.InDelta(t, row.want, 1000*ConcaveCusp(row.groove, row.cutter, row.arc/row.groove), 5e-5)
	}
	assert.InDelta(t, 0, ConcaveCusp(6, 6, 1), 1e-12)
}

// TestLaneCount: derived, for R 8, r 3, depth 1.
func TestLaneCount(t *testing.T) {
	half := math.Acos(1 - 1.0/8)
	assert.InDelta(t, 57.910, 2*half*180/math.Pi, 5e-4)
	assert.InDelta(t, 3.13799, ConcavePitch(8, 3, .005)*180/math.Pi, 5e-6)
	for cusp, row := range map[float64]struct {
		count    int
		realised float64
	}{.005: {20, 4.717}, .010: {15, 8.689}} {
		n := LaneCount(8, 3, half, cusp)
		assert.Equal(t, row.count, n)
		assert.InDelta(t, row.realised, 1000*ConcaveCusp(8, 3, 2*half/float64(n-1)), 5e-4)
	}
	assert.Equal(t, 1, LaneCount(6, 6, half, .005))
}

// TestPitchIsTheInverseOfCusp over many grooves.
func TestPitchIsTheInverseOfCusp(t *testing.T) {
	for _, groove := range []float64{3, 6, 8.5, 20} {
		for _, share := range []float64{.2, .5, .9} {
			for _, cusp := range []float64{.001, .005, .02} {
				pitch := ConcavePitch(groove, share*groove, cusp)
				if pitch < math.Pi {
					assert.InDelta(t, cusp, ConcaveCusp(groove, share*groove, pitch), 1e-9)
				}
			}
		}
	}
}

// TestSpeedsAndFeeds checks worked examples of tool makers, read there: Mitsubishi
// Materials (formulas for milling), WIDIA (solid end mills), Niagara Cutter (Milling
// Handbook, 1973).
func TestSpeedsAndFeeds(t *testing.T) {
	assert.InDelta(t, 137.4, SurfaceSpeed(125, 350), .1)
	assert.InDelta(t, 500, Feed(.1, 10, 500), 1e-9)
	assert.InDelta(t, 101.91, SpindleSpeed(80, 250), .1)
	assert.InDelta(t, 510, SpindleSpeed(200, 125), 1)
	assert.InDelta(t, 816, Feed(.2, 8, 510), 1e-9)
	assert.InDelta(t, 11.2, Feed(.004, 32, 88), .1)
}

// TestPowerAndForce: a ball slot in 1084, derived.
func TestPowerAndForce(t *testing.T) {
	d, known := DataFor("1084")
	require.True(t, known)
	const perTooth, depth = .02, .6
	spindle := SpindleSpeed(100, EffectiveDiameter(6, depth))
	feed := Feed(perTooth, 2, spindle)
	assert.InDelta(t, 353.68, feed, .01)
	removal := RemovalRate(SegmentArea(3, depth), feed)
	assert.InDelta(t, .5204, removal, 5e-5)
	mean := 2 / math.Pi * perTooth * depth / (3 * math.Acos(1-depth/3))
	assert.InDelta(t, .003957, mean, 5e-7)
	assert.InDelta(t, 55.6, SlotPower(removal, SpecificForce(d.KC11, d.MC, mean)), .1)
	assert.Zero(t, EdgeChip(perTooth, 3, 0))
	assert.InDelta(t, 0.05*9/(6*math.Pi/2+3), EdgeChip(0.05, 6, 9), 1e-12, "sunk beyond its radius, the edge goes on straight up")
	edge := EdgeChip(perTooth, 3, depth)
	assert.InDelta(t, .006216, edge, 5e-7)
	assert.InDelta(t, 69.0, PeakForce(perTooth, depth, SpecificForce(d.KC11, d.MC, edge)), .1)
	assert.InDelta(t, .0120, TopChip(perTooth, 6, depth), 1e-9)
	for i, want := range []float64{2954, 3489, 4347, 5134, 6063} {
		assert.InDelta(t, want, SpecificForce(1700, .24, []float64{.1, .05, .02, .01, .005}[i]), 1)
	}
}

// TestDeflection: derived; a maker's course (Mitsubishi, read there) for the ratios:
// twice the overhang bends eight times as far, twice the diameter a sixteenth.
func TestDeflection(t *testing.T) {
	assert.InDelta(t, .016656, Deflection(50, 25, 6, false), 5e-7)
	assert.InDelta(t, .047590, Deflection(50, 25, 6, true), 5e-7)
	assert.InDelta(t, .011789, Deflection(20, 12, 3, false), 5e-7)
	assert.InDelta(t, 8, Deflection(50, 50, 6, false)/Deflection(50, 25, 6, false), 1e-9)
	assert.InDelta(t, 1.0/16, Deflection(50, 25, 12, false)/Deflection(50, 25, 6, false), 1e-9)
}

// TestMoveSeconds: kinematics of a trapezoid, derived.
func TestMoveSeconds(t *testing.T) {
	for _, row := range []struct{ length, feed, want float64 }{{150, 1200, 7.540}, {.5, 1200, .063246}, {.8, 1200, .080}, {150, 6000, 1.700}, {10, 6000, .282843}} {
		assert.InDelta(t, row.want, MoveSeconds(row.length, row.feed, 500), 5e-7, "%g mm at %g", row.length, row.feed)
	}
}

// TestDataIsConsistent: every steel has one entry, and starts inside its ranges.
func TestDataIsConsistent(t *testing.T) {
	seen := map[string]bool{}
	for _, name := range Steels() {
		assert.False(t, seen[name], name)
		seen[name] = true
		d, known := DataFor(name)
		require.True(t, known)
		assert.LessOrEqual(t, d.CoatedLeast, d.Coated, name)
		assert.LessOrEqual(t, d.Coated, d.CoatedMost, name)
		assert.Less(t, d.DepthRatio, d.DepthRatioMost, name)
		assert.Less(t, d.HSS, d.Uncoated, name)
		assert.Less(t, d.Uncoated, d.Coated, name)
	}
	_, known := DataFor("cheese")
	assert.False(t, known)
	for _, diameter := range []float64{.5, 1, 2, 3, 6, 12} {
		start, least, most := FeedPerTooth(diameter)
		assert.True(t, least <= start && start <= most, "%g", diameter)
	}
}
