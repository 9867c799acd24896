package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestNearest holds the nearest place of random pieces against the least over a
// thousand places of each, and against what makes it nearest: that the way there is
// square to the piece, or that it is an end.
func TestNearest(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 3))
	random := func() Point { return Point{X: r.Float64()*40 - 20, Y: r.Float64()*40 - 20} }
	for range 100 {
		a, b := random(), random()
		for _, piece := range []Piece{Line{a, b}, ArcThrough(a, b, (r.Float64()-0.5)*norm(sub(b, a))), Cubic{a, mix(a, random(), 0.6), mix(b, random(), 0.6), b}} {
			c, err := NewChain(piece)
			require.NoError(t, err)
			q := random()
			at, distance := c.Nearest(q)
			foot := piece.At(at.T)
			require.InDelta(t, distance, norm(sub(q, foot)), 1e-12)
			const places = 1000
			for i := range places + 1 {
				require.LessOrEqual(t, distance, norm(sub(q, piece.At(float64(i)/places)))+1e-12, "%T %v", piece, piece)
			}
			if at.T > 0 && at.T < 1 {
				assert.InDelta(t, 0, dot(sub(q, foot), piece.Tangent(at.T)), 1e-7*math.Max(1, distance), "%T", piece)
			}
		}
	}
	_, distance := Chain{}.Nearest(Point{})
	assert.True(t, math.IsInf(distance, 1))
}

// TestAtX: where a piece that goes one way along x passes an upright line, the point is on
// that line, and it is the one place that Crossings finds.
func TestAtX(t *testing.T) {
	r := rand.New(rand.NewPCG(72, 3))
	for range 300 {
		y := func() float64 { return r.Float64()*10 - 5 }
		a, b := Point{X: 1 + r.Float64(), Y: y()}, Point{X: 9 + r.Float64(), Y: y()}
		if r.IntN(2) == 0 {
			a, b = b, a
		}
		middle := func(share float64) Point { return Point{X: a.X + share*(b.X-a.X), Y: y()} }
		for _, piece := range []Piece{Line{a, b}, ArcThrough(a, b, r.Float64()-0.5), Cubic{a, middle(0.3), middle(0.6), b}} {
			c, err := NewChain(piece)
			require.NoError(t, err)
			x := 2.5 + 6*r.Float64()
			at, ok := AtX(piece, x)
			require.True(t, ok)
			assert.InDelta(t, x, piece.At(at).X, 1e-9, "%T", piece)
			require.Len(t, c.Crossings(x), 1)
			assert.InDelta(t, c.Crossings(x)[0], piece.At(at).Y, 1e-9, "%T", piece)
			_, ok = AtX(piece, 11)
			assert.False(t, ok)
		}
	}
}
