package profile_test

import (
	"fmt"
	"math"
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

func TestResizeThereAndBackGivesTheFileByteForByte(t *testing.T) {
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		knife, err := profile.Parse(name, data)
		require.NoError(t, err)
		for _, share := range []float64{0.6, 0.73, 0.9, 1.1, 1.37, 1.6} {
			longer := resizeTo(t, data, math.Round(knife.Blade.Length*share*10)/10)
			_, err := profile.Parse(name, longer)
			require.NoError(t, err, "%s at %.2f", name, share)
			assert.Equal(t, string(data), string(resizeTo(t, longer, knife.Blade.Length)), "%s at %.2f", name, share)
		}
	}
}

func TestScaleIsATrueSimilarity(t *testing.T) {
	for _, name := range templates.Names() {
		for _, s := range []float64{0.93, 1.07} {
			data, _ := templates.Pattern(name)
			before, err := profile.Parse(name, data)
			require.NoError(t, err)
			out, _, err := profile.Resize(name, data, profile.Resizing{Scale: s})
			require.NoError(t, err)
			after, err := profile.Parse(name, out)
			require.NoError(t, err, "%s at %.2f", name, s)
			assertScaled(t, fmt.Sprintf("%s at %g", name, s), before, after, s)
		}
	}
}

func assertScaled(t *testing.T, label string, before, after profile.Knife, s float64) {
	t.Helper()
	was, err := profile.Build(before, profile.Measured{})
	require.NoError(t, err, label)
	is, err := profile.Build(after, profile.Measured{})
	require.NoError(t, err, label)
	assert.InEpsilon(t, was.Outline.Area()*s*s, is.Outline.Area(), 1e-9, label)
	assert.InEpsilon(t, before.OverallLength()*s, after.OverallLength(), 1e-9, label)
	assert.InEpsilon(t, was.Bar.Width()*s, is.Bar.Width(), 1e-9, label)
	body := func(b profile.Blade) float64 { return profile.WeightOf(b.Parts(7.85)).Mass }
	if before.Tang.Thread == "" { // a thread keeps its size
		within := 1e-9
		for _, f := range before.Fullers {
			if f.Follows == profile.FollowsSpine {
				within = 1e-7 // its centreline is followed in chords of half a micrometre, at any size
			}
		}
		assert.InEpsilon(t, body(was)*s*s*s, body(is), within, label)
	}
	for i := range 20 {
		x := before.Blade.Length * float64(i) / 20
		assert.InEpsilon(t, was.Bar.Thickness(x)*s, is.Bar.Thickness(x*s), 1e-9, label)
	}
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

// TestWidthsAgree: a fuller that is given its width besides its radius and depth keeps
// what those make of it, whatever is resized.
func TestWidthsAgree(t *testing.T) {
	data, _ := templates.Pattern(templates.Default)
	for _, r := range []profile.Resizing{{Width: 34}, {Width: 27}, {Stock: 6}, {Length: 200, Width: 33, Stock: 5.5}} {
		out, changes, err := profile.Resize("knife.toml", data, r)
		require.NoError(t, err)
		k, err := profile.Parse("knife.toml", out)
		require.NoError(t, err, "%+v", r)
		f := k.Fullers[0]
		assert.InDelta(t, profile.GrooveWidth(f.Radius, f.Depth.Value), f.Width.Value, 1e-5)
		assert.NotEmpty(t, changes)
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
