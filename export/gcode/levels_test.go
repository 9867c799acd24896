package gcode

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// TestLevelsAreMarked: in every dialect the text of a program says at the start of every
// level which it is, counted without a gap from 1 to the last; what is cut between one such
// line and the next goes down to the depth it says and no deeper; and the line, or the
// block, that is told is the one.
func TestLevelsAreMarked(t *testing.T) {
	b, shop := everyBlade(t, everyOperation+"[[fuller]]\nradius = 6\ndepth = 0.4\nfrom_spine = 20\nstart = 30\nend = 60\n")
	bare := dialect.Presets()[0]
	bare.Name, bare.Comments = "bare", dialect.NoComments
	for _, step := range toolpath.Sequence(b, shop) {
		job, _, err := toolpath.Plan(b, shop, step, toolpath.SetupFor(b.Bar, step.Face, toolpath.AboutX), "")
		require.NoError(t, err)
		checked, err := job.Checked()
		require.NoError(t, err)
		for _, d := range append(dialect.Presets(), bare) {
			if step.Bore > 0 && d.DrillCycle {
				continue // a hole is one motion of several blocks there
			}
			files, err := WriteMarked(checked, d, Text{Heading: []string{"Test"}, Number: 1})
			require.NoError(t, err)
			var said []string
			for _, f := range files {
				said = append(said, levelsHold(t, fmt.Sprintf("%s in %s", step, d.Name), f, d)...)
			}
			assert.Equal(t, wantedMarks(job), said, "%s in %s", step, d.Name)
		}
	}
}

// levelsHold looks at one file, and returns what it says.
func levelsHold(t *testing.T, name string, f File, d dialect.Dialect) (said []string) {
	lines := strings.Split(string(f.Text), "\n")
	read, err := ReadWith(bytes.NewReader(f.Text), d.Needs())
	require.NoError(t, err)
	for i, mark := range f.Levels {
		said = append(said, mark.Says())
		at := ""
		for j := mark.Line - 1; strings.HasPrefix(lines[j], "(") || strings.HasPrefix(lines[j], ";"); j++ {
			at += strings.Trim(lines[j], "();\r ") + " "
		}
		if d.Comments != dialect.NoComments {
			words := strings.Join(strings.Fields(strings.ToUpper(strings.ReplaceAll(mark.Says(), "'", " "))), " ")
			assert.Contains(t, at, words, "%s: %q", name, at)
		}
		if mark.Block > 0 {
			first := lines[mark.Line-1]
			for j := mark.Line - 1; !strings.HasPrefix(first, "N"); j++ {
				first = lines[j]
			}
			assert.True(t, strings.HasPrefix(first, fmt.Sprintf("N%d ", mark.Block)), "%s: block %d is %q", name, mark.Block, first)
		}
		next := math.MaxInt
		if i+1 < len(f.Levels) {
			next = f.Levels[i+1].Line
		}
		lowest := math.Inf(1)
		for _, m := range read.Motions {
			if m.TextLine >= mark.Line && m.TextLine < next && m.Kind != motion.Rapid {
				lowest = math.Min(lowest, m.To.Z)
			}
		}
		assert.InDelta(t, mark.Z, lowest, 6e-4, "%s: %s at line %d", name, mark.Says(), mark.Line)
	}
	return said
}

// wantedMarks returns what a program of a job must say, in order, by its figures.
func wantedMarks(j *toolpath.Job) (out []string) {
	switch {
	case j.Step.Bore > 0:
		for n := range max(1, len(j.Holes)) {
			out = append(out, fmt.Sprintf("hole %d", n+1))
		}
	case j.Step.Operation == toolpath.Fullers:
		for _, l := range j.Levels {
			of := 0
			for _, other := range j.Levels {
				if other.Fuller == l.Fuller {
					of++
				}
			}
			out = append(out, fmt.Sprintf("fuller %d, level %d of %d", l.Fuller, l.Number, of))
		}
		for _, l := range j.Lanes {
			out = append(out, fmt.Sprintf("fuller %d, finishing", l.Fuller))
		}
	case j.Step.Operation == toolpath.Marks:
		strokes := 0
		for _, m := range j.Moves {
			strokes = max(strokes, m.Lane)
		}
		levels := j.RoughLevels()
		for n := range strokes {
			for l := range levels {
				out = append(out, fmt.Sprintf("stroke %d, level %d of %d", n+1, l+1, levels))
			}
		}
	default:
		finishes := j.Step.Corner == 0 && j.Step.Operation != toolpath.Outline
		for _, s := range j.Stages {
			for l := s.From; l <= s.To; l++ {
				out = append(out, fmt.Sprintf("%s, level %d of %d", s.Name, l, j.RoughLevels()))
			}
			if finishes {
				out = append(out, s.Name+", finishing")
			}
		}
	}
	return out
}
