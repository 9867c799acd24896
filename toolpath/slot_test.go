package toolpath

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/motion"
)

func guarded() profile.Knife {
	k := testKnife()
	k.Guard = profile.Guard{Length: 60, Width: 18, Thickness: 6, Material: "brass", Clearance: 0.02}
	return k
}

// TestSlotIsCutAsDesigned mills the guard's slot with several cutters; walls stand within
// what the text of a program rounds, and what is milled away is the slot's own volume.
func TestSlotIsCutAsDesigned(t *testing.T) {
	b := mustBuild(t, guarded())
	for _, c := range []Cutter{endMill("square 3", 3, 0), endMill("square 4", 4, 0), endMill("corner 5", 5, 0.3)} {
		t.Run(c.Name, func(t *testing.T) {
			c.FluteLength = 8
			shop := withoutDrills(squareShop(t, c))
			job, _, err := PlanSlot(b, shop, c.Name)
			require.NoError(t, err)
			state := NewBarState(b, shop, 3)
			result := state.Prove(job.Step, job.Setup, job.Cutter, 0, asMotions(job))
			assert.Empty(t, result.Judged.Findings)
			assert.Less(t, result.Judged.Gouge.Value, 1e-5, "at %+v", result.Judged.Gouge)
			assert.Less(t, result.Judged.Leftover.Value, 1e-5, "at %+v", result.Judged.Leftover)
			slot, _ := b.GuardSlot(c.Radius())
			area := slot.Length*slot.Width - (4-math.Pi)*c.Radius()*c.Radius()
			assert.InEpsilon(t, area*job.Deepest, result.Judged.Removed, 0.02)
		})
	}
}

func withoutDrills(shop Shop) Shop {
	shop.Cutters = slices.DeleteFunc(slices.Clone(shop.Cutters), func(c Cutter) bool { return c.End == DrillEnd })
	return shop
}

// TestSlotIsDrilledFirst: where the drawer has a drill between mill and slot, a hole is
// drilled and the mill goes down in it, without ramps and in less time; without the hole the
// mill would plunge, and a drill beside the middle cuts the walls. The slot is as designed.
func TestSlotIsDrilledFirst(t *testing.T) {
	b := mustBuild(t, guarded())
	shop := builtInShop(t)
	steps := slotSteps(b, shop)
	require.Equal(t, []Step{{Operation: Slot, Bore: 5}, {Operation: Slot}}, steps, "6.04 mm wide, with drills of 3, 4 and 5 and a mill of 3 mm")
	state := NewBarState(b, shop, 3)
	var jobs []*Job
	for _, step := range steps {
		job, _, err := Plan(b, shop, step, Setup{}, "")
		require.NoError(t, err)
		assert.Empty(t, Stops(job.Checks))
		// Who proves programs by their text alone knows only how the bar would lie.
		result := state.Prove(step, SetupFor(b.Bar, profile.Right, AboutY), job.Cutter, 0, asMotions(job))
		assert.Empty(t, result.Judged.Findings, step)
		jobs = append(jobs, job)
	}
	mill := jobs[1]
	for _, m := range mill.Moves {
		assert.NotEqual(t, RampIn, m.Purpose)
	}
	ramped, _, err := PlanSlot(b, withoutDrills(shop), mill.Cutter.Name)
	require.NoError(t, err)
	assert.Less(t, mill.Seconds, ramped.Seconds)

	undrilled := NewBarState(b, shop, 3).Prove(steps[1], mill.Setup, mill.Cutter, 0, asMotions(mill))
	assert.Contains(t, kindsOf(undrilled), "plunge")
	beside := NewBarState(b, shop, 3).Prove(steps[0], jobs[0].Setup, jobs[0].Cutter, 0, shifted(asMotions(jobs[0]), motion.Vec{Y: 0.2}))
	assert.Contains(t, kindsOf(beside), "gouge")
	short := NewBarState(b, shop, 3).Prove(steps[0], jobs[0].Setup, jobs[0].Cutter, 0, shifted(asMotions(jobs[0]), motion.Vec{Z: 3}))
	assert.Contains(t, kindsOf(short), "leftover")
}

// TestSlotIsEnteredSlowly: the mill comes down on the blank at the feed straight down from half
// a millimetre over it, drilled first or not.
func TestSlotIsEnteredSlowly(t *testing.T) {
	b := mustBuild(t, guarded())
	for _, shop := range []Shop{builtInShop(t), withoutDrills(builtInShop(t))} {
		job, _, err := PlanSlot(b, shop, "")
		require.NoError(t, err)
		at := job.Moves[0].To
		down := 0
		for _, m := range job.Moves[1:] {
			if m.Kind == motion.Line && m.To.X == at.X && m.To.Y == at.Y && m.To.Z < at.Z && m.To.Z < approachGap {
				down++
				assert.LessOrEqual(t, m.Feed, job.Feeds.Plunge, "down to %g", m.To.Z)
			}
			at = m.To
		}
		assert.Positive(t, down)
	}
}

// TestSlotFollowsTheTang: the slot is milled as much larger than the tang as its clearance
// says, less what is left for the file, and by the tang as measured where it was.
func TestSlotFollowsTheTang(t *testing.T) {
	k := guarded()
	drawn, _ := mustBuild(t, k).GuardSlot(1.5)
	assert.InDelta(t, k.Tang.Width+0.04, drawn.Finished.X, 1e-9)
	assert.InDelta(t, k.Blade.Thickness+0.04, drawn.Finished.Y, 1e-9)
	assert.InDelta(t, drawn.Finished.Y-drawn.Width, drawn.Finished.X-drawn.Length, 1e-9)
	known := func(v float64) profile.Optional { return profile.Optional{Value: v, Known: true} }
	b, err := profile.Build(k, profile.Measured{TangWidth: known(k.Tang.Width - 0.3), TangThickness: known(k.Blade.Thickness - 0.1)})
	require.NoError(t, err)
	measured, _ := b.GuardSlot(1.5)
	assert.InDelta(t, drawn.Length-0.3, measured.Length, 1e-9)
	assert.InDelta(t, drawn.Width-0.1, measured.Width, 1e-9)
	assert.True(t, measured.TangAsMeasured)
}

// TestSlotCorner: the tang's edges, broken as the remedy says, touch the round corner of
// the slot and do not reach into it; and at 3.4 clearances nothing need be broken. Geometry.
func TestSlotCorner(t *testing.T) {
	b := mustBuild(t, guarded())
	slot, _ := b.GuardSlot(1.5)
	r, c, k := slot.Corner, slot.TangClearance, slot.NeededTangBreak
	// The middle of the broken edge, from the slot's corner.
	x := c + k/2
	assert.InDelta(t, r, math.Sqrt2*(r-x), 1e-9)
	small, _ := b.GuardSlot(3.41 * c)
	assert.Zero(t, small.NeededTangBreak)
}

// TestFaultsInASlotAreFound plants faults in a slot's program.
func TestFaultsInASlotAreFound(t *testing.T) {
	b := mustBuild(t, guarded())
	c := endMill("square 4", 4, 0)
	shop := withoutDrills(squareShop(t, c))
	job, _, err := PlanSlot(b, shop, c.Name)
	require.NoError(t, err)
	for name, row := range map[string]struct {
		change func(v []motion.Motion) []motion.Motion
		want   string
	}{
		"0.02 mm to the side": {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Y: 0.02}) }, "gouge"},
		"not through":         {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Z: 0.5}) }, "leftover"},
		"no finishing":        {func(v []motion.Motion) []motion.Motion { return v[:len(v)*2/3] }, "leftover"},
		"too deep by far":     {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Z: -1}) }, "below the bar"},
		"ramps straight down": {steepened, "plunge"},
	} {
		t.Run(name, func(t *testing.T) {
			result := NewBarState(b, shop, 3).Prove(job.Step, job.Setup, job.Cutter, 0, row.change(asMotions(job)))
			assert.Contains(t, kindsOf(result), row.want)
		})
	}
}

// steepened makes each ramp go down at its start, and run level from there.
func steepened(v []motion.Motion) []motion.Motion {
	var out []motion.Motion
	for _, m := range v {
		if m.Kind == motion.Line && m.To.Z < m.From.Z && m.To.X != m.From.X {
			down := m
			down.To = motion.Vec{X: m.From.X, Y: m.From.Y, Z: m.To.Z}
			m.From = down.To
			out = append(out, down)
		}
		out = append(out, m)
	}
	return out
}
