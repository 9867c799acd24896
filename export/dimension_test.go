package export

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// fractionTable has rows of the decimal equivalents of fractions of an inch that stand
// on every shop's wall chart: the fraction, inches to four decimals, millimetres to
// three (the metric column as 25.4 mm to the inch gives it; values from memory of such a
// chart, which are checked here against each other).
var fractionTable = []struct {
	fraction string
	inches   float64
	mm       float64
}{
	{"1/64", 0.0156, 0.397}, {"1/32", 0.0312, 0.794}, {"3/64", 0.0469, 1.191}, {"1/16", 0.0625, 1.588}, {"7/64", 0.1094, 2.778},
	{"1/8", 0.1250, 3.175}, {"5/32", 0.1562, 3.969}, {"3/16", 0.1875, 4.763}, {"13/64", 0.2031, 5.159}, {"7/32", 0.2188, 5.556},
	{"1/4", 0.2500, 6.350}, {"19/64", 0.2969, 7.541}, {"5/16", 0.3125, 7.938}, {"3/8", 0.3750, 9.525}, {"27/64", 0.4219, 10.716},
	{"1/2", 0.5000, 12.700}, {"35/64", 0.5469, 13.891}, {"5/8", 0.6250, 15.875}, {"43/64", 0.6719, 17.066}, {"3/4", 0.7500, 19.050},
	{"53/64", 0.8281, 21.034}, {"7/8", 0.8750, 22.225}, {"59/64", 0.9219, 23.416}, {"63/64", 0.9844, 25.003}, {"1", 1.0000, 25.400},
}

func TestShopFractions(t *testing.T) {
	for _, row := range fractionTable {
		require.InDelta(t, row.inches*25.4, row.mm, 0.0026, row.fraction)
		text, added := ShopFraction.Length(row.mm)
		assert.Equal(t, row.fraction, text)
		assert.Empty(t, added, "the table's rounding is far under half a thousandth")
	}
	for _, c := range []struct {
		mm          float64
		text, added string
	}{
		{178, "7 1/64", "+.008"},        // 7.007874 in; 7 1/64 is 7.015625
		{290, "11 27/64", "+.005"},      // 11.417323 in; 11 27/64 is 11.421875
		{62, "2 7/16", "-.003"},         // 2.440945 in; 2 7/16 is 2.4375
		{-178, "-7 1/64", "-.008"},      // a length behind
		{266.7, "10 1/2", ""},           // exactly
		{25.4 / 64 * 0.4, "0", "-.006"}, // 0.00625 in
	} {
		text, added := ShopFraction.Length(c.mm)
		assert.Equal(t, c.text, text)
		assert.Equal(t, c.added, added, c.text)
	}
}

func TestThicknesses(t *testing.T) {
	for _, c := range []struct {
		style LengthStyle
		mm    float64
		want  string
	}{
		{Millimetres, 4.8, "4.8"}, {Millimetres, 178, "178"}, {Millimetres, 100, "100"}, {Millimetres, -0.001, "0"}, {Millimetres, 0.5, "0.5"}, {Millimetres, 7.007, "7.01"},
		{DecimalInch, 4.7625, ".188"}, {DecimalInch, 266.7, "10.500"}, {DecimalInch, -3, "-.118"}, {DecimalInch, 0, ".000"}, {ShopFraction, 254, "10.000"},
	} {
		assert.Equal(t, c.want, c.style.Thickness(c.mm), "%v", c.mm)
	}
}

// TestSpread: places keep their order and their distance, stay within, do not move where
// they need not, and no other places are nearer by the sum of squares: the shares by
// which a pool moves cancel out.
func TestSpread(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 7))
	within := interval{0, 200}
	for range 300 {
		places := make([]float64, 1+random.IntN(20))
		for i := range places {
			places[i] = random.Float64() * 200
		}
		sort.Float64s(places)
		got := spread(places, 5, within)
		for i := range got {
			assert.True(t, got[i] >= -1e-9 && got[i] <= 200+1e-9)
			if i > 0 {
				assert.GreaterOrEqual(t, got[i]-got[i-1], 5-1e-9)
			}
		}
	}
	assert.Equal(t, []float64{10, 30, 60}, spread([]float64{10, 30, 60}, 5, within))
	assert.InDeltaSlice(t, []float64{47.5, 52.5}, spread([]float64{50, 50}, 5, within), 1e-9)
	assert.InDeltaSlice(t, []float64{0, 5, 30}, spread([]float64{0, 1, 30}, 5, within), 1e-9)
}

// TestStackedDimensionsAreClear: however dimensions lie, no text meets another, and each
// dimension line of a tier keeps to itself.
func TestStackedDimensionsAreClear(t *testing.T) {
	ruler, err := sheet.NewRuler()
	require.NoError(t, err)
	random := rand.New(rand.NewPCG(11, 5))
	for range 60 {
		var dims []linear
		for range 1 + random.IntN(8) {
			a, b := random.Float64()*120, random.Float64()*120
			if random.IntN(3) == 0 {
				b = a + random.Float64()*3
			}
			dims = append(dims, linear{geom.Point{X: 50 + a, Y: 40}, geom.Point{X: 50 + b, Y: 40}, Millimetres.Thickness(math.Abs(b-a) * 100)})
		}
		s := sheet.Sheet{Title: "x", Width: 300, Height: 200}
		p := pencil{&s, ruler, Millimetres, planLetter}
		k := stack{base: 50, outward: 1}
		p.stacked(k, dims)
		requireClear(t, s, planLetter, 0, "stack")
		arranged := k.arrange(p, dims)
		require.Len(t, arranged, len(dims))
		for i, d := range arranged {
			for _, e := range arranged[:i] {
				if d.tier == e.tier {
					first := interval{math.Min(d.from.X, d.to.X), math.Max(d.from.X, d.to.X)}
					assert.False(t, first.meets(interval{math.Min(e.from.X, e.to.X), math.Max(e.from.X, e.to.X)}))
				}
			}
		}
	}
}
