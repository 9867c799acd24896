package export

import (
	"bytes"
	"fmt"
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
	"fullerwright/profile/geom"
)

// tool returns the path of an outside program, or skips with a line that says so.
func tool(t *testing.T, name, of string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("SKIPPED: %s is not on this machine; the package %s has it", name, of)
	}
	return path
}

// printed draws a page of a document at 600 dots an inch with an independent renderer
// (Poppler).
func printed(t *testing.T, document []byte, page int) picture {
	t.Helper()
	pdftoppm := tool(t, "pdftoppm", "poppler-utils")
	dir := t.TempDir()
	path := filepath.Join(dir, "t.pdf")
	require.NoError(t, os.WriteFile(path, document, 0o644))
	number := fmt.Sprint(page)
	out, err := exec.Command(pdftoppm, "-r", "600", "-f", number, "-l", number, "-gray", "-singlefile", path, filepath.Join(dir, "p")).CombinedOutput()
	require.NoError(t, err, string(out))
	data, err := os.ReadFile(filepath.Join(dir, "p.pgm"))
	require.NoError(t, err)
	var width, height, most int
	_, err = fmt.Sscanf(string(data[:min(len(data), 64)]), "P5\n%d %d\n%d", &width, &height, &most)
	require.NoError(t, err)
	require.Greater(t, len(data), width*height)
	return picture{&image.Gray{Pix: data[len(data)-width*height:], Stride: width, Rect: image.Rect(0, 0, width, height)}, 600 / 25.4}
}

// picture is a picture of a sheet, by millimetres from its lower left corner.
type picture struct {
	*image.Gray
	perMM float64
}

func pictureOf(t *testing.T, data []byte, perMM float64) picture {
	t.Helper()
	decoded, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	gray, is := decoded.(*image.Gray)
	if !is {
		gray = image.NewGray(decoded.Bounds())
		for y := range gray.Rect.Dy() {
			for x := range gray.Rect.Dx() {
				gray.Set(x, y, decoded.At(x, y))
			}
		}
	}
	return picture{gray, perMM}
}

func (p picture) dark(x, y float64) bool {
	return p.GrayAt(int(math.Floor(x*p.perMM)), p.Rect.Dy()-1-int(math.Floor(y*p.perMM))).Y < 0xa0
}

// runs returns the middles of the dark stretches along a straight walk, in mm from its
// start.
func (p picture) runs(from, to geom.Point) (out []float64) {
	length := math.Hypot(to.X-from.X, to.Y-from.Y)
	step := 0.2 / p.perMM
	begin := -1.0
	for at := 0.0; at <= length; at += step {
		dark := p.dark(from.X+(to.X-from.X)*at/length, from.Y+(to.Y-from.Y)*at/length)
		switch {
		case dark && begin < 0:
			begin = at
		case !dark && begin >= 0:
			out = append(out, (begin+at-step)/2)
			begin = -1
		}
	}
	if begin >= 0 {
		out = append(out, (begin+length)/2)
	}
	return out
}

// ruleTicks measures a rule of a page: the places of its ticks of millimetres, from the
// first, along the bottom or up the left side.
func ruleTicks(p picture, l layout, upward bool) []float64 {
	// 1 mm beside the line only ticks are met: numbers begin 1.2 mm from it.
	from := geom.Point{X: l.inside.MinX + ruleBand - 2, Y: l.inside.MinY + 6}
	to := geom.Point{X: l.inside.MaxX, Y: from.Y}
	if upward {
		from = geom.Point{X: l.inside.MinX + 6, Y: l.inside.MinY + ruleBand - 2}
		to = geom.Point{X: from.X, Y: l.inside.MaxY - frameTop}
	}
	runs := p.runs(from, to)
	first := runs[0]
	for i := range runs {
		runs[i] -= first
	}
	return runs
}

// TestPrintedScale measures on pages of every paper, laid upright and across, the rules
// between 0 and 100 mm and over their whole length, and the square.
func TestPrintedScale(t *testing.T) {
	drawn := templateOf(t, pattern(t, "badger"))
	for _, name := range []string{"A4", "Letter"} {
		paper, _ := PaperNamed(name)
		data, err := drawn.PDF(paper, Printer{})
		require.NoError(t, err)
		l, err := drawn.bestLayout(paper, Printer{})
		require.NoError(t, err)
		require.Greater(t, l.width, l.height, "the views lie across")
		for number, page := range map[int]layout{1: pageOf(paper.Width, paper.Height, Printer{}), 2: l} {
			p := printed(t, data, number)
			assert.InDelta(t, page.width*p.perMM, p.Rect.Dx(), 1.5, "page width")
			assert.InDelta(t, page.height*p.perMM, p.Rect.Dy(), 1.5, "page height")
			for _, upward := range []bool{false, true} {
				ticks := ruleTicks(p, page, upward)
				require.Greater(t, len(ticks), 10)
				assert.InDelta(t, 100, ticks[10], 0.1, "%s, page %d", name, number)
				for i, at := range ticks {
					assert.InDelta(t, 10*float64(i), at, 0.1, "%s, page %d", name, number)
				}
			}
			if number == 1 {
				checkSquare(t, p, page)
			}
		}
	}
}

// checkSquare measures the sides of the square and, 20 mm over its lower side, how far
// its diagonals are from the sides.
func checkSquare(t *testing.T, p picture, page layout) {
	t.Helper()
	box := page.content()
	corner := geom.Point{X: box.MinX + 8, Y: box.MaxY - 4 - squareSide}
	level := p.runs(geom.Point{X: corner.X - 1, Y: corner.Y + 20}, geom.Point{X: corner.X + squareSide + 1, Y: corner.Y + 20})
	require.Len(t, level, 4)
	assert.InDelta(t, 100, level[3]-level[0], 0.1)
	assert.InDelta(t, 20, level[1]-level[0], 0.1, "20 mm up a diagonal is 20 mm across")
	assert.InDelta(t, 80, level[2]-level[0], 0.1)
	upright := p.runs(geom.Point{X: corner.X + 20, Y: corner.Y - 1}, geom.Point{X: corner.X + 20, Y: corner.Y + squareSide + 1})
	require.Len(t, upright, 4)
	assert.InDelta(t, 100, upright[3]-upright[0], 0.1)
}

// TestCorrectedBars: for a printer that prints 99.2 for 100 across the feed and 101 along
// it, what is drawn as 100 mm is 100/0.992 and 100/1.01 mm long; on a page laid across
// the two change places.
func TestCorrectedBars(t *testing.T) {
	drawn := templateOf(t, pattern(t, "badger"))
	paper, _ := PaperNamed("A4")
	printer := Printer{Across: 0.992, Along: 1.01}
	data, err := drawn.PDF(paper, printer)
	require.NoError(t, err)
	l, err := drawn.bestLayout(paper, printer)
	require.NoError(t, err)
	require.Greater(t, l.width, l.height)
	for number, row := range map[int]struct {
		page       layout
		level, up  float64
		stretchedX float64
	}{
		1: {pageOf(paper.Width, paper.Height, printer), 100 / 0.992, 100 / 1.01, 1 / 0.992},
		2: {l, 100 / 1.01, 100 / 0.992, 1 / 1.01},
	} {
		p := printed(t, data, number)
		drawnAt := row.page
		low, high := row.page.warp.At(geom.Point{X: row.page.inside.MinX, Y: row.page.inside.MinY}), row.page.warp.At(geom.Point{X: row.page.inside.MaxX, Y: row.page.inside.MaxY})
		drawnAt.inside = sheet.Box{MinX: low.X, MinY: low.Y, MaxX: high.X, MaxY: high.Y}
		assert.InDelta(t, row.level, ruleTicks(p, drawnAt, false)[10], 0.1, "page %d", number)
		assert.InDelta(t, row.up, ruleTicks(p, drawnAt, true)[10], 0.1, "page %d", number)
	}
}

// TestPageSizes asks an independent reader (Poppler) for the size of every page: ISO 216
// sizes, and 8.5 by 11, 8.5 by 14 and 11 by 17 in, in points of 1/72 in.
func TestPageSizes(t *testing.T) {
	pdfinfo := tool(t, "pdfinfo", "poppler-utils")
	for name, want := range map[string][2]float64{"A4": {595.276, 841.89}, "Letter": {612, 792}, "Legal": {612, 1008}, "A3": {841.89, 1190.551}, "Tabloid": {792, 1224}} {
		paper, _ := PaperNamed(name)
		drawn := templateOf(t, pattern(t, "wren"))
		data, err := drawn.PDF(paper, Printer{})
		require.NoError(t, err)
		path := filepath.Join(t.TempDir(), "t.pdf")
		require.NoError(t, os.WriteFile(path, data, 0o644))
		out, err := exec.Command(pdfinfo, "-f", "1", "-l", "99", path).CombinedOutput()
		require.NoError(t, err)
		sizes := 0
		for line := range strings.Lines(string(out)) {
			var number int
			var width, height float64
			if n, _ := fmt.Sscanf(line, "Page %d size: %g x %g", &number, &width, &height); n == 3 {
				sizes++
				assert.InDelta(t, want[0], math.Min(width, height), 0.0015, "%s: %s", name, line)
				assert.InDelta(t, want[1], math.Max(width, height), 0.0015, "%s: %s", name, line)
			}
		}
		pages, err := drawn.Pages(paper, Printer{})
		require.NoError(t, err)
		assert.Equal(t, len(pages), sizes)
		assert.NotContains(t, string(out), "CreationDate")
		assert.NotContains(t, strings.ToLower(string(out)), "error")
		assert.Contains(t, string(data), "/PrintScaling /None")
	}
}

// TestReassembled lays printed pages on each other by their register crosses, as found in
// the pictures, and looks for the outline on them: wherever it runs there is a line
// within 0.1 mm.
func TestReassembled(t *testing.T) {
	b := pattern(t, "tarn")
	drawn := templateOf(t, b)
	paper, _ := PaperNamed("A4")
	l, err := drawn.bestLayout(paper, Printer{})
	require.NoError(t, err)
	data, err := drawn.PDF(paper, Printer{})
	require.NoError(t, err)
	r := l.rows[0]
	require.Len(t, r.windows, 2)
	first, second := printed(t, data, 2), printed(t, data, 3)
	box := l.content()
	top := box.MaxY - registerBand - (box.MaxY-box.MinY-2*registerBand-r.height)/2
	seam := r.windows[1].seam
	var crosses [2][2]geom.Point // by page, and upper and lower
	for i, p := range []picture{first, second} {
		x := seam - r.windows[i].least + box.MinX
		crosses[i] = [2]geom.Point{findCross(t, p, geom.Point{X: x, Y: top + registerBand/2}), findCross(t, p, geom.Point{X: x, Y: top - r.height - registerBand/2})}
	}
	// The rotation and shift that lay the second page's crosses on the first's.
	onto := layOn(crosses[1], crosses[0])
	for i, was := range crosses[1] {
		is := onto(was)
		assert.InDelta(t, crosses[0][i].X, is.X, 0.1)
		assert.InDelta(t, crosses[0][i].Y, is.Y, 0.1)
	}
	back := layOn(crosses[0], crosses[1])
	y := top
	for i, p := range r.panels[:2] {
		shift := geom.Point{X: box.MinX - r.windows[0].least, Y: y - p.box.MaxY}
		y -= p.height() + viewGap
		view := marksOf(b, roughOutline{}).faceView(profile.Faces()[i])
		seen := [2]int{}
		for _, piece := range view.chain(b.Outline) {
			for _, u := range []float64{0.2, 0.37, 0.5, 0.81} {
				at, along := piece.At(u), piece.Tangent(u)
				if piece.Length() < 2 || math.Abs(at.X-seam) < 1 {
					continue
				}
				at = geom.Point{X: at.X + shift.X, Y: at.Y + shift.Y}
				which := 0
				page, from, to := first, aside(at, along, -0.5), aside(at, along, 0.5)
				if at.X-shift.X > seam {
					which, page, from, to = 1, second, back(from), back(to)
				}
				seen[which]++
				off := math.Inf(1)
				for _, run := range page.runs(from, to) {
					off = math.Min(off, math.Abs(run-0.5))
				}
				assert.LessOrEqual(t, off, 0.1, "view %d, page %d: no line at %v", i, which+1, at)
			}
		}
		assert.Greater(t, seen[0], 5)
		assert.Greater(t, seen[1], 5)
	}
}

// aside returns a place beside another, square to a direction.
func aside(at, along geom.Point, by float64) geom.Point {
	return geom.Point{X: at.X - by*along.Y, Y: at.Y + by*along.X}
}

// findCross returns the middle of a register cross near a place: of the strokes met by
// walks beside its middle, between the circle and the ends of its arms.
func findCross(t *testing.T, p picture, near geom.Point) geom.Point {
	t.Helper()
	walk := func(from, to geom.Point) float64 {
		runs := p.runs(from, to)
		require.Len(t, runs, 1)
		return runs[0]
	}
	return geom.Point{
		X: near.X - 1.2 + walk(geom.Point{X: near.X - 1.2, Y: near.Y - 2.2}, geom.Point{X: near.X + 1.2, Y: near.Y - 2.2}),
		Y: near.Y - 1.2 + walk(geom.Point{X: near.X - 2.2, Y: near.Y - 1.2}, geom.Point{X: near.X - 2.2, Y: near.Y + 1.2}),
	}
}

// layOn returns the movement in the plane that lays two places on two others.
func layOn(from, onto [2]geom.Point) func(geom.Point) geom.Point {
	turn := math.Atan2(onto[1].Y-onto[0].Y, onto[1].X-onto[0].X) - math.Atan2(from[1].Y-from[0].Y, from[1].X-from[0].X)
	sin, cos := math.Sincos(turn)
	return func(p geom.Point) geom.Point {
		x, y := p.X-from[0].X, p.Y-from[0].Y
		return geom.Point{X: onto[0].X + cos*x - sin*y, Y: onto[0].Y + sin*x + cos*y}
	}
}

// TestSVGByAnotherRenderer: librsvg finds the drawing as large as ours, and wherever one
// of the two puts a line the other has one within 0.2 mm, words apart, for which it may
// have another font.
func TestSVGByAnotherRenderer(t *testing.T) {
	rsvg := tool(t, "rsvg-convert", "librsvg2-bin")
	s := templateOf(t, pattern(t, "tarn")).Sheet()
	for i := range s.Layers {
		var kept []sheet.Item
		for _, item := range s.Layers[i].Items {
			if _, words := item.(sheet.Text); !words {
				kept = append(kept, item)
			}
		}
		s.Layers[i].Items = kept
	}
	for name, warp := range map[string]sheet.Warp{"true": {}, "corrected": {XX: 0.97, XY: 0.02, YX: -0.03, YY: 0.96, About: geom.Point{X: s.Width / 2, Y: s.Height / 2}}} {
		s.Warp = warp
		data, err := sheet.SVG(s)
		require.NoError(t, err)
		command := exec.Command(rsvg, "-d", "127", "-p", "127", "-b", "white", "-f", "png")
		command.Stdin = bytes.NewReader(data)
		out, err := command.Output()
		require.NoError(t, err)
		theirs := pictureOf(t, out, 5)
		drawn, err := sheet.PNG(s, 127)
		require.NoError(t, err)
		ours := pictureOf(t, drawn, 5)
		assert.InDelta(t, ours.Rect.Dx(), theirs.Rect.Dx(), 1, name)
		assert.InDelta(t, ours.Rect.Dy(), theirs.Rect.Dy(), 1, name)
		assert.Less(t, strayShare(ours, theirs), 0.004, name)
		assert.Less(t, strayShare(theirs, ours), 0.004, name)
	}
}

// strayShare returns how much of the ink of one picture has none of the other within
// 0.2 mm, as a share. Pictures are laid on each other by their upper left corners.
func strayShare(a, b picture) float64 {
	ink, stray := 0, 0
	const reach = 1
	for y := reach; y < min(a.Rect.Dy(), b.Rect.Dy())-reach; y++ {
		for x := reach; x < min(a.Rect.Dx(), b.Rect.Dx())-reach; x++ {
			if a.GrayAt(x, y).Y >= 0x80 {
				continue
			}
			ink++
			found := false
			for dy := -reach; dy <= reach && !found; dy++ {
				for dx := -reach; dx <= reach && !found; dx++ {
					found = b.GrayAt(x+dx, y+dy).Y < 0xc8
				}
			}
			if !found {
				stray++
			}
		}
	}
	return float64(stray) / math.Max(1, float64(ink))
}
