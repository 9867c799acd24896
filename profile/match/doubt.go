package match

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/mat"
)

const (
	// doubts are how often a better fit is looked for again from the one found.
	doubts = 6
	// hopeless is the share of readings without weight over which they are not slips, and
	// rough the scale, in accuracies of a reading, over which the knife is another: no other
	// fit of the family would do.
	hopeless, rough = 0.25, 2.5
	// risky is the leverage from which a slip may hide: of what it is off, its residual shows
	// the rest to 1 (Huber, Robust Statistics, 1981, section 7.2, calls 0.2 to 0.5 risky; from
	// memory).
	risky = 0.2
	// coupled is how many readings each is left out together with, one at a time.
	coupled = 6
	// promising is how many of the fits that look better by the linear model are followed.
	promising = 4
	// patience is how many steps of the linear model an attempt takes, which cost next to
	// nothing, and haste how many of the model itself.
	patience, haste = 8, 6
	// wide is by how much the scale of the biweight is greater first, so that it leads from
	// further off (graduated non-convexity: Blake and Zisserman, Visual Reconstruction, 1987;
	// from memory).
	wide = 4
)

// place is where a fit came to rest, with its robust standard deviation, mm.
type place struct {
	theta []float64
	scale float64
}

// doubted looks for a better fit than the one found where readings lie aside of it. Loss
// functions of the residual alone are led astray by slips that the fit follows: two on a
// tang of four stations turn it, and then the good readings lie aside. Of all fits that
// are tried the one of least biweight is right, as far as the readings tell (an M-estimate
// from the best of many starts: Yohai, Ann. Statist. 15, 1987, 642-656).
func doubted(p problem, starts [][]float64, found place, accuracy float64) place {
	for range doubts {
		next, ok := better(p, starts, found, accuracy)
		if !ok {
			break
		}
		found.theta, found.scale = settle(p, next, found.scale)
		starts = nil
	}
	return found
}

// better returns parameters of less cost than those found, by a difference that tells.
func better(p problem, starts [][]float64, found place, accuracy float64) ([]float64, bool) {
	theta, scale := found.theta, found.scale
	r, jacobian, ok := p.linearise(theta)
	if !ok || !doubtful(r, scale, accuracy) {
		return nil, false
	}
	bound := costOf(r, tukey(), scale) - barely/4.0
	var best []float64
	least := bound
	consider := func(next []float64) {
		r, fits := p.residuals(next)
		if !fits {
			return
		}
		if cost := costOf(r, tukey(), scale); cost < least {
			best, least = next, cost
		}
	}
	sets := followed(newFitted(r, jacobian, atLimits(p, theta)), scale)
	for _, l := range leads(tangent{p, theta, r, jacobian}, sets, scale, bound) {
		if _, fits := p.residuals(l.theta); fits {
			consider(minimise(p, l.theta, tukey(), scale, haste))
		} else {
			consider(withdrawn(p, lacking{p, l.out}, theta, scale))
		}
	}
	for _, start := range starts {
		consider(withdrawn(p, p, start, scale))
	}
	return best, best != nil
}

// withdrawn follows a start by Huber's loss of some of the readings, then by the biweight
// of all, from a wide one to its own scale.
func withdrawn(all, some problem, start []float64, scale float64) []float64 {
	next := minimise(some, start, huber(), scale, haste)
	next = minimise(all, next, tukey(), wide*scale, haste)
	return minimise(all, next, tukey(), scale, haste)
}

// doubtful reports whether some readings have no weight, and the others follow a knife of
// the family.
func doubtful(residuals []float64, scale, accuracy float64) bool {
	n := 0
	for _, r := range residuals {
		if math.Abs(r) > tukeyCut*scale {
			n++
		}
	}
	return n > 0 && float64(n) <= hopeless*float64(len(residuals)) && scale <= rough*accuracy
}

// lead is a fit that looks better, by the linear model, once some readings were left out.
type lead struct {
	theta []float64
	out   []int
	cost  float64
}

// leads fits the linear model without each set of readings, then with all, and returns
// those of a cost under a bound, the least first.
func leads(t tangent, sets [][]int, scale, bound float64) []lead {
	var out []lead
	for _, set := range sets {
		next := minimise(lacking{t, set}, t.at, huber(), scale, patience)
		next = minimise(t, next, tukey(), scale, patience)
		r, _ := t.residuals(next)
		if cost := costOf(r, tukey(), scale); cost < bound {
			out = append(out, lead{next, set, cost})
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].cost < out[b].cost })
	return out[:min(promising, len(out))]
}

// followed returns sets of readings that the fit may follow though they are wrong: each
// of a leverage that is risky and that pulls at one without weight, alone and with each of
// those that it pulls at most. Leverage and pull are the elements of J (J'WJ)^-1 J'W.
func followed(f fitted, scale float64) [][]int {
	weights := f.weights(tukey(), scale)
	n, _ := f.jacobian.Dims()
	var half, hat mat.Dense
	half.Mul(f.jacobian, covariance(f.jacobian, weights, 1))
	hat.Mul(&half, f.jacobian.T())
	var out [][]int
	for i := range n {
		if weights[i]*hat.At(i, i) < risky {
			continue
		}
		var others []int
		astray := false
		for j := range n {
			if weights[j] == 0 {
				astray = astray || weights[i]*math.Abs(hat.At(i, j)) > risky/4
			} else if j != i {
				others = append(others, j)
			}
		}
		if !astray {
			continue
		}
		pull := func(j int) float64 { return weights[j] * math.Abs(hat.At(i, j)) }
		sort.SliceStable(others, func(a, b int) bool { return pull(others[a]) > pull(others[b]) })
		out = append(out, []int{i})
		for _, j := range others[:min(coupled, len(others))] {
			out = append(out, []int{min(i, j), max(i, j)})
		}
	}
	slices.SortFunc(out, slices.Compare)
	return slices.CompactFunc(out, slices.Equal)
}

// lacking is a problem without some of its readings.
type lacking struct {
	problem
	out []int
}

func (l lacking) residuals(theta []float64) ([]float64, bool) {
	r, ok := l.problem.residuals(theta)
	if !ok {
		return nil, false
	}
	for _, i := range l.out {
		r[i] = 0
	}
	return r, true
}

func (l lacking) linearise(theta []float64) ([]float64, *mat.Dense, bool) {
	r, whole, ok := l.problem.linearise(theta)
	if !ok {
		return nil, nil, false
	}
	jacobian := mat.DenseCopyOf(whole)
	for _, i := range l.out {
		r[i] = 0
		clear(jacobian.RawRowView(i))
	}
	return r, jacobian, true
}

// tangent is a problem made linear at some of its parameters.
type tangent struct {
	problem
	at, values []float64
	jacobian   *mat.Dense
}

func (t tangent) residuals(theta []float64) ([]float64, bool) {
	out := slices.Clone(t.values)
	for i := range out {
		row := t.jacobian.RawRowView(i)
		for a := range theta {
			out[i] += row[a] * (theta[a] - t.at[a])
		}
	}
	return out, true
}

func (t tangent) linearise(theta []float64) ([]float64, *mat.Dense, bool) {
	r, _ := t.residuals(theta)
	return r, t.jacobian, true
}
