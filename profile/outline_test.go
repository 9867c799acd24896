package profile

import (
	"math"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
)

// TestOutlineAgainstReferences compares area and centroid with a general-purpose
// geometry library on a fine sampling, and the area with numeric integration of the
// height between edge and back.
func TestOutlineAgainstReferences(t *testing.T) {
	for name, k := range outlineCases() {
		t.Run(name, func(t *testing.T) {
			outline := mustBuild(t, k).Outline
			const chord = 1e-4
			var flat []float64
			for _, p := range outline.Sample(chord) {
				flat = append(flat, p.X, p.Y)
			}
			if n := len(flat); flat[0] != flat[n-2] || flat[1] != flat[n-1] {
				flat = append(flat, flat[0], flat[1])
			}
			ring := geom.NewLineString(geom.NewSequence(flat, geom.DimXY))
			polygon := geom.NewPolygon([]geom.LineString{ring})
			require.NoError(t, polygon.Validate())
			// A chord leaves out at most two thirds of its length times the chord error.
			tolerance := outline.Length() * chord
			assert.InDelta(t, polygon.Area(), outline.Area(), tolerance)
			centroid, ok := polygon.Centroid().XY()
			require.True(t, ok)
			assert.InDelta(t, centroid.X, outline.Centroid().X, 1e-3)
			assert.InDelta(t, centroid.Y, outline.Centroid().Y, 1e-3)

			bounds := outline.Bounds()
			height := func(x float64) float64 {
				ys := outline.Crossings(x)
				sum := 0.0
				for i := 1; i < len(ys); i += 2 {
					sum += ys[i] - ys[i-1]
				}
				return sum
			}
			// The height jumps at the guard plane and has corners; many short
			// intervals keep each mistake small.
			area := 0.0
			const parts = 400
			for i := range parts {
				a := bounds.Min.X + (bounds.Max.X-bounds.Min.X)*float64(i)/parts
				b := bounds.Min.X + (bounds.Max.X-bounds.Min.X)*float64(i+1)/parts
				area += quad.Fixed(height, a, b, 7, quad.Legendre{}, 0)
			}
			assert.InDelta(t, area, outline.Area(), 2e-4*outline.Area())
		})
	}
}

// outlineCases returns knives that use every feature of the outline.
func outlineCases() map[string]Knife {
	hollow := testKnife()
	straight := testKnife()
	straight.Clip.Sag = 0
	drop := testKnife()
	drop.Clip.Sag, drop.Clip.Drop = -2, 8
	trailing := testKnife()
	trailing.Spine.Rise, trailing.Clip.Drop, trailing.Clip.Sag = 6, -4, 0
	above := testKnife()
	above.Spine.Rise, above.Clip.Drop, above.Clip.Sag, above.Edge.BellyLength = 2, -9, 1, 60
	choil := testKnife()
	choil.Ricasso.Choil, choil.Ricasso.Width = 5, Some(31)
	recurve := testKnife()
	recurve.Edge.Recurve = 2
	angular := testKnife()
	angular.Edge.Fullness, angular.Edge.BellyLength = 0, 40
	level := testKnife()
	level.Clip.Drop, level.Edge.BellyLength, level.Clip.Sag = 34, 0, -4
	offset := testKnife()
	offset.Shoulder.Top = Some(3)
	return map[string]Knife{"hollow clip": hollow, "straight clip": straight, "drop point": drop, "trailing point": trailing, "point over the back": above,
		"choil": choil, "recurve": recurve, "angular point": angular, "point on the edge": level, "tang near the spine": offset}
}

// TestOutlinePlaces checks where the outline must pass.
func TestOutlinePlaces(t *testing.T) {
	for name, k := range outlineCases() {
		t.Run(name, func(t *testing.T) {
			b := mustBuild(t, k)
			assert.Positive(t, b.Outline.Area(), "counterclockwise")
			bounds := b.Outline.Bounds()
			assert.InDelta(t, k.Blade.Length, bounds.Max.X, 1e-9, "the point is the foremost place")
			assert.InDelta(t, -k.Tang.Length, bounds.Min.X, 1e-9)
			assert.InDelta(t, -k.Blade.Width, bounds.Min.Y, 1e-6)
			ys := b.Outline.Crossings(-50)
			require.Len(t, ys, 2, "the tang")
			taper := k.Tang.Width - (k.Tang.Width-k.Tang.EndWidth)*50/k.Tang.Length
			assert.InDelta(t, taper, ys[1]-ys[0], 1e-9)
			start := b.ClipStart()
			assert.InDelta(t, start.Y, b.BackAt(start.X), 1e-9)
		})
	}
}

// TestClipSag: half way along its chord the clip lies the sag under it, or over it.
func TestClipSag(t *testing.T) {
	for _, sag := range []float64{3, 1, 0, -1, -2.4} {
		k := testKnife()
		k.Clip.Sag = sag
		require.NoError(t, k.Validate())
		piece := k.clipPiece()
		a, b := piece.Start(), piece.End()
		chord := math.Hypot(b.X-a.X, b.Y-a.Y)
		deepest := 0.0
		for i := range 2001 {
			p := piece.At(float64(i) / 2000)
			deepest = math.Max(deepest, math.Copysign(1, sag)*((p.X-a.X)*(b.Y-a.Y)-(p.Y-a.Y)*(b.X-a.X))/chord)
		}
		assert.InDelta(t, math.Abs(sag), deepest, 1e-5, "sag %g", sag)
		if sag < 0 {
			assert.InDelta(t, 0, piece.Tangent(0).Y, 1e-12, "a drop point leaves the spine smoothly")
		}
	}
}

// TestInsideCornersAreRound: at both shoulders the outline turns on the corner radius.
func TestInsideCornersAreRound(t *testing.T) {
	b := mustBuild(t, testKnife())
	for i, piece := range b.Outline.Pieces() {
		next := b.Outline.Pieces()[(i+1)%len(b.Outline.Pieces())]
		out, in := piece.Tangent(1), next.Tangent(0)
		turn := float64(out.X*in.Y) - float64(out.Y*in.X)
		assert.Greater(t, turn, -1e-6, "a sharp inside corner at %v", piece.End())
	}
}

// TestBarHoldsTheBlade: whatever the outline, the bar reaches past it by the allowances
// on every side.
func TestBarHoldsTheBlade(t *testing.T) {
	for name, k := range outlineCases() {
		b := mustBuild(t, k)
		box := b.Outline.Bounds()
		assert.GreaterOrEqual(t, b.Bar.Top, box.Max.Y+k.Bar.SpineAllowance-1e-9, name)
		assert.LessOrEqual(t, b.Bar.Bottom, box.Min.Y-k.Bar.EdgeAllowance+1e-9, name)
		assert.LessOrEqual(t, b.Bar.Butt, box.Min.X-k.Bar.TangAllowance+1e-9, name)
		assert.GreaterOrEqual(t, b.Bar.Front, box.Max.X+k.Bar.PointAllowance-1e-9, name)
	}
}
