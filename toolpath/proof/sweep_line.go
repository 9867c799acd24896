package proof

import (
	"math"

	"fullerwright/toolpath/motion"
)

// way is a straight way of the tip, and the cutter's end that follows it.
type way struct {
	x, y, h, ux, uy, span float64
	slope                 float64   // rise over way
	lean                  float64   // rise over length
	stretch               float64   // length over way
	openStart             bool      // what lies round the start is another sweep's
	rest                  halfPlane // of what lies round the end, what is this one's
	end                   end
}

// lineSweep returns the sweep of a straight move, if it has anything to add.
func lineSweep(v motion.Motion, e end, covered bool, rest halfPlane) []sweep {
	s := sweep{line: v.TextLine, lowest: math.Min(v.From.Z, v.To.Z), reach: box(v.From, v.To, e.radius)}
	d := v.To.Sub(v.From)
	along := math.Hypot(d.X, d.Y)
	if d.Z < 0 {
		s.fall = math.Inf(1)
		if along > 0 {
			s.fall = -d.Z / along
		}
	}
	w := way{x: v.From.X, y: v.From.Y, h: v.From.Z, span: along, openStart: covered, rest: rest, end: e, ux: 1, stretch: 1}
	if along > 0 {
		w.ux, w.uy, w.slope = d.X/along, d.Y/along, d.Z/along
		w.stretch = math.Hypot(1, w.slope)
		w.lean = w.slope / w.stretch
	} else {
		if covered && d.Z >= 0 {
			return nil // straight up from where it has been, or nowhere
		}
		w.h, w.openStart, w.rest = s.lowest, false, everywhere()
	}
	s.shape = w
	return []sweep{s}
}

// stretchOfRow returns the x between which the place along the way lies from a to b.
func (w way) stretchOfRow(dy, a, b float64) (x0, x1 float64) {
	return between(w.ux, float64(dy*w.uy), a, b, w.x)
}

// between returns the x between which factor·(x - origin) + constant lies from a to b.
func between(factor, constant, a, b, origin float64) (x0, x1 float64) {
	if factor == 0 {
		if constant < a || constant > b {
			return 1, 0
		}
		return math.Inf(-1), math.Inf(1)
	}
	x0, x1 = origin+(a-constant)/factor, origin+(b-constant)/factor
	if x0 > x1 {
		x0, x1 = x1, x0
	}
	return x0, x1
}

func (w way) spans(y float64, out []span) []span {
	switch {
	case w.slope == 0:
		return w.levelSpans(y, out)
	case w.end.form == Ball && w.uy == 0:
		return w.ballAlongRow(y, out)
	}
	// Anywhere else each node is asked.
	dy, r := y-w.y, w.end.radius
	first, last := -r, w.span+r
	if w.end.form == Ball {
		last = w.span + math.Max(0, w.lean*r)
		if w.openStart {
			first = math.Min(0, w.lean*r)
		}
	}
	x0, x1 := between(w.uy, -float64(dy*w.ux), -r, r, w.x)
	beside := span{x0: x0, x1: x1, node: true}
	out = append(out, beside.within(w.stretchOfRow(dy, first, last)))
	if last < w.span+r {
		out = append(out, beside.within(w.stretchOfRow(dy, last, w.span+r)).within(w.rest.stretchOfRow(y)))
	}
	return out
}

// levelSpans: beside the way the nearest place of the tip reaches lowest, whatever the
// end; around its ends they do.
func (w way) levelSpans(y float64, out []span) []span {
	dy := y - w.y
	r := w.end.radius
	x0, x1 := between(w.uy, -float64(dy*w.ux), -r, r, w.x)
	var beside span
	switch {
	case w.end.form == Square:
		beside = levelSpan(x0, x1, w.h)
	case w.uy == 0:
		beside = levelSpan(x0, x1, w.h+w.end.rise(math.Abs(dy)))
	case w.end.form == Ball:
		beside = span{x0: x0, x1: x1, a: w.h + r, k: 1, q: float64(r * r), p: w.uy, s: -float64(w.uy*w.x) - float64(dy*w.ux)}
	default:
		beside = span{x0: x0, x1: x1, node: true}
	}
	out = append(out, beside.within(w.stretchOfRow(dy, 0, w.span)))
	if !w.openStart {
		out = append(out, w.round(w.x, w.y, w.h, y).within(w.stretchOfRow(dy, -r, 0)))
	}
	finish := w.round(w.x+w.ux*w.span, w.y+w.uy*w.span, w.h, y)
	return append(out, finish.within(w.stretchOfRow(dy, w.span, w.span+r)).within(w.rest.stretchOfRow(y)))
}

// round returns the span of the end set down at a place.
func (w way) round(x, y, h, row float64) span {
	r, dy := w.end.radius, row-y
	square := float64(r*r) - float64(dy*dy)
	if square < 0 {
		return span{x0: 1}
	}
	half := math.Sqrt(square)
	switch w.end.form {
	case Ball:
		return span{x0: x - half, x1: x + half, a: h + r, k: 1, q: square, p: 1, s: -x}
	case Square:
		return levelSpan(x-half, x+half, h)
	}
	return span{x0: x - half, x1: x + half, node: true}
}

// ballAlongRow: beside the way the ball is a circle of half width w; the one that
// touches stands w·m/sqrt(1+m²) before the node, so that the envelope is straight:
//
//	h + m·along + r - w·sqrt(1+m²)
//
// and round at the ends.
func (w way) ballAlongRow(y float64, out []span) []span {
	r, dy := w.end.radius, y-w.y
	square := float64(r*r) - float64(dy*dy)
	if square < 0 {
		return out
	}
	half := math.Sqrt(square)
	shift := half * w.lean
	rise := w.slope * w.ux
	straight := span{a: w.h + r - float64(half*w.stretch) - float64(rise*w.x), b: rise, uncurve: true}
	straight.x0, straight.x1 = w.stretchOfRow(dy, shift, w.span+shift)
	out = append(out, straight)
	if !w.openStart {
		out = append(out, w.round(w.x, w.y, w.h, y).within(w.stretchOfRow(dy, -half, shift)))
	}
	finish := w.round(w.x+w.ux*w.span, w.y, w.h+w.slope*w.span, y)
	return append(out, finish.within(w.stretchOfRow(dy, w.span+shift, w.span+half)).within(w.rest.stretchOfRow(y)))
}

// over sets the end down where, of its places along the way, it reaches lowest over the
// node.
func (w way) over(x, y float64) float64 {
	dx, dy := x-w.x, y-w.y
	along := float64(dx*w.ux) + float64(dy*w.uy)
	beside := float64(dx*w.uy) - float64(dy*w.ux)
	square := float64(w.end.radius*w.end.radius) - float64(beside*beside)
	if square < 0 {
		return math.Inf(1)
	}
	half := math.Sqrt(square)
	at := w.lowestAt(along, beside, half)
	switch {
	case w.openStart && at < 0:
		return math.Inf(1)
	case at < 0:
		at = 0
	case at > w.span:
		at = w.span
	}
	gap := along - at
	h := w.h + float64(w.slope*at)
	if w.end.form == Square {
		// It stands just within reach: rounding must not put it out.
		if math.Abs(gap) > half+joint {
			return math.Inf(1)
		}
		return h
	}
	under := square - float64(gap*gap)
	if under < 0 {
		return math.Inf(1)
	}
	if w.end.form == Ball {
		return h + w.end.radius - math.Sqrt(under)
	}
	return h + w.end.rise(math.Hypot(beside, gap))
}

// lowestAt returns where along the way, were it endless, the end reaches lowest over a
// node: for a ball in closed form; for a flat at the lower end of the stretch from which
// it covers the node; for a corner radius, whose height over the node is a convex
// function of the place, by halving, as near to the way as it comes.
func (w way) lowestAt(along, beside, half float64) float64 {
	switch {
	case w.slope == 0:
		return along
	case w.end.form == Ball:
		return along - half*w.lean
	case w.end.form == Square:
		return along - math.Copysign(half, w.slope)
	}
	falls := func(at float64) bool {
		gap := along - at
		away := math.Hypot(beside, gap)
		if away <= w.end.flat {
			return w.slope < 0
		}
		return w.end.climb(away)*gap/away > w.slope
	}
	first, last := math.Max(along-half, -2*joint), math.Min(along+half, w.span+2*joint)
	if first >= last || !falls(first) {
		return first
	}
	if falls(last) {
		return last
	}
	// The height is flat about its least: an error of 2r/2³² in the place is none in it.
	for range 32 {
		if at := (first + last) / 2; falls(at) {
			first = at
		} else {
			last = at
		}
	}
	return (first + last) / 2
}
