package export

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/toolpath"
	"fullerwright/toolpath/mismatch"
)

// TestMismatchOfBothTurnsIsPrinted: the sheet of a second face has all five parts of the
// prediction for both turns, likely and at worst, to the printed digit, and says which turn
// is taken.
func TestMismatchOfBothTurnsIsPrinted(t *testing.T) {
	s := patternSetup(t, "tarn", false)
	t.Run("fullers", func(t *testing.T) {
		step := 1
		require.Equal(t, profile.Left, s.Steps[step].Job.Setup.Face)
		turning := toolpath.TurningFor(toolpath.Fullers, s.Blade, s.Shop)
		printed := map[string][]string{}
		head := ""
		for _, g := range gridsOf(t, s, step, "about Y, here") {
			head = strings.Join(g.head, " ")
			for _, row := range g.rows {
				printed[row[0]] = row[1:]
			}
		}
		assert.Contains(t, head, "about X at worst")
		parts := func(m mismatch.Mismatch) []mismatch.Budget {
			return []mismatch.Budget{m.Across, m.Along, m.Askew, m.Depth, m.WebLoss}
		}
		for i, name := range []string{"across the blade", "along the blade", "askew, over its length", "in depth", "lost of the web"} {
			y, x := parts(turning.AboutY)[i], parts(turning.AboutX)[i]
			want := []string{}
			for _, v := range []float64{y.Likely(), y.Worst(), x.Likely(), x.Worst()} {
				want = append(want, fmt.Sprintf("%.3f", v))
			}
			assert.Equal(t, want, printed[name], name)
		}
	})
}

// TestSweepIsAlwaysTold: a shoulder of 0.05 mm for the file on a blade 25 mm wide is square
// while the jaw runs out by no more than 0.2 mm over 100 mm, and two setups meet while it is
// half of that; at a fortieth of a degree the shop reckons with 0.0436 mm.
func TestSweepIsAlwaysTold(t *testing.T) {
	s := setupOf(t, "all.toml", []byte(everyOperation), false)
	s.Shop.Errors.JawSweep = 3.14159265 / 180 / 40
	s.Blade.Knife.Ricasso.Width, s.Blade.Knife.Shoulder.FileStock = profile.Some(25.0), 0.05
	require.InDelta(t, 25, s.Blade.Knife.RicassoWidth(), 1e-9)
	ruler, err := sheet.NewRuler()
	require.NoError(t, err)
	for i, step := range s.Steps {
		said := ""
		for _, b := range s.content(i, htmlWidth, ruler) {
			if f, ok := b.(facts); ok {
				for _, row := range f.rows {
					if row[0] == "Fixed jaw" {
						said += row[1]
					}
				}
			}
		}
		switch j := step.Job; {
		case j.Setup.Blank || j.Setup.Plate || j.Step.Corner > 0:
			assert.Empty(t, said, j.Step)
		case j.Step.Operation == toolpath.Shoulders:
			assert.Contains(t, said, "up to 0.2000 mm the shoulder stays square, and up to 0.1000 mm those of two setups meet", j.Step)
			fallthrough
		default:
			assert.Contains(t, said, "swept to 0.0436 mm over 100.000 mm", j.Step)
		}
	}
}
