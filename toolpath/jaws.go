package toolpath

import (
	"math"

	"fullerwright/toolpath/motion"
)

// Span is a stretch of X in the work frame, mm.
type Span struct{ From, To float64 }

// Cut returns the stretch of X in which the cutter goes below the bar's top face.
func (j *Job) Cut() Span {
	out := Span{math.Inf(1), math.Inf(-1)}
	var at motion.Vec
	for _, m := range j.Moves {
		if m.Kind != motion.Rapid && math.Min(at.Z, m.To.Z) < 0 {
			out.From = math.Min(out.From, math.Min(at.X, m.To.X))
			out.To = math.Max(out.To, math.Max(at.X, m.To.X))
		}
		at = m.To
	}
	return out
}

// JawSpan returns where the jaws stand in X: where the setup says, or else, since the
// cut keeps clear of jaws anywhere along the bar, under the middle of the cut as far as
// the bar reaches.
func (j *Job) JawSpan(vise Vise) Span {
	if s := j.Setup; s.Jaws != [2]float64{} {
		a := s.Placement.Work(motion.Vec{X: s.Jaws[0]}).X
		b := s.Placement.Work(motion.Vec{X: s.Jaws[1]}).X
		return Span{math.Min(a, b), math.Max(a, b)}
	}
	cut, length := j.Cut(), math.Min(vise.JawLength, j.Setup.Length)
	from := (cut.From+cut.To)/2 - length/2
	from = math.Max(0, math.Min(from, j.Setup.Length-length))
	return Span{from, from + length}
}
