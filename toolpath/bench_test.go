package toolpath_test

import (
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
	"fullerwright/toolpath"
)

// BenchmarkDesign is what a range does for each design, on one core: the values put into the
// knife and held against each other, outline and fullers, the measures of the solid, and the
// design checks. Only one core works, the collector of garbage on it too, so that designs a
// second are those of a core.
func BenchmarkDesign(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	shop, err := toolpath.ParseShop("shop.toml", templates.Shop())
	require.NoError(b, err)
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		knife, err := profile.Parse(name, data)
		require.NoError(b, err)
		length, err := knife.Variable("blade.length")
		require.NoError(b, err)
		varier, err := knife.Varier(length.Key)
		require.NoError(b, err)
		b.Run(name, func(b *testing.B) {
			designs := 0
			for b.Loop() {
				knife, err := varier.At([]float64{length.Value})
				require.NoError(b, err)
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
