package search

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// still returns the index of a goal that no parameter moves, looked at a hundredth and a
// fifth of the scale either way; -1 where each is moved.
func (s *together) still() int {
	now := s.misses(make([]float64, len(s.least)))
	moved := make([]bool, len(now))
	for i := range s.least {
		for _, by := range []float64{0.01, -0.01, 0.2, -0.2} {
			change := make([]float64, len(s.least))
			change[i] = min(max(by, s.least[i]), s.most[i])
			for j, miss := range s.misses(change) {
				moved[j] = moved[j] || math.Abs(miss-now[j]) > 1e-6
			}
		}
	}
	return slices.Index(moved, false)
}

// land goes from a place to where all targets are met with the least change from an
// anchor. A parameter that would go to where there is no design is held at the border, as at a
// limit of its own.
func (s *together) land(anchor, from []float64) landing {
	const most, last, settled = 30, 6, 1e-7
	at := slices.Clone(from)
	misses := s.misses(at)
	room := together{least: slices.Clone(s.least), most: slices.Clone(s.most)}
	for i := range most {
		if i == most-last { // however it goes round, the last steps meet the targets
			anchor = at
		}
		slopes, ok := s.slopes(at, misses)
		if !ok {
			break
		}
		next := room.nearestOn(anchor, at, misses, slopes)
		for range at {
			if s.designed(next) || !s.narrow(&room, at, next) {
				break
			}
			next = room.nearestOn(anchor, at, misses, slopes)
		}
		moved := apart(at, next)
		at, misses, ok = s.step(at, misses, next)
		if !ok || greatest(misses) <= near && moved <= settled*(1+norm(at)) {
			break
		}
	}
	return landing{at: at, reached: greatest(misses) <= 1, starts: 1}
}

// designed reports whether there is a design at a place.
func (s *together) designed(at []float64) bool { return !math.IsNaN(greatest(s.misses(at))) }

// narrow sets the limits of the parameters that alone lead, on the straight way to the next
// place, to where there is no design, to where the way leaves the designs; of all where none
// does alone. It reports whether that left any room less.
func (s *together) narrow(room *together, at, next []float64) bool {
	inside, outside := border(0, 1, halvings, func(t float64) bool { return s.designed(mixed(at, next, t)) })
	edge, beyond := mixed(at, next, inside), mixed(at, next, outside)
	var alone []int
	for i := range at {
		one := slices.Clone(edge)
		if one[i] = beyond[i]; !s.designed(one) {
			alone = append(alone, i)
		}
	}
	if alone == nil {
		for i := range at {
			alone = append(alone, i)
		}
	}
	narrowed := false
	for _, i := range alone {
		switch {
		case next[i] > at[i] && edge[i] < room.most[i]:
			room.most[i], narrowed = edge[i], true
		case next[i] < at[i] && edge[i] > room.least[i]:
			room.least[i], narrowed = edge[i], true
		}
	}
	return narrowed
}

// step goes toward the next place, as far as the misses do not grow: once within the
// tolerances they may come to ten of them, since the change is still to be made less.
func (s *together) step(at, misses, next []float64) (to, after []float64, ok bool) {
	allowed := max(greatest(misses)*(1-1e-4), 1)
	if greatest(misses) <= 1 {
		allowed = 10
	}
	for t := 1.0; t > 1e-3; t /= 2 {
		to = make([]float64, len(at))
		for i := range at {
			to[i] = at[i] + t*(next[i]-at[i])
		}
		if after = s.misses(to); greatest(after) <= allowed {
			return to, after, true
		}
	}
	return at, misses, false
}

// greatest returns the greatest size of several values; NaN where one is.
func greatest(v []float64) float64 {
	most := 0.0
	for _, x := range v {
		most = max(most, math.Abs(x))
	}
	return most
}

// slopes returns how fast each miss changes with each parameter, by differences over a
// ten-thousandth of the scale; ok is false where there is no design beside the place.
func (s *together) slopes(at, misses []float64) (*mat.Dense, bool) {
	const step = 1e-4
	out := mat.NewDense(len(s.Goals), len(at), nil)
	for i := range at {
		h := step
		if at[i]+h > s.most[i] {
			h = -h
		}
		var beside []float64
		for range 2 {
			change := slices.Clone(at)
			change[i] += h
			if beside = s.misses(change); !math.IsNaN(greatest(beside)) {
				break
			}
			h = -h
		}
		for j := range misses {
			slope := (beside[j] - misses[j]) / h
			if math.IsNaN(slope) || math.IsInf(slope, 0) {
				return nil, false
			}
			out.Set(j, i, slope)
		}
	}
	return out, true
}

// level returns directions, square to each other, in which no miss changes at a place.
func (s *together) level(at []float64) [][]float64 {
	slopes, ok := s.slopes(at, s.misses(at))
	var svd mat.SVD
	if !ok || !svd.Factorize(slopes, mat.SVDFullV) {
		return nil
	}
	var v mat.Dense
	svd.VTo(&v)
	var out [][]float64
	for k := len(s.Goals); k < len(at); k++ {
		out = append(out, mat.Col(nil, k, &v))
	}
	return out
}

// nearestOn returns the place nearest to an anchor at which the misses would be nothing if
// they were as straight as their slopes at a place, inside the limits: parameters that
// would pass theirs are held there, one after the other.
func (s *together) nearestOn(anchor, at, misses []float64, slopes *mat.Dense) []float64 {
	out, held := slices.Clone(anchor), make([]bool, len(anchor))
	for range anchor {
		s.project(out, anchor, at, misses, slopes, held)
		worst, by := -1, 1e-12
		for i := range out {
			if over := max(s.least[i]-out[i], out[i]-s.most[i]); !held[i] && over > by {
				worst, by = i, over
			}
		}
		if worst < 0 {
			break
		}
		held[worst] = true
		out[worst] = min(max(out[worst], s.least[worst]), s.most[worst])
	}
	for i := range out {
		out[i] = min(max(out[i], s.least[i]), s.most[i])
	}
	return out
}

// project moves the parameters of out that are not held: from the anchor along the slopes,
// by as much of each as makes the misses nothing, or least where they cannot be.
func (s *together) project(out, anchor, at, misses []float64, slopes *mat.Dense, held []bool) {
	goals := len(misses)
	square, rest := mat.NewDense(goals, goals, nil), mat.NewVecDense(goals, nil)
	for j := range goals {
		sum := -misses[j]
		for i := range at {
			origin := anchor[i]
			if held[i] {
				origin = out[i]
			}
			sum += slopes.At(j, i) * (at[i] - origin)
		}
		rest.SetVec(j, sum)
		for k := range goals {
			for i := range at {
				if !held[i] {
					square.Set(j, k, square.At(j, k)+slopes.At(j, i)*slopes.At(k, i))
				}
			}
		}
	}
	var svd mat.SVD
	const smallest = 1e-10 // of the greatest singular value: below it the slopes are one
	if !svd.Factorize(square, mat.SVDThin) || svd.Values(nil)[0] == 0 {
		return
	}
	var along mat.Dense
	svd.SolveTo(&along, rest, max(1, svd.Rank(smallest)))
	for i := range out {
		if held[i] {
			continue
		}
		out[i] = anchor[i]
		for j := range goals {
			out[i] += slopes.At(j, i) * along.At(j, 0)
		}
	}
}
