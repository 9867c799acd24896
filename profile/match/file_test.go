package match

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/templates"
)

// TestFile: the knife file of a match is the pattern's with its comments; what was found
// stands in it to within half its standard error, the rest in proportion; and every other
// command can build it.
func TestFile(t *testing.T) {
	for _, name := range templates.Names() {
		r := rand.New(rand.NewPCG(11, 87))
		truth := anotherSize(t, name, r)
		m := calipered(t, truth, stations(truth), normal(r, 0.05))
		m.File = "points.csv\nlength = 3"
		got, err := Match(m, []Family{family(name)}, Options{})
		require.NoError(t, err, name)
		data, err := got.Fit.File(family(name), m)
		require.NoError(t, err, name)
		k, err := profile.Parse(name, data)
		require.NoError(t, err, name)
		_, err = profile.Build(k, profile.Measured{})
		require.NoError(t, err, name)
		written := values(k)
		for _, e := range got.Fit.Parameters {
			if written[e.Key] == 0 && e.Key == "shoulder.top" {
				continue // stands as the lower step
			}
			assert.InDelta(t, e.Value, written[e.Key], 0.51*e.Error+1e-3, "%s %s", name, e.Key)
		}
		assert.Less(t, farthestApart(t, got.Fit.Knife, k), 0.15, name)
		for line := range strings.Lines(string(family(name).Data)) {
			if _, comment, found := strings.Cut(line, "#"); found {
				assert.Contains(t, string(data), "#"+comment, "%s keeps its comments", name)
			}
		}
		pattern, err := profile.Parse(name, family(name).Data)
		require.NoError(t, err)
		if pattern.FalseEdge.Length > 0 {
			assert.InDelta(t, pattern.FalseEdge.Length/pattern.Clip.Length, k.FalseEdge.Length/k.Clip.Length, 1e-3, name)
		}
		assert.Equal(t, pattern.Guard, k.Guard, name)
	}
}

// TestRounding: to the greatest power of ten within half the standard error.
func TestRounding(t *testing.T) {
	for _, c := range []struct {
		kind              document.Kind
		unit              document.Unit
		value, err, wants float64
	}{
		{document.Length, document.Millimetre, 176.12345, 0.07, 176.12},
		{document.Length, document.Millimetre, 176.12345, 0.25, 176.1},
		{document.Length, document.Millimetre, 176.12345, 3, 176},
		{document.Length, document.Millimetre, 176.12345, 30, 180},
		{document.Length, document.Millimetre, 176.12345, 0, 176.123},
		{document.Length, document.Inch, 176.12345, 0.07, 6.934 * 25.4},
		{document.Angle, document.Millimetre, 0.66, 0.02, 37.8 * math.Pi / 180},
		{document.Number, document.Millimetre, 0.5512, 0.03, 0.55},
	} {
		assert.InDelta(t, c.wants, rounded(Estimate{Kind: c.kind, Value: c.value, Error: c.err}, c.unit), 1e-9, "%v", c)
	}
}
