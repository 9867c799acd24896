package toolpath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
)

// partedCase is a job in several levels: of a fuller, of the outline that is cut without
// lifting, or of the shoulder.
func partedCases(t *testing.T) map[string]struct {
	b    profile.Blade
	shop Shop
	job  *Job
} {
	out := map[string]struct {
		b    profile.Blade
		shop Shop
		job  *Job
	}{}
	deep := testKnife()
	deep.Fullers[0].Depth.Value = 1.6
	b := mustBuild(t, deep)
	shop := builtInShop(t)
	out["fuller"] = struct {
		b    profile.Blade
		shop Shop
		job  *Job
	}{b, shop, planned(t, b, shop, profile.Right, AboutY, "ball 6")}
	profiledBlade := mustBuild(t, profiled(profile.Skin))
	square := squareShop(t, endMill("square 6", 6, 0))
	for _, step := range append(shoulderSteps(profiledBlade), outlineSteps(profiledBlade)...) {
		job, _, err := Plan(profiledBlade, square, step, SetupFor(profiledBlade.Bar, step.Face, AboutX), "square 6")
		require.NoError(t, err)
		out[string(step.Operation)] = struct {
			b    profile.Blade
			shop Shop
			job  *Job
		}{profiledBlade, square, job}
	}
	return out
}

// TestTakenUpAgain: at whatever level a program is taken up again, the rest of it enters
// without touching steel, finds nothing wrong and leaves the face as the whole program
// does.
func TestTakenUpAgain(t *testing.T) {
	for name, c := range partedCases(t) {
		t.Run(name, func(t *testing.T) {
			levels := c.job.RoughLevels()
			require.Greater(t, levels, 1)
			cusp := c.job.Cusp
			for _, from := range []int{1, 2, levels, levels + 1} {
				part, before := c.job.Parted(Part{From: from, To: levels, Finish: true})
				assert.Equal(t, from == 1, len(before) == 0)
				if len(part.Moves) == 0 {
					continue // this job has no finishing
				}
				state := NewBarState(c.b, c.shop, 3)
				state.Assume(c.job, before)
				result := state.Prove(c.job.Step, part.Setup, part.Cutter, cusp, asMotions(part))
				assert.Empty(t, result.Judged.Findings, "from level %d", from)
			}
		})
	}
}

// TestPartsMakeTheWhole: the parts of a program hold each of its cutting moves once.
func TestPartsMakeTheWhole(t *testing.T) {
	for name, c := range partedCases(t) {
		t.Run(name, func(t *testing.T) {
			cuts := func(moves []Move) (length float64) {
				for i, m := range moves {
					if i > 0 && m.Purpose.cuts() {
						length += motionsOf(moves[i:i+1], moves[i-1].To)[0].Length()
					}
				}
				return length
			}
			sum := 0.0
			levels := c.job.RoughLevels()
			for level := 1; level <= levels; level++ {
				part, _ := c.job.Parted(Part{From: level, To: level})
				sum += cuts(part.Moves)
			}
			part, _ := c.job.Parted(Part{From: levels + 1, To: levels, Finish: true})
			sum += cuts(part.Moves)
			assert.InDelta(t, cuts(c.job.Moves), sum, 1e-6)
		})
	}
}

// TestFacesByTurns cuts the fullers of both faces level by level in turn: every part is
// sound, and the bar ends up as when one face is cut after the other.
func TestFacesByTurns(t *testing.T) {
	k := testKnife()
	k.Fullers[0].Depth.Value = 1.6
	b := mustBuild(t, k)
	shop := builtInShop(t)
	right, left := planned(t, b, shop, profile.Right, AboutY, "ball 6"), planned(t, b, shop, profile.Left, AboutY, "ball 6")
	state := NewBarState(b, shop, 3)
	turns := Turns(right, left)
	require.Len(t, turns, 2*right.RoughLevels()+2)
	for _, turn := range turns {
		part, _ := turn.Job.Parted(turn.Part)
		cusp := right.Cusp
		if !turn.Part.Finish {
			cusp = math.Inf(1)
		}
		result := state.Prove(part.Step, part.Setup, part.Cutter, cusp, asMotions(part))
		assert.Empty(t, result.Judged.Findings, "%s, %s", part.Step, turn.Part)
	}
	assert.Empty(t, state.JudgeFaces().Findings)
	assert.Less(t, state.JudgeFaces().Mismatch.Value, 1e-5)
}
