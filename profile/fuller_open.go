package profile

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// What an open end is worked out with, mm.
const (
	// openStep is how far apart along the blade places are looked at for where a groove
	// leaves it.
	openStep = 1.0
	// beyondBlade is how far beyond the place where it leaves the blade a groove keeps
	// its floor.
	beyondBlade = 1.0
	// throughMost is how far beyond that place the end of the bar may lie for the groove
	// to be cut on through it: a longer rest of the bar may be wanted for something else
	// (judgement).
	throughMost = 50.0
	// BeyondBar is how far beyond the end of the bar a cutter stands clear of it, over
	// its radius: more than a sawn end is off (judgement).
	BeyondBar = 2.0
)

// open resolves a fuller with one open end or two. Beyond where it leaves the blade its
// floor runs on level, to beyond the end of the bar, or into the waste, where it ends as
// the ball leaves it.
func (d fullerDraft) open(i int, bar Bar, startFull, endFull float64) (Fuller, error) {
	f := Fuller{Size: d.size, StartFull: startFull, EndFull: endFull}
	from, to := startFull, endFull
	if d.size.OpenStart() {
		from = bar.Butt - 2*d.size.Radius - BeyondBar
	}
	if d.size.OpenEnd() {
		to = max(bar.Front, d.knife.Blade.Length) + 2*d.size.Radius + BeyondBar
		_, last := d.leaving(d.leavingGroove(from, to), 1, startFull)
		d.level = Some(last + beyondBlade)
		if fault, goes := d.goesThrough(i, span{from: max(startFull, 0), to: last}); goes {
			return Fuller{}, document.FieldErrors{fault}
		}
	}
	g := d.leavingGroove(from, to)
	if d.size.OpenStart() {
		f.StartFull, f.StartVisible = d.leaving(g, -1, endFull)
		if f.StartInAir = f.StartVisible-bar.Butt <= throughMost; !f.StartInAir {
			from = f.StartVisible - beyondBlade - d.slant(g.AtX(f.StartVisible))
		}
	} else {
		f.StartVisible = d.visible(startFull, -1)
	}
	if d.size.OpenEnd() {
		f.EndFull, f.EndVisible = d.leaving(g, 1, startFull)
		if f.EndInAir = bar.Front-f.EndVisible <= throughMost; !f.EndInAir {
			to = f.EndVisible + beyondBlade + d.slant(g.AtX(f.EndVisible))
		}
	} else {
		f.EndVisible = d.visible(endFull, 1)
	}
	if f.EndFull-f.StartFull < resolution {
		return Fuller{}, document.FieldErrors{d.knife.fault("fuller", i, "from_spine",
			"nowhere does its whole width lie on the flat", "move it, or make it narrower")}
	}
	f.Finished = d.leavingGroove(from, to)
	f.Milled = f.Finished.WithRadius(d.size.Radius - d.knife.Allowance.Sanding)
	f.kinks = d.kinks(f)
	return f, nil
}

// goesThrough says where two opposite fullers meet before they leave the blade, and whether
// they do.
func (d fullerDraft) goesThrough(i int, s span) (fault document.FieldError, does bool) {
	left := func(x float64) float64 { t := d.ground.blade.value(x); return t - 2*d.size.depthAt(t) }
	_, at := d.ground.blade.least(s.from, s.to)
	if left(at) > 0 {
		return fault, false
	}
	at = bisect(left, s.from, at)
	t := d.ground.blade.value(at)
	return d.knife.fault("fuller", i, "end_run_out",
		fmt.Sprintf("two fullers %s deep go through a blade %s thick %s from the guard plane, before they leave it", d.knife.say(d.size.depthAt(t)), d.knife.say(t), d.knife.say(at)),
		"lessen the depth, give a ratio, or end them sooner"), true
}

// leavingGroove returns the groove between two distances from the guard plane, which may
// lie outside the blade.
func (d fullerDraft) leavingGroove(from, to float64) Groove {
	g := d.groove(d.floor(from, to, from, to))
	g.leaves = true
	return g.withBends()
}

// slant returns how far along the blade a groove reaches beyond the place of its
// centreline at s, for its slant.
func (d fullerDraft) slant(s float64) float64 {
	_, u := Groove{Plan: d.plan}.Place(s)
	return d.size.Radius * math.Abs(u.Y)
}

// lastOnBlade returns the last place at which the centreline lies on the blade in front of
// a given one, or that place.
func (d fullerDraft) lastOnBlade(from float64) float64 {
	g := Groove{Plan: d.plan}
	on := func(x float64) bool {
		lowest, highest, there := d.ground.sides(x)
		at, _ := g.Place(g.AtX(x))
		return there && at.Y > lowest && at.Y < highest
	}
	return firstFrom(on, d.knife.Blade.Length, from)
}

// leaving returns the places at which a groove leaves the steel toward the given side (-1
// the tang's end, 1 the point): the last at which its whole width lies on the flat, and
// the last at which any of it cuts. It does not look beyond inner.
func (d fullerDraft) leaving(g Groove, side, inner float64) (whole, last float64) {
	outer := d.knife.Blade.Length
	if side < 0 {
		outer = -d.knife.Tang.Length
	}
	last = firstFrom(func(x float64) bool { return d.ground.cutBy(&g, x) }, outer, inner)
	return firstFrom(func(x float64) bool { return d.ground.wholly(&g, x) }, last, inner), last
}

// firstFrom returns the first place from outer toward inner at which something is so,
// looking every openStep; inner where it is nowhere.
func firstFrom(is func(float64) bool, outer, inner float64) float64 {
	step := math.Copysign(openStep, inner-outer)
	no := outer
	for x := outer + math.Copysign(resolution, step); (inner-x)*step > 0; x += step {
		if is(x) {
			return edgeOf(is, x, no)
		}
		no = x
	}
	return inner
}

// cutBy reports whether a groove cuts into the ground blade at x.
func (g *ground) cutBy(groove *Groove, x float64) bool {
	c := g.section(x)
	if c.Empty() {
		return false
	}
	cut := groove.across(x)
	_, _, ok := c.lips(&cut)
	return ok
}

// wholly reports whether a groove cuts into the flat at x, and nothing but the flat.
func (g *ground) wholly(groove *Groove, x float64) bool {
	c := g.section(x)
	if c.Empty() {
		return false
	}
	cut := groove.across(x)
	at, _ := groove.Place(groove.AtX(x))
	if !(at.Y > max(c.Bottom, c.edgeLine()) && at.Y < min(c.Top, c.backLine()) && cut.height(at.Y) < c.Flat) {
		return false
	}
	for _, over := range c.over(&cut) {
		if over < 0 {
			return false
		}
	}
	return true
}

// over returns how high a groove lies over the ground face at the places where that
// changes: both sides of the blade, the two bevel lines and where the bevels meet; +Inf
// beside the groove. Where one of them turns its sign the groove begins to cut there.
func (c *CrossSection) over(cut *grooveCut) [5]float64 {
	ys := [5]float64{c.Bottom, c.edgeLine(), c.backLine(), c.Top, c.Top}
	if c.edge.present && c.back.present && ys[1] > ys[2] {
		ys[4] = c.meeting(max(ys[2], c.Bottom), min(ys[1], c.Top))
	}
	var out [5]float64
	for i, y := range ys {
		y = min(max(y, c.Bottom), c.Top)
		out[i] = cut.height(y) - c.ground(y)
	}
	return out
}

// lowestUnder returns a place in the section, within reach of a groove, at which it lies
// under the ground face. What is under is convex but for hollow bevels, and looked at where
// the face changes first.
func (c *CrossSection) lowestUnder(under func(float64) float64, reach span) (y float64, ok bool) {
	from, to := max(c.Bottom, reach.from), min(c.Top, reach.to)
	if from >= to {
		return 0, false
	}
	for _, y := range []float64{from, to, c.edgeLine(), c.backLine()} {
		if y = min(max(y, from), to); under(y) < -resolution {
			return y, true
		}
	}
	const golden = 0.6180339887498949
	for to-from > near {
		a, b := to-golden*(to-from), from+golden*(to-from)
		ua, ub := under(a), under(b)
		switch {
		case ua < -resolution:
			return a, true
		case ub < -resolution:
			return b, true
		case ua < ub:
			to = b
		default:
			from = a
		}
	}
	return 0, false
}

// kinks returns the distances along an open fuller at which the outline or a bevel begins
// to cut into it or to let go.
func (d fullerDraft) kinks(f Fuller) (out []float64) {
	at := func(x float64) [5]bool {
		c := d.ground.section(x)
		cut := f.Finished.across(x)
		var cuts [5]bool
		for i, over := range c.over(&cut) {
			cuts[i] = over < 0
		}
		return cuts
	}
	look := func(from, to float64, samples int) {
		before, x0 := at(from+near), from
		for j := 1; j <= samples && to > from; j++ {
			x := from + (to-from)*float64(j)/float64(samples) - near
			after := at(x)
			for i := range after {
				if after[i] != before[i] {
					out = append(out, edgeOf(func(x float64) bool { return at(x)[i] == before[i] }, x0, x))
				}
			}
			before, x0 = after, x
		}
	}
	look(f.StartVisible, min(f.StartFull, 0), 24)
	look(max(f.StartVisible, 0), f.StartFull, 24)
	look(f.StartFull, f.EndFull, 48)
	look(f.EndFull, f.EndVisible, 24)
	slices.Sort(out)
	return out
}

// Span returns the y between which a fuller cuts the finished face across the blade at x,
// and whether it does.
func (b Blade) Span(index int, x float64) (lower, upper float64, ok bool) {
	c := b.ground.section(x)
	if c.Empty() {
		return 0, 0, false
	}
	cut := b.Fullers[index].Finished.across(x)
	if lower, upper, ok = c.lips(&cut); !ok {
		return 0, 0, false
	}
	return max(lower, c.Bottom), min(upper, c.Top), true
}

// leavingStations is at how many places between the end of its whole width and where the
// last of it leaves the blade a fuller is looked at.
const leavingStations = 101

// WebLeaving returns the least steel that a fuller leaves in itself where it runs out of
// the blade, mm, and where; +Inf where it does not.
func (b Blade) WebLeaving(index int) (web, at float64) {
	f := b.Fullers[index]
	web, at = math.Inf(1), f.EndFull
	for i := range leavingStations {
		x := f.EndFull + (f.EndVisible-f.EndFull)*float64(i)/leavingStations
		lower, upper, ok := b.Span(index, x)
		if !ok || !f.Size.OpenEnd() {
			continue
		}
		if left, _ := b.CrossSectionAt(x).Least(lower, upper); left < web-resolution {
			web, at = left, x
		}
	}
	return web, at
}

// openLips returns the lips of a fuller that is open at an end: where it cuts the face
// across the blade, each as far as it lies on the blade and not on its side.
func (b Blade) openLips(f Fuller, n int) (upper, lower []geom.Point) {
	middle := (f.StartFull + f.EndFull) / 2
	follow := func(lip func(c CrossSection, lower, upper float64) (y float64, on bool)) (out []geom.Point) {
		at := func(x float64) (float64, bool) {
			c := b.ground.section(x)
			cut := f.Finished.across(x)
			lower, upper, ok := c.lips(&cut)
			if !ok {
				return 0, false
			}
			return lip(c, lower, upper)
		}
		on := func(x float64) bool { _, on := at(x); return on }
		from, to := firstFrom(on, f.StartVisible, middle), firstFrom(on, f.EndVisible, middle)
		for i := range n {
			// Closer together at the ends, where the lips turn.
			x := from + (to-from)*(1-math.Cos(math.Pi*float64(i)/float64(n-1)))/2
			if y, on := at(x); on {
				out = append(out, geom.Point{X: x, Y: y})
			}
		}
		return out
	}
	upper = follow(func(c CrossSection, _, y float64) (float64, bool) { return y, y < c.Top-touching })
	lower = follow(func(c CrossSection, y, _ float64) (float64, bool) { return y, y > c.Bottom+touching })
	return upper, lower
}
