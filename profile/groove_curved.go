package profile

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"fullerwright/profile/geom"
)

// capsuleError bounds how far the chords that stand for a run-out along a curved
// centreline lie from it, mm.
const capsuleError = 2e-5

// capsule is a straight stretch of a curved groove's axis in space: the surface is
// the lower envelope of balls along all of them.
type capsule struct {
	x, y, h    float64 // where it begins
	ux, uy     float64 // its direction in plan
	span, rise float64 // length in plan, and rise over it
	least      float64 // x of its nearer end
	most       float64
}

// withCapsules returns a groove that is ready to tell its height along a curved
// centreline; a straight one stays as it is.
func (g Groove) withCapsules() Groove {
	if len(g.Plan) == 2 {
		return g
	}
	var at []AxisPoint
	at = append(at, reversed(arcPoints(g.StartArc, g.Axis[0], -1))...)
	at = append(at, g.Axis...)
	at = append(at, arcPoints(g.EndArc, g.Axis[len(g.Axis)-1], 1)...)
	at = g.splitAtVertices(at)
	g.capsules = make([]capsule, 0, len(at))
	places := g.places(at)
	for i := 1; i < len(at); i++ {
		p, q := places[i-1], places[i]
		span := math.Hypot(q.X-p.X, q.Y-p.Y)
		if span < resolution {
			continue
		}
		g.capsules = append(g.capsules, capsule{x: p.X, y: p.Y, h: at[i-1].H, ux: (q.X - p.X) / span, uy: (q.Y - p.Y) / span,
			span: span, rise: at[i].H - at[i-1].H, least: min(p.X, q.X), most: max(p.X, q.X)})
	}
	slices.SortStableFunc(g.capsules, func(c, d capsule) int { return cmp.Compare(c.least, d.least) })
	return g
}

// places returns the points of the centreline under points of the axis, which must
// ascend.
func (g Groove) places(at []AxisPoint) []geom.Point {
	out := make([]geom.Point, len(at))
	before, i := 0.0, 1
	a, b := g.Plan[0], g.Plan[1]
	span := math.Hypot(b.X-a.X, b.Y-a.Y)
	for j, p := range at {
		for p.S > before+span && i < len(g.Plan)-1 {
			before += span
			i++
			a, b = b, g.Plan[i]
			span = math.Hypot(b.X-a.X, b.Y-a.Y)
		}
		t := (p.S - before) / span
		out[j] = geom.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}
	}
	return out
}

// arcPoints returns the points of a run-out after its first, toward the given side, up
// to a quarter of a circle, in chords within capsuleError.
func arcPoints(arc AxisArc, from AxisPoint, side float64) []AxisPoint {
	if arc.Radius < resolution {
		return nil
	}
	first := math.Atan2(side*(from.S-arc.S), arc.H-from.H)
	n := int(math.Ceil((math.Pi/2 - first) / (2 * math.Acos(1-min(1, capsuleError/arc.Radius)))))
	out := make([]AxisPoint, 0, n)
	for i := 1; i <= n; i++ {
		sin, cos := math.Sincos(first + (math.Pi/2-first)*float64(i)/float64(n))
		out = append(out, AxisPoint{arc.S + side*arc.Radius*sin, arc.H - arc.Radius*cos})
	}
	return out
}

func reversed(points []AxisPoint) []AxisPoint {
	out := make([]AxisPoint, len(points))
	for i, p := range points {
		out[len(points)-1-i] = p
	}
	return out
}

// splitAtVertices adds to a chain of axis points the ones over the vertices of the
// centreline, so that each piece is straight in plan as well.
func (g Groove) splitAtVertices(at []AxisPoint) []AxisPoint {
	s := 0.0
	for i := 1; i < len(g.Plan)-1; i++ {
		s += math.Hypot(g.Plan[i].X-g.Plan[i-1].X, g.Plan[i].Y-g.Plan[i-1].Y)
		j := sort.Search(len(at), func(j int) bool { return at[j].S >= s })
		if j == 0 || j == len(at) || at[j].S == s {
			continue
		}
		a, b := at[j-1], at[j]
		middle := AxisPoint{s, a.H + (b.H-a.H)*(s-a.S)/(b.S-a.S)}
		at = append(at[:j], append([]AxisPoint{middle}, at[j:]...)...)
	}
	return at
}

// capsulesNear returns the capsules that may reach to x: all that do, and others.
func (g *Groove) capsulesNear(x float64) []capsule {
	list := g.capsules
	last := sort.Search(len(list), func(i int) bool { return list[i].least > x+g.Radius })
	first := 0
	for first < last && list[first].most < x-g.Radius {
		first++
	}
	return list[first:last]
}

// capsuleHeight is the lower envelope at a place of the balls of radius r along capsules.
// It looks at the one beside the place first, so that most others are seen to lie higher
// at once.
func capsuleHeight(capsules []capsule, r, x, y float64) float64 {
	low := math.Inf(1)
	beside := sort.Search(len(capsules), func(i int) bool { return capsules[i].least > x }) - 1
	if beside >= 0 {
		low = capsules[beside].under(low, r, x, y)
	}
	for i := range capsules {
		low = capsules[i].under(low, r, x, y)
	}
	return low
}

// under returns the lower of low and the height of the balls of radius r along a capsule.
func (c *capsule) under(low, r, x, y float64) float64 {
	dx, dy := x-c.x, y-c.y
	along := float64(dx*c.ux) + float64(dy*c.uy)
	across := float64(dx*c.uy) - float64(dy*c.ux)
	beyond := max(-along, along-c.span, 0)
	reach := float64(r*r) - float64(across*across)
	// The lowest place of a ball is the root of what is left under its centre.
	left := reach - float64(beyond*beyond)
	if over := min(c.h, c.h+c.rise) - low; left <= 0 || over > 0 && over*over >= left {
		return low
	}
	return min(low, underLine(AxisPoint{0, c.h}, AxisPoint{c.span, c.h + c.rise}, along, math.Sqrt(reach)))
}
