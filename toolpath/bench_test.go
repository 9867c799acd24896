package toolpath_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
	"fullerwright/toolpath"
)

// BenchmarkDesign is what a range does for each design, on one core: outline and fullers,
// the measures of the solid, and the design checks.
func BenchmarkDesign(b *testing.B) {
	shop, err := toolpath.ParseShop("shop.toml", templates.Shop())
	require.NoError(b, err)
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		knife, err := profile.Parse(name, data)
		require.NoError(b, err)
		b.Run(name, func(b *testing.B) {
			designs := 0
			for b.Loop() {
				blade, err := profile.Build(knife, profile.Measured{})
				require.NoError(b, err)
				blade.Measure(7.85)
				toolpath.DesignChecks(blade, shop)
				designs++
			}
			b.ReportMetric(float64(designs)/b.Elapsed().Seconds(), "designs/s")
		})
	}
}
