package toolpath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/motion"
)

func drill(name string, diameter float64) Cutter {
	return Cutter{Name: name, End: DrillEnd, Diameter: diameter, Flutes: 2, FluteLength: 8 * diameter, ShankDiameter: diameter,
		StickOut: 10 * diameter, HolderRadius: 16, RunOut: 0.01, Material: "hss", PointAngle: 118 * geom.Degree}
}

// holed is the test knife with a pin, a blind hole, a tapped hole and a dowel in the waste.
func holed() profile.Knife {
	k := testKnife()
	known := func(v float64) profile.Optional { return profile.Optional{Value: v, Known: true} }
	k.Bar.PointAllowance = 20
	k.Holes = []profile.Hole{
		{At: -40, FromSpine: 17, Diameter: known(4), Face: "right"},
		{At: -30, FromSpine: 17, Diameter: known(4), Depth: 2, Face: "right"},
		{At: -20, FromSpine: 17, Thread: "M6x1", Face: "left"},
		{At: 172, FromSpine: 17, Diameter: known(5), Face: "right"},
	}
	return k
}

// TestHolesAreDrilledAsDesigned drills every hole of a knife with them, from both faces
// and turned either way, and cuts the simulated bar.
func TestHolesAreDrilledAsDesigned(t *testing.T) {
	b := mustBuild(t, holed())
	shop := builtInShop(t)
	shop.Cutters = []Cutter{drill("drill 4", 4), drill("drill 5", 5)}
	steps := holeSteps(b)
	require.Len(t, steps, 3, "4 and 5 mm from the right face, the tap drill of 5 mm from the left")
	for _, flip := range []Flip{AboutX, AboutY} {
		state := NewBarState(b, shop, 3)
		for _, step := range steps {
			job, _, err := PlanHoles(b, shop, step, SetupFor(b.Bar, step.Face, flip), "")
			require.NoError(t, err)
			assert.Empty(t, Stops(job.Checks))
			result := state.Prove(step, job.Setup, job.Cutter, 0, asMotions(job))
			assert.Empty(t, result.Judged.Findings, "%v", step)
			assert.Less(t, result.Judged.Gouge.Value, 1e-5, "%v at %+v", step, result.Judged.Gouge)
			assert.Less(t, result.Judged.Leftover.Value, 1e-5, "%v at %+v", step, result.Judged.Leftover)
		}
	}
}

// TestDrilledSteel: what a drill takes out of a blind hole is a cylinder and a cone, by
// their volumes.
func TestDrilledSteel(t *testing.T) {
	k := holed()
	k.Holes = k.Holes[1:2]
	b := mustBuild(t, k)
	shop := builtInShop(t)
	shop.Cutters = []Cutter{drill("drill 4", 4)}
	job, _, err := PlanHoles(b, shop, holeSteps(b)[0], SetupFor(b.Bar, profile.Right, AboutX), "")
	require.NoError(t, err)
	result := NewBarState(b, shop, 3).Prove(job.Step, job.Setup, job.Cutter, 0, asMotions(job))
	point := 2 / math.Tan(59*math.Pi/180)
	assert.InEpsilon(t, math.Pi*4*(2+point/3), result.Judged.Removed, 0.01)
}

// TestFaultsInHolesAreFound plants faults in a drilling program.
func TestFaultsInHolesAreFound(t *testing.T) {
	b := mustBuild(t, holed())
	shop := builtInShop(t)
	shop.Cutters = []Cutter{drill("drill 4", 4)}
	job, _, err := PlanHoles(b, shop, holeSteps(b)[0], SetupFor(b.Bar, profile.Right, AboutX), "")
	require.NoError(t, err)
	for name, row := range map[string]struct {
		change func(v []motion.Motion) []motion.Motion
		want   string
	}{
		"0.03 mm to the side":  {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{X: 0.03}) }, "gouge"},
		"blind hole too deep":  {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Z: -0.05}) }, "gouge"},
		"a hole missing":       {func(v []motion.Motion) []motion.Motion { return v[:len(v)/2] }, "leftover"},
		"a rapid through":      {func(v []motion.Motion) []motion.Motion { v[2].Kind = motion.Rapid; return v }, "rapid through steel"},
		"mirrored":             {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Y: 20}) }, "leftover"},
		"too deep by far":      {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Z: -2}) }, "below the bar"},
		"a drill of 4.2 mm":    {func(v []motion.Motion) []motion.Motion { return v }, "gouge"},
		"the spindle backward": {backward, "spindle reversed"},
	} {
		t.Run(name, func(t *testing.T) {
			used := job.Cutter
			if name == "a drill of 4.2 mm" {
				used.Diameter = 4.2
			}
			result := NewBarState(b, shop, 3).Prove(job.Step, job.Setup, used, 0, row.change(asMotions(job)))
			assert.Contains(t, kindsOf(result), row.want)
		})
	}
}

func backward(v []motion.Motion) []motion.Motion {
	for i := range v {
		v[i].Spindle = motion.SpindleCounterclockwise
	}
	return v
}

// TestSteelAroundHoles: a pin at the side of the tang, a dowel at the blade and a hole in
// a fuller are stopped, and each remedy with a bore does.
func TestSteelAroundHoles(t *testing.T) {
	k := holed()
	assert.Empty(t, Stops(holeDesignChecks(mustBuild(t, k))))
	for _, change := range []func(h *profile.Hole){
		func(h *profile.Hole) { h.FromSpine = 10 },
		func(h *profile.Hole) { h.At, h.FromSpine = 162, 11 },
		func(h *profile.Hole) { h.At, h.FromSpine = 60, 8 },
	} {
		bad := k
		bad.Holes = append([]profile.Hole(nil), k.Holes...)
		change(&bad.Holes[0])
		assert.NotEmpty(t, Stops(holeDesignChecks(mustBuild(t, bad))))
	}
}
