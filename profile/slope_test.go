package profile

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/templates"
)

// TestLowestSlopeByDifferences: the slope of the edge is what its height a little before and
// behind differs by, along lines, arcs and cubics of every pattern.
func TestLowestSlopeByDifferences(t *testing.T) {
	const step = 1e-5
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		k, err := Parse(name, data)
		require.NoError(t, err)
		b, err := Build(k, Measured{})
		require.NoError(t, err)
		edge := func(x float64) float64 { return b.Outline.Crossings(x)[0] }
		for i := range 60 {
			x := 1 + (k.Blade.Length-4)*(float64(i)+0.37)/60
			if before, after := edge(x)-edge(x-step), edge(x+step)-edge(x); after-before > 1e-7 || before-after > 1e-7 {
				continue // a corner of the edge
			}
			assert.InDelta(t, (edge(x+step)-edge(x-step))/(2*step), b.Outline.LowestSlope(x), 1e-4, "%s at %.1f", name, x)
		}
	}
}

// TestRunOutsLongerThanTheFuller: where the ends are to be seen and the run-outs between
// them meet before the floor is full, the fuller is refused with what would do, and that
// does.
func TestRunOutsLongerThanTheFuller(t *testing.T) {
	data, _ := templates.Pattern("tarn")
	k, err := Parse("tarn", data)
	require.NoError(t, err)
	f := &k.Fullers[0]
	f.Ends, f.RunOutRadius = VisibleEnds, Some(6000)
	_, err = Build(k, Measured{})
	require.ErrorContains(t, err, "its run-outs are longer than the fuller")
	assert.ErrorContains(t, err, "run_out_radius")
	f.RunOutRadius = Some(30)
	_, err = Build(k, Measured{})
	assert.NoError(t, err)
}
