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

// pass notes a program that has been proved. The guard's blank is no part of the bar.
func (s *BarState) pass(p passed, step Step) {
	s.open = append(s.open, p)
	if s.unfinished {
		return
	}
	if step.Operation != Slot {
		s.done = append(s.done, s.open...)
	}
	s.open = nil
}

// goOn cuts a face, as it stood before the step at hand, with the programs that have cut
// for that step so far.
func (s *BarState) goOn(m *proof.Map, lies motion.Placement) {
	for _, p := range s.open {
		m.Cut(lies, CutterOf(p.cutter), p.motions)
	}
	clear(m.Line)
}
