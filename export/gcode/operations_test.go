package gcode

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// everyOperation is a knife that asks for every operation.
const everyOperation = `
name = "Every"
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
length = 90
corner_radius = 4
[shoulder]
top = 7
face_step = 0.3
[bevel]
height = 15
[guard]
length = 40
width = 14
thickness = 6
[mark]
text = "S8"
height = 3
at = 110
from_spine = 6
face = "left"
[outline]
hold = "tabs"
[bar]
tang_allowance = 30
point_allowance = 30
[[fuller]]
radius = 6
depth = 0.7
from_spine = 10
start = 22
end = 85
[[hole]]
at = -60
from_spine = 13.5
diameter = 4
`

// everyBlade returns the blade of a knife file, and the built-in shop.
func everyBlade(t *testing.T, text string) (profile.Blade, toolpath.Shop) {
	t.Helper()
	k, err := profile.Parse("every.toml", []byte(text))
	require.NoError(t, err)
	b, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	shop, err := toolpath.ParseShop("shop.toml", templates.Shop())
	require.NoError(t, err)
	return b, shop
}

// TestEveryOperationInEveryDialect writes each operation in each dialect, in millimetres
// and in inches, reads it back and cuts the bar with what was read: alike to a few
// micrometres, gouging nowhere more than the text rounds. Dialects with arcs must read back
// to the very same motions, so that one of them is cut. Where a dialect has no arcs their
// chords lie on the side away from the steel; the line of a mark has steel on both sides,
// and its wall is steeper than it is far off.
func TestEveryOperationInEveryDialect(t *testing.T) {
	b, shop := everyBlade(t, everyOperation)
	seen := map[toolpath.Operation]bool{}
	for _, step := range toolpath.Sequence(b, shop) {
		job, _, err := toolpath.Plan(b, shop, step, toolpath.SetupFor(b.Bar, step.Face, toolpath.AboutX), "")
		require.NoError(t, err, "%v", step)
		checked, err := job.Checked()
		require.NoError(t, err, "%v", step)
		seen[step.Operation] = true
		arcs := map[bool][]motion.Motion{}
		for _, dialect := range dialect.Presets() {
			for _, inch := range []bool{false, true} {
				text, err := Write(checked, dialect, inch, nil)
				require.NoError(t, err)
				read, err := Read(bytes.NewReader(text))
				require.NoError(t, err, "%v, %s", step, dialect.Name)
				if dialect.ArcsXY {
					motions := withoutLines(read.Motions)
					if arcs[inch] != nil {
						require.Equal(t, arcs[inch], motions, "%v, %s", step, dialect.Name)
						continue
					}
					arcs[inch] = motions
				}
				result := toolpath.NewBarState(b, shop, 3).Prove(step, job.Setup, job.Cutter, job.Cusp, read.Motions)
				assert.Empty(t, result.Judged.Findings, "%v, %s, inch %v", step, dialect.Name, inch)
				allowed := 2e-4
				if step.Operation == toolpath.Marks && !dialect.ArcsXY {
					allowed += writerChordError * math.Tan(math.Asin(profile.MarkShare))
				}
				assert.Less(t, result.Judged.Gouge.Value, allowed, "%v, %s, inch %v at %+v", step, dialect.Name, inch, result.Judged.Gouge)
			}
		}
	}
	assert.Len(t, seen, len(toolpath.Operations()))
}

// TestEveryOperationInATaperedBar: a bar whose faces are ground to the taper before it is
// milled is cut right by every operation, on both faces, each after those before it.
func TestEveryOperationInATaperedBar(t *testing.T) {
	const taper = "[[taper]]\nat = 30\nthickness = 4.3\n[[taper]]\nat = 140\nthickness = 2.6\n"
	text := strings.Replace(everyOperation, "[bar]", taper+"[bar]\ntapered = \"before milling\"", 1)
	b, shop := everyBlade(t, text)
	state := toolpath.NewBarState(b, shop, 3)
	seen := map[toolpath.Operation]bool{}
	for _, step := range toolpath.Sequence(b, shop) {
		job, _, err := toolpath.Plan(b, shop, step, toolpath.SetupFor(b.Bar, step.Face, toolpath.AboutY), "")
		require.NoError(t, err, "%v", step)
		checked, err := job.Checked()
		require.NoError(t, err, "%v", step)
		seen[step.Operation] = true
		text, err := Write(checked, dialect.Presets()[0], false, nil)
		require.NoError(t, err)
		read, err := Read(bytes.NewReader(text))
		require.NoError(t, err, "%v", step)
		result := state.Prove(step, job.Setup, job.Cutter, job.Cusp, read.Motions)
		assert.Empty(t, result.Judged.Findings, "%v", step)
		assert.Less(t, result.Judged.Gouge.Value, 2e-4, "%v at %+v", step, result.Judged.Gouge)
	}
	assert.Len(t, seen, len(toolpath.Operations()))
	assert.Empty(t, state.JudgeFaces().Findings)
}

// withoutLines returns motions without the lines that made them.
func withoutLines(motions []motion.Motion) []motion.Motion {
	out := slices.Clone(motions)
	for i := range out {
		out[i].TextLine = 0
	}
	return out
}
