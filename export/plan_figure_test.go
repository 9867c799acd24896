package export

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// TestCellsHoldTheirFigures: whatever a cell draws lies within the size that it says it
// has, texts and lines.
func TestCellsHoldTheirFigures(t *testing.T) {
	ruler, err := sheet.NewRuler()
	require.NoError(t, err)
	for _, name := range []string{"tarn", "osprey", "minnow", "brock"} {
		b := pattern(t, name)
		for style := range LengthStyleNames() {
			plan := pencil{nil, ruler, LengthStyle(style), planLetter}
			cells, err := cellsAt(b, plan, 2)
			require.NoError(t, err)
			for _, c := range cells {
				requireHeld(t, name, c, plan)
			}
			bench := pencil{nil, ruler, LengthStyle(style), shopLetter}
			for _, f := range fittingFigures(b, bench, 1) {
				requireHeld(t, name+" "+f.title[0], f.cell(bench), bench)
			}
			requireHeld(t, name+" bar", barFigure(b, bench.style, 0.5).cell(bench), bench)
		}
	}
}

func requireHeld(t *testing.T, name string, c cell, p pencil) {
	t.Helper()
	const slack = 0.3 // mm, a line's width and a letter's bearing
	s := sheet.Sheet{Title: "x", Width: 1000, Height: 1000}
	p.sheet = &s
	c.draw(p, 300, 700)
	held := func(b sheet.Box, what string) {
		assert.True(t, b.MinX >= 300-slack && b.MaxX <= 300+c.width+slack && b.MaxY <= 700+slack && b.MinY >= 700-c.height-slack,
			"%s: %s %+v leaves a cell of %.1f by %.1f", name, what, b, c.width, c.height)
	}
	texts, boxes := textBoxesOf(s)
	for i, b := range boxes {
		held(b, texts[i].Content)
	}
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			if text, ok := item.(sheet.Text); ok && layer.ID == dimensionLayer {
				assert.LessOrEqual(t, p.ruler.Box(text).MaxY, 700-2*p.row()+slack, "%s: %q stands in the two lines of the title", name, text.Content)
			}
			if path, ok := item.(sheet.Path); ok && len(path.Pieces) > 0 {
				chain, err := geom.NewChain(path.Pieces...)
				if err == nil {
					held(boxOf(chain), layer.ID)
				}
			}
		}
	}
}
