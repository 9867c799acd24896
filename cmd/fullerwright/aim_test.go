package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/search"
	"fullerwright/templates"
	"fullerwright/toolpath"
)

// question is a way to aim: one pattern, one measure or several, the numbers to change, and
// how many targets of either kind are tried.
type question struct {
	pattern, measure     string
	keys                 []string
	feasible, infeasible int
}

func questions() []question {
	return append([]question{
		{"tarn", "web", []string{"fuller.depth"}, 6, 2},
		{"tarn", "web", []string{"blade.thickness"}, 2, 1},
		{"tarn", "web", []string{"fuller.depth", "blade.thickness"}, 1, 0},
		{"tarn", "stiffness", []string{"fuller.depth"}, 4, 1},
		{"tarn", "balance", []string{"pommel.length"}, 4, 1},
		{"tarn", "weight", []string{"pommel.length", "fuller.depth"}, 1, 0},
		{"wren", "weight", []string{"bevel.height"}, 14, 10},
		{"wren", "balance", []string{"guard.thickness"}, 14, 10},
		{"wren", "deflection", []string{"blade.thickness"}, 6, 3},
		{"wren", "blade-weight", []string{"tang.width"}, 12, 10},
		{"wren", "balance", []string{"handle.length", "bevel.height"}, 4, 0},
		{"minnow", "weight", []string{"blade.length"}, 6, 6},
		{"minnow", "balance", []string{"handle.width"}, 6, 6},
		{"dipper", "stiffness", []string{"bevel.height"}, 24, 14},
	}, drawnQuestions()...)
}

// drawnQuestions draws one key for each measure of three patterns, and two, out of those that
// move it.
func drawnQuestions() (out []question) {
	all := []string{"guard.thickness", "guard.length", "handle.length", "handle.width", "handle.thickness", "tang.length", "bevel.height", "blade.thickness", "blade.width"}
	blade := []string{"bevel.height", "blade.thickness", "blade.width", "bevel.edge_thickness"}
	random := rand.New(rand.NewPCG(2026, 40))
	for _, pattern := range []string{"wren", "minnow", "dipper"} {
		for _, measured := range []struct {
			name string
			keys []string
		}{{"weight", all}, {"balance", all}, {"blade-weight", blade}, {"stiffness", blade}} {
			drawn := random.Perm(len(measured.keys))
			one, two, three := measured.keys[drawn[0]], measured.keys[drawn[1]], measured.keys[drawn[2]]
			infeasible := 0
			if len(out)%4 == 0 { // of every other measure: looking for the sound designs takes time
				infeasible = 6
			}
			out = append(out, question{pattern, measured.name, []string{one}, 5, infeasible}, question{pattern, measured.name, []string{two, three}, 3, 0})
		}
	}
	return out
}

// asked makes a question ready.
func (q question) asked(t *testing.T) aiming {
	t.Helper()
	in, err := (&inputs{}).readFor(q.pattern)
	require.NoError(t, err)
	maker, err := newDesigner(job{knife: in.knife, shop: in.shop}, q.keys)
	require.NoError(t, err)
	data, _ := templates.Pattern(q.pattern)
	a := aiming{designer: maker, data: data}
	for _, known := range quantities() {
		if slices.Contains(strings.Fields(q.measure), known.name) {
			a.goals = append(a.goals, goal{quantity: known})
		}
	}
	return a
}

// passes reports whether no check stops a design.
func (a aiming) passes(at []float64) bool {
	return a.obstacle(at).Name == ""
}

// change is the norm of the changes of a design, each over its scale.
func (a aiming) change(at []float64) float64 {
	sum := 0.0
	for i, v := range a.Variables {
		sum = math.Hypot(sum, (at[i]-v.Value)/scaleOf(v))
	}
	return sum
}

// TestAimReachesFeasibleTargets takes random designs that pass every check, and aims at
// what they come to: there is an answer, so it must be found, no further from the start
// than that design, and be right as it is written.
func TestAimReachesFeasibleTargets(t *testing.T) {
	tried := 0
	for i, q := range questions() {
		tried += q.feasible
		t.Run(fmt.Sprintf("%s %s %v", q.pattern, q.measure, q.keys), func(t *testing.T) {
			t.Parallel()
			random := rand.New(rand.NewPCG(2026, uint64(i)))
			a := q.asked(t)
			for n := 0; n < q.feasible; {
				at := make([]float64, len(a.Variables))
				for j, v := range a.Variables {
					at[j] = min(max(v.Value*(0.6+0.8*random.Float64()), v.Least), v.Most)
				}
				if a.goals[0].target = a.values(at)[0]; math.IsNaN(a.goals[0].target) || !a.passes(at) {
					continue
				}
				n++
				a.holds(t, at)
			}
		})
	}
	assert.GreaterOrEqual(t, tried, 200)
}

// holds solves for a target that a known design comes to.
func (a aiming) holds(t *testing.T, known []float64) {
	t.Helper()
	answer := a.solve()
	if !assert.True(t, answer.Reached, "%s was not reached, and %v would do", a.wanted(), known) {
		return
	}
	fresh := a.in.knife.Rewrite(a.data, a.Changes(answer.At))
	knife, err := profile.Parse("answer.toml", fresh)
	require.NoError(t, err, string(fresh))
	blade, err := profile.Build(knife, profile.Measured{})
	require.NoError(t, err)
	for _, g := range a.goals {
		assert.InDelta(t, g.target, g.of(&design{finished: blade, maker: a.designer}), g.tolerance, "as it is written")
	}
	checks, err := checksOf(job{knife: knife, shop: a.in.shop})
	require.NoError(t, err)
	assert.Empty(t, toolpath.Stops(checks), "as it is written")
	// With several numbers the least change is found to about a hundredth; rounding adds
	// its own.
	assert.LessOrEqual(t, answer.Change, 1.01*a.change(known)+0.005, "%v would do, found %v", known, answer.At)
}

// TestTheWayIsDrawnRising: whichever way the answer lies, the number of the chart rises to the
// right, and now and the answer lie where they are.
func TestTheWayIsDrawnRising(t *testing.T) {
	a := question{pattern: "wren", measure: "balance", keys: []string{"guard.thickness"}}.asked(t)
	v := a.Variables[0]
	for _, to := range []float64{0.8, 1.2} {
		answer := search.Answer{At: []float64{to * v.Value}, Change: math.Abs(to-1) * v.Value / scaleOf(v), Found: true, Reached: true}
		places, along, toward := a.alongTheWay(answer)
		at := func(x float64) float64 { // the number at a place of the chart
			i, _ := slices.BinarySearch(along, x)
			share := (x - along[i-1]) / (along[i] - along[i-1])
			return places[i-1][0] + share*(places[i][0]-places[i-1][0])
		}
		for i := 1; i < len(along); i++ {
			assert.Greater(t, along[i], along[i-1])
			assert.Greater(t, places[i][0], places[i-1][0])
		}
		assert.InDelta(t, v.Value, at(0), 1e-9)
		assert.InDelta(t, to*v.Value, at(toward*answer.Change), 1e-9)
	}
}

// TestAimRefusesInfeasibleTargets aims beyond the best that a dense table of designs
// comes to while they pass every check.
func TestAimRefusesInfeasibleTargets(t *testing.T) {
	tried := 0
	for i, q := range questions() {
		tried += q.infeasible
		if q.infeasible == 0 {
			continue
		}
		t.Run(fmt.Sprintf("%s %s %v", q.pattern, q.measure, q.keys), func(t *testing.T) {
			t.Parallel()
			random := rand.New(rand.NewPCG(2027, uint64(i)))
			a := q.asked(t)
			least, most := a.soundRange(t)
			for range q.infeasible {
				by := (most - least) * (0.05 + 0.5*random.Float64())
				a.goals[0].target = most + by
				if random.IntN(2) == 0 {
					a.goals[0].target = least - by
				}
				answer := a.solve()
				assert.False(t, answer.Reached, "%s lies outside %s to %s", a.goals[0].say(a.goals[0].target, document.Millimetre), a.goals[0].say(least, document.Millimetre), a.goals[0].say(most, document.Millimetre))
				require.True(t, answer.Found)
				assert.True(t, a.passes(answer.At), "the nearest design passes every check")
				assert.NotEmpty(t, answer.Beyond.Name+answer.AtLimit, "what stands in the way")
				// The nearest is at least as near as the best of the table.
				assert.LessOrEqual(t, math.Abs(answer.Values[0]-a.goals[0].target), by*(1+1e-9)+1e-9)
			}
		})
	}
	assert.GreaterOrEqual(t, tried, 100)
}

// soundRange returns between what the quantity lies for designs of one number that pass
// every check.
func (a aiming) soundRange(t *testing.T) (least, most float64) {
	t.Helper()
	const designs = 100
	least, most = math.Inf(1), math.Inf(-1)
	v := a.Variables[0]
	for i := range designs + 1 {
		// Closer together near the start, where designs are sound.
		share := 2*float64(i)/designs - 1
		at := []float64{v.Value + share*share*(v.Most-v.Value)}
		if share < 0 {
			at = []float64{v.Value + share*share*(v.Least-v.Value)}
		}
		if value := a.values(at)[0]; !math.IsNaN(value) && a.passes(at) {
			least, most = min(least, value), max(most, value)
		}
	}
	require.Less(t, least, most)
	return least, most
}
