package export

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/templates"
	"fullerwright/toolpath"
	"fullerwright/toolpath/motion"
	"fullerwright/toolpath/proof"
)

// everyOperation is a knife that needs all operations but the outline.
const everyOperation = `name = "Everything that a bench mill can be asked for, in one knife"
[blade]
length = 150
width = 28
thickness = 4.5
[clip]
length = 50
drop = 8
[edge]
belly_length = 45
[tang]
width = 13
length = 100
[shoulder]
top = 7
face_step = 0.4
[bevel]
height = 15
[guard]
thickness = 6
length = 40
width = 14
[mark]
text = "N. Loach"
height = 3
at = 40
from_spine = 6
face = "left"
[[hole]]
at = -60
from_spine = 13.5
diameter = 4
`

// setupOf plans a knife file for the setup sheet. The proof is a coarse map of the bar
// before the cut: what it looks like does not matter here.
func setupOf(t testing.TB, name string, data []byte, inch bool) SetupSheet {
	t.Helper()
	k, err := profile.Parse(name, data)
	require.NoError(t, err)
	b, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	shop, err := toolpath.ParseShop("shop.toml", templates.Shop())
	require.NoError(t, err)
	shop.Inch = inch
	s := SetupSheet{Blade: b, Shop: shop, KnifeFile: name, Digest: "0123abcd"}
	box := proof.Box{MinX: b.Bar.Butt, MaxX: b.Bar.Front, MinY: b.Bar.Bottom, MaxY: b.Bar.Top}
	for _, step := range toolpath.Sequence(b, shop) {
		flip := toolpath.TurningFor(step.Operation, b, shop).Flip
		job, _, err := toolpath.Plan(b, shop, step, toolpath.SetupFor(b.Bar, step.Face, flip), "")
		var none *toolpath.NoCutterError
		if errors.As(err, &none) {
			continue
		}
		require.NoError(t, err)
		p := toolpath.FaceProof{Step: step, Map: proof.NewMap(proof.GridOver(box, 2), b.Stock()), Target: proof.Exactly(b.Stock())}
		s.Steps = append(s.Steps, SetupStep{Job: job, Program: step.String() + ".nc", Proof: p})
	}
	require.NotEmpty(t, s.Steps)
	return s
}

func patternSetup(t testing.TB, name string, inch bool) SetupSheet {
	data, found := templates.Pattern(name)
	require.True(t, found)
	return setupOf(t, name+".toml", data, inch)
}

// TestSetupSheetFits: on the pages of every pattern, and of a knife with all operations
// and a long name, on A4 and Letter, no words overlap, none leaves the page's margins and
// none is under 3.5 mm high; every page names knife file, program and digest.
func TestSetupSheetFits(t *testing.T) {
	sheets := map[string]SetupSheet{"all operations": setupOf(t, "a-long-name-for-a-knife-file.toml", []byte(everyOperation), false),
		"in inches":  setupOf(t, "inches.toml", []byte(everyOperation), true),
		"long names": setupOf(t, strings.Repeat("messer-für-åse-", 3)+".toml", []byte(strings.Replace(everyOperation, "Everything that a bench mill can be asked for, in one knife", longName, 1)), false)}
	for _, name := range templates.Names() {
		sheets[name] = patternSetup(t, name, name == "wren")
	}
	sheets["with corners"] = withCorners(sheets["osprey"])
	for name, s := range sheets {
		for _, size := range []string{"A4", "Letter"} {
			paper, _ := PaperNamed(size)
			pages, err := SetupPages(s, paper)
			require.NoError(t, err)
			require.GreaterOrEqual(t, len(pages), len(s.Steps))
			for i, page := range pages {
				fits(t, fmt.Sprintf("%s on %s, page %d", name, size, i+1), page)
			}
			names(t, s, pages)
		}
	}
}

func fits(t *testing.T, where string, page sheet.Sheet) {
	t.Helper()
	texts, boxes := textBoxesOf(page)
	for i, b := range boxes {
		assert.GreaterOrEqual(t, texts[i].Height, 3.5, "%s: %q", where, texts[i].Content)
		inside := b.MinX >= setupMargin-rounding && b.MaxX <= page.Width-setupMargin+rounding && b.MinY >= setupMargin-rounding && b.MaxY <= page.Height-setupMargin+rounding
		assert.True(t, inside, "%s: %q leaves the page: %+v", where, texts[i].Content, b)
		for j := range i {
			assert.False(t, b.Overlaps(boxes[j]), "%s: %q over %q", where, texts[i].Content, texts[j].Content)
		}
	}
}

// withCorners adds the programs for corners alone to those of a setup sheet.
func withCorners(s SetupSheet) SetupSheet {
	var steps []SetupStep
	for _, step := range s.Steps {
		steps = append(steps, step)
		for _, c := range toolpath.PlanCorners(s.Blade, s.Shop, step.Job) {
			p := step.Proof
			p.Step = c.Job.Step
			steps = append(steps, SetupStep{Job: c.Job, Program: p.Step.String() + ".nc", Proof: p})
		}
	}
	s.Steps = steps
	return s
}

// TestSetupSheetTakesFewPages: what all programs share stands on one page, for every
// pattern; programs in one clamping follow each other on its pages, so that the built-in
// knife takes 21 pages on A4 and 22 on Letter, where it took 24 and 28.
func TestSetupSheetTakesFewPages(t *testing.T) {
	for name, most := range map[string]map[string]int{"tarn": {"A4": 21, "Letter": 22}, "heron": {"A4": 23, "Letter": 26}, "minnow": {"A4": 9, "Letter": 9}} {
		s := withCorners(patternSetup(t, name, false))
		for size, most := range most {
			paper, _ := PaperNamed(size)
			pages, err := SetupPages(s, paper)
			require.NoError(t, err)
			assert.LessOrEqual(t, len(pages), most, "%s on %s", name, size)
			front := 0
			for _, page := range pages {
				if page.Title == s.title(frontPage) {
					front++
				}
			}
			assert.Equal(t, 1, front, "%s on %s", name, size)
		}
	}
}

// names asserts that every page names a program and the knife file at its foot, and that
// every program is named in the order of work: at the foot of its page, or at its own head
// where it follows another.
func names(t *testing.T, s SetupSheet, pages []sheet.Sheet) {
	t.Helper()
	step := frontPage - 1
	for n, page := range pages {
		var all []string
		texts, _ := textBoxesOf(page)
		for _, x := range texts {
			all = append(all, x.Content)
		}
		on := strings.Join(all, "\n")
		foot := false
		for i := max(frontPage, step); i < len(s.Steps); i++ {
			file, program := s.names(i)
			foot = foot || strings.Contains(on, program+". "+file) || strings.Contains(on, program+"\n"+file)
		}
		assert.True(t, foot, "page %d names no program at its foot", n+1)
		for i := frontPage; i < len(s.Steps); i++ {
			if !slices.Contains(all, s.place(i)) {
				continue
			}
			_, program := s.names(i)
			assert.Contains(t, on, program, "page %d is of %s", n+1, s.place(i))
			assert.True(t, i == step || i == step+1, "the order of work")
			step = i
		}
	}
	assert.Equal(t, len(s.Steps)-1, step, "every program has a head, and what all share")
}

// gridsOf returns the tables of a step with a column of the given name.
func gridsOf(t *testing.T, s SetupSheet, step int, column string) (out []grid) {
	t.Helper()
	ruler, err := sheet.NewRuler()
	require.NoError(t, err)
	for _, b := range s.content(step, htmlWidth, ruler) {
		if g, ok := b.(grid); ok && len(g.head) > 1 && g.head[1] == column {
			out = append(out, g)
		}
	}
	return out
}

// TestSetupTableIsTheMoves: the printed table holds the places of every straight cut along
// X of the program, and of every step over, to the printed digit, in both units.
func TestSetupTableIsTheMoves(t *testing.T) {
	for _, inch := range []bool{false, true} {
		s := patternSetup(t, "heron", inch)
		digits, unit := 3, 1.0
		if inch {
			digits, unit = 4, 25.4
		}
		printed := map[string]int{}
		for _, g := range gridsOf(t, s, 0, "X from") {
			for _, row := range g.rows {
				printed[strings.Join(row[1:6], " ")]++
			}
		}
		at, count := motion.Vec{}, 0
		for _, m := range s.Steps[0].Job.Moves {
			if m.Kind == motion.Line && m.Purpose != toolpath.Approach && (m.To.X != at.X || m.Purpose == toolpath.StepOver) {
				count++
				var cells []string
				for _, v := range []float64{at.X, m.To.X, m.To.Y, at.Z, m.To.Z} {
					cells = append(cells, fmt.Sprintf("%.*f", digits, v/unit))
				}
				assert.Positive(t, printed[strings.Join(cells, " ")], "%v is not in the table", cells)
			}
			at = m.To
		}
		assert.Greater(t, count, 20)
		total := 0
		for _, n := range printed {
			total += n
		}
		assert.Equal(t, count, total)
	}
}

// TestPictureLiesAsTheOperatorSeesIt: the end at the stop is drawn on the left, the cut
// where its moves are, and the jaws where the cut needs them.
func TestPictureLiesAsTheOperatorSeesIt(t *testing.T) {
	s := patternSetup(t, "tarn", false)
	for _, step := range s.Steps[:2] {
		v := topView{sheet: s, job: step.Job, units: units{}, ruler: func(text string) float64 { return float64(len(text)) * 2 }}
		page := sheet.Sheet{Width: 210, Height: 297}
		box := sheet.Box{MinX: 12, MaxX: 198, MinY: 100, MaxY: 100 + v.height(186)}
		v.draw(&page, box)
		where := map[string]float64{}
		texts, _, err := page.TextBoxes()
		require.NoError(t, err)
		for _, x := range texts {
			where[x.Content] = x.At.X
		}
		right := step.Job.Setup.Face == profile.Right
		assert.Equal(t, right, where["tang end"] < where["point end"])
		cut := step.Job.Cut()
		scale := v.scaleFor(186)
		left := 12 + (186-step.Job.Setup.Length*scale)/2
		least, most := 1e9, -1e9
		for _, layer := range page.Layers {
			if layer.ID != "cut" {
				continue
			}
			for _, item := range layer.Items {
				for _, piece := range item.(sheet.Path).Pieces {
					least, most = min(least, piece.Start().X), max(most, piece.Start().X)
				}
			}
		}
		// Pieces begin beside the ends of a stretch.
		assert.InDelta(t, left+cut.From*scale, least, 0.01)
		assert.InDelta(t, left+cut.To*scale, most, 0.01)
	}
}

// TestSetupHTML: the page for the browser is well formed but for its first line, names no
// id twice, fetches nothing, and says every number of the pages' tables.
func TestSetupHTML(t *testing.T) {
	s := patternSetup(t, "heron", false)
	data, err := SetupHTML(s)
	require.NoError(t, err)
	page := string(data)
	again, err := SetupHTML(s)
	require.NoError(t, err)
	assert.Equal(t, page, string(again), "the same sheet gives the same bytes")

	body := regexp.MustCompile(`<meta [^>]*>`).ReplaceAllString(strings.TrimPrefix(page, "<!DOCTYPE html>\n"), "")
	decoder := xml.NewDecoder(strings.NewReader(body))
	for {
		_, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
	}
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		assert.False(t, seen[m[1]], "id %s twice", m[1])
		seen[m[1]] = true
	}
	assert.NotRegexp(t, `(src|href)=|url\(|@import`, page)
	for i := range s.Steps {
		file, program := s.names(i)
		assert.Contains(t, page, program+". "+file)
		for _, g := range gridsOf(t, s, i, "X from") {
			for _, row := range g.rows {
				assert.Contains(t, page, "<td>"+strings.Join(row[1:], "</td><td>")+"</td>")
			}
		}
	}
}

// TestSetupPDFSameBytes: the same sheet gives the same document on any day.
func TestSetupPDFSameBytes(t *testing.T) {
	s := setupOf(t, "all.toml", []byte(everyOperation), false)
	s.Steps = s.Steps[:1]
	paper, _ := PaperNamed("Letter")
	a, err := SetupPDF(s, paper)
	require.NoError(t, err)
	b, err := SetupPDF(s, paper)
	require.NoError(t, err)
	assert.Equal(t, a, b)
}

// TestEveryOperationHasItsTexts: cautions and what to look at afterwards are there for each
// operation, and for both flips.
func TestEveryOperationHasItsTexts(t *testing.T) {
	for _, o := range toolpath.Operations() {
		assert.NotEmpty(t, templates.SetupTexts("cautions "+string(o)), o)
		assert.NotEmpty(t, templates.SetupTexts("after "+string(o)), o)
	}
	for _, part := range []string{"before", "cautions", "turn", "turn " + string(toolpath.AboutX), "turn " + string(toolpath.AboutY), "reading", "before plate", "before blank", "before corners", "before next cutter", "by hand", "by hand shoulder", "by hand slot", "by hand holes", "by hand mark", "by hand outline", "touch", "before part", "after part", "taken up"} {
		assert.NotEmpty(t, templates.SetupTexts(part), part)
	}
	assert.Empty(t, templates.SetupTexts("no such part"))
}

// TestMargins: a value half of its limit has half of it to spare; one a quarter over a
// least limit, a quarter; one beyond its limit has none.
func TestMargins(t *testing.T) {
	assert.Equal(t, "50 %", margin100(toolpath.Check{Value: 1, Limit: 2}))
	assert.Equal(t, "25 %", margin100(toolpath.Check{Value: 5, Limit: 4, Least: true}))
	assert.Equal(t, "0 %", margin100(toolpath.Check{Value: 4 + 1e-12, Limit: 4}))
	assert.Equal(t, "beyond", margin100(toolpath.Check{Value: 3, Limit: 2}))
	assert.Equal(t, "-", margin100(toolpath.Check{Value: 3, Limit: 0}))
}
