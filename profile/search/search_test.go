package search

import (
	"context"
	"math"
	"slices"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// free is a check that nothing stands in the way of.
func free([]float64) Obstacle { return Obstacle{} }

// over stands in the way where a condition holds.
func over(name string, holds func(at []float64) bool) func([]float64) Obstacle {
	return func(at []float64) Obstacle {
		if holds(at) {
			return Obstacle{Name: name, Excess: 1}
		}
		return Obstacle{}
	}
}

func TestRoot(t *testing.T) {
	calls := 0
	for _, row := range []struct {
		name              string
		f                 func(float64) float64
		a, b, want, error float64
		most              int // values looked at
	}{
		{"line", func(x float64) float64 { return x - 0.3 }, 0, 1, 0.3, 1e-15, 6},
		{"cosine", func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 0.7390851332151607, 1e-15, 12},
		{"flat cube", func(x float64) float64 { return math.Pow(x-1, 3) }, 0, 3, 1, 1e-5, 120},
		{"kink", func(x float64) float64 { return max(x-1, 10*(x-1)) }, -5, 5, 1, 1e-15, 60},
		{"jump", func(x float64) float64 { return math.Copysign(1, x-0.7) }, 0, 1, 0.7, 1e-15, 120},
		{"falling", func(x float64) float64 { return math.Exp(-x) - 0.5 }, 0, 20, math.Ln2, 1e-14, 30},
		{"infinite on one side", func(x float64) float64 {
			if x < 0.5 {
				return math.Inf(-1)
			}
			return x - 0.625
		}, 0, 1, 0.625, 1e-15, 60},
	} {
		calls = 0
		f := func(x float64) float64 { calls++; return row.f(x) }
		got := Root(f, Bracket{row.a, row.b, row.f(row.a), row.f(row.b)}, 0)
		assert.InDelta(t, row.want, got, row.error, row.name)
		assert.LessOrEqual(t, calls, row.most, row.name)
	}
}

// one is a problem with one parameter from 0 to 10 that starts at 2.
func one(value func(float64) float64, target float64, check func([]float64) Obstacle) Problem {
	return Problem{Parameter: Parameter{Name: "x", Start: 2, Least: 0, Most: 10, Scale: 2}, Goal: Goal{target, 1e-6},
		Value: value, Check: func(at float64) Obstacle { return check([]float64{at}) }}
}

func TestSolveOneParameter(t *testing.T) {
	square := func(x float64) float64 { return x * x }
	hill := func(x float64) float64 { return 9 - (x-5)*(x-5) }
	for _, row := range []struct {
		name    string
		problem Problem
		want    float64
	}{
		{"there already", one(square, 4, free), 2},
		{"ahead", one(square, 49, free), 7},
		{"behind", one(square, 0.25, free), 0.5},
		{"the nearer of two", one(hill, 5, free), 3},
		{"the further of two, where the nearer does not pass", one(hill, 5, over("low", func(at []float64) bool { return at[0] < 4 })), 7},
		{"the top itself", one(hill, 9, free), 5},
		{"at the limit", one(square, 100, free), 10},
		{"beside a stretch without designs", one(func(x float64) float64 {
			if x > 3 && x < 6 {
				return math.NaN()
			}
			return x
		}, 6.0001, free), 6.0001},
	} {
		a := Solve(row.problem)
		require.True(t, a.Reached, row.name)
		assert.InDelta(t, row.problem.Target, a.Values[0], row.problem.Tolerance, row.name)
		assert.InDelta(t, row.want, a.At[0], 1e-3, row.name) // a top is found to the root of the tolerance
		assert.InDelta(t, math.Abs(a.At[0]-2)/2, a.Change, 1e-12, row.name)
	}
}

func TestSolveSaysWhyNot(t *testing.T) {
	square := func(x float64) float64 { return x * x }
	a := Solve(one(square, 200, free))
	assert.False(t, a.Reached)
	assert.Equal(t, "x", a.AtLimit)
	assert.InDelta(t, 100, a.Values[0], 1e-9)

	a = Solve(one(square, 49, over("too long", func(at []float64) bool { return at[0] > 6.25 })))
	assert.False(t, a.Reached)
	assert.Equal(t, "too long", a.Beyond.Name)
	assert.Empty(t, a.AtLimit)
	assert.InDelta(t, 6.25, a.At[0], 1e-6)
	assert.LessOrEqual(t, a.At[0], 6.25)

	near := one(square, 39, over("too long", func(at []float64) bool { return at[0] > 6.24 }))
	near.Tolerance = 0.1
	a = Solve(near)
	assert.True(t, a.Reached, "what is sound ends within the tolerance")
	assert.InDelta(t, 6.24, a.At[0], 1e-6)

	a = Solve(one(func(x float64) float64 { return 9 - (x-5)*(x-5) }, 12, free))
	assert.False(t, a.Reached)
	assert.Equal(t, -1, a.Still)
	assert.Empty(t, a.Beyond.Name+a.AtLimit, "it turns back")
	assert.InDelta(t, 9, a.Values[0], 1e-6)

	a = Solve(one(func(float64) float64 { return 3 }, 12, free))
	assert.False(t, a.Reached)
	assert.Equal(t, 0, a.Still)

	a = Solve(one(square, 49, over("nothing does", func([]float64) bool { return true })))
	assert.False(t, a.Reached)
	assert.False(t, a.Found)

	// A jump over the target is no root.
	a = Solve(one(func(x float64) float64 { return math.Floor(x) }, 4.5, free))
	assert.False(t, a.Reached)
}

func TestNeater(t *testing.T) {
	p := one(func(x float64) float64 { return x * x }, 30, free)
	p.Tolerance = 0.5
	p.Neater = func(at float64) []float64 { return []float64{5, math.Round(at*10) / 10} }
	a := Solve(p)
	require.True(t, a.Reached)
	assert.InDelta(t, 5.5, a.At[0], 1e-12, "5 misses by more than the tolerance")
}

func TestAxis(t *testing.T) {
	for _, row := range []struct {
		axis Axis
		want []float64
	}{
		{Axis{0, 1, 0.25}, []float64{0, 0.25, 0.5, 0.75, 1}},
		{Axis{0.1, 0.3, 0.1}, []float64{0.1, 0.2, 0.3}},
		{Axis{0, 1, 0.4}, []float64{0, 0.4, 0.8}},
	} {
		assert.InDeltaSlice(t, row.want, row.axis.Values(), 1e-12)
	}
	assert.Equal(t, 0.3, Axis{0.1, 0.3, 0.1}.Values()[2], "the end is the end")
	assert.Equal(t, [][]float64{{1, 5}, {1, 6}, {2, 5}, {2, 6}}, Grid(Axis{1, 2, 1}, Axis{5, 6, 1}))
}

func TestTableIsTheSameForAnyWorkers(t *testing.T) {
	places := Grid(Axis{0, 30, 1}, Axis{0, 30, 1})
	f := func(at []float64) float64 { return math.Sin(at[0]) * at[1] }
	var want []float64
	for _, at := range places {
		want = append(want, f(at))
	}
	for _, workers := range []int{0, 1, 2, 7, 2000} {
		var told atomic.Int64
		got, err := Table(context.Background(), places, workers, f, func(int) { told.Add(1) })
		require.NoError(t, err)
		assert.True(t, slices.Equal(want, got), "%d workers", workers)
		assert.EqualValues(t, len(places), told.Load())
	}
}

func TestTableStopsWhenInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	var looked atomic.Int64
	got, err := Table(ctx, Grid(Axis{0, 1e5, 1}), 2, func([]float64) int {
		if looked.Add(1) == 10 {
			cancel()
		}
		return 0
	}, nil)
	assert.ErrorIs(t, err, context.Canceled)
	assert.Nil(t, got)
	assert.Less(t, looked.Load(), int64(1000), "of a hundred thousand")
}
