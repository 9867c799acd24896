package toolpath

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
	"fullerwright/toolpath/proof"
)

// TestScrapTellsTheCutter: the program passes its proof; milled with a cutter that is not
// what the shop file says and a zero that is off, the widths of its grooves, read off the
// simulated scrap, tell both within 3 µm. What it is expected to measure is what it
// measures where nothing is off.
func TestScrapTellsTheCutter(t *testing.T) {
	shop := builtInShop(t)
	thin := testKnife()
	thin.Fullers[0].Depth = profile.Some(0.5)
	for _, c := range []struct {
		knife       profile.Knife
		cutter      string
		wider, high float64
		grooves     int
	}{{testKnife(), "ball 12", 0, 0, 3}, {testKnife(), "ball 12", -0.04, 0.03, 3}, {thin, "ball 6", 0.025, -0.05, 3}, {testKnife(), "ball 4", 0.01, 0.02, 2}} {
		b := mustBuild(t, c.knife)
		job, s, err := PlanScrap(b, shop, PlainBar{}, c.cutter)
		require.NoError(t, err)
		assert.Empty(t, Stops(job.Checks))
		require.Len(t, s.Grooves, c.grooves)
		assert.InDelta(t, c.knife.Fullers[0].Depth.Value, s.Grooves[1].Depth, 1e-9, "the depth of the fuller is among them")
		if c.wider == 0 {
			result := s.Prove(job, shop, asMotions(job))
			assert.Empty(t, result.Judged.Findings)
			assert.Less(t, result.Judged.Leftover.Value, 1e-5)
		}
		m := proof.NewMap(proof.GridOver(proof.Box{MaxX: s.Size.Length, MinY: -s.Size.Width}, 0.08), s.Size)
		cutter := job.Cutter
		cutter.Measured = profile.Some(2 * (cutter.Radius() + c.wider))
		placed := job.Setup.Placement
		placed.Z0 -= c.high
		m.Cut(placed, CutterOf(cutter), asMotions(job))
		var widths []cutting.GrooveWidth
		for _, g := range s.Grooves {
			read, ok := m.SectionAt((g.From+g.To)/2, -s.Size.Width/2)
			require.True(t, ok)
			widths = append(widths, cutting.GrooveWidth{Depth: g.Depth, Width: read.Width})
			if c.wider == 0 {
				assert.InDelta(t, g.Width, read.Width, 0.003)
				assert.InDelta(t, cutting.EffectiveDiameter(12, g.Depth), g.Width, 1e-9)
			}
		}
		fit, err := cutting.FitBall(widths, 0.02)
		require.NoError(t, err)
		assert.InDelta(t, job.Cutter.Radius()+c.wider, fit.Radius, 0.003, c.cutter)
		assert.InDelta(t, -c.high, fit.Sunk, 0.003, c.cutter)
	}
}

// TestScrapIsProved: a scrap cut too deep, too shallow or beside its place fails.
func TestScrapIsProved(t *testing.T) {
	shop := builtInShop(t)
	job, s, err := PlanScrap(mustBuild(t, testKnife()), shop, PlainBar{}, "ball 12")
	require.NoError(t, err)
	assert.NotEmpty(t, s.Prove(job, shop, raised(job, 0.01)).Judged.Findings)
	aside := asMotions(job)
	for i := range aside {
		aside[i].From.Y += 0.05
		aside[i].To.Y += 0.05
		aside[i].Centre.Y += 0.05
	}
	assert.NotEmpty(t, s.Prove(job, shop, aside).Judged.Findings)
}

// TestScrapInSeveralFiles: a program in two files leaves what one leaves; without the second
// there is steel left.
func TestScrapInSeveralFiles(t *testing.T) {
	shop := builtInShop(t)
	job, s, err := PlanScrap(mustBuild(t, testKnife()), shop, PlainBar{}, "ball 12")
	require.NoError(t, err)
	whole := asMotions(job)
	at := 0
	for i, m := range whole[:len(whole)/2] {
		if m.Kind == motion.Rapid && m.To.Z == job.Clearance {
			at = i + 1
		}
	}
	require.Positive(t, at)
	one, two := s.Prove(job, shop, whole), s.Prove(job, shop, whole[:at], whole[at:])
	assert.Empty(t, two.Judged.Findings)
	assert.InDelta(t, one.Judged.Removed, two.Judged.Removed, 1e-9)
	assert.InDelta(t, one.Seconds, two.Seconds, 1)
	assert.NotEmpty(t, s.Prove(job, shop, whole[:at]).Judged.Findings)
}

// TestScrapTooSmall: each size has its check, and what it names would do.
func TestScrapTooSmall(t *testing.T) {
	shop := builtInShop(t)
	b := mustBuild(t, testKnife())
	_, whole, err := PlanScrap(b, shop, PlainBar{}, "ball 12")
	require.NoError(t, err)
	for name, c := range map[string]struct{ small, right PlainBar }{
		"length of the scrap":        {PlainBar{Length: whole.Size.Length - 1}, PlainBar{Length: whole.Size.Length}},
		"width of the scrap":         {PlainBar{Width: 15}, PlainBar{Width: 18}},
		"depth against half the bar": {PlainBar{Thickness: 1.9}, PlainBar{Thickness: 2}},
	} {
		small, _, err := PlanScrap(b, shop, c.small, "ball 12")
		require.NoError(t, err)
		stops := Stops(small.Checks)
		require.NotEmpty(t, stops, name)
		assert.Equal(t, name, stops[len(stops)-1].Name)
		right, _, err := PlanScrap(b, shop, c.right, "ball 12")
		require.NoError(t, err)
		assert.Empty(t, Stops(right.Checks), name)
	}
}
