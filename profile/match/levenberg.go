package match

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// problem is a model with readings: residuals are reading less model, mm, as functions of
// the parameters. Both functions return false where the parameters are no knife.
type problem interface {
	residuals(theta []float64) ([]float64, bool)
	// linearise returns the residuals with their derivatives, a row a residual.
	linearise(theta []float64) ([]float64, *mat.Dense, bool)
	// limits returns between what each parameter must lie.
	limits() (least, most []float64)
}

const (
	mostSteps = 60 // of one minimisation
	// settled is the relative fall of the cost below which a step is the last.
	settled = 1e-8
)

// minimise finds the least sum of a loss of the residuals over the scale near a start, by
// the method of Levenberg and Marquardt on reweighted squares (Marquardt, J. Soc. Indust.
// Appl. Math. 11, 1963, 431-441): a step solves (J'WJ + k diag(J'WJ)) d = -J'Wr, k falls
// where the cost does and grows where it does not, and where the step leaves the knives
// that can be. A parameter at its limit that would pass it rests.
func minimise(p problem, start []float64, l loss, scale float64, steps int) []float64 {
	theta := append([]float64(nil), start...)
	least, most := p.limits()
	damping := 1e-3
	r, jacobian, ok := p.linearise(theta)
	if !ok {
		return theta
	}
	cost := costOf(r, l, scale)
	for range steps {
		moved := false
		for range 14 {
			next := stepped(theta, r, jacobian, l, scale, damping, least, most)
			trial, fits := p.residuals(next)
			if fits && costOf(trial, l, scale) < cost {
				theta, moved = next, true
				damping = math.Max(damping/8, 1e-9)
				break
			}
			damping *= 4
		}
		if !moved {
			return theta
		}
		before := cost
		if r, jacobian, ok = p.linearise(theta); !ok {
			return theta
		}
		if cost = costOf(r, l, scale); before-cost < settled*before {
			return theta
		}
	}
	return theta
}

func costOf(residuals []float64, l loss, scale float64) float64 {
	sum := 0.0
	for _, r := range residuals {
		sum += l.rho(r / scale)
	}
	return sum
}

// stepped returns the parameters after one damped step, kept within their limits.
func stepped(theta, r []float64, jacobian *mat.Dense, l loss, scale, damping float64, least, most []float64) []float64 {
	p := len(theta)
	sums, slope := make([]float64, p*p), make([]float64, p)
	for i, v := range r {
		w := l.weight(v / scale)
		if w == 0 {
			continue
		}
		row := jacobian.RawRowView(i)
		for a := range p {
			slope[a] -= w * row[a] * v
			for b := a; b < p; b++ {
				sums[a*p+b] += w * row[a] * row[b]
			}
		}
	}
	normal := mat.NewSymDense(p, sums)
	resting := make([]bool, p)
	for a := range p {
		resting[a] = theta[a] <= least[a] && slope[a] < 0 || theta[a] >= most[a] && slope[a] > 0
	}
	step := solveDamped(normal, slope, resting, damping)
	next := make([]float64, p)
	for a := range p {
		next[a] = math.Max(least[a], math.Min(most[a], theta[a]+step[a]))
	}
	return next
}

// solveDamped solves the normal equations with their diagonal enlarged, each parameter
// first brought to a diagonal of 1. Resting parameters stay.
func solveDamped(normal *mat.SymDense, slope []float64, resting []bool, damping float64) []float64 {
	p := len(slope)
	unit := make([]float64, p)
	for a := range p {
		if unit[a] = math.Sqrt(normal.At(a, a)); unit[a] == 0 || resting[a] {
			unit[a] = math.Inf(1) // its row and column vanish
		}
	}
	scaled, right := mat.NewSymDense(p, nil), mat.NewVecDense(p, nil)
	for a := range p {
		right.SetVec(a, slope[a]/unit[a])
		for b := a + 1; b < p; b++ {
			scaled.SetSym(a, b, normal.At(a, b)/unit[a]/unit[b])
		}
		scaled.SetSym(a, a, 1+damping)
	}
	step := make([]float64, p)
	var factor mat.Cholesky
	if !factor.Factorize(scaled) {
		return step
	}
	var solved mat.VecDense
	if factor.SolveVecTo(&solved, right) != nil {
		return step
	}
	for a := range p {
		step[a] = solved.AtVec(a) / unit[a]
	}
	return step
}

// covariance returns the inverse of J'J times the square of the standard deviation of a
// residual. Directions that the readings do not see come out huge, not infinite.
func covariance(jacobian *mat.Dense, weights []float64, deviation float64) *mat.SymDense {
	n, p := jacobian.Dims()
	unit := make([]float64, p)
	for i := range n {
		for a, v := range jacobian.RawRowView(i) {
			unit[a] += weights[i] * v * v
		}
	}
	for a := range p {
		unit[a] = math.Max(math.Sqrt(unit[a]), 1e-12)
	}
	sums := make([]float64, p*p)
	for i := range n {
		row := jacobian.RawRowView(i)
		for a := range p {
			for b := a; b < p; b++ {
				sums[a*p+b] += weights[i] * row[a] * row[b] / unit[a] / unit[b]
			}
		}
	}
	scaled := mat.NewSymDense(p, sums)
	const unseen = 1e-12 // lifts a diagonal of 1 just over what is rounding
	for a := range p {
		scaled.SetSym(a, a, scaled.At(a, a)+unseen)
	}
	out := mat.NewSymDense(p, nil)
	var factor mat.Cholesky
	if !factor.Factorize(scaled) {
		for a := range p {
			out.SetSym(a, a, math.Inf(1))
		}
		return out
	}
	var inverse mat.SymDense
	if factor.InverseTo(&inverse) != nil && inverse.IsEmpty() {
		return out
	}
	for a := range p {
		for b := a; b < p; b++ {
			out.SetSym(a, b, inverse.At(a, b)*deviation*deviation/unit[a]/unit[b])
		}
	}
	return out
}
