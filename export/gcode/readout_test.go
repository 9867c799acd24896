package gcode

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// readMotions returns what a job's program makes a machine do, read back from its text.
func readMotions(t *testing.T, job *toolpath.Job) []motion.Motion {
	t.Helper()
	checked, err := job.Checked()
	require.NoError(t, err)
	d, _ := dialect.Named("full-standard", nil)
	text, err := Write(checked, d, false, nil)
	require.NoError(t, err)
	read, err := Read(bytes.NewReader(text))
	require.NoError(t, err)
	return read.Motions
}

// TestTablesByHandAreThePrograms: every stop of the tables for shoulder, slot and holes
// stands where the text of the program, read back, goes, at the same depth; and every depth
// at which the program cuts is in the table.
func TestTablesByHandAreThePrograms(t *testing.T) {
	b, shop := everyBlade(t, everyOperation)
	const rounding = 2e-4 // four decimals, each way
	stops, bores := 0, 0
	for _, step := range toolpath.Sequence(b, shop) {
		job, _, err := toolpath.Plan(b, shop, step, toolpath.SetupFor(b.Bar, step.Face, toolpath.AboutX), "")
		require.NoError(t, err)
		table, holes := job.SideReadout(), job.HoleReadout()
		if len(table.Passes)+len(holes) == 0 {
			continue
		}
		read := readMotions(t, job)
		listed := map[int64]bool{}
		for _, p := range table.Passes {
			for _, l := range p.Levels {
				listed[depthKey(l.Z)] = true
				for i, place := range p.Places {
					// The outer corners of steps stand beside the program's way.
					if p.Left > 0 && i > 0 && i < len(p.Places)-1 {
						continue
					}
					if p.Down > 0 {
						continue // it goes down on the way
					}
					stops++
					assert.Less(t, nearestMotion(read, motion.Vec{X: place.X, Y: place.Y, Z: l.Z}), rounding, "%s, %+v at %g", step, place, l.Z)
				}
			}
		}
		for _, h := range holes {
			bores++
			assert.Less(t, nearestMotion(read, motion.Vec{X: h.X, Y: h.Y, Z: h.Z}), rounding, "%s, %+v", step, h)
			listed[depthKey(h.Z)] = true
		}
		lowest := math.Inf(1)
		for _, m := range read {
			lowest = math.Min(lowest, m.To.Z)
			if level := m.Kind != motion.Rapid && m.From.Z == m.To.Z && m.To.Z < -1e-9; level {
				assert.True(t, listed[depthKey(m.To.Z)], "%s cuts at Z %g", step, m.To.Z)
			}
		}
		assert.True(t, listed[depthKey(lowest)], "%s goes down to %g", step, lowest)
	}
	assert.Greater(t, stops, 50)
	assert.Positive(t, bores)
}

func depthKey(z float64) int64 { return int64(math.Round(z * 1000)) }

// nearestMotion returns how near to a place motions go that are fed.
func nearestMotion(motions []motion.Motion, at motion.Vec) float64 {
	near := math.Inf(1)
	for _, m := range motions {
		if m.Kind != motion.Line && m.Kind != motion.Arc {
			continue
		}
		if m.Kind == motion.Arc {
			near = math.Min(near, math.Min(at.Sub(m.From).Norm(), at.Sub(m.To).Norm()))
			continue
		}
		along := m.To.Sub(m.From)
		share := 0.0
		if long := along.Norm(); long > 0 {
			share = (along.X*(at.X-m.From.X) + along.Y*(at.Y-m.From.Y) + along.Z*(at.Z-m.From.Z)) / (long * long)
		}
		near = math.Min(near, at.Sub(m.From.Add(along.Scale(math.Max(0, math.Min(1, share))))).Norm())
	}
	return near
}
