package export

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/geom"
	"fullerwright/templates"
	"fullerwright/toolpath"
)

// badPrinter prints a page of the given size: what lies across the feed is stretched, what
// lies along it is stretched and leans. On a page laid across, the feed is its x, and
// across the feed is against its y.
type badPrinter struct {
	across, along, lean float64
	feedUp              bool
}

func (b badPrinter) print(p geom.Point) geom.Point {
	u, v := p.X, p.Y
	if !b.feedUp {
		u, v = -p.Y, p.X
	}
	u, v = b.across*u+b.along*math.Sin(b.lean)*v, b.along*math.Cos(b.lean)*v
	if !b.feedUp {
		return geom.Point{X: v, Y: -u}
	}
	return geom.Point{X: u, Y: v}
}

func between(a, b geom.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// readings measures the square that a printer made, by the letters as they are drawn.
func (b badPrinter) readings() SquareReadings {
	corner := func(x, y float64) geom.Point { return b.print(geom.Point{X: x * squareSide, Y: y * squareSide}) }
	level, upright := between(corner(0, 0), corner(1, 0)), between(corner(0, 0), corner(0, 1))
	rising, falling := between(corner(0, 0), corner(1, 1)), between(corner(0, 1), corner(1, 0))
	if b.feedUp {
		return SquareReadings{level, upright, rising, falling}
	}
	return SquareReadings{upright, level, falling, rising}
}

// TestCorrectionUndoesThePrinter: what a printer makes of a corrected page is true, on a
// page laid upright and on one laid across, and for papers fed by either side, whatever
// the page was that the square was measured on.
func TestCorrectionUndoesThePrinter(t *testing.T) {
	random := rand.New(rand.NewPCG(61, 62))
	for range 200 {
		b := badPrinter{across: 0.91 + 0.18*random.Float64(), along: 0.91 + 0.18*random.Float64(), lean: (random.Float64() - 0.5) * 0.06}
		for _, shortSide := range []bool{false, true} {
			b.feedUp = !shortSide // of the first page, which stands upright
			p, _, err := b.readings().Printer(shortSide)
			require.NoError(t, err)
			assert.InDelta(t, b.across, p.Across, 1e-5)
			assert.InDelta(t, b.along, p.Along, 1e-5)
			assert.InDelta(t, b.lean, p.Skew.Radians(), 1e-6)
			for _, page := range [][2]float64{{210, 297}, {297, 210}} {
				warp := p.warp(page[0], page[1])
				printing := b
				printing.feedUp = (page[1] > page[0]) != shortSide
				for range 5 {
					from := geom.Point{X: random.Float64() * page[0], Y: random.Float64() * page[1]}
					to := geom.Point{X: random.Float64() * page[0], Y: random.Float64() * page[1]}
					first, second := printing.print(warp.At(from)), printing.print(warp.At(to))
					assert.InDelta(t, to.X-from.X, second.X-first.X, 0.006)
					assert.InDelta(t, to.Y-from.Y, second.Y-first.Y, 0.006)
				}
			}
		}
	}
}

// TestCorrectedPageStaysOnPaper: what a page may use lies within the margin as drawn.
func TestCorrectedPageStaysOnPaper(t *testing.T) {
	for _, p := range []Printer{{}, {0.9, 0.9, 0, false}, {1.1, 1.1, 0, false}, {0.9, 1.1, 2 * geom.Degree, true}, {1.05, 0.93, -2 * geom.Degree, false}} {
		for _, size := range [][2]float64{{210, 297}, {297, 210}} {
			l := pageOf(size[0], size[1], p)
			for _, corner := range []geom.Point{{X: l.inside.MinX, Y: l.inside.MinY}, {X: l.inside.MaxX, Y: l.inside.MinY}, {X: l.inside.MinX, Y: l.inside.MaxY}, {X: l.inside.MaxX, Y: l.inside.MaxY}} {
				for _, at := range []geom.Point{corner, l.warp.At(corner)} {
					assert.True(t, at.X > margin-1e-9 && at.Y > margin-1e-9 && at.X < size[0]-margin+1e-9 && at.Y < size[1]-margin+1e-9, "%v on %v: %v", p, size, at)
				}
			}
		}
	}
}

func TestReadingsThatCannotBe(t *testing.T) {
	diagonal := 100 * math.Sqrt2
	for name, row := range map[string]struct {
		read SquareReadings
		want string
	}{
		"too short":      {SquareReadings{89.9, 100, 134.5, 134.5}, "side A"},
		"too long":       {SquareReadings{100, 110.1, 148.7, 148.7}, "side B"},
		"not a number":   {SquareReadings{math.NaN(), 100, 141, 141}, "side A"},
		"wrong diagonal": {SquareReadings{100, 100, diagonal + 2, diagonal}, "do not belong"},
		"no diagonals":   {SquareReadings{100, 100, math.NaN(), 141}, "do not belong"},
		"leans":          {SquareReadings{100, 100, diagonal + 3, diagonal - 3.05}, "lean"},
	} {
		_, _, err := row.read.Printer(false)
		assert.ErrorContains(t, err, row.want, name)
	}
	for side, cautioned := range map[float64]bool{97.1: false, 96.9: true, 102.9: false, 103.1: true} {
		_, caution, err := SquareReadings{side, side, side * math.Sqrt2, side * math.Sqrt2}.Printer(false)
		require.NoError(t, err)
		assert.Equal(t, cautioned, caution != "", "%g", side)
	}
}

// TestShopLinesComeBack: the lines for the shop file give the printer they were made from.
func TestShopLinesComeBack(t *testing.T) {
	for _, shortSide := range []bool{false, true} {
		p, _, err := badPrinter{0.992, 1.003, 0.004, !shortSide}.readings().Printer(shortSide)
		require.NoError(t, err)
		shop, err := toolpath.ParseShop("shop.toml", shopWith(t, p.ShopLines()))
		require.NoError(t, err)
		again := PrinterOf(shop.Paper)
		assert.InDelta(t, p.Skew.Degrees(), again.Skew.Degrees(), 1e-12)
		again.Skew = p.Skew
		assert.Equal(t, p, again)
	}
}

// TestSaysThatItIsCorrected on every page, so that it is not done twice.
func TestSaysThatItIsCorrected(t *testing.T) {
	drawn := templateOf(t, pattern(t, "wren"))
	for _, corrected := range []bool{false, true} {
		p := Printer{}
		if corrected {
			p = Printer{Across: 0.99, Along: 1}
		}
		pages, err := drawn.Pages(Papers()[0], p)
		require.NoError(t, err)
		for i, page := range pages {
			words := ""
			for _, text := range textsOf(page) {
				words += text.Content + " "
			}
			assert.Equal(t, corrected, containsAll(words, "printer corrected"), "page %d", i+1)
			if i == 0 {
				assert.Equal(t, corrected, containsAll(words, "IS APPLIED", "Never enter readings of this sheet"))
				assert.Equal(t, !corrected, containsAll(words, "No printer correction is applied", "--printer A,B,C,D"))
			}
		}
	}
}

func containsAll(text string, parts ...string) bool {
	for _, part := range parts {
		if !strings.Contains(text, part) {
			return false
		}
	}
	return true
}

// shopWith returns the built-in shop with lines for its printer.
func shopWith(t *testing.T, lines string) []byte {
	t.Helper()
	require.NotContains(t, string(templates.Shop()), "[paper]")
	return append(templates.Shop(), []byte("\n"+lines)...)
}
