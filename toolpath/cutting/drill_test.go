package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestDrillPower: the formula of drill makers, P = f·v·D·kc/240000 kW (from memory), and the
// torque of two lips, each pressed by half the feed over the radius a quarter of the diameter
// from the axis.
func TestDrillPower(t *testing.T) {
	for _, d := range []float64{1, 5, 12.5} {
		for _, turn := range []float64{0.02, 0.15} {
			const spindle, specific = 1100.0, 2600.0
			power := DrillPower(d, turn, spindle, specific)
			assert.InEpsilon(t, 1000*turn*SurfaceSpeed(d, spindle)*d*specific/240000, power.Value, 1e-12)
			assert.InEpsilon(t, 2*specific*(turn/2*d/2)*(d/4)/1000, Torque(power.Value, spindle), 1e-12)
			assert.InEpsilon(t, 1.5*power.Value, power.Most(), 1e-12)
		}
	}
}

// TestDrillChip: square to its axis a drill's lip would take half the feed; at 118 degrees
// it is the sine of 59 thinner.
func TestDrillChip(t *testing.T) {
	assert.InDelta(t, 0.05, DrillChip(0.1, math.Pi), 1e-12)
	assert.InDelta(t, 0.04286, DrillChip(0.1, 118*math.Pi/180), 1e-5)
}
