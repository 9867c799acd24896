package proof

import (
	"math"

	"fullerwright/toolpath/motion"
)

// job says what a sweep is for: to cut, or to see what would be met.
type job uint8

const (
	cuts        job = iota
	meetsShank      // would the steel meet the shank?
	meetsHolder     // or the holder?
	meetsCorner     // or a cutter that does not run a slanting rapid straight?
)

// sweep is a motion, or a piece of one, made ready to tell how low it reaches.
type sweep struct {
	shape  shape
	reach  Box     // what it can reach
	lowest float64 // of the tip
	index  int     // of the motion it belongs to
	line   int
	fall   float64 // steepest way down over way along; +Inf straight down
	job    job
}

// shape is the lower envelope of a moving cutter over the nodes of a row.
type shape interface {
	// spans appends where the envelope lies over the row at y, and how high.
	spans(y float64, out []span) []span
	// over returns the height over one node; +Inf where nothing is reached. It is asked
	// only in spans that say so.
	over(x, y float64) float64
}

// span is a stretch of a row, from x0 to x1, over which the envelope's height is
//
//	a + b·x - k·sqrt(q - (p·x + s)²)
//
// or, where node is set, whatever shape.over says.
type span struct {
	x0, x1  float64
	a, b    float64
	k, q    float64
	p, s    float64
	node    bool
	uncurve bool // k is 0
}

// levelSpan returns a span of constant height.
func levelSpan(x0, x1, h float64) span { return span{x0: x0, x1: x1, a: h, uncurve: true} }

// within cuts a span to a stretch; what is empty then has x0 > x1.
func (s span) within(x0, x1 float64) span {
	s.x0, s.x1 = math.Max(s.x0, x0), math.Min(s.x1, x1)
	return s
}

// at returns the height of a span.
func (s span) at(x float64) float64 {
	if s.uncurve {
		return s.a + float64(s.b*x)
	}
	u := float64(s.p*x) + s.s
	return s.a + float64(s.b*x) - float64(s.k*math.Sqrt(s.q-float64(u*u)))
}

// joint is how far a sweep reaches round its end into what is left to the next one, mm:
// nodes on the very joint of two sweeps must not fall between them.
const joint = 1e-6

// chordError bounds how far the chords that stand for helices, and for upright arcs of
// a cutter with a corner radius, lie from them, mm. An envelope moves, square to itself,
// by no more than its cutter does: upright by chordError/cos of its lean, 1e-5 up to 88
// degrees.
const chordError = 2e-7

// spiralError bounds how far the circles that stand for an arc whose ends lie at
// different radii pass from it, mm.
const spiralError = 5e-7

// path makes sweeps of motions one after the other. What lies round a joint is swept
// once: a sweep leaves out round its start what the one before has swept, and round its
// end what a straight move that goes on from there will.
type path struct {
	end   end
	known bool       // at is where the last motion ended
	at    motion.Vec // in the face frame
}

// add returns the sweeps of a motion; next is the one that follows it.
func (p *path) add(v, next motion.Motion) []sweep {
	if !moves(v) || !finite(v) {
		return nil
	}
	covered := p.known && p.at == v.From
	p.known, p.at = true, v.To
	if v.Kind == motion.Arc {
		return arcSweeps(v, p.end, covered)
	}
	rest := everywhere()
	if next.Kind == v.Kind && next.Spindle == v.Spindle && next.From == v.To && finite(next) {
		rest = notYet(next, p.end)
	}
	return lineSweep(v, p.end, covered, rest)
}

// halfPlane is the places (x, y) whose way from (x0, y0) along (ux, uy) is at most
// most.
type halfPlane struct{ x0, y0, ux, uy, most float64 }

func everywhere() halfPlane { return halfPlane{most: math.Inf(1)} }

// notYet returns where nodes lie that a straight move may touch with its start alone:
// of a ball, up to lean·r along it. All others it sweeps as low as its start does or
// lower. A flat end that rises or falls touches with its start up to its rim.
func notYet(v motion.Motion, e end) halfPlane {
	d := v.To.Sub(v.From)
	along := math.Hypot(d.X, d.Y)
	if along < joint || e.form != Ball && d.Z != 0 {
		return everywhere()
	}
	return halfPlane{v.From.X, v.From.Y, d.X / along, d.Y / along, math.Max(0, d.Z/d.Norm()*e.radius) + joint}
}

// stretchOfRow returns the x of a row that lie in the half plane.
func (h halfPlane) stretchOfRow(y float64) (x0, x1 float64) {
	return between(h.ux, float64((y-h.y0)*h.uy), math.Inf(-1), h.most, h.x0)
}

func moves(v motion.Motion) bool {
	return v.Kind == motion.Rapid || v.Kind == motion.Line || v.Kind == motion.Arc
}

// finite reports whether a motion is one of numbers.
func finite(v motion.Motion) bool {
	sum := v.Sweep
	for _, p := range []motion.Vec{v.From, v.To, v.Centre} {
		sum += math.Abs(p.X) + math.Abs(p.Y) + math.Abs(p.Z)
	}
	return !math.IsNaN(sum) && !math.IsInf(sum, 0)
}

// box returns what a cutter reaches on its way between two places.
func box(a, b motion.Vec, r float64) Box {
	return Box{math.Min(a.X, b.X) - r, math.Min(a.Y, b.Y) - r, math.Max(a.X, b.X) + r, math.Max(a.Y, b.Y) + r}
}

// extent returns what a motion's tip passes.
func extent(v motion.Motion) (reach Box, lowest, highest float64) {
	reach = box(v.From, v.To, 0)
	lowest, highest = math.Min(v.From.Z, v.To.Z), math.Max(v.From.Z, v.To.Z)
	if v.Kind != motion.Arc {
		return reach, lowest, highest
	}
	a := arcOf(v)
	_, _, n := v.Plane.Split(v.From)
	for k := range 4 {
		c, s := [4]float64{1, 0, -1, 0}[k], [4]float64{0, 1, 0, -1}[k]
		if !a.covers(c, s) {
			continue
		}
		p := v.Plane.Join(a.c0+a.radius*c, a.c1+a.radius*s, n)
		reach = reach.Join(box(p, p, 0))
		lowest, highest = math.Min(lowest, p.Z), math.Max(highest, p.Z)
	}
	return reach, lowest, highest
}
