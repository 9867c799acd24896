package toolpath

import (
	"fmt"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
)

// Operation is a kind of work on the mill.
type Operation string

// The operations.
const (
	Fullers   Operation = "fuller"   // the fullers of one face
	Shoulders Operation = "shoulder" // the step from blade to tang
	Holes     Operation = "holes"    // pins, dowels, holes to be tapped
	Marks     Operation = "mark"     // the maker's mark
	Outline   Operation = "outline"  // the rough profile out of the bar
	Slot      Operation = "slot"     // of the guard, in a blank of its own
)

// Step is one program of the sequence: an operation on one face.
type Step struct {
	Operation Operation
	Face      profile.Face
	Bore      float64 // diameter of the holes, also of that in a slot, mm; 0 for milling
	Corner    int     // 1 where it mills the inside corners alone that the program before left, 2 what that one left of them; 0 for all else
}

// String names the step as its files are named: the operation, for holes their bore, and
// the face.
func (s Step) String() string {
	corner := ""
	switch {
	case s.Corner == 1:
		corner = "-corners"
	case s.Corner > 1:
		corner = fmt.Sprintf("-corners-%d", s.Corner)
	}
	switch {
	case s.Operation == Slot && s.Bore > 0:
		return fmt.Sprintf("%s-hole-%.2f", s.Operation, s.Bore)
	case s.Operation == Slot, s.Operation == Outline:
		return string(s.Operation) + corner
	}
	if s.Bore > 0 {
		return fmt.Sprintf("%s-%.2f-%s", s.Operation, s.Bore, s.Face)
	}
	return fmt.Sprintf("%s%s-%s", s.Operation, corner, s.Face)
}

// Sequence returns the steps of a blade in the order of work: all milling while the
// bar has its parallel faces and sides: the holes first, since dowels in them make the
// turning of the bar repeat, the fullers before the shoulders, the right face first.
func Sequence(b profile.Blade, shop Shop) []Step {
	out := holeSteps(b)
	for _, face := range profile.Faces() {
		if len(b.Grooves(face)) > 0 && !b.FullersMilled(face) {
			out = append(out, Step{Operation: Fullers, Face: face})
		}
	}
	out = append(out, markSteps(b)...)
	out = append(out, shoulderSteps(b)...)
	out = append(out, outlineSteps(b)...)
	return append(out, slotSteps(b, shop)...)
}

// Plan plans one program with the cutter of the given name, or, where name is empty, with
// the best of the drawer. It returns the best job, which may still be stopped by its
// checks, and why each other cutter lost.
func Plan(b profile.Blade, shop Shop, step Step, setup Setup, name string) (*Job, []Candidate, error) {
	job, candidates, err := planStep(b, shop, step, setup, name)
	if job != nil && err == nil {
		job.findsWays(trialOf(b, shop, step, setup, name), step)
	}
	return job, candidates, err
}

// planStep plans one program; the checks of its job do not know their ways out.
func planStep(b profile.Blade, shop Shop, step Step, setup Setup, name string) (*Job, []Candidate, error) {
	if _, err := shop.steelData(b); err != nil && step.Operation != Slot { // the guard is of another metal
		return nil, nil, err
	}
	switch step.Operation {
	case Fullers:
		return PlanFullers(b, shop, setup, name)
	case Shoulders:
		return PlanShoulder(b, shop, setup, name)
	case Holes:
		return PlanHoles(b, shop, step, setup, name)
	case Marks:
		return PlanMark(b, shop, setup, name)
	case Outline:
		return PlanOutline(b, shop, setup, name)
	case Slot:
		if step.Bore > 0 {
			return planSlotDrill(b, shop, step, name)
		}
		return PlanSlot(b, shop, name)
	}
	panic(fmt.Sprintf("impossible: there is no operation %q", step.Operation))
}

// Operations returns the operations in the order of work.
func Operations() []Operation { return []Operation{Holes, Fullers, Marks, Shoulders, Outline, Slot} }

// Feeds are the feeds of a job, mm/min.
type Feeds struct {
	Slot, Ramp, Plunge, Finish, Air float64
}

// Job is one program: a face, a setup, a cutter, its speeds and its moves, with the
// checks on them.
type Job struct {
	Step    Step
	Name    string // of the knife
	Named   string // of its file, where the step alone does not name it
	Steel   string
	Setup   Setup
	Cutter  Cutter
	Coolant string
	Spindle float64 // rev/min
	Feeds   Feeds
	Moves   []Move
	Checks  []Check

	Clearance  float64 // Z of rapid moves
	Holes      []int   // the places in the knife file of those that are drilled, in the order of work
	Levels     []LevelFigures
	Lanes      []LaneFigures
	Cusp       float64 // greatest ridge between lanes, square to the wall, mm
	Corner     float64 // radius of the inside corners that the cutter leaves, mm; 0 where there are none
	CornerFrom float64 // radius that they had before a program that mills them alone, mm; 0 for others
	FaceCorner float64 // radius that the cutter leaves at the foot of a face step, mm
	SideLevel  float64 // how deep a level is that is cut with the side of the cutter
	Stages     []Stage // of a cut with the side of the cutter, in the order of work
	Deepest    float64 // of the whole cut, mm
	Seconds    float64 // time at the machine
	Length     float64 // of path, mm
}

// Stage is what is cut in levels of its own before the next is begun: a side, a corner. The
// levels of all stages of a job are counted on, from 1.
type Stage struct {
	Name     string
	From, To int // its levels
}

// LevelFigures are the figures of one depth of roughing, for the sheet.
type LevelFigures struct {
	Fuller, Number, Passes int
	Depth, Total           float64 // from the level before, and under the face, mm
	Engaged                cutting.Level
	Feed                   float64 // mm/min
}

// LaneFigures are the figures of the finishing passes of one fuller.
type LaneFigures struct {
	Fuller, Count int
	Pitch         float64 // radians
	Cusp          float64 // mm
	Spring        bool    // each is run a second time
}

// CheckedJob is a job none of whose checks stops it. Only Job.Checked makes one, and
// programs are written from nothing else. Its zero value holds no job.
type CheckedJob struct{ job *Job }

// Job returns the job; it must not be changed.
func (c CheckedJob) Job() *Job { return c.job }

// Checked returns the job for writing, or a *StopError that names every check that
// stops it.
func (j *Job) Checked() (CheckedJob, error) {
	if stops := Stops(j.Checks); len(stops) > 0 {
		return CheckedJob{}, &StopError{Checks: stops}
	}
	return CheckedJob{job: j}, nil
}
