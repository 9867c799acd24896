package main

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
	"fullerwright/toolpath"
)

// TestEveryPatternFromShortToLong: every pattern at lengths from 60 % to 160 % either
// passes all checks, or each check that stops it is named with a way out, and trying them
// one after another leads to a knife that passes. Programs are planned at the shortest and
// the longest, for the right face: the left is the same but for its setup.
func TestEveryPatternFromShortToLong(t *testing.T) {
	shop, err := toolpath.ParseShop("shop.toml", templates.Shop())
	require.NoError(t, err)
	stopped := 0
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		pattern, err := profile.Parse(name, data)
		require.NoError(t, err)
		for _, share := range []float64{0.6, 0.75, 0.9, 1.1, 1.3, 1.45, 1.6} {
			out, _, err := profile.Resize(name, data, profile.Resizing{Length: pattern.Blade.Length * share})
			require.NoError(t, err)
			knife, err := profile.Parse(name, out)
			label := fmt.Sprintf("%s at %g", name, share)
			require.NoError(t, err, label)
			stopped += mendAll(t, label, job{knife: knife, shop: shop}, share == 0.6 || share == 1.6)
		}
	}
	assert.Positive(t, stopped, "no remedy was tried")
}

// mendAll tries the first way out of what stops a knife until nothing does, and returns
// how many it took.
func mendAll(t *testing.T, label string, in job, programs bool) int {
	t.Helper()
	const most = 6
	for tried := range most {
		w, err := prepare(in)
		require.NoError(t, err, label)
		if programs && len(toolpath.Stops(w.checks)) == 0 {
			require.NoError(t, w.plan("", func(s toolpath.Step) bool { return s.Face == profile.Right }), label)
		}
		stops := toolpath.Stops(w.allChecks())
		if len(stops) == 0 {
			return tried
		}
		if !assert.NotEmpty(t, stops[0].Remedy, label) || !assert.NotEmpty(t, stops[0].Ways(), "%s: %s", label, stops[0]) {
			return tried
		}
		if in, err = in.with(stops[0].Ways()[0]); !assert.NoError(t, err, "%s: %s", label, stops[0]) {
			return tried
		}
		again, err := prepare(in)
		require.NoError(t, err, label)
		for _, c := range again.checks {
			if c.Name == stops[0].Name {
				assert.Equal(t, toolpath.OK, c.Verdict, "%s: %s: %+v", label, stops[0], stops[0].Ways()[0])
			}
		}
	}
	t.Errorf("%s is still stopped after %d remedies", label, most)
	return most
}

// TestResizeMeasuresAsCompareDoes: what resize says of old and new is what compare says of
// the two files, and both what measure says of each.
func TestResizeMeasuresAsCompareDoes(t *testing.T) {
	shop, err := toolpath.ParseShop("shop.toml", templates.Shop())
	require.NoError(t, err)
	data, _ := templates.Pattern("tarn")
	old, err := profile.Parse("tarn", data)
	require.NoError(t, err)
	out, _, err := profile.Resize("tarn", data, profile.Resizing{Length: 205, Width: 33})
	require.NoError(t, err)
	fresh, err := profile.Parse("longer", out)
	require.NoError(t, err)
	c, err := compareJobs([2]job{{knife: old, shop: shop}, {knife: fresh, shop: shop}}, [2]string{"a", "b"})
	require.NoError(t, err)
	says := map[string][2]float64{}
	for _, m := range c.Measures {
		if m.A != nil && m.B != nil {
			says[m.Name] = [2]float64{*m.A, *m.B}
		}
	}
	for i, k := range []profile.Knife{old, fresh} {
		blade, err := profile.Build(k, profile.Measured{})
		require.NoError(t, err)
		m := blade.Measure(shop.Density(k.Blade.Steel).Value)
		w, err := planned(job{knife: k, shop: shop})
		require.NoError(t, err)
		seconds, land := 0.0, math.Inf(1)
		for _, f := range w.faces {
			seconds += f.job.Seconds
		}
		for _, s := range blade.Sections(0, 41) {
			land = min(land, s.SpineLand, s.LowerLand)
		}
		for name, want := range map[string]float64{
			"weight of the whole knife": m.Whole.Mass, "balance in front of the guard plane": m.Whole.X,
			"point sideways under 10 N": m.Bends.Sideways, "time at the mill": seconds / 60, "least land beside a fuller": land,
		} {
			assert.InDelta(t, want, says[name][i], 1e-6, name)
		}
	}
	assert.Greater(t, says["time at the mill"][1], says["time at the mill"][0], "a longer fuller takes longer")
}

// TestWhatGotWorseIsFirst: stops before cautions, what both faces have alike once, and of the measures those that are worse.
func TestWhatGotWorseIsFirst(t *testing.T) {
	check := func(name string, v toolpath.Verdict) toolpath.Check { return toolpath.Check{Name: name, Verdict: v} }
	c := comparison{checks: [2][]toolpath.Check{
		{check("a", toolpath.OK), check("b", toolpath.Caution), check("c", toolpath.OK), check("d", toolpath.Stop)},
		{check("a", toolpath.Caution), check("b", toolpath.Caution), check("c", toolpath.Stop), check("d", toolpath.Caution), check("e", toolpath.Stop), check("a", toolpath.Caution), check("d", toolpath.Caution)},
	}}
	names := func(checks []toolpath.Check) (out []string) {
		for _, c := range checks {
			out = append(out, c.Name)
		}
		return out
	}
	worsened, rest := c.judged()
	assert.Equal(t, []string{"c", "e", "a"}, names(worsened))
	assert.Equal(t, []string{"b", "d"}, names(rest))

	one, two := 1.0, 2.0
	assert.True(t, comparedMeasure{A: &two, B: &one, q: quantity{better: 1}}.worse())
	assert.True(t, comparedMeasure{A: &one, B: &two, q: quantity{better: -1}}.worse())
	assert.False(t, comparedMeasure{A: &one, B: &two, q: quantity{better: 1}}.worse())
	assert.False(t, comparedMeasure{A: &two, B: &one, q: quantity{}}.worse())
	assert.False(t, comparedMeasure{A: &two, B: &one, q: quantity{better: 1, tolerance: 1.5}}.worse())
}
