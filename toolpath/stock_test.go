package toolpath

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/templates"
)

// thicknessesOf returns the thicknesses of bars, each once.
func thicknessesOf(s profile.Stores) []float64 {
	var out []float64
	for _, b := range s.Bars {
		if len(out) == 0 || out[len(out)-1] != b.Thickness {
			out = append(out, b.Thickness)
		}
	}
	return out
}

// TestUsualStock holds the usual sizes against those of published lists of ground flat
// stock, in millimetres as trade tables print them.
func TestUsualStock(t *testing.T) {
	shop := builtInShop(t)
	assert.Equal(t, []float64{2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 8}, thicknessesOf(shop.Stores("1084", document.Millimetre, 0)))
	inch := thicknessesOf(shop.Stores("1084", document.Inch, 0))
	require.Len(t, inch, 6)
	for i, want := range []float64{2.38125, 3.175, 3.96875, 4.7625, 5.55625, 6.35} { // 3/32 to 1/4 in
		assert.InDelta(t, want, inch[i], 1e-9)
	}
	asked := thicknessesOf(shop.Stores("1084", document.Millimetre, 4.7625))
	require.Len(t, asked, 10, "3/16 in asked for is a size too")
	assert.InDelta(t, 4.7625, asked[9], 1e-9)
	assert.Len(t, thicknessesOf(shop.Stores("1084", document.Millimetre, 4.9)), 9)
}

// TestOwnStock: the bars of the shop file are all there are, those of another steel not.
func TestOwnStock(t *testing.T) {
	text := string(templates.Shop()) + `
[[stock]]
thickness = "1/4 in"
width = 38
[[stock]]
thickness = 5
steel = "O1"
`
	shop, err := ParseShop("shop.toml", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, []profile.StockSize{{Thickness: 6.35, Width: 38}}, shop.Stores("1084", document.Millimetre, 3).Bars)
	assert.Equal(t, []profile.StockSize{{Thickness: 6.35, Width: 38}, {Thickness: 5}}, shop.Stores("O1", document.Inch, 3).Bars)
	assert.Equal(t, []float64{6, 5, 4, 3, 2, 0.25}, shop.Stores("O1", document.Inch, 3).Balls)
	_, err = ParseShop("shop.toml", []byte(string(templates.Shop())+"\n[[stock]]\nwidth = 30\nthicknes = 5\n"))
	assert.ErrorContains(t, err, "stock[1].thickness")
	assert.ErrorContains(t, err, "did you mean")
}
