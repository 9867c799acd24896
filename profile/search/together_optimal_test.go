package search

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTheLeastChangeIsShownToBe: two lengths move one weight linearly, 3 x + 4 y = 10. The
// least change is 10/25 of (3, 4); with y at no more than 1 it is (2, 1), with x at no more
// than 1 by a check it is (1, 1.75).
func TestTheLeastChangeIsShownToBe(t *testing.T) {
	p := Together{Parameters: parameters(2, 10), Goals: []Goal{{10, 1e-6}}, Check: free,
		Values: func(at []float64) []float64 { return []float64{3*at[0] + 4*at[1]} }}
	a := SolveTogether(p)
	assert.InDeltaSlice(t, []float64{1.2, 1.6}, a.At, 1e-6)
	assert.True(t, a.Stationary)

	p.Parameters[1].Most = 1
	a = SolveTogether(p)
	assert.InDeltaSlice(t, []float64{2, 1}, a.At, 1e-6)
	assert.True(t, a.Stationary, "at a limit")

	p.Parameters[1].Most, p.Check = 10, over("x is too great", func(at []float64) bool { return at[0] > 1 })
	a = SolveTogether(p)
	require.True(t, a.Barred)
	assert.InDeltaSlice(t, []float64{1, 1.75}, a.At, 1e-3)
	assert.True(t, a.Stationary, "at a check")
}

// TestWhatIsNotTheLeastIsNotShown: places that meet the target but lie aside of the least
// change do not pass the conditions, neither between the limits, nor at one that pushes
// the other way, nor where checks bar the longer side alone.
func TestWhatIsNotTheLeastIsNotShown(t *testing.T) {
	p := Together{Parameters: parameters(2, 10), Goals: []Goal{{10, 1e-6}}, Check: free,
		Values: func(at []float64) []float64 { return []float64{3*at[0] + 4*at[1]} }}
	s := &together{Together: p, least: []float64{-10, -10}, most: []float64{10, 10}}
	assert.True(t, s.stationary([]float64{1.2, 1.6}))
	assert.False(t, s.stationary([]float64{1.24, 1.57}))
	assert.False(t, s.stationary([]float64{2, 1}))
	s.least[0] = -2
	assert.False(t, s.stationary([]float64{-2, 4}), "the lower limit of x does not keep it from 1.2")
	s.least[0], s.least[1] = -10, 1
	assert.False(t, s.stationary([]float64{2, 1}), "the lower limit of y does not keep it from 1.6")
	s.least[1], s.Check = -10, over("x is too great", func(at []float64) bool { return at[0] > 2 })
	assert.False(t, s.stationary([]float64{2, 1}), "the check bars the longer side")
}
