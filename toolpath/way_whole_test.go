package toolpath

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
)

// TestWaysAreWhole: what a way out says, put into a knife file as it stands and nothing
// else, gives a file that agrees with itself, also where that gives the width of a fuller
// besides its radius and depth, or its length besides its ends.
func TestWaysAreWhole(t *testing.T) {
	shop := builtInShop(t)
	shop.Limits.Web, shop.Limits.SpineLand = 3.2, 4.3
	followed := map[string]int{}
	for _, growth := range []float64{0, 0.005} {
		data, _ := templates.Pattern("tarn")
		k, err := profile.Parse("tarn", data)
		require.NoError(t, err)
		require.True(t, k.Fullers[0].Width.Known)
		k.Allowance.Growth = growth
		k.Fullers[0].End, k.Fullers[0].Length = profile.Some(109.5), profile.Some(87.5) // too near the clip
		b, err := profile.Build(k.BeforeHardening(), profile.Measured{})
		require.NoError(t, err)
		for _, c := range DesignChecks(b, shop) {
			require.True(t, c.Verdict == OK || len(c.Ways()) > 0, c)
			for _, way := range c.Ways() {
				literal := k.Copied()
				for _, one := range append([]Way{way}, way.Also...) {
					putLiterally(t, &literal, one)
				}
				require.NoError(t, literal.Validate(), "%g: %+v", growth, way)
				if f := literal.Fullers[0]; strings.HasSuffix(way.Key, "depth") {
					assert.InDelta(t, profile.GrooveWidth(f.Radius, f.Depth.Value), f.Width.Value, 0.00501, "%g: %+v", growth, way)
				} else {
					assert.InDelta(t, f.End.Value-f.Start.Value, f.Length.Value, 0.00501, "%g: %+v", growth, way)
				}
				again, err := profile.Build(literal.BeforeHardening(), profile.Measured{})
				require.NoError(t, err)
				after, _ := named(DesignChecks(again, shop), c.Name)
				assert.Equal(t, OK, after.Verdict, "%s: %+v", c, way)
				for _, also := range way.Also {
					followed[also.Key]++
				}
			}
		}
	}
	assert.Positive(t, followed["fuller[1].width"])
	assert.Positive(t, followed["fuller[1].length"])
}

// putLiterally puts one value where the file gives it, and moves nothing else.
func putLiterally(t *testing.T, k *profile.Knife, way Way) {
	t.Helper()
	for _, q := range k.Quantities() {
		if q.Key == way.Key {
			q.Put(k, way.Value)
			return
		}
	}
	require.Fail(t, fmt.Sprintf("the file gives no %s", way.Key))
}
