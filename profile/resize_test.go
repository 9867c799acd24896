package profile_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
)

// resizeTo resizes to a blade of length mm and reads the result.
func resizeTo(t *testing.T, data []byte, mm float64) []byte {
	t.Helper()
	out, _, err := profile.Resize("knife.toml", data, profile.Resizing{Length: mm})
	require.NoError(t, err)
	return out
}

func TestResizeKeepsTheOrderOfStationsAndTheRicasso(t *testing.T) {
	data, _ := templates.Pattern(templates.Default)
	before, err := profile.Parse("knife.toml", data)
	require.NoError(t, err)
	after, err := profile.Parse("knife.toml", resizeTo(t, data, before.Blade.Length+12))
	require.NoError(t, err)
	assert.Equal(t, before.Ricasso, after.Ricasso)
	assert.Equal(t, before.Tang, after.Tang)
	assert.Equal(t, before.Fullers[0].Radius, after.Fullers[0].Radius)
	stretch := (after.Blade.Length - after.Ricasso.Length) / (before.Blade.Length - before.Ricasso.Length)
	for i := range before.Taper {
		assert.InDelta(t, (before.Taper[i].At-before.Ricasso.Length)*stretch, after.Taper[i].At-after.Ricasso.Length, 1e-5)
	}
	assert.InDelta(t, before.Clip.Length*stretch, after.Clip.Length, 1e-5)
}

// TestWidthsAgree: a fuller that is given its width besides its radius and depth moves with
// what those make of it, whatever is resized, and stays by what its author rounded it.
func TestWidthsAgree(t *testing.T) {
	data, _ := templates.Pattern(templates.Default)
	old, err := profile.Parse("knife.toml", data)
	require.NoError(t, err)
	rounded := old.Fullers[0].Width.Value - profile.GrooveWidth(old.Fullers[0].Radius, old.Fullers[0].Depth.Value)
	for _, r := range []profile.Resizing{{Width: 34}, {Width: 27}, {Stock: 6}, {Length: 200, Width: 33, Stock: 5.5}} {
		out, changes, err := profile.Resize("knife.toml", data, r)
		require.NoError(t, err)
		k, err := profile.Parse("knife.toml", out)
		require.NoError(t, err, "%+v", r)
		f := k.Fullers[0]
		assert.InDelta(t, profile.GrooveWidth(f.Radius, f.Depth.Value)+rounded, f.Width.Value, 1e-5)
		assert.NotEmpty(t, changes)
	}
}

// TestTargetsAreGivenAsTheReason: of what was asked for the table says so.
func TestTargetsAreGivenAsTheReason(t *testing.T) {
	data, _ := templates.Pattern(templates.Default)
	for _, c := range []struct {
		key, why string
		r        profile.Resizing
	}{
		{"blade.length", "the length asked for", profile.Resizing{Length: 190}},
		{"blade.length", "overall length asked for", profile.Resizing{Overall: 300}},
		{"blade.width", "the width asked for", profile.Resizing{Width: 33}},
		{"blade.thickness", "leave of the stock", profile.Resizing{Stock: 6}},
		{"clip.length", "stretches with it", profile.Resizing{Length: 190, Width: 33}},
	} {
		_, changes, err := profile.Resize("knife.toml", data, c.r)
		require.NoError(t, err)
		i := slices.IndexFunc(changes, func(change profile.Change) bool { return change.Key == c.key })
		require.GreaterOrEqual(t, i, 0, c.key)
		assert.Contains(t, changes[i].Why, c.why)
	}
}

// TestResizeAddsNoFeature: thicker stock does not write a false edge into a file that has
// none.
func TestResizeAddsNoFeature(t *testing.T) {
	data, _ := templates.Pattern("wren")
	out, _, err := profile.Resize("wren.toml", data, profile.Resizing{Stock: 4.5})
	require.NoError(t, err)
	assert.NotContains(t, string(out), "false_edge")
	assert.Equal(t, strings.Count(string(data), "["), strings.Count(string(out), "["))
}

func TestResizeRefusesWhatContradicts(t *testing.T) {
	data, _ := templates.Pattern(templates.Default)
	for want, r := range map[string]profile.Resizing{
		"nothing to resize to":      {},
		"stands alone":              {Scale: 2, Length: 100},
		"both set the length":       {Length: 100, Overall: 300},
		"cannot both be kept":       {Length: 100, Keep: []string{"clip.length"}, Follow: map[string]profile.ResizeClass{"clip.length": profile.Across}},
		"asked to change":           {Length: 100, Keep: []string{"blade.length"}},
		"there is no length":        {Length: 100, Keep: []string{"clip.lenght"}},
		"nothing in front":          {Overall: 20},
		"must be greater than 0":    {Length: math.NaN()},
		"used up by the allowances": {Stock: 0.1},
	} {
		_, _, err := profile.Resize("knife.toml", data, r)
		assert.ErrorContains(t, err, want)
	}
}
