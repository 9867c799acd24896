package profile

import (
	"math"

	"fullerwright/profile/geom"
)

// over returns how far a groove comes short of cutting into the ground blade at x: negative
// where it cuts, +Inf where there is no blade.
func (g *ground) over(groove *Groove, x float64) float64 {
	c := g.section(x)
	if c.Empty() {
		return math.Inf(1)
	}
	cut := groove.across(x)
	at, direction := groove.PlaceAt(x)
	_, over := c.cutBy(&cut, at, direction)
	return over
}

// onFlat returns a value that is negative where a groove cuts into the flat at x, and nothing
// but the flat: the nearest that it comes to doing otherwise, in height where a lip meets the
// end of the flat, in y where its centreline does. It is +Inf where there is no blade.
func (g *ground) onFlat(groove *Groove, x float64) float64 {
	c := g.section(x)
	if c.Empty() {
		return math.Inf(1)
	}
	cut := groove.across(x)
	at, _ := groove.PlaceAt(x)
	short := max(c.Bottom-at.Y, c.edgeLine()-at.Y, at.Y-c.Top, at.Y-c.backLine(), cut.height(at.Y)-c.Flat)
	for _, over := range c.over(&cut) {
		short = max(short, -over)
	}
	return short
}

// lines returns the places at which the ground face changes: the lower side of the blade, the
// two bevel lines, or in place of both where the bevels meet, and the upper side.
func (c *CrossSection) lines() [4]float64 {
	ys := [4]float64{c.Bottom, c.edgeLine(), c.backLine(), c.Top}
	if c.edge.present && c.back.present && ys[1] > ys[2] {
		ridge := c.meeting(max(ys[2], c.Bottom), min(ys[1], c.Top))
		ys[1], ys[2] = ridge, ridge
	}
	for i, y := range ys {
		ys[i] = min(max(y, c.Bottom), c.Top)
	}
	return ys
}

// over returns how high a groove lies over the ground face where that changes; +Inf beside
// the groove. Where one of them turns its sign the groove begins to cut there.
func (c *CrossSection) over(cut *grooveCut) (out [4]float64) {
	for i, y := range c.lines() {
		out[i] = cut.height(y) - c.ground(y)
	}
	return out
}

// Span returns the y between which a fuller cuts the finished face across the blade at x,
// and whether it does.
func (b Blade) Span(index int, x float64) (lower, upper float64, ok bool) {
	c := b.ground.section(x)
	return c.span(&b.Fullers[index].Finished)
}

// span returns the y between which a groove cuts the ground face of a section, and whether
// it does.
func (c *CrossSection) span(groove *Groove) (lower, upper float64, ok bool) {
	if c.Empty() {
		return 0, 0, false
	}
	cut := groove.across(c.X)
	return c.lips(&cut)
}

// InSteelAt returns the state of a fuller at x as it is in the finished steel. That is
// SectionAt, but where the fuller runs over a side of the blade or the tang: there its depth
// is the greatest that is left, its width lies between the sides, its web is the least under
// it, and no land is less than nothing. Where it lies beside the steel it has neither depth
// nor width.
func (b Blade) InSteelAt(index int, x float64) Section {
	s := b.SectionAt(index, x)
	if !b.Fullers[index].leaves {
		return s
	}
	c, g := b.CrossSectionAt(x), &b.Fullers[index].Finished
	across := c.Top - c.Bottom
	s.SpineLand, s.LowerLand = min(max(0, s.SpineLand), across), min(max(0, s.LowerLand), across)
	lower, upper, ok := c.span(g)
	if !ok {
		s.Depth, s.Width, s.Web = 0, 0, s.Thickness
		return s
	}
	if lower <= c.Bottom || upper >= c.Top {
		at, u := g.PlaceAt(x)
		y := min(max(at.Y, lower), upper)
		s.Depth, s.Width = max(0, c.ground(y)-g.Height(x, y)), (upper-lower)*u.X
		s.Web, _ = c.Least(lower, upper)
	}
	return s
}

// At how many places between the end of its whole width and where the last of it leaves the
// blade a fuller is looked at: for the steel in itself, for that more closely beside the
// least, and for that of a rim it runs over.
const leavingStations, closerStations, rimStations = 32, 8, 101

// WebLeaving returns the least steel that a fuller leaves in itself where it runs out of
// the blade, mm, and where; +Inf where it does not.
func (b Blade) WebLeaving(index int) (web, at float64) {
	f := &b.Fullers[index]
	web, at = math.Inf(1), f.EndFull
	if !f.Size.OpenEnd() {
		return web, at
	}
	finished := b.finished()
	look := func(x float64) {
		c := b.ground.section(x)
		finished.cut(&c)
		if left, ok := c.leastUnder(&f.Finished); ok && left < web-resolution {
			web, at = left, x
		}
	}
	step := (f.EndVisible - f.EndFull) / leavingStations
	for i := range leavingStations {
		look(f.EndFull + step*float64(i))
	}
	for i, middle := 1, at; i < closerStations; i++ {
		if x := middle + step*(2*float64(i)/closerStations-1); x >= f.EndFull && x < f.EndVisible {
			look(x)
		}
	}
	return web, at
}

// leastUnder returns the least thickness between the lips of a groove, and whether it
// reaches below the face.
func (c *CrossSection) leastUnder(groove *Groove) (thickness float64, ok bool) {
	if c.Empty() {
		return 0, false
	}
	var room cutRoom
	cuts := c.cuts(&room)
	for _, cuts := range cuts {
		c.findLips(cuts)
	}
	lips, ok := c.lipsAmong(cuts, groove)
	if !ok {
		return 0, false
	}
	thickness, _ = c.leastOf(cuts, lips.from, lips.to)
	return thickness, true
}

// lipsAmong returns the lips of a groove, which is one of those that are cut unless the
// fuller came out otherwise, and whether it reaches below the face.
func (c *CrossSection) lipsAmong(cuts [2][]faceCut, groove *Groove) (lips stretch, ok bool) {
	for _, cuts := range cuts {
		for i := range cuts {
			if cuts[i].groove.same(groove) {
				return cuts[i].lips, cuts[i].ok
			}
		}
	}
	lips.from, lips.to, ok = c.span(groove)
	return lips, ok
}

// RimLeaving returns the least steel of a side of the blade that a fuller runs over where it
// leaves the blade, mm, and where; +Inf where it runs over none.
func (b Blade) RimLeaving(index int) (rim, at float64) {
	f := &b.Fullers[index]
	rim, at = math.Inf(1), f.EndFull
	if !f.Size.OpenEnd() {
		return rim, at
	}
	finished := b.finished()
	for i := range rimStations {
		x := f.EndFull + (f.EndVisible-f.EndFull)*float64(i)/rimStations
		c := b.ground.section(x)
		finished.cut(&c)
		var room cutRoom
		cuts := c.cuts(&room)
		for _, y := range []float64{c.Bottom, c.Top} {
			if left := c.thicknessOf(cuts, y); left < 2*c.ground(y)-resolution && left < rim {
				rim, at = left, x
			}
		}
	}
	return rim, at
}

// openLips returns the lips of a fuller that runs over a side of the blade: where it cuts
// the face across the blade, each as far as it lies on the blade and not on its side.
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
		from, to := firstFrom(on, f.StartCut, middle), firstFrom(on, f.EndCut, middle)
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
