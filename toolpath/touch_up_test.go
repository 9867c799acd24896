package toolpath

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/motion"
)

// TestTouchUp mills a face with its zeros off and a cutter worn or oversize, reads it off
// the simulated bar, plans the touch-up and runs that with the very zeros and the cutter
// that made the groove: it has the depth of the design then, within 3 µm. With new zeros
// the same holds with zeros that are right.
func TestTouchUp(t *testing.T) {
	shop := builtInShop(t)
	for _, c := range []struct {
		name   string
		knife  profile.Knife
		cutter string
		off    slip
		zeros  Zeros
	}{
		{"too high", testKnife(), "ball 10", slip{high: 0.06, aside: 0.1, along: -0.3}, ZerosKept},
		{"far too high, sloped", fullerCases()["sloped"], "ball 10", slip{high: 0.25, along: -0.4}, ZerosKept},
		{"one lane, small ball", withRadius(6), "ball 12", slip{high: 0.04, wider: -0.05}, ZerosKept},
		{"new zeros", testKnife(), "ball 10", slip{high: 0.06, aside: 0.1, along: -0.3}, ZerosNew},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := mustBuild(t, c.knife)
			grid, _ := ProofGrid(b, shop, 5)
			setup := SetupFor(b.Bar, profile.Right, AboutY)
			m := milledWith(b, grid, planned(t, b, shop, profile.Right, AboutY, c.cutter), c.off)
			read := rebuilt(t, c.knife, caliper(t, b, m, 50))
			job, touched, err := PlanTouchUp(read, shop, setup, c.cutter, c.zeros)
			require.NoError(t, err)
			assert.Empty(t, Stops(job.Checks))

			// The proof, on the bar as read.
			result := NewBarState(touched, shop, job.Cutter.Radius()).Prove(job.Step, job.Setup, job.Cutter, job.Cusp, asMotions(job))
			assert.Empty(t, result.Judged.Findings)
			assert.Greater(t, result.Judged.Removed, 1.0, "it does cut")
			assert.LessOrEqual(t, result.Judged.DeepestEngagement.Value, shop.Work.FinishStock+0.02, "no more than a finishing stock and a ridge")

			// The machine, with the zeros and the cutter that it really has.
			real := c.off
			if c.zeros == ZerosNew {
				real = slip{wider: c.off.wider}
			}
			cutter := job.Cutter
			cutter.Measured = profile.Some(planned(t, b, shop, profile.Right, AboutY, c.cutter).Cutter.Diameter + 2*c.off.wider)
			before, _ := m.SectionAt(50, middleOf(b))
			blocks := m.Cut(slipped(setup, real).Placement, CutterOf(cutter), asMotions(job))
			for _, x := range []float64{30, 50, 70} {
				cut, ok := m.SectionAt(x, middleOf(b))
				require.True(t, ok)
				assert.InDelta(t, b.SectionAt(0, x-c.off.along).MilledDepth, cut.Depth, 0.003, "at %g", x)
				assert.InDelta(t, before.Centre, cut.Centre, 0.003, "it goes where the groove lies, at %g", x)
			}
			for _, block := range blocks {
				if block.Motion.Kind == motion.Rapid {
					assert.Zero(t, block.Deepest, "a rapid through steel")
				}
			}
			for _, move := range job.Moves {
				assert.Contains(t, []Purpose{Finish, Approach, Position, Retract}, move.Purpose, "finishing lanes alone")
			}
		})
	}
}

func withRadius(radius float64) profile.Knife {
	k := testKnife()
	k.Fullers[0].Radius = radius
	return k
}

// TestTouchUpIsProved: a touch-up that sinks the wrong way, too far or not at all does not
// pass its proof.
func TestTouchUpIsProved(t *testing.T) {
	shop := builtInShop(t)
	read := rebuilt(t, testKnife(), "[[fuller]]\nfrom_butt = 145\ndepth = 0.92\n")
	job, touched, err := PlanTouchUp(read, shop, SetupFor(read.Bar, profile.Right, AboutY), "ball 10", ZerosKept)
	require.NoError(t, err)
	assert.InDelta(t, 0.08, job.Setup.ZeroHigh, 1e-9)
	for off, wanted := range map[float64]string{0: "", 0.012: "leftover", -0.012: "gouge"} {
		motions := asMotions(job)
		for i := range motions {
			for _, p := range []*motion.Vec{&motions[i].From, &motions[i].To, &motions[i].Centre} {
				p.Z += off
			}
		}
		result := NewBarState(touched, shop, 5).Prove(job.Step, job.Setup, job.Cutter, job.Cusp, motions)
		kinds := map[string]bool{}
		for _, f := range result.Judged.Findings {
			kinds[f.Kind] = true
		}
		if wanted == "" {
			assert.Empty(t, result.Judged.Findings)
			continue
		}
		assert.True(t, kinds[wanted], "moved by %g: %v", off, result.Judged.Findings)
	}
	// The program of the first face, run a second time with those zeros, would cut air.
	first := planned(t, read.Designed(), shop, profile.Right, AboutY, "ball 10")
	again := NewBarState(touched, shop, 5).Prove(first.Step, job.Setup, first.Cutter, job.Cusp, raised(first, 0.08))
	assert.Less(t, again.Judged.Removed, 0.2)
}

func raised(j *Job, by float64) []motion.Motion {
	motions := asMotions(j)
	for i := range motions {
		for _, p := range []*motion.Vec{&motions[i].From, &motions[i].To, &motions[i].Centre} {
			p.Z += by
		}
	}
	return motions
}

// TestNothingToTouchUp says why.
func TestNothingToTouchUp(t *testing.T) {
	shop := builtInShop(t)
	for readings, why := range map[string]string{
		"units = \"mm\"\n": "nothing was read of the fullers of the right face",
		"[[fuller]]\nfrom_butt = 145\ndepth = 1.03\n":  "too shallow",
		"[[fuller]]\nfrom_butt = 145\ndepth = 0.998\n": "too shallow",
	} {
		b := rebuilt(t, testKnife(), readings)
		_, _, err := PlanTouchUp(b, shop, SetupFor(b.Bar, profile.Right, AboutY), "", ZerosKept)
		var refused *PlanError
		require.ErrorAs(t, err, &refused)
		assert.Contains(t, refused.Problem, why)
		assert.NotEmpty(t, refused.Remedy)
	}
}

// TestFullersThatDisagree: two fullers of one face were cut with the same zeros; where they
// say different things of them, the program with kept zeros is stopped and the one with
// new zeros is not.
func TestFullersThatDisagree(t *testing.T) {
	shop := builtInShop(t)
	reading := func(second float64) string {
		return fmt.Sprintf("[[fuller]]\nfrom_butt = 145\ndepth = 0.95\n[[fuller]]\nnumber = 2\nfrom_butt = 145\ndepth = %g\n", second)
	}
	for second, stops := range map[float64]int{0.95: 0, 0.94: 0, 0.9: 1} {
		b := rebuilt(t, fullerCases()["two"], reading(second))
		setup := SetupFor(b.Bar, profile.Right, AboutY)
		kept, _, err := PlanTouchUp(b, shop, setup, "ball 10", ZerosKept)
		require.NoError(t, err)
		assert.Len(t, Stops(kept.Checks), stops, "%g", second)
		fresh, touched, err := PlanTouchUp(b, shop, setup, "ball 10", ZerosNew)
		require.NoError(t, err)
		assert.Empty(t, Stops(fresh.Checks))
		if stops == 0 {
			continue
		}
		result := NewBarState(touched, shop, 5).Prove(fresh.Step, fresh.Setup, fresh.Cutter, fresh.Cusp, asMotions(fresh))
		assert.Empty(t, result.Judged.Findings)
	}
}
