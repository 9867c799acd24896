package search

import "math"

const (
	// steps is how many designs are looked at along a way from the start, closer together
	// near it: two solutions within one step of each other may pass unseen.
	steps = 24
	// halvings is how often the border of what is sound is halved: it is known to 1e-7 of a
	// step. Where designs cease altogether a 4000th of a step will do.
	halvings, ceasing = 24, 12
	// near is the part of the tolerance at which a root counts as found.
	near = 1e-3
)

// way leads from the start to one of the parameter's limits. Its length is counted in
// changes over the scale.
type way struct {
	*solver
	side  float64 // 1 up, -1 down
	end   float64
	stops []stop // in order, from the start
	// root is the first place at which the quantity comes to the target and nothing stands
	// in the way, if found; behind it nothing is looked at.
	root  float64
	found bool
}

// stop is a place along a way.
type stop struct{ t, value float64 }

// newWay looks toward one side, no further than until; ok is false where it leads nowhere.
func (s *solver) newWay(side, until float64) (w *way, ok bool) {
	limit := s.Parameter.Most
	if side < 0 {
		limit = s.Parameter.Least
	}
	w = &way{solver: s, side: side, end: side * (limit - s.Parameter.Start) / s.Parameter.Scale}
	if !(w.end > 0) || math.IsInf(w.end, 1) {
		return w, false
	}
	w.stops = []stop{{0, s.start}}
	for i := 1; i <= steps && !w.found; i++ {
		if last := w.stops[len(w.stops)-1]; last.t > until {
			break
		}
		w.goOn(w.end * float64(i*i) / (steps * steps))
	}
	return w, true
}

// goOn looks at the next place, and for roots before it. Where designs cease or begin
// before it, the last of them is put between.
func (w *way) goOn(t float64) {
	last := w.stops[len(w.stops)-1]
	next := stop{t, w.value(w.at(t))}
	if math.IsNaN(last.value) != math.IsNaN(next.value) {
		is := func(t float64) bool { return !math.IsNaN(w.value(w.at(t))) }
		edge, _ := border(last.t, next.t, ceasing, is)
		if math.IsNaN(last.value) {
			edge, _ = border(next.t, last.t, ceasing, is)
		}
		w.stops = append(w.stops, stop{edge, w.value(w.at(edge))})
		w.seek()
	}
	if !w.found {
		w.stops = append(w.stops, next)
		w.seek()
	}
}

// seek looks for roots between the last stops.
func (w *way) seek() {
	n := len(w.stops) - 1
	a, b := w.stops[n-1], w.stops[n]
	fa, fb := a.value-w.Target, b.value-w.Target
	switch {
	case math.IsNaN(fa) || math.IsNaN(fb):
	case math.Abs(fb) <= near*w.Tolerance:
		w.try(b.t)
	case math.Abs(fa) > near*w.Tolerance && (fa < 0) != (fb < 0):
		w.try(Root(w.off, Bracket{a.t, b.t, fa, fb}, 0))
	case w.mayTouch(n - 1):
		if t, turns := w.turn(n - 1); turns {
			w.try(t)
		}
	}
}

// mayTouch reports whether the quantity may come to the target between the neighbours of a
// stop without passing it: whether it is no further away than it changes between them.
func (w *way) mayTouch(i int) bool {
	if i < 1 {
		return false
	}
	away := func(j int) float64 { return math.Abs(w.stops[j].value - w.Target) }
	return away(i) <= 2*(max(away(i-1), away(i+1))-away(i))
}

// try takes a root where nothing stands in the way. Where the quantity jumps over the
// target there is none.
func (w *way) try(t float64) {
	if math.Abs(w.off(t)) > w.Tolerance {
		return
	}
	if w.sound(t) {
		w.root, w.found = t, true
	}
}

// border returns the last place from one where something is so toward one where it is
// not, and the first place where it is not.
func border(from, to float64, times int, is func(float64) bool) (inside, outside float64) {
	for range times {
		middle := (from + to) / 2
		if is(middle) {
			from = middle
		} else {
			to = middle
		}
	}
	return from, to
}

func (w *way) at(t float64) float64 {
	p := w.Parameter
	return min(max(p.Start+t*w.side*p.Scale, p.Least), p.Most)
}

// off is how far the quantity at t is from the target, 0 where it is close enough.
func (w *way) off(t float64) float64 {
	off := w.value(w.at(t)) - w.Target
	if math.Abs(off) <= near*w.Tolerance {
		return 0
	}
	return off
}

// turn returns where the quantity comes nearest to the target beside a stop at which it is
// nearer than at both its neighbours, by golden section; turns is false at other stops.
func (w *way) turn(i int) (t float64, turns bool) {
	if i < 1 || i+1 >= len(w.stops) {
		return 0, false
	}
	away := func(j int) float64 { return math.Abs(w.stops[j].value - w.Target) }
	if !(away(i) < away(i-1) && away(i) <= away(i+1)) {
		return 0, false
	}
	return golden(func(t float64) float64 { return math.Abs(w.off(t)) }, w.stops[i-1].t, w.stops[i+1].t), true
}

// golden returns the place of the least value of f between a and b, which must have one
// valley, to 1e-7 of the stretch.
func golden(f func(float64) float64, a, b float64) float64 {
	const share = 0.6180339887498949
	c, d := b-share*(b-a), a+share*(b-a)
	fc, fd := f(c), f(d)
	for range 34 {
		if fc < fd {
			b, d, fd = d, c, fc
			c = b - share*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + share*(b-a)
			fd = f(d)
		}
	}
	return (a + b) / 2
}
