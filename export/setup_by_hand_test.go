package export

import (
	"fmt"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/toolpath"
)

// TestPrintedPassesAreTheTable: the rows of the sheet, followed from one to the next with
// one wheel at a time, go through the very places of the table for handwheels, each pass in
// its order, to the printed digit.
func TestPrintedPassesAreTheTable(t *testing.T) {
	s := setupOf(t, "all.toml", []byte(everyOperation), false)
	ruler, err := sheet.NewRuler()
	require.NoError(t, err)
	passes := 0
	for i, step := range s.Steps {
		if len(step.Job.SideReadout().Passes) == 0 {
			continue
		}
		var printed []string
		for _, b := range s.content(i, htmlWidth, ruler) {
			if g, ok := b.(grid); ok && len(g.head) > 2 && g.head[1] == "at X" {
				printed = append(printed, placesOf(t, g)...)
			}
		}
		var want []string
		for _, p := range step.Job.SideReadout().Passes {
			name := "wall"
			if p.Purpose != toolpath.Finish {
				name = fmt.Sprintf("%d.%d", p.Stage+1, max(1, p.Lane))
			}
			passes++
			line := name
			for _, place := range p.Places {
				line += fmt.Sprintf(" (%s,%s)", units{}.length(place.X), units{}.length(place.Y))
			}
			want = append(want, line)
		}
		assert.ElementsMatch(t, want, printed, step.Job.Step)
	}
	assert.Greater(t, passes, 15)
}

// placesOf follows the rows of a table: a row goes on from the one before where it begins at
// its end and has its name.
func placesOf(t *testing.T, g grid) (out []string) {
	x, y, name := "", "", ""
	add := func(toX, toY string) {
		for _, v := range []string{toX, toY} {
			_, err := strconv.ParseFloat(v, 64)
			require.NoError(t, err)
		}
		if x == toX && y == toY {
			return
		}
		x, y = toX, toY
		out[len(out)-1] += fmt.Sprintf(" (%s,%s)", x, y)
	}
	for _, row := range g.rows {
		if goesOn := row[0] == name && row[1] == x && row[2] == y; !goesOn {
			out, name, x, y = append(out, row[0]), row[0], "", ""
		}
		add(row[1], row[2])
		add(x, row[3])
		if row[4] != "" {
			add(row[4], y)
		}
		if len(row) == 7 && row[5] != "" {
			add(x, row[5])
		}
	}
	return out
}
