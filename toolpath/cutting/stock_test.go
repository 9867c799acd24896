package cutting

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestNormalisedStock: 0.6 of the speed and nothing else; Machinery's Handbook (as
// reproduced, read there) has 45 feet a minute at 275-325 HB for 75 at 175-225 HB.
func TestNormalisedStock(t *testing.T) {
	soft := dataFor(t, "1095")
	d, err := soft.For(Stock{Condition: Normalised})
	require.NoError(t, err)
	for _, material := range []ToolMaterial{CoatedCarbide, UncoatedCarbide, HighSpeedSteel} {
		assert.InDelta(t, 45.0/75, d.Speeds(material).Start/soft.Speeds(material).Start, 1e-12)
		assert.InDelta(t, .6, d.Speeds(material).Most/soft.Speeds(material).Most, 1e-12)
		assert.InDelta(t, .6, d.Speeds(material).Least/soft.Speeds(material).Least, 1e-12)
	}
	assert.Equal(t, soft.DepthRatio, d.DepthRatio)
	assert.NotEmpty(t, Stock{Condition: Normalised}.Advice())
	assert.Empty(t, Stock{}.Advice())
	for _, s := range []Stock{{}, {Condition: Annealed}} {
		same, err := soft.For(s)
		require.NoError(t, err)
		assert.Equal(t, soft, same)
	}
}

// TestPreHardenedStock: the same table at 325-375 and 375-425 HB: 30 and 15 feet a minute.
func TestPreHardenedStock(t *testing.T) {
	soft := dataFor(t, "1095")
	for hrc, feet := range map[float64]float64{18: 75, 25: 60, 31: 45, 38: 30, 44: 15} {
		d, err := soft.For(Stock{Hardened, hrc})
		require.NoError(t, err)
		assert.InDelta(t, feet/75, d.Coated/soft.Coated, 1e-12, "%g HRC", hrc)
		assert.NoError(t, d.Refuses(Tool{Material: HighSpeedSteel}))
	}
}

// TestHardenedStockIsRefused beyond 45 HRC, and where its hardness is not given.
func TestHardenedStockIsRefused(t *testing.T) {
	for _, steel := range Steels() {
		for _, hrc := range []float64{0, 45.5, 60} {
			var refusal *Refusal
			d, err := dataFor(t, steel).For(Stock{Hardened, hrc})
			require.ErrorAs(t, err, &refusal, "%s at %g", steel, hrc)
			assert.NotEmpty(t, refusal.Reason)
			assert.NotEmpty(t, refusal.Remedy)
			assert.Equal(t, Data{}, d)
		}
	}
}

// TestOwnHardenedSteel: the shop's own data for hardened steel are taken as far as they
// reach, with the published feeds and depths of group H: 0.001 to 0.003 of the diameter
// (ISCAR, read there), 0.05 or 0.02 of it deep; and no high-speed steel.
func TestOwnHardenedSteel(t *testing.T) {
	own := dataFor(t, "O1").Faster(.35)
	own.HardestHRC = 60
	d, err := own.For(Stock{Hardened, 55})
	require.NoError(t, err)
	tool := Tool{Diameter: 6, StickOut: 20, Material: CoatedCarbide}
	assert.InDelta(t, own.Coated, d.Coated, 1e-12)
	assert.InDelta(t, .001*6, d.FeedPerTooth(tool).Start, 1e-12)
	assert.InDelta(t, .003*6, d.FeedPerTooth(tool).Most, 1e-12)
	_, most := d.LevelDepth(tool)
	assert.InDelta(t, .05*6, most, 1e-12)
	assert.Error(t, d.Refuses(Tool{Material: HighSpeedSteel}))
	assert.Greater(t, d.SpecificForce(.01), 2*own.SpecificForce(.01))

	harder, err := own.For(Stock{Hardened, 59})
	require.NoError(t, err)
	_, most = harder.LevelDepth(tool)
	assert.InDelta(t, .02*6, most, 1e-12)
	_, err = own.For(Stock{Hardened, 61})
	assert.ErrorContains(t, err, "61 HRC")
	assert.ErrorContains(t, err, "60 HRC", "how far the data reach")
}
