package export

import (
	"fmt"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
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
