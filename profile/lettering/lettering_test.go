package lettering

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"

	"fullerwright/profile/geom"
)

func set(t *testing.T, text string, height, line float64) Strokes {
	t.Helper()
	s, err := Set(text, height, line)
	require.NoError(t, err)
	return s
}

// TestHeightsOfISO3098: lettering B at h = 2.5 mm with a line of h/10, from memory of
// ISO 3098-1:2015: small letters 7/10 h, tails 3/10 h below, all over the outside of
// the line; 2/10 h free between two upright letters and 6/10 h between words.
func TestHeightsOfISO3098(t *testing.T) {
	const h, line = 2.5, 0.25
	assert.InDelta(t, h, set(t, "H", h, line).Bounds().Max.Y+line, tight)
	assert.InDelta(t, 0, set(t, "H", h, line).Bounds().Min.Y, tight)
	assert.InDelta(t, h, set(t, "hlk", h, line).Bounds().Max.Y+line, tight)
	assert.InDelta(t, 0.7*h, set(t, "xz", h, line).Bounds().Max.Y+line, tight)
	assert.InDelta(t, -0.3*h, set(t, "pq", h, line).Bounds().Min.Y, tight)
	two := set(t, "II", h, line).Chains()
	assert.InDelta(t, 0.2*h, two[1].Bounds().Min.X-two[0].Bounds().Max.X-line, tight)
	words := set(t, "I I", h, line).Chains()
	assert.InDelta(t, 0.6*h, words[1].Bounds().Min.X-words[0].Bounds().Max.X-line, tight)
}

// TestHeightIsOverTheLine: a wider line makes smaller letters, not taller ones.
func TestHeightIsOverTheLine(t *testing.T) {
	for _, line := range []float64{0, 0.1, 0.3, 0.4} {
		box := set(t, "O", 2.5, line).Bounds()
		assert.InDelta(t, 2.5, box.Max.Y-box.Min.Y+line, tight, "line %g", line)
	}
}

// TestNeighboursKeepTheirDistance goes through every pair of characters.
func TestNeighboursKeepTheirDistance(t *testing.T) {
	const h, line = 2.5, 0.3
	strokes := map[rune]int{}
	for c, g := range alphabet() {
		strokes[c] = len(g.strokes)
	}
	closest := math.Inf(1)
	for _, a := range Alphabet() {
		for _, b := range Alphabet() {
			chains := set(t, string([]rune{a, b}), h, line).Chains()
			require.Len(t, chains, strokes[a]+strokes[b])
			right, left := 0.0, math.Inf(1)
			for i, c := range chains {
				if i < strokes[a] {
					right = math.Max(right, c.Bounds().Max.X)
				} else {
					left = math.Min(left, c.Bounds().Min.X)
				}
			}
			assert.GreaterOrEqual(t, left-right, LeastGap(h, line)-tight, "%c%c", a, b)
			closest = math.Min(closest, left-right)
		}
	}
	assert.InDelta(t, LeastGap(h, line), closest, tight, "the stated distance is that of the closest pair")
	assert.Greater(t, LeastGap(h, line), 1.5*line, "half a line must be left between lines")
}

func TestWidthAndBounds(t *testing.T) {
	s := set(t, "  Åg, & (58) ", 5, 0.5)
	box := s.Bounds()
	assert.InDelta(t, 0, box.Min.X, tight)
	assert.InDelta(t, s.Width(), box.Max.X, tight)
	assert.Equal(t, set(t, "Åg, & (58)", 5, 0.5), s, "spaces around a text take no room")
	length := 0.0
	for _, c := range s.Chains() {
		length += c.Length()
	}
	assert.InDelta(t, length, s.Length(), tight)
	// An I and an upright line of 4.5 mm between middles.
	assert.InDelta(t, 4.5, set(t, "I", 5, 0.5).Length(), tight)
}

// TestPlaced turns a text by angles whose sines are known.
func TestPlaced(t *testing.T) {
	s := set(t, "HI", 5, 0.5)
	centre := geom.Point{X: 30, Y: -12}
	w, h := s.Width(), 4.5
	flat := s.Placed(centre, 0).Bounds()
	assert.InDelta(t, 30-w/2, flat.Min.X, tight)
	assert.InDelta(t, -12+h/2, flat.Max.Y, tight)
	turned := s.Placed(centre, 90*geom.Degree)
	box := turned.Bounds()
	assert.InDelta(t, 30-h/2, box.Min.X, tight)
	assert.InDelta(t, -12+w/2, box.Max.Y, tight)
	assert.InDelta(t, s.Length(), turned.Length(), tight)
	// The first stroke runs down the left side of the H: turned by 90 degrees, its top
	// is at the left, at the bottom of the box.
	start := turned.Chains()[0].Pieces()[0].Start()
	assert.InDelta(t, 30-h/2, start.X, tight)
	assert.InDelta(t, -12-w/2, start.Y, tight)
	// A tail does not lift the line.
	level := set(t, "Hg", 5, 0.5).Placed(centre, 0).Chains()[0].Bounds()
	assert.InDelta(t, -12-h/2, level.Min.Y, tight)
}

// TestArcsTurnWithTheirEnds: what is placed is still a chain, and arcs turn as lines do.
func TestArcsTurnWithTheirEnds(t *testing.T) {
	for _, c := range set(t, "S&ç8", 3, 0.3).Placed(geom.Point{X: 1, Y: 2}, 33*geom.Degree).Chains() {
		_, err := geom.NewChain(c.Pieces()...)
		assert.NoError(t, err)
	}
}

func TestUnknownCharactersAreAllNamed(t *testing.T) {
	s, err := Set("Knife €5 €\t漢", 2.5, 0.3)
	var unknown UnknownCharacters
	require.ErrorAs(t, err, &unknown)
	assert.Equal(t, []rune{'€', '\t', '漢'}, unknown.Characters)
	for _, want := range []string{"'€' (U+20AC)", `'\t' (U+0009)`, "'漢' (U+6F22)", "ABC", "×"} {
		assert.ErrorContains(t, err, want)
	}
	assert.Empty(t, s.Chains())
	assert.Zero(t, s.Width())
}

func TestFaultsAreReportedAtOnce(t *testing.T) {
	_, err := Set("~", math.NaN(), -1)
	require.ErrorContains(t, err, "height")
	assert.ErrorContains(t, err, "line")
	assert.ErrorAs(t, err, new(UnknownCharacters))
	for name, row := range map[string]struct {
		text         string
		height, line float64
	}{
		"empty": {"", 2.5, 0.3}, "spaces": {"   ", 2.5, 0.3}, "low": {"A", 0.49, 0}, "high": {"A", 51, 1}, "infinite": {"A", math.Inf(1), 1},
		"wide": {"A", 2.4, 0.41}, "negative": {"A", 2.5, -0.1}, "no number": {"A", 2.5, math.NaN()},
	} {
		s, err := Set(row.text, row.height, row.line)
		assert.Error(t, err, name)
		assert.Equal(t, Strokes{}, s, name)
	}
	var unknown UnknownCharacters
	_, err = Set("A", 0, 0)
	assert.False(t, errors.As(err, &unknown))
}

// TestZeroStrokes: the zero value has nothing to cut, wherever it is placed.
func TestZeroStrokes(t *testing.T) {
	var s Strokes
	assert.Empty(t, s.Placed(geom.Point{X: 3}, 1).Chains())
	assert.Equal(t, r2.Box{}, s.Bounds())
	assert.Zero(t, s.Length())
}

// FuzzSet: no text panics; what is set is whole, what is refused leaves nothing.
func FuzzSet(f *testing.F) {
	f.Add("J. Søn & Co", 2.5, 0.3)
	f.Add("\xff\x00", 0.0, -1.0)
	f.Fuzz(func(t *testing.T, text string, height, line float64) {
		s, err := Set(text, height, line)
		if err != nil {
			assert.Equal(t, Strokes{}, s)
			return
		}
		assert.True(t, utf8.ValidString(text))
		assert.NotEmpty(t, s.Chains())
		assert.InDelta(t, s.Width(), s.Bounds().Max.X, tight*(1+s.Width()))
		assert.Equal(t, 0, strings.Count(text, "\n"))
	})
}

// TestTheLeastHeightToldIsTaken: the line that a ball of 0.25 mm leaves at 0.1 mm is 0.4 mm
// wide but for rounding, and a sixth of letters of 2.4 mm.
func TestTheLeastHeightToldIsTaken(t *testing.T) {
	radius, depth, height := 0.25, 0.1, 2.4
	line := 2 * math.Sqrt(2*radius*depth-depth*depth)
	require.InDelta(t, height/6, line, tight)
	_, err := Set("H", height, line)
	require.NoError(t, err)
	_, err = Set("H", 2.39, line)
	require.Error(t, err)
}
