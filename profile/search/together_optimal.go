package search

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

const (
	// stationaryWithin is how much of a change may be left over by the first-order
	// conditions, as a part of it: what differences and landings leave is less by far.
	stationaryWithin = 0.01
	// difference is the step of central differences, in scales.
	difference = 1e-4
	// aside is the step by which it is tried whether checks bar a shorter change, in scales.
	aside = 2e-3
)

// stationary reports whether the first-order conditions (Karush, Kuhn and Tucker) of the
// least change hold at a landing: with z the change and g the slopes of the misses by
// central differences, there are multipliers m with
//
//	z - g'm = 0 for each parameter between its limits,
//	       <= 0 at the upper one, >= 0 at the lower.
//
// Where it does not hold and just one direction keeps the targets, it is enough that the
// checks bar the shorter side of it. Where several do, checks are not shown to bar all of
// them, and neither where limits leave fewer parameters than goals: then it is false.
// A place beside which there is no design stands at a limit of that parameter.
func (s *together) stationary(at []float64) bool {
	room := s.roomAt(at)
	slopes, ok := s.central(at, room)
	if !ok {
		return false
	}
	var free []int
	for i := range at {
		if at[i] < room.most[i]-difference && at[i] > room.least[i]+difference {
			free = append(free, i)
		}
	}
	if len(free) < len(s.Goals) {
		return false
	}
	part, z := mat.NewDense(len(free), len(s.Goals), nil), mat.NewVecDense(len(free), nil)
	for a, i := range free {
		part.SetRow(a, slopes.RawRowView(i))
		z.SetVec(a, at[i])
	}
	var multipliers mat.VecDense
	if multipliers.SolveVec(part, z) != nil {
		return false
	}
	left := func(i int) float64 { return at[i] - mat.Dot(slopes.RowView(i), &multipliers) }
	bound := stationaryWithin * norm(at)
	shorter := make([]float64, len(at))
	holds := true
	for a, i := range free {
		shorter[i] = -left(free[a])
	}
	for i := range at {
		switch {
		case at[i] >= room.most[i]-difference && at[i] > room.least[i]+difference:
			holds = holds && left(i) <= bound
		case at[i] <= room.least[i]+difference && at[i] < room.most[i]-difference:
			holds = holds && left(i) >= -bound
		}
	}
	switch {
	case !holds:
		return false
	case norm(shorter) <= bound:
		return true
	}
	return len(free) == len(s.Goals)+1 && s.barredAlong(at, shorter)
}

// barredAlong reports whether the checks bar a small step along a direction.
func (s *together) barredAlong(at, direction []float64) bool {
	along, ok := normalised(direction)
	if !ok {
		return false
	}
	anchor := make([]float64, len(at))
	for i := range at {
		anchor[i] = min(max(at[i]+aside*along[i], s.least[i]), s.most[i])
	}
	l := s.land(anchor, anchor)
	return l.reached && apart(l.at, at) > aside/2 && !s.sound(l.at)
}

// roomAt returns the limits about a place, with those that end where there is no design.
func (s *together) roomAt(at []float64) together {
	room := together{least: append([]float64(nil), s.least...), most: append([]float64(nil), s.most...)}
	for i := range at {
		beside := func(by float64) bool {
			moved := append([]float64(nil), at...)
			moved[i] = min(max(at[i]+by, s.least[i]), s.most[i])
			return s.designed(moved)
		}
		if !beside(2 * difference) {
			room.most[i] = at[i]
		}
		if !beside(-2 * difference) {
			room.least[i] = at[i]
		}
	}
	return room
}

// central returns the slopes of the misses inside some limits, a row a parameter, a column a
// goal; ok is false where there is no design beside the place.
func (s *together) central(at []float64, room together) (*mat.Dense, bool) {
	out := mat.NewDense(len(at), len(s.Goals), nil)
	for i := range at {
		moved := [2][]float64{append([]float64(nil), at...), append([]float64(nil), at...)}
		moved[0][i] = max(at[i]-difference, room.least[i])
		moved[1][i] = min(at[i]+difference, room.most[i])
		low, high := s.misses(moved[0]), s.misses(moved[1])
		for j := range s.Goals {
			slope := (high[j] - low[j]) / (moved[1][i] - moved[0][i])
			if math.IsNaN(slope) || math.IsInf(slope, 0) {
				return nil, false
			}
			out.Set(i, j, slope)
		}
	}
	return out, true
}
