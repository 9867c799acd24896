package toolpath

import (
	"math"

	"fullerwright/toolpath/motion"
	"fullerwright/toolpath/proof"
)

// ProvePart is Prove for a program after which others go on with the same step: what it
// leaves is theirs to take off, and the last of them is judged for what they all leave.
func (s *BarState) ProvePart(step Step, setup Setup, cutter Cutter, motions []motion.Motion) FaceProof {
	s.unfinished = true
	p := s.Prove(step, setup, cutter, math.Inf(1), motions)
	s.unfinished = false
	return p
}

// begin makes ready for a program of a step: what was begun for another one is left as it
// is.
func (s *BarState) begin(step Step) {
	if step != s.openFor {
		s.shut()
	}
	s.openFor = step
}

// pass notes a program that has been proved.
func (s *BarState) pass(p passed) {
	s.open = append(s.open, p)
	if !s.unfinished {
		s.shut()
	}
}

// shut counts the programs of the step at hand to what has been done.
func (s *BarState) shut() {
	s.done = append(s.done, s.open...)
	s.open = nil
}

// After returns the proof of the last of several programs of one step with what the
// earlier ones did: their time, what they took off, and all findings. What is left is what
// the last one leaves.
func (p FaceProof) After(earlier ...FaceProof) FaceProof {
	worse := func(d *proof.Deviation, other proof.Deviation) {
		if other.Value > d.Value {
			*d = other
		}
	}
	var findings []proof.Finding
	for _, e := range earlier {
		p.Seconds += e.Seconds
		p.Judged.Removed += e.Judged.Removed
		p.Judged.BlocksCutting += e.Judged.BlocksCutting
		worse(&p.Judged.Gouge, e.Judged.Gouge)
		worse(&p.Judged.DeepestEngagement, e.Judged.DeepestEngagement)
		worse(&p.Judged.ThickestChip, e.Judged.ThickestChip)
		findings = append(findings, e.Judged.Findings...)
	}
	p.Judged.Findings = append(findings, p.Judged.Findings...)
	return p
}

// goOn cuts a face, as it stood before the step at hand, with the programs that have cut
// for that step so far.
func (s *BarState) goOn(m *proof.Map, lies motion.Placement) {
	for _, p := range s.open {
		m.Cut(lies, CutterOf(p.cutter), p.motions)
	}
	clear(m.Line)
}
