package toolpath

import (
	"math"
	"slices"

	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// track is the path of a cutter's centre along a groove, in the upright plane of the
// groove's centreline: s along the centreline, h over the centre-plane. It is a chain
// of lines and of arcs about centres above it, ascending in s throughout, so that
// any part of it can be run either way.
type track struct {
	pieces []trackPiece
}

// trackPiece is a line from (s0, h0) to (s1, h1), or, where radius is over 0, the arc
// between them about (cs, ch), below its centre.
type trackPiece struct {
	s0, h0, s1, h1 float64
	cs, ch, radius float64
}

func (p trackPiece) height(s float64) float64 {
	if p.radius > 0 {
		return p.ch - math.Sqrt(math.Max(0, p.radius*p.radius-(s-p.cs)*(s-p.cs)))
	}
	if p.s1 == p.s0 {
		return math.Max(p.h0, p.h1)
	}
	return p.h0 + (p.h1-p.h0)*(s-p.s0)/(p.s1-p.s0)
}

// cut returns the part of the piece between two places.
func (p trackPiece) cut(from, to float64) trackPiece {
	q := p
	if from > p.s0 {
		q.s0, q.h0 = from, p.height(from)
	}
	if to < p.s1 {
		q.s1, q.h1 = to, p.height(to)
	}
	return q
}

// height returns the height of the track at s, which must lie on it.
func (t track) height(s float64) float64 {
	for _, p := range t.pieces {
		if s <= p.s1 {
			return p.height(s)
		}
	}
	return t.pieces[len(t.pieces)-1].h1
}

func (t track) start() float64 { return t.pieces[0].s0 }
func (t track) end() float64   { return t.pieces[len(t.pieces)-1].s1 }

// between returns the part of the track from one place to another.
func (t track) between(from, to float64) track {
	var out track
	for _, p := range t.pieces {
		if p.s1 <= from || p.s0 >= to {
			continue
		}
		out.pieces = append(out.pieces, p.cut(from, to))
	}
	return out
}

// lifted returns the track moved up.
func (t track) lifted(by float64) track {
	out := track{pieces: make([]trackPiece, len(t.pieces))}
	for i, p := range t.pieces {
		p.h0, p.h1, p.ch = p.h0+by, p.h1+by, p.ch+by
		out.pieces[i] = p
	}
	return out
}

// below returns the track of a centre that keeps the distance drop under the axis of
// a groove, square to it; negative above it. Where the axis bends up the track turns
// about the vertex, which keeps the distance; where it bends down the two sides meet
// inside the bend. At a run-out it turns about the run-out's centre until the
// horizontal, and goes straight up from there.
func below(g profile.Groove, drop float64) track {
	n := len(g.Axis)
	slope := func(i int) float64 { return (g.Axis[i+1].H - g.Axis[i].H) / (g.Axis[i+1].S - g.Axis[i].S) }
	under := func(i int, m float64) (s, h float64) {
		k := math.Hypot(1, m)
		return g.Axis[i].S + drop*m/k, g.Axis[i].H - drop/k
	}
	var t track
	s, h := under(0, slope(0))
	t.pieces = append(t.pieces, runOutPiece(g.StartArc, drop, -1, s, h))
	for i := 1; i < n; i++ {
		m := slope(i - 1)
		s1, h1 := under(i, m)
		if i == n-1 {
			t.line(s, h, s1, h1)
			s, h = s1, h1
			break
		}
		next := slope(i)
		s2, h2 := under(i, next)
		switch {
		case math.Abs(next-m) < 1e-12:
			t.line(s, h, s1, h1)
			s, h = s1, h1
		case (next > m) == (drop > 0):
			t.line(s, h, s1, h1)
			t.turn(g.Axis[i], math.Abs(drop), trackPiece{s0: s1, h0: h1, s1: s2, h1: h2})
			s, h = s2, h2
		default:
			at := (h2 - h1 + m*s1 - next*s2) / (m - next)
			height := h1 + m*(at-s1)
			t.line(s, h, at, height)
			s, h = at, height
		}
	}
	t.pieces = append(t.pieces, runOutPiece(g.EndArc, drop, 1, s, h))
	return t
}

func (t *track) line(s0, h0, s1, h1 float64) {
	if s1 > s0 {
		t.pieces = append(t.pieces, trackPiece{s0: s0, h0: h0, s1: s1, h1: h1})
	}
}

// turn adds the arc about a vertex of the axis. Above the axis the arc would lie over
// its centre, and the straight chord stands for it: it is shorter than a micrometre
// and lies inside the groove.
func (t *track) turn(about profile.AxisPoint, radius float64, chord trackPiece) {
	if chord.s1 <= chord.s0 {
		return
	}
	if chord.h0 < about.H && radius > 0 {
		chord.cs, chord.ch, chord.radius = about.S, about.H, radius
	}
	t.pieces = append(t.pieces, chord)
}

// runOutPiece returns the piece along a run-out, from the end of the straight part at
// (s, h) out to the horizontal: ascending in s on either side.
func runOutPiece(arc profile.AxisArc, drop, side, s, h float64) trackPiece {
	radius := arc.Radius + drop
	if radius <= 1e-9 {
		return trackPiece{s0: s, h0: h, s1: s, h1: h, cs: s} // the end itself: the centre does not move
	}
	outer := trackPiece{s0: s, h0: h, s1: arc.S + side*radius, h1: arc.H, cs: arc.S, ch: arc.H, radius: radius}
	if side < 0 {
		outer.s0, outer.h0, outer.s1, outer.h1 = outer.s1, outer.h1, outer.s0, outer.h0
	}
	return outer
}

// whereBelow returns the first and last place at which the track, moved down by the
// given distance, lies under a face, and whether there is any.
func (t track) whereBelow(down float64, face func(s float64) float64) (from, to float64, any bool) {
	over := func(s float64) float64 { return t.height(s) - down - face(s) }
	steps := t.places()
	first, last := -1, -1
	for i, s := range steps {
		if over(s) < 0 {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 {
		return 0, 0, false
	}
	from, to = steps[first], steps[last]
	if first > 0 {
		from = crossing(over, steps[first-1], steps[first])
	}
	if last < len(steps)-1 {
		to = crossing(over, steps[last], steps[last+1])
	}
	return from, to, true
}

// places returns places along the track close enough to find where it enters and
// leaves the steel: the ends of its pieces and sixteen between.
func (t track) places() []float64 {
	var out []float64
	for _, p := range t.pieces {
		for i := range 17 {
			out = append(out, p.s0+(p.s1-p.s0)*float64(i)/16)
		}
	}
	return out
}

// crossing returns the place between a and b where f changes sign.
func crossing(f func(float64) float64, a, b float64) float64 {
	negative := f(a) < 0
	for range 80 {
		middle := a + (b-a)/2
		if (f(middle) < 0) == negative {
			a = middle
		} else {
			b = middle
		}
	}
	return a + (b-a)/2
}

// betweenRunOuts returns what a stretch of a track has between the run-outs at its ends, and
// whether that is anything.
func (t track) betweenRunOuts() (track, bool) {
	pieces := t.pieces
	straight := func(p trackPiece) bool { return p.radius == 0 && p.s1 > p.s0 }
	first := slices.IndexFunc(pieces, straight)
	if first < 0 {
		return track{}, false
	}
	last := len(pieces) - 1
	for !straight(pieces[last]) {
		last--
	}
	return track{pieces: pieces[first : last+1]}, true
}

// plan is the centreline of a groove in plan, for lanes beside it.
type plan struct {
	groove   profile.Groove
	straight bool // along X, so that arcs in the upright plane are arcs of the machine
}

func planOf(g profile.Groove) plan {
	return plan{groove: g, straight: len(g.Plan) == 2 && g.Plan[0].Y == g.Plan[1].Y}
}

// vertices returns the distances of the bends of the centreline.
func (p plan) vertices() []float64 {
	var out []float64
	s := 0.0
	for i := 1; i < len(p.groove.Plan)-1; i++ {
		a, b := p.groove.Plan[i-1], p.groove.Plan[i]
		s += math.Hypot(b.X-a.X, b.Y-a.Y)
		out = append(out, s)
	}
	return out
}

// beside returns the place beside the centreline at s, u to the left of its
// direction. At a bend it lies on the line that halves the bend, where the two sides
// meet.
func (p plan) beside(s, u float64) geom.Point {
	at, d := p.groove.Place(s)
	normal := geom.Point{X: -d.Y, Y: d.X}
	scale := 1.0
	if _, after := p.groove.Place(s + 1e-6); after != d {
		normal = geom.Point{X: -(d.Y + after.Y), Y: d.X + after.X}
		length := math.Hypot(normal.X, normal.Y)
		scale = 2 / length
		normal = geom.Point{X: normal.X / length, Y: normal.Y / length}
	}
	return geom.Point{X: at.X + u*scale*normal.X, Y: at.Y + u*scale*normal.Y}
}
