package toolpath

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
)

// TestHolding: a bar that hardly dips into the jaws, a cut far beyond them and a short grip
// are found, each with what would do, and that does.
func TestHolding(t *testing.T) {
	b := mustBuild(t, testKnife())
	find := func(shop Shop, name string) Check {
		job := planned(t, b, shop, profile.Right, AboutY, "ball 10")
		for _, c := range job.holdingChecks(b, shop) {
			if c.Name == name {
				return c
			}
		}
		require.Fail(t, name)
		return Check{}
	}
	shop := builtInShop(t)
	shop.Vise.JawHeight = 0 // the parallels are chosen by hand
	for _, name := range []string{"edges of the bar below the top of the jaws", "cut beyond the end of the jaws", "bar held in the jaws"} {
		assert.Equal(t, OK, find(shop, name).Verdict, name)
	}
	high := shop
	high.Vise.BarAboveJaws = 5
	c := find(high, "edges of the bar below the top of the jaws")
	assert.Equal(t, Caution, c.Verdict)
	assert.InDelta(t, 1, c.Value, 1e-9, "6 mm thick")
	assert.Contains(t, c.Remedy.String(), "stand 4.00 mm above")
	high.Vise.BarAboveJaws = 4
	assert.Equal(t, OK, find(high, c.Name).Verdict)

	high.Vise.BarAboveJaws = 7
	assert.Equal(t, Stop, find(high, c.Name).Verdict, "the jaws do not reach it")

	// The groove is seen from where it leaves the face: its run-outs of radius 40 at a depth
	// of 1 reach sqrt(40² - 39²) beyond its full-depth ends, the lanes beside the middle a
	// little less.
	short := shop
	short.Vise.JawLength = 20
	c = find(short, "bar held in the jaws")
	assert.Equal(t, Caution, c.Verdict)
	assert.InDelta(t, 20, c.Value, 1e-9)
	beyond := find(short, "cut beyond the end of the jaws")
	assert.InDelta(t, (50+2*8.89-20)/2, beyond.Value, 1.5)
	assert.InDelta(t, 2*beyond.Value, c.Limit, 1e-9)
	short.Vise.JawLength = 45
	assert.Equal(t, OK, find(short, "bar held in the jaws").Verdict)

	// Jaws that end under the groove leave it beyond them on that side, to the right as to
	// the left.
	for _, jaws := range [][2]float64{{-40, 60}, {40, 140}} {
		job := planned(t, b, shop, profile.Right, AboutY, "ball 10")
		job.Setup.Jaws = jaws
		assert.InDelta(t, 75+8.89-60, job.holdingChecks(b, shop)[1].Value, 1.5, "%v", jaws)
	}
}
