package proof

import (
	"math"

	"fullerwright/toolpath/motion"
)

// arcPiece is the greatest angle of the pieces in which upright arcs are cut, radians:
// how steeply the cutter goes down is told apart by pieces.
const arcPiece = math.Pi / 90

// uprightPiece is a piece of an arc in an upright plane, within one quarter of its
// circle; s is the level axis of the plane.
type uprightPiece struct {
	s, h, radius float64 // the circle of the tip
	beside       float64 // where the plane stands on the other axis
	alongY       bool
	upper        bool
	low, high    float64 // cosines of its ends, ascending
	end          end
}

// uprightSweeps returns the pieces of an upright arc and its ends.
func uprightSweeps(v motion.Motion, e end, covered bool) []sweep {
	if v.Kind == motion.Line {
		return lineSweep(v, e, covered, everywhere())
	}
	level := func(p motion.Vec) float64 { return p.X }
	u := uprightPiece{end: e, beside: v.From.Y}
	if v.Plane == motion.PlaneYZ {
		level = func(p motion.Vec) float64 { return p.Y }
		u.alongY, u.beside = true, v.From.X
	}
	u.s, u.h, u.radius = level(v.Centre), v.Centre.Z, v.Radius()
	from := math.Atan2(v.From.Z-v.Centre.Z, level(v.From)-u.s)
	// In the plane ZX angles run from Z to X, the other way round from here.
	turn := v.Sweep
	if v.Plane == motion.PlaneZX {
		turn = -v.Sweep
	}
	var out []sweep
	if !covered {
		out = append(out, dot(v.TextLine, v.From, e))
	}
	for _, p := range pieces(from, turn) {
		out = append(out, u.piece(p[0], p[1], turn > 0, v.TextLine))
	}
	return append(out, dot(v.TextLine, v.To, e))
}

// dot is the end set down at a place.
func dot(line int, at motion.Vec, e end) sweep {
	return lineSweep(motion.Motion{TextLine: line, From: at, To: at}, e, false, everywhere())[0]
}

// pieces divides an arc, ascending, at every quarter turn and into pieces no longer
// than arcPiece.
func pieces(from, sweep float64) [][2]float64 {
	if sweep < 0 {
		from, sweep = from+sweep, -sweep
	}
	var out [][2]float64
	last := from + sweep
	for from < last {
		quarter := math.Min(last, math.Pi/2*(math.Floor(2*from/math.Pi+1e-12)+1))
		n := math.Ceil((quarter - from) / arcPiece)
		for i := 0.0; i < n; i++ {
			out = append(out, [2]float64{from + (quarter-from)*i/n, from + (quarter-from)*(i+1)/n})
		}
		from = quarter
	}
	return out
}

// piece returns the sweep of the piece between two angles; ascending says which way
// the cutter runs.
func (u uprightPiece) piece(first, last float64, ascending bool, line int) sweep {
	sin0, cos0 := math.Sincos(first)
	sin1, cos1 := math.Sincos(last)
	u.upper = math.Sin((first+last)/2) > 0
	u.low, u.high = math.Min(cos0, cos1), math.Max(cos0, cos1)
	r := u.end.radius
	out := sweep{line: line, lowest: u.h + u.radius*math.Min(sin0, sin1), fall: steepest(first, last, ascending)}
	s0, s1 := u.s+u.radius*u.low-r, u.s+u.radius*u.high+r
	out.reach = Box{s0, u.beside - r, s1, u.beside + r}
	if u.alongY {
		out.reach = Box{u.beside - r, s0, u.beside + r, s1}
	}
	out.shape = u
	return out
}

// steepest returns the steepest way down over way along between two angles of one half
// of a circle, 0 where the cutter rises.
func steepest(first, last float64, ascending bool) float64 {
	down := 0.0
	for _, angle := range []float64{first, last} {
		sin, cos := math.Sincos(angle)
		// Ascending the tip moves by (-sin, cos).
		if !ascending {
			sin, cos = -sin, -cos
		}
		if cos < -1e-12 {
			down = math.Max(down, -cos/math.Abs(sin))
		}
	}
	return down
}

func (u uprightPiece) spans(y float64, out []span) []span {
	if u.alongY || u.end.form == Square {
		return append(out, span{x0: math.Inf(-1), x1: math.Inf(1), node: true})
	}
	dy := y - u.beside
	square := float64(u.end.radius*u.end.radius) - float64(dy*dy)
	if square < 0 {
		return out
	}
	c := u.envelope(math.Sqrt(square))
	return append(out, c)
}

// envelope: beside the plane the ball is a circle of half width w. Circles whose
// centres lie on the lower half envelop the arc of radius ρ + w about the same centre,
// those on the upper half, where w < ρ, the one of radius ρ - w.
func (u uprightPiece) envelope(w float64) span {
	radius, k := u.radius+w, 1.0
	if u.upper {
		radius, k = u.radius-w, -1
	}
	if radius <= 0 {
		return span{x0: 1}
	}
	return span{x0: u.s + float64(radius*u.low), x1: u.s + float64(radius*u.high), a: u.h + u.end.radius, k: k, q: float64(radius * radius), p: 1, s: -u.s}
}

func (u uprightPiece) over(x, y float64) float64 {
	s, beside := x, y-u.beside
	if u.alongY {
		s, beside = y, x-u.beside
	}
	square := float64(u.end.radius*u.end.radius) - float64(beside*beside)
	if square < 0 {
		return math.Inf(1)
	}
	w := math.Sqrt(square)
	if u.end.form == Square {
		return u.flatOver(s, w)
	}
	c := u.envelope(w)
	if s < c.x0 || s > c.x1 {
		return math.Inf(1)
	}
	ds := s + c.s
	return c.a - float64(c.k*math.Sqrt(math.Max(0, c.q-float64(ds*ds))))
}

// flatOver: the lowest place of the piece from which the flat covers the node. On the
// lower half that is the nearest to the bottom, on the upper one end of the stretch.
func (u uprightPiece) flatOver(s, w float64) float64 {
	first, last := math.Max(u.radius*u.low, s-w-u.s), math.Min(u.radius*u.high, s+w-u.s)
	if first > last {
		return math.Inf(1)
	}
	depth := func(ds float64) float64 {
		return math.Sqrt(math.Max(0, float64(u.radius*u.radius)-float64(ds*ds)))
	}
	if u.upper {
		return u.h + math.Min(depth(first), depth(last))
	}
	return u.h - depth(math.Min(math.Max(0, first), last))
}
