package cutting

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestMoveSeconds: kinematics of a trapezoid from rest to rest at 500 mm/s², derived.
// Feeds are a minute, speeds a second.
func TestMoveSeconds(t *testing.T) {
	for _, row := range []struct{ length, feed, seconds, peak float64 }{
		{150, 1200, 7.540, 20}, {.5, 1200, .063246, 15.811}, {.8, 1200, .080, 20}, {150, 6000, 1.700, 100}, {10, 6000, .282843, 70.71},
	} {
		assert.InDelta(t, row.seconds, MoveSeconds(row.length, row.feed, 500), 5e-7, "%g mm at %g", row.length, row.feed)
		assert.InDelta(t, row.peak, Stretch{Length: row.length, Feed: row.feed, Acceleration: 500}.Peak(), 5e-3)
	}
	// Too short to reach the feed, a move is at its middle twice as fast as on the mean.
	short := Stretch{Length: .5, Feed: 1200, Acceleration: 500}
	assert.InDelta(t, 2*short.Length/short.Seconds(), short.Peak(), 1e-12)
	assert.Zero(t, MoveSeconds(0, 1200, 500))
}

// drive runs a stretch in small steps: as fast as the feed, the way left to slow down and
// the acceleration let it.
func drive(s Stretch) float64 {
	const dx = 1e-4
	begin, end, cruise := s.Begin/60, s.End/60, s.Feed/60
	seconds := 0.0
	for x := dx / 2; x < s.Length; x += dx {
		rising := math.Sqrt(begin*begin + 2*s.Acceleration*x)
		falling := math.Sqrt(end*end + 2*s.Acceleration*(s.Length-x))
		seconds += dx / math.Min(cruise, math.Min(rising, falling))
	}
	return seconds
}

// TestStretchesAgainstSteps for ends at any speed.
func TestStretchesAgainstSteps(t *testing.T) {
	for _, s := range []Stretch{
		{Length: 5, Feed: 1200, Begin: 600, End: 300, Acceleration: 500},
		{Length: .3, Feed: 1200, Begin: 600, End: 300, Acceleration: 500},
		{Length: 2, Feed: 1200, Begin: 1200, End: 1200, Acceleration: 500},
		{Length: 2, Feed: 1200, Begin: 0, End: 900, Acceleration: 250},
	} {
		assert.InEpsilon(t, drive(s), s.Seconds(), 2e-3, "%+v", s)
	}
}

// TestStretchesJoin: a move cut in two where it runs at a known speed takes as long as
// whole, and never less than at its feed throughout.
func TestStretchesJoin(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 9))
	for range 200 {
		whole := Stretch{Length: 1 + 20*r.Float64(), Feed: 300 + 3000*r.Float64(), Acceleration: 50 + 500*r.Float64()}
		v := whole.Peak()
		rise := v * v / (2 * whole.Acceleration)
		first, rest := whole, whole
		first.Length, first.End = rise, 60*v
		rest.Length, rest.Begin = whole.Length-rise, 60*v
		assert.InEpsilon(t, whole.Seconds(), first.Seconds()+rest.Seconds(), 1e-9)
		assert.GreaterOrEqual(t, whole.Seconds(), 60*whole.Length/whole.Feed)
	}
}

// TestStretchesThatCannotBe: ends beyond the feed are taken at the feed, and an end that the
// length cannot reach as fast as it can.
func TestStretchesThatCannotBe(t *testing.T) {
	assert.InDelta(t, 6, Stretch{Length: 100, Feed: 1000, Begin: 5000, End: 2000, Acceleration: 100}.Seconds(), 1e-12)
	// From rest over 1 mm at 50 mm/s²: 10 mm/s at the end, after 0.2 s.
	up := Stretch{Length: 1, Feed: 6000, End: 6000, Acceleration: 50}
	assert.InDelta(t, 10, up.Peak(), 1e-12)
	assert.InDelta(t, .2, up.Seconds(), 1e-12)
	down := Stretch{Length: 1, Feed: 6000, Begin: 6000, Acceleration: 50}
	assert.InDelta(t, .2, down.Seconds(), 1e-12)
}
