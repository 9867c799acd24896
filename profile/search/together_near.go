package search

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/optimize"
)

// comeNear takes the sound place that comes nearest to the targets: from the start, or the
// first sound place on the ways to where the searches ended, as far along those ways as
// designs are sound, and from the best of these by Nelder and Mead's simplex, four times,
// 0.05 wide at first and 0.001 at last.
func (s *together) comeNear(origin []float64, landings []landing) {
	best, least := []float64(nil), math.Inf(1)
	consider := func(change []float64) {
		if away := norm(s.misses(change)); away < least && s.sound(change) {
			best, least = slices.Clone(change), away
		}
	}
	consider(origin)
	startSound := best != nil
	for _, l := range landings {
		consider(l.at)
		if startSound && least > 0 {
			on := func(t float64) []float64 { return mixed(origin, l.at, t) }
			inside, _ := border(0, 1, halvings, func(t float64) bool { return s.sound(on(t)) })
			consider(on(inside))
		}
	}
	if best == nil {
		return
	}
	const useless, unsound = 1e18, 1e9
	problem := optimize.Problem{Func: func(change []float64) float64 {
		for i := range change {
			if change[i] < s.least[i] || change[i] > s.most[i] {
				return useless
			}
		}
		away := norm(s.misses(change))
		if math.IsNaN(away) {
			return useless
		}
		if away >= least { // not worth its checks
			return away
		}
		if o := s.check(change); o.Name != "" {
			return unsound + o.Excess
		}
		best, least = slices.Clone(change), away
		return away
	}}
	for _, size := range []float64{0.05, 0.02, 0.005, 0.001} {
		settings := &optimize.Settings{FuncEvaluations: 30 * len(origin), Converger: &optimize.FunctionConverge{Relative: 1e-6, Iterations: 20}}
		_, _ = optimize.Minimize(problem, slices.Clone(best), settings, &optimize.NelderMead{SimplexSize: size})
	}
	s.answer.Found = true
	s.lookBeyond(best)
	s.take(s.place(best))
	s.answer.Reached = s.meets(s.answer.Values)
}

// lookBeyond says what keeps a place from coming nearer to the targets: the check that
// fails a little way on, or the limit that holds a parameter.
func (s *together) lookBeyond(at []float64) {
	misses := s.misses(at)
	slopes, ok := s.slopes(at, misses)
	if !ok {
		return
	}
	free := &together{Together: s.Together, least: slices.Repeat([]float64{math.Inf(-1)}, len(at)), most: slices.Repeat([]float64{math.Inf(1)}, len(at))}
	beyond, within := free.nearestOn(at, at, misses, slopes), s.nearestOn(at, at, misses, slopes)
	const reach = 1e-9
	for i, p := range s.Parameters {
		if beyond[i] > s.most[i]+reach && at[i] > s.most[i]-1e-6 || beyond[i] < s.least[i]-reach && at[i] < s.least[i]+1e-6 {
			s.answer.AtLimit = p.Name
		}
	}
	for _, t := range []float64{1e-6, 1e-4, 1e-3, 1e-2, 1e-1} {
		if o := s.check(mixed(at, within, t)); o.Name != "" {
			s.answer.Beyond = o
			return
		}
	}
}

// mixed returns the place a part of the way from one to another.
func mixed(a, b []float64, t float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] + t*(b[i]-a[i])
	}
	return out
}
