package profile_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/templates"
)

// TestQuantities: what is put in a copy of a knife is found there, changes nothing of the
// knife itself, and is what the edits write into its file.
func TestQuantities(t *testing.T) {
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		k, err := profile.Parse(name, data)
		require.NoError(t, err)
		require.Empty(t, k.EditsTo(k), name)
		for _, q := range k.Quantities() {
			was := q.Of(k)
			moved := k.Copied()
			q.Put(&moved, was*1.0001+1e-4)
			assert.Equal(t, was, q.Of(k), "%s %s", name, q.Key)
			assert.Equal(t, was*1.0001+1e-4, q.Of(moved), "%s %s", name, q.Key)
			least, most := q.Limits()
			assert.True(t, least == 0 && most == 0 || was >= least && was <= most, "%s %s", name, q.Key)
		}
	}
	data, _ := templates.Pattern("tarn")
	k, err := profile.Parse("tarn.toml", data)
	require.NoError(t, err)
	moved := k.Copied()
	moved.Blade.Length, moved.Taper[1].Thickness, moved.Fullers[0].Depth.Value = 180.25, 3.1, 0.9
	edited, err := profile.Parse("tarn.toml", document.Apply(data, k.Units, k.EditsTo(moved)))
	require.NoError(t, err)
	assert.InDelta(t, 180.25, edited.Blade.Length, 1e-9)
	assert.InDelta(t, 3.1, edited.Taper[1].Thickness, 1e-9)
	assert.InDelta(t, profile.GrooveWidth(6, 0.9), edited.Fullers[0].Width.Value, 1e-5, "a width given besides radius and depth follows")
}

// TestQuickOutlineIsTheOutline: it is what Build makes, in the order that it promises.
func TestQuickOutlineIsTheOutline(t *testing.T) {
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		k, err := profile.Parse(name, data)
		require.NoError(t, err)
		blade, err := profile.Build(k, profile.Measured{})
		require.NoError(t, err)
		quick, err := k.QuickOutline()
		require.NoError(t, err)
		assert.Equal(t, blade.Outline, quick, name)
		pieces := quick.Pieces()
		assert.InDelta(t, 0, pieces[0].Start().X, 1e-12, name)
		assert.Less(t, pieces[1].End().X, 0.0, "%s goes round the tang first", name)
		k.Clip.Length = 2 * k.Blade.Length
		_, err = k.QuickOutline()
		assert.ErrorContains(t, err, "clip must end before the plunge line")
	}
}
