package export

import (
	"html"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
)

// printedPage is a page as a browser printed it: its size, and its words with their boxes,
// all in mm, y down.
type printedPage struct {
	width, height float64
	words         []printedWord
}

type printedWord struct {
	text                   string
	minX, minY, maxX, maxY float64
}

func (p printedPage) text() string {
	var all []string
	for _, w := range p.words {
		all = append(all, w.text)
	}
	return strings.Join(all, " ")
}

// printPage prints a page for a browser with Chromium on the paper named, and returns the
// document and what an independent reader (Poppler) finds in it.
func printPage(t *testing.T, page []byte, paper string) (document string, pages []printedPage) {
	t.Helper()
	chromium, pdftotext := tool(t, "chromium", "chromium"), tool(t, "pdftotext", "poppler-utils")
	dir := t.TempDir()
	// Choosing the paper in the browser's window sets the same size.
	styled := strings.Replace(string(page), "@page{", "@page{size:"+paper+";", 1)
	require.NotEqual(t, string(page), styled)
	source := filepath.Join(dir, "setup.html")
	require.NoError(t, os.WriteFile(source, []byte(styled), 0o644))
	document = filepath.Join(dir, "setup.pdf")
	out, err := exec.Command(chromium, "--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir="+filepath.Join(dir, "profile"),
		"--no-pdf-header-footer", "--print-to-pdf="+document, "file://"+source).CombinedOutput()
	require.NoError(t, err, string(out))
	boxes, err := exec.Command(pdftotext, "-bbox", document, "-").Output()
	require.NoError(t, err)
	const point = 25.4 / 72
	size := regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)"`)
	word := regexp.MustCompile(`<word xMin="(-?[\d.]+)" yMin="(-?[\d.]+)" xMax="(-?[\d.]+)" yMax="(-?[\d.]+)">([^<]*)<`)
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		return v * point
	}
	for line := range strings.Lines(string(boxes)) {
		if m := size.FindStringSubmatch(line); m != nil {
			pages = append(pages, printedPage{width: number(m[1]), height: number(m[2])})
		}
		if m := word.FindStringSubmatch(line); m != nil {
			last := &pages[len(pages)-1]
			last.words = append(last.words, printedWord{html.UnescapeString(m[5]), number(m[1]), number(m[2]), number(m[3]), number(m[4])})
		}
	}
	return document, pages
}

// TestSetupPrints: a browser prints the page on A4 and Letter, each page at its exact size
// and headed by its program; all words of every block are there, between the margins; no
// picture and no short table is parted; and capitals are 3.5 mm high on paper.
func TestSetupPrints(t *testing.T) {
	s := setupOf(t, "all.toml", []byte(everyOperation), false)
	fullers := patternSetup(t, "badger", false)
	s.Steps = append(fullers.Steps[1:2], s.Steps[len(s.Steps)-1])
	s.Blade = fullers.Blade
	page, err := SetupHTML(s)
	require.NoError(t, err)
	for paper, size := range map[string][2]float64{"A4": {210, 297}, "Letter": {215.9, 279.4}} {
		document, pages := printPage(t, page, paper)
		require.Greater(t, len(pages), len(s.Steps))
		require.Less(t, len(pages), 9*len(s.Steps))
		byStep := map[int]string{}
		step := frontPage
		for i, p := range pages {
			// Browsers round paper to a point.
			assert.InDelta(t, size[0], p.width, 0.36)
			assert.InDelta(t, size[1], p.height, 0.36)
			for _, w := range p.words {
				inside := w.minX > 11.5 && w.maxX < p.width-11.5 && w.minY > 11 && w.maxY < p.height-11
				assert.True(t, inside, "%s, page %d: %q leaves the margins", paper, i+1, w.text)
			}
			text := p.text()
			if step+1 < len(s.Steps) && strings.HasPrefix(text, s.title(step+1)) {
				step++
			}
			assert.True(t, strings.HasPrefix(text, s.title(step)), "%s, page %d begins %.60q", paper, i+1, text)
			assert.Equal(t, strings.Contains(text, "moving jaw"), strings.Contains(text, "you stand here"), "%s, page %d: a picture is parted", paper, i+1)
			byStep[step] += " " + text
		}
		assert.Equal(t, len(s.Steps)-1, step)
		for i := frontPage; i < len(s.Steps); i++ {
			holdsAll(t, s, i, paper, byStep[i], pages)
		}
		first := slices.IndexFunc(pages, func(p printedPage) bool { return strings.Contains(p.text(), "you stand here") })
		require.GreaterOrEqual(t, first, 0)
		assert.GreaterOrEqual(t, capitalsOf(t, document, first+1, pages[first]), 3.45, paper)
	}
}

// holdsAll: every text of a step is in what was printed of it, and each short table's
// rows are on one page.
func holdsAll(t *testing.T, s SetupSheet, step int, paper, printed string, pages []printedPage) {
	t.Helper()
	ruler, err := sheet.NewRuler()
	require.NoError(t, err)
	printed += strings.ReplaceAll(printed, "- ", "-") // a browser may end a line at a hyphen
	has := func(text string) {
		for _, word := range strings.Fields(text) {
			assert.Contains(t, printed, word, "%s, step %d", paper, step+1)
		}
	}
	for _, b := range s.content(step, htmlWidth, ruler) {
		switch v := b.(type) {
		case heading:
			has(v.text)
		case paragraph:
			has(v.text)
		case facts:
			for _, row := range v.rows {
				has(row[0] + " " + row[1])
			}
		case blanks:
			has(strings.Join(v.labels, " "))
		case tickList:
			has(strings.Join(v.items, " "))
		case bulletList:
			has(strings.Join(v.items, " "))
		case grid:
			whole := false
			first, last := v.rows[0], v.rows[len(v.rows)-1]
			for _, row := range v.rows {
				has(strings.Join(row, " "))
			}
			for _, p := range pages {
				missing := false
				for _, word := range strings.Fields(strings.Join(first, " ") + " " + strings.Join(last, " ")) {
					missing = missing || !strings.Contains(p.text(), word)
				}
				whole = whole || !missing
			}
			if len(v.rows) <= setupWholeRows {
				assert.True(t, whole, "%s, step %d: the table that begins %q is parted", paper, step+1, first)
			}
		}
	}
}

// capitalsOf returns the least height of ink in the boxes of words of capitals alone on
// a page of a document, counted from 1, mm.
func capitalsOf(t *testing.T, document string, number int, page printedPage) float64 {
	t.Helper()
	const dpi = 300.0
	picture := filepath.Join(t.TempDir(), "page")
	out, err := exec.Command(tool(t, "pdftoppm", "poppler-utils"), "-r", "300", "-f", strconv.Itoa(number), "-l", strconv.Itoa(number), "-png", "-singlefile", document, picture).CombinedOutput()
	require.NoError(t, err, string(out))
	file, err := os.Open(picture + ".png")
	require.NoError(t, err)
	defer file.Close()
	drawn, err := png.Decode(file)
	require.NoError(t, err)
	capitals := regexp.MustCompile(`^[A-Z]$`)
	least, found := math.Inf(1), 0
	for _, w := range page.words {
		if !capitals.MatchString(w.text) {
			continue
		}
		found++
		low, high := math.MaxInt, math.MinInt
		for y := int(w.minY / 25.4 * dpi); y < int(w.maxY/25.4*dpi); y++ {
			for x := int(w.minX / 25.4 * dpi); x < int(w.maxX/25.4*dpi); x++ {
				if r, _, _, _ := drawn.At(x, y).RGBA(); r < 0x8000 {
					low, high = min(low, y), max(high, y)
				}
			}
		}
		least = math.Min(least, float64(high-low+1)/dpi*25.4)
	}
	require.Greater(t, found, 5, "single capitals on the page")
	return least
}
