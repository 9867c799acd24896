package export

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/templates"
)

var testStamp = Stamp{"knife.toml", "00000000"}

// patternFile returns the source of a pattern.
func patternFile(t testing.TB, name string) []byte {
	t.Helper()
	data, found := templates.Pattern(name)
	require.True(t, found)
	return data
}

func built(t testing.TB, data []byte, measured string) profile.Blade {
	t.Helper()
	k, err := profile.Parse("knife.toml", data)
	require.NoError(t, err)
	var m profile.Measured
	if measured != "" {
		m, err = profile.ParseMeasured("knife.measured.toml", []byte(measured), k)
		require.NoError(t, err)
	}
	b, err := profile.Build(k, m)
	require.NoError(t, err)
	return b
}

func pattern(t testing.TB, name string) profile.Blade { return built(t, patternFile(t, name), "") }

func templateOf(t testing.TB, b profile.Blade) Template {
	t.Helper()
	out, err := NewTemplate(b, testStamp)
	require.NoError(t, err)
	return out
}

// resized returns a pattern with another length, if it can be made so.
func resized(data []byte, length float64) (b profile.Blade, ok bool) {
	out, _, err := profile.Resize("knife.toml", data, profile.Resizing{Length: length})
	if err != nil {
		return b, false
	}
	k, err := profile.Parse("knife.toml", out)
	if err != nil {
		return b, false
	}
	b, err = profile.Build(k, profile.Measured{})
	return b, err == nil
}

// extremes returns the shortest and the longest blade that a pattern can be resized to
// between the limits of the parameter table, to a millimetre.
func extremes(t testing.TB, data []byte) (shortest, longest profile.Blade) {
	t.Helper()
	shortest = built(t, data, "")
	longest = shortest
	for step := 256.0; step >= 1; step /= 2 {
		if b, ok := resized(data, math.Round(shortest.Knife.Blade.Length-step)); ok {
			shortest = b
		}
		if b, ok := resized(data, math.Round(longest.Knife.Blade.Length+step)); ok {
			longest = b
		}
	}
	return shortest, longest
}

// TestWordsOnEveryPage measures every word of every pattern at its shortest, its own and
// its longest size on every paper, also as corrected for a printer as bad as may be: none
// lies on another, none leaves the page or its margin, and none of a view is missing.
func TestWordsOnEveryPage(t *testing.T) {
	setter, err := sheet.NewTypesetter()
	require.NoError(t, err)
	for _, name := range templates.Names() {
		data := patternFile(t, name)
		shortest, longest := extremes(t, data)
		for i, b := range []profile.Blade{shortest, built(t, data, ""), longest} {
			printers := []Printer{{}}
			if i == 1 {
				printers = append(printers, Printer{Across: 0.9, Along: 1.1, Skew: 2 * geom.Degree})
			}
			drawn := templateOf(t, b)
			what := fmt.Sprintf("%s, %.0f mm", name, b.Knife.Blade.Length)
			checkWords(t, what, drawn.Sheet(), setter)
			for _, paper := range Papers() {
				for _, printer := range printers {
					l, err := drawn.bestLayout(paper, printer)
					if printer.Corrects() && err != nil {
						assert.ErrorContains(t, err, "larger paper")
						continue
					}
					require.NoError(t, err, "%s on %s", what, paper.Name)
					pages, err := drawn.Pages(paper, printer)
					require.NoError(t, err, "%s on %s", what, paper.Name)
					words := map[string]bool{}
					for i, page := range pages {
						checkWords(t, fmt.Sprintf("%s, %s %d", what, paper.Name, i+1), page, setter)
						for _, text := range textsOf(page) {
							words[text.Content] = true
						}
					}
					for _, r := range l.rows {
						for _, p := range r.panels {
							for _, text := range textsOf(p.Sheet) {
								if !words[text.Content] {
									assert.Fail(t, "is on no page", "%s on %s: %q", what, paper.Name, text.Content)
								}
							}
						}
					}
				}
			}
		}
	}
}

func textsOf(s sheet.Sheet) (out []sheet.Text) {
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			if text, is := item.(sheet.Text); is {
				out = append(out, text)
			}
		}
	}
	return out
}

// checkWords holds the words of a sheet against each other and its margins.
func checkWords(t *testing.T, what string, s sheet.Sheet, setter sheet.Typesetter) {
	t.Helper()
	const least = 9.5 // of the margin: letters that hang under the line may use half a millimetre of it
	var boxes []sheet.Box
	texts := textsOf(s)
	for _, text := range texts {
		box := setter.Box(text)
		for _, corner := range []geom.Point{{X: box.MinX, Y: box.MinY}, {X: box.MaxX, Y: box.MinY}, {X: box.MinX, Y: box.MaxY}, {X: box.MaxX, Y: box.MaxY}} {
			p := s.Warp.At(corner)
			if p.X < least || p.Y < least || p.X > s.Width-least || p.Y > s.Height-least {
				assert.Fail(t, "leaves the page", "%s: %q", what, text.Content)
			}
		}
		for k, other := range boxes {
			if box.Overlaps(other) {
				assert.Fail(t, "lies on another", "%s: %q on %q", what, text.Content, texts[k].Content)
			}
		}
		boxes = append(boxes, box)
	}
}

// TestFewestPages: no other way to lay the paper takes fewer pages.
func TestFewestPages(t *testing.T) {
	for _, name := range templates.Names() {
		drawn := templateOf(t, pattern(t, name))
		for _, paper := range Papers() {
			best, err := drawn.bestLayout(paper, Printer{})
			require.NoError(t, err)
			for _, way := range []Paper{paper, {Width: paper.Height, Height: paper.Width}} {
				if l, ok := drawn.layoutFor(way.Width, way.Height, Printer{}); ok {
					assert.LessOrEqual(t, best.pages(), l.pages(), "%s on %s", name, paper.Name)
				}
			}
		}
	}
}

// TestSeams: neighbouring windows overlap by what they should about their seam, and
// together show the whole row; no word lies on a seam.
func TestSeams(t *testing.T) {
	setter, err := sheet.NewTypesetter()
	require.NoError(t, err)
	for _, name := range templates.Names() {
		for _, paper := range Papers() {
			l, err := templateOf(t, pattern(t, name)).bestLayout(paper, Printer{})
			require.NoError(t, err)
			for _, r := range l.rows {
				for i, w := range r.windows {
					assert.LessOrEqual(t, w.most-w.least, l.content().MaxX-l.content().MinX+1e-9)
					if i > 0 {
						assert.InDelta(t, overlap, r.windows[i-1].most-w.least, 1e-9)
						assert.InDelta(t, w.least+overlap/2, w.seam, 1e-9)
						for _, p := range r.panels {
							for _, text := range textsOf(p.Sheet) {
								box := setter.Box(text)
								assert.False(t, box.MinX < w.seam && w.seam < box.MaxX, "%s on %s: the seam runs through %q", name, paper.Name, text.Content)
							}
						}
					}
				}
				for _, p := range r.panels {
					assert.GreaterOrEqual(t, p.box.MinX, r.windows[0].least-1e-9)
					assert.LessOrEqual(t, p.box.MaxX, r.windows[len(r.windows)-1].most+1e-9)
				}
			}
		}
	}
}

// TestOrdinates: what stands under each station is where the outline crosses it.
func TestOrdinates(t *testing.T) {
	for _, name := range []string{"tarn", "minnow", "heron"} {
		b := pattern(t, name)
		drawn := templateOf(t, b)
		unit := b.Knife.Units.Millimetres()
		for i, panel := range drawn.panels[:2] {
			columns := map[float64][]float64{}
			for _, layer := range panel.Layers {
				if layer.ID != "ordinates" {
					continue
				}
				for _, item := range layer.Items {
					text := item.(sheet.Text)
					var value float64
					if n, _ := fmt.Sscanf(text.Content, "%g", &value); n == 1 {
						columns[text.At.X] = append(columns[text.At.X], value*unit)
					}
				}
			}
			assert.Greater(t, len(columns), 5)
			for at, column := range columns {
				require.Len(t, column, 3)
				x := column[0]
				if x == 0 || x > b.Knife.Blade.Length-0.1 {
					continue
				}
				if i == 0 {
					assert.InDelta(t, x, at, 0.051*unit, "the column stands at its station")
				}
				crossings := b.Outline.Crossings(x)
				assert.InDelta(t, -crossings[len(crossings)-1], column[1], 0.051, "%s, back at %g", name, x)
				assert.InDelta(t, -crossings[0], column[2], 0.051, "%s, edge at %g", name, x)
			}
		}
	}
}

// TestFoldedPair: folded over a bar as measured, both faces come to lie on the blade: the
// fold takes a place y on the paper over the upper fold line to 2·top + T - y, turned to
// the other face. The scribes on the edge side leave the edge in the middle of the bar.
func TestFoldedPair(t *testing.T) {
	b := built(t, patternFile(t, "tarn"), "[[thickness]]\nfrom_butt = 20\nthickness = 5.31\n\n[[thickness]]\nfrom_butt = 150\nthickness = 5.37\n")
	pair := templateOf(t, b).panels[2]
	var folds []float64
	var outlines []sheet.Path
	var scribes []sheet.Path
	for _, layer := range pair.Layers {
		for _, item := range layer.Items {
			path, isPath := item.(sheet.Path)
			switch {
			case isPath && layer.ID == "folds" && fmt.Sprint(path.Pen) == fmt.Sprint(foldPen):
				folds = append(folds, path.Pieces[0].Start().Y)
			case isPath && layer.ID == outlineLayer:
				outlines = append(outlines, path)
			case isPath && layer.ID == "edge":
				scribes = append(scribes, path)
			}
		}
	}
	require.Len(t, folds, 3)
	assert.InDelta(t, b.Bar.Bottom, folds[0], 1e-9)
	assert.InDelta(t, b.Bar.Top, folds[1], 1e-9)
	const thickness = 5.34
	assert.InDelta(t, folds[1]+thickness, folds[2], 1e-9)
	require.Len(t, outlines, 2)
	for i, piece := range outlines[0].Pieces {
		for _, u := range []float64{0, 0.3, 1} {
			right, left := piece.At(u), outlines[1].Pieces[i].At(u)
			assert.InDelta(t, right.X, left.X, 1e-9)
			assert.InDelta(t, right.Y, 2*b.Bar.Top+thickness-left.Y, 1e-9)
		}
	}
	require.Len(t, scribes, 3)
	for _, x := range []float64{10, 60, 120} {
		bar := b.Bar.Thickness(x)
		e := b.Knife.Bevel.EdgeThickness + 2*b.Knife.Allowance.Finish + 2*b.Knife.Allowance.Scale
		assert.InDelta(t, b.Bar.Bottom-(bar-e)/2, heightAt(t, scribes[0], x), 1e-6)
		assert.InDelta(t, b.Bar.Bottom-(bar+e)/2, heightAt(t, scribes[1], x), 1e-6)
	}
	text := fmt.Sprint(textsOf(pair.Sheet))
	assert.Contains(t, text, "5.34 mm apart")
	assert.Contains(t, text, "measured at 2 stations")
	assert.Contains(t, text, "differs by 0.06 mm")
}

func heightAt(t *testing.T, p sheet.Path, x float64) float64 {
	t.Helper()
	for _, piece := range p.Pieces {
		if a, b := piece.Start(), piece.End(); a.X <= x && x <= b.X {
			return a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)
		}
	}
	t.Fatalf("nothing at %g", x)
	return 0
}

// TestCentres: a hole has a circle of its drill and a cross at its place, on both faces
// where it goes through and on its own where it does not; the thread's centre is the end
// of the tang, in its middle.
func TestCentres(t *testing.T) {
	data := string(patternFile(t, "tarn")) + "\n[[hole]]\nat = -40\nfrom_spine = 15\ndiameter = 3\n\n[[hole]]\nat = -70\nfrom_spine = 15\nthread = \"M4x0.7\"\ndepth = 2\nface = \"left\"\n"
	b := built(t, []byte(data), "")
	drawn := templateOf(t, b)
	circles := func(p templateView) (out []geom.Arc) {
		for _, layer := range p.Layers {
			for _, item := range layer.Items {
				if path, is := item.(sheet.Path); is && layer.ID == "centres" {
					if arc, round := path.Pieces[0].(geom.Arc); round {
						out = append(out, arc)
					}
				}
			}
		}
		return out
	}
	right, left := circles(drawn.panels[0]), circles(drawn.panels[1])
	require.Len(t, right, 1)
	require.Len(t, left, 2)
	assert.Equal(t, geom.Point{X: -40, Y: -15}, right[0].Centre)
	assert.InDelta(t, 1.5, right[0].Radius, 1e-12)
	assert.InDelta(t, 1.65, left[1].Radius, 1e-12, "the drill for M4 (ISO 2306, from memory): 3.3 mm")
	words := fmt.Sprint(textsOf(drawn.panels[1].Sheet))
	for _, want := range []string{"hole 1, drill 3.0", "hole 2, drill 3.3, tap M4x0.7", "thread M6x1, centre", "plunge line 14.0"} {
		assert.Contains(t, words, want)
	}
}

// TestEveryPageNamesItsViews: on every page that shows a view, however many it is spread
// over, stands what the view is, and the map names the views of the pages.
func TestEveryPageNamesItsViews(t *testing.T) {
	_, longest := extremes(t, patternFile(t, "badger"))
	spread := 0
	for _, b := range []profile.Blade{longest, pattern(t, "heron"), pattern(t, "minnow")} {
		drawn := templateOf(t, b)
		for _, paper := range Papers() {
			l, err := drawn.bestLayout(paper, Printer{})
			require.NoError(t, err)
			pages, err := drawn.Pages(paper, Printer{})
			require.NoError(t, err)
			onMap := strings.Join(wordsOf(pages[0]), " ")
			number := 1
			for _, r := range l.rows {
				spread = max(spread, len(r.windows))
				for range r.windows {
					said := wordsOf(pages[number])
					number++
					for _, p := range r.panels {
						assert.Condition(t, func() bool {
							return slices.ContainsFunc(said, func(text string) bool { return strings.HasPrefix(text, p.Title) })
						}, "%s of %s is not named on page %d of %s", p.Title, b.Knife.Name, number, paper.Name)
						assert.Contains(t, onMap, strings.ToLower(p.Title))
					}
				}
			}
		}
	}
	assert.GreaterOrEqual(t, spread, 4, "a view that has pages in the middle")
}

// TestMapWords by hand: a row on one page, on two and on three.
func TestMapWords(t *testing.T) {
	view := func(name string) templateView { return templateView{Sheet: sheet.Sheet{Title: name}} }
	l := layout{rows: []row{{panels: []templateView{view("RIGHT FACE"), view("LEFT FACE")}, windows: make([]window, 3)}, {panels: []templateView{view("FOLD-OVER PAIR")}, windows: make([]window, 2)}, {panels: []templateView{view("X")}, windows: make([]window, 1)}}}
	assert.Equal(t, "Pages 2 to 4: right face over left face; pages 5 and 6: fold-over pair; page 7: x.", mapWords(l))
}

// TestRoughLine: the sheet shows the outline with the grinding allowance and says so, or
// says that there is none. The area between is that of a band of its width about the
// outline, by Steiner's formula within what the inside corners take off.
func TestRoughLine(t *testing.T) {
	k := pattern(t, templates.Default).Knife
	for _, allowance := range []float64{0, 0.5, 2} {
		k.Allowance.Grinding = allowance
		b, err := profile.Build(k, profile.Measured{})
		require.NoError(t, err)
		drawn := templateOf(t, b)
		pages, err := drawn.Pages(Papers()[0], Printer{})
		require.NoError(t, err)
		var words []string
		for _, text := range textsOf(pages[0]) {
			words = append(words, text.Content)
		}
		assert.Contains(t, strings.Join(words, " "), drawn.rough.note)
		svg, err := sheet.SVG(drawn.Sheet())
		require.NoError(t, err)
		if allowance == 0 {
			assert.Empty(t, drawn.rough.lines)
			assert.NotContains(t, string(svg), `id="rough"`)
			continue
		}
		assert.Contains(t, string(svg), `id="rough"`)
		require.Len(t, drawn.rough.lines, 1)
		band := allowance*b.Outline.Length() + math.Pi*allowance*allowance
		assert.InDelta(t, b.Outline.Area()+band, drawn.rough.lines[0].Area(), 4*allowance*allowance)
	}
}

// TestFineLines: what steel is cut to is drawn 0.1 to 0.18 mm wide.
func TestFineLines(t *testing.T) {
	for _, layer := range templateOf(t, pattern(t, "heron")).Sheet().Layers {
		for _, item := range layer.Items {
			if path, is := item.(sheet.Path); is {
				assert.True(t, path.Pen.Width >= 0.1 && path.Pen.Width <= 0.18, "%s: %g mm", layer.ID, path.Pen.Width)
			}
		}
	}
}

// TestEverySheetIsStamped with knife file and digest.
func TestEverySheetIsStamped(t *testing.T) {
	drawn := templateOf(t, pattern(t, "badger"))
	pages, err := drawn.Pages(Papers()[0], Printer{})
	require.NoError(t, err)
	for _, page := range append(pages, drawn.Sheet()) {
		assert.Contains(t, fmt.Sprint(textsOf(page)), "knife.toml, parameters 00000000")
	}
}

// TestSameBytes: the same blade gives the same drawings twice.
func TestSameBytes(t *testing.T) {
	b := pattern(t, "heron")
	paper, _ := PaperNamed("A4")
	first, err := templateOf(t, b).PDF(paper, Printer{})
	require.NoError(t, err)
	drawn := templateOf(t, b)
	_, err = drawn.Pages(Papers()[3], Printer{Across: 0.95, Along: 1})
	require.NoError(t, err)
	second, err := drawn.PDF(paper, Printer{})
	require.NoError(t, err)
	assert.Equal(t, first, second, "also where other paper was laid out in between")
	one, err := sheet.SVG(templateOf(t, b).Sheet())
	require.NoError(t, err)
	two, err := sheet.SVG(drawn.Sheet())
	require.NoError(t, err)
	assert.Equal(t, one, two)
}

func TestTemplateNamesItsLayers(t *testing.T) {
	data, err := sheet.SVG(templateOf(t, pattern(t, "brock")).Sheet())
	require.NoError(t, err)
	for _, want := range []string{`<title>Grinding template: Brock</title>`, `<g id="outline"`, `<g id="scribe"`, `<g id="fullers"`, `<g id="folds"`, `<g id="edge"`, `<g id="notes"`, `<g id="check"`, "<desc>"} {
		assert.Contains(t, string(data), want)
	}
}

func TestBladeTooWideForPaper(t *testing.T) {
	_, err := templateOf(t, pattern(t, "tarn")).Pages(Paper{"Scrap", 120, 90}, Printer{})
	assert.ErrorContains(t, err, "take a larger paper")
}

func BenchmarkTemplate(b *testing.B) {
	blade := pattern(b, "tarn")
	for b.Loop() {
		_, err := sheet.SVG(templateOf(b, blade).Sheet())
		require.NoError(b, err)
	}
}
