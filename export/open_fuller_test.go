package export

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
)

// TestOpenFullerOnPaper: the plan dimensions where the fuller leaves the blade, the
// template says that it is open there and draws each lip up to the outline, and the sheet
// of the face that is turned end for end keeps the stop out of the cutter's way.
func TestOpenFullerOnPaper(t *testing.T) {
	b := pattern(t, "curlew")
	f := b.Fullers[0]
	pages, err := Plan(b, planOptions(t, "A3"))
	require.NoError(t, err)
	said := saidOn(pages[0])
	assert.True(t, said["fuller leaves at "+Millimetres.Thickness(f.EndVisible)])
	for text := range said {
		assert.False(t, strings.HasPrefix(text, "fuller to"), text)
	}

	m := marksOf(b, roughOutline{})
	words := ""
	for _, c := range m.above(m.faceView(0).view) {
		words += c.text + "\n"
	}
	assert.Contains(t, words, fmt.Sprintf("seen from 24.0 to %.1f, open", f.EndVisible))
	for i, lip := range m.lips[0] {
		last := lip[len(lip)-1]
		assert.InDelta(t, b.BackAt(last.X), last.Y, 2e-4, "lip %d ends on the back", i)
		for _, p := range lip {
			assert.LessOrEqual(t, p.Y, b.BackAt(p.X)+1e-6)
		}
	}
	assert.Less(t, math.Abs(m.lips[0][1][120].X-f.EndVisible), 1e-4, "the lower lip leaves last")

	s := patternSetup(t, "curlew", false)
	deepest := f.MilledDepthAt(b.Bar, b.Bar.Front)
	for _, step := range s.Steps[:2] {
		over := step.Job.OverStop()
		if step.Job.Setup.EndAtStop() == "point end" {
			assert.InDelta(t, deepest, over, 1e-6)
			continue
		}
		assert.Zero(t, over, "the tang end is closed")
	}
	paper, _ := PaperNamed("A4")
	sheets, err := SetupPages(s, paper)
	require.NoError(t, err)
	assert.Equal(t, 1, strings.Count(wordsOf(sheets), "the cutter runs out over it"))
}

func wordsOf(pages []sheet.Sheet) string {
	out := ""
	for _, page := range pages {
		for _, layer := range page.Layers {
			for _, item := range layer.Items {
				if text, ok := item.(sheet.Text); ok {
					out += text.Content + " "
				}
			}
		}
	}
	return out
}
