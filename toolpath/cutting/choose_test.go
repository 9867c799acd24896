package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// benchMill is a small mill with speed, feed and power to spare.
func benchMill() Spindle { return Spindle{Least: 100, Most: 40000, FeedMost: 20000, Power: 5000} }

func ball(diameter float64) Tool {
	return Tool{Diameter: diameter, FluteLength: 2 * diameter, ShankDiameter: math.Max(diameter, 6), StickOut: 3 * diameter, RunOut: .0005, Flutes: 2, Material: CoatedCarbide}
}

// slots returns equal levels of a ball.
func slots(diameter, depth float64, count int) []Level {
	var out []Level
	for i := range count {
		out = append(out, Level{Radius: diameter / 2, Depth: depth, Total: depth * float64(i+1)})
	}
	return out
}

func unmet(limits []Limit) []string {
	var out []string
	for _, l := range limits {
		if !l.Met() {
			out = append(out, l.Name)
		}
	}
	return out
}

// TestThinningIsNotStacked: a shallow slot turns faster by D/D_eff for its speed's sake and
// so feeds faster by that, once. The same factor on the feed per tooth as well would make
// it the square.
func TestThinningIsNotStacked(t *testing.T) {
	for _, depth := range []float64{.1, .3, .6, 1.2} {
		w := Work{ball(12), dataFor(t, "1084"), benchMill(), slots(12, depth, 1)}
		c, err := w.Choose()
		require.NoError(t, err)
		thinning := 12 / EffectiveDiameter(12, depth)
		plain := Feed(.004*12, 2, SpindleSpeed(90, 12))
		assert.InEpsilon(t, thinning, c.Feed/plain, 1e-9, "at %g", depth)
		assert.InEpsilon(t, 90, SurfaceSpeed(EffectiveDiameter(12, depth), c.Speed), 1e-9)
		assert.InEpsilon(t, .048, ToothFeed(c.Feed, 2, c.Speed), 1e-9)
		if thinning > 2 {
			assert.Less(t, c.Feed, .9*plain*thinning*thinning)
		}
	}
}

// TestSpeedIsThatOfTheDeepestLevel: every level reaches up to the lips.
func TestSpeedIsThatOfTheDeepestLevel(t *testing.T) {
	w := Work{ball(12), dataFor(t, "1084"), benchMill(), slots(12, .4, 3)}
	c, err := w.Choose()
	require.NoError(t, err)
	assert.InEpsilon(t, 90, SurfaceSpeed(EffectiveDiameter(12, 1.2), c.Speed), 1e-9)
}

// TestChoicesLieInsideTheLimits over a grid of steels, balls, reaches and mills: what was
// chosen meets every limit that speed and feed can meet; the few that it does not are such
// as only another depth, cutter or mill can.
func TestChoicesLieInsideTheLimits(t *testing.T) {
	mills := map[string]Spindle{
		"bench mill":  {Least: 200, Most: 5000, FeedMost: 1500, Power: 750},
		"slow mill":   {Least: 150, Most: 2200, FeedMost: 400, Power: 350},
		"fast router": {Least: 8000, Most: 24000, FeedMost: 5000, Power: 800},
		"to spare":    benchMill(),
	}
	// What a mill that turns too fast, or a cutter too weak for the depth, leaves unmet.
	elsewhere := map[string]bool{"surface speed at the effective diameter": true, "feed per tooth": true,
		"thickest chip against rubbing": true, "run-out against the feed per tooth": true, "feed of the worst placed tooth": true}
	met, all := 0, 0
	for name, mill := range mills {
		for _, steel := range Steels() {
			for _, diameter := range []float64{.5, 1.5, 3, 6, 12} {
				for _, reach := range []float64{3, 7} {
					tool := ball(diameter)
					tool.StickOut = reach * diameter
					d := dataFor(t, steel)
					depth, _ := d.LevelDepth(tool)
					w := Work{tool, d, mill, slots(diameter, depth, 3)}
					c, err := w.Choose()
					require.NoError(t, err)
					all++
					bad := unmet(w.Check(c))
					if len(bad) == 0 {
						met++
					}
					for _, limit := range bad {
						assert.True(t, elsewhere[limit], "%s, %s, ball %g, %g diameters out: %s", name, steel, diameter, reach, limit)
					}
					feed := ToothFeed(c.Feed, tool.Flutes, c.Speed)
					assert.LessOrEqual(t, feed, d.FeedPerTooth(tool).Most*(1+1e-9))
				}
			}
		}
	}
	assert.Greater(t, met, all/4, "most of the grid is not out of reach")
}

// TestWhatGivesWay: a mill's limits lower the speed and keep the chip; a weak cutter lowers
// the chip; each as far as it must and no farther.
func TestWhatGivesWay(t *testing.T) {
	base := Work{ball(12), dataFor(t, "1084"), benchMill(), slots(12, 1.2, 2)}
	free, err := base.Choose()
	require.NoError(t, err)
	chip := func(w Work, c Choice) float64 { return ToothFeed(c.Feed, w.Tool.Flutes, c.Speed) }
	find := func(w Work, c Choice, name string) Limit {
		for _, l := range w.Check(c) {
			if l.Name == name {
				return l
			}
		}
		t.Fatalf("no limit %q", name)
		return Limit{}
	}
	power := "power at the motor, with half as much again for what is not known"
	for name, row := range map[string]struct {
		change    func(w *Work)
		limit     string
		keepsChip bool
	}{
		"feed":                      {func(w *Work) { w.Spindle.FeedMost = free.Feed / 2 }, "feed", true},
		"power":                     {func(w *Work) { w.Spindle.Power = base.motorPower(free) / 3 }, power, true},
		"spindle":                   {func(w *Work) { w.Spindle.Most = free.Speed / 2 }, "spindle speed", true},
		"power of a fast spindle":   {func(w *Work) { w.Spindle.Least, w.Spindle.Power = free.Speed, base.motorPower(free)/3 }, power, false},
		"feed under a fast spindle": {func(w *Work) { w.Spindle.Least, w.Spindle.FeedMost = free.Speed, free.Feed/2 }, "feed", false},
		"deflection":                {func(w *Work) { w.Tool.ShankDiameter, w.Tool.StickOut = 6, 42 }, "deflection of the cutter in roughing", false},
		// A short thin neck breaks before it bends too far.
		"stress": {func(w *Work) { w.Tool.FluteLength, w.Tool.ShankDiameter, w.Tool.StickOut = 6, 3.2, 10 }, "bending stress in the cutter", false},
	} {
		w := base
		row.change(&w)
		c, err := w.Choose()
		require.NoError(t, err)
		l := find(w, c, row.limit)
		assert.InEpsilon(t, l.Bound, l.Value, 1e-6, "%s: up to the limit", name)
		start := w.Steel.FeedPerTooth(w.Tool).Start
		if row.keepsChip {
			assert.InEpsilon(t, start, chip(w, c), 1e-9, name)
			assert.Less(t, c.Speed, free.Speed, name)
		} else {
			assert.Less(t, chip(w, c), .99*start, name)
		}
	}
}

// TestMotorPower: at the motor there is a quarter lost, and half as much again for what is
// not known of the force.
func TestMotorPower(t *testing.T) {
	w := Work{ball(12), dataFor(t, "1084"), benchMill(), slots(12, 1.2, 1)}
	c := Choice{4000, 300}
	assert.InEpsilon(t, 1.5/.75*w.Levels[0].Power(300.0/8000, 300, w.Steel).Value, w.motorPower(c), 1e-9)
}

// TestSlotIsShifted: the slot of TestSlotIn1084 on a cutter fluted as far as the holder,
// 25 mm out, lies 0.023 mm to the left of the feed; derived. A later level of the same
// depth is shifted no farther.
func TestSlotIsShifted(t *testing.T) {
	w := Work{endMill(25), dataFor(t, "1084"), benchMill(), slots(6, .6, 1)}
	c := Choice{8841.9, 353.68}
	assert.InDelta(t, .0230, w.SideShift(c), 5e-5)
	w.Levels = slots(6, .6, 3)
	assert.InDelta(t, .0230, w.SideShift(c), 5e-5)
}

// TestRubbingRaisesTheFeed as far as its range lets it, and only where the chip at the start
// would rub.
func TestRubbingRaisesTheFeed(t *testing.T) {
	d := dataFor(t, "D2")
	thin := Work{ball(2), d, benchMill(), slots(2, .02, 1)}
	c, err := thin.Choose()
	require.NoError(t, err)
	start := d.FeedPerTooth(thin.Tool)
	require.Less(t, TopChip(start.Start, 2, .02), RubbingLimit(2))
	assert.InDelta(t, start.Most, ToothFeed(c.Feed, 2, c.Speed), 1e-9, "its range ends first")
	assert.Contains(t, unmet(thin.Check(c)), "thickest chip against rubbing")
	thicker := Work{ball(2), d, benchMill(), slots(2, .06, 1)}
	c, err = thicker.Choose()
	require.NoError(t, err)
	assert.InDelta(t, RubbingLimit(2), TopChip(ToothFeed(c.Feed, 2, c.Speed), 2, .06), 1e-12)
	assert.NotContains(t, unmet(thicker.Check(c)), "thickest chip against rubbing")
}

// TestChooseRefuses what the steel refuses.
func TestChooseRefuses(t *testing.T) {
	tool := ball(6)
	tool.Material = HighSpeedSteel
	_, err := Work{tool, dataFor(t, "S35VN"), benchMill(), slots(6, .3, 1)}.Choose()
	var refusal *Refusal
	assert.ErrorAs(t, err, &refusal)
}

// TestCheckFindsWhatIsPastItsLimit: a choice from elsewhere, past each limit in turn.
func TestCheckFindsWhatIsPastItsLimit(t *testing.T) {
	base := Work{ball(12), dataFor(t, "1084"), benchMill(), slots(12, 1.2, 2)}
	good, err := base.Choose()
	require.NoError(t, err)
	require.Empty(t, unmet(base.Check(good)))
	for name, change := range map[string]func(w *Work, c *Choice){
		"surface speed at the effective diameter": func(_ *Work, c *Choice) { c.Speed, c.Feed = 1.3*c.Speed, 1.3*c.Feed },
		"spindle speed": func(w *Work, _ *Choice) { w.Spindle.Most = .9 * good.Speed },
		"feed":          func(w *Work, _ *Choice) { w.Spindle.FeedMost = .9 * good.Feed },
		"power at the motor, with half as much again for what is not known": func(w *Work, _ *Choice) { w.Spindle.Power = .9 * base.motorPower(good) },
		"feed per tooth":                       func(_ *Work, c *Choice) { c.Feed *= .4 },
		"feed of the worst placed tooth":       func(w *Work, _ *Choice) { w.Tool.RunOut = .06 },
		"run-out against the feed per tooth":   func(w *Work, _ *Choice) { w.Tool.RunOut = .03 },
		"thickest chip against rubbing":        func(_ *Work, c *Choice) { c.Feed *= .03 },
		"depth of a level":                     func(w *Work, _ *Choice) { w.Levels = slots(12, 2.5, 1) },
		"total depth against the flutes":       func(w *Work, _ *Choice) { w.Tool.FluteLength = 2.3 },
		"deflection of the cutter in roughing": func(w *Work, _ *Choice) { w.Tool.StickOut = 80 },
		"bending stress in the cutter":         func(w *Work, _ *Choice) { w.Tool.ShankDiameter = 3 },
	} {
		w, c := base, good
		change(&w, &c)
		assert.Contains(t, unmet(w.Check(c)), name)
	}
}
