package export

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath"
)

// partedSetup is the setup sheet of a pattern's fullers, cut on the two faces by turns.
func partedSetup(t *testing.T, name string) (parted, whole SetupSheet) {
	t.Helper()
	whole = patternSetup(t, name, false)
	whole.Steps = whole.Steps[:2]
	parted = whole
	parted.Steps = nil
	for i, turn := range toolpath.Turns(whole.Steps[0].Job, whole.Steps[1].Job) {
		of := whole.Steps[0]
		if turn.Job == whole.Steps[1].Job {
			of = whole.Steps[1]
		}
		job, _ := turn.Job.Parted(turn.Part)
		parted.Steps = append(parted.Steps, SetupStep{Job: job, Part: &turn.Part, Whole: turn.Job, Program: fmt.Sprintf("%d.nc", i+1), Proof: of.Proof})
	}
	return parted, whole
}

// TestPartedSheets: cut by turns, each program has its sheet in the order of work; what
// it needs at the machine stands on one page; all of them together have the rows of the
// whole table, each once; and each says since when the bar was turned.
func TestPartedSheets(t *testing.T) {
	parted, whole := partedSetup(t, "badger")
	rows := func(s SetupSheet, column string) map[string]int {
		out := map[string]int{}
		for i := range s.Steps {
			for _, g := range gridsOf(t, s, i, column) {
				for _, row := range g.rows {
					out[s.Steps[i].Job.Step.String()+g.head[0]+strings.Join(row, " ")]++
				}
			}
		}
		return out
	}
	for _, column := range []string{"X from", "left Z to"} {
		want := rows(whole, column)
		assert.NotEmpty(t, want)
		assert.Equal(t, want, rows(parted, column))
	}
	for _, size := range []string{"A4", "Letter"} {
		paper, _ := PaperNamed(size)
		pages, err := SetupPages(parted, paper)
		require.NoError(t, err)
		names(t, parted, pages)
		held := 0
		for _, page := range pages {
			fits(t, size, page)
			texts, _, err := page.TextBoxes()
			require.NoError(t, err)
			all := ""
			for _, x := range texts {
				all += x.Content + "\n"
			}
			for _, s := range parted.Steps[2:] {
				if strings.Contains(all, s.Part.String()) && strings.Contains(all, s.Job.Step.Face.String()+" face, point") {
					held++
					for _, part := range []string{"fixed jaw", "Turned about Y since program", "Cutter, levels and proof", "Above the design"} {
						assert.Contains(t, all, part, "%s: on the first page of %s", size, s.Part)
					}
				}
			}
		}
		assert.Equal(t, len(parted.Steps)-2, held)
	}
	for i := range parted.Steps {
		c := &setupContent{sheet: parted, step: parted.Steps[i], at: i, job: parted.Steps[i].Job}
		since, turned := c.turnedSince()
		assert.Equal(t, i > 0, turned)
		if turned {
			assert.Equal(t, fmt.Sprintf("program %d", i), since)
		}
	}
}

// TestTakenUpSheet says what must be cut before.
func TestTakenUpSheet(t *testing.T) {
	whole := patternSetup(t, "badger", false)
	part := toolpath.Part{From: 2, To: whole.Steps[0].Job.RoughLevels(), Finish: true}
	job, before := whole.Steps[0].Job.Parted(part)
	require.NotEmpty(t, before)
	s := whole
	s.Steps = []SetupStep{{Job: job, Part: &part, Whole: whole.Steps[0].Job, TakenUp: true, Program: "rest.nc", Proof: whole.Steps[0].Proof}}
	page, err := SetupHTML(s)
	require.NoError(t, err)
	assert.Contains(t, string(page), "All levels before level 2 must be cut.")
	assert.Contains(t, string(page), "within a quarter of their limit")
	for _, g := range gridsOf(t, s, 0, "X from") {
		for _, row := range g.rows {
			assert.False(t, strings.HasPrefix(row[0], "1."), row[0])
		}
	}
}
