package export

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/tdewolff/canvas"

	"fullerwright/profile/geom"
	"fullerwright/templates"
)

// TestOffsetAgainstTheDrawingLibrary: the exact offset of the outline of every pattern
// has the area of the drawing library's own, to 0.001 mm². The library offsets chords in
// place of the curves; at a tolerance of 4 nm its area is short by less than that. Ours
// keeps arcs, is one curve and does not meet itself.
func TestOffsetAgainstTheDrawingLibrary(t *testing.T) {
	was := canvas.Tolerance
	defer func() { canvas.Tolerance = was }()
	for _, name := range templates.Names() {
		outline := pattern(t, name).Outline
		for _, distance := range []float64{0.1, 0.3, 1, 2.5, 5} {
			const tolerance = 1e-5
			ours, err := outline.Offset(distance, tolerance)
			require.NoError(t, err, "%s by %g", name, distance)
			require.Len(t, ours, 1, "%s by %g", name, distance)
			assert.Empty(t, ours[0].SelfCrossings())
			arcs := 0
			for _, piece := range ours[0].Pieces() {
				if _, round := piece.(geom.Arc); round {
					arcs++
				}
			}
			assert.GreaterOrEqual(t, arcs, 3, "about the corners of point and tang at least")
			canvas.Tolerance = 4e-6
			theirs := canvasArea(outline, distance, canvas.Tolerance)
			assert.InDelta(t, theirs, ours[0].Area(), 0.001, "%s by %g", name, distance)
		}
	}
}

// canvasArea returns the area that the library's offset of a chain encloses.
func canvasArea(c geom.Chain, distance, tolerance float64) float64 {
	path := &canvas.Path{}
	pieces := c.Pieces()
	path.MoveTo(pieces[0].Start().X, pieces[0].Start().Y)
	for _, piece := range pieces {
		addTestPiece(path, piece)
	}
	path.Close()
	out := path.Offset(distance, tolerance).Settle(canvas.NonZero).Flatten(tolerance)
	area := 0.0
	for _, loop := range out.Split() {
		points := loop.Coords()
		for i := range points {
			a, b := points[i], points[(i+1)%len(points)]
			area += (a.X*b.Y - a.Y*b.X) / 2
		}
	}
	return math.Abs(area)
}

func addTestPiece(path *canvas.Path, piece geom.Piece) {
	switch v := piece.(type) {
	case geom.Arc:
		end, middle := v.End(), v.At(0.5)
		path.ArcTo(v.Radius, v.Radius, 0, false, v.Sweep > 0, middle.X, middle.Y)
		path.ArcTo(v.Radius, v.Radius, 0, false, v.Sweep > 0, end.X, end.Y)
	case geom.Cubic:
		path.CubeTo(v.P1.X, v.P1.Y, v.P2.X, v.P2.Y, v.P3.X, v.P3.Y)
	default:
		path.LineTo(piece.End().X, piece.End().Y)
	}
}
