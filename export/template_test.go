package export

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/templates"
)

func pattern(t testing.TB, name string) profile.Blade {
	t.Helper()
	data, found := templates.Pattern(name)
	require.True(t, found)
	k, err := profile.Parse(name, data)
	require.NoError(t, err)
	b, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	return b
}

// tool returns the path of an outside program, or skips with a line that says so.
func tool(t *testing.T, name, of string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("SKIPPED: %s is not on this machine; the package %s has it", name, of)
	}
	return path
}

// TestPrintedScale draws the first page for A4 and Letter at 600 dots an inch with an
// independent renderer (Poppler) and measures the line of 100 mm and the square.
func TestPrintedScale(t *testing.T) {
	pdftoppm := tool(t, "pdftoppm", "poppler-utils")
	for _, name := range []string{"A4", "Letter"} {
		paper, _ := PaperNamed(name)
		b := pattern(t, "tarn")
		pages, err := TemplatePages(b, paper, "00000000")
		require.NoError(t, err)
		data, err := TemplatePDF(b, paper, "00000000")
		require.NoError(t, err)
		dir := t.TempDir()
		path := filepath.Join(dir, "t.pdf")
		require.NoError(t, os.WriteFile(path, data, 0o644))
		const dpi = 600
		require.NoError(t, exec.Command(pdftoppm, "-r", "600", "-f", "1", "-l", "1", "-gray", "-png", path, filepath.Join(dir, "p")).Run())
		files, err := filepath.Glob(filepath.Join(dir, "p*.png"))
		require.NoError(t, err)
		require.Len(t, files, 1)
		file, err := os.Open(files[0])
		require.NoError(t, err)
		picture, err := png.Decode(file)
		require.NoError(t, err)
		require.NoError(t, file.Close())

		perMM := dpi / 25.4
		assert.InDelta(t, pages[0].Width*perMM, picture.Bounds().Dx(), 1.5, "page width")
		// The line of 100 mm lies 10 mm over the margin; just over it are only its
		// two ticks.
		y := picture.Bounds().Dy() - int((margin+10+1)*perMM)
		left := int((margin + checkBoxMM + 12 - 2) * perMM)
		ticks := darkRuns(picture, y, left, left+int(110*perMM))
		require.Len(t, ticks, 2)
		assert.InDelta(t, 100, (ticks[1]-ticks[0])/perMM, 0.1, "100 mm on %s", name)
		// Across the square just under its middle: side, two diagonals, side.
		y = picture.Bounds().Dy() - int((margin+20)*perMM)
		sides := darkRuns(picture, y, int((margin-2)*perMM), int((margin+checkBoxMM+2)*perMM))
		require.Len(t, sides, 4)
		assert.InDelta(t, 50, (sides[3]-sides[0])/perMM, 0.1)
		assert.InDelta(t, 20, (sides[1]-sides[0])/perMM, 0.1, "20 mm up a diagonal is 20 mm across")
	}
}

// darkRuns returns the middles of the dark stretches of one row of a picture.
func darkRuns(p image.Image, y, from, to int) []float64 {
	var out []float64
	start := -1
	for x := from; x <= to; x++ {
		r, _, _, _ := p.At(x, y).RGBA()
		dark := r < 0x8000
		switch {
		case dark && start < 0:
			start = x
		case !dark && start >= 0:
			out = append(out, float64(start+x-1)/2)
			start = -1
		}
	}
	return out
}

// TestPageSizes asks an independent reader (Poppler) for the size of every page. The
// sizes are those of ISO 216 and, in inches, 8.5 by 11.
func TestPageSizes(t *testing.T) {
	pdfinfo := tool(t, "pdfinfo", "poppler-utils")
	for name, want := range map[string]string{"A4": "841.89 x 595.276", "Letter": "612 x 792"} {
		paper, _ := PaperNamed(name)
		data, err := TemplatePDF(pattern(t, map[string]string{"A4": "tarn", "Letter": "heron"}[name]), paper, "00000000")
		require.NoError(t, err)
		path := filepath.Join(t.TempDir(), "t.pdf")
		require.NoError(t, os.WriteFile(path, data, 0o644))
		out, err := exec.Command(pdfinfo, path).CombinedOutput()
		require.NoError(t, err)
		assert.Contains(t, string(out), want)
		assert.NotContains(t, string(out), "CreationDate")
		assert.NotContains(t, strings.ToLower(string(out)), "error")
		assert.Contains(t, string(data), "/PrintScaling /None")
	}
}

// TestSVGByAnotherRenderer: librsvg finds the drawing as large as we say, and dark at
// the tip of the tang, where the outline runs.
func TestSVGByAnotherRenderer(t *testing.T) {
	rsvg := tool(t, "rsvg-convert", "librsvg2-bin")
	b := pattern(t, "tarn")
	s := Template(b, "00000000")
	data, err := sheet.SVG(s)
	require.NoError(t, err)
	command := exec.Command(rsvg, "-d", "254", "-p", "254", "-b", "white", "-f", "png")
	command.Stdin = bytes.NewReader(data)
	out, err := command.Output()
	require.NoError(t, err)
	picture, err := png.Decode(bytes.NewReader(out))
	require.NoError(t, err)
	assert.InDelta(t, s.Width*10, picture.Bounds().Dx(), 1)
	assert.InDelta(t, s.Height*10, picture.Bounds().Dy(), 1)
	box := b.Outline.Bounds()
	middle := s.Height - margin - titleBand - noteStrip - box.Max.Y - b.Knife.ShoulderTop() - b.Knife.Tang.Width/2
	y := int((s.Height - middle + 3) * 10) // 3 mm under the tang's centre line
	runs := darkRuns(picture, y, 0, int((margin+viewPad+20)*10))
	require.NotEmpty(t, runs)
	assert.InDelta(t, (margin+viewPad)*10, runs[0], 1.5, "the end of the tang")
}

// TestSameBytes: the same blade gives the same drawings twice.
func TestSameBytes(t *testing.T) {
	paper, _ := PaperNamed("A4")
	b := pattern(t, "heron")
	first, err := TemplatePDF(b, paper, "00000000")
	require.NoError(t, err)
	second, err := TemplatePDF(b, paper, "00000000")
	require.NoError(t, err)
	assert.Equal(t, first, second)
	one, err := sheet.SVG(Template(b, "00000000"))
	require.NoError(t, err)
	two, err := sheet.SVG(Template(b, "00000000"))
	require.NoError(t, err)
	assert.Equal(t, one, two)
}

// TestNoWordsOverlap measures every word of every pattern on every paper: none lies on
// another and none leaves the page.
func TestNoWordsOverlap(t *testing.T) {
	for _, name := range templates.Names() {
		b := pattern(t, name)
		sheets := []sheet.Sheet{Template(b, "00000000")}
		for _, paper := range Papers() {
			pages, err := TemplatePages(b, paper, "00000000")
			require.NoError(t, err, "%s on %s", name, paper.Name)
			sheets = append(sheets, pages...)
		}
		for i, s := range sheets {
			texts, boxes, err := s.TextBoxes()
			require.NoError(t, err)
			for j, box := range boxes {
				assert.True(t, box.MinX >= 0 && box.MinY >= 0 && box.MaxX <= s.Width && box.MaxY <= s.Height, "%s, sheet %d: %q leaves the page", name, i, texts[j].Content)
				for k := j + 1; k < len(boxes); k++ {
					assert.False(t, box.Overlaps(boxes[k]), "%s, sheet %d: %q lies on %q", name, i, texts[j].Content, texts[k].Content)
				}
			}
		}
	}
}

// TestRegisterCrossesMeet: put side by side so that the crosses of one name lie on each
// other, neighbouring pages continue the same drawing.
func TestRegisterCrossesMeet(t *testing.T) {
	paper, _ := PaperNamed("A4")
	pages, err := TemplatePages(pattern(t, "heron"), paper, "00000000")
	require.NoError(t, err)
	require.Greater(t, len(pages), 1)
	outline := func(s sheet.Sheet) float64 {
		for _, layer := range s.Layers {
			if layer.ID == outlineLayer {
				return layer.Items[0].(sheet.Path).Pieces[0].Start().X
			}
		}
		return math.NaN()
	}
	cross := func(s sheet.Sheet, name string) float64 {
		for _, layer := range s.Layers {
			for _, item := range layer.Items {
				if text, ok := item.(sheet.Text); ok && text.Content == name {
					return text.At.X
				}
			}
		}
		return math.NaN()
	}
	for i := 1; i < len(pages); i++ {
		if name := string(rune('0'+i)) + "A"; !math.IsNaN(cross(pages[i-1], name)) && !math.IsNaN(cross(pages[i], name)) {
			assert.InDelta(t, cross(pages[i-1], name)-outline(pages[i-1]), cross(pages[i], name)-outline(pages[i]), 1e-9)
		}
	}
}

func TestTemplateNamesItsLayers(t *testing.T) {
	data, err := sheet.SVG(Template(pattern(t, "brock"), "00000000"))
	require.NoError(t, err)
	for _, want := range []string{`<title>Grinding template: Brock</title>`, `<g id="outline"`, `<g id="scribe"`, `<g id="fullers"`, `<g id="notes"`, `<g id="check"`, "<desc>"} {
		assert.Contains(t, string(data), want)
	}
}

func TestBladeTooWideForPaper(t *testing.T) {
	b := pattern(t, "tarn")
	_, err := TemplatePages(b, Paper{"Scrap", 120, 90}, "0")
	assert.ErrorContains(t, err, "take a larger paper")
}

func BenchmarkTemplate(b *testing.B) {
	blade := pattern(b, "tarn")
	for b.Loop() {
		_, err := sheet.SVG(Template(blade, "00000000"))
		require.NoError(b, err)
	}
}

// TestRoughLine: the sheet shows the outline with the grinding allowance and says so, or
// says that there is none. The area between is that of a band of its width about the
// outline, by Steiner's formula within what the inside corners take off.
func TestRoughLine(t *testing.T) {
	data, _ := templates.Pattern(templates.Default)
	k, err := profile.Parse("tarn.toml", data)
	require.NoError(t, err)
	for _, allowance := range []float64{0, 0.5, 2} {
		k.Allowance.Grinding = allowance
		b, err := profile.Build(k, profile.Measured{})
		require.NoError(t, err)
		svg, err := sheet.SVG(Template(b, "x"))
		require.NoError(t, err)
		lines, note := roughLine(b)
		assert.Contains(t, string(svg), note)
		if allowance == 0 {
			assert.Empty(t, lines)
			assert.NotContains(t, string(svg), `id="rough"`)
			continue
		}
		assert.Contains(t, string(svg), `id="rough"`)
		require.Len(t, lines, 1)
		band := allowance*b.Outline.Length() + math.Pi*allowance*allowance
		assert.InDelta(t, b.Outline.Area()+band, lines[0].Area(), 4*allowance*allowance)
	}
}
