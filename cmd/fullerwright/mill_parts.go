package main

import (
	"fmt"
	"slices"

	"fullerwright/toolpath"
)

// parting is how the programs of an operation are parted: taken up again from a level, or
// cut on the two faces by turns, or a touch-up of one face. The zero value parts nothing.
type parting struct {
	takenUp   bool // from a level
	fromLevel int
	byTurns   bool
	touchUp   toolpath.Zeros // of a touch-up; empty for none
}

// validate checks the flags against each other.
func (p parting) validate(operation, face string) error {
	switch {
	case p.touchUp != "" && p.touchUp != toolpath.ZerosKept && p.touchUp != toolpath.ZerosNew:
		return &usageError{fmt.Sprintf("a touch-up with zeros %q is not known", p.touchUp), fmt.Sprintf("the zeros are %q, as the groove was cut with, or %q, all touched again", toolpath.ZerosKept, toolpath.ZerosNew)}
	case p.touchUp != "" && (operation != string(toolpath.Fullers) || face == "both"):
		return &usageError{"a touch-up is of the fullers of one face", "name it with --face, and leave --op out"}
	case p.touchUp != "" && (p.takenUp || p.byTurns):
		return &usageError{"a touch-up has no parts", "leave out --from-level and --by-turns"}
	case p.takenUp && p.fromLevel < 1:
		return &usageError{fmt.Sprintf("there is no level %d", p.fromLevel), "levels are counted from 1, as the program's comments and the setup sheet count them; for all of it leave --from-level out"}
	case p.takenUp && operation == string(toolpath.Holes):
		return &usageError{"holes have no levels to take up", "run the program again from its start: in holes that are drilled it cuts air; leave --from-level out"}
	case p.takenUp && p.byTurns:
		return &usageError{"a program is taken up again on one face, not on both by turns", "use --from-level or --by-turns"}
	case p.byTurns && operation != string(toolpath.Fullers):
		return &usageError{"only fullers are cut by turns", "leave --by-turns out"}
	case p.byTurns && face != "both":
		return &usageError{"cutting by turns takes both faces", "leave --face out"}
	}
	return nil
}

// ofBothFaces reports whether there is a program for each face.
func (w *work) ofBothFaces() bool {
	return slices.ContainsFunc(w.faces, func(f faceWork) bool { return f.job.Step.Face != w.faces[0].job.Step.Face })
}

// part replaces the work planned by its parts.
func (p parting) part(w *work) error {
	switch {
	case p.takenUp && w.ofBothFaces():
		return &usageError{"a program is taken up again on one face", "name it with --face"}
	case p.takenUp:
		for i := range w.faces {
			if s := w.faces[i].job.Step; s.Corner > 0 || s.Bore > 0 {
				continue // whole: with another cutter
			}
			if err := p.takeUp(&w.faces[i]); err != nil {
				return err
			}
		}
	case p.byTurns && len(w.faces) != 2:
		return &usageError{"cutting by turns takes a fuller in both faces", "leave --by-turns out"}
	case p.byTurns:
		var out []faceWork
		for i, turn := range toolpath.Turns(w.faces[0].job, w.faces[1].job) {
			f := w.faces[0]
			if turn.Job == w.faces[1].job {
				f = w.faces[1]
			}
			f.job, _ = turn.Job.Parted(turn.Part)
			f.job.Named = fmt.Sprintf("%02d-%s-%s", i+1, f.job.Step, turn.Part.Slug())
			f.part, f.whole = &turn.Part, turn.Job
			out = append(out, f)
		}
		w.faces = out
	}
	return nil
}

// sayLevels says which levels a job can be taken up at.
func sayLevels(j *toolpath.Job, levels int) string {
	for _, m := range j.Moves {
		if m.Purpose == toolpath.Finish {
			return fmt.Sprintf("it has %s, and level %d is its finishing: from 1 to %d would do", plural(levels, "level", "levels"), levels+1, levels+1)
		}
	}
	return fmt.Sprintf("it has %s and no finishing: from 1 to %d would do", plural(levels, "level", "levels"), levels)
}

// takeUp leaves of a job what is below the level it is taken up at.
func (p parting) takeUp(f *faceWork) error {
	levels := f.job.RoughLevels()
	part := toolpath.Part{From: p.fromLevel, To: levels, Finish: true}
	job, before := f.job.Parted(part)
	if len(job.Moves) == 0 || p.fromLevel > levels+1 {
		return &usageError{fmt.Sprintf("%s has no level %d", f.job.Step, p.fromLevel), sayLevels(f.job, levels)}
	}
	job.Named = fmt.Sprintf("%s-%s", job.Step, part.Slug())
	f.job, f.whole, f.before, f.part = job, f.job, before, &part
	return nil
}

// partHeading says in a program's heading which part of the work it is.
func (f faceWork) partHeading() []string {
	if f.part == nil {
		return nil
	}
	lines := []string{"Part of the work: " + f.part.String()}
	if len(f.before) > 0 {
		lines = append(lines, fmt.Sprintf("All levels before level %d must be cut", f.part.From))
	}
	return lines
}
