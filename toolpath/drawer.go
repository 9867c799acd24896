package toolpath

import (
	"fmt"
	"strings"
)

// Candidate is one cutter of the drawer tried for a job.
type Candidate struct {
	Cutter Cutter
	Job    *Job // nil where it cannot do the job at all
	Why    string
}

// attempt plans a job with one cutter. It returns why it cannot where the cutter is of
// the wrong kind or does not fit at all.
type attempt func(Cutter) (job *Job, unfit string)

// AnyCutter returns the shop for asking whether work can be done at all: of the cutters that
// do an operation with no stop the first in the drawer is taken, and not the fastest. Where
// none does, what stops is the same.
func (s Shop) AnyCutter() Shop {
	s.anyCutter = true
	return s
}

// choose tries every cutter of the drawer, or only the one of the given name, and
// returns the job that passes every check and does it best (better), the other
// candidates with why each lost, and nil where no cutter fits.
func (s Shop) choose(name string, try attempt) (*Job, []Candidate) {
	var candidates []Candidate
	var best *Job
	for _, cutter := range s.Cutters {
		if name != "" && cutter.Name != name {
			continue
		}
		c := Candidate{Cutter: cutter}
		c.Job, c.Why = try(cutter)
		if c.Job != nil && (best == nil || better(c.Job, best)) {
			best = c.Job
		}
		candidates = append(candidates, c)
		if s.anyCutter && best != nil && len(Stops(best.Checks)) == 0 {
			break
		}
	}
	for i := range candidates {
		candidates[i].explain(best)
	}
	return best, candidates
}

// better reports whether job a is to be preferred to b: fewer stops, then the corner that
// is wanted at the foot of a face step, then less time.
func better(a, b *Job) bool {
	if x, y := len(Stops(a.Checks)), len(Stops(b.Checks)); x != y {
		return x < y
	}
	if x, y := a.wrongFoot(), b.wrongFoot(); (x == nil) != (y == nil) {
		return x == nil
	}
	return a.Seconds < b.Seconds
}

// wrongFoot returns the check on the corner at the foot of a face step where that is left
// sharp, or rounder than the guard clears; nil where it is not.
func (j *Job) wrongFoot() *Check {
	for i, c := range j.Checks {
		if c.Name == footCorner && c.Verdict != OK {
			return &j.Checks[i]
		}
	}
	return nil
}

func (c *Candidate) explain(best *Job) {
	switch {
	case c.Job == nil:
	case c.Job == best:
		c.Why = "chosen"
	case len(Stops(c.Job.Checks)) > 0:
		c.Why = "stopped: " + Stops(c.Job.Checks)[0].String()
	case c.Job.wrongFoot() != nil && best.wrongFoot() == nil:
		c.Why = c.Job.wrongFoot().String()
	default:
		c.Why = fmt.Sprintf("takes %s, the chosen one %s", sayTime(c.Job.Seconds), sayTime(best.Seconds))
	}
}

// unfitError says that no cutter of the drawer can do a job, and what would.
func (s Shop) unfitError(name string, candidates []Candidate, work, remedy string) error {
	if name != "" && len(candidates) == 0 {
		var names []string
		for _, c := range s.Cutters {
			names = append(names, c.Name)
		}
		return &PlanError{fmt.Sprintf("there is no cutter %q in the drawer", name), fmt.Sprintf("the drawer holds %q", names)}
	}
	var why []string
	for _, c := range candidates {
		why = append(why, fmt.Sprintf("%s: %s", c.Cutter.Name, c.Why))
	}
	return &NoCutterError{PlanError{fmt.Sprintf("no cutter of the drawer can mill %s (%s)", work, strings.Join(why, "; ")), remedy}}
}

// NoCutterError says that the drawer holds no cutter for an operation: the operation
// must be done by hand, or a cutter bought.
type NoCutterError struct{ PlanError }
