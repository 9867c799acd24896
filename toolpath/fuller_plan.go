package toolpath

import (
	"cmp"
	"math"
	"slices"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
)

// fullerCut is one fuller of one face with the cutter that is to mill it.
type fullerCut struct {
	fuller  int // its number, counted from 1
	groove  profile.Groove
	plan    plan
	cutter  float64 // radius
	stock   float64 // left for finishing
	deepest float64 // greatest depth from the bar's face along the full-depth part
	face    func(s float64) float64
	air     openEnds // the ends at which it runs out of the bar
	butt    float64  // the ends of the bar, as places along the groove
	front   float64
}

func newFullerCut(b profile.Blade, f profile.Fuller, radius, stock float64) fullerCut {
	c := fullerCut{groove: f.Milled, plan: planOf(f.Milled), cutter: radius, stock: stock, air: openEnds{f.StartInAir, f.EndInAir}}
	c.face = func(s float64) float64 {
		at, _ := f.Milled.Place(s)
		return b.Bar.Face(at.X)
	}
	for _, p := range f.Milled.Axis {
		at, _ := f.Milled.Place(p.S)
		c.deepest = math.Max(c.deepest, f.MilledDepthAt(b.Bar, at.X))
	}
	for _, x := range b.Bar.Stations() {
		if x > f.StartFull && x < f.EndFull {
			c.deepest = math.Max(c.deepest, f.MilledDepthAt(b.Bar, x))
		}
	}
	c.butt, c.front = c.groove.AtX(b.Bar.Butt), c.groove.AtX(b.Bar.Front)
	c.endInAir(b.Bar)
	return c
}

// reach is how far the cutter's centre may be from the axis of the groove.
func (c fullerCut) reach() float64 { return c.groove.Radius - c.cutter }

// lane is one finishing pass: its angle about the axis from straight down, positive
// to the left of the centreline.
type lane struct {
	angle float64
	u     float64 // beside the centreline
	tip   track
}

// lanes returns the finishing passes that leave ridges no higher than cusp, from lip
// to lip, those to the right of the centreline first; and the pitch between them,
// radians.
//
// A lane keeps the distance of cutter and groove radius from the axis at its angle. It
// is run where the groove's surface half a pitch nearer the floor lies under the face:
// ended where its own contact surfaces it would leave up to three ridges.
func (c fullerCut) lanes(cusp float64) ([]lane, float64) {
	half := math.Acos(math.Max(0, 1-c.deepest/c.groove.Radius))
	count := cutting.LaneCount(c.groove.Radius, c.cutter, half, cusp)
	pitch := 0.0
	if count > 1 {
		pitch = 2 * half / float64(count-1)
	}
	var out []lane
	for i := range count {
		angle := -half + pitch*float64(i)
		if count == 1 {
			angle = 0
		}
		inner := math.Max(0, math.Abs(angle)-pitch/2)
		surface := c.track(c.groove.Radius * math.Cos(inner))
		from, to, any := surface.whereBelow(0, c.face)
		if !any {
			continue
		}
		tip := c.track(c.reach() * math.Cos(angle)).lifted(-c.cutter)
		out = append(out, lane{angle: angle, u: c.reach() * math.Sin(angle), tip: c.alive(tip, surface, from, to)})
	}
	return out, pitch
}

// alive returns the part of a lane whose stretch of surface lies under the face. A
// place of the surface and the cutter that makes it stand on one line square to the
// axis; along a run-out they turn about one centre.
func (c fullerCut) alive(tip, surface track, from, to float64) track {
	return tip.between(matching(surface, tip, from), matching(surface, tip, to))
}

// matching returns the place on one track that stands on the same line square to the
// axis as a place on another. The two have the same pieces.
func matching(on, other track, s float64) float64 {
	a, b := on.pieces[0], other.pieces[0]
	last := on.pieces[len(on.pieces)-1]
	bLast := other.pieces[len(other.pieces)-1]
	switch {
	case s < a.s1 && a.radius > 0:
		return b.cs + (s-a.cs)*b.radius/a.radius
	case s > last.s0 && last.radius > 0:
		return bLast.cs + (s-last.cs)*bLast.radius/last.radius
	}
	// On the straight part the two differ by the slope times their distance; the
	// lane may begin that little earlier or later.
	return math.Max(other.start(), math.Min(other.end(), s))
}

// level is one depth of roughing.
type level struct {
	number int
	passes []roughPass
	depth  float64 // cut from the level before
	total  float64 // greatest depth under the face
}

// roughPass is one pass of roughing.
type roughPass struct {
	u      float64 // beside the centreline
	centre track   // of the cutter's centre
	above  track   // of the pass that went over this place before; none where that was the face
}

// free is how far the cutter's centre may stray in roughing.
func (c fullerCut) free() float64 { return math.Max(0, c.reach()-c.stock) }

// roughDepth is how deep roughing goes where the groove is deepest; 0 or less where the
// finishing stock is all there is.
func (c fullerCut) roughDepth() float64 {
	return c.deepest - math.Max(0, c.stock-c.reach()) - (c.reach() - c.free())
}

// levels returns a number of depths of roughing, equal to each other, down to the
// finishing stock; none where the finishing stock is all there is.
func (c fullerCut) levels(n int) []level {
	depth := c.roughDepth()
	if depth <= 0 {
		return nil
	}
	free, lift := c.free(), math.Max(0, c.stock-c.reach())
	step := depth / float64(n)
	var out []level
	var above track
	for i := 1; i <= n; i++ {
		up := lift + step*float64(n-i)
		centre := c.levelTrack(free, up)
		l := level{number: i, depth: step, total: step * float64(i)}
		if i == n {
			l.passes = c.wallPasses(free, lift, above)
		} else {
			for _, u := range c.besides(free, up) {
				l.passes = append(l.passes, roughPass{u: u, centre: centre, above: above})
			}
		}
		above = centre
		out = append(out, l)
	}
	return out
}

// wallPasses returns the passes of the last level: they follow the walls, so that what is
// left for finishing is nowhere more than the finishing stock and a ridge as high, which it
// is as well from the outermost passes half a pitch on to the lips.
func (c fullerCut) wallPasses(free, lift float64, above track) []roughPass {
	rough := c.cutter + free // radius of the groove that roughing leaves
	half := math.Acos(math.Max(0, 1-c.deepest/c.groove.Radius))
	count := 1
	if free > 1e-6 {
		count = int(math.Ceil(2*half/cutting.ConcavePitch(rough, c.cutter, c.stock) - 1e-9))
	}
	var out []roughPass
	for _, place := range fromMiddle(max(1, count)) {
		sin, cos := math.Sincos(half * place)
		out = append(out, roughPass{u: free * sin, centre: c.levelTrack(free*cos, lift), above: above})
	}
	return out
}

// fromMiddle returns the middles of a number of equal parts of the range from -1 to 1, the
// middle one first, then outward by turns.
func fromMiddle(count int) []float64 {
	var out []float64
	for i := range count {
		at := (float64(i)+0.5)*2/float64(count) - 1
		out = append(out, at)
	}
	slices.SortStableFunc(out, func(a, b float64) int {
		if d := math.Abs(a) - math.Abs(b); math.Abs(d) > 1e-9 {
			return cmp.Compare(d, 0)
		}
		return cmp.Compare(b, a)
	})
	return out
}

// levelTrack returns the track of the cutter's centre a level's height up from the
// lowest that may be reached: square to the axis under it, straight up from there.
func (c fullerCut) levelTrack(free, up float64) track {
	if up <= free {
		return c.track(free - up)
	}
	return c.track(0).lifted(up - free)
}

// besides returns how far beside the centreline the passes of a level run, so that the
// ridges between them, and what is left from the outermost half a step on to the walls, are
// no higher than the finishing stock.
func (c fullerCut) besides(free, up float64) []float64 {
	drop := math.Max(0, free-up)
	widest := math.Sqrt(math.Max(0, free*free-drop*drop))
	count := 1
	if widest > 1e-6 {
		count = int(math.Ceil(2*widest/cutting.Stepover(c.cutter, c.stock) - 1e-9))
	}
	out := fromMiddle(max(1, count))
	for i := range out {
		out[i] *= widest
	}
	return out
}

// finish adds the finishing passes of a fuller, all one way, so that the push of the
// cut moves every lane to the same side and the groove keeps its width.
func (c fullerCut) finish(out *course, lanes []lane, feeds Feeds) {
	forward := out.setup.finishDirection() > 0
	for i, l := range lanes {
		out.lane = i + 1
		begin, h := l.tip.start(), l.tip.pieces[0].h0
		if !forward {
			begin, h = l.tip.end(), l.tip.pieces[len(l.tip.pieces)-1].h1
		}
		out.goOver(c.plan, begin, l.u)
		out.lower(c.plan, begin, l.u, descent{open: c.openTo(begin, h), to: h}, feeds)
		out.run(c.plan, l.tip, l.u, forward, feeds.Finish, Finish)
	}
	out.lane = 0
}
