package gcode

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fullerwright/profile"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/proof"
)

// TestFilesInTheirOrder: the files of a job cut the bar as the proof wants it in their
// order: one left out is found, and so are two exchanged where the cut is closed. (A
// shoulder is open to the sides of the bar, and may be entered there at any depth.)
func TestFilesInTheirOrder(t *testing.T) {
	d := dialect.FullStandard()
	d.Name, d.FileBlocksMost, d.ArcsZX = "short files", 100, false
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

// found returns what the proof of files, one after another, finds.
func found(p planned, job *toolpath.Job, read []Program) []proof.Finding {
	state := toolpath.NewBarState(p.blade, p.shop, 3)
	var proofs []toolpath.FaceProof
	for _, program := range read[:len(read)-1] {
		proofs = append(proofs, state.ProvePart(job.Step, job.Setup, job.Cutter, program.Motions))
	}
	return state.Prove(job.Step, job.Setup, job.Cutter, job.Cusp, read[len(read)-1].Motions).After(proofs...).Judged.Findings
}
