package toolpath

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
)

// TestDrillSpeeds: on a strong mill a drill turns and is fed as the data say; where power or
// feed are short it turns slower, then is fed less, and no slower or less than they must be;
// where even that is too much its check stops it.
func TestDrillSpeeds(t *testing.T) {
	b := mustBuild(t, holed())
	plan := func(change func(*Machine)) (*Job, Shop, cutting.Data) {
		shop := builtInShop(t)
		shop.Cutters = []Cutter{drill("drill 5", 5)}
		change(&shop.Machine)
		step := holeSteps(b)[1]
		job, _, err := PlanHoles(b, shop, step, SetupFor(b.Bar, profile.Right, AboutX), "")
		require.NoError(t, err)
		data, err := shop.steelData(b)
		require.NoError(t, err)
		return job, shop, data
	}
	turn := func(j *Job) float64 { return j.Feeds.Plunge / j.Spindle }
	power := func(j *Job, data cutting.Data) float64 { return j.drillPower(turn(j), j.Spindle, data) }

	strong, _, data := plan(func(m *Machine) { m.Power = 5000 })
	assert.InDelta(t, surfaceSpeed(data, strong.Cutter), cutting.SurfaceSpeed(5, strong.Spindle), 0.05)
	assert.InDelta(t, drillFeed*5, turn(strong), 0.001)
	lo, _ := surfaceRange(data, strong.Cutter)

	weak, shop, _ := plan(func(m *Machine) { m.Power = 0.95 * power(strong, data) })
	assert.InDelta(t, drillFeed*5, turn(weak), 0.001, "it turns slower first")
	assert.InEpsilon(t, shop.Machine.Power, power(weak, data), 0.01, "no slower than it must")
	assert.Empty(t, Stops(weak.Checks))

	weaker, shop, _ := plan(func(m *Machine) { m.Power = 0.6 * power(strong, data) })
	assert.InDelta(t, lo, cutting.SurfaceSpeed(5, weaker.Spindle), 0.05, "as slow as the data go")
	assert.InEpsilon(t, shop.Machine.Power, power(weaker, data), 0.02, "and no less fed than it must be")
	assert.Empty(t, Stops(weaker.Checks))

	weakest, _, _ := plan(func(m *Machine) { m.Power = 0.2 * power(strong, data) })
	stops := Stops(weakest.Checks)
	require.Len(t, stops, 1)
	assert.Contains(t, stops[0].Name, "power")
	assert.InDelta(t, drillFeedLeast*5, turn(weakest), 0.001)

	slow, shop, _ := plan(func(m *Machine) { m.FeedMost = 0.9 * strong.Feeds.Plunge })
	assert.InDelta(t, shop.Machine.FeedMost, slow.Feeds.Plunge, 1)
	assert.InDelta(t, drillFeed*5, turn(slow), 0.001)
	assert.Empty(t, Stops(slow.Checks))
}
