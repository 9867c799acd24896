package toolpath

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/motion"
)

// smallMill is an end mill of 1.5 mm, long enough for the bar of the test knife.
func smallMill() Cutter {
	return Cutter{Name: "small", End: SquareEnd, Diameter: 1.5, Flutes: 4, FluteLength: 7.5, ShankDiameter: 4, StickOut: 14, HolderRadius: 16, RunOut: 0.003, Material: "carbide", Coated: true}
}

// cornered is a knife whose guard clears corners of 0.8 mm, and a shop with the given mills
// alone.
func cornered(t testing.TB, cutters ...Cutter) (profile.Blade, Shop) {
	k := guarded()
	k.Tang.CornerRadius, k.Guard.Chamfer, k.Tang.EdgeBreak, k.Shoulder.FileStock = 0.8, 0.8, 0.5, 0.05
	shop := withoutDrills(builtInShop(t))
	shop.Cutters = append(slices.DeleteFunc(shop.Cutters, func(c Cutter) bool { return c.End == SquareEnd }), cutters...)
	return mustBuild(t, k), shop
}

// firstJob plans what leaves the corners.
func firstJob(t testing.TB, b profile.Blade, shop Shop, o Operation, cutter string) *Job {
	job, _, err := Plan(b, shop, Step{Operation: o, Face: profile.Right}, SetupFor(b.Bar, profile.Right, AboutX), cutter)
	require.NoError(t, err)
	require.Empty(t, Stops(job.Checks))
	return job
}

// cautionsOf returns the checks of jobs that are not well.
func cautionsOf(jobs ...*Job) (out []string) {
	for _, j := range jobs {
		for _, c := range j.Checks {
			if c.Verdict != OK {
				out = append(out, c.String())
			}
		}
	}
	return out
}

// TestCornersAreCutAsDesigned mills shoulders and slots with a large cutter and then their
// corners with smaller ones, one program after the other, on one simulated bar: nothing is
// found, and what the later ones take off is what lies between the round corners, (1 - pi/4)
// of the difference of the squares of their radii each.
func TestCornersAreCutAsDesigned(t *testing.T) {
	three := endMill("square 3", 3, 0)
	three.ShankDiameter, three.StickOut = 6, 12
	for _, row := range []struct {
		operation Operation
		first     string
		chain     []string
		corners   float64
	}{
		{Shoulders, "square 6", []string{"square 3", "small"}, 2},
		{Shoulders, "square 3", []string{"small"}, 2},
		{Slot, "square 3", []string{"small"}, 4},
	} {
		t.Run(string(row.operation)+" after "+row.first, func(t *testing.T) {
			b, shop := cornered(t, endMill("square 6", 6, 0), three, smallMill())
			first := firstJob(t, b, shop, row.operation, row.first)
			jobs := []*Job{first}
			for _, c := range PlanCorners(b, shop, first) {
				assert.Equal(t, "chosen", c.Candidates[slices.IndexFunc(c.Candidates, func(d Candidate) bool { return d.Job == c.Job })].Why)
				jobs = append(jobs, c.Job)
			}
			require.Len(t, jobs, 1+len(row.chain))
			assert.Empty(t, cautionsOf(jobs...))
			state := NewBarState(b, shop, 3)
			for i, job := range jobs {
				result := state.Prove(job.Step, job.Setup, job.Cutter, 0, asMotions(job))
				assert.Empty(t, result.Judged.Findings, "%v", job.Step)
				assert.Less(t, result.Judged.Gouge.Value, 1e-5, "%v at %+v", job.Step, result.Judged.Gouge)
				assert.Less(t, result.Judged.Leftover.Value, 1e-5, "%v at %+v", job.Step, result.Judged.Leftover)
				if i == 0 {
					continue
				}
				assert.Equal(t, row.chain[i-1], job.Cutter.Name)
				assert.Equal(t, i, job.Step.Corner)
				high := 2 * highestFace(b.Bar)
				if row.operation == Slot {
					high = b.Knife.Guard.Thickness
				}
				want := row.corners * (1 - math.Pi/4) * (square(job.CornerFrom) - square(job.Corner)) * high
				assert.InEpsilon(t, want, result.Judged.Removed, 0.25, "a grid of 0.1 mm counts a third of a square millimetre no better")
			}
			last := jobs[len(jobs)-1]
			assert.InDelta(t, math.Max(0.75, map[Operation]float64{Shoulders: 0.8}[row.operation]), last.Corner, 1e-12)
		})
	}
}

// TestFaultsInCornersAreFound: each by the finding that names it.
func TestFaultsInCornersAreFound(t *testing.T) {
	three := endMill("square 3", 3, 0)
	b, shop := cornered(t, three, smallMill())
	first := firstJob(t, b, shop, Shoulders, "square 3")
	corners := PlanCorners(b, shop, first)
	require.Len(t, corners, 1)
	job := corners[0].Job
	same := func(v []motion.Motion) []motion.Motion { return v }
	for name, row := range map[string]struct {
		before bool
		change func(v []motion.Motion) []motion.Motion
		used   float64
		want   string
	}{
		"0.02 mm into the shoulder":  {true, func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{X: 0.02}) }, 1.5, "gouge"},
		"0.02 mm into the tang":      {true, func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Y: 0.02}) }, 1.5, "gouge"},
		"a cutter of 1.6 mm":         {true, same, 1.6, "gouge"},
		"a cutter of 1.4 mm":         {true, same, 1.4, "leftover"},
		"one corner left out":        {true, func(v []motion.Motion) []motion.Motion { return v[:len(v)/2] }, 1.5, "leftover"},
		"the lowest levels left out": {true, func(v []motion.Motion) []motion.Motion { return v[:len(v)-40] }, 1.5, "leftover"},
		"nothing cut before it":      {false, same, 1.5, "plunge"},
	} {
		t.Run(name, func(t *testing.T) {
			state := NewBarState(b, shop, 3)
			if row.before {
				state.Prove(first.Step, first.Setup, first.Cutter, 0, asMotions(first))
			}
			used := job.Cutter
			used.Diameter = row.used
			assert.Contains(t, kindsOf(state.Prove(job.Step, job.Setup, used, 0, row.change(asMotions(job)))), row.want)
		})
	}
}

// TestWhatWouldMillTheCorners: where the drawer has no cutter for them the caution stays, and
// the cutter that it names does it.
func TestWhatWouldMillTheCorners(t *testing.T) {
	for _, o := range []Operation{Shoulders, Slot} {
		t.Run(string(o), func(t *testing.T) {
			b, shop := cornered(t, endMill("square 3", 3, 0))
			first := firstJob(t, b, shop, o, "square 3")
			require.Empty(t, PlanCorners(b, shop, first))
			cautions := cautionsOf(first)
			require.Len(t, cautions, 1)
			named := smallMill()
			named.FluteLength = numberAfter(t, cautions[0], "with flutes of ")
			named.Diameter = numberAfter(t, cautions[0], "square end mill of up to ")
			shop.Cutters = append(shop.Cutters, named)
			first = firstJob(t, b, shop, o, "square 3")
			corners := PlanCorners(b, shop, first)
			require.Len(t, corners, 1, cautions[0])
			assert.Empty(t, cautionsOf(first, corners[0].Job))
		})
	}
}

// TestNoCutterForSharpCorners: where nothing clears the corners of the slot but a hair that
// would be longer than eight of its diameters, none is named.
func TestNoCutterForSharpCorners(t *testing.T) {
	b, shop := cornered(t, endMill("square 3", 3, 0))
	k := b.Knife
	k.Tang.EdgeBreak = 0
	first := firstJob(t, mustBuild(t, k), shop, Slot, "square 3")
	require.Empty(t, PlanCorners(mustBuild(t, k), shop, first))
	cautions := cautionsOf(first)
	require.Len(t, cautions, 1)
	assert.Contains(t, cautions[0], "file the corners square")
	assert.NotContains(t, cautions[0], "end mill")
}

// TestCornersThatBendTheCutter: a cutter too long to hold the limit in any number of levels
// mills nothing; the caution says so, and a cutter as stout as it names holds it.
func TestCornersThatBendTheCutter(t *testing.T) {
	small := smallMill()
	small.ShankDiameter, small.StickOut, small.FluteLength = 1.5, 24, 24
	b, shop := cornered(t, endMill("square 3", 3, 0), small)
	first := firstJob(t, b, shop, Shoulders, "square 3")
	require.Empty(t, PlanCorners(b, shop, first))
	cautions := cautionsOf(first)
	require.Len(t, cautions, 1)
	assert.Contains(t, cautions[0], "deflection of the cutter")
	stout := small
	stout.Diameter = numberAfter(t, cautions[0], ": a cutter of ")
	stout.ShankDiameter = stout.Diameter
	w, ok := cornerWorkAfter(b, shop, first)
	require.True(t, ok)
	job, why := w.planWith(shop, stout)
	require.Empty(t, why)
	assert.Empty(t, Stops(job.Checks))
}

// TestCornersThatNeedNoMilling: where the guard's chamfer clears what the cutter leaves.
func TestCornersThatNeedNoMilling(t *testing.T) {
	b, shop := cornered(t, endMill("square 3", 3, 0), smallMill())
	b.Knife.Guard.Chamfer = 1.5
	assert.Empty(t, PlanCorners(b, shop, firstJob(t, b, shop, Shoulders, "square 3")))
}

// numberAfter returns the number that stands after some words.
func numberAfter(t testing.TB, text, words string) float64 {
	found := regexp.MustCompile(regexp.QuoteMeta(words) + `([0-9.]+)`).FindStringSubmatch(text)
	require.NotNil(t, found, "%q in %q", words, text)
	v, err := strconv.ParseFloat(found[1], 64)
	require.NoError(t, err)
	return v
}
