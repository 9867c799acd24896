package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/search"
)

// severalGoals are ways to aim at two measures at once.
func severalGoals() []question {
	return []question{
		{"wren", "weight balance", []string{"bevel.height", "handle.length"}, 3, 0},
		{"minnow", "weight balance", []string{"handle.width", "guard.thickness", "blade.thickness"}, 3, 0},
		{"tarn", "weight web", []string{"fuller.depth", "pommel.length"}, 2, 0},
	}
}

// TestAimAtSeveralGoals takes random designs that pass every check, and aims at what they
// come to: each goal is met, by a change no greater than that design's.
func TestAimAtSeveralGoals(t *testing.T) {
	for i, q := range severalGoals() {
		t.Run(fmt.Sprintf("%s %s %v", q.pattern, q.measure, q.keys), func(t *testing.T) {
			t.Parallel()
			random := rand.New(rand.NewPCG(2028, uint64(i)))
			a := q.asked(t)
			for n := 0; n < q.feasible; {
				at := make([]float64, len(a.Variables))
				for j, v := range a.Variables {
					at[j] = min(max(v.Value*(0.8+0.4*random.Float64()), v.Least), v.Most)
				}
				values := a.values(at)
				if math.IsNaN(values[0]+values[1]) || !a.passes(at) {
					continue
				}
				n++
				for j := range a.goals {
					a.goals[j].target = values[j]
				}
				a.holds(t, at)
			}
		})
	}
}

// TestAimAtSeveralOutOfReach: with the web below what the shop allows, the other goal is
// still met, and the web comes to its limit.
func TestAimAtSeveralOutOfReach(t *testing.T) {
	a := question{pattern: "tarn", measure: "weight web", keys: []string{"fuller.depth", "pommel.length"}}.asked(t)
	a.goals[0].target, a.goals[1].target = 240, 1.4
	answer := a.solve()
	require.False(t, answer.Reached)
	require.True(t, answer.Found)
	assert.True(t, a.passes(answer.At))
	assert.Equal(t, "web, fuller 1", answer.Beyond.Name)
	assert.InDelta(t, 240, answer.Values[0], 3*a.goals[0].tolerance)
	assert.InDelta(t, a.in.shop.Limits.Web, answer.Values[1], a.goals[1].tolerance)
}

// TestAimAgainstADenseGrid: of the designs of a dense grid over two numbers that come to
// one target, none that passes its checks changes less than the answer.
func TestAimAgainstADenseGrid(t *testing.T) {
	for _, row := range []struct {
		question
		target float64
	}{
		{question{pattern: "wren", measure: "balance", keys: []string{"handle.length", "bevel.height"}}, 5},
		{question{pattern: "tarn", measure: "web", keys: []string{"fuller.depth", "blade.thickness"}}, 1.52},
	} {
		a := row.asked(t)
		a.goals[0].target = row.target
		answer := a.solve()
		require.True(t, answer.Reached, row.pattern)
		least := a.leastOfGrid(150)
		assert.LessOrEqual(t, answer.Change, 1.002*least+0.001, "%s: %v", row.pattern, answer.At)
		assert.GreaterOrEqual(t, answer.Change, 0.98*least-0.002, "the grid comes close to it: %v", answer.At)
	}
}

// leastOfGrid returns the least change of the designs that come to the goal and pass their
// checks, for so many values of the first number; the second is solved for.
func (a aiming) leastOfGrid(values int) float64 {
	least := math.Inf(1)
	first, second := a.Variables[0], a.Variables[1]
	for i := range values {
		x := first.Value * (0.4 + 1.2*float64(i)/float64(values-1))
		off := func(y float64) float64 { return a.values([]float64{x, y})[0] - a.goals[0].target }
		// Both sides of the second number, so that each holds one root at most.
		for _, end := range []float64{max(second.Least, 0.4*second.Value), min(second.Most, 1.6*second.Value)} {
			low, high := off(end), off(second.Value)
			if math.IsNaN(low+high) || (low < 0) == (high < 0) {
				continue
			}
			y := search.Root(off, search.Bracket{A: end, B: second.Value, FA: low, FB: high}, 1e-6)
			if change := a.change([]float64{x, y}); change < least && a.passes([]float64{x, y}) {
				least = change
			}
		}
	}
	return least
}
