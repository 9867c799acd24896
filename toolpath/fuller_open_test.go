package toolpath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/motion"
)

// openCases are knives with fullers that are open at one end or both.
func openCases() map[string]profile.Knife {
	change := func(start, end bool, f func(k *profile.Knife)) profile.Knife {
		k := testKnife()
		if s := &k.Fullers[0]; start {
			s.StartRunOut, s.Start = profile.OpenRunOut, profile.Optional{}
		}
		if s := &k.Fullers[0]; end {
			s.EndRunOut, s.End = profile.OpenRunOut, profile.Optional{}
		}
		f(&k)
		return k
	}
	return map[string]profile.Knife{
		"through": change(true, true, func(*profile.Knife) {}),
		"tapered": change(false, true, func(k *profile.Knife) {
			k.Taper = []profile.TaperStation{{At: 50, Thickness: 5.6}, {At: 95, Thickness: 3.4}}
		}),
		"oblique":          change(false, true, func(k *profile.Knife) { k.Fullers[0].FromSpineEnd = profile.Some(11) }),
		"along spine":      change(false, true, func(k *profile.Knife) { k.Spine.Rise, k.Fullers[0].Follows = 4, profile.FollowsSpine }),
		"into waste":       change(true, true, func(k *profile.Knife) { k.Bar.Length, k.Bar.TangAllowance = profile.Some(400), 80 }),
		"through shoulder": change(true, false, func(k *profile.Knife) { k.Shoulder.FaceStep = 1.1 }),
		"ends on the tang": change(false, true, func(k *profile.Knife) { k.Fullers[0].Start = profile.Some(-15) }),
	}
}

// TestOpenFullersAreCutAsDesigned is TestEveryFullerIsCutAsDesigned for open ends.
func TestOpenFullersAreCutAsDesigned(t *testing.T) {
	shop := builtInShop(t)
	for name, k := range openCases() {
		t.Run(name, func(t *testing.T) {
			b := mustBuild(t, k)
			for _, face := range profile.Faces() {
				job := planned(t, b, shop, face, AboutY, "ball 10")
				result := prove(b, shop, job)
				assert.Empty(t, result.Judged.Findings, "%s face", face)
				assert.Less(t, result.Judged.Gouge.Value, 2e-5, "gouge, %s face at %+v", face, result.Judged.Gouge)
				assert.LessOrEqual(t, result.Judged.Leftover.Value, 1.05*job.Cusp+planChordError+1e-5, "ridge, %s face at %+v", face, result.Judged.Leftover)
				assert.Greater(t, result.Judged.Leftover.Value, 0.8*job.Cusp, "the ridges are seen at all")
			}
		})
	}
}

// throughBar is the knife of the closed forms: a level bar with a groove from end to end,
// cut with a ball of its own radius.
func throughBar(t *testing.T) (profile.Blade, Shop, *Job) {
	k := openCases()["through"]
	k.Fullers[0].Radius = 5
	b, shop := mustBuild(t, k), builtInShop(t)
	return b, shop, planned(t, b, shop, profile.Right, AboutY, "ball 10")
}

// TestThroughBarIsCutExactly: a groove from end to end takes its section, the segment of a
// circle, times the length of the bar; its floor and its width at both ends are those of
// the middle.
func TestThroughBarIsCutExactly(t *testing.T) {
	b, shop, job := throughBar(t)
	result := prove(b, shop, job)
	const radius, depth = 5.0, 1.0
	segment := radius*radius*math.Acos(1-depth/radius) - (radius-depth)*math.Sqrt(2*radius*depth-depth*depth)
	// Half a column of nodes stands for the steel at each end, and the count over the
	// width is good to a thousandth.
	assert.InEpsilon(t, segment*b.Bar.Length(), result.Judged.Removed, 1e-3+coarsestStep/b.Bar.Length())
	for _, x := range []float64{b.Bar.Butt + 0.1, b.Bar.Butt + 3, 20, b.Bar.Front - 3, b.Bar.Front - 0.1} {
		s, ok := result.Map.SectionAt(x, -9)
		require.True(t, ok)
		assert.InDelta(t, depth, s.Depth, 1e-5, "%g", x)
		assert.InDelta(t, profile.GrooveWidth(radius, depth), s.Width, 2e-3, "%g", x)
	}
}

// TestOpenEndIsEnteredFromTheAir: no move ramps into steel; each pass is lowered clear of
// the bar's end, and one open at one end alone is always entered there.
func TestOpenEndIsEnteredFromTheAir(t *testing.T) {
	shop := builtInShop(t)
	for _, name := range []string{"through", "tapered"} {
		b := mustBuild(t, openCases()[name])
		job := planned(t, b, shop, profile.Left, AboutY, "ball 10")
		front := job.Setup.Placement.Work(motion.Vec{X: b.Bar.Front}).X
		butt := job.Setup.Placement.Work(motion.Vec{X: b.Bar.Butt}).X
		clear := job.Cutter.Radius() + profile.BeyondBar - 1e-9
		for _, m := range job.Moves {
			assert.NotEqual(t, RampIn, m.Purpose, name)
			if m.Purpose != Approach || m.Level == 0 {
				continue
			}
			atFront := math.Abs(m.To.X-front) >= clear && (m.To.X-front)*(m.To.X-butt) > 0 && math.Abs(m.To.X-front) < math.Abs(m.To.X-butt)
			atButt := math.Abs(m.To.X-butt) >= clear && (m.To.X-front)*(m.To.X-butt) > 0 && !atFront
			assert.True(t, atFront || name == "through" && atButt, "%s: lowered at X %g, bar from %g to %g", name, m.To.X, front, butt)
		}
		assert.Empty(t, Stops(job.Checks), name)
	}
}

// TestFaultsAtOpenEndsAreFound plants faults in the program of a through groove.
func TestFaultsAtOpenEndsAreFound(t *testing.T) {
	b, shop, job := throughBar(t)
	front := b.Bar.Front - b.Bar.Butt
	for name, fault := range map[string]struct {
		change func(m Move) Move
		kind   string
	}{
		"stops short of the end": {func(m Move) Move {
			m.To.X = math.Min(m.To.X, front-2)
			return m
		}, "leftover"},
		"lowered over the bar": {func(m Move) Move {
			m.To.X = math.Max(8, math.Min(m.To.X, front-8))
			return m
		}, "plunge"},
		"lowered far beside it": {func(m Move) Move {
			if m.To.X < 0 {
				m.To.X -= 20
			}
			return m
		}, "outside the bar"},
		"rapid down beside it, then in": {func(m Move) Move {
			if m.Purpose == Rough {
				m.Kind, m.Feed = motion.Rapid, 0
			}
			return m
		}, "rapid through steel"},
		"end too deep": {func(m Move) Move {
			if m.To.X > front && m.To.Z < 0 {
				m.To.Z -= 0.5
			}
			return m
		}, "gouge"},
	} {
		moves := make([]Move, len(job.Moves))
		for i, m := range job.Moves {
			moves[i] = fault.change(m)
		}
		faulty := *job
		faulty.Moves = moves
		var kinds []string
		for _, f := range prove(b, shop, &faulty).Judged.Findings {
			kinds = append(kinds, f.Kind)
		}
		assert.Contains(t, kinds, fault.kind, name)
	}
}
