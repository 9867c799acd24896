package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// Zeros says whether the zeros with which a groove was cut still stand.
type Zeros string

// The zeros of a touch-up.
const (
	ZerosKept Zeros = "kept" // the bar was not moved: what the groove is off, the zeros are
	ZerosNew  Zeros = "new"  // all were touched again, and are right
)

// leastTouchUp is the least that is worth a touch-up, mm: a step of a usual readout.
const leastTouchUp = 0.005

// PlanTouchUp plans the finishing lanes of those fullers of a face that were read as
// shallower than designed, down to the design where the groove really lies, with the
// cutter that the whole program takes. With the zeros kept, the program is that of the
// design sunk by what is missing: what was too high then still is. It returns the blade
// for the proof, on whose face the groove is as read.
func PlanTouchUp(b profile.Blade, shop Shop, setup Setup, name string, zeros Zeros) (*Job, profile.Blade, error) {
	face := setup.Face
	touched, any := b.Again(face, leastTouchUp)
	switch {
	case !b.FullersMilled(face):
		return nil, b, &PlanError{fmt.Sprintf("nothing was read of the fullers of the %s face", face), "put a [[fuller]] with face, from_butt and width into the file of measured values"}
	case !any:
		return nil, b, &PlanError{fmt.Sprintf("no fuller of the %s face was read as more than %.3f mm too shallow", face, leastTouchUp), "there is nothing to touch up; a groove too deep cannot be put back"}
	}
	whole, _, err := PlanFullers(b.Designed(), shop, setup, name)
	if err != nil {
		return nil, b, err
	}
	off, apart := zerosOff(touched, face)
	job := *whole
	job.Setup, job.Named = setup, fmt.Sprintf("%s-touch-up", whole.Step)
	if zeros == ZerosKept {
		job.Setup = setup.off(off)
	}
	job.Cutter.Measured = profile.Some(2 * (whole.Cutter.Radius() + off.Wider))
	job.Levels, job.Lanes, job.Cusp, job.Length, job.Seconds = nil, nil, 0, 0, 0
	job.touchUp(touched, shop)
	job.Checks = append(job.Checks[:len(job.Checks):len(job.Checks)], job.touchUpChecks(shop, off, apart, zeros)...)
	return &job, touched, nil
}

// off returns the setup with zeros that stand off as a groove that was cut with them.
func (s Setup) off(by profile.GrooveShift) Setup {
	s.ZeroHigh = -by.Sunk
	s.Placement.X0 -= s.Placement.SignX * by.Along
	s.Placement.Y0 -= s.Placement.SignY * by.Aside
	s.Placement.Z0 += by.Sunk
	return s
}

// zerosOff returns the mean of how the fullers to be touched up lie off, and how far in
// any direction two of them differ: the zeros are the same for all of them.
func zerosOff(b profile.Blade, face profile.Face) (off profile.GrooveShift, apart float64) {
	n := 0.0
	least := profile.GrooveShift{Sunk: math.Inf(1), Aside: math.Inf(1), Along: math.Inf(1)}
	most := profile.GrooveShift{Sunk: math.Inf(-1), Aside: math.Inf(-1), Along: math.Inf(-1)}
	for _, f := range b.Fullers {
		if !f.ToTouchUp(face) {
			continue
		}
		came, _ := f.Came(face)
		s := came.Shift
		off = profile.GrooveShift{Sunk: off.Sunk + s.Sunk, Wider: off.Wider + s.Wider, Aside: off.Aside + s.Aside, Along: off.Along + s.Along}
		least = profile.GrooveShift{Sunk: math.Min(least.Sunk, s.Sunk), Aside: math.Min(least.Aside, s.Aside), Along: math.Min(least.Along, s.Along)}
		most = profile.GrooveShift{Sunk: math.Max(most.Sunk, s.Sunk), Aside: math.Max(most.Aside, s.Aside), Along: math.Max(most.Along, s.Along)}
		n++
	}
	return profile.GrooveShift{Sunk: off.Sunk / n, Wider: off.Wider / n, Aside: off.Aside / n, Along: off.Along / n},
		math.Max(most.Sunk-least.Sunk, math.Max(most.Aside-least.Aside, most.Along-least.Along))
}

// touchUp makes the moves: for each fuller as many times its finishing lanes, each time
// equally deeper, as no pass takes more than the finishing stock.
func (j *Job) touchUp(b profile.Blade, shop Shop) {
	clearance := highestFace(b.Bar) + shop.Work.Clearance
	course := &course{setup: j.Setup, clearance: clearance}
	for i, f := range b.Fullers {
		if !f.ToTouchUp(j.Setup.Face) {
			continue
		}
		came, _ := f.Came(j.Setup.Face)
		missing := -came.Shift.Sunk
		times := int(math.Ceil(missing/shop.Work.FinishStock - 1e-9))
		target := f.On(j.Setup.Face)
		figures := LaneFigures{Fuller: i + 1}
		for n := 1; n <= times; n++ {
			pass := target
			pass.Milled = target.Milled.Shifted(profile.GrooveShift{Sunk: -missing * float64(times-n) / float64(times)})
			cut := newFullerCut(b, pass, math.Min(j.Cutter.Radius(), pass.Milled.Radius), missing/float64(times))
			lanes, pitch := cut.lanes(shop.Limits.Cusp)
			first := len(course.moves)
			cut.finish(course, lanes, j.Feeds)
			for k := range course.moves[first:] {
				if m := &course.moves[first+k]; m.Lane > 0 {
					m.Lane += figures.Count
				}
			}
			figures.Count += len(lanes)
			if len(lanes) > 1 {
				figures.Pitch, figures.Cusp = pitch, cutting.ConcaveCusp(pass.Milled.Radius, cut.cutter, pitch)
			}
		}
		j.Lanes = append(j.Lanes, figures)
		j.Cusp = math.Max(j.Cusp, figures.Cusp)
	}
	course.retract()
	j.Moves = course.moves
	j.Clearance = j.Setup.Placement.Work(motion.Vec{Z: clearance}).Z
	j.measure(shop.Machine)
}

func (j *Job) touchUpChecks(shop Shop, off profile.GrooveShift, apart float64, zeros Zeros) []Check {
	missing := -off.Sunk
	pass := missing / math.Ceil(missing/shop.Work.FinishStock-1e-9)
	rub := cutting.RubbingLimit(j.Cutter.Diameter)
	chip := cutting.TopChip(j.Feeds.Finish/(j.Spindle*float64(j.Cutter.Flutes)), j.Cutter.Diameter, pass)
	out := []Check{
		most("touch-up: thickness of a pass", pass, shop.Work.FinishStock, "mm").from(fromShop).orElse("passes of %.3f mm would do", shop.Work.FinishStock),
		least("touch-up: thickest chip against rubbing", chip, rub, "mm").mild().from("judgement, from edge radii").
			orElse("what is missing is thin: a sharp cutter, or sanding it in, takes %.3f mm better", missing),
	}
	if zeros == ZerosKept {
		out = append(out, most("touch-up: what the fullers say of the zeros, apart", apart, caliperOff, "mm").from("judgement: what a caliper may be off").
			orElse("touch all zeros anew and use --touch-up %s, or read again", ZerosNew))
	}
	return out
}
