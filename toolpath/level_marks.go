package toolpath

import (
	"fmt"
	"math"

	"fullerwright/toolpath/motion"
)

// LevelMark is a place of a program at which a level begins, or the finishing, a hole, a
// stroke: where whoever takes the work up again looks for it.
type LevelMark struct {
	Move   int    // the first that belongs to it, counted from 0
	What   string // "fuller 2", "spine side", "hole 3", "stroke 5"
	Number int    // of the level; 0 for the finishing and for holes
	Of     int    // how many levels there are, as --from-level counts them
	Z      float64
	Drills bool
}

// Says returns the mark in the words of a program's comment, without its Z.
func (m LevelMark) Says() string {
	what := m.What
	if what != "" && !m.Drills {
		what += ", "
	}
	switch {
	case m.Drills:
		return what
	case m.Number == 0:
		return what + "finishing"
	}
	return fmt.Sprintf("%slevel %d of %d", what, m.Number, m.Of)
}

// LevelMarks returns where the levels of a job begin, in the order of work.
func (j *Job) LevelMarks() []LevelMark {
	var out []LevelMark
	follows := j.fullersOfMoves()
	for i, m := range j.Moves {
		if m.Purpose != Rough && m.Purpose != RampIn && m.Purpose != Finish || m.Kind == motion.Rapid {
			continue
		}
		mark := j.markOf(m, follows[i], out)
		if n := len(out) - 1; n >= 0 && out[n].Says() == mark.Says() {
			out[n].Z = math.Min(out[n].Z, m.To.Z)
			continue
		}
		mark.Move, mark.Z = j.wayTo(i), m.To.Z
		out = append(out, mark)
	}
	return out
}

// markOf returns the mark that a cutting move stands under.
func (j *Job) markOf(m Move, fuller int, before []LevelMark) LevelMark {
	mark := LevelMark{Number: m.Level, Of: j.levelsInAll()}
	switch {
	case j.Step.Bore > 0:
		mark.Drills, mark.Number, mark.What = true, 0, fmt.Sprintf("hole %d", m.Lane)
	case j.Step.Operation == Fullers && fuller > 0:
		mark.What, mark.Of = fmt.Sprintf("fuller %d", fuller), j.levelsOfFuller(fuller)
	case j.Step.Operation == Marks:
		mark.What = fmt.Sprintf("stroke %d", m.Lane)
	case len(j.Stages) == 0:
		// a groove for a scrap: there is nothing to tell apart
	case m.Level > 0:
		mark.What = j.Stages[j.stageOf(m.Level)].Name
	case len(before) > 0:
		mark.What = before[len(before)-1].What // it is finished where it was roughed
	default:
		mark.What = j.Stages[0].Name
	}
	return mark
}

// levelsInAll returns how many levels the work has, of which this job may be a part.
func (j *Job) levelsInAll() int {
	if n := len(j.Stages); n > 0 {
		return j.Stages[n-1].To
	}
	if j.SideLevel > 0 {
		return int(math.Round(j.Deepest / j.SideLevel))
	}
	return j.RoughLevels()
}

// levelsOfFuller returns how many levels a fuller is roughed in.
func (j *Job) levelsOfFuller(number int) int {
	most := 0
	for _, l := range j.Levels {
		if l.Fuller == number {
			most = max(most, l.Number)
		}
	}
	return most
}

// wayTo returns the first of the moves that lead to one: over the work and down.
func (j *Job) wayTo(i int) int {
	for i > 0 && (j.Moves[i-1].Purpose == Position || j.Moves[i-1].Purpose == Approach) {
		i--
	}
	return i
}

// fullersOfMoves returns the number of the fuller that each move cuts; zeros for jobs of
// other operations.
func (j *Job) fullersOfMoves() []int {
	out := make([]int, len(j.Moves))
	if j.Step.Operation != Fullers {
		return out
	}
	passes := j.readoutPasses()
	next := -1
	for i, m := range j.Moves {
		cutting := m.Purpose == RampIn || m.Purpose == Rough || m.Purpose == Finish
		if cutting && !m.Spring && next+1 < len(passes) && passes[next+1].first == i {
			next++
		}
		if next >= 0 {
			out[i] = passes[next].fuller
		}
	}
	return out
}
