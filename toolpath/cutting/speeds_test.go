package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestSpeedsAndFeeds checks worked examples of tool makers, read there: Mitsubishi
// Materials (formulas for milling; it reckons with 3.14), WIDIA (solid end mills; it
// rounds the spindle speed to 510 and goes on with that), Niagara Cutter (Milling
// Handbook, 1973).
func TestSpeedsAndFeeds(t *testing.T) {
	assert.InDelta(t, 137.4, SurfaceSpeed(125, 350), .1)
	assert.InDelta(t, 137.445, SurfaceSpeed(125, 350), 5e-4, "derived")
	assert.InDelta(t, .1, ToothFeed(500, 10, 500), 1e-12)
	assert.InDelta(t, 500, Feed(.1, 10, 500), 1e-9)
	assert.InDelta(t, 101.91, SpindleSpeed(80, 250), .1)
	assert.InDelta(t, 101.859, SpindleSpeed(80, 250), 5e-4, "derived")
	assert.InDelta(t, 510, SpindleSpeed(200, 125), 1)
	assert.InDelta(t, 816, Feed(.2, 8, 510), 1e-9)
	assert.InDelta(t, 814.9, Feed(.2, 8, SpindleSpeed(200, 125)), .05, "derived")
	assert.InDelta(t, .128, Feed(.004, 32, 1), 1e-12, "inches a revolution")
	assert.InDelta(t, 11.2, Feed(.004, 32, 88), .1)
	assert.InDelta(t, 11.264, Feed(.004, 32, 88), 1e-12, "derived")
}

// TestFaceMillExample checks a worked example (Mitsubishi Materials, formulas for milling;
// its inputs read there, its answer from memory): a face mill of 200 mm with 16 teeth at
// 125 m/min and 0.25 mm over a work of 300 mm, and its own diameter besides: about 200
// rev/min, 800 mm/min, 37.5 s.
func TestFaceMillExample(t *testing.T) {
	assert.InDelta(t, 200, SpindleSpeed(125, 200), 1.5)
	assert.InDelta(t, 198.94, SpindleSpeed(125, 200), 5e-3, "derived")
	assert.InDelta(t, 800, Feed(.25, 16, 200), 1e-9)
	assert.InDelta(t, 37.5, MoveSeconds(300+200, 800, math.Inf(1)), 1e-9)
}

// TestShopRules checks what catalogues print for the constant of SpindleSpeed: 3.82 for feet
// and inches, 318.057 for metres and millimetres (M.A. Ford, read there; the second is a
// slip for 318.310). The rule of thumb 4·SFM/D overspeeds by 4.7 %.
func TestShopRules(t *testing.T) {
	assert.InDelta(t, 3.82, SpindleSpeed(.3048, 25.4), 5e-3)
	assert.InDelta(t, 318.310, SpindleSpeed(1, 1), 5e-4)
	assert.InEpsilon(t, 318.057, SpindleSpeed(1, 1), .001)
	assert.InDelta(t, 1.047, 4/SpindleSpeed(.3048, 25.4), 5e-4)
	assert.InDelta(t, .2618, SurfaceSpeed(25.4, 1)/.3048, 5e-5)
}
