package export

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/toolpath"
)

// TestSheetCountsLevelsAsTheProgram: the sheet of a knife with every operation counts the
// levels of every program as --from-level does, without a gap from 1 to as many as there
// are, and names for each the line or the block that the writer told.
func TestSheetCountsLevelsAsTheProgram(t *testing.T) {
	s := setupOf(t, "all.toml", []byte(everyOperation), false)
	ruler, err := sheet.NewRuler()
	require.NoError(t, err)
	found := 0
	for i := range s.Steps {
		step := &s.Steps[i]
		if len(step.Job.Stages) == 0 || step.Job.RoughLevels() > 2*listedLevels {
			continue
		}
		blocks := i%2 == 1
		want := map[string]string{}
		for n, m := range step.Job.LevelMarks() {
			told := SetupLevel{LevelMark: m, Line: 20 + 7*n}
			text := fmt.Sprint(told.Line)
			if blocks {
				told.Block, text = 10*told.Line, fmt.Sprintf("N%d", 10*told.Line)
			}
			step.Levels, want[m.Says()] = append(step.Levels, told), text
		}
		last := 0
		for _, b := range s.content(i, htmlWidth, ruler) {
			g, ok := b.(grid)
			if !ok || g.head[0] != "cut" {
				continue
			}
			for _, row := range g.rows {
				from, to, ranged := strings.Cut(row[1], " to ")
				if !ranged {
					to = from
				}
				first, _ := strconv.Atoi(from)
				assert.Equal(t, last+1, first, "%s: levels are counted on", step.Job.Step)
				last, _ = strconv.Atoi(to)
				for n, line := range strings.Split(row[3], ", ") {
					says := fmt.Sprintf("%s, level %d of %d", row[0], first+n, step.Job.RoughLevels())
					if first+n > last {
						says = row[0] + ", finishing"
					}
					assert.Equal(t, want[says], line, "%s: %s", step.Job.Step, says)
					found++
				}
			}
		}
		assert.Equal(t, step.Job.RoughLevels(), last, step.Job.Step)
	}
	assert.Greater(t, found, 8)
}

// TestLongStagesAreToldByTheirEnds: of many levels the first and the last are told.
func TestLongStagesAreToldByTheirEnds(t *testing.T) {
	var many []string
	for i := range 40 {
		many = append(many, fmt.Sprint(i+1))
	}
	assert.Equal(t, "1, 2 … 40", few(many))
	assert.Equal(t, "1, 2, 3", few(many[:3]))
	assert.Equal(t, "3", levelRange(toolpath.Stage{Name: "slot", From: 3, To: 3}))
}
