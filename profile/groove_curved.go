package profile

import (
	"cmp"
	"math"
	"slices"
	"sort"
)

// bend is a stretch of a curved groove's axis over one straight piece of its centreline:
// straight, or a part of a run-out's arc. The surface is the lower envelope of the balls
// along all of them.
type bend struct {
	x, y        float64 // the beginning of the piece of the centreline
	s           float64 // of that, along the centreline
	ux, uy      float64 // the direction of the piece
	from, to    AxisPoint
	arc         AxisArc // radius 0 where the stretch is straight
	least, most float64 // x of its ends
	low         float64 // the least height of the axis along it
}

// withBends returns a groove that is ready to tell its height along a curved centreline;
// a straight one stays as it is.
func (g Groove) withBends() Groove {
	if len(g.Plan) == 2 {
		return g
	}
	last := len(g.Axis) - 1
	g.bends, g.lengths, g.longest = make([]bend, 0, len(g.Plan)+last+2), make([]float64, 0, len(g.Plan)), 0
	s := 0.0
	for i := 1; i < len(g.Plan); i++ {
		a, b := g.Plan[i-1], g.Plan[i]
		span := distance(a, b)
		g.lengths = append(g.lengths, s)
		piece := bend{x: a.X, y: a.Y, s: s, ux: (b.X - a.X) / span, uy: (b.Y - a.Y) / span}
		from, to := s, s+span
		if i == 1 {
			from = math.Inf(-1)
		}
		if i == len(g.Plan)-1 {
			to = math.Inf(1)
		}
		g.addArc(piece, g.StartArc, max(from, g.StartArc.S-g.StartArc.Radius), min(to, g.Axis[0].S))
		for j := 1; j <= last; j++ {
			g.addStraight(piece, g.Axis[j-1], g.Axis[j], from, to)
		}
		g.addArc(piece, g.EndArc, max(from, g.Axis[last].S), min(to, g.EndArc.S+g.EndArc.Radius))
		s += span
	}
	g.lengths = append(g.lengths, s)
	slices.SortStableFunc(g.bends, func(c, d bend) int { return cmp.Compare(c.least, d.least) })
	for _, b := range g.bends {
		g.longest = max(g.longest, b.most-b.least)
	}
	return g
}

// addStraight adds what lies of a straight piece of the axis between two places.
func (g *Groove) addStraight(piece bend, a, b AxisPoint, from, to float64) {
	on := func(s float64) AxisPoint {
		switch s {
		case a.S:
			return a
		case b.S:
			return b
		}
		return AxisPoint{s, a.H + (b.H-a.H)*(s-a.S)/(b.S-a.S)}
	}
	g.addBend(piece, max(from, a.S), min(to, b.S), on)
}

// addArc adds the part of a run-out between two places.
func (g *Groove) addArc(piece bend, arc AxisArc, from, to float64) {
	piece.arc = arc
	g.addBend(piece, from, to, func(s float64) AxisPoint { return AxisPoint{s, arc.heightAt(s)} })
}

// heightAt returns the height of an arc's place at s.
func (a AxisArc) heightAt(s float64) float64 { return a.H - rootOf(square(a.Radius)-square(s-a.S)) }

func (g *Groove) addBend(piece bend, from, to float64, on func(s float64) AxisPoint) {
	if to-from < resolution {
		return
	}
	piece.from, piece.to = on(from), on(to)
	p, q := piece.x+(from-piece.s)*piece.ux, piece.x+(to-piece.s)*piece.ux
	piece.least, piece.most = min(p, q), max(p, q)
	piece.low = min(piece.from.H, piece.to.H)
	if piece.arc.Radius > 0 && from < piece.arc.S && piece.arc.S < to {
		piece.low = piece.arc.H - piece.arc.Radius
	}
	g.bends = append(g.bends, piece)
}

// bendsNear returns the bends that may reach to x: all that do, and others.
func (g *Groove) bendsNear(x float64) []bend {
	list := g.bends
	first := sort.Search(len(list), func(i int) bool { return list[i].least >= x-g.Radius-g.longest })
	last := sort.Search(len(list), func(i int) bool { return list[i].least > x+g.Radius })
	return list[first:last]
}

// bendHeight is the lower envelope at a place of the balls of radius r along bends. It
// looks at the one beside the place first, so that most others are seen to lie higher at
// once.
func bendHeight(bends []bend, r, x, y float64) float64 {
	low := math.Inf(1)
	beside := sort.Search(len(bends), func(i int) bool { return bends[i].least > x }) - 1
	if beside >= 0 {
		low = bends[beside].under(low, r, x, y)
	}
	for i := range bends {
		if i != beside {
			low = bends[i].under(low, r, x, y)
		}
	}
	return low
}

// under returns the lower of low and the height at a place of the balls of radius r along
// a bend.
func (b *bend) under(low, r, x, y float64) float64 {
	dx, dy := x-b.x, y-b.y
	s := b.s + float64(dx*b.ux) + float64(dy*b.uy)
	across := float64(dx*b.uy) - float64(dy*b.ux)
	reach := float64(r*r) - float64(across*across)
	beyond := max(b.from.S-s, s-b.to.S, 0)
	// The lowest place of a ball is the root of what is left under its centre.
	left := reach - float64(beyond*beyond)
	if over := b.low - low; left <= 0 || over > 0 && over*over >= left {
		return low
	}
	w := math.Sqrt(reach)
	if b.arc.Radius == 0 {
		return min(low, underLine(b.from, b.to, s, w))
	}
	// The circle of radius w that comes lowest stands where the line from the arc's centre
	// through the place meets the arc, or at an end: arc and circle both bend up.
	at := min(max(b.arc.S+(s-b.arc.S)*b.arc.Radius/(b.arc.Radius+w), b.from.S), b.to.S)
	return min(low, b.arc.heightAt(at)-rootOf(reach-square(s-at)))
}
