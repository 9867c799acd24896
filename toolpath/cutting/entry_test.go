package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestRamps: derived from depth/tan(angle) (a tool maker's guide, Kyocera, read there).
func TestRamps(t *testing.T) {
	assert.InDelta(t, 5.724, RampLength(.3, 3*degree), 5e-4)
	assert.InDelta(t, 11.449, RampLength(.6, 3*degree), 5e-4)
}

// TestArcEntry: derived; an arc of 30 mm tangent to a floor 1 mm down enters at 14.8
// degrees, which takes several levels where 3 are allowed.
func TestArcEntry(t *testing.T) {
	assert.InDelta(t, 14.8, ArcEntryAngle(30, 1)/degree, .05)
	assert.InDelta(t, 3*degree, ArcEntryAngle(30, ArcEntryDepth(30, 3*degree)), 1e-12)
	assert.InDelta(t, 1, ArcEntryDepth(30, ArcEntryAngle(30, 1)), 1e-12)
	// The chord between the arc's last two points shows its slope.
	const dx = 1e-6
	enters := math.Sqrt(30*30 - 29*29)
	height := func(x float64) float64 { return 30 - math.Sqrt(30*30-x*x) }
	assert.InDelta(t, math.Atan((height(enters)-height(enters-dx))/dx), ArcEntryAngle(30, 1), 1e-5)
}

// TestPlungeFeed: the feed per tooth read as one per revolution (Dormer, read there): half
// the feed of a slot for two teeth.
func TestPlungeFeed(t *testing.T) {
	assert.InDelta(t, Feed(.02, 2, 5000)/2, PlungeFeed(.02, 5000), 1e-12)
}
