package toolpath

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/geom"
)

// squareCorner is a corner at the origin: along +x to it, steel below, and off along +y.
func squareCorner() insideCorner {
	return insideCorner{in: geom.Point{X: 1}, out: geom.Point{Y: 1}}
}

// TestContactInACorner: a cutter of radius r that goes all the way into a square corner left
// round by r + d meets the steel, about the corner's diagonal, to half angles of
// acos((1 - d/2r)/sqrt(2)): where its circle and the round one meet. Derived. Of it the half
// behind the diagonal's 45 degrees to the wall counts as far as the wall. Taking off next to
// nothing it touches both walls, a right angle.
func TestContactInACorner(t *testing.T) {
	const r = 0.75
	for _, d := range []float64{0.001, 0.05, 0.1, 0.2, 0.4} {
		half := math.Acos((1 - d/(2*r)) / math.Sqrt2)
		got := cornerPass{squareCorner(), r + d, r, r}.contact()
		assert.InDelta(t, math.Pi/4+half, got, 2e-3, "%g: less than a millionth of a millimetre is touching", d)
	}
	// Where the cutter is small beside both arcs it meets a straight wall's contact:
	// acos(1 - depth/r), the depth along the diagonal.
	wide := cornerPass{squareCorner(), 60, 59.8, r}
	assert.InDelta(t, math.Acos(1-0.2*(math.Sqrt2-1)/r), wide.contact(), 0.02)
}

// TestCornerPassesHoldTheContact, each as large as it may be but the first.
func TestCornerPassesHoldTheContact(t *testing.T) {
	for _, row := range []struct{ from, to, radius float64 }{{3, 0.8, 0.75}, {1.5, 0.8, 0.75}, {3, 1.5, 1.5}, {1.5, 1, 0.5}} {
		passes := cornerPasses(squareCorner(), row.from, row.to, row.radius)
		require.NotEmpty(t, passes)
		before := row.from
		for i, after := range passes {
			contact := cornerPass{squareCorner(), before, after, row.radius}.contact()
			assert.LessOrEqual(t, contact, contactMost)
			if i > 0 {
				assert.Greater(t, contact, 0.97*contactMost)
			}
			before = after
		}
		assert.InDelta(t, row.to, before, 0)
	}
}

// TestCornerWayTouches: the cutter's edge touches both walls and the new corner from within,
// and never goes beyond, in a right and in a wide corner; on its way in, off and back it
// stays in what is open.
func TestCornerWayTouches(t *testing.T) {
	sin, cos := math.Sincos(80 * math.Pi / 180)
	for _, corner := range []insideCorner{squareCorner(), {at: geom.Point{X: 3, Y: -2}, in: geom.Point{Y: 1}, out: geom.Point{X: -sin, Y: cos}}} {
		p := cornerPass{corner, 3, 0.8, 0.75}
		arc, err := corner.fillet(p.to)
		require.NoError(t, err)
		old, err := corner.fillet(p.from)
		require.NoError(t, err)
		cut, err := p.lap(0.4)
		require.NoError(t, err)
		room := func(at geom.Point, round geom.Arc) float64 { // to the nearest steel, for a circle about a place
			least := math.Inf(1)
			for i := range 720 {
				s, c := math.Sincos(float64(i) * math.Pi / 360)
				for reach := 0.0; reach < least; reach += 0.002 {
					if corner.steelAt(geom.Point{X: at.X + reach*c, Y: at.Y + reach*s}, round, 0) {
						least = reach
					}
				}
			}
			return least
		}
		for i, piece := range cut {
			assert.True(t, i == 0 || math.Hypot(piece.Start().X-cut[i-1].End().X, piece.Start().Y-cut[i-1].End().Y) < 1e-9, "the way goes on")
			for _, at := range []float64{0, 0.3, 0.7, 1} {
				got := room(piece.At(at), arc)
				assert.GreaterOrEqual(t, got, p.radius-0.003)
				if i > 0 && i < len(cut)-1 {
					assert.InDelta(t, p.radius, got, 0.004, "piece %d", i)
				}
			}
		}
		back := geom.Line{From: cut[len(cut)-1].End(), To: cut[0].Start()}
		for _, at := range []float64{0, 0.25, 0.5, 0.75, 1} {
			assert.GreaterOrEqual(t, room(back.At(at), old), p.radius-0.003, "back through what is open")
		}
	}
}

// TestContactCounted: contact is what counting the places of the cutter's edge that stand in
// steel comes to, on the way of random passes through right and wide corners.
func TestContactCounted(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 7))
	sin, cos := math.Sincos(80 * math.Pi / 180)
	const parts = 2000
	for _, corner := range []insideCorner{squareCorner(), {at: geom.Point{X: 3, Y: -2}, in: geom.Point{Y: 1}, out: geom.Point{X: -sin, Y: cos}}} {
		for range 40 {
			radius := 0.4 + 2*random.Float64()
			to := radius + 2*random.Float64()
			p := cornerPass{corner, to + 2*random.Float64(), to, radius}
			way, err := p.way()
			require.NoError(t, err)
			old, err := corner.fillet(p.from)
			require.NoError(t, err)
			left := leftSteel{old, old.Start(), old.End(), corner}
			piece := way[random.IntN(len(way))]
			share := random.Float64()
			at, along := piece.At(share), piece.Tangent(share)
			met := 0
			for i := range parts {
				sin, cos := math.Sincos(math.Pi * (float64(i) + 0.5) / parts)
				if corner.steelAt(geom.Point{X: at.X + radius*(sin*along.X+cos*along.Y), Y: at.Y + radius*(sin*along.Y-cos*along.X)}, old, outside) {
					met++
				}
			}
			assert.InDelta(t, math.Pi*float64(met)/parts, left.contact(at, along, radius), 4*math.Pi/parts, "%+v at %g", p, share)
		}
	}
}

// steelAt reports whether there is steel at a place beside a corner that is round by an arc.
func (c insideCorner) steelAt(p geom.Point, round geom.Arc, outside float64) bool {
	dx, dy := p.X-c.at.X, p.Y-c.at.Y
	beside := func(d geom.Point) float64 { return d.X*dy - d.Y*dx } // to the left of a wall
	if beside(c.in) < -outside || beside(c.out) < -outside {
		return true
	}
	// Only in the wedge between the arc's ends is it the arc that bounds the steel.
	ahead := func(from, d geom.Point) float64 { return (p.X-from.X)*d.X + (p.Y-from.Y)*d.Y }
	if ahead(round.Start(), c.in) < 0 || ahead(round.End(), c.out) > 0 {
		return false
	}
	return math.Hypot(p.X-round.Centre.X, p.Y-round.Centre.Y) > round.Radius+outside
}
