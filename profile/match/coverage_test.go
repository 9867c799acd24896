package match

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// linear is a problem of a matrix times its parameters, for which everything is known.
type linear struct {
	matrix *mat.Dense
	values []float64
}

func (l linear) residuals(theta []float64) ([]float64, bool) {
	var product mat.VecDense
	product.MulVec(l.matrix, mat.NewVecDense(len(theta), theta))
	out := make([]float64, len(l.values))
	for i, v := range l.values {
		out[i] = v - product.AtVec(i)
	}
	return out, true
}

func (l linear) linearise(theta []float64) ([]float64, *mat.Dense, bool) {
	r, _ := l.residuals(theta)
	var jacobian mat.Dense
	jacobian.Scale(-1, l.matrix)
	return r, &jacobian, true
}

func (l linear) limits() (least, most []float64) {
	_, p := l.matrix.Dims()
	for range p {
		least, most = append(least, math.Inf(-1)), append(most, math.Inf(1))
	}
	return least, most
}

// unevenDesign is a matrix of 50 readings by 12 parameters as a knife has: ten parameters
// that all readings tell of, one that four readings do and one that two do.
func unevenDesign(r *rand.Rand) *mat.Dense {
	x := mat.NewDense(50, 12, nil)
	for i := range 50 {
		for a := range 10 {
			x.Set(i, a, r.NormFloat64())
		}
	}
	for i := range 4 {
		x.Set(i, 10, 1)
	}
	x.Set(10, 11, 1)
	x.Set(20, 11, -1)
	return x
}

// TestErrorsOfALinearProblem: where least squares is known to be right (its standard
// errors follow Student's t exactly), the robust fit is held against it on the same
// readings: its scale, the spread of what it finds in its own standard errors, and how
// much of that lies within two of them.
func TestErrorsOfALinearProblem(t *testing.T) {
	const seeds, n, p = 400, 50, 12
	x := unevenDesign(rand.New(rand.NewPCG(1, 91)))
	var robust, plain struct {
		variance, spread float64
		inside           int
	}
	ones := make([]float64, n)
	for i := range ones {
		ones[i] = 1
	}
	for seed := range uint64(seeds) {
		problem := linear{x, make([]float64, n)}
		r := rand.New(rand.NewPCG(seed, 92))
		for i := range problem.values {
			problem.values[i] = 0.05 * r.NormFloat64()
		}
		theta, scale, ok := robustFit(problem, make([]float64, p))
		require.True(t, ok)
		s := solution{theta: theta, scale: scale}
		require.True(t, s.assess(problem, 0.05))
		robust.variance += scale * scale / seeds
		least := minimise(problem, make([]float64, p), squares(), 1, mostSteps)
		residuals, jacobian, _ := problem.linearise(least)
		deviation := math.Sqrt(floatsSquare(residuals) / (n - p))
		plain.variance += deviation * deviation / seeds
		errors := errorsOf(jacobian, ones, make([]bool, p), deviation)
		for a := range p {
			z, y := theta[a]/s.errors[a], least[a]/errors[a]
			robust.spread += z * z
			plain.spread += y * y
			robust.inside += within2(z)
			plain.inside += within2(y)
		}
	}
	// Both fits see the same readings, so that chance all but cancels. The bounds stand between
	// what is lost with leverage taken into account and what was lost without it (judgement).
	assert.InEpsilon(t, plain.variance, robust.variance, 0.015)
	assert.InEpsilon(t, math.Sqrt(plain.spread), math.Sqrt(robust.spread), 0.012)
	share, wanted := float64(robust.inside)/(seeds*p), float64(plain.inside)/(seeds*p)
	t.Logf("within two standard errors: %.4f, by least squares %.4f", share, wanted)
	assert.InDelta(t, wanted, share, 0.005)
	// Student's t with 38 degrees of freedom; three binomial standard deviations.
	assert.InDelta(t, 0.947, share, 3*math.Sqrt(0.947*0.053/(seeds*p)))
}

func within2(z float64) int {
	if math.Abs(z) <= 2 {
		return 1
	}
	return 0
}

func floatsSquare(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v * v
	}
	return sum
}

// TestSlopes: what a fit leaves of the slopes is n - p for least squares, whatever the
// leverages, and to the first order in p/n Huber's correction of the plain sum.
func TestSlopes(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 93))
	x := unevenDesign(r)
	residuals := make([]float64, 50)
	for i := range residuals {
		residuals[i] = r.NormFloat64()
	}
	assert.InDelta(t, 38, newFitted(residuals, x, make([]bool, 12)).slopes(squares(), 1), 1e-9)
	resting := make([]bool, 12)
	resting[3] = true
	f := newFitted(residuals, x, resting)
	assert.Equal(t, 39, f.freedom, "what rests at a limit takes no degree of freedom")
	assert.InDelta(t, 39, f.slopes(squares(), 1), 1e-9)

	const n, p = 4000, 40 // of even leverage
	even := mat.NewDense(n, p, nil)
	many := make([]float64, n)
	sum, sumSquares := 0.0, 0.0
	for i := range n {
		many[i] = r.NormFloat64()
		slope := tukey().slope(many[i])
		sum, sumSquares = sum+slope/n, sumSquares+slope*slope/n
		for a := range p {
			even.Set(i, a, r.NormFloat64())
		}
	}
	k := 1 + p/float64(n)*(sumSquares-sum*sum)/(sum*sum)
	got := newFitted(many, even, make([]bool, p)).slopes(tukey(), 1)
	assert.InEpsilon(t, sum/k, got/(n-p), 2e-4)
	assert.Greater(t, k, 1.0015, "or the correction would show nothing")
}

// TestWeightsDoNotHangOnLeverage: one parameter that the first of ten readings tells most
// of. Its residual is held against what its leverage leaves of an error, in closed form
// h = w x² / sum w x², and not against the whole scale. A slip weighs nothing.
func TestWeightsDoNotHangOnLeverage(t *testing.T) {
	x := mat.NewDense(10, 1, []float64{4, 1, 1, 1, 1, 1, 1, 1, 1, 1})
	residuals := []float64{1.2, 1.2, -1, 0.4, -0.3, 0.8, -1.5, 0.2, 0.1, 30}
	w := newFitted(residuals, x, []bool{false}).weights(tukey(), 1)
	sum := 0.0
	for i := range residuals {
		sum += w[i] * x.At(i, 0) * x.At(i, 0)
	}
	for i, r := range residuals {
		h := w[i] * x.At(i, 0) * x.At(i, 0) / sum
		assert.InDelta(t, tukey().weight(r/math.Sqrt(1-h)), w[i], 2e-3, "%d", i)
	}
	assert.Less(t, w[0], w[1]-0.1, "as large a residual where less is left of it")
	assert.Zero(t, w[9])
}
