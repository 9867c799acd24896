package match

import (
	"math"
	"sort"
)

// loss is a robust loss of a residual in units of the scale: rho, and the weight rho'(u)/u
// and the slope rho”(u) that follow from it.
type loss struct {
	rho, weight, slope func(u float64) float64
}

// The constants of the two losses with which 95 % of the efficiency of least squares is
// kept where the errors are normal (Holland and Welsch, Communications in Statistics A6,
// 1977, 813-827; quoted from memory, and the 95 % checked by a test).
const (
	huberCut = 1.345
	tukeyCut = 4.685
)

// huber grows as the square near 0 and as the distance far off: it has one minimum where
// the model is linear, and so leads from a rough start.
func huber() loss {
	return loss{
		rho: func(u float64) float64 {
			if a := math.Abs(u); a > huberCut {
				return huberCut * (a - huberCut/2)
			}
			return u * u / 2
		},
		weight: func(u float64) float64 { return math.Min(1, huberCut/math.Max(math.Abs(u), 1e-300)) },
		slope: func(u float64) float64 {
			if math.Abs(u) > huberCut {
				return 0
			}
			return 1
		},
	}
}

// tukey is the biweight: what lies beyond its cut has no weight at all.
func tukey() loss {
	return loss{
		rho: func(u float64) float64 {
			v := math.Max(0, 1-float64(u/tukeyCut)*float64(u/tukeyCut))
			return tukeyCut * tukeyCut / 6 * (1 - v*v*v)
		},
		weight: func(u float64) float64 {
			v := math.Max(0, 1-float64(u/tukeyCut)*float64(u/tukeyCut))
			return v * v
		},
		slope: func(u float64) float64 {
			w := float64(u/tukeyCut) * float64(u/tukeyCut)
			if w >= 1 {
				return 0
			}
			return (1 - w) * (1 - 5*w)
		},
	}
}

const (
	// normalMedian is the median of the absolute value of a standard normal variable.
	normalMedian = 0.6744897501960817
	// leastScale keeps a fit that is exact from dividing by nothing, mm.
	leastScale = 1e-4
)

// scaleOf returns the robust standard deviation of residuals of a fit of p parameters:
// the median of their absolute values, made that of normal errors, with the degrees of
// freedom that the fit took. Where few readings are over, some are met exactly and the
// median says nothing: there it is the plain standard deviation, and none is a slip.
func scaleOf(residuals []float64, p int) float64 {
	if n := len(residuals); n > 0 && n-p < enough {
		sum := 0.0
		for _, r := range residuals {
			sum += r * r
		}
		return math.Max(leastScale, math.Sqrt(sum/math.Max(1, float64(n-p))))
	}
	sizes := make([]float64, len(residuals))
	for i, r := range residuals {
		sizes[i] = math.Abs(r)
	}
	sort.Float64s(sizes)
	n := len(sizes)
	if n == 0 {
		return leastScale
	}
	median := (sizes[(n-1)/2] + sizes[n/2]) / 2
	free := math.Max(1, float64(n-p))
	return math.Max(leastScale, median/normalMedian*math.Sqrt(float64(n)/free))
}

// rounds are how often the scale is found anew from the residuals, at most.
const rounds = 8

// robustFit finds the parameters of a problem from a start: first by Huber's loss, with
// the scale found anew until it stands, then by the biweight. The last scale is returned
// with them; ok is false where the start is no knife.
func robustFit(p problem, start []float64) (theta []float64, scale float64, ok bool) {
	theta, scale, ok = roughFit(p, start, rounds)
	if !ok {
		return nil, 0, false
	}
	theta, scale = settle(p, theta, scale)
	return theta, scale, true
}

// settle follows a fit by the biweight, with the scale found anew until it stands: first
// by the median, then by what the influence function gives.
func settle(p problem, theta []float64, scale float64) ([]float64, float64) {
	for range 4 {
		before := scale
		theta = minimise(p, theta, tukey(), scale, mostSteps)
		r, _ := p.residuals(theta)
		scale = scaleOf(r, len(theta))
		if math.Abs(scale-before) < 1e-4*before {
			break
		}
	}
	for range rounds {
		before := scale
		r, jacobian, ok := p.linearise(theta)
		if !ok {
			break
		}
		scale = efficientScale(newFitted(r, jacobian, atLimits(p, theta)), scale)
		theta = minimise(p, theta, tukey(), scale, mostSteps)
		if math.Abs(scale-before) < 1e-3*before {
			break
		}
	}
	return theta, scale
}

// efficientScale returns the robust standard deviation of residuals of a fit that its
// influence function gives, from a first one: the biweight A-estimator of scale (Lax, J.
// Amer. Statist. Assoc. 80, 1985, 736-741; from memory) with the slopes that the fit
// leaves, so that it is right for residuals made smaller by leverage, of which the median
// knows nothing. For normal errors it is some twice as sure as the median, of which the
// weights, and with them the standard errors, would have the chance.
func efficientScale(f fitted, first float64) float64 {
	const efficiency = 0.95 // of the biweight at tukeyCut: its spread is greater by the root
	deviation, ok := f.deviation(tukey(), first)
	if !ok {
		return first
	}
	return math.Max(leastScale, deviation*math.Sqrt(efficiency))
}

// roughFit is the first part of robustFit with a number of rounds.
func roughFit(p problem, start []float64, most int) (theta []float64, scale float64, ok bool) {
	r, ok := p.residuals(start)
	if !ok {
		return nil, 0, false
	}
	theta, scale = start, scaleOf(r, len(start))
	for range most {
		before := scale
		theta = minimise(p, theta, huber(), scale, mostSteps)
		r, _ = p.residuals(theta)
		scale = scaleOf(r, len(theta))
		if math.Abs(scale-before) < 1e-3*before {
			break
		}
	}
	return theta, scale, true
}
