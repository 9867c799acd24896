package toolpath

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
	"fullerwright/toolpath/cutting"
)

// TestPowderSteelRefusesHighSpeedSteel: a drawer of nothing else gives no program, and says
// why and what would do; in other steels it mills.
func TestPowderSteelRefusesHighSpeedSteel(t *testing.T) {
	shop := builtInShop(t)
	for i := range shop.Cutters {
		shop.Cutters[i].Material, shop.Cutters[i].Coated = "hss", false
	}
	k := testKnife()
	for steel, mills := range map[string]bool{"1084": true, "S35VN": false} {
		k.Blade.Steel = steel
		b := mustBuild(t, k)
		job, tried, err := PlanFullers(b, shop, SetupFor(b.Bar, profile.Right, AboutY), "")
		if mills {
			require.NoError(t, err)
			assert.NotNil(t, job)
			continue
		}
		assert.Nil(t, job)
		assert.ErrorContains(t, err, "vanadium carbides")
		assert.ErrorContains(t, err, "coated carbide cutter")
		assert.NotEmpty(t, tried)
		_, _, err = PlanFullers(b, shop, SetupFor(b.Bar, profile.Right, AboutY), "ball 10")
		assert.ErrorContains(t, err, "vanadium carbides")
	}
}

// TestConditionOfTheBar: a normalised bar is milled slower; a hardened one is refused,
// unless a steel of the shop's own reaches that far.
func TestConditionOfTheBar(t *testing.T) {
	plan := func(shop Shop, steel string, bar profile.BarSize) (*Job, error) {
		k := testKnife()
		k.Blade.Steel, k.Bar.Condition, k.Bar.Hardness = steel, bar.Condition, bar.Hardness
		b := mustBuild(t, k)
		job, _, err := PlanFullers(b, shop, SetupFor(b.Bar, profile.Right, AboutY), "ball 12")
		return job, err
	}
	shop := builtInShop(t)
	shop.Machine.SpindleMost = 20000
	soft, err := plan(shop, "1084", profile.BarSize{})
	require.NoError(t, err)
	normalised, err := plan(shop, "1084", profile.BarSize{Condition: "normalised"})
	require.NoError(t, err)
	assert.InDelta(t, 0.6*soft.Spindle, normalised.Spindle, 1.5)
	cautions := ""
	for _, c := range normalised.Checks {
		if c.Verdict == Caution {
			cautions += c.Remedy.String()
		}
	}
	assert.Contains(t, cautions, "grind the scale")
	hard := profile.BarSize{Condition: "hardened", Hardness: profile.Some(55)}
	_, err = plan(shop, "1084", hard)
	assert.ErrorContains(t, err, "55 HRC")
	assert.ErrorContains(t, err, "mill it annealed")

	own := "\n[[steel]]\nname = \"Forge 7\"\ncuts_like = \"O1\"\nspeed_share = 0.4\nhardest_hrc = 56\n"
	shop, err = ParseShop("shop.toml", append(templates.Shop(), own...))
	require.NoError(t, err)
	job, err := plan(shop, "Forge 7", hard)
	require.NoError(t, err)
	for _, l := range job.Levels {
		assert.LessOrEqual(t, l.Depth, 0.05*12+1e-9)
	}
	assert.Less(t, cutting.ToothFeed(job.Feeds.Slot, 2, job.Spindle), 0.003*12)
	hard.Hardness.Value = 57
	_, err = plan(shop, "Forge 7", hard)
	assert.ErrorContains(t, err, "56 HRC")
}

// TestToolOf: the cutter as measured, and its material.
func TestToolOf(t *testing.T) {
	c := Cutter{Diameter: 6, Measured: profile.Some(5.9), Flutes: 2, FluteLength: 12, ShankDiameter: 8, StickOut: 20, RunOut: .01}
	assert.InDelta(t, 5.9, c.tool().Diameter, 1e-12)
	assert.Equal(t, []float64{12, 8, 20, .01}, []float64{c.tool().FluteLength, c.tool().ShankDiameter, c.tool().StickOut, c.tool().RunOut})
	for _, row := range []struct {
		material string
		coated   bool
		want     string
	}{{"hss", true, "high-speed steel"}, {"carbide", true, "coated carbide"}, {"carbide", false, "uncoated carbide"}} {
		c.Material, c.Coated = row.material, row.coated
		assert.Equal(t, row.want, string(c.tool().Material))
	}
}

// TestMarkFeedsBySteel: an engraving ball of 0.5 mm takes less a tooth in tool steel than in
// carbon steel, and its thick shank does not slow it.
func TestMarkFeedsBySteel(t *testing.T) {
	c := Cutter{Diameter: 0.5, Flutes: 2, FluteLength: 1, ShankDiameter: 3, StickOut: 15, Material: "carbide"}
	for steel, want := range map[string]float64{"1095": 0.001, "O1": 0.00075, "D2": 0.00075} {
		data, known := cutting.DataFor(steel)
		require.True(t, known)
		assert.InDelta(t, want, data.FeedPerTooth(c.tool()).Start, 1e-12, steel)
	}
}

// TestHardenedBarIsRefusedEverywhere: no operation on the bar mills or drills it, whatever
// the drawer holds.
func TestHardenedBarIsRefusedEverywhere(t *testing.T) {
	k := testKnife()
	k.Bar.Condition, k.Bar.Hardness = "hardened", profile.Some(55)
	b, shop := mustBuild(t, k), builtInShop(t)
	setup := SetupFor(b.Bar, profile.Right, AboutY)
	for _, operation := range []Operation{Fullers, Shoulders, Holes, Marks, Outline} {
		job, _, err := Plan(b, shop, Step{Operation: operation, Face: profile.Right, Bore: 5}, setup, "")
		assert.True(t, job == nil, operation)
		assert.ErrorContains(t, err, "55 HRC", operation)
	}
}
