package profile_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
)

// bayonet has the published figures of the American service bayonet of 1905: blade 16 in long
// and 1 in high, false edge 5 in, true edge 14.5 in, fuller 0.375 in high and 12 in long
// (cruffler.com, Technical Trivia, September 2001, which cites a printed reference; read). The
// rest is not published there and is ours: thickness and taper, point, tang, where the fuller
// lies and how deep it is.
const bayonet = `units = "in"
[blade]
length = 16 # published
width = 1 # published
thickness = 0.25
[[taper]]
at = 14
thickness = 0.2
[clip]
length = 5 # as the false edge, common practice, no source
drop = 0.4
[false_edge]
length = 5 # published
height = 0.15
thickness = 0.04
[edge]
belly_length = 2.5
point_angle = 30
[ricasso]
length = 1.5 # published: 16 less a true edge of 14.5
[bevel]
height = 0.3
[tang]
width = 0.5
length = 4
[[fuller]]
radius = 0.375
depth = 0.0502 # what the published height and the radius make it
width = 0.375 # published
from_spine = 0.4
start = 1.5
length = 12 # published
`

// TestPublishedBayonetResized: the same collectors' pages tell bayonets cut down from 16 to 10 in
// from those made at 10 in: on the one the fuller runs out through the point, on the other it
// stops short of it (bladeforums 1246051, read). A resizing that keeps the fuller's place is the
// cut-down and is refused; along the blade it is the one made new, with the proportions of the old.
func TestPublishedBayonetResized(t *testing.T) {
	old, err := profile.Parse("bayonet.toml", []byte(bayonet))
	require.NoError(t, err)
	_, err = profile.Build(old, profile.Measured{})
	require.NoError(t, err)

	made, _, err := profile.Resize("bayonet.toml", []byte(bayonet), profile.Resizing{Length: 10 * inch})
	require.NoError(t, err)
	k, err := profile.Parse("made.toml", made)
	require.NoError(t, err)
	_, err = profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	f, was := k.Fullers[0], old.Fullers[0]
	end := f.Start.Value + f.Length.Value
	assert.Less(t, end, k.Blade.Length, "it stops short of the point")
	edge, wasEdge := k.Blade.Length-k.Ricasso.Length, old.Blade.Length-old.Ricasso.Length
	assert.InDelta(t, 12/14.5, was.Length.Value/wasEdge, 1e-9)
	assert.InDelta(t, 12/14.5, f.Length.Value/edge, 1e-6, "as much of the true edge as on the old one")
	assert.InDelta(t, 5/14.5, k.FalseEdge.Length/edge, 1e-6)
	assert.InDelta(t, 0.375*inch, f.Width.Value, 1e-9, "no cutter changes with the length")

	cut, _, err := profile.Resize("bayonet.toml", []byte(bayonet), profile.Resizing{Length: 10 * inch, Keep: []string{"fuller.start", "fuller.length"}})
	require.NoError(t, err)
	_, err = profile.Parse("cut.toml", cut)
	assert.ErrorContains(t, err, "fuller[1]", "its end lies beyond the point")
	open := strings.Replace(string(cut), "length = 12 # published", `end_run_out = "open"`, 1)
	k, err = profile.Parse("cut.toml", []byte(open))
	require.NoError(t, err, "as it is seen on those cut down")
	_, err = profile.Build(k, profile.Measured{})
	require.NoError(t, err)

	back, _, err := profile.Resize("made.toml", made, profile.Resizing{Length: 16 * inch})
	require.NoError(t, err)
	assert.Equal(t, bayonet, string(back))
}
