package search

import "math"

// solver counts what a solution costs and remembers what it saw.
type solver struct {
	Problem
	start           float64
	lowest, highest float64
	answer          Answer
}

func (s *solver) value(at float64) float64 {
	s.answer.Looked++
	v := s.Value(at)
	if !math.IsNaN(v) {
		s.lowest, s.highest = min(s.lowest, v), max(s.highest, v)
	}
	return v
}

func (s *solver) check(at float64) Obstacle {
	s.answer.Checked++
	return s.Check(at)
}

// Solve looks for the least change of the parameter after which the quantity is within the
// tolerance of the target and nothing stands in the way: both ways from the start, at 24
// designs each, solving between those that have the target between them.
func Solve(p Problem) Answer {
	s := &solver{Problem: p, lowest: math.Inf(1), highest: math.Inf(-1), answer: Answer{Still: -1}}
	s.start = s.value(p.Parameter.Start)
	if math.Abs(s.start-p.Target) <= p.Tolerance && s.check(p.Parameter.Start).Name == "" {
		s.answer.Reached, s.answer.Found = true, true
		s.take(p.Parameter.Start)
		return s.answer
	}
	ways := s.ways()
	if !(s.highest-s.lowest > 1e-6*s.Tolerance) {
		s.answer.Still = 0
	}
	if !s.settle(ways) {
		s.comeNear(ways)
	}
	return s.answer
}

// ways returns those toward either limit; the second is looked along no further than the
// root of the first.
func (s *solver) ways() []*way {
	var out []*way
	until := math.Inf(1)
	for _, side := range []float64{1, -1} {
		if w, ok := s.newWay(side, until); ok {
			out = append(out, w)
			until = min(until, w.length())
		}
	}
	return out
}

// length is how far it is to the root of a way, +Inf where it has none.
func (w *way) length() float64 {
	if !w.found {
		return math.Inf(1)
	}
	return w.root
}

// settle takes the nearest root of all ways.
func (s *solver) settle(ways []*way) bool {
	var best *way
	for _, w := range ways {
		if w.found && (best == nil || w.root < best.root) {
			best = w
		}
	}
	if best == nil {
		return false
	}
	s.answer.Reached, s.answer.Found = true, true
	s.take(s.neat(best.at(best.root)))
	return true
}

// take puts a design in the answer.
func (s *solver) take(at float64) {
	s.answer.At, s.answer.Values = []float64{at}, []float64{s.value(at)}
	s.answer.Change = math.Abs(at-s.Parameter.Start) / s.Parameter.Scale
}

// neat returns the first neater value that is still a solution, or the one given.
func (s *solver) neat(at float64) float64 {
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

// comeNear takes the sound design nearest to the target. Where what is sound ends within
// the tolerance of it, that will do.
func (s *solver) comeNear(ways []*way) {
	best := math.Inf(1)
	for _, w := range ways {
		n, found := w.nearest()
		if !found || n.away >= best {
			continue
		}
		best = n.away
		s.answer.Found, s.answer.Beyond, s.answer.AtLimit = true, n.beyond, n.atLimit
		s.take(w.at(n.t))
	}
	s.answer.Reached = best <= s.Tolerance
}
