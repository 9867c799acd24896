package profile

import "testing"

// BenchmarkMeasure is one design from its parameters: outline, fullers, and then the
// solid's measures as well.
func BenchmarkMeasure(b *testing.B) {
	k := testKnife()
	k.Guard.Material, k.Spacers.Material, k.Handle.Material, k.Pommel.Material = "brass", "brass", "hardwood", "brass"
	b.Run("build", func(b *testing.B) {
		for b.Loop() {
			if _, err := Build(k, Measured{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("build and measure", func(b *testing.B) {
		for b.Loop() {
			blade, err := Build(k, Measured{})
			if err != nil {
				b.Fatal(err)
			}
			blade.Measure(7.85)
		}
	})
}
