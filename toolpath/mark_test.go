package toolpath

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// marked is the test knife with a mark on both faces.
func marked(text string) profile.Knife {
	k := testKnife()
	k.Mark = profile.Mark{Text: text, Height: 2.5, Depth: 0.1, Radius: 0.25, Face: "both"}
	return k
}

// TestMarkIsCutAsDesigned engraves both faces, turned either way, and cuts the simulated
// bar: the floors of the lines are right and nothing else is touched.
func TestMarkIsCutAsDesigned(t *testing.T) {
	b := mustBuild(t, marked("R8é"))
	shop := builtInShop(t)
	for _, flip := range []Flip{AboutX, AboutY} {
		state := NewBarState(b, shop, 3)
		for _, step := range markSteps(b) {
			job, _, err := PlanMark(b, shop, SetupFor(b.Bar, step.Face, flip), "")
			require.NoError(t, err)
			assert.Empty(t, Stops(job.Checks))
			result := state.Prove(step, job.Setup, job.Cutter, 0, asMotions(job))
			assert.Empty(t, result.Judged.Findings, "%v", step)
			assert.Less(t, result.Judged.Gouge.Value, 1e-5, "%v at %+v", step, result.Judged.Gouge)
			assert.Less(t, result.Judged.Leftover.Value, 1e-5, "%v at %+v", step, result.Judged.Leftover)
		}
	}
}

// TestMarkReadsOnBothFaces: for the operator the strokes of a text begin at its left, and
// an L has its upright on the left and its foot at the bottom, on either face turned end
// for end; turned edge over edge the spine lies toward the operator and the text stands on
// its head, but is not mirrored.
func TestMarkReadsOnBothFaces(t *testing.T) {
	b := mustBuild(t, marked("L"))
	shop := builtInShop(t)
	for _, row := range []struct {
		face profile.Face
		flip Flip
		head float64
	}{{profile.Right, AboutY, 1}, {profile.Left, AboutY, 1}, {profile.Left, AboutX, -1}} {
		job, _, err := PlanMark(b, shop, SetupFor(b.Bar, row.face, row.flip), "")
		require.NoError(t, err)
		lowX, highX, lowY, highY := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, m := range job.Moves {
			if m.Purpose == Rough {
				lowX, highX = math.Min(lowX, m.To.X), math.Max(highX, m.To.X)
				lowY, highY = math.Min(lowY, m.To.Y), math.Max(highY, m.To.Y)
			}
		}
		// The corner of the L is passed at its left and its foot, as it is held.
		corner := motion.Vec{X: lowX, Y: lowY}
		if row.head < 0 {
			corner = motion.Vec{X: highX, Y: highY}
		}
		passed := false
		for _, m := range job.Moves {
			passed = passed || m.Purpose == Rough && math.Hypot(m.To.X-corner.X, m.To.Y-corner.Y) < 1e-6
		}
		assert.True(t, passed, "%s face turned %s", row.face, row.flip)
	}
}

// TestMarkStandsOnTheFlat: a mark that runs into the bevel, off the blade or into a fuller
// is stopped, and moved by what the remedy says it passes.
func TestMarkStandsOnTheFlat(t *testing.T) {
	known := func(v float64) profile.Optional { return profile.Optional{Value: v, Known: true} }
	shop := builtInShop(t)
	stops := func(change func(m *profile.Mark)) []Check {
		k := marked("OK")
		change(&k.Mark)
		b := mustBuild(t, k)
		job, _, err := PlanMark(b, shop, SetupFor(b.Bar, profile.Right, AboutY), "")
		require.NoError(t, err)
		return Stops(job.Checks)
	}
	assert.Empty(t, stops(func(*profile.Mark) {}))
	assert.NotEmpty(t, stops(func(m *profile.Mark) { m.At = known(1) }), "in the guard")
	assert.NotEmpty(t, stops(func(m *profile.Mark) { m.FromSpine = known(0) }), "off the back")
	assert.NotEmpty(t, stops(func(m *profile.Mark) { m.At, m.FromSpine = known(60), known(9) }), "in the fuller")
	assert.NotEmpty(t, stops(func(m *profile.Mark) { m.At, m.FromSpine = known(60), known(30) }), "in the bevel")
}

// TestFaultsInAMarkAreFound plants faults in an engraving program.
func TestFaultsInAMarkAreFound(t *testing.T) {
	b := mustBuild(t, marked("OK"))
	shop := builtInShop(t)
	job, _, err := PlanMark(b, shop, SetupFor(b.Bar, profile.Right, AboutY), "")
	require.NoError(t, err)
	for name, row := range map[string]struct {
		change func(v []motion.Motion) []motion.Motion
		want   string
	}{
		"0.02 mm to the side":  {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{X: 0.02}) }, "gouge"},
		"0.01 mm too deep":     {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Z: -0.01}) }, "gouge"},
		"0.02 mm too shallow":  {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Z: 0.02}) }, "leftover"},
		"a letter missing":     {func(v []motion.Motion) []motion.Motion { return v[:len(v)/2] }, "leftover"},
		"a plunge too deep":    {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Z: -0.2}) }, "plunge"},
		"the spindle standing": {func(v []motion.Motion) []motion.Motion { v[5].Spindle = 0; return v }, "spindle off"},
	} {
		t.Run(name, func(t *testing.T) {
			result := NewBarState(b, shop, 3).Prove(job.Step, job.Setup, job.Cutter, 0, row.change(asMotions(job)))
			assert.Contains(t, kindsOf(result), row.want)
		})
	}
}

// TestEngravingKeepsToEveryLimit: whatever the steel, the ball and the mill, levels and feed
// of a mark lie inside all limits, the bend of the ball, its stress and the mill's power
// among them, and a little faster would not; where the slowest feed is too much, a check
// stops it.
func TestEngravingKeepsToEveryLimit(t *testing.T) {
	b := mustBuild(t, marked("OK"))
	stopped, bent := 0, 0
	for _, steel := range []string{"1084", "D2", "MagnaCut"} {
		for _, diameter := range []float64{0.3, 0.5, 1, 2} {
			for _, stickOut := range []float64{4, 8, 12, 24} {
				for _, bend := range []float64{0.0005, 0.001, 0.0015, 0.002, 0.003, 0.01} {
					shop := builtInShop(t)
					shop.Limits.CutterBend = bend
					b.Knife.Blade.Steel = steel
					data, err := shop.steelData(b)
					require.NoError(t, err)
					c := Cutter{Name: "ball", End: BallEnd, Diameter: diameter, Flutes: 2, FluteLength: diameter, ShankDiameter: 3, StickOut: stickOut, Material: "coated"}
					depth := 0.4 * diameter
					work, choice := shop.engraving(data, c, depth)
					name := fmt.Sprintf("%s, ball of %g mm, standing out %g mm, bent by %g", steel, diameter, stickOut, bend)
					last := work.Rough[len(work.Rough)-1]
					assert.InDelta(t, depth, last.Total, 1e-12, name)
					_, most := data.LevelDepth(c.tool())
					assert.LessOrEqual(t, last.Depth, math.Min(most, markLevelMost*diameter), name)
					faster := choice
					faster.Rough = nil
					for _, feed := range choice.Rough {
						faster.Rough = append(faster.Rough, 1.01*feed)
					}
					if stopsOf(work.Check(choice)) > 0 {
						stopped++
						least := data.FeedPerTooth(c.tool()).Least
						assert.InEpsilon(t, cutting.Feed(least, c.Flutes, choice.Speed), slices.Min(choice.Rough), 1e-9, name)
						continue
					}
					if slices.Max(choice.Rough) < cutting.Feed(data.FeedPerTooth(c.tool()).Most, c.Flutes, choice.Speed)*(1-1e-9) {
						bent++
					}
					assert.Positive(t, stopsOf(work.Check(faster)), name)
				}
			}
		}
	}
	assert.Positive(t, stopped)
	assert.Positive(t, bent)
}

// TestMarksAreEnteredByRamps: no line of a mark is begun by going straight down into steel:
// the ball goes down to the face, and from there and from level to level at no more than the
// slope of a ramp, slowly.
func TestMarksAreEnteredByRamps(t *testing.T) {
	b := mustBuild(t, marked("R8é-."))
	shop := builtInShop(t)
	job, _, err := PlanMark(b, shop, SetupFor(b.Bar, profile.Right, AboutY), "")
	require.NoError(t, err)
	at := job.Moves[0].To
	ramps, deepest := 0, 0.0
	for i, m := range job.Moves[1:] {
		sunk := at.Z - m.To.Z
		along := motionsOf([]Move{m}, at)[0].Length()
		switch {
		case m.Purpose == RampIn:
			ramps++
			assert.LessOrEqual(t, sunk, along*math.Sin(shop.Limits.Ramp.Radians())+1e-9, "move %d", i+1)
			assert.InDelta(t, job.Feeds.Slot*shop.Work.RampFeedShare, m.Feed, 0.1)
		case sunk > 0 && m.To.Z < -1e-9:
			assert.Fail(t, "goes straight down", "move %d, to %g", i+1, m.To.Z)
		}
		deepest = math.Min(deepest, m.To.Z)
		at = m.To
	}
	assert.Positive(t, ramps)
	assert.InDelta(t, -job.Deepest, deepest, 1e-9)
}
