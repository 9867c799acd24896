package toolpath

import (
	"fmt"
	"strings"

	"fullerwright/toolpath/motion"
)

// Part is a part of a program in levels: from one level of roughing to another, counted
// from 1, and the finishing or not. A program is parted to be taken up again after a
// broken cutter or a power cut, and to cut the two faces by turns so that the bar stays
// straight.
type Part struct {
	From, To int
	Finish   bool
}

// String says what a part holds.
func (p Part) String() string {
	levels := fmt.Sprintf("levels %d to %d", p.From, p.To)
	if p.From == p.To {
		levels = fmt.Sprintf("level %d", p.From)
	}
	switch {
	case p.From > p.To:
		return "finishing"
	case p.Finish:
		return levels + " and finishing"
	}
	return levels
}

// Slug says the same for the name of a file.
func (p Part) Slug() string {
	return strings.NewReplacer(" ", "-").Replace(strings.Replace(p.String(), "levels ", "level-", 1))
}

// RoughLevels returns how many levels of roughing a job's moves have.
func (j *Job) RoughLevels() int {
	most := 0
	for _, m := range j.Moves {
		most = max(most, m.Level)
	}
	return most
}

// holds reports whether a move belongs to the part.
func (p Part) holds(m Move) bool { return p.Holds(m.Level) }

// Holds reports whether a level of roughing, or 0 for the finishing, belongs to the part.
func (p Part) Holds(level int) bool {
	if level == 0 {
		return p.Finish
	}
	return level >= p.From && level <= p.To
}

// Parted returns the job of a part, without moves where there is nothing to cut in it, and
// the moves that must have been made before it: all levels above. Wherever moves are left
// out its entry is safe: over the place where it goes on, and straight down through what
// the moves before have cleared.
func (j *Job) Parted(p Part) (part *Job, before []Move) {
	out := *j
	out.Moves = j.picked(p.holds)
	out.Length, out.Seconds = 0, 0
	return &out, j.picked(func(m Move) bool { return m.Level > 0 && m.Level < p.From })
}

// picked returns the moves that are wanted, with a safe way over every gap between them.
func (j *Job) picked(wanted func(Move) bool) []Move {
	var out []Move
	cuts := false
	for i, m := range j.Moves {
		if !wanted(m) {
			continue
		}
		gap := i > 0 && (len(out) == 0 || !wanted(j.Moves[i-1]))
		if gap && len(out) > 0 {
			out = append(out, j.raised(out[len(out)-1].To, Retract))
		}
		if gap && m.Purpose == Retract {
			continue // it is up already
		}
		if gap && m.Purpose != Position {
			place := j.Moves[i-1].To
			out = append(out, j.raised(place, Position), Move{Kind: motion.Line, To: place, Feed: j.Feeds.Plunge, Purpose: Approach})
		}
		cuts = cuts || m.Purpose.cuts()
		out = append(out, m)
	}
	if !cuts {
		return nil
	}
	if last := out[len(out)-1].To; last.Z < j.Clearance {
		out = append(out, j.raised(last, Retract))
	}
	return out
}

// Leave returns the way up from a place at which a program is broken off.
func (j *Job) Leave(at motion.Vec) []Move {
	if at.Z >= j.Clearance {
		return nil
	}
	return []Move{j.raised(at, Retract)}
}

// Resume returns the safe way back to a place at which a program was broken off, before
// the move that goes on from there: over the place, and straight down, fed, through what
// the moves before have cleared. Before a rapid move the way ends over the place: what is
// left of the rapid is across, over the bar, and down to where it ends.
func (j *Job) Resume(at motion.Vec, next Move) []Move {
	over := j.raised(at, Position)
	if at.Z >= j.Clearance || next.Kind == motion.Rapid {
		return []Move{over}
	}
	return []Move{over, {Kind: motion.Line, To: at, Feed: j.Feeds.Plunge, Purpose: Approach, Level: next.Level, Lane: next.Lane}}
}

// raised returns the rapid move to over a place.
func (j *Job) raised(place motion.Vec, purpose Purpose) Move {
	place.Z = j.Clearance
	return Move{Kind: motion.Rapid, To: place, Purpose: purpose}
}

// Assume cuts the bar with moves as they were planned: what was done before the program
// that is to be proved.
func (s *BarState) Assume(j *Job, moves []Move) {
	if len(moves) == 0 {
		return
	}
	motions := motionsOf(moves, motion.Vec{X: moves[0].To.X, Y: moves[0].To.Y, Z: j.Clearance})
	for i := range motions {
		motions[i].Spindle, motions[i].Speed = motion.SpindleClockwise, j.Spindle
	}
	if j.Step.Operation == Fullers {
		s.faces[j.Setup.Face].Cut(j.Setup.Placement, CutterOf(j.Cutter), motions)
	}
	s.done = append(s.done, passed{j.Setup, j.Cutter, motions})
}

// Turn is a part of one face's job in a set that cuts the two faces by turns.
type Turn struct {
	Job  *Job
	Part Part
}

// Turns returns the parts of the two faces' jobs, one level of each by turns, so that the
// bar is opened alike on both sides and stays straight; then the finishing of each.
func Turns(right, left *Job) []Turn {
	var out []Turn
	for level := 1; level <= max(right.RoughLevels(), left.RoughLevels()); level++ {
		for _, j := range []*Job{right, left} {
			if level <= j.RoughLevels() {
				out = append(out, Turn{j, Part{From: level, To: level}})
			}
		}
	}
	for _, j := range []*Job{right, left} {
		out = append(out, Turn{j, Part{From: j.RoughLevels() + 1, To: j.RoughLevels(), Finish: true}})
	}
	return out
}
