package export

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/templates"
)

func planOptions(t testing.TB, paper string) PlanOptions {
	p, known := PaperNamed(paper)
	require.True(t, known)
	return PlanOptions{Paper: p, Source: "test.toml", Digest: "00000000", Density: 7.85}
}

// rulers are shared by tests: a ruler takes a while to make, and serves one at a time.
var rulers = sync.Pool{New: func() any {
	ruler, err := sheet.NewRuler()
	if err != nil {
		panic(err)
	}
	return &ruler
}}

// textBoxesOf returns the texts of a sheet with their boxes.
func textBoxesOf(s sheet.Sheet) (texts []sheet.Text, boxes []sheet.Box) {
	ruler := rulers.Get().(*sheet.Ruler)
	defer rulers.Put(ruler)
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			if text, ok := item.(sheet.Text); ok {
				texts, boxes = append(texts, text), append(boxes, ruler.Box(text))
			}
		}
	}
	return texts, boxes
}

// requireClear asserts that no text of a sheet overlaps another or leaves its frame, and
// that all letters have at least the given height.
func requireClear(t *testing.T, s sheet.Sheet, letters, frame float64, name string) {
	t.Helper()
	texts, boxes := textBoxesOf(s)
	for i, b := range boxes {
		if texts[i].Height < letters {
			t.Errorf("%s: %q is small", name, texts[i].Content)
		}
		if b.MinX < frame || b.MinY < frame || b.MaxX > s.Width-frame || b.MaxY > s.Height-frame {
			t.Errorf("%s: %q leaves the page: %+v", name, texts[i].Content, b)
		}
		for j := range boxes[:i] {
			if b.Overlaps(boxes[j]) {
				t.Errorf("%s: %q overlaps %q", name, texts[i].Content, texts[j].Content)
			}
		}
	}
}

// TestPlanTextsAreClear: for every pattern, on every paper with the longest texts, and
// for those without a fuller and with several in every way of writing lengths.
func TestPlanTextsAreClear(t *testing.T) {
	for _, name := range templates.Names() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b := pattern(t, name)
			for _, paper := range Papers() {
				for i, style := range LengthStyleNames() {
					if LengthStyle(i) != ShopFraction && (paper.Name != "A4" || len(b.Fullers) == 1) {
						continue
					}
					o := planOptions(t, paper.Name)
					o.Lengths, o.FirstAngle = LengthStyle(i), i%2 == 1
					pages, err := Plan(b, o)
					require.NoError(t, err, "%s on %s", name, paper.Name)
					for n, s := range pages {
						where := fmt.Sprintf("%s on %s, %s, sheet %d", name, paper.Name, style, n+1)
						requireClear(t, s, planLetter, planFrame, where)
						requireOutsideTitleBlock(t, s, where)
					}
				}
			}
		})
	}
}

// requireOutsideTitleBlock asserts that no text but its own touches the title block.
func requireOutsideTitleBlock(t *testing.T, s sheet.Sheet, name string) {
	t.Helper()
	block := sheet.Box{MinX: s.Width, MaxX: s.Width, MaxY: planFrame + titleHeight}
	var others sheet.Sheet
	for _, layer := range s.Layers {
		if layer.ID != titleLayer {
			others.Layers = append(others.Layers, layer)
			continue
		}
		frame := layer.Items[1].(sheet.Path) // after the frame of the sheet
		block.MinX = frame.Pieces[0].Start().X
	}
	texts, boxes := textBoxesOf(others)
	for i, b := range boxes {
		if b.Overlaps(block) {
			t.Errorf("%s: %q lies in the title block", name, texts[i].Content)
		}
	}
}

// longNamed is a pattern with a name, a maker and a mark as long as people want them, with
// letters outside ASCII.
func longNamed(t testing.TB, name string) profile.Blade {
	t.Helper()
	data := regexp.MustCompile(`(?m)^name .*$`).ReplaceAll(patternFile(t, name), []byte(`name = "`+longName+`"
maker = "Messerschmiede Łukasz Żółtowski & Søn, Værkstedet på Højen 12"`))
	return built(t, append(data, "\n[mark]\ntext = \"ØSTERGÅRD & SØN\"\nheight = 2.5\nat = 60\nfrom_spine = 18\n"...), "")
}

// TestLongNamesAreClear: on plan, gauges, fittings and bar, on A4 and Letter, long names
// leave no page and lie over nothing; the plan tells them in full where its title block
// cannot.
func TestLongNamesAreClear(t *testing.T) {
	b := longNamed(t, "tarn")
	for _, paper := range []string{"A4", "Letter"} {
		o := planOptions(t, paper)
		o.Source = strings.Repeat("messer-für-åse-", 5) + ".toml"
		pages, err := Plan(b, o)
		require.NoError(t, err)
		words := ""
		for n, s := range pages {
			where := fmt.Sprintf("%s, sheet %d", paper, n+1)
			requireClear(t, s, planLetter, planFrame, where)
			requireOutsideTitleBlock(t, s, where)
			texts, _ := textBoxesOf(s)
			for _, text := range texts {
				words += text.Content + " "
			}
		}
		require.Contains(t, words, "Name: "+longName)
		require.Contains(t, words, "Højen 12")
		for name, draw := range benchSheets {
			pages, err := draw(b, o)
			require.NoError(t, err)
			for n, s := range pages {
				requireClear(t, s, 2, 5, fmt.Sprintf("%s on %s, sheet %d", name, paper, n+1))
			}
		}
	}
}
