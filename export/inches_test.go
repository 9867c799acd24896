package export

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/templates"
)

// textsOfSheet returns all that is written on a sheet.
func textsOfSheet(s sheet.Sheet) []string {
	out := []string{s.Title, s.Description}
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			if text, is := item.(sheet.Text); is {
				out = append(out, text.Content)
			}
		}
	}
	return out
}

// TestInchKnivesAreDrawnInInches: on the overlay of a knife in inches no millimetre is
// written, and the scale under it counts inches: the tick at 2 lies 50.8 mm of steel from
// that at 0.
func TestInchKnivesAreDrawnInInches(t *testing.T) {
	data, found := templates.Pattern("brock")
	require.True(t, found)
	knife, err := profile.Parse("brock.toml", data)
	require.NoError(t, err)
	require.Equal(t, document.Inch, knife.Units)
	b, err := profile.Build(knife, profile.Measured{})
	require.NoError(t, err)
	s := Overlay(b, b, "one", "other")
	for _, text := range textsOfSheet(s) {
		assert.NotRegexp(t, `\bmm\b`, text)
	}
	blades := [2]profile.Blade{b, b}
	v := overlayView(blades, 0)
	var drawn sheet.Sheet
	v.drawScale(&drawn, document.Inch)
	for _, layer := range drawn.Layers {
		for _, item := range layer.Items {
			if text, is := item.(sheet.Text); is && text.Content == "2" {
				assert.InDelta(t, 2*25.4*v.scale, text.At.X-v.origin.X, 1e-9)
				return
			}
		}
	}
	assert.Fail(t, "the scale has no tick at 2 inches")
}
