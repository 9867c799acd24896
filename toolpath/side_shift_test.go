package toolpath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/motion"
)

// pushed moves each finishing motion to the left of its way, as a cutter is pushed that
// turns clockwise; of a zigzag the even lanes (other 0) or the odd ones (1) run the other
// way and are pushed the other way, with -1 none.
func pushed(job *Job, by float64, other int) []motion.Motion {
	v := asMotions(job)
	for i := range v {
		m := job.Moves[i]
		if m.Purpose != Finish {
			continue
		}
		side := by
		if v[i].To.X < v[i].From.X {
			side = -by
		}
		if other >= 0 && m.Lane%2 == other {
			side = -side
		}
		for _, p := range []*motion.Vec{&v[i].From, &v[i].To, &v[i].Centre} {
			p.Y += side
		}
	}
	return v
}

// TestOneWayFinishingKeepsTheWidth: pushed aside by its own cutting, the finish that runs
// all one way leaves the groove as wide as designed within 0.005 mm, displaced by the
// push; to and fro it is wider by twice the push, or narrower, as the lanes fall. Derived.
func TestOneWayFinishingKeepsTheWidth(t *testing.T) {
	const push = 0.02
	b := mustBuild(t, testKnife())
	shop := builtInShop(t)
	job := planned(t, b, shop, profile.Right, AboutY, "ball 6")
	require.Zero(t, job.Lanes[0].Count%2, "the two outermost lanes run opposite ways in a zigzag")
	width := func(motions []motion.Motion) (float64, float64) {
		result := NewBarState(b, shop, 3).Prove(job.Step, job.Setup, job.Cutter, math.Inf(1), motions)
		// The lips, exactly: where the cut comes up to the face.
		lip := func(side float64) float64 {
			in, out := 0.0, 8.0
			for out-in > 1e-6 {
				if at := (in + out) / 2; result.Map.HeightAt(50, middleOf(b)+side*at) < b.Bar.Face(50)-1e-9 {
					in = at
				} else {
					out = at
				}
			}
			return middleOf(b) + side*in
		}
		return lip(1) - lip(-1), (lip(1) + lip(-1)) / 2
	}
	straight, middle := width(asMotions(job))
	oneWay, moved := width(pushed(job, push, -1))
	assert.InDelta(t, straight, oneWay, 0.005)
	assert.InDelta(t, push, math.Abs(moved-middle), 0.005)
	// The two outermost lanes are both pushed out, or both in, where the lanes beside them
	// reach nearly as far.
	even, _ := width(pushed(job, push, 0))
	odd, _ := width(pushed(job, push, 1))
	assert.InDelta(t, 2*push, math.Max(even, odd)-straight, 0.1*push)
	assert.Greater(t, straight-math.Min(even, odd), push)
}

// middleOf returns the y of the first fuller's centreline half way along it.
func middleOf(b profile.Blade) float64 {
	g := b.Fullers[0].Milled
	at, _ := g.Place(g.AtX(50))
	return at.Y
}
