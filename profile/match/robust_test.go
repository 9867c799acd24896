package match

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// misra1a is a reference problem of the National Institute of Standards and Technology
// (Statistical Reference Datasets, nonlinear regression, Misra1a): y = b1 (1 - exp(-b2 x)).
// Data and certified values are quoted from memory; that the fit of the data comes to the
// certified values to eight digits bears both out.
type misra1a struct{}

var misraX = []float64{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0}
var misraY = []float64{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78}

func (misra1a) residuals(b []float64) ([]float64, bool) {
	out := make([]float64, len(misraX))
	for i, x := range misraX {
		out[i] = misraY[i] - b[0]*(1-math.Exp(-b[1]*x))
	}
	return out, true
}

func (p misra1a) linearise(b []float64) ([]float64, *mat.Dense, bool) {
	r, _ := p.residuals(b)
	j := mat.NewDense(len(misraX), 2, nil)
	for i, x := range misraX {
		j.Set(i, 0, -(1 - math.Exp(-b[1]*x)))
		j.Set(i, 1, -b[0]*x*math.Exp(-b[1]*x))
	}
	return r, j, true
}

func (misra1a) limits() (least, most []float64) {
	return []float64{0, 0}, []float64{math.Inf(1), math.Inf(1)}
}

// squares is the loss of plain least squares.
func squares() loss {
	return loss{rho: func(u float64) float64 { return u * u / 2 }, weight: func(float64) float64 { return 1 }, slope: func(float64) float64 { return 1 }}
}

func TestLeastSquaresAgainstAReferenceProblem(t *testing.T) {
	for _, start := range [][]float64{{500, 0.0001}, {250, 0.0005}} {
		b := minimise(misra1a{}, start, squares(), 1, 200)
		assert.InEpsilon(t, 2.3894212918e+02, b[0], 1e-6)
		assert.InEpsilon(t, 5.5015643181e-04, b[1], 1e-6)
		r, j, _ := misra1a{}.linearise(b)
		sum := 0.0
		for _, v := range r {
			sum += v * v
		}
		deviation := math.Sqrt(sum / 12)
		assert.InEpsilon(t, 1.0187876330e-01, deviation, 1e-6)
		ones := make([]float64, len(r))
		for i := range ones {
			ones[i] = 1
		}
		errors := errorsOf(j, ones, []bool{false, false}, deviation)
		assert.InEpsilon(t, 2.7070075241e+00, errors[0], 1e-5)
		assert.InEpsilon(t, 7.2668688436e-06, errors[1], 1e-5)
	}
}

// TestLosses: weights and slopes are those of rho, and both losses keep 95 % of the
// efficiency of least squares for normal errors: (E psi')² / E psi².
func TestLosses(t *testing.T) {
	normal := distuv.Normal{Mu: 0, Sigma: 1}
	for name, l := range map[string]loss{"huber": huber(), "tukey": tukey()} {
		for u := -8.0; u <= 8; u += 0.37 {
			const h = 1e-5
			psi := func(u float64) float64 { return u * l.weight(u) }
			assert.InDelta(t, (l.rho(u+h)-l.rho(u-h))/(2*h), psi(u), 1e-8, "%s %g", name, u)
			assert.InDelta(t, (psi(u+h)-psi(u-h))/(2*h), l.slope(u), 1e-6, "%s %g", name, u)
		}
		mean := func(f func(u float64) float64) float64 {
			return quad.Fixed(func(u float64) float64 { return f(u) * normal.Prob(u) }, -10, 10, 2000, nil, 0)
		}
		slope := mean(l.slope)
		spread := mean(func(u float64) float64 { return u * u * l.weight(u) * l.weight(u) })
		assert.InDelta(t, 0.95, slope*slope/spread, 0.002, name) // the quadrature passes Huber's kink by 0.001
	}
	assert.InDelta(t, normal.Quantile(0.75), normalMedian, 1e-12)
}

// TestScale: the robust scale is the standard deviation of normal errors, and a third of
// gross errors does not double it.
func TestScale(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 84))
	errors := make([]float64, 20000)
	for i := range errors {
		errors[i] = 0.3 * r.NormFloat64()
	}
	assert.InDelta(t, 0.3, scaleOf(errors, 0), 0.01)
	for i := range len(errors) / 3 {
		errors[i] = 100
	}
	assert.Less(t, scaleOf(errors, 0), 0.6)
	require.Positive(t, scaleOf(nil, 0))
	// A fit of p parameters takes p degrees of freedom from n readings, and with few left
	// over the plain standard deviation stands for the median.
	assert.InEpsilon(t, scaleOf(errors[:40], 0)*math.Sqrt(40.0/30), scaleOf(errors[:40], 10), 1e-12)
	assert.InDelta(t, math.Sqrt((9+16)/2.0), scaleOf([]float64{3, 0, -4, 0}, 2), 1e-12)
}

// TestDerivatives holds the derivatives of the outline's residuals against differences of
// the residuals themselves.
func TestDerivatives(t *testing.T) {
	for _, name := range []string{"tarn", "heron", "kite", "wren", "adze", "flint"} {
		r := rand.New(rand.NewPCG(9, 85))
		k := anotherSize(t, name, r)
		outline, err := k.QuickOutline()
		require.NoError(t, err)
		stationed := calipered(t, k, stations(k), normal(r, 0.05))
		traced := Measurements{Traced: true}
		for _, p := range contour(outline, 7, normal(r, 0.3)) {
			traced.Readings = append(traced.Readings, Reading{Kind: Traced, At: p})
		}
		for _, m := range []Measurements{stationed, traced} {
			o := &outlineModel{readings: m.of(ofOutline), base: k, pose: poseOf(m), rough: motion{cosin: 1}, free: outlineQuantities(k, 0)}
			theta := startOf(o, k)
			_, jacobian, ok := o.linearise(theta)
			require.True(t, ok)
			for a := range theta {
				const h = 1e-5
				moved := append([]float64(nil), theta...)
				moved[a] += h
				high, _ := o.residuals(moved)
				moved[a] -= 2 * h
				low, _ := o.residuals(moved)
				for i, reading := range o.readings {
					if reading.Kind != Traced && math.Abs(reading.X-k.Blade.Length) < 1e-6 {
						continue // at the point itself the two ways of it meet at an angle
					}
					want := (high[i] - low[i]) / (2 * h)
					assert.InDelta(t, want, jacobian.At(i, a), 2e-2*math.Max(0.05, math.Abs(want)), "%s parameter %d, %s", name, a, reading.Name(m.Unit))
				}
			}
		}
	}
}

// TestCorrelation: residuals that are a first-order process of correlation 0.6 tell as
// much as a quarter as many that are not, so that errors double; those of a caliper, few
// and apart, are left as they are.
func TestCorrelation(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 88))
	n := 20000
	white, together, ones := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		white[i], ones[i] = r.NormFloat64(), 1
		together[i] = r.NormFloat64()
		if i > 0 {
			together[i] = 0.6*together[i-1] + 0.8*r.NormFloat64()
		}
	}
	assert.InDelta(t, 2, correlation(together, ones), 0.1)
	assert.Equal(t, 1.0, correlation(white, ones))
	assert.Equal(t, 1.0, correlation(together[:50], ones[:50]))
}
