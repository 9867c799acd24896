package toolpath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/motion"
)

// wide is the test knife on a bar whose width was read at two places, 250 mm apart.
func wide(t *testing.T, near, far float64) profile.Blade {
	t.Helper()
	k := testKnife()
	k.Bar.Length = profile.Some(300)
	b, err := profile.Build(k, profile.Measured{Widths: []profile.MeasuredStation{{FromButt: 20, Value: near}, {FromButt: 270, Value: far}}})
	require.NoError(t, err)
	return b
}

// TestEdgesThatRunApart: a bar 1 mm wider at one end than 250 mm on has edges that run apart by
// 0.004 of their length. The check says so, and the place of a fuller turned edge over edge is
// worse by that slope times half its length, for its Y is reckoned with the width at its middle;
// a width that nobody read at two places is known where the zero is touched alone.
func TestEdgesThatRunApart(t *testing.T) {
	shop := builtInShop(t)
	shop.Flip.Fuller = string(AboutX)
	across := func(b profile.Blade) float64 { return TurningFor(Fullers, b, shop).AboutX.Across.Worst() }
	straight := wide(t, 40, 40)
	apart := wide(t, 41, 40)
	slope, known := apart.Bar.EdgesApart()
	require.True(t, known)
	assert.InDelta(t, 0.004, slope, 1e-12)
	from, to := extentOf(Fullers, apart)
	lever, known0 := (to-from)/2, math.Max(math.Abs(from), math.Abs(to))
	assert.InDelta(t, (math.Atan(0.004)-shop.Errors.EdgesNotParallel.Radians())*lever, across(apart)-across(straight), 1e-9)
	assert.InDelta(t, shop.Errors.EdgesNotParallel.Radians()*(known0-lever), across(mustBuild(t, testKnife()))-across(straight), 1e-12)

	check := func(b profile.Blade) Check {
		for _, c := range DesignChecks(b, shop) {
			if c.Name == "edges of the bar out of parallel, by the widths measured" {
				return c
			}
		}
		return Check{}
	}
	assert.Equal(t, Caution, check(apart).Verdict)
	assert.InDelta(t, math.Atan(0.004)*180/math.Pi, check(apart).Value, 1e-9)
	assert.Equal(t, OK, check(straight).Verdict)
	assert.Empty(t, check(mustBuild(t, testKnife())).Name, "nobody measured")
}

// TestTurnedOnAnEdgeThatRunsOff: a bar 41 mm wide near the butt and 40 mm 250 mm on, turned edge
// over edge, bears on the line between these places. The middle of a fuller comes as far from
// that line as the program has it, and its ends off by what the line runs off on the way.
func TestTurnedOnAnEdgeThatRunsOff(t *testing.T) {
	b := wide(t, 41, 40)
	for _, face := range profile.Faces() {
		p := SetupOf(b, Fullers, face, AboutX).Placement
		from, to := extentOf(Fullers, b)
		// The line y = low + slope·x through what was read, and the distance of a point from it.
		const slope = 1.0 / 250
		low := b.Bar.Top - 41 - slope*(b.Bar.Butt+20)
		fromJaw := func(x, y float64) float64 {
			if face == profile.Right {
				return b.Bar.Top - y
			}
			return (y - low - slope*x) / math.Hypot(1, slope)
		}
		const y = -10
		middle := (from + to) / 2
		off := func(x float64) float64 { return fromJaw(x, y) + p.Work(motion.Vec{X: x, Y: y}).Y }
		assert.InDelta(t, 0, off(middle), 5e-4, face)
		if face == profile.Left {
			assert.InDelta(t, -slope*(to-from)/2, off(to), 5e-4)
		}
	}
	assert.Equal(t, SetupFor(b.Bar, profile.Left, AboutY), SetupOf(b, Fullers, profile.Left, AboutY))
}

// TestNarrowEnd: the vise closes on the widest place of a bar, but the blade must lie inside
// it where it is narrow, too.
func TestNarrowEnd(t *testing.T) {
	shop := builtInShop(t)
	spare := func(b profile.Blade) float64 {
		for _, c := range DesignChecks(b, shop) {
			if c.Name == "bar around the outline" {
				return c.Value
			}
		}
		return math.NaN()
	}
	k := testKnife()
	lowest := k.Blade.Width + k.Bar.SpineAllowance
	assert.InDelta(t, math.Min(k.Bar.SpineAllowance, 36.5-lowest), spare(wide(t, 36.5, 36.5)), 0.01)
	// The straight edge ends 115 mm in front of the guard plane, where the bar is narrower.
	b := wide(t, 39, 35)
	at := k.Blade.Length - k.Edge.BellyLength - b.Bar.Butt
	width := 39 - 4*(at-20)/250
	assert.InDelta(t, width-lowest, spare(b), 0.02)
}
