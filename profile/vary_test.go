package profile

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/document"
	"fullerwright/templates"
)

// variedFiles returns patterns with every kind of group, in millimetres and in inches.
func variedFiles() map[string][]byte {
	out := map[string][]byte{}
	for name, unit := range map[string]document.Unit{"tarn": document.Inch, "rook": document.Millimetre, "osprey": document.Millimetre} {
		data, _ := templates.Pattern(name)
		out[name] = InUnits(data, unit)
	}
	return out
}

// TestVaryingNothingChangesNothing: at its own values a knife is the same, and so is every
// byte of its file.
func TestVaryingNothingChangesNothing(t *testing.T) {
	for name, data := range variedFiles() {
		k, err := Parse(name, data)
		require.NoError(t, err)
		var keys []string
		var values []float64
		for _, v := range k.Variables() {
			if !derivedFrom(k, v.Key) { // which is made exact where it is asked for
				keys, values = append(keys, v.Key), append(values, v.Value)
			}
		}
		varier, err := k.Varier(keys...)
		require.NoError(t, err, name)
		same, err := varier.At(values)
		require.NoError(t, err, name)
		assert.Empty(t, Differences(k, same), name)
		assert.Empty(t, varier.Changes(values), name)
		assert.Equal(t, string(data), string(k.Rewrite(data, varier.Changes(values))), name)
	}
}

// TestVariedAsItIsWritten: each number of each pattern, made a hundredth greater, is read
// back from the file that is written, and nothing else of the knife moves but what the
// changes name.
func TestVariedAsItIsWritten(t *testing.T) {
	varied := 0
	for name, data := range variedFiles() {
		k, err := Parse(name, data)
		require.NoError(t, err)
		for _, v := range k.Variables() {
			value := []float64{v.Value * 1.01}
			varier, err := k.Varier(v.Key)
			require.NoError(t, err)
			moved, err := varier.At(value)
			if err != nil || v.Value == 0 {
				continue // it leaves no room for something else
			}
			varied++
			changes := varier.Changes(value)
			read, err := Parse("varied.toml", k.Rewrite(data, changes))
			require.NoError(t, err, "%s %s", name, v.Key)
			named := map[string]bool{}
			for _, c := range changes {
				named[c.Key] = true
			}
			for _, d := range Differences(k, read) {
				assert.True(t, named[d.Key], "%s: %s moved with %s", name, d.Key, v.Key)
			}
			after, err := read.Variable(v.Key)
			require.NoError(t, err)
			const written = 2e-6 * 25.4 // of an inch
			if !derivedFrom(k, v.Key) {
				assert.InDelta(t, value[0], after.Value, written, "%s %s", name, v.Key)
			}
			assert.Empty(t, Differences(moved, read), "%s %s", name, v.Key)
		}
	}
	assert.Greater(t, varied, 120)
}

// derivedFrom reports whether a key follows from others, so that it cannot be varied.
func derivedFrom(k Knife, key string) bool {
	for _, d := range k.redundant() {
		if d.name() == key {
			return true
		}
	}
	return false
}

// TestVariedWidthFollows: the width that a file gives besides radius and depth is made to
// agree by the handbook's formula of a segment's chord.
func TestVariedWidthFollows(t *testing.T) {
	k := parsePattern(t, "tarn")
	varier, err := k.Varier("fuller.depth")
	require.NoError(t, err)
	moved, err := varier.At([]float64{1.2})
	require.NoError(t, err)
	assert.InDelta(t, 2*math.Sqrt(2*6*1.2-1.2*1.2), moved.Fullers[0].Width.Value, 1e-12)
	assert.Equal(t, 0.8, k.Fullers[0].Depth.Value, "the knife it came from stays")
}

func TestWhatCannotBeVaried(t *testing.T) {
	tarn, wren, rook := parsePattern(t, "tarn"), parsePattern(t, "wren"), parsePattern(t, "rook")
	for _, row := range []struct {
		knife     Knife
		key, says string
	}{
		{tarn, "fuller.dept", "did you mean fuller.depth?"},
		{tarn, "handel.length", "did you mean handle.length?"},
		{tarn, "beauty", "fullerwright help keys lists the keys"},
		{tarn, "fuller.web", "the file leaves it out"},
		{tarn, "blade.steel", "a word, not a number"},
		{tarn, "units", "a word, not a number"},
		{tarn, "second_edge.length", "the file says nothing of second_edge"},
		{tarn, "fuller[2].depth", "fuller"},
		{wren, "fuller.depth", "the file says nothing of fuller"},
		{rook, "taper.at", "name one of taper[1].at, taper[2].at"},
	} {
		_, err := row.knife.Varier(row.key)
		if assert.Error(t, err, row.key) {
			assert.Contains(t, err.Error(), row.says, row.key)
		}
	}
	_, err := tarn.Varier("bevel.height", "bevel.height")
	assert.ErrorContains(t, err, "named twice")
	_, err = tarn.Varier("beauty", "weight")
	assert.ErrorContains(t, err, "beauty")
	assert.ErrorContains(t, err, "weight", "both faults at once")
}

func TestDifferences(t *testing.T) {
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		a, err := Parse(name, InUnits(data, document.Millimetre))
		require.NoError(t, err)
		b, err := Parse(name, InUnits(data, document.Inch))
		require.NoError(t, err)
		got := Differences(a, b)
		require.Len(t, got, 1, "%v", got)
		assert.Equal(t, Difference{"units", got[0].Meaning, `"mm"`, `"in"`}, got[0])
		assert.Greater(t, Alike(a, b), 50)
	}
	a, b := parsePattern(t, "tarn"), parsePattern(t, "tarn")
	b.Fullers = append(b.Fullers, b.Fullers[0])
	b.Clip.Drop += 0.01
	got := Differences(a, b)
	assert.Equal(t, "clip.drop", got[0].Key)
	assert.Equal(t, "9.01 mm", got[0].B)
	for _, d := range got[1:] {
		assert.Contains(t, d.Key, "fuller[2].")
		assert.Empty(t, d.A)
	}
}

// TestRewrittenInFewDigits: a value of few decimals is written with those, one of many
// with six at most, as a calculated one.
func TestRewrittenInFewDigits(t *testing.T) {
	k := parsePattern(t, "tarn")
	data, _ := templates.Pattern("tarn")
	for value, want := range map[float64]string{9.25: "= 9.25 ", 9.5: "= 9.5 ", 9: "= 9\n", 9.123456789: "= 9.123457"} {
		varier, err := k.Varier("pommel.length")
		require.NoError(t, err)
		_, pommel, _ := strings.Cut(string(k.Rewrite(data, varier.Changes([]float64{value}))), "[pommel]")
		assert.Contains(t, pommel+" ", strings.TrimSpace(want), "%g", value)
		assert.NotContains(t, pommel, strings.TrimSpace(want)+"0", "%g", value)
	}
}
