package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// levels to try: shallow and deep ones, first and later ones, some deeper than the ball's
// radius.
func trialLevels() []Level {
	return []Level{
		{3, .6, .6}, {3, .3, .6}, {6, .1, 1}, {6, .6, 1.8}, {6, 1.2, 3}, {5, .5, 5}, {4, 4, 4},
		{3, .6, 4}, {3, 2.5, 4.5}, {3, 4, 4}, {3, 4, 6},
	}
}

// inSteel reports whether the edge of a tooth at an angle is in the steel at a height over
// the tip: under the face and under the groove that the ball left a level higher. It is
// read off where the point lies across, and shares nothing with the closed forms.
func (l Level) inSteel(angle, height float64) bool {
	reach := l.Radius
	if height < l.Radius {
		reach = math.Sqrt(l.Radius*l.Radius - math.Pow(l.Radius-height, 2))
	}
	across := reach * math.Cos(angle)
	old := l.Depth + l.Radius - math.Sqrt(l.Radius*l.Radius-across*across)
	return height <= l.Total && height <= old
}

// TestLevelsByBruteForce walks along the edge of each tooth position.
func TestLevelsByBruteForce(t *testing.T) {
	const turns, steps = 400, 2000
	for _, l := range trialLevels() {
		peak, thickest, area, edge := 0.0, 0.0, 0.0, 0.0
		for i := range turns {
			angle := math.Pi * (float64(i) + .5) / turns
			height := 0.0
			for j := range steps {
				if h := l.Total * (float64(j) + .5) / steps; l.inSteel(angle, h) {
					height = l.Total * float64(j+1) / steps
				}
			}
			assert.InDelta(t, height, l.engagedHeight(angle), 1.01*l.Total/steps, "%+v at %g", l, angle)
			peak = math.Max(peak, math.Sin(angle)*height)
			area += math.Sin(angle) * height
			edge += Level{l.Radius, height, height}.edge(height)
			sinKappa := math.Sqrt(math.Max(0, 1-math.Pow(math.Max(0, 1-height/l.Radius), 2)))
			thickest = math.Max(thickest, math.Sin(angle)*sinKappa)
		}
		assert.InEpsilon(t, .02*peak, l.PeakChipArea(.02), .008, "%+v", l)
		assert.InEpsilon(t, .02*thickest, l.ThickestChip(.02), .006, "%+v", l)
		assert.InEpsilon(t, .02*area/edge, l.MeanChip(.02), .003, "%+v", l)
	}
}

// TestChipsHoldTheSteel: what the chips of one tooth hold over a turn is what the level
// takes in one feed per tooth: its cross-section.
func TestChipsHoldTheSteel(t *testing.T) {
	const steps = 20000
	for _, l := range trialLevels() {
		volume := 0.0
		for i := range steps {
			angle := math.Pi * (float64(i) + .5) / steps
			height := l.engagedHeight(angle)
			kappa := HalfAngle(l.Radius, height)
			// Thickness sin(angle)·sin κ, along the edge R·dκ, swept over R·sin κ.
			swept := l.Radius*l.Radius*(kappa-math.Sin(kappa)*math.Cos(kappa))/2 + l.Radius*math.Max(0, height-l.Radius)
			volume += math.Sin(angle) * swept * math.Pi / steps
		}
		assert.InEpsilon(t, l.Area(), volume, 1e-5, "%+v", l)
	}
}

// TestFirstLevelIsASlot: derived.
func TestFirstLevelIsASlot(t *testing.T) {
	for _, depth := range []float64{.1, .6, 2, 3} {
		l := Level{3, depth, depth}
		assert.InDelta(t, SegmentArea(3, depth), l.Area(), 1e-12)
		assert.InDelta(t, 2/math.Pi*EdgeChip(.02, 3, depth), l.MeanChip(.02), 1e-12)
		assert.InDelta(t, .02*depth, l.PeakChipArea(.02), 1e-12)
	}
}

// TestLaterLevelsPullHarder: by the third of equal shallow levels the greatest chip of a
// tooth is √3 times the first one's, though the side-force is the same: the walls lean
// on the tooth as well. Derived.
func TestLaterLevelsPullHarder(t *testing.T) {
	steel, known := DataFor("O1")
	require.True(t, known)
	first, third := Level{6, .01, .01}, Level{6, .01, .03}
	assert.InEpsilon(t, math.Sqrt(3), third.PeakChipArea(.02)/first.PeakChipArea(.02), .005)
	assert.Equal(t, first.SideForce(.02, steel), third.SideForce(.02, steel))
	assert.Greater(t, third.PeakForce(.02, steel), 1.5*first.PeakForce(.02, steel))
}

// TestNoTeethPushHarderAcross: the part of a tooth's force that lies across the feed is
// greatest straight ahead, whatever the level.
func TestNoTeethPushHarderAcross(t *testing.T) {
	for _, l := range trialLevels() {
		for i := range 200 {
			angle := math.Pi * (float64(i) + .5) / 200
			across := math.Pow(math.Sin(angle), 2) * l.engagedHeight(angle)
			assert.LessOrEqual(t, across, l.Depth+1e-9, "%+v at %g", l, angle)
		}
	}
}
