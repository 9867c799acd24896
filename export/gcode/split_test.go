package gcode

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
	"fullerwright/toolpath/proof"
)

// TestFilesInTheirOrder: the files of a job cut the bar as the proof wants it in their
// order: one left out is found, and so are two exchanged where the cut is closed. (A
// shoulder is open to the sides of the bar, and may be entered there at any depth.)
func TestFilesInTheirOrder(t *testing.T) {
	d := dialect.FullStandard()
	d.Name, d.FileBlocksMost, d.ArcsZX = "short files", 60, false
	p := plannedFor(t, d, false)
	tried := map[toolpath.Operation]bool{}
	for _, job := range p.jobs {
		if job.Step.Face != profile.Right || tried[job.Step.Operation] {
			continue
		}
		files := writtenAndRead(t, job, d, false, job.Step.String())
		if len(files) < 2 {
			continue
		}
		tried[job.Step.Operation] = true
		assert.Empty(t, found(p, job, files), "%v", job.Step)
		assert.NotEmpty(t, found(p, job, files[1:]), "%v without its first file", job.Step)
		assert.NotEmpty(t, found(p, job, files[:len(files)-1]), "%v without its last file", job.Step)
		if job.Step.Operation == toolpath.Shoulders {
			continue
		}
		exchanged := append([]Program{files[1], files[0]}, files[2:]...)
		assert.NotEmpty(t, found(p, job, exchanged), "%v with its first two files exchanged", job.Step)
	}
	for _, o := range []toolpath.Operation{toolpath.Fullers, toolpath.Shoulders, toolpath.Outline, toolpath.Slot} {
		assert.True(t, tried[o], o)
	}
}

// TestFilesEndOverTheBar: a job of short passes is broken off between them, so that no file
// goes back into a cut: the files hold no fed move more than the whole program.
func TestFilesEndOverTheBar(t *testing.T) {
	job := &toolpath.Job{Spindle: 1000, Clearance: 5}
	vec := func(x, y, z float64) motion.Vec { return motion.Vec{X: x, Y: y, Z: z} }
	for pass := range 30 {
		y := float64(pass)
		job.Moves = append(job.Moves, toolpath.Move{Kind: motion.Rapid, To: vec(0, y, 5), Purpose: toolpath.Position},
			toolpath.Move{Kind: motion.Line, To: vec(0, y, -1), Feed: 100, Purpose: toolpath.Approach})
		for i := range 12 {
			job.Moves = append(job.Moves, toolpath.Move{Kind: motion.Line, To: vec(float64(i+1), y, -1-0.01*float64(i)), Feed: 200, Purpose: toolpath.Finish})
		}
		job.Moves = append(job.Moves, toolpath.Move{Kind: motion.Rapid, To: vec(12, y, 5), Purpose: toolpath.Retract})
	}
	checked, err := job.Checked()
	require.NoError(t, err)
	d := dialect.FullStandard()
	d.FileBlocksMost = 100
	files, err := WriteFiles(checked, d, Text{})
	require.NoError(t, err)
	fed := 0
	for _, text := range files {
		read, err := Read(bytes.NewReader(text))
		require.NoError(t, err)
		for _, m := range read.Motions {
			if m.Kind == motion.Line {
				fed++
			}
		}
	}
	assert.Equal(t, 30*13, fed)
	assert.LessOrEqual(t, len(files), 8, "the files are filled")
}

// found returns what the proof of files, one after another, finds.
func found(p planned, job *toolpath.Job, read []Program) []proof.Finding {
	state := toolpath.NewBarState(p.blade, p.shop, 3)
	var proofs []toolpath.FaceProof
	for _, program := range read[:len(read)-1] {
		proofs = append(proofs, state.ProvePart(job.Step, job.Setup, job.Cutter, program.Motions))
	}
	return state.Prove(job.Step, job.Setup, job.Cutter, job.Cusp, read[len(read)-1].Motions).After(proofs...).Judged.Findings
}
