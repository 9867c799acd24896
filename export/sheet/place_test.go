package sheet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/geom"
)

// TestCutsAreExact: lines, arcs and cubics cut at uprights keep their kind and their
// curve, and the parts together are as long as the whole.
func TestCutsAreExact(t *testing.T) {
	arc := geom.Arc{Centre: geom.Point{X: 10, Y: 5}, Radius: 7, From: 20 * geom.Degree, Sweep: 300 * geom.Degree}
	cubic := geom.Cubic{P0: geom.Point{X: 2}, P1: geom.Point{X: 30, Y: 9}, P2: geom.Point{X: -10, Y: 12}, P3: geom.Point{X: 18, Y: 3}}
	line := geom.Line{From: geom.Point{X: 19, Y: 2}, To: geom.Point{X: 1, Y: 8}}
	for name, piece := range map[string]geom.Piece{"arc": arc, "cubic": cubic, "line": line} {
		total := 0.0
		seams := []float64{-50, 6.1, 10, 12.7, 50}
		for i := 1; i < len(seams); i++ {
			for _, part := range (Path{Pieces: []geom.Piece{piece}}).between(seams[i-1], seams[i]).Pieces {
				assert.IsType(t, piece, part, name)
				total += part.Length()
				box := part.Bounds()
				assert.GreaterOrEqual(t, box.Min.X, seams[i-1]-1e-9, name)
				assert.LessOrEqual(t, box.Max.X, seams[i]+1e-9, name)
				if a, is := part.(geom.Arc); is {
					assert.Equal(t, [3]float64{10, 5, 7}, [3]float64{a.Centre.X, a.Centre.Y, a.Radius})
				}
			}
		}
		assert.InDelta(t, piece.Length(), total, 1e-8, name)
	}
	middle := subcubic(cubic, 0.25, 0.75)
	for _, u := range []float64{0, 0.3, 1} {
		want, got := cubic.At(0.25+u/2), middle.At(u)
		assert.InDelta(t, want.X, got.X, 1e-12)
		assert.InDelta(t, want.Y, got.Y, 1e-12)
	}
}

// TestPlaceTakesWholeWords: a word goes along only where it lies in the window whole.
func TestPlaceTakesWholeWords(t *testing.T) {
	setter, err := NewTypesetter()
	require.NoError(t, err)
	var part Sheet
	part.Add("a", "a", Text{At: geom.Point{X: 5}, Height: 3, Content: "in"}, Text{At: geom.Point{X: 19}, Height: 3, Content: "across"},
		Text{At: geom.Point{X: 2.5}, Height: 3, Content: "theirs"},
		Line(Pen{Width: 0.1}, 0, 1, 40, 1))
	var s Sheet
	s.Place(setter, part, Span{2, 20}, Span{3, 20}, geom.Point{X: 100, Y: 50})
	require.Len(t, s.Layers, 1)
	require.Len(t, s.Layers[0].Items, 2)
	assert.Equal(t, geom.Point{X: 105, Y: 50}, s.Layers[0].Items[0].(Text).At)
	line := s.Layers[0].Items[1].(Path).Pieces[0]
	assert.InDelta(t, 102, line.Start().X, 1e-9)
	assert.InDelta(t, 120, line.End().X, 1e-9)
}

// TestBounds: of an arc the circle's own extremes, of a word its box.
func TestBounds(t *testing.T) {
	setter, err := NewTypesetter()
	require.NoError(t, err)
	var s Sheet
	s.Add("a", "a", Circle(Pen{Width: 0.1}, geom.Point{X: 10, Y: 10}, 4))
	assert.InDelta(t, 0, boxAway(Box{6, 6, 14, 14}, s.Bounds(setter)), 1e-9)
	text := Text{At: geom.Point{X: 20, Y: 3}, Height: 3, Content: "wide"}
	s.Add("a", "a", text)
	assert.InDelta(t, 0, boxAway(Box{6, 3 - 0.9, 20 + setter.Width(text), 14}, s.Bounds(setter)), 1e-9)
}

func boxAway(a, b Box) float64 {
	return math.Abs(a.MinX-b.MinX) + math.Abs(a.MinY-b.MinY) + math.Abs(a.MaxX-b.MaxX) + math.Abs(a.MaxY-b.MaxY)
}

// TestWrap: no line is wider than asked, and no word is lost.
func TestWrap(t *testing.T) {
	setter, err := NewTypesetter()
	require.NoError(t, err)
	lines := setter.Wrap("one two  three four five six seven", 2.5, 20)
	assert.Greater(t, len(lines), 2)
	all := ""
	for i, line := range lines {
		assert.LessOrEqual(t, setter.Width(Text{Height: 2.5, Content: line}), 20.0)
		if i > 0 {
			all += " "
		}
		all += line
	}
	assert.Equal(t, "one two three four five six seven", all)
	assert.Equal(t, []string{"unbreakably-long-word"}, setter.Wrap("unbreakably-long-word", 2.5, 5))
}
