package toolpath

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// squareShop is the built-in shop with square cutters in the drawer.
func squareShop(t testing.TB, cutters ...Cutter) Shop {
	shop := builtInShop(t)
	shop.Cutters = append(shop.Cutters, cutters...)
	return shop
}

func endMill(name string, diameter, corner float64) Cutter {
	return Cutter{Name: name, End: SquareEnd, Diameter: diameter, CornerRadius: corner, Flutes: 4, FluteLength: 3 * diameter,
		ShankDiameter: diameter, StickOut: 4 * diameter, HolderRadius: 16, RunOut: 0.005, Material: "carbide", Coated: true}
}

// TestShoulderIsCutAsDesigned plans the shoulder of knives with and without a face step,
// with corners greater and smaller than the cutter, and cuts the simulated bar: walls and
// floors stand within what the text of a program rounds.
func TestShoulderIsCutAsDesigned(t *testing.T) {
	for name, change := range map[string]func(k *profile.Knife){
		"edges alone":       func(*profile.Knife) {},
		"face step":         func(k *profile.Knife) { k.Shoulder.FaceStep = 0.4 },
		"large corner":      func(k *profile.Knife) { k.Tang.CornerRadius = 4 },
		"one side":          func(k *profile.Knife) { k.Shoulder.Top = profile.Optional{Known: true} },
		"no file allowance": func(k *profile.Knife) { k.Shoulder.FileStock = 0 },
	} {
		for _, cutter := range []Cutter{endMill("square 6", 6, 0), endMill("corner 5", 5, 0.5)} {
			t.Run(name+" "+cutter.Name, func(t *testing.T) {
				k := testKnife()
				change(&k)
				b := mustBuild(t, k)
				shop := squareShop(t, cutter)
				state := NewBarState(b, shop, 3)
				for _, step := range shoulderSteps(b) {
					job, _, err := PlanShoulder(b, shop, SetupFor(b.Bar, step.Face, AboutX), cutter.Name)
					require.NoError(t, err)
					assert.Empty(t, Stops(job.Checks))
					_, corner := named(job.Checks, "corner that the cutter leaves, beside the knife's own")
					assert.Equal(t, step.Face == profile.Right, corner, "the sides and their corners are cut from the right face alone")
					result := state.Prove(job.Step, job.Setup, job.Cutter, 0, asMotions(job))
					assert.Empty(t, result.Judged.Findings, "%s face", step.Face)
					assert.Less(t, result.Judged.Gouge.Value, 1e-5, "%s face at %+v", step.Face, result.Judged.Gouge)
					assert.Less(t, result.Judged.Leftover.Value, 1e-5, "%s face at %+v", step.Face, result.Judged.Leftover)
				}
			})
		}
	}
}

// TestFaceStepTakesTheRoundCorner: of two end mills of a size the one with a corner of
// its own cuts the face step, whichever is the faster and lies first, so that no sharp
// corner is left at its foot; without a step the faster one is taken.
func TestFaceStepTakesTheRoundCorner(t *testing.T) {
	sharp, round, wide := endMill("sharp", 6, 0), endMill("round", 6, 0.2), endMill("wide", 6, 1.5)
	round.Flutes = 2 // the slower one
	shop := squareShop(t, sharp)
	shop.Cutters = []Cutter{sharp, round, wide}
	k := testKnife()
	for step, want := range map[float64]string{0.4: "round", 0: "sharp"} {
		k.Shoulder.FaceStep = step
		b := mustBuild(t, k)
		job, candidates, err := PlanShoulder(b, shop, SetupFor(b.Bar, profile.Right, AboutX), "")
		require.NoError(t, err)
		assert.Equal(t, want, job.Cutter.Name)
		if step > 0 {
			assert.Contains(t, candidates[0].Why, "corner left at the foot", "why it lost")
			assert.Contains(t, candidates[2].Why, "corner left at the foot", "rounder than the guard clears")
		}
	}
}

// TestFaultsInAShoulderAreFound plants faults in a planned shoulder: each is found, by the
// finding that names it.
func TestFaultsInAShoulderAreFound(t *testing.T) {
	k := testKnife()
	k.Shoulder.FaceStep = 0.4
	b := mustBuild(t, k)
	cutter := endMill("square 6", 6, 0)
	shop := squareShop(t, cutter)
	job, _, err := PlanShoulder(b, shop, SetupFor(b.Bar, profile.Right, AboutX), cutter.Name)
	require.NoError(t, err)
	lowest := 0.0
	for _, m := range job.Moves {
		lowest = min(lowest, m.To.Z)
	}
	for name, row := range map[string]struct {
		change func(v []motion.Motion) []motion.Motion
		want   string
	}{
		"shoulder 0.02 mm too far forward": {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{X: 0.02}) }, "gouge"},
		"shoulder 0.02 mm too far back":    {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{X: -0.02}) }, "leftover"},
		"tang 0.02 mm too high":            {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Y: 0.02}) }, "gouge"},
		"face step 0.02 mm too deep":       {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Z: -0.02}) }, "gouge"},
		"not milled through": {func(v []motion.Motion) []motion.Motion {
			for i := range v {
				v[i].From.Z, v[i].To.Z = max(v[i].From.Z, lowest+0.5), max(v[i].To.Z, lowest+0.5)
			}
			return v
		}, "leftover"},
		"half of it missing":          {func(v []motion.Motion) []motion.Motion { return v[:len(v)/2] }, "leftover"},
		"a plunge into solid steel":   {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Y: -10}) }, "plunge"},
		"jaws under the cutter":       {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{X: 12}) }, "jaw"},
		"too deep below the bar":      {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Z: -1}) }, "below the bar"},
		"begins far beside the bar":   {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Y: 3}) }, "outside the bar"},
		"a cutter of 6.1 mm diameter": {func(v []motion.Motion) []motion.Motion { return v }, "gouge"},
	} {
		t.Run(name, func(t *testing.T) {
			used := job.Cutter
			if name == "a cutter of 6.1 mm diameter" {
				used.Diameter = 6.1
			}
			result := NewBarState(b, shop, 3).Prove(job.Step, job.Setup, used, 0, row.change(asMotions(job)))
			assert.Contains(t, kindsOf(result), row.want)
		})
	}
}

// shifted moves all motions.
func shifted(v []motion.Motion, by motion.Vec) []motion.Motion {
	for i := range v {
		v[i].From, v[i].To, v[i].Centre = v[i].From.Add(by), v[i].To.Add(by), v[i].Centre.Add(by)
	}
	return v
}

// TestSideForce: a thin cut with one tooth bears most where its chip is thickest: at half
// a turn's contact fz·depth·kc(fz), at less fz·sin of the contact's end. Derived.
func TestSideForce(t *testing.T) {
	data, _ := builtInShop(t).CuttingData("1084")
	c := endMill("one tooth", 10, 0)
	c.Flutes = 1
	const perTooth, deep = 0.04, 0.01 // so thin that the tooth does not wind
	full := sideCut{deep, 10}.force(perTooth, c, data)
	assert.InEpsilon(t, deep*perTooth*cutting.SpecificForce(data.KC11, data.MC, perTooth), full, 0.01)
	chip := perTooth * 0.6 // k = 0.1: 2·sqrt(0.1·0.9)
	part := sideCut{deep, 1}.force(perTooth, c, data)
	want := deep * chip * cutting.SpecificForce(data.KC11, data.MC, chip)
	assert.LessOrEqual(t, part, want*1.001)
	assert.Greater(t, part, 0.7*want, "one of the turns looked at stands near the end of the contact")
	assert.InDelta(t, chip, cutting.GreatestSideChip(perTooth, 10, 1), 1e-12)
	// Two teeth half a turn apart cut by turns; four in a slot, two at a time.
	c.Flutes = 2
	assert.InEpsilon(t, full, sideCut{deep, 10}.force(perTooth, c, data), 0.01)
	c.Flutes = 4
	assert.Greater(t, sideCut{deep, 10}.force(perTooth, c, data), 1.05*full)
}

// kindsOf returns the kinds of what a proof found.
func kindsOf(result FaceProof) (kinds []string) {
	for _, f := range result.Judged.Findings {
		kinds = append(kinds, f.Kind)
	}
	return kinds
}
