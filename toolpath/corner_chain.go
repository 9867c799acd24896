package toolpath

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fullerwright/profile"
	"fullerwright/profile/document"
)

// CornerJob is a program that mills inside corners alone, after one that left them too round,
// with why each other cutter lost.
type CornerJob struct {
	Job        *Job
	Candidates []Candidate
}

// PlanCorners plans the programs that mill the inside corners which a job leaves too round,
// each with a smaller cutter of the drawer in the same setup: those that take the least time
// in all. There are none where the corners are as they may be, or where no cutter can get them
// so; the job's own check then says why, and which cutter would do. Where there are any, the
// check is theirs.
func PlanCorners(b profile.Blade, shop Shop, after *Job) []CornerJob {
	w, ok := cornerWorkAfter(b, shop, after)
	if !ok || len(Stops(after.Checks)) > 0 {
		return nil
	}
	best := w.chain(b, shop, cornerPrograms)
	if best.jobs == nil {
		w.sayWhyNot(shop, best.candidates)
		return nil
	}
	for i := range best.jobs {
		job := after
		if i > 0 {
			job = best.jobs[i-1].Job
		}
		job.Checks = slices.DeleteFunc(job.Checks, func(c Check) bool { return c.Name == w.corner(0).Name })
	}
	return best.jobs
}

const (
	// cornerPrograms is how many programs for the corners there may be after one another
	// (judgement).
	cornerPrograms = 2
	// changeTime is how long it takes to change a cutter and touch it off, s (judgement).
	changeTime = 180
)

// cornerChain is one way to mill the corners: programs in their order, nil for none.
type cornerChain struct {
	jobs       []CornerJob
	seconds    float64
	candidates []Candidate
}

// chain returns the quickest way to the corners as they may be, in at most so many programs.
func (w cornerWork) chain(b profile.Blade, shop Shop, programs int) cornerChain {
	best := cornerChain{seconds: math.Inf(1)}
	var ways []cornerChain
	for _, cutter := range shop.Cutters {
		c := Candidate{Cutter: cutter}
		c.Job, c.Why = w.planWith(shop, cutter)
		way := w.onward(b, shop, &c, programs)
		best.candidates, ways = append(best.candidates, c), append(ways, way)
		if way.jobs != nil && way.seconds < best.seconds {
			best.jobs, best.seconds = way.jobs, way.seconds
		}
	}
	if best.jobs == nil {
		return best
	}
	for i := range best.candidates {
		switch c := &best.candidates[i]; {
		case c.Job == best.jobs[0].Job:
			c.Why = "chosen"
		case ways[i].jobs != nil:
			c.Why = fmt.Sprintf("takes %s with the change of cutters, the chosen way %s", sayTime(ways[i].seconds), sayTime(best.seconds))
		}
	}
	best.jobs[0].Candidates = best.candidates
	return best
}

// onward returns the way that begins with a candidate's job, and says in the candidate why
// there is none.
func (w cornerWork) onward(b profile.Blade, shop Shop, c *Candidate, programs int) cornerChain {
	if c.Job == nil {
		return cornerChain{}
	}
	if stops := Stops(c.Job.Checks); len(stops) > 0 {
		c.Why = "stopped: " + stops[0].String()
		return cornerChain{}
	}
	way := cornerChain{jobs: []CornerJob{{Job: c.Job}}, seconds: c.Job.Seconds + changeTime}
	next, left := cornerWorkAfter(b, shop, c.Job)
	if !left {
		if check := w.cornerCheckOf(c.Job); check.Verdict != OK {
			c.Why = check.String()
			return cornerChain{}
		}
		return way
	}
	c.Why = fmt.Sprintf("leaves a corner of %.2f mm", c.Job.Corner)
	if programs == 1 {
		return cornerChain{}
	}
	rest := next.chain(b, shop, programs-1)
	if rest.jobs == nil {
		return cornerChain{}
	}
	way.jobs, way.seconds = append(way.jobs, rest.jobs...), way.seconds+rest.seconds
	return way
}

// cornerCheckOf returns a job's check on the corner that it leaves.
func (w cornerWork) cornerCheckOf(j *Job) Check {
	i := slices.IndexFunc(j.Checks, func(c Check) bool { return c.Name == w.corner(0).Name })
	return j.Checks[i]
}

// sayWhyNot adds to the check on the corner that is left which cutter would mill it, and why
// the small ones of the drawer do not.
func (w cornerWork) sayWhyNot(shop Shop, candidates []Candidate) {
	var why []string
	for _, c := range candidates {
		if c.Cutter.End == SquareEnd && w.to(c.Cutter) <= w.most() {
			why = append(why, fmt.Sprintf("%s: %s", c.Cutter.Name, c.Why))
		}
	}
	i := slices.IndexFunc(w.after.Checks, func(c Check) bool { return c.Name == w.corner(0).Name })
	check := &w.after.Checks[i]
	if check.Verdict == OK {
		return
	}
	if len(why) > 0 {
		check.Remedy = check.Remedy.And("; a smaller cutter cannot mill it (%s)", document.Words(strings.Join(why, "; ")))
		return
	}
	widest := 2 * (w.most() - bentCorner(0, shop.Limits.CutterBendFinishing))
	if widest*slenderest < w.top-w.bottom {
		return // no cutter so thin reaches so deep
	}
	check.Remedy = check.Remedy.And("; or put a square end mill of up to %.2f mm with flutes of %.2f mm into the drawer to mill it", under(widest), over(w.top-w.bottom))
}
