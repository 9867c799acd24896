package export

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile/document"
	"fullerwright/templates"
	"fullerwright/toolpath"
)

// TestSentencesInInches: 25.4 mm are an inch, exactly (ISO 31-1; the international inch).
func TestSentencesInInches(t *testing.T) {
	in, mm := units{inch: true}, units{}
	for text, want := range map[string]string{
		"a cutter of 12.70 mm would do":          "a cutter of 0.5000 in would do",
		"parallels of 25.4 to 31.75 mm would do": "parallels of 1.000 to 1.2500 in would do",
		"a feed of 508 mm/min would do":          "a feed of 20.0 in/min would do",
		"97 mm from the guard plane":             "3.82 in from the guard plane",
		"3 levels, 500 rev/min, 800 N/mm2":       "3 levels, 500 rev/min, 800 N/mm2",
	} {
		assert.Equal(t, want, in.sentence(text))
		assert.Equal(t, text, mm.sentence(text))
	}
	c := toolpath.Check{Name: "depth", Value: 25.4, Limit: 12.7, Unit: "mm", Verdict: toolpath.Caution, Place: document.Words("50.8 mm from the guard plane"), Remedy: document.Say("%.1f mm would do", 12.7)}
	assert.Equal(t, "caution depth: 1.000 in, at most 0.5000 (2.000 in from the guard plane): 0.500 in would do", in.check(c))
}

// TestInchSheetsHaveNoMillimetres: no sentence of an inch shop's sheet names millimetres,
// whatever check cautions.
func TestInchSheetsHaveNoMillimetres(t *testing.T) {
	s := setupOf(t, "inches.toml", []byte(everyOperation), true)
	ruler, err := sheet.NewRuler()
	require.NoError(t, err)
	cautions := 0
	for i := frontPage; i < len(s.Steps); i++ {
		if i >= 0 {
			for j := range s.Steps[i].Job.Checks {
				c := &s.Steps[i].Job.Checks[j]
				c.Verdict, c.Remedy = toolpath.Caution, document.Say("%.2f to %.2f mm would do", 3.2, 4.1)
				cautions++
			}
		}
		for _, b := range s.content(i, htmlWidth, ruler) {
			for _, text := range textsOfBlock(b) {
				assert.NotRegexp(t, `\bmm\b`, strings.ReplaceAll(text, "N/mm²", ""))
			}
		}
	}
	assert.Greater(t, cautions, 50)
}

// textsOfBlock returns all texts of a block.
func textsOfBlock(b setupBlock) (out []string) {
	switch v := b.(type) {
	case heading:
		return []string{v.text}
	case paragraph:
		return []string{v.text}
	case facts:
		for _, row := range v.rows {
			out = append(out, row[0], row[1])
		}
	case blanks:
		return v.labels
	case tickList:
		return v.items
	case bulletList:
		return v.items
	case grid:
		out = append(out, v.head...)
		for _, row := range v.rows {
			out = append(out, row...)
		}
	}
	return out
}

// TestEachClampingHasItsOwnList: what is ticked before a start speaks of what is there: of
// no vise where the bar lies on a plate, of no tang and spine where the guard's blank is
// clamped.
func TestEachClampingHasItsOwnList(t *testing.T) {
	holds := func(part string) string { return strings.ToLower(strings.Join(templates.SetupTexts(part), " ")) }
	assert.NotRegexp(t, "jaw|vise", holds("before plate"))
	assert.NotRegexp(t, `\bbar\b|tang|spine|right face`, holds("before blank"))
	for _, part := range []string{"before", "before plate", "before blank", "before kept", "before corners", "before next cutter"} {
		assert.Contains(t, holds(part), "guards closed, chuck key out, eye protection on", part)
		assert.Contains(t, holds(part), "whole run watched once", part)
	}
	s := setupOf(t, "all.toml", []byte(everyOperation+"[outline]\nhold = \"tabs\"\n[bar]\ntang_allowance = 30\npoint_allowance = 30\n"), false)
	lists := map[string]bool{}
	for i, step := range s.Steps {
		want := "before"
		switch {
		case step.Job.Setup.Plate:
			want = "before plate"
		case step.Job.Step.Operation == toolpath.Slot && step.Job.Step.Bore == 0:
			want = "before next cutter" // the hole was drilled in this clamping
		case step.Job.Setup.Blank:
			want = "before blank"
		}
		lists[want] = true
		assert.Equal(t, want, (&setupContent{sheet: s, at: i, job: step.Job}).beforeList(), step.Job.Step)
	}
	assert.Len(t, lists, 4)
	assert.Equal(t, "before corners", (&setupContent{job: &toolpath.Job{Step: toolpath.Step{Operation: toolpath.Slot, Corner: 1}, Setup: toolpath.Setup{Blank: true}}}).beforeList())
}
