package search

import (
	"cmp"
	"math"
	"slices"
)

// nearest is the sound place of a way that comes nearest to the target, and what lies
// beyond it.
type nearest struct {
	t, away float64
	beyond  Obstacle
	atLimit string
}

// nearest looks for it among the stops, those nearest to the target first, and then for
// the border of what is sound beside it; found is false where no stop is sound.
func (w *way) nearest() (n nearest, found bool) {
	order := make([]int, 0, len(w.stops))
	for i, s := range w.stops {
		if !math.IsNaN(s.value) {
			order = append(order, i)
		}
	}
	away := func(i int) float64 { return math.Abs(w.stops[i].value - w.Target) }
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(away(i), away(j)) })
	for _, i := range order {
		if w.sound(w.stops[i].t) {
			return w.beside(i), true
		}
	}
	return nearest{}, false
}

func (w *way) sound(t float64) bool { return w.check(w.at(t)).Name == "" }

// beside looks from a sound stop to both of its neighbours.
func (w *way) beside(i int) nearest {
	best := nearest{t: w.stops[i].t, away: math.Abs(w.stops[i].value - w.Target)}
	if t, turns := w.turn(i); turns && w.sound(t) {
		best = nearest{t: t, away: math.Abs(w.off(t))}
	}
	if i == len(w.stops)-1 {
		best.atLimit = w.Parameter.Name
	}
	for _, j := range []int{i - 1, i + 1} {
		if j < 0 || j >= len(w.stops) || w.sound(w.stops[j].t) {
			continue
		}
		inside, outside := border(w.stops[i].t, w.stops[j].t, halvings, w.sound)
		if away := math.Abs(w.value(w.at(inside)) - w.Target); away <= best.away {
			best = nearest{t: inside, away: away, beyond: w.check(w.at(outside))}
		}
	}
	return best
}
