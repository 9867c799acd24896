package toolpath

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
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
					for _, c := range Stops(job.Checks) {
						t.Log(c)
					}
					result := state.Prove(Shoulders, job.Setup, job.Cutter, 0, asMotions(job.Moves))
					assert.Empty(t, result.Judged.Findings, "%s face", step.Face)
					assert.Less(t, result.Judged.Gouge.Value, 1e-5, "%s face at %+v", step.Face, result.Judged.Gouge)
					assert.Less(t, result.Judged.Leftover.Value, 1e-5, "%s face at %+v", step.Face, result.Judged.Leftover)
					t.Log(step.Face, job.SideLevels, job.SideLevel, job.Feeds, job.Seconds, result.Judged.Removed, result.Judged.DeepestEngagement)
				}
			})
		}
	}
}
