package proof

import (
	"math"

	"fullerwright/toolpath/motion"
)

// sweep is a motion made ready to tell how low the cutter reaches over a node.
type sweep struct {
	shape    shape
	x0, x1   float64 // what it can reach
	y0, y1   float64
	lowest   float64 // of the tip
	line     int
	index    int // of the motion it belongs to
	upright  bool
	steepest float64 // way down over way along
}

// shape tells the height of the envelope over a node: +Inf where it does not reach.
type shape interface {
	over(x, y float64) float64
}

// chordError bounds how far the chords that stand for helices and for arcs of a square
// end lie from them, mm.
const chordError = 1e-6

// sweeps returns the sweeps of a motion.
func sweeps(v motion.Motion, c Cutter, index int) []sweep {
	switch v.Kind {
	case motion.Rapid, motion.Line:
		return []sweep{lineSweep(v, c, index)}
	case motion.Arc:
		return arcSweeps(v, c, index)
	}
	return nil
}

func lineSweep(v motion.Motion, c Cutter, index int) sweep {
	s := sweep{line: v.TextLine, index: index, lowest: math.Min(v.From.Z, v.To.Z),
		x0: math.Min(v.From.X, v.To.X) - c.Radius, x1: math.Max(v.From.X, v.To.X) + c.Radius,
		y0: math.Min(v.From.Y, v.To.Y) - c.Radius, y1: math.Max(v.From.Y, v.To.Y) + c.Radius}
	dx, dy, dz := v.To.X-v.From.X, v.To.Y-v.From.Y, v.To.Z-v.From.Z
	along := math.Hypot(dx, dy)
	s.upright = along == 0
	if dz < 0 {
		s.steepest = math.Inf(1)
		if along > 0 {
			s.steepest = -dz / along
		}
	}
	base := straight{x: v.From.X, y: v.From.Y, h: v.From.Z, radius: c.Radius, span: along}
	if along == 0 {
		base.h = s.lowest
		base.ux = 1
	} else {
		base.ux, base.uy, base.slope = dx/along, dy/along, dz/along
	}
	base.lean = base.slope / math.Hypot(1, base.slope)
	if c.Square {
		s.shape = squareLine{base}
	} else {
		s.shape = ballLine{base}
	}
	return s
}

// straight is a straight way of the tip.
type straight struct {
	x, y, h, ux, uy, span float64
	slope, lean           float64 // rise over way, and over length
	radius                float64
}

// local returns a node's place along and beside the way, and half the width that the
// cutter has there.
func (l straight) local(x, y float64) (along, half float64, reached bool) {
	dx, dy := x-l.x, y-l.y
	along = float64(dx*l.ux) + float64(dy*l.uy)
	beside := float64(dx*l.uy) - float64(dy*l.ux)
	square := float64(l.radius*l.radius) - float64(beside*beside)
	if square < 0 {
		return 0, 0, false
	}
	return along, math.Sqrt(square), true
}

type ballLine struct{ straight }

// over: over the node the ball that reaches lowest stands w·m/sqrt(1+m²) before it,
// clamped to the way.
func (l ballLine) over(x, y float64) float64 {
	along, half, reached := l.local(x, y)
	if !reached {
		return math.Inf(1)
	}
	at := along - half*l.lean
	if at < 0 {
		at = 0
	} else if at > l.span {
		at = l.span
	}
	gap := along - at
	under := float64(half*half) - float64(gap*gap)
	if under < 0 {
		return math.Inf(1)
	}
	return l.h + l.slope*at + l.radius - math.Sqrt(under)
}

type squareLine struct{ straight }

// over: the lower end of the stretch of the way from which the flat end covers the
// node.
func (l squareLine) over(x, y float64) float64 {
	along, half, reached := l.local(x, y)
	if !reached || along+half < 0 || along-half > l.span {
		return math.Inf(1)
	}
	first, last := math.Max(0, along-half), math.Min(l.span, along+half)
	return l.h + math.Min(l.slope*first, l.slope*last)
}

// arcSweeps returns one exact sweep for arcs of a ball in an upright plane or level,
// and chords for the rest.
func arcSweeps(v motion.Motion, c Cutter, index int) []sweep {
	_, _, n0 := v.Plane.Split(v.From)
	_, _, n1 := v.Plane.Split(v.To)
	if n0 != n1 || c.Square {
		return chordSweeps(v, c, index)
	}
	s := sweep{line: v.TextLine, index: index}
	s.x0, s.x1, s.y0, s.y1, s.lowest, _ = arcBounds(v, c.Radius)
	s.steepest = steepestOf(v)
	if v.Plane == motion.PlaneXY {
		s.shape = levelArc{arcOf(v), v.From.Z, c.Radius}
		return []sweep{s}
	}
	s.shape = newUprightArc(v, c.Radius)
	return []sweep{s}
}

func chordSweeps(v motion.Motion, c Cutter, index int) []sweep {
	n := max(1, int(math.Ceil(math.Abs(v.Sweep)/(2*math.Acos(1-math.Min(1, chordError/v.Radius()))))))
	out := make([]sweep, 0, n)
	from := v.From
	for i := 1; i <= n; i++ {
		to := v.At(float64(i) / float64(n))
		out = append(out, lineSweep(motion.Motion{Kind: motion.Line, TextLine: v.TextLine, From: from, To: to}, c, index))
		from = to
	}
	return out
}

// arcBounds returns what an arc can reach, from its ends and the extremes of its
// circle that it passes.
func arcBounds(v motion.Motion, r float64) (x0, x1, y0, y1, lowest, highest float64) {
	points := []motion.Vec{v.From, v.To}
	a := arcOf(v)
	_, _, n := v.Plane.Split(v.From)
	for k := range 4 {
		if angle := float64(k) * math.Pi / 2; a.covers(angle) {
			sin, cos := math.Sincos(angle)
			points = append(points, v.Plane.Join(a.c0+a.radius*cos, a.c1+a.radius*sin, n))
		}
	}
	x0, x1, y0, y1 = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	lowest, highest = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		x0, x1 = math.Min(x0, p.X-r), math.Max(x1, p.X+r)
		y0, y1 = math.Min(y0, p.Y-r), math.Max(y1, p.Y+r)
		lowest, highest = math.Min(lowest, p.Z), math.Max(highest, p.Z)
	}
	return x0, x1, y0, y1, lowest, highest
}

// steepestOf samples an arc for its steepest way down.
func steepestOf(v motion.Motion) float64 {
	steepest := 0.0
	from := v.From
	for i := 1; i <= 16; i++ {
		to := v.At(float64(i) / 16)
		if along := math.Hypot(to.X-from.X, to.Y-from.Y); from.Z > to.Z {
			steepest = math.Max(steepest, (from.Z-to.Z)/along)
		}
		from = to
	}
	return steepest
}

// planeArc is an arc in the axes of its plane.
type planeArc struct {
	c0, c1, radius float64
	from, sweep    float64 // ascending: sweep is positive
}

func arcOf(v motion.Motion) planeArc {
	a, b, _ := v.Plane.Split(v.From)
	c, d, _ := v.Plane.Split(v.Centre)
	out := planeArc{c0: c, c1: d, radius: math.Hypot(a-c, b-d), from: math.Atan2(b-d, a-c), sweep: v.Sweep}
	if v.Sweep < 0 {
		out.from, out.sweep = out.from+v.Sweep, -v.Sweep
	}
	return out
}

// covers reports whether the arc passes an angle.
func (a planeArc) covers(angle float64) bool {
	turn := math.Mod(angle-a.from, 2*math.Pi)
	if turn < 0 {
		turn += 2 * math.Pi
	}
	return turn <= a.sweep
}

func (a planeArc) at(angle float64) (first, second float64) {
	sin, cos := math.Sincos(angle)
	return a.c0 + a.radius*cos, a.c1 + a.radius*sin
}

// levelArc is an arc of a ball in the plane XY.
type levelArc struct {
	planeArc
	h, ball float64
}

// over: the ball that stands nearest reaches lowest.
func (a levelArc) over(x, y float64) float64 {
	away := math.Abs(math.Hypot(x-a.c0, y-a.c1) - a.radius)
	if !a.covers(math.Atan2(y-a.c1, x-a.c0)) {
		away = math.Inf(1)
		for _, angle := range []float64{a.from, a.from + a.sweep} {
			ex, ey := a.at(angle)
			away = math.Min(away, math.Hypot(x-ex, y-ey))
		}
	}
	if away > a.ball {
		return math.Inf(1)
	}
	return a.h + a.ball - math.Sqrt(float64(a.ball*a.ball)-float64(away*away))
}

// uprightArc is an arc of a ball in an upright plane; s is the level axis of the
// plane.
type uprightArc struct {
	s, h, radius float64 // the circle of the ball's centre
	beside       float64 // where the plane stands on the other axis
	alongY       bool
	from, sweep  float64 // angles from the level axis toward up, ascending
	ends         [2]struct{ s, h float64 }
	ball         float64
}

func newUprightArc(v motion.Motion, ball float64) uprightArc {
	level := func(p motion.Vec) float64 { return p.X }
	u := uprightArc{ball: ball, beside: v.From.Y}
	if v.Plane == motion.PlaneYZ {
		level = func(p motion.Vec) float64 { return p.Y }
		u.alongY, u.beside = true, v.From.X
	}
	u.s, u.h, u.radius = level(v.Centre), v.Centre.Z+ball, v.Radius()
	u.ends[0].s, u.ends[0].h = level(v.From), v.From.Z+ball
	u.ends[1].s, u.ends[1].h = level(v.To), v.To.Z+ball
	u.from = math.Atan2(v.From.Z-v.Centre.Z, level(v.From)-level(v.Centre))
	// In the plane ZX angles run from Z to X, the other way round from here.
	u.sweep = v.Sweep
	if v.Plane == motion.PlaneZX {
		u.sweep = -v.Sweep
	}
	if u.sweep < 0 {
		u.from, u.sweep = u.from+u.sweep, -u.sweep
	}
	return u
}

func (u uprightArc) covers(angle float64) bool {
	return planeArc{from: u.from, sweep: u.sweep}.covers(angle)
}

// over: beside the plane the ball is a circle of radius w. Circles whose centres lie
// on the lower half envelop the arc of radius ρ + w about the same centre, those on
// the upper half, where w < ρ, the one of radius ρ - w; elsewhere one of the ends
// reaches lowest.
func (u uprightArc) over(x, y float64) float64 {
	s, beside := x, y-u.beside
	if u.alongY {
		s, beside = y, x-u.beside
	}
	square := float64(u.ball*u.ball) - float64(beside*beside)
	if square < 0 {
		return math.Inf(1)
	}
	w := math.Sqrt(square)
	low := math.Inf(1)
	for _, end := range u.ends {
		gap := s - end.s
		if under := square - float64(gap*gap); under >= 0 {
			low = math.Min(low, end.h-math.Sqrt(under))
		}
	}
	ds := s - u.s
	if outer := u.radius + w; math.Abs(ds) <= outer {
		drop := math.Sqrt(float64(outer*outer) - float64(ds*ds))
		if u.covers(math.Atan2(-drop, ds)) {
			low = math.Min(low, u.h-drop)
		}
	}
	if inner := u.radius - w; inner > 0 && math.Abs(ds) <= inner {
		rise := math.Sqrt(float64(inner*inner) - float64(ds*ds))
		if u.covers(math.Atan2(rise, ds)) {
			low = math.Min(low, u.h+rise)
		}
	}
	return low
}
