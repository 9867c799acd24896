package proof

import (
	"math"

	"fullerwright/toolpath/motion"
)

// mostChords and mostCircles bound the work on arcs that no machine has room for: of a
// radius over 10 m, and with ends more than a metre off their circle.
const (
	mostChords  = 1e5
	mostCircles = 300
)

// arcSweeps returns exact sweeps for arcs of a ball or a square end in an upright plane
// and for level arcs of any end, and chords for the rest.
func arcSweeps(v motion.Motion, e end, covered bool) []sweep {
	_, _, n0 := v.Plane.Split(v.From)
	_, _, n1 := v.Plane.Split(v.To)
	upright := v.Plane != motion.PlaneXY
	if !(v.Radius() > 0) || n0 != n1 || upright && e.form != Ball && e.form != Square {
		return chordSweeps(v, e, covered)
	}
	var out []sweep
	for _, c := range circles(v) {
		if upright {
			out = append(out, uprightSweeps(c, e, covered)...)
		} else {
			out = append(out, levelSweep(c, e, covered)...)
		}
		covered = true
	}
	return out
}

func chordSweeps(v motion.Motion, e end, covered bool) []sweep {
	// A chord over the angle a departs from its circle by r·(1 - cos(a/2)).
	turn := 2 * math.Acos(1-math.Min(1, chordError/math.Max(v.Radius(), chordError)))
	n := max(1, int(math.Ceil(math.Min(math.Abs(v.Sweep)/turn, mostChords))))
	chord := func(i int) motion.Motion {
		return motion.Motion{Kind: motion.Line, TextLine: v.TextLine, From: v.At(float64(i) / float64(n)), To: v.At(float64(i+1) / float64(n))}
	}
	var out []sweep
	for i, now := 0, chord(0); i < n; i++ {
		next, rest := chord(i+1), everywhere()
		if i+1 < n {
			rest = notYet(next, e)
		}
		out = append(out, lineSweep(now, e, covered, rest)...)
		now, covered = next, true
	}
	return out
}

// circles returns an arc as it is, or, where the radius at its end is another than at
// its start (the standard allows a little), as circles through three places each.
//
// The radius changes by k for each radian. A circle through three places of a piece of
// the angle a departs from that by k·(a/2)³·2/(3·sqrt(3)·6), since moving its centre
// makes up for all but the third power.
func circles(v motion.Motion) []motion.Motion {
	a, b, _ := v.Plane.Split(v.To)
	c, d, _ := v.Plane.Split(v.Centre)
	change := math.Abs(math.Hypot(a-c, b-d) - v.Radius())
	if change <= spiralError {
		return []motion.Motion{v}
	}
	sweep := math.Abs(v.Sweep)
	n := math.Ceil(math.Cbrt(change * sweep * sweep / (8 * 9 * math.Sqrt(3) * spiralError)))
	n = math.Min(math.Max(n, math.Ceil(2*sweep/math.Pi)), mostCircles)
	var out []motion.Motion
	for i := 0.0; i < n; i++ {
		out = append(out, circleThrough(v, i/n, (i+1)/n))
	}
	return out
}

// circleThrough returns the arc through three places of an arc; a chord where they lie
// on a line.
func circleThrough(v motion.Motion, first, last float64) motion.Motion {
	out := v
	out.From, out.To = v.At(first), v.At(last)
	a0, a1, n := v.Plane.Split(out.From)
	m0, m1, _ := v.Plane.Split(v.At((first + last) / 2))
	b0, b1, _ := v.Plane.Split(out.To)
	// Both differences from the middle are square to the bisectors that meet in the centre.
	a0, a1, b0, b1 = a0-m0, a1-m1, b0-m0, b1-m1
	twice := 2 * (float64(a0*b1) - float64(a1*b0))
	if twice == 0 {
		out.Kind = motion.Line
		return out
	}
	aa, bb := float64(a0*a0)+float64(a1*a1), float64(b0*b0)+float64(b1*b1)
	c0, c1 := (float64(aa*b1)-float64(bb*a1))/twice, (float64(bb*a0)-float64(aa*b0))/twice
	out.Centre = v.Plane.Join(m0+c0, m1+c1, n)
	turn := math.Atan2(b1-c1, b0-c0) - math.Atan2(a1-c1, a0-c0)
	if v.Sweep > 0 && turn < 0 {
		turn += 2 * math.Pi
	} else if v.Sweep < 0 && turn > 0 {
		turn -= 2 * math.Pi
	}
	out.Sweep = turn
	return out
}

// planeArc is an arc in the axes of its plane.
type planeArc struct {
	c0, c1, radius float64
	from, sweep    float64    // ascending: sweep is positive
	first, last    [2]float64 // cosine and sine of both ends
}

func arcOf(v motion.Motion) planeArc {
	a, b, _ := v.Plane.Split(v.From)
	c, d, _ := v.Plane.Split(v.Centre)
	out := planeArc{c0: c, c1: d, radius: math.Hypot(a-c, b-d), from: math.Atan2(b-d, a-c), sweep: v.Sweep}
	if v.Sweep < 0 {
		out.from, out.sweep = out.from+v.Sweep, -v.Sweep
	}
	out.first[1], out.first[0] = math.Sincos(out.from)
	out.last[1], out.last[0] = math.Sincos(out.from + out.sweep)
	return out
}

// covers reports whether the arc passes a direction.
func (a planeArc) covers(d0, d1 float64) bool {
	if a.sweep >= 2*math.Pi {
		return true
	}
	after := float64(a.first[0]*d1)-float64(a.first[1]*d0) >= 0
	before := float64(d0*a.last[1])-float64(d1*a.last[0]) >= 0
	if a.sweep <= math.Pi {
		return after && before
	}
	return after || before
}

// levelArc is an arc in the plane XY.
type levelArc struct {
	planeArc
	h      float64
	places [][2]float64 // ends that no other sweep has been over
	end    end
}

func levelSweep(v motion.Motion, e end, covered bool) []sweep {
	if v.Kind == motion.Line {
		return lineSweep(v, e, covered, everywhere())
	}
	s := sweep{line: v.TextLine, lowest: v.From.Z}
	s.reach, _, _ = extent(v)
	s.reach = Box{s.reach.MinX - e.radius, s.reach.MinY - e.radius, s.reach.MaxX + e.radius, s.reach.MaxY + e.radius}
	a := levelArc{planeArc: arcOf(v), h: v.From.Z, end: e, places: [][2]float64{{v.To.X, v.To.Y}}}
	if !covered {
		a.places = append(a.places, [2]float64{v.From.X, v.From.Y})
	}
	s.shape = a
	return []sweep{s}
}

// spans: the row's way through the ring.
func (a levelArc) spans(y float64, out []span) []span {
	dy := y - a.c1
	outer, inner := a.radius+a.end.radius, a.radius-a.end.radius
	square := float64(outer*outer) - float64(dy*dy)
	if square < 0 {
		return out
	}
	far := math.Sqrt(square)
	if near := float64(inner*inner) - float64(dy*dy); inner > 0 && near > 0 {
		near = math.Sqrt(near)
		return append(out, span{x0: a.c0 - far, x1: a.c0 - near, node: true}, span{x0: a.c0 + near, x1: a.c0 + far, node: true})
	}
	return append(out, span{x0: a.c0 - far, x1: a.c0 + far, node: true})
}

// over: whatever the end, the nearest place reaches lowest.
func (a levelArc) over(x, y float64) float64 {
	dx, dy := x-a.c0, y-a.c1
	away := math.Inf(1)
	if a.covers(dx, dy) {
		away = math.Abs(math.Hypot(dx, dy) - a.radius)
	}
	for _, p := range a.places {
		away = math.Min(away, math.Hypot(x-p[0], y-p[1]))
	}
	return a.h + a.end.rise(away)
}
