package toolpath

import (
	"math"
	"slices"
)

// rampPlace is a corner of a ramp: along the groove, and over the centre-plane.
type rampPlace struct{ s, h float64 }

// rampPlaces returns the corners of the shortest ramp from the level before down to the part
// of a track between its run-outs, ending at the end of that part where a pass begins that
// runs forward or back. It nowhere sinks into the steel, nor goes down, by more than the
// given slope: where the track itself slopes, it leaves that much less. Where there is no
// room for it in one leg, it goes to and fro. At bends, those of the track and those of the
// centreline, it has a corner, so that it stays in the groove.
func rampPlaces(flat track, bends []float64, before func(float64) float64, slope float64, forward bool) []rampPlace {
	r := newRamp(flat, bends, slope, forward)
	drop := func(i int) float64 { return before(r.way[i].s) - r.way[i].h }
	most := 0.0
	for i := range r.way {
		most = math.Max(most, drop(i))
		if r.sunk[i] >= drop(i) {
			return r.leg(r.meets(i, before))
		}
	}
	return r.toAndFro(most)
}

// ramp is the way outward from where a ramp ends, and how deep it may have sunk on the way
// in from each corner.
type ramp struct {
	flat  track
	way   []rampPlace // on the track
	sunk  []float64
	slope float64
}

func newRamp(flat track, bends []float64, slope float64, forward bool) ramp {
	stops := []float64{flat.start()}
	for _, p := range flat.pieces {
		stops = append(stops, p.s1)
	}
	for _, b := range bends {
		if b > flat.start() && b < flat.end() {
			stops = append(stops, b)
		}
	}
	slices.Sort(stops)
	if !forward {
		slices.Reverse(stops)
	}
	r := ramp{flat: flat, slope: slope}
	for i, s := range slices.Compact(stops) {
		r.way = append(r.way, rampPlace{s, flat.height(s)})
		r.sunk = append(r.sunk, 0)
		if i > 0 {
			r.sunk[i] = r.sunk[i-1] + r.rate(i)*math.Abs(s-r.way[i-1].s)
		}
	}
	return r
}

// rate is how fast the ramp may sink toward the track on the stretch before a corner of its
// way, height over length: what the track's own slope leaves, but a quarter at least.
func (r ramp) rate(i int) float64 {
	a, b := r.way[i-1], r.way[i]
	own := math.Abs((b.h - a.h) / (b.s - a.s))
	return math.Max(r.slope-own, r.slope/4)
}

// meets returns the place, no farther out than a corner of the way, at which a ramp of one
// leg comes down from the level before.
func (r ramp) meets(i int, before func(float64) float64) (place float64, last int) {
	if i == 0 {
		return r.way[0].s, 0
	}
	a, b := r.way[i-1].s, r.way[i].s
	return crossing(func(s float64) float64 {
		return before(s) - r.flat.height(s) - r.sunk[i-1] - r.rate(i)*math.Abs(s-a)
	}, b, a), i
}

// leg returns the corners of a ramp of one leg that begins at a place on the stretch before
// a corner of the way.
func (r ramp) leg(s float64, last int) []rampPlace {
	if last == 0 {
		return []rampPlace{r.way[0]}
	}
	over := r.sunk[last-1] + r.rate(last)*math.Abs(s-r.way[last-1].s)
	out := []rampPlace{{s, r.flat.height(s) + over}}
	for i := last - 1; i >= 0; i-- {
		out = append(out, rampPlace{r.way[i].s, r.way[i].h + r.sunk[i]})
	}
	return out
}

// toAndFro returns the corners of a ramp that sinks by a drop in as many equal legs as it
// needs, an odd number, so that the last ends where the ramp is to end.
func (r ramp) toAndFro(drop float64) []rampPlace {
	legs := int(math.Ceil(drop / r.sunk[len(r.sunk)-1]))
	if legs%2 == 0 {
		legs++
	}
	r = r.shortened(drop / float64(legs))
	last, left := len(r.way)-1, drop
	out := []rampPlace{{r.way[last].s, r.way[last].h + left}}
	for n := range legs {
		for i := range last {
			from, to := last-i, last-i-1
			if n%2 == 1 {
				from, to = i, i+1
			}
			left -= math.Abs(r.sunk[from] - r.sunk[to])
			out = append(out, rampPlace{r.way[to].s, r.way[to].h + math.Max(0, left)})
		}
	}
	out[len(out)-1].h = r.way[0].h
	return out
}

// shortened returns the ramp with its way only as far out as it sinks by the given height,
// which is no more than that of its whole way.
func (r ramp) shortened(sunk float64) ramp {
	i, _ := slices.BinarySearch(r.sunk, sunk)
	i = min(max(i, 1), len(r.sunk)-1)
	a, b := r.way[i-1], r.way[i]
	s := a.s + math.Copysign(math.Min(math.Abs(b.s-a.s), (sunk-r.sunk[i-1])/r.rate(i)), b.s-a.s)
	r.way = append(slices.Clone(r.way[:i]), rampPlace{s, r.flat.height(s)})
	r.sunk = append(slices.Clone(r.sunk[:i]), sunk)
	return r
}
