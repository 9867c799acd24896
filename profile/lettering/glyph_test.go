package lettering

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"

	"fullerwright/profile/geom"
)

// tight bounds rounding of coordinates of a few units or millimetres.
const tight = 1e-9

// every calls a test of each glyph under the name of its character.
func every(t *testing.T, test func(t *testing.T, character rune, g glyph)) {
	t.Helper()
	for _, character := range Alphabet() {
		t.Run(string(character), func(t *testing.T) { test(t, character, alphabet()[character]) })
	}
}

// TestAlphabetHolds names what a maker's mark needs, one by one.
func TestAlphabetHolds(t *testing.T) {
	const want = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.,-+/&'():#×°ÄÖÜäöüßÉéÅåØøÆæÑñÇç"
	for _, character := range want {
		assert.Contains(t, Alphabet(), string(character))
	}
	assert.Len(t, []rune(Alphabet()), len([]rune(want)))
}

func TestPiecesAreLinesAndShortArcsThatMeet(t *testing.T) {
	const shortest = 0.1 // units: a tenth of the line's width is nothing to cut
	every(t, func(t *testing.T, _ rune, g glyph) {
		for _, stroke := range g.strokes {
			for i, piece := range stroke.pieces {
				assert.Greater(t, piece.Length(), shortest)
				if i > 0 {
					assert.LessOrEqual(t, r2.Norm(r2.Sub(piece.Start(), stroke.pieces[i-1].End())), tight)
				}
				switch p := piece.(type) {
				case geom.Line:
				case geom.Arc:
					assert.Less(t, math.Abs(p.Sweep.Degrees()), 170.0)
				default:
					t.Errorf("a piece is a %T", piece)
				}
			}
		}
	})
}

// reaches returns the box of a glyph.
func (g glyph) reaches() r2.Box { return boundsOf(g.chains()) }

// TestGlyphsFillTheirBoxes: capitals, figures and tall letters from the baseline to the
// height of a capital, small ones to theirs, tails to theirs, and nothing outside but
// what is named.
func TestGlyphsFillTheirBoxes(t *testing.T) {
	const letters = "ABCDEFGHIJKLMNOPRSTUVWXYZ0123456789&#bdhklfß"
	within := map[rune][2]float64{ // signs and others, each with bounds of its own
		'Q': {-0.5, capitals}, 't': {0, 8.3}, 'i': {0, 8.6}, 'j': {-tail, 8.6},
		'.': {0, 0.4}, ',': {-1.6, 0.4}, ':': {0, 5.4}, '\'': {6.8, capitals}, '-': {4, 4}, '+': {1.7, 6.7}, '×': {2.2, 6.2},
		'/': {-0.6, 9.6}, '(': {-2, 10}, ')': {-2, 10}, '°': {6.2, capitals},
		'Ø': {-0.8, 9.8}, 'ø': {-0.7, 6.7}, 'Ç': {-2.9, capitals}, 'ç': {-2.9, smallHeight},
		'Æ': {0, capitals}, 'æ': {0, smallHeight},
	}
	every(t, func(t *testing.T, character rune, g glyph) {
		box := g.reaches()
		low, high := 0.0, 0.0
		switch own, named := within[character]; {
		case named:
			low, high = own[0], own[1]
		case strings.ContainsRune(letters, character):
			high = capitals
		case strings.ContainsRune("acemnorsuvwxz", character):
			high = smallHeight
		case strings.ContainsRune("gpqy", character):
			low, high = -tail, smallHeight
		default: // a letter with a mark over it
			assert.Greater(t, box.Max.Y, smallHeight+1)
			assert.LessOrEqual(t, box.Max.Y, capitals+4.5)
			high = box.Max.Y
		}
		assert.InDelta(t, low, box.Min.Y, tight)
		assert.InDelta(t, high, box.Max.Y, tight)
		assert.InDelta(t, 0, box.Min.X, tight, "the leftmost stroke must stand at 0")
		assert.InDelta(t, g.width(), box.Max.X, tight)
	})
}

// TestNothingIsCutTwice: no piece lies along another for more than a point where they
// cross or touch.
func TestNothingIsCutTwice(t *testing.T) {
	const looks = 60
	every(t, func(t *testing.T, _ rune, g glyph) {
		var all []geom.Piece
		for _, s := range g.strokes {
			all = append(all, s.pieces...)
		}
		for i, a := range all {
			for j, b := range all {
				on := 0
				for k := 1; k < looks && i != j; k++ {
					if distance(b, a.At(float64(k)/looks)) < 1e-6 {
						on++
					}
				}
				assert.LessOrEqual(t, on, 1, "piece %d lies along piece %d", i, j)
			}
		}
	})
}

// distance returns how far a point lies from a line or an arc.
func distance(piece geom.Piece, q geom.Point) float64 {
	ends := math.Min(r2.Norm(r2.Sub(q, piece.Start())), r2.Norm(r2.Sub(q, piece.End())))
	switch p := piece.(type) {
	case geom.Line:
		along := r2.Dot(r2.Sub(q, p.From), p.Tangent(0)) / p.Length()
		if along > 0 && along < 1 {
			return r2.Norm(r2.Sub(q, p.At(along)))
		}
	case geom.Arc:
		from := r2.Sub(q, p.Centre)
		turned := math.Mod((math.Atan2(from.Y, from.X)-float64(p.From))*math.Copysign(1, float64(p.Sweep))+4*math.Pi, 2*math.Pi)
		if turned < math.Abs(float64(p.Sweep)) {
			return math.Abs(r2.Norm(from) - p.Radius)
		}
	}
	return ends
}

// TestNoLiftIsNeedless: where the ends of two strokes meet, they could be one.
func TestNoLiftIsNeedless(t *testing.T) {
	every(t, func(t *testing.T, _ rune, g glyph) {
		for i, a := range g.strokes {
			for _, b := range g.strokes[:i] {
				for _, p := range []geom.Point{a.chain().Pieces()[0].Start(), a.chain().Pieces()[len(a.pieces)-1].End()} {
					for _, q := range []geom.Point{b.chain().Pieces()[0].Start(), b.chain().Pieces()[len(b.pieces)-1].End()} {
						assert.Greater(t, r2.Norm(r2.Sub(p, q)), 0.3)
					}
				}
			}
		}
	})
}

// points returns places along a glyph, a quarter of a unit apart or less.
func (g glyph) points() []geom.Point {
	var out []geom.Point
	for _, s := range g.strokes {
		for _, p := range s.pieces {
			n := math.Ceil(p.Length() * 4)
			for k := 0.0; k <= n; k++ {
				out = append(out, p.At(k/n))
			}
		}
	}
	return out
}

// farthest returns how far the farthest of some points lies from a glyph.
func (g glyph) farthest(points []geom.Point) float64 {
	most := 0.0
	for _, q := range points {
		least := math.Inf(1)
		for _, s := range g.strokes {
			for _, p := range s.pieces {
				least = math.Min(least, distance(p, q))
			}
		}
		most = math.Max(most, least)
	}
	return most
}

// TestLettersDiffer: laid on each other with their left sides, any two letters are
// somewhere apart by a line's width or more, O from 0 and I from l among them.
func TestLettersDiffer(t *testing.T) {
	letters := alphabet()
	characters := []rune(Alphabet())
	for i, a := range characters {
		for _, b := range characters[:i] {
			apart := math.Max(letters[a].farthest(letters[b].points()), letters[b].farthest(letters[a].points()))
			assert.GreaterOrEqual(t, apart, 1.0, "%c and %c", a, b)
		}
	}
}

// TestSymmetry: each letter is compared with another or itself, mirrored or turned half
// round within the box of the two.
func TestSymmetry(t *testing.T) {
	leftRight := func(p geom.Point, box r2.Box) geom.Point {
		return geom.Point{X: box.Min.X + box.Max.X - p.X, Y: p.Y}
	}
	upDown := func(p geom.Point, box r2.Box) geom.Point {
		return geom.Point{X: p.X, Y: box.Min.Y + box.Max.Y - p.Y}
	}
	halfTurn := func(p geom.Point, box r2.Box) geom.Point { return upDown(leftRight(p, box), box) }
	letters := alphabet()
	for name, row := range map[string]struct {
		move  func(geom.Point, r2.Box) geom.Point
		pairs string
	}{
		"left and right": {leftRight, "AA HH II MM OO TT UU VV WW XX YY ii oo vv ww xx 00 88 ++ -- .. :: ×× °° '' ÄÄ ÖÖ ÜÜ ÅÅ öö bd pq ()"},
		"up and down":    {upDown, "CC DD II OO XX cc oo xx 00 ++ -- ×× °° (( :: "},
		"half turn":      {halfTurn, "II NN OO XX ZZ oo xx zz // 00 ++ ×× 69 nu bq dp"},
	} {
		for pair := range strings.FieldsSeq(row.pairs) {
			two := []rune(pair)
			a, b := letters[two[0]], letters[two[1]]
			box := a.reaches()
			require.InDelta(t, box.Max.X, b.reaches().Max.X, tight, "%s: %s", name, pair)
			shift := b.reaches().Min.Y - box.Min.Y
			if name == "left and right" {
				shift = 0
			}
			var moved []geom.Point
			for _, p := range a.points() {
				q := row.move(p, box)
				moved = append(moved, geom.Point{X: q.X, Y: q.Y + shift})
			}
			assert.Less(t, b.farthest(moved), tight, "%s: %s", name, pair)
		}
	}
}

// TestEndsAreOnALineOrClear: the end of a stroke either lies exactly on another piece or
// stands well clear of all.
func TestEndsAreOnALineOrClear(t *testing.T) {
	const clear = 0.8 // units
	every(t, func(t *testing.T, _ rune, g glyph) {
		for i, stroke := range g.strokes {
			last := len(stroke.pieces) - 1
			for _, end := range []struct {
				point     geom.Point
				own, next int
			}{{stroke.pieces[0].Start(), 0, 1}, {stroke.pieces[last].End(), last, last - 1}} {
				least := math.Inf(1)
				for j, other := range g.strokes {
					for k, piece := range other.pieces {
						if i != j || k != end.own && k != end.next {
							least = math.Min(least, distance(piece, end.point))
						}
					}
				}
				assert.True(t, least <= tight || least > clear, "stroke %d ends %g units from another", i+1, least)
			}
		}
	})
}
