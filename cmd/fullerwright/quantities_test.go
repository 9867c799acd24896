package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestProgramsAreKept: where handle and pommel alone vary, the programs of the first design
// are those of every other: its checks are what they are when it is planned for itself.
func TestProgramsAreKept(t *testing.T) {
	for pattern, keys := range map[string][]string{
		"tarn":   {"handle.length", "handle.width", "handle.thickness", "pommel.length", "pommel.width"},
		"minnow": {"handle.length", "handle.thickness"},
	} {
		in, err := (&inputs{}).readFor(pattern)
		require.NoError(t, err)
		maker := func(keys ...string) *designer {
			m, err := newDesigner(job{knife: in.knife, shop: in.shop}, keys)
			require.NoError(t, err)
			return m
		}
		kept, first := maker(keys...), []float64(nil)
		for _, v := range kept.Variables {
			first = append(first, v.Value)
		}
		assert.True(t, kept.hiltOnly)
		assert.False(t, maker(keys[0], "guard.thickness").hiltOnly)
		_, err = kept.checks(first)
		require.NoError(t, err)
		for _, share := range []float64{0.7, 1.3} {
			at := make([]float64, len(first))
			for i, v := range kept.Variables {
				at[i] = min(max(share*first[i], v.Least), v.Most)
			}
			again, err := kept.checks(at)
			require.NoError(t, err)
			fresh, err := maker(keys...).checks(at)
			require.NoError(t, err)
			require.Equal(t, len(fresh), len(again))
			for i := range fresh {
				assert.Equal(t, fresh[i].Name, again[i].Name)
				assert.Equal(t, fresh[i].Verdict, again[i].Verdict, fresh[i].Name)
				assert.InDelta(t, fresh[i].Value, again[i].Value, 1e-12, fresh[i].Name)
			}
		}
	}
}
