package toolpath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
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
// worse by that slope times the way from where the zero is touched; edges that are better
// than the shop reckons with change nothing.
func TestEdgesThatRunApart(t *testing.T) {
	shop := builtInShop(t)
	shop.Flip.Fuller = string(AboutX)
	across := func(b profile.Blade) float64 { return TurningFor(Fullers, b, shop).AboutX.Across.Worst() }
	straight := wide(t, 40, 40)
	apart := wide(t, 41, 40)
	slope, known := apart.Bar.EdgesApart()
	require.True(t, known)
	assert.InDelta(t, 0.004, slope, 1e-12)
	lever := featureOf(Fullers, apart).FromTouch
	assert.InDelta(t, (math.Atan(0.004)-shop.Errors.EdgesNotParallel.Radians())*lever, across(apart)-across(straight), 1e-9)
	assert.InDelta(t, across(mustBuild(t, testKnife())), across(straight), 1e-12)

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
