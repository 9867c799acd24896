package match

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// moving returns the indices of the parameters that do not rest at a limit.
func moving(atLimit []bool) []int {
	var out []int
	for i, resting := range atLimit {
		if !resting {
			out = append(out, i)
		}
	}
	return out
}

// columns returns some columns of a matrix.
func columns(all *mat.Dense, wanted []int) *mat.Dense {
	n, _ := all.Dims()
	out := mat.NewDense(n, max(1, len(wanted)), nil)
	for i := range n {
		for a, column := range wanted {
			out.Set(i, a, all.At(i, column))
		}
	}
	return out
}

// fitted is a fit at its best parameters: residuals, and the derivatives by those
// parameters that do not rest at a limit. The others take no degrees of freedom.
type fitted struct {
	residuals []float64
	jacobian  *mat.Dense
	freedom   int // readings less parameters that move
}

func newFitted(residuals []float64, jacobian *mat.Dense, atLimit []bool) fitted {
	free := moving(atLimit)
	return fitted{residuals, columns(jacobian, free), len(residuals) - len(free)}
}

// slopes returns the sum over the readings of the slope of psi, less what the fit takes of
// it:
//
//	tr(D - D J (J'DJ)^-1 J'D) with D = diag(psi'(r/scale))
//
// which is by how much psi of the residuals falls when the readings move. It stands where
// the sum over psi'(error) stands in the law of large numbers, and unlike that it is known
// from the residuals, which the fit has made smaller, those of great leverage most. For
// least squares it is n - p. Its first order in p/n is Huber's correction K (Robust
// Statistics, 1981, section 7.6); that it holds where p/n is not small is from El Karoui,
// Bean, Bickel, Lim and Yu, Proc. Natl. Acad. Sci. 110, 2013, 14557-14562, and Bellec,
// Inf. Inference 12, 2023 (both from memory; tests hold it against K and against n - p).
// It is not positive where the residuals are no errors of one size.
func (f fitted) slopes(l loss, scale float64) float64 {
	n, p := f.jacobian.Dims()
	weighted := mat.NewDense(n, p, nil)
	sum := 0.0
	for i, r := range f.residuals {
		slope := l.slope(r / scale)
		sum += slope
		for a := range p {
			weighted.Set(i, a, slope*f.jacobian.At(i, a))
		}
	}
	if n == f.freedom { // nothing moves
		return sum
	}
	var inner, outer, solved mat.Dense
	inner.Mul(f.jacobian.T(), weighted)
	outer.Mul(weighted.T(), weighted)
	if err := solved.Solve(&inner, &outer); err != nil {
		return 0
	}
	return sum - solved.Trace()
}

// deviation returns the standard deviation of a reading as standard errors take it, from
// a fit with a loss at a scale:
//
//	scale sqrt(sum psi² / (n - p)) / (slopes / (n - p))
//
// For least squares it is the root of the mean square over the degrees of freedom. ok is
// false where the residuals do not tell it.
func (f fitted) deviation(l loss, scale float64) (deviation float64, ok bool) {
	slopes := f.slopes(l, scale)
	if f.freedom < enough || !(slopes > 0) {
		return 0, false
	}
	squares := 0.0
	for _, r := range f.residuals {
		squares += math.Pow(r/scale*l.weight(r/scale), 2)
	}
	return scale * math.Sqrt(squares*float64(f.freedom)) / slopes, true
}

// weights returns what each reading weighs in the standard errors: the weight of its
// residual over scale·sqrt(1 - h), the size that the leverage h leaves of it. Else those
// that hold a parameter all by themselves, and so have small residuals, would weigh more
// than the others, and what hangs on them would look too sure. The leverage is of the
// weighted readings, so that it is found by repetition; a slip has none.
func (f fitted) weights(l loss, scale float64) []float64 {
	out := make([]float64, len(f.residuals))
	for i, r := range f.residuals {
		out[i] = l.weight(r / scale)
	}
	const repeats = 4 // each brings them some ten times nearer
	for range repeats {
		for i, h := range f.leverages(out) {
			out[i] = l.weight(f.residuals[i] / (scale * math.Sqrt(math.Max(alone, 1-h))))
		}
	}
	return out
}

// alone is the share of its variance that a residual keeps at least: with less, the fit
// follows the reading wherever it lies, and its residual is rounding.
const alone = 1e-3

// leverages returns the diagonal of J (J'WJ)^-1 J'W: how far the fit follows each reading.
func (f fitted) leverages(weights []float64) []float64 {
	n, p := f.jacobian.Dims()
	out := make([]float64, n)
	if n == f.freedom {
		return out
	}
	inverse := covariance(f.jacobian, weights, 1)
	for i := range n {
		row := mat.NewVecDense(p, f.jacobian.RawRowView(i))
		out[i] = weights[i] * mat.Inner(row, inverse, row)
	}
	return out
}
