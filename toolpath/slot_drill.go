package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/motion"
	"fullerwright/toolpath/proof"
)

// slotDrill returns the diameter of the hole that is drilled through the guard's blank in
// the middle of the slot, for the mill to go down in: the largest drill of the drawer that
// leaves both walls to the mill and is wider than a square end that fits the slot; 0 where
// there is none, and the mill goes down by ramps.
func slotDrill(b profile.Blade, shop Shop) float64 {
	slot, has := b.GuardSlot(0)
	if !has {
		return 0
	}
	narrowest := math.Inf(1)
	for _, c := range shop.Cutters {
		if c.End == SquareEnd && slot.Width/2-c.Radius() >= slotRoom {
			narrowest = math.Min(narrowest, 2*c.Radius())
		}
	}
	widest := 0.0
	for _, c := range shop.Cutters {
		if d := 2 * c.Radius(); c.End == DrillEnd && d <= slot.Width-2*drillRoom && d >= narrowest+downRoom {
			widest = math.Max(widest, d)
		}
	}
	return widest
}

const (
	// drillRoom is the least that the mill takes off each wall after the drill, mm: a drill
	// wanders and cuts a few hundredths larger than it is (common practice, no source).
	drillRoom = 0.3
	// downRoom is how much wider than a mill a hole must be for it to go straight down in
	// it, mm (judgement).
	downRoom = 0.3
)

// planSlotDrill plans the hole in the middle of the slot.
func planSlotDrill(b profile.Blade, shop Shop, step Step, name string) (*Job, []Candidate, error) {
	if _, err := shop.guardData(b); err != nil {
		return nil, nil, err
	}
	best, candidates := shop.choose(name, drilling(step.Bore, func(c Cutter) *Job { return planSlotDrillWith(b, shop, step, c) }))
	if best == nil {
		return nil, candidates, shop.unfitError(name, candidates, fmt.Sprintf("a hole of %.2f mm in the guard's slot", step.Bore),
			fmt.Sprintf("put a drill of %.2f mm into the drawer", step.Bore))
	}
	return best, candidates, nil
}

func planSlotDrillWith(b profile.Blade, shop Shop, step Step, c Cutter) *Job {
	data, _ := shop.guardData(b)
	slot, _ := b.GuardSlot(0)
	setup := slotSetup(slot)
	job := &Job{Step: step, Name: b.Knife.Name, Steel: b.Knife.Guard.Material, Setup: setup, Cutter: c, Coolant: shop.Machine.Coolant}
	job.drillSpeeds(data, shop)
	top := slot.Thickness / 2
	way := pecking{from: top, to: -top - breakThrough - c.pointHeight(), step: peckShare * 2 * c.Radius()}
	job.Deepest = way.from - way.to
	course := &course{setup: setup, clearance: top + shop.Work.Clearance}
	course.lane = 1
	course.peck(geom.Point{}, way, job.Feeds)
	course.retract()
	job.Moves = course.moves
	job.Clearance = setup.Placement.Work(motion.Vec{Z: course.clearance}).Z
	job.measure(shop.Machine)
	job.Checks = job.drillChecks(shop, data)
	return job
}

// proveSlotDrill judges the hole in the middle of the slot.
func (s *BarState) proveSlotDrill(step Step, cutter Cutter, motions []motion.Motion) FaceProof {
	slot, has := s.blade.GuardSlot(0)
	if !has {
		return noGuard()
	}
	top := slot.Thickness / 2
	low := func(x, y float64) float64 {
		switch in := step.Bore/2 - math.Hypot(x, y); {
		case math.Abs(in) < holeDoubt:
			return math.NaN()
		case in > 0:
			return math.Inf(-1)
		}
		return top
	}
	t := targeted{Target: proof.Target{Low: surface(low)}, limits: s.blankLimits(slot, cutter)}
	drillLimits(&t.limits, cutter)
	t.limits.Floor = -top - breakThrough - cutter.pointHeight() - proofRoom
	return s.judgeOn(s.blank(slot), t, slotSetup(slot), cutter, motions)
}

// holeDoubt is how near the wall of a drilled hole it does not matter what is left, mm.
const holeDoubt = 0.05
