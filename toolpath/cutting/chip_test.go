package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestSideFeedFactors checks the feed factors of a milling catalogue for shoulder mills
// (Dormer Pramet 2021-22, p. 114, read there), printed to two decimals.
func TestSideFeedFactors(t *testing.T) {
	for share, want := range map[float64]float64{.05: 2.29, .10: 1.67, .15: 1.40, .20: 1.25, .25: 1.15, .30: 1.09, .40: 1.02, .50: 1.00, .80: 1.00} {
		assert.InDelta(t, want, FeedForSideChip(1, 20, share*20), .006, "%g", share)
		assert.InDelta(t, 1, GreatestSideChip(FeedForSideChip(1, 20, share*20), 20, share*20), 1e-12)
	}
}

// TestSideMillExample checks an example worked on a public machining page, read there: half
// an inch, .050 wide, four flutes, 8000 rev/min, rated .002 inch: a factor of .60, .0033
// inch per tooth, about 107 inches a minute, 36.9 degrees. The same page states the
// factors at 10, 5 and 2 % to be .43, .31 and .20; its own formula gives those below.
func TestSideMillExample(t *testing.T) {
	assert.InDelta(t, .60, GreatestSideChip(1, .5, .05), 1e-12)
	perTooth := FeedForSideChip(.002, .5, .05)
	assert.InDelta(t, .0033, perTooth, 5e-5)
	assert.InDelta(t, 106.67, Feed(perTooth, 4, 8000), 5e-3)
	assert.InDelta(t, 36.870, EngagementAngle(.5, .05)/degree, 5e-4)
	for share, want := range map[float64]float64{.10: .600, .05: .436, .02: .280} {
		assert.InDelta(t, want, GreatestSideChip(1, 1, share), 5e-4)
	}
}

// TestBallFeedTable checks the feed adjustments D/D_eff that a cutter maker prints to one
// decimal (Dapra Corp., read there). They hold only for a speed reckoned on the diameter.
func TestBallFeedTable(t *testing.T) {
	depths := []float64{.005, .010, .015, .020, .025, .050}
	for diameter, row := range map[float64][]float64{.25: {3.6, 2.6, 2.1, 1.8, 1.7, 1.2}, .5: {5.0, 3.6, 2.9, 2.6, 2.3, 1.7}} {
		for i, want := range row {
			assert.InDelta(t, want, 1/TopChip(1, diameter, depths[i]), .0501, "D %g at %g", diameter, depths[i])
		}
	}
}

// TestMeanSideChip: tool makers give feed per tooth times √(ae/D) where ae is under 0.3 D
// (Uddeholm, Stellram; read there); it stays within 6 % of the exact mean. Greatest and
// mean chip are different figures.
func TestMeanSideChip(t *testing.T) {
	assert.InDelta(t, .3108, MeanSideChip(1, 10, 1), 5e-5)
	assert.InDelta(t, .6000, GreatestSideChip(1, 10, 1), 5e-5)
	for _, k := range []float64{.01, .05, .1, .2, .3} {
		assert.InEpsilon(t, math.Sqrt(k), MeanSideChip(1, 10, 10*k), .06, "%g", k)
	}
	assert.InDelta(t, 2/math.Pi, MeanSideChip(1, 10, 10), 1e-12, "a full slot")
	assert.Zero(t, MeanSideChip(1, 10, 0))
	// The mean times the arc is what the width holds: fz·ae = mean·(D/2)·angle.
	assert.InDelta(t, .02*2.2, MeanSideChip(.02, 8, 2.2)*4*EngagementAngle(8, 2.2), 1e-12)
}

// TestBallChips: a ball of 6 mm at 0.6 mm and 0.02 mm a tooth, derived.
func TestBallChips(t *testing.T) {
	slot := Level{Radius: 3, Depth: .6, Total: .6}
	assert.InDelta(t, .0120, TopChip(.02, 6, .6), 1e-12)
	assert.InDelta(t, .0120, slot.ThickestChip(.02), 1e-12)
	assert.InDelta(t, .006216, EdgeChip(.02, 3, .6), 5e-7)
	assert.InDelta(t, .003957, slot.MeanChip(.02), 5e-7)
	assert.Zero(t, EdgeChip(.02, 3, 0))
	assert.InDelta(t, .05*9/(6*math.Pi/2+3), EdgeChip(.05, 6, 9), 1e-12, "sunk beyond its radius, the edge goes on straight up")
}

// TestSingleToothChip: derived; with two teeth that run out by more than the feed per
// tooth one does all the work.
func TestSingleToothChip(t *testing.T) {
	assert.InDelta(t, .024, SingleToothChip(.012, .0127, 2), 1e-12)
	assert.InDelta(t, .017, SingleToothChip(.012, .005, 2), 1e-12, "below that the chips alternate")
	assert.InDelta(t, .012, SingleToothChip(.012, .0127, 1), 1e-12, "a single tooth knows no run-out")
	// Four teeth on a circle whose centre is off by half the reading: the greatest chip
	// over all ways that the teeth may stand.
	const perTooth, reading = .012, .01
	worst := 0.0
	for i := range 3600 {
		turn := float64(i) * math.Pi / 1800
		worst = math.Max(worst, perTooth+reading/2*(math.Cos(turn)-math.Cos(turn-math.Pi/2)))
	}
	assert.InDelta(t, worst, SingleToothChip(perTooth, reading, 4), 1e-8)
}

// TestRubbingLimit: thin chips of small sharp cutters, thicker ones of larger coated ones;
// judgement, and not beyond the 3 to 4 µm of a worn coated edge.
func TestRubbingLimit(t *testing.T) {
	assert.Equal(t, .0008, RubbingLimit(1.9))
	assert.Equal(t, .002, RubbingLimit(2))
}
