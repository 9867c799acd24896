package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestTiltedMill: derived, and checked by the ellipse's own points: a mill of 10 mm at 30
// degrees cuts a groove of radius 10 at its floor, 8 mm wide at 1 mm depth, exactly.
func TestTiltedMill(t *testing.T) {
	const degree = math.Pi / 180
	tilt, ok := TiltFor(5, 10)
	assert.True(t, ok)
	assert.InDelta(t, 30*degree, tilt, 1e-12)
	assert.InDelta(t, 8, TiltedWidth(5, tilt, 1), 1e-12)
	assert.InDelta(t, 10.303, TiltedWidth(6, 20*degree, 1), 1e-3)
	assert.InDelta(t, 10.816, TiltedWidth(6, 17.1*degree, 1), 1e-3)
	// Where the ellipse of half axes 5 and 2.5 is 1 mm deep and 8 mm wide, the circle of
	// radius 10 is 10 - sqrt(84) deep.
	assert.InDelta(t, 1-(10-math.Sqrt(84)), TiltedOverArc(5, tilt, 1), 1e-12)
	assert.InDelta(t, 0, TiltedOverArc(5, tilt, 1e-3), 1e-6)
	tilt, _ = TiltFor(6, 17.54)
	assert.InDelta(t, 20*degree, tilt, 2e-4)
	_, ok = TiltFor(6, 5)
	assert.False(t, ok)
	// A shallow groove is that of the floor's circle.
	assert.InDelta(t, 2*math.Sqrt(2*10*0.001-0.001*0.001), TiltedWidth(5, 30*degree, 0.001), 3e-5)
}
