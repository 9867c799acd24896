package export

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// benchSheets are the kinds of sheets for the bench.
var benchSheets = map[string]func(profile.Blade, PlanOptions) ([]sheet.Sheet, error){"gauges": SectionCards, "fittings": FittingsSheet, "bar": BarPlan}

// provingLinesOf returns the ends of the lines of a page that prove its scale, as they lie
// on the paper.
func provingLinesOf(s sheet.Sheet) (out [][2]geom.Point) {
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			if path, ok := item.(sheet.Path); ok && layer.ID == checkLayer && path.Fill == "" && path.Pieces[0].Length() > 50 {
				out = append(out, [2]geom.Point{s.Warp.At(path.Pieces[0].Start()), s.Warp.At(path.Pieces[0].End())})
			}
		}
	}
	return out
}

// TestBenchSheetsAreTrueAsPrinted: what a bad printer makes of the lines of 100 mm, and of
// the outline of each gauge, is as long as it should be, in both directions, however the
// printer takes the paper; for one that prints 99.2 for 100 the line is drawn 100/0.992 mm
// long. Every page says what was corrected.
func TestBenchSheetsAreTrueAsPrinted(t *testing.T) {
	b := pattern(t, "osprey")
	for _, shortSide := range []bool{false, true} {
		for name, draw := range benchSheets {
			printer := badPrinter{0.992, 1.003, 0.006, !shortSide}
			o := planOptions(t, "A4")
			var err error
			o.Printer, _, err = printer.readings().Printer(shortSide)
			require.NoError(t, err)
			pages, err := draw(b, o)
			require.NoError(t, err)
			for _, page := range pages {
				printer.feedUp = (page.Height > page.Width) != shortSide
				lines := provingLinesOf(page)
				require.Len(t, lines, 2, name)
				made := func(i int) geom.Point {
					from, to := printer.print(lines[i][0]), printer.print(lines[i][1])
					return geom.Point{X: to.X - from.X, Y: to.Y - from.Y}
				}
				level, upright := made(0), made(1)
				assert.InDelta(t, 100, level.X, 0.003, name)
				assert.InDelta(t, 0, level.Y, 0.003, name)
				assert.InDelta(t, 100, upright.Y, 0.003, name)
				assert.InDelta(t, 0, upright.X, 0.003, name)
				assert.Contains(t, strings.Join(wordsOf(page), " "), "Printer correction IS APPLIED: 0.99200 across", name)
				assert.Contains(t, strings.Join(wordsOf(page), " "), "Never take readings for --printer from this sheet", name)
				assert.Contains(t, page.Description, "IS APPLIED", name)
			}
		}
	}
	o := planOptions(t, "A4")
	o.Printer = Printer{Across: 0.992, Along: 1}
	for _, draw := range benchSheets {
		pages, err := draw(b, o)
		require.NoError(t, err)
		lines := provingLinesOf(pages[0])
		across := lines[0] // an upright page is fed upward
		if pages[0].Width > pages[0].Height {
			across = lines[1]
		}
		assert.InDelta(t, 100/0.992, between(across[0], across[1]), 1e-6)
	}
}

// wordsOf returns what is said on a page, in its order.
func wordsOf(s sheet.Sheet) (out []string) {
	for _, text := range textsOf(s) {
		out = append(out, text.Content)
	}
	return out
}

// TestBenchSheetsWithoutCorrection say so, and are drawn through no map.
func TestBenchSheetsWithoutCorrection(t *testing.T) {
	for name, draw := range benchSheets {
		pages, err := draw(pattern(t, "wren"), planOptions(t, "Letter"))
		require.NoError(t, err)
		for _, page := range pages {
			assert.True(t, page.Warp.None())
			words := strings.Join(wordsOf(page), " ")
			assert.Contains(t, words, "No printer correction is applied.", name)
			assert.NotContains(t, words, "readings", name)
		}
	}
}

// TestBenchTextsAreClearWhenCorrected: for printers as bad as may be no word meets another,
// and all lie inside the margin, as drawn and on the paper.
func TestBenchTextsAreClearWhenCorrected(t *testing.T) {
	for _, b := range []profile.Blade{pattern(t, "heron"), pattern(t, "minnow")} {
		for _, printer := range []Printer{{Across: 0.9, Along: 0.9}, {Across: 1.1, Along: 0.92, Skew: 2 * geom.Degree, ShortSideFeed: true}} {
			for name, draw := range benchSheets {
				o := planOptions(t, "A4")
				o.Printer, o.Lengths = printer, ShopFraction
				pages, err := draw(b, o)
				if name == "bar" && err != nil { // what such a printer leaves of the sheet is too small
					assert.ErrorContains(t, err, "larger paper")
					continue
				}
				require.NoError(t, err, name)
				for n, page := range pages {
					what := fmt.Sprintf("%s of %s, page %d", name, b.Knife.Name, n+1)
					requireClear(t, page, shopLetter, planFrame-0.5, what)
					for _, layer := range page.Layers {
						for _, item := range layer.Items {
							path, ok := item.(sheet.Path)
							if !ok {
								continue
							}
							for _, piece := range path.Pieces {
								at := page.Warp.At(piece.End())
								inside := math.Min(math.Min(at.X, page.Width-at.X), math.Min(at.Y, page.Height-at.Y))
								assert.Greater(t, inside, planFrame-2.0, "%s: %s leaves the paper", what, layer.ID)
							}
						}
					}
				}
			}
		}
	}
}
