package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath"
)

// TestBoughtCutterAsSaid: the keys that a way out names, a line each in a shop file of either
// unit, are the cutter that was tried.
func TestBoughtCutterAsSaid(t *testing.T) {
	want := toolpath.Cutter{Name: "ball 2.5, to be bought", End: toolpath.BallEnd, Diameter: 2.5, RunOut: 0.005, Flutes: 2, FluteLength: 5,
		ShankDiameter: 6, StickOut: 7.5, HolderRadius: 16, Material: "carbide", Coated: true}
	_, keys, found := strings.Cut(sayBought(want), "in the shop file, ")
	require.True(t, found)
	const machine = "[machine]\ntravel_x = 60\ntravel_y = 30\ntravel_z = 30\nspindle_least = 200\nspindle_most = 5000\npower = 750\nfeed_most = 60\nrapid = 100\nacceleration = 6\n[work]\nclearance = 1\n"
	for _, unit := range []string{"mm", "in"} {
		text := "units = \"" + unit + "\"\n" + machine + "[[cutter]]\n" + strings.ReplaceAll(keys, ", ", "\n") + "\n"
		shop, err := toolpath.ParseShop("shop.toml", []byte(text))
		require.NoError(t, err, unit)
		got := shop.Cutters[len(shop.Cutters)-1]
		assert.Equal(t, "new ball 2.5", got.Name)
		assert.InDelta(t, want.HolderRadius, got.HolderRadius, 1e-9)
		for _, pair := range [][2]float64{{want.Diameter, got.Diameter}, {want.FluteLength, got.FluteLength}, {want.ShankDiameter, got.ShankDiameter}, {want.StickOut, got.StickOut}, {want.RunOut, got.RunOut}} {
			assert.InDelta(t, pair[0], pair[1], 1e-9, unit)
		}
		assert.Equal(t, []any{want.End, want.Flutes, want.Material, want.Coated}, []any{got.End, got.Flutes, got.Material, got.Coated})
	}
}
