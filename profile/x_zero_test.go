package profile

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/document"
)

// TestXZero: what is touched for X must be there, and in the waste unless it is a dowel.
func TestXZero(t *testing.T) {
	plain := parsePattern(t, "tarn")
	for name, row := range map[string]struct {
		change func(k *Knife)
		fault  string
	}{
		"butt":               {func(*Knife) {}, ""},
		"butt with distance": {func(k *Knife) { k.Bar.XZeroFromButt = Some(4) }, "the butt itself is what is touched"},
		"line in the waste":  {func(k *Knife) { k.Bar.XZero, k.Bar.XZeroFromButt = LineZero, Some(3) }, ""},
		"line at the point":  {func(k *Knife) { k.Bar.XZero, k.Bar.XZeroFromButt = LineZero, Some(297) }, ""},
		"line in the knife":  {func(k *Knife) { k.Bar.XZero, k.Bar.XZeroFromButt = LineZero, Some(60) }, "would mar the knife"},
		"flat in the knife":  {func(k *Knife) { k.Bar.XZero, k.Bar.XZeroFromButt = FlatZero, Some(60) }, "would mar the knife"},
		"no distance":        {func(k *Knife) { k.Bar.XZero = FlatZero }, "is needed"},
		"no hole":            {func(k *Knife) { k.Bar.XZero, k.Bar.XZeroFromButt = DowelZero, Some(40) }, "no hole has its middle there"},
		"dowel": {func(k *Knife) {
			k.Holes = []Hole{{At: -77, FromSpine: 15, Diameter: Some(4), Face: "right"}}
			k.Bar.XZero, k.Bar.XZeroFromButt = DowelZero, Some(40)
		}, ""},
		"blind hole": {func(k *Knife) {
			k.Holes = []Hole{{At: -77, FromSpine: 15, Diameter: Some(4), Depth: 2, Face: "right"}}
			k.Bar.XZero, k.Bar.XZeroFromButt = DowelZero, Some(40)
		}, "the hole there is blind"},
	} {
		k := plain.copied()
		row.change(&k)
		err := k.Validate()
		if row.fault == "" {
			assert.NoError(t, err, name)
			continue
		}
		var faults document.FieldErrors
		require.ErrorAs(t, err, &faults, name)
		require.Len(t, faults, 1, name)
		assert.Equal(t, "bar.x_zero_from_butt", faults[0].Field, name)
		assert.Contains(t, faults[0].Rule, row.fault)
	}
	// The dowel's place is that of its hole, to the last digit, grown or not.
	k := plain.copied()
	k.Holes = []Hole{{At: -77.02, FromSpine: 15, Diameter: Some(4), Face: "right"}}
	k.Bar.XZero, k.Bar.XZeroFromButt = DowelZero, Some(40)
	assert.InDelta(t, -77.02, BarOf(k, Measured{}).XZero.X, 1e-12)
	k.Allowance.Growth = 0.0015
	assert.InDelta(t, -77.02/1.0015, BarOf(k.BeforeHardening(), Measured{}).XZero.X, 1e-12)
	// A line stands where it is on the bar.
	k.Bar.XZero, k.Bar.XZeroFromButt = LineZero, Some(3)
	bar := BarOf(k, Measured{})
	assert.InDelta(t, bar.Butt+3, bar.XZero.X, 1e-12)
}
