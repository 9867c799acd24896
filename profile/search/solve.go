package search

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/optimize"
)

// solver counts what a solution costs and remembers what it saw.
type solver struct {
	Problem
	start  float64
	answer Answer
}

func (s *solver) value(at []float64) float64 {
	s.answer.Looked++
	v := s.Value(at)
	if !math.IsNaN(v) {
		s.answer.Lowest, s.answer.Highest = min(s.answer.Lowest, v), max(s.answer.Highest, v)
	}
	return v
}

func (s *solver) check(at []float64) Obstacle {
	s.answer.Checked++
	return s.Check(at)
}

// Solve looks for the least change of the parameters after which the quantity is within
// the tolerance of the target and nothing stands in the way.
//
// With one parameter it looks both ways from the start, at 24 designs each, and solves
// between those that have the target between them. With several it does so along straight
// ways from the start: first along the gradient, which is the shortest where the quantity
// is straight, and along each parameter; then the direction is bettered from the best of
// them by Nelder and Mead's simplex (gonum/optimize), first 0.3 wide, until 20 steps
// better the length by less than a ten-thousandth, or for 40 ways a parameter. The answer
// is the shortest found, which need not be the shortest there is.
func Solve(p Problem) Answer {
	s := &solver{Problem: p}
	s.answer.Lowest, s.answer.Highest = math.Inf(1), math.Inf(-1)
	origin := make([]float64, len(p.Parameters))
	for i, q := range p.Parameters {
		origin[i] = q.Start
	}
	s.start = s.value(origin)
	if math.Abs(s.start-p.Target) <= p.Tolerance && s.check(origin).Name == "" {
		s.answer.Reached, s.answer.Found, s.answer.Moves = true, true, true
		s.answer.Place = Place{At: origin, Value: s.start}
		return s.answer
	}
	ways := s.firstWays()
	if len(p.Parameters) > 1 && s.moves() {
		ways = s.better(ways)
	}
	s.answer.Moves = s.moves()
	if !s.settle(ways) {
		s.comeNear(ways)
	}
	return s.answer
}

// moves reports whether anything looked at changed the quantity.
func (s *solver) moves() bool {
	return s.answer.Highest-s.answer.Lowest > 1e-6*s.Tolerance
}

// firstWays returns the ways along each parameter, toward either limit, and with several
// parameters the one along the gradient toward the target.
func (s *solver) firstWays() []*way {
	var out []*way
	until := math.Inf(1)
	add := func(direction []float64) {
		if w, ok := s.newWay(direction, until); ok {
			out = append(out, w)
			until = min(until, w.length())
		}
	}
	n := len(s.Parameters)
	for i := range n {
		for _, side := range []float64{1, -1} {
			direction := make([]float64, n)
			direction[i] = side
			add(direction)
		}
	}
	if n > 1 {
		if g, ok := s.gradient(); ok {
			add(g)
		}
	}
	return out
}

// gradient returns the direction in which the quantity goes to the target fastest, by
// differences over a thousandth of each scale.
func (s *solver) gradient() ([]float64, bool) {
	const step = 1e-3
	out := make([]float64, len(s.Parameters))
	for i, p := range s.Parameters {
		at := make([]float64, len(s.Parameters))
		for j, q := range s.Parameters {
			at[j] = q.Start
		}
		h := step * p.Scale
		if p.Start+h > p.Most {
			h = -h
		}
		at[i] += h
		out[i] = (s.value(at) - s.start) / h * p.Scale * math.Copysign(1, s.Target-s.start)
	}
	return normalised(out)
}

// normalised returns a direction at length 1; ok is false where it has none.
func normalised(v []float64) (out []float64, ok bool) {
	length := 0.0
	for _, x := range v {
		length = math.Hypot(length, x)
	}
	if !(length > 0) || math.IsInf(length, 1) {
		return nil, false
	}
	out = make([]float64, len(v))
	for i, x := range v {
		out[i] = x / length
	}
	return out, true
}

// better adds the ways that the simplex looks at.
func (s *solver) better(ways []*way) []*way {
	if len(ways) == 0 {
		return ways
	}
	best := slices.MinFunc(ways, func(v, w *way) int { return cmp.Compare(v.cost(), w.cost()) })
	const useless = 1e9
	// A way is worth looking along somewhat beyond the best, so that the simplex sees how
	// much longer its neighbours are.
	const slack = 1.5
	until := best.length()
	problem := optimize.Problem{Func: func(v []float64) float64 {
		direction, ok := normalised(v)
		if !ok {
			return useless
		}
		w, ok := s.newWay(direction, slack*until)
		if !ok {
			return useless
		}
		until = min(until, w.length())
		ways = append(ways, w)
		return w.cost()
	}}
	settings := &optimize.Settings{FuncEvaluations: 40 * len(s.Parameters),
		Converger: &optimize.FunctionConverge{Relative: 1e-4, Iterations: 20}}
	// That it came to its greatest number of ways is no fault: the best are kept.
	_, _ = optimize.Minimize(problem, slices.Clone(best.direction), settings, &optimize.NelderMead{SimplexSize: 0.3})
	return ways
}

// length is how far it is to the root of a way, +Inf where it has none.
func (w *way) length() float64 {
	if !w.found {
		return math.Inf(1)
	}
	return w.root
}

// cost is what the simplex makes least: the change to the root; without one, more than
// any, by how far the checks are exceeded where the target is reached, or how far the
// quantity stays from it.
func (w *way) cost() float64 {
	const unsound, unreached = 1e3, 1e6
	switch {
	case w.found:
		return w.root
	case w.barred:
		return unsound + w.excess
	}
	gap := math.Inf(1)
	for _, p := range w.stops {
		if !math.IsNaN(p.value) {
			gap = min(gap, math.Abs(p.value-w.Target))
		}
	}
	return unreached + min(gap/math.Abs(w.start-w.Target), 1e3)
}

// settle takes the nearest root of all ways.
func (s *solver) settle(ways []*way) bool {
	if len(ways) == 0 {
		return false
	}
	best := slices.MinFunc(ways, func(v, w *way) int { return cmp.Compare(v.length(), w.length()) })
	if !best.found {
		return false
	}
	at := s.neat(best.at(best.root))
	s.answer.Reached, s.answer.Found, s.answer.Direction = true, true, best.direction
	s.answer.Place = Place{At: at, Value: s.value(at), Change: s.change(at)}
	return true
}

// neat returns the first neater place that is still a solution, or the one given.
func (s *solver) neat(at []float64) []float64 {
	if s.Neater == nil {
		return at
	}
	for _, other := range s.Neater(at) {
		if math.Abs(s.value(other)-s.Target) <= s.Tolerance && s.check(other).Name == "" {
			return other
		}
	}
	return at
}

func (s *solver) change(at []float64) float64 {
	sum := 0.0
	for i, p := range s.Parameters {
		sum = math.Hypot(sum, (at[i]-p.Start)/p.Scale)
	}
	return sum
}

// comeNear takes the sound place nearest to the target of all ways, of which with several
// parameters only the most promising are looked at.
func (s *solver) comeNear(ways []*way) {
	const most = 6
	if len(ways) > most {
		ways = slices.Clone(ways)
		slices.SortStableFunc(ways, func(v, w *way) int { return cmp.Compare(v.cost(), w.cost()) })
		ways = ways[:most]
	}
	best := math.Inf(1)
	for _, w := range ways {
		n, found := w.nearest()
		if !found || n.away >= best {
			continue
		}
		best = n.away
		at := w.at(n.t)
		s.answer.Found, s.answer.Beyond, s.answer.AtLimit, s.answer.Direction = true, n.beyond, n.atLimit, w.direction
		s.answer.Place = Place{At: at, Value: s.value(at), Change: n.t}
	}
}
