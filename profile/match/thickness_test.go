package match

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
)

// TestOneThickness: a knife of which somebody measured the thickness at one place alone has the
// taper of its pattern, by as much thicker as it is there, and says so; nothing of it has an
// error that could be told.
func TestOneThickness(t *testing.T) {
	k, err := profile.Parse("heron", family("heron").Data)
	require.NoError(t, err)
	none := func() float64 { return 0 }
	for _, x := range []float64{-0.3 * k.Tang.Length, 0.1 * k.Ricasso.Length, 0.8 * k.Blade.Length} {
		m := calipered(t, k, stations(k), none)
		var outline []Reading
		for _, r := range m.Readings {
			if r.Kind != Thickness {
				outline = append(outline, r)
			}
		}
		m.Readings = append(outline, Reading{Kind: Thickness, X: x, Value: 1.1 * thicknessAt(k, x), Line: 99})
		fit := matched(t, "heron", m)
		assert.InDelta(t, 1.1*thicknessAt(k, x), thicknessAt(fit.Knife, x), 1e-9, "%g", x)
		said := 0
		for _, f := range fit.Fixed {
			if f.Key == "blade.thickness" {
				said++
				assert.Contains(t, f.Why, "too few thicknesses", "%g", x)
				assert.InDelta(t, fit.Knife.Blade.Thickness, f.Value, 1e-9)
			}
		}
		assert.Equal(t, 1, said, "%g", x)
		for _, p := range fit.Parameters {
			assert.NotContains(t, p.Key, "thickness", "%g", x)
		}
	}
}
