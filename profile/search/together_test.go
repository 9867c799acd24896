package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// parameters returns some that start at 0, with a scale of 1 and limits of the given size.
func parameters(n int, limit float64) []Parameter {
	out := make([]Parameter, n)
	for i := range out {
		out[i] = Parameter{Name: string(rune('x' + i)), Least: -limit, Most: limit, Scale: 1}
	}
	return out
}

// TestTogetherStraight holds the answers of straight problems against the closed form of
// the least change: the slopes' pseudo-inverse (gonum/mat) times the targets.
func TestTogetherStraight(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 2))
	for range 30 {
		goals := 1 + random.IntN(3)
		n := max(2, goals) + random.IntN(3)
		slopes, wanted := mat.NewDense(goals, n, nil), mat.NewVecDense(goals, nil)
		p := Together{Parameters: parameters(n, 1e4), Check: free}
		for j := range goals {
			wanted.SetVec(j, random.NormFloat64())
			p.Goals = append(p.Goals, Goal{wanted.AtVec(j), 1e-6})
			for i := range n {
				slopes.Set(j, i, random.NormFloat64())
			}
		}
		p.Values = func(at []float64) []float64 {
			var out mat.VecDense
			out.MulVec(slopes, mat.NewVecDense(n, at))
			return out.RawVector().Data
		}
		var least mat.Dense
		var svd mat.SVD
		require.True(t, svd.Factorize(slopes, mat.SVDThin))
		svd.SolveTo(&least, wanted, goals)
		a := SolveTogether(p)
		require.True(t, a.Reached)
		assert.Equal(t, a.Starts, a.Agree, "there is one answer")
		for i := range n {
			assert.InDelta(t, least.At(i, 0), a.At[i], 1e-5*(1+a.Change))
		}
	}
}

// TestTogetherInsideLimits: x+y+z = 3 and x-y = 1 with the least change has x = 1.5, y =
// 0.5, z = 1; where x may be no more than 1.2, the rest follows from it.
func TestTogetherInsideLimits(t *testing.T) {
	p := Together{Parameters: parameters(3, 10), Goals: []Goal{{3, 1e-6}, {1, 1e-6}}, Check: free,
		Values: func(at []float64) []float64 { return []float64{at[0] + at[1] + at[2], at[0] - at[1]} }}
	assert.InDeltaSlice(t, []float64{1.5, 0.5, 1}, SolveTogether(p).At, 1e-6)
	p.Goals = []Goal{{0.5, 1}, {-0.5, 1}}
	assert.Equal(t, []float64{0, 0, 0}, SolveTogether(p).At, "they are met already")
	p.Goals = []Goal{{3, 1e-6}, {1, 1e-6}}
	p.Parameters[0].Most = 1.2
	assert.InDeltaSlice(t, []float64{1.2, 0.2, 1.6}, SolveTogether(p).At, 1e-6)
}

// TestTogetherWhereThereIsNoDesign: the same where there is no design with x over 1.2, or with
// z over 0.9 as well: x+y+z = 3 alone has then y = 0.9. Where no parameter alone is to
// blame, with x+y over 1, the targets are still reached.
func TestTogetherWhereThereIsNoDesign(t *testing.T) {
	p := Together{Parameters: parameters(3, 10), Goals: []Goal{{3, 1e-6}, {1, 1e-6}}, Check: free}
	without := func(none func(at []float64) bool) {
		p.Values = func(at []float64) []float64 {
			if none(at) {
				return []float64{math.NaN(), math.NaN()}[:len(p.Goals)]
			}
			return []float64{at[0] + at[1] + at[2], at[0] - at[1]}[:len(p.Goals)]
		}
	}
	without(func(at []float64) bool { return at[0] > 1.2 })
	a := SolveTogether(p)
	assert.InDeltaSlice(t, []float64{1.2, 0.2, 1.6}, a.At, 1e-5)
	p.Goals[0].Target, p.Goals[1].Target = -3, -1
	without(func(at []float64) bool { return at[0] < -1.2 })
	assert.InDeltaSlice(t, []float64{-1.2, -0.2, -1.6}, SolveTogether(p).At, 1e-5)
	p.Goals[0].Target = 3
	p.Goals = p.Goals[:1]
	without(func(at []float64) bool { return at[0] > 0.7 || at[2] > 0.9 })
	a = SolveTogether(p)
	assert.InDeltaSlice(t, []float64{0.7, 1.4, 0.9}, a.At, 1e-5)
	assert.True(t, a.Stationary, "shown to be the least: the borders are limits")
	without(func(at []float64) bool { return at[0]+at[1] > 1 })
	a = SolveTogether(p)
	assert.True(t, a.Reached)
	assert.InDelta(t, 3, a.At[0]+a.At[1]+a.At[2], 1e-6)
	assert.LessOrEqual(t, a.Change, 1.05*math.Hypot(2, math.Sqrt(0.5)), "least with x = y = 0.5 and z = 2")
}

// TestOneGoalInsideChecks: where the straight way is barred, the answer lies where the line
// of the target meets the bar; on a circle about the start any way is as long.
func TestOneGoalInsideChecks(t *testing.T) {
	p := Together{Parameters: parameters(2, 10), Goals: []Goal{{2, 1e-6}}, Check: over("x is too great", func(at []float64) bool { return at[0] > 0.5 }),
		Values: func(at []float64) []float64 { return []float64{at[0] + at[1]} }}
	assert.InDeltaSlice(t, []float64{0.5, 1.5}, SolveTogether(p).At, 1e-6)
	p.Check, p.Goals[0].Target, p.Values = free, 4, func(at []float64) []float64 { return []float64{at[0]*at[0] + at[1]*at[1]} }
	a := SolveTogether(p)
	require.True(t, a.Reached)
	assert.InDelta(t, 2, a.Change, 1e-6)
}

// curved is a problem of three parameters and two goals with curved quantities, of which
// for each z the answer is known in closed form: y from the first, x from the second.
func curved(bar func(x, y, z float64) bool) (p Together, of func(z float64) (x, y float64)) {
	p = Together{Parameters: parameters(3, 3), Goals: []Goal{{1.5, 1e-6}, {1, 1e-6}},
		Values: func(at []float64) []float64 {
			return []float64{at[1] + 0.4*at[2]*at[2] + at[2], at[0] + math.Sin(at[1]) + 0.5*at[2]}
		},
		Check: over("bar", func(at []float64) bool { return bar(at[0], at[1], at[2]) })}
	return p, func(z float64) (x, y float64) {
		y = 1.5 - 0.4*z*z - z
		return 1 - math.Sin(y) - 0.5*z, y
	}
}

// TestTogetherAgainstADenseGrid: no design of a dense grid that meets both targets and
// passes the check changes less than the answer.
func TestTogetherAgainstADenseGrid(t *testing.T) {
	for name, bar := range map[string]func(x, y, z float64) bool{
		"free":                       func(x, y, z float64) bool { return false },
		"barred on one side":         func(x, y, z float64) bool { return z > 0.6 },
		"barred on the other":        func(x, y, z float64) bool { return y > 0.35 },
		"a hole about the shortest":  func(x, y, z float64) bool { return math.Hypot(z-0.8, y-0.45) < 0.4 },
		"only far away is not":       func(x, y, z float64) bool { return z > -0.5 },
		"two parts, the nearer left": func(x, y, z float64) bool { return z > 0.3 && z < 1.4 },
	} {
		p, of := curved(bar)
		least, free := math.Inf(1), math.Inf(1)
		for i := range 60001 {
			z := -3 + 6*float64(i)/60000
			x, y := of(z)
			if math.Abs(x) > 3 || math.Abs(y) > 3 {
				continue
			}
			free = min(free, math.Sqrt(x*x+y*y+z*z))
			if !bar(x, y, z) {
				least = min(least, math.Sqrt(x*x+y*y+z*z))
			}
		}
		a := SolveTogether(p)
		require.True(t, a.Reached, name)
		assert.InDelta(t, least, a.Change, 2e-4, "%s: %v", name, a.At)
		assert.Empty(t, p.Check(a.At).Name, name)
		assert.Equal(t, least > free, a.Barred, name)
	}
}

// TestTogetherOfTwoAnswers: a line meets a circle twice; the nearer is the answer, and
// where it is barred the further one.
func TestTogetherOfTwoAnswers(t *testing.T) {
	p := Together{Parameters: parameters(2, 5), Goals: []Goal{{4, 1e-6}, {0.5, 1e-6}}, Check: free,
		Values: func(at []float64) []float64 {
			return []float64{(at[0]-0.5)*(at[0]-0.5) + at[1]*at[1], at[1] - 0.1*at[0]}
		}}
	meets := func(side float64) (x, y float64) { // (x-0.5)² + (0.5+x/10)² = 4
		a, b, c := 1.01, -0.9, -3.5
		x = (-b + side*math.Sqrt(b*b-4*a*c)) / (2 * a)
		return x, 0.5 + 0.1*x
	}
	x, y := meets(-1)
	assert.InDeltaSlice(t, []float64{x, y}, SolveTogether(p).At, 1e-6)
	p.Check = over("left", func(at []float64) bool { return at[0] < -1 })
	x, y = meets(1)
	a := SolveTogether(p)
	require.True(t, a.Reached)
	assert.InDeltaSlice(t, []float64{x, y}, a.At, 1e-6)
	assert.True(t, a.Barred)
}

// TestTogetherOutOfReach: the nearest design counts misses in tolerances, and says what
// stands in the way.
func TestTogetherOutOfReach(t *testing.T) {
	p := Together{Parameters: parameters(2, 2), Goals: []Goal{{5, 0.1}, {1, 0.1}}, Check: free,
		Values: func(at []float64) []float64 { return []float64{at[0] + at[1], at[0] - at[1]} }}
	a := SolveTogether(p) // x = 3, y = 2 lies beyond the limit of x
	require.False(t, a.Reached)
	require.True(t, a.Found)
	assert.InDeltaSlice(t, []float64{2, 2}, a.At, 1e-4)
	assert.Equal(t, "x", a.AtLimit)

	p.Parameters = parameters(2, 20)
	p.Check = over("y is too great", func(at []float64) bool { return at[1] > 1.5 })
	a = SolveTogether(p)
	require.False(t, a.Reached)
	assert.InDeltaSlice(t, []float64{3, 1.5}, a.At, 1e-3, "the miss of both is as small as y allows")
	assert.Equal(t, "y is too great", a.Beyond.Name)
	assert.Empty(t, a.AtLimit)

	p.Goals[0].Tolerance, p.Goals[1].Tolerance = 1, 1
	a = SolveTogether(p)
	assert.True(t, a.Reached, "within the tolerances it is reached")

	p.Check = over("nothing does", func([]float64) bool { return true })
	assert.False(t, SolveTogether(p).Found)

	p.Values = func(at []float64) []float64 { return []float64{at[0], 3} }
	assert.Equal(t, 1, SolveTogether(p).Still)
}
