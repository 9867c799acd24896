package profile

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
	"fullerwright/profile/search"
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
func (d *fullerDraft) open(i int, bar Bar, startFull, endFull float64) (Fuller, error) {
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
	d.settle(&f)
	return f, nil
}

// goesThrough says where two opposite fullers meet before they leave the blade, and whether
// they do.
func (d *fullerDraft) goesThrough(i int, s span) (fault document.FieldError, does bool) {
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
func (d *fullerDraft) leavingGroove(from, to float64) Groove {
	return d.groove(d.floor(from, to, from, to)).withBends()
}

// slant returns how far along the blade a groove reaches beyond the place of its
// centreline at s, for its slant.
func (d *fullerDraft) slant(s float64) float64 {
	_, u := Groove{Plan: d.plan}.Place(s)
	return d.size.Radius * math.Abs(u.Y)
}

// lastOnBlade returns the last place at which the centreline lies on the blade in front of
// a given one, or that place.
func (d *fullerDraft) lastOnBlade(from float64) float64 {
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
func (d *fullerDraft) leaving(g Groove, side, inner float64) (whole, last float64) {
	outer := d.knife.Blade.Length
	if side < 0 {
		outer = -d.knife.Tang.Length
	}
	last = rootFrom(func(x float64) float64 { return d.ground.over(&g, x) }, outer, inner)
	return rootFrom(func(x float64) float64 { return d.ground.onFlat(&g, x) }, last, inner), last
}

// rootFrom is firstFrom for what is so where a function is negative.
func rootFrom(f func(float64) float64, outer, inner float64) float64 {
	step := math.Copysign(openStep, inner-outer)
	no, before := outer, f(outer)
	if before < 0 {
		return outer
	}
	for x := outer + math.Copysign(resolution, step); (inner-x)*step > 0; x += step {
		value := f(x)
		if value < 0 {
			root := search.Root(f, search.Bracket{A: no, B: x, FA: before, FB: value}, near)
			for f(root) >= 0 { // within the error it is not so yet
				root += math.Copysign(near, step)
			}
			return root
		}
		no, before = x, value
	}
	return inner
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
