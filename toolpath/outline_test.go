package toolpath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/motion"
)

// profiled is the test knife with its outline to be milled.
func profiled(hold profile.Hold) profile.Knife {
	k := testKnife()
	k.Outline = profile.OutlineSize{Hold: hold, TabWidth: 6, Height: 0.8}
	k.Bar.TangAllowance, k.Bar.PointAllowance = 30, 30
	k.Allowance.Grinding = 0.5
	return k
}

// TestOutlineIsCutAsDesigned mills the rough profile with tabs and with a skin, after the
// shoulder, and cuts the simulated bar: the walls stand at the rough line, the bottom is
// right, and the blade is touched nowhere.
func TestOutlineIsCutAsDesigned(t *testing.T) {
	for _, hold := range []profile.Hold{profile.Tabs, profile.Skin} {
		for _, c := range []Cutter{endMill("square 6", 6, 0), endMill("corner 5", 5, 0.5)} {
			t.Run(string(hold)+" "+c.Name, func(t *testing.T) {
				b := mustBuild(t, profiled(hold))
				shop := squareShop(t, c)
				state := NewBarState(b, shop, 3)
				for _, step := range append(shoulderSteps(b), outlineSteps(b)...) {
					job, _, err := Plan(b, shop, step, SetupFor(b.Bar, step.Face, AboutX), c.Name)
					require.NoError(t, err)
					assert.Empty(t, Stops(job.Checks))
					result := state.Prove(step, job.Setup, job.Cutter, 0, asMotions(job))
					assert.Empty(t, result.Judged.Findings, "%v", step)
					assert.Less(t, result.Judged.Gouge.Value, 1e-5, "%v at %+v", step, result.Judged.Gouge)
					assert.Less(t, result.Judged.Leftover.Value, 1e-5, "%v at %+v", step, result.Judged.Leftover)
				}
			})
		}
	}
}

// TestTabsHold: the bridges stand as high and, at their tops, as wide as asked, and their
// slopes are no steeper than a ramp.
func TestTabsHold(t *testing.T) {
	b := mustBuild(t, profiled(profile.Tabs))
	c := endMill("square 6", 6, 0)
	shop := squareShop(t, c)
	job, _, err := PlanOutline(b, shop, SetupFor(b.Bar, profile.Right, AboutX), c.Name)
	require.NoError(t, err)
	result := NewBarState(b, shop, 3).Prove(job.Step, job.Setup, job.Cutter, 0, asMotions(job))
	cut, err := b.OutlineCut(c.Radius(), 0)
	require.NoError(t, err)
	require.Len(t, cut.Tabs, 2)
	tang := cut.Tabs[0]
	for _, y := range []float64{-3, 0, 3} {
		assert.InDelta(t, cut.TabTop(), result.Map.HeightAt(tang.X, tang.Y+0.99*y), 1e-6, "%v mm beside the middle of the tang's tab", y)
	}
	assert.Less(t, result.Map.HeightAt(tang.X, tang.Y+3.5), cut.TabTop(), "beyond its width it falls away")
	under, _ := cut.Bottom()
	assert.InDelta(t, 0.8, cut.TabTop()-under, 1e-9)
}

// TestRoughLine: the path of the cutter's axis keeps the allowance and the radius from the
// outline, everywhere but in inside corners, and what is left there is told: in a square
// inside corner a cutter of radius r leaves (sqrt 2 - 1)·r over the allowance's own arc.
func TestRoughLine(t *testing.T) {
	b := mustBuild(t, profiled(profile.Tabs))
	cut, err := b.OutlineCut(3, 0)
	require.NoError(t, err)

	outline := b.Outline.Sample(0.001)
	for _, p := range cut.Path.Sample(0.01) {
		least := math.Inf(1)
		for i, q := range outline {
			least = math.Min(least, toSegment(p, q, outline[(i+1)%len(outline)]))
		}
		assert.Greater(t, least, 3.5-0.005)
		if p.X > 1 {
			assert.Less(t, least, 3.5+0.012, "there is no inside corner in front of the shoulder")
		}
	}
	left, at := cut.Unreached()
	assert.Less(t, at.X, 1.0, "at the shoulder")
	// The tang's corner of radius 1 grows to an arc of 0.5 in the rough line.
	assert.InDelta(t, (math.Sqrt2-1)*(3-0.5), left, 0.1, "the tang's sides are not quite square to the shoulder")
}

// TestLoop: parts of a closed path join up, go round more than once and keep its length.
func TestLoop(t *testing.T) {
	square := loopOf([]geom.Piece{
		geom.Line{To: geom.Point{X: 10}},
		geom.Arc{Centre: geom.Point{X: 10, Y: 5}, Radius: 5, From: -90 * geom.Degree, Sweep: 180 * geom.Degree},
		geom.Line{From: geom.Point{X: 10, Y: 10}, To: geom.Point{Y: 10}},
		geom.Line{From: geom.Point{Y: 10}},
	})
	assert.InDelta(t, 30+5*math.Pi, square.length, 1e-9)
	for _, row := range [][2]float64{{0, 5}, {3, 40}, {-7, 120}, {12.5, 12.6}} {
		parts := square.between(row[0], row[1])
		sum := 0.0
		for i, p := range parts {
			sum += p.Length()
			if i > 0 {
				before := parts[i-1].End()
				assert.InDelta(t, 0, math.Hypot(before.X-p.Start().X, before.Y-p.Start().Y), 1e-6)
			}
		}
		assert.InDelta(t, row[1]-row[0], sum, 1e-6)
		start, end := square.at(row[0]), square.at(row[1])
		assert.InDelta(t, 0, math.Hypot(start.X-parts[0].Start().X, start.Y-parts[0].Start().Y), 1e-6)
		last := parts[len(parts)-1].End()
		assert.InDelta(t, 0, math.Hypot(end.X-last.X, end.Y-last.Y), 1e-6)
	}
}

// TestFaultsInAnOutlineAreFound plants faults in the program of an outline.
func TestFaultsInAnOutlineAreFound(t *testing.T) {
	b := mustBuild(t, profiled(profile.Tabs))
	c := endMill("square 6", 6, 0)
	shop := squareShop(t, c)
	job, _, err := PlanOutline(b, shop, SetupFor(b.Bar, profile.Right, AboutX), c.Name)
	require.NoError(t, err)
	for name, row := range map[string]struct {
		change func(v []motion.Motion) []motion.Motion
		want   string
	}{
		"0.02 mm to the side":    {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Y: 0.02}) }, "gouge"},
		"the last level missing": {func(v []motion.Motion) []motion.Motion { return v[:len(v)*6/7] }, "leftover"},
		"too deep":               {func(v []motion.Motion) []motion.Motion { return shifted(v, motion.Vec{Z: -0.2}) }, "below the bar"},
		"ramps straight down":    {steepened, "plunge"},
		"one arc the other way":  {otherWay, "gouge"},
		"across the blade at once": {func(v []motion.Motion) []motion.Motion {
			back, edge := 0, 0
			for i := range v {
				if v[i].From.Z < -1 && v[i].From.Y > v[back].From.Y || v[back].From.Z >= -1 {
					back = i
				}
				if v[i].From.Z < -1 && v[i].From.Y < v[edge].From.Y {
					edge = i
				}
			}
			v[back].Kind, v[back].To = motion.Line, motion.Vec{X: v[back].From.X, Y: v[edge].From.Y, Z: v[back].From.Z}
			return v
		}, "gouge"},
	} {
		t.Run(name, func(t *testing.T) {
			result := NewBarState(b, shop, 3).Prove(job.Step, job.Setup, job.Cutter, 0, row.change(asMotions(job)))
			assert.Contains(t, kindsOf(result), row.want)
		})
	}
}

// otherWay turns the longest arc the other way round.
func otherWay(v []motion.Motion) []motion.Motion {
	longest := 0
	for i, m := range v {
		if m.Kind == motion.Arc && m.Radius() < 20 && m.Radius()*math.Abs(m.Sweep) > v[longest].Radius()*math.Abs(v[longest].Sweep) {
			longest = i
		}
	}
	v[longest].Sweep -= math.Copysign(2*math.Pi, v[longest].Sweep)
	return v
}

// toSegment returns how far a point lies from a segment.
func toSegment(p, a, b geom.Point) float64 {
	if a == b {
		return math.Hypot(p.X-a.X, p.Y-a.Y)
	}
	return geom.Distance(geom.Line{From: a, To: b}, p)
}
