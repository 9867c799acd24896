package geom_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/templates"
)

func closed(t testing.TB, pieces ...geom.Piece) geom.Chain {
	t.Helper()
	c, err := geom.NewChain(pieces...)
	require.NoError(t, err)
	require.True(t, c.Closed())
	return c
}

// corners returns the closed polygon through points given as x, y, x, y, ...
func corners(t testing.TB, coordinates ...float64) geom.Chain {
	t.Helper()
	var pieces []geom.Piece
	n := len(coordinates) / 2
	at := func(i int) geom.Point { return geom.Point{X: coordinates[2*(i%n)], Y: coordinates[2*(i%n)+1]} }
	for i := range n {
		pieces = append(pieces, geom.Line{From: at(i), To: at(i + 1)})
	}
	return closed(t, pieces...)
}

func square(t testing.TB) geom.Chain { return corners(t, 0, 0, 10, 0, 10, 10, 0, 10) }

// lShape has an area of 300, a perimeter of 80 and one concave corner.
func lShape(t testing.TB) geom.Chain { return corners(t, 0, 0, 20, 0, 20, 10, 10, 10, 10, 20, 0, 20) }

func circle(radius float64) geom.Arc {
	return geom.Arc{Centre: geom.Point{X: 3, Y: -2}, Radius: radius, From: 1, Sweep: 360 * geom.Degree}
}

// stadium has straight sides of 30 and half circles of radius 5.
func stadium(t testing.TB) geom.Chain {
	right := geom.Arc{Centre: geom.Point{X: 30}, Radius: 5, From: -90 * geom.Degree, Sweep: 180 * geom.Degree}
	left := geom.Arc{Radius: 5, From: 90 * geom.Degree, Sweep: 180 * geom.Degree}
	return closed(t, right, geom.Line{From: right.End(), To: left.Start()}, left, geom.Line{From: left.End(), To: right.Start()})
}

// notched is a square of 40 with a notch of 4 by 10 in its upper side.
func notched(t testing.TB) geom.Chain {
	return corners(t, 0, 0, 40, 0, 40, 40, 22, 40, 22, 30, 18, 30, 18, 40, 0, 40)
}

// waisted is two squares of 10 joined by a neck 2 wide and 10 long.
func waisted(t testing.TB) geom.Chain {
	return corners(t, 0, 0, 10, 0, 10, 4, 20, 4, 20, 0, 30, 0, 30, 10, 20, 10, 20, 6, 10, 6, 10, 10, 0, 10)
}

// slotted is a square of 40 with a round hole of radius 5 that a slot 2 wide opens to
// its upper side.
func slotted(t testing.TB) geom.Chain {
	half := math.Asin(1.0 / 5)
	hole := geom.Arc{Centre: geom.Point{X: 20, Y: 20}, Radius: 5, From: geom.Angle(math.Pi/2 - half), Sweep: geom.Angle(2*half - 2*math.Pi)}
	at := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	return closed(t, geom.Line{From: at(0, 0), To: at(40, 0)}, geom.Line{From: at(40, 0), To: at(40, 40)}, geom.Line{From: at(40, 40), To: at(21, 40)},
		geom.Line{From: at(21, 40), To: hole.Start()}, hole, geom.Line{From: hole.End(), To: at(19, 40)},
		geom.Line{From: at(19, 40), To: at(0, 40)}, geom.Line{From: at(0, 40), To: at(0, 0)})
}

// fin runs along a line and back along an arc of radius 5 that touches it at the tip.
func fin(t testing.TB) geom.Chain {
	at := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	back := geom.Arc{Centre: at(0, 5), Radius: 5, Sweep: -90 * geom.Degree}
	return closed(t, geom.Line{From: back.End(), To: at(10, 0)}, geom.Line{From: at(10, 0), To: at(10, 5)}, geom.Line{From: at(10, 5), To: at(5, 5)}, back)
}

// slit is a block with the fin cut out of its right side.
func slit(t testing.TB) geom.Chain {
	at := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	back := geom.Arc{Centre: at(0, 5), Radius: 5, From: -90 * geom.Degree, Sweep: 90 * geom.Degree}
	return closed(t, geom.Line{From: at(10, 0), To: back.Start()}, back, geom.Line{From: at(5, 5), To: at(10, 5)}, geom.Line{From: at(10, 5), To: at(10, 10)},
		geom.Line{From: at(10, 10), To: at(-10, 10)}, geom.Line{From: at(-10, 10), To: at(-10, -10)}, geom.Line{From: at(-10, -10), To: at(10, -10)}, geom.Line{From: at(10, -10), To: at(10, 0)})
}

// keyhole is a circle of radius 6 with a slot 2 wide and 10 long beside it.
func keyhole(t testing.TB) geom.Chain {
	half := geom.Angle(math.Asin(1.0 / 6))
	head := geom.Arc{Radius: 6, From: half, Sweep: 2*math.Pi - 2*half}
	at := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	return closed(t, head, geom.Line{From: head.End(), To: at(16, -1)}, geom.Line{From: at(16, -1), To: at(16, 1)},
		geom.Line{From: at(16, 1), To: head.Start()})
}

// star returns a chain of lines, arcs and cubics through random points around the
// origin, or false when it meets itself.
func star(random *rand.Rand) (geom.Chain, bool) {
	n := 3 + random.IntN(8)
	points := make([]geom.Point, n)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.7*random.Float64()) / float64(n))
		r := 3 + 9*random.Float64()
		points[i] = geom.Point{X: r * cos, Y: r * sin}
	}
	nudge := func(p geom.Point) geom.Point {
		return geom.Point{X: p.X + 6*random.Float64() - 3, Y: p.Y + 6*random.Float64() - 3}
	}
	var pieces []geom.Piece
	for i, p := range points {
		q := points[(i+1)%n]
		switch random.IntN(3) {
		case 0:
			pieces = append(pieces, geom.Line{From: p, To: q})
		case 1:
			pieces = append(pieces, geom.ArcThrough(p, q, 0.1+random.Float64()*math.Hypot(q.X-p.X, q.Y-p.Y)/2*float64(1-2*random.IntN(2))))
		case 2:
			pieces = append(pieces, geom.Cubic{P0: p, P1: nudge(p), P2: nudge(q), P3: q})
		}
	}
	for i, p := range pieces {
		d, e := p.Tangent(1), pieces[(i+1)%n].Tangent(0)
		if d.X*e.X+d.Y*e.Y < -0.99 {
			return geom.Chain{}, false // so sharp that its sides may cross beside the corner unseen
		}
	}
	c, err := geom.NewChain(pieces...)
	return c, err == nil && c.Closed() && len(c.SelfCrossings()) == 0
}

// steps returns a figure of upright and level sides with corners within the noise of
// whole coordinates, a third of the sides arcs where they swell, or false when it meets
// itself.
func steps(random *rand.Rand, noise, swell float64) (geom.Chain, bool) {
	points := []geom.Point{{}}
	turnTo := func(x, y float64) {
		points = append(points, geom.Point{X: points[len(points)-1].X, Y: y}, geom.Point{X: x, Y: y})
	}
	for range 2 + random.IntN(6) {
		turnTo(points[len(points)-1].X+float64(1+random.IntN(4)), float64(1+random.IntN(7)))
	}
	for points[len(points)-1].X > 0 {
		turnTo(math.Max(0, points[len(points)-1].X-float64(1+random.IntN(4))), float64(-random.IntN(6)))
	}
	points = slices.Compact(points)
	if last := len(points) - 1; points[last] == points[0] {
		points = points[:last]
	}
	if noise > 0 { // with a corner in each side that turns by next to nothing
		whole := points
		points = nil
		for i, p := range whole {
			q, t := whole[(i+1)%len(whole)], 0.3+0.4*random.Float64()
			points = append(points, p, geom.Point{X: p.X + t*(q.X-p.X), Y: p.Y + t*(q.Y-p.Y)})
		}
	}
	for i := range points {
		points[i].X += noise * (2*random.Float64() - 1)
		points[i].Y += noise * (2*random.Float64() - 1)
	}
	var pieces []geom.Piece
	for i, p := range points {
		q := points[(i+1)%len(points)]
		if swell > 0 && random.IntN(3) == 0 {
			pieces = append(pieces, geom.ArcThrough(p, q, swell))
		} else {
			pieces = append(pieces, geom.Line{From: p, To: q})
		}
	}
	c, err := geom.NewChain(pieces...)
	return c, err == nil && c.Closed() && len(c.SelfCrossings()) == 0
}

func outlineOf(t testing.TB, name string) geom.Chain {
	t.Helper()
	data, found := templates.Pattern(name)
	require.True(t, found)
	k, err := profile.Parse(name+".toml", data)
	require.NoError(t, err)
	b, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	return b.Outline
}

// away returns the distance of a point from the polyline through points.
func away(points []geom.Point, p geom.Point) float64 {
	least := math.Inf(1)
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		dx, dy := b.X-a.X, b.Y-a.Y
		t := ((p.X-a.X)*dx + (p.Y-a.Y)*dy) / (dx*dx + dy*dy)
		t = math.Max(0, math.Min(1, t))
		ex, ey := p.X-a.X-t*dx, p.Y-a.Y-t*dy
		least = math.Min(least, ex*ex+ey*ey)
	}
	return math.Sqrt(least)
}
