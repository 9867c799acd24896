package search

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/optimize"
)

// Together asks for the least change of the parameters after which several quantities come
// to their targets at once and nothing stands in the way. There are at least as many
// parameters as goals.
type Together struct {
	Parameters []Parameter
	Goals      []Goal
	// Values are the quantities of a design, one for each goal, NaN where there is no such
	// design.
	Values func(at []float64) []float64
	// Check says what stands in the way of a design, or why there is none.
	Check func(at []float64) Obstacle
	// Neater returns places beside a solution, those with the fewest digits first, of
	// which the first that will do is taken in its stead; nil for none.
	Neater func(at []float64) [][]float64
}

// together is a search among several goals. Places are changes: of each parameter over its
// scale. Misses are counted in tolerances.
type together struct {
	Together
	least, most []float64 // changes
	answer      Answer
}

// SolveTogether looks for the least change after which all targets are reached and nothing
// stands in the way.
//
// From the start, and from places a tenth, three tenths and a whole of the scale beside it
// along each parameter, it goes to where all targets are met with the least change: by the
// nearest place on the straight surfaces that the slopes give, inside the limits, over and
// over (sequential quadratic programming with the change itself as what is made least).
// What that comes to is a local minimum but for checks. Where the shortest passes them, it
// is the answer. Where it does not, and there are more parameters than goals, the targets
// are kept met on ways from there to the first place that passes; with two parameters more
// than goals or beyond, Nelder and Mead's simplex (gonum/optimize) betters the direction of
// the way. The answer is the shortest found, which need not be the shortest there is.
func SolveTogether(p Together) Answer {
	s := &together{Together: p}
	for _, q := range p.Parameters {
		s.least, s.most = append(s.least, (q.Least-q.Start)/q.Scale), append(s.most, (q.Most-q.Start)/q.Scale)
	}
	if s.answer.Still = s.still(); s.answer.Still >= 0 {
		return s.answer
	}
	origin := make([]float64, len(p.Parameters))
	if greatest(s.misses(origin)) <= 1 && s.sound(origin) {
		s.answer.Reached, s.answer.Found, s.answer.Starts, s.answer.Agree = true, true, 1, 1
		s.answer.Stationary = true
		s.take(s.place(origin))
		return s.answer
	}
	landings := s.landings(origin)
	if best, ok := s.shortestSound(landings); ok {
		s.settle(best)
		return s.answer
	}
	s.comeNear(origin, landings)
	return s.answer
}

// landing is a place at which all targets are met, if reached.
type landing struct {
	at      []float64
	reached bool
	starts  int // how many led there
}

// landings goes to the targets from all starts. Those that are one place are one landing.
func (s *together) landings(origin []float64) []landing {
	starts := [][]float64{origin}
	for i := range origin {
		for _, by := range []float64{0.1, -0.1, 0.3, -0.3, 1, -1} {
			start := slices.Clone(origin)
			start[i] = min(max(by, s.least[i]), s.most[i])
			starts = append(starts, start)
		}
	}
	s.answer.Starts = len(starts)
	var out []landing
	for _, start := range starts {
		l := s.land(origin, start)
		same := slices.IndexFunc(out, func(o landing) bool { return o.reached && l.reached && apart(o.at, l.at) < 1e-3 })
		if same >= 0 {
			out[same].starts++
			continue
		}
		out = append(out, l)
	}
	slices.SortStableFunc(out, func(a, b landing) int {
		if a.reached != b.reached {
			return map[bool]int{true: -1, false: 1}[a.reached]
		}
		return cmp.Compare(norm(a.at), norm(b.at))
	})
	return out
}

// shortestSound returns the shortest of the landings that passes its checks, and where the
// first does not, the shortest change about it that does.
func (s *together) shortestSound(landings []landing) (best landing, ok bool) {
	for i, l := range landings {
		if !l.reached {
			break
		}
		if s.sound(l.at) {
			best, ok = l, true
			break
		}
		s.answer.Barred = s.answer.Barred || i == 0
	}
	if ok && !s.answer.Barred || len(landings) == 0 || !landings[0].reached || len(s.Parameters) == len(s.Goals) {
		return best, ok
	}
	if around, found := s.around(landings[0].at); found && !(ok && norm(best.at) <= norm(around.at)) {
		return around, true
	}
	return best, ok
}

// around looks for the shortest sound change beside one that meets the targets and is
// barred: along ways on which the targets stay met, each to the first place that passes.
func (s *together) around(barred []float64) (best landing, found bool) {
	level := s.level(barred)
	length := math.Inf(1)
	look := func(direction []float64) float64 {
		l, excess, ok := s.firstSound(barred, level, direction)
		if !ok {
			const unsound = 1e3
			return unsound + min(excess, unsound)
		}
		n := norm(l.at)
		if n < length {
			length, best, found = n, l, true
		}
		return n
	}
	var shortest []float64
	cost := math.Inf(1)
	for i := range level {
		for _, side := range []float64{1, -1} {
			direction := make([]float64, len(level))
			direction[i] = side
			if c := look(direction); c < cost {
				cost, shortest = c, direction
			}
		}
	}
	if len(level) > 1 {
		problem := optimize.Problem{Func: func(v []float64) float64 {
			direction, ok := normalised(v)
			if !ok {
				return math.MaxFloat64
			}
			return look(direction)
		}}
		settings := &optimize.Settings{FuncEvaluations: 25 * len(level), Converger: &optimize.FunctionConverge{Relative: 1e-3, Iterations: 10}}
		_, _ = optimize.Minimize(problem, shortest, settings, &optimize.NelderMead{SimplexSize: 0.3})
	}
	return best, found
}

// firstSound goes from a barred place along the level directions, in steps that grow, to
// the first place that passes its checks, and halves the last step. Excess is the least of
// what stands in the way where none does.
func (s *together) firstSound(barred []float64, level [][]float64, direction []float64) (found landing, excess float64, ok bool) {
	excess = math.Inf(1)
	on := func(t float64) landing {
		anchor := slices.Clone(barred)
		for k, along := range level {
			for i := range anchor {
				anchor[i] = min(max(anchor[i]+t*direction[k]*along[i], s.least[i]), s.most[i])
			}
		}
		return s.land(anchor, anchor)
	}
	before, step := 0.0, 0.02
	for range 20 {
		t := before + step
		l := on(t)
		if !l.reached {
			return landing{}, excess, false
		}
		o := s.check(l.at)
		if o.Name != "" {
			excess, before, step = min(excess, o.Excess), t, step*1.3
			continue
		}
		inside, _ := border(t, before, halvings, func(t float64) bool {
			l := on(t)
			return l.reached && s.sound(l.at)
		})
		return on(inside), 0, true
	}
	return landing{}, excess, false
}

// settle takes a landing as the answer, or the first neater place that will do.
func (s *together) settle(l landing) {
	s.answer.Stationary = s.stationary(l.at)
	at := s.place(l.at)
	if s.Neater != nil {
		for _, other := range s.Neater(at) {
			if s.meets(s.Values(other)) && s.Check(other).Name == "" {
				at = other
				break
			}
		}
	}
	s.answer.Reached, s.answer.Found, s.answer.Agree = true, true, l.starts
	s.take(at)
}

// take puts a design in the answer.
func (s *together) take(at []float64) {
	s.answer.At, s.answer.Values, s.answer.Change = at, s.Values(at), 0
	for i, p := range s.Parameters {
		s.answer.Change = math.Hypot(s.answer.Change, (at[i]-p.Start)/p.Scale)
	}
}

// place returns the design of a change.
func (s *together) place(change []float64) []float64 {
	out := make([]float64, len(change))
	for i, p := range s.Parameters {
		out[i] = min(max(p.Start+change[i]*p.Scale, p.Least), p.Most)
	}
	return out
}

// misses returns how far the quantities of a change are from their targets, in tolerances.
func (s *together) misses(change []float64) []float64 {
	s.answer.Looked++
	out := slices.Clone(s.Values(s.place(change)))
	for j, g := range s.Goals {
		out[j] = (out[j] - g.Target) / g.Tolerance
	}
	return out
}

func (s *together) meets(values []float64) bool {
	for j, g := range s.Goals {
		if !(math.Abs(values[j]-g.Target) <= g.Tolerance) {
			return false
		}
	}
	return true
}

func (s *together) check(change []float64) Obstacle {
	s.answer.Checked++
	return s.Check(s.place(change))
}

func (s *together) sound(change []float64) bool { return s.check(change).Name == "" }

func norm(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum = math.Hypot(sum, x)
	}
	return sum
}

func apart(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum = math.Hypot(sum, a[i]-b[i])
	}
	return sum
}

// normalised returns a direction at length 1; ok is false where it has none.
func normalised(v []float64) (out []float64, ok bool) {
	length := norm(v)
	if !(length > 0) || math.IsInf(length, 1) {
		return nil, false
	}
	out = make([]float64, len(v))
	for i, x := range v {
		out[i] = x / length
	}
	return out, true
}
