package toolpath

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
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
