package toolpath

import (
	"errors"
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// PlanError says why an operation cannot be planned at all.
type PlanError struct{ Problem, Remedy string }

// Error says the problem and the way out.
func (e *PlanError) Error() string { return e.Problem + "; " + e.Remedy }

// RefusedError says why a bar must not be milled as it is.
type RefusedError struct{ PlanError }

// PlanFullers plans the fullers of one face with the cutter of the given name, or,
// where name is empty, with the one of the drawer that passes every check in the
// least time. It returns the best job, which may still be stopped by its checks, and
// why each other cutter lost.
func PlanFullers(b profile.Blade, shop Shop, setup Setup, name string) (*Job, []Candidate, error) {
	if len(b.Grooves(setup.Face)) == 0 {
		return nil, nil, &PlanError{fmt.Sprintf("there is no fuller in the %s face", setup.Face), "give the knife a [[fuller]]"}
	}
	data, err := shop.steelData(b)
	if err != nil {
		return nil, nil, err
	}
	var refused *cutting.Refusal
	smallest := smallestRadius(b, setup.Face)
	best, candidates := shop.choose(name, func(cutter Cutter) (*Job, string) {
		switch {
		case cutter.End != BallEnd:
			return nil, "its end is not a ball"
		case cutter.Radius() > smallest+radiusSlack && name == "":
			return nil, fmt.Sprintf("its radius, %.3f mm, is greater than the groove's, %.3f mm", cutter.Radius(), smallest)
		case errors.As(data.Refuses(cutter.tool()), &refused):
			return nil, refused.Error()
		}
		if greatest := greatestRadius(b, setup.Face); cutter.Radius() < greatest/mostTimes && name == "" {
			return nil, fmt.Sprintf("its radius, %.3f mm, is less than an eighth of the groove's, %.3f mm: it would take hours", cutter.Radius(), greatest)
		}
		return planFullersWith(b, shop, setup, cutter), ""
	})
	switch {
	case best == nil && refused != nil:
		return nil, candidates, &PlanError{refused.Reason, refused.Remedy}
	case best == nil:
		return nil, candidates, noCutter(b, shop, setup.Face, name)
	}
	return best, candidates, nil
}

// radiusSlack is how far a cutter may be larger than its groove and count as equal,
// mm: under the roundness of any ground ball.
const radiusSlack = 0.0005

// mostTimes is how many times its own radius a groove may have before a cutter is not
// tried for it (judgement): lanes grow with the ratio, and levels too.
const mostTimes = 8

func greatestRadius(b profile.Blade, face profile.Face) float64 {
	greatest := 0.0
	for _, g := range b.Grooves(face) {
		greatest = math.Max(greatest, g.Radius)
	}
	return greatest
}

func smallestRadius(b profile.Blade, face profile.Face) float64 {
	smallest := math.Inf(1)
	for _, g := range b.Grooves(face) {
		smallest = math.Min(smallest, g.Radius)
	}
	return smallest
}

func noCutter(b profile.Blade, shop Shop, face profile.Face, name string) error {
	var names []string
	for _, c := range shop.Cutters {
		names = append(names, c.Name)
		if c.Name == name {
			return &PlanError{fmt.Sprintf("the cutter %q has no ball end", name), "fullers need a ball end"}
		}
	}
	if name != "" {
		return &PlanError{fmt.Sprintf("there is no cutter %q in the drawer", name), fmt.Sprintf("the drawer holds %q", names)}
	}
	radius := smallestRadius(b, face)
	remedy := fmt.Sprintf("a ball of up to %.3f mm diameter would do", 2*radius)
	return &PlanError{fmt.Sprintf("no ball in the drawer fits a groove of radius %.3f mm", radius), remedy + shop.tilted(b, face, radius)}
}

// tilted offers the largest square end mill of the drawer that a head can tilt so far that it
// leaves a groove of the given radius at its floor, as deep as the fullers of a face that
// have that radius; nothing where there is none.
func (s Shop) tilted(b profile.Blade, face profile.Face, radius float64) string {
	depth := 0.0
	for _, f := range b.On(face).Fullers {
		if f.Size.Cut(face) && f.Milled.Radius <= radius {
			depth = math.Max(depth, newFullerCut(b, f, radius, 0).deepest)
		}
	}
	best, tilt := Cutter{}, 0.0
	for _, c := range s.Cutters {
		angle, fits := cutting.TiltFor(c.Radius(), radius)
		if c.End == SquareEnd && fits && depth <= c.Radius()*math.Sin(angle) && c.Radius() > best.Radius() {
			best, tilt = c, angle
		}
	}
	if tilt == 0 {
		return ""
	}
	width := cutting.TiltedWidth(best.Radius(), tilt, depth)
	return fmt.Sprintf("; by hand, on a mill whose head tilts, the cutter %q tilted %.2f degrees along the groove leaves that radius at its floor: at the greatest depth, %.3f mm, it is %.3f mm wide instead of %.3f, and its lips stand up to %.3f mm over the arc, and its run-outs at the two ends differ",
		best.Name, tilt*180/math.Pi, depth, width, profile.GrooveWidth(radius, depth), cutting.TiltedOverArc(best.Radius(), tilt, depth))
}

// planFullersWith plans all fullers of a face with one cutter. A cutter too large is
// planned as if it fitted, so that its check can say what would.
func planFullersWith(b profile.Blade, shop Shop, setup Setup, cutter Cutter) *Job {
	b = b.On(setup.Face)
	data, _ := shop.steelData(b)
	job := &Job{Step: Step{Operation: Fullers, Face: setup.Face}, Name: b.Knife.Name, Steel: b.Knife.Blade.Steel, Setup: setup, Cutter: cutter,
		Coolant: shop.Machine.Coolant}
	var cuts []fullerCut
	for i, f := range b.Fullers {
		if f.Size.Cut(setup.Face) {
			cut := newFullerCut(b, f, math.Min(cutter.Radius(), f.Milled.Radius), shop.Work.FinishStock)
			cut.fuller = i + 1
			cuts = append(cuts, cut)
		}
	}
	job.cutGrooves(shop, data, cuts, highestFace(b.Bar))
	job.Checks = job.fullerChecks(b, shop, data, cuts)
	return job
}

// cutGrooves makes the moves of a job that cuts grooves in a face of the given height.
func (j *Job) cutGrooves(shop Shop, data cutting.Data, cuts []fullerCut, high float64) {
	var levels [][]level
	var lanes [][]lane
	clearance := high + shop.Work.Clearance
	for _, cut := range cuts {
		l, pitch := cut.lanes(shop.Limits.Cusp)
		lanes, levels = append(lanes, l), append(levels, cut.bestLevels(shop, data, j.Cutter, &course{setup: j.Setup, clearance: clearance}))
		j.note(cut, levels[len(levels)-1], len(l), pitch)
		j.Lanes[len(j.Lanes)-1].Spring = shop.Work.SpringPass
	}
	j.speeds(shop, j.fullerWork(shop, data, cuts))
	course := &course{setup: j.Setup, clearance: clearance}
	done := 0
	for i, cut := range cuts {
		cut.rough(course, levels[i], j.levelFeeds(shop, done), shop.ramp())
		done += len(levels[i])
	}
	for i, cut := range cuts {
		cut.finish(course, lanes[i], j.Feeds)
	}
	if course.spring = shop.Work.SpringPass; course.spring {
		for i, cut := range cuts {
			cut.finish(course, lanes[i], j.Feeds)
		}
	}
	course.retract()
	j.Moves = course.moves
	j.Clearance = j.Setup.Placement.Work(motion.Vec{Z: clearance}).Z
	j.measure(shop.Machine)
}

// note records the levels and lanes of one fuller for sheets and reports.
func (j *Job) note(cut fullerCut, levels []level, lanes int, pitch float64) {
	for _, l := range levels {
		j.Levels = append(j.Levels, LevelFigures{Fuller: cut.fuller, Number: l.number, Passes: len(l.passes), Depth: l.depth, Total: l.total,
			Engaged: l.engaged(cut.cutter)})
	}
	cusp := 0.0
	if lanes > 1 {
		cusp = cutting.ConcaveCusp(cut.groove.Radius, cut.cutter, pitch)
	}
	j.Lanes = append(j.Lanes, LaneFigures{Fuller: cut.fuller, Count: lanes, Pitch: pitch, Cusp: cusp})
	j.Cusp = math.Max(j.Cusp, cusp)
}

func sayTime(seconds float64) string {
	whole := int(math.Round(seconds))
	return fmt.Sprintf("%d min %02d s", whole/60, whole%60)
}
