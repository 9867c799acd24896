package cutting

import (
	"fmt"
	"math"
	"slices"
	"strings"
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

// roughing is the work of a ball in 1084, all on levels of roughing.
func roughing(steel Data, tool Tool, mill Spindle, levels []Level) Work {
	return Work{Tool: tool, Steel: steel, Spindle: mill, Strength: DefaultStrength(), Rough: levels}
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
	for _, depth := range []float64{.1, .3, .6} {
		w := roughing(dataFor(t, "1084"), ball(12), benchMill(), slots(12, depth, 1))
		w.Tool.RunOut = 0
		c, err := w.Choose()
		require.NoError(t, err)
		thinning := 12 / EffectiveDiameter(12, depth)
		plain := Feed(.007*12, 2, SpindleSpeed(110, 12))
		assert.InEpsilon(t, thinning, c.Rough[0]/plain, 1e-9, "at %g", depth)
		assert.InEpsilon(t, 110, SurfaceSpeed(EffectiveDiameter(12, depth), c.Speed), 1e-9)
		assert.InEpsilon(t, .084, ToothFeed(c.Rough[0], 2, c.Speed), 1e-9)
		if thinning > 2 {
			assert.Less(t, c.Rough[0], .9*plain*thinning*thinning)
		}
	}
}

// TestSpeedIsThatOfTheWidestContact: every level reaches up to the lips, and lanes beside
// the middle may reach wider still.
func TestSpeedIsThatOfTheWidestContact(t *testing.T) {
	w := roughing(dataFor(t, "1084"), ball(12), benchMill(), slots(12, .4, 3))
	c, err := w.Choose()
	require.NoError(t, err)
	assert.InEpsilon(t, 110, SurfaceSpeed(EffectiveDiameter(12, 1.2), c.Speed), 1e-9)
	w.Widest = 9
	c, err = w.Choose()
	require.NoError(t, err)
	assert.InEpsilon(t, 110, SurfaceSpeed(9, c.Speed), 1e-9)
}

// TestPace moves the upper ends of the ranges: at 0 nothing goes beyond the values to start
// with (page 3.5 of the cutting data: 90 m/min, 0.004 and 0.10 of the diameter in 1084).
func TestPace(t *testing.T) {
	slow := dataFor(t, "1084").Paced(0)
	w := roughing(slow, ball(12), benchMill(), slots(12, .6, 1))
	w.Tool.RunOut = 0
	c, err := w.Choose()
	require.NoError(t, err)
	assert.InEpsilon(t, 90, SurfaceSpeed(EffectiveDiameter(12, .6), c.Speed), 1e-9)
	assert.InEpsilon(t, .048, ToothFeed(c.Rough[0], 2, c.Speed), 1e-9)
	_, depth := slow.LevelDepth(ball(12))
	assert.InDelta(t, 1.2, depth, 1e-12)
	half := dataFor(t, "1084").Paced(.5)
	assert.InDelta(t, 100, half.Speeds(CoatedCarbide).Most, 1e-9)
	assert.InDelta(t, .0055*12, half.FeedPerTooth(ball(12)).Most, 1e-12)
}

// TestChoicesLieInsideTheLimits over a grid of steels, balls, reaches and mills: what was
// chosen meets every limit that speed and feed can meet; the few that it does not are such
// as only another depth, cutter or mill can.
func TestChoicesLieInsideTheLimits(t *testing.T) {
	// What a mill that turns too fast or is too weak, or a cutter too weak for the depth,
	// leaves unmet.
	elsewhere := map[string]bool{"surface speed at the effective diameter": true, "feed per tooth": true,
		"thickest chip against rubbing": true, "run-out against the feed per tooth": true, "feed of the worst placed tooth": true,
		"deflection of the cutter in roughing": true, "deflection of the cutter in finishing": true, "bending stress in the cutter": true,
		"power at the motor, with half as much again for what is not known": true}
	met, all := 0, 0
	gridOfWork(t, func(name string, w Work) {
		c, err := w.Choose()
		require.NoError(t, err)
		all++
		bad := unmet(w.Check(c))
		if len(bad) == 0 {
			met++
		}
		feed := w.Steel.FeedPerTooth(w.Tool)
		for _, limit := range bad {
			assert.True(t, elsewhere[limit], "%s: %s", name, limit)
			if strings.HasPrefix(limit, "deflection") || strings.HasPrefix(limit, "bending") || strings.HasPrefix(limit, "power") {
				assert.InEpsilon(t, feed.Least, ToothFeed(slices.Min(append([]float64{c.Finish}, c.Rough...)), 2, c.Speed), 1e-6, "%s: the feed has given way", name)
			}
		}
		assert.LessOrEqual(t, ToothFeed(slices.Max(c.Rough), w.Tool.Flutes, c.Speed), feed.Most*(1+1e-9))
	})
	assert.Greater(t, met, all/4, "most of the grid is not out of reach")
}

// gridOfWork goes over a grid of mills, steels, balls and reaches.
func gridOfWork(t *testing.T, visit func(name string, w Work)) {
	mills := map[string]Spindle{
		"bench mill":  {Least: 200, Most: 5000, FeedMost: 1500, Power: 750},
		"slow mill":   {Least: 150, Most: 2200, FeedMost: 400, Power: 350},
		"fast router": {Least: 8000, Most: 24000, FeedMost: 5000, Power: 800},
		"to spare":    benchMill(),
	}
	for mill, spindle := range mills {
		for _, steel := range Steels() {
			for _, diameter := range []float64{.5, 1.5, 3, 6, 12} {
				for _, reach := range []float64{3, 7} {
					tool := ball(diameter)
					tool.StickOut = reach * diameter
					d := dataFor(t, steel)
					depth, _ := d.LevelDepth(tool)
					w := roughing(d, tool, spindle, slots(diameter, depth, 3))
					w.Finish = []Level{{diameter / 2, .01 * diameter, 3 * depth}}
					visit(fmt.Sprintf("%s, %s, ball %g, %g diameters out", mill, steel, diameter, reach), w)
				}
			}
		}
	}
}

// TestNothingIsFaster: of all speeds and feeds on a fine grid that keep to every limit that
// is no caution, none takes less time than the choice, for works that can keep to all. The
// choice must not be timid, since a bound on the time rests on it.
func TestNothingIsFaster(t *testing.T) {
	tried := 0
	gridOfWork(t, func(name string, w Work) {
		if tried%23 != 0 { // one in twenty-three is enough
			tried++
			return
		}
		tried++
		w.Tool.RunOut = 0
		c, err := w.Choose()
		require.NoError(t, err)
		keeps := func(c Choice) bool {
			for _, l := range w.Check(c) {
				if !l.Met() && !(l.Mild && !strings.HasPrefix(l.Name, "surface")) {
					return false
				}
			}
			return true
		}
		if !keeps(c) {
			return
		}
		feed := w.Steel.FeedPerTooth(w.Tool)
		for i := range 16 {
			speed := w.Spindle.Least * math.Pow(w.Spindle.Most/w.Spindle.Least, float64(i)/15)
			other := Choice{Speed: speed}
			fastest := func(set func(c *Choice, feed float64)) {
				for j := 20; j >= 0; j-- {
					try := Choice{Speed: speed, Rough: slices.Clone(c.Rough), Finish: Feed(feed.Least, 2, speed)}
					for k := range try.Rough {
						try.Rough[k] = Feed(feed.Least, 2, speed)
					}
					value := Feed(feed.Least+(feed.Most-feed.Least)*float64(j)/20, 2, speed)
					set(&try, value)
					if keeps(try) {
						set(&other, value)
						return
					}
				}
			}
			other.Rough = make([]float64, len(c.Rough))
			for k := range c.Rough {
				fastest(func(c *Choice, feed float64) { c.Rough[k] = feed })
			}
			fastest(func(c *Choice, feed float64) { c.Finish = feed })
			if slices.Contains(other.Rough, 0) || other.Finish == 0 {
				continue
			}
			assert.GreaterOrEqual(t, other.slowness(), c.slowness()*(1-1e-9), "%s at %.0f rev/min", name, speed)
		}
	})
}

// TestWhatGivesWay: a mill's limits lower the speed and keep the chip; a weak cutter lowers
// the chip; each as far as it must and no farther.
func TestWhatGivesWay(t *testing.T) {
	base := roughing(dataFor(t, "1084"), ball(12), benchMill(), slots(12, 1.2, 1))
	free, err := base.Choose()
	require.NoError(t, err)
	chip := func(w Work, c Choice) float64 { return ToothFeed(c.Rough[0], w.Tool.Flutes, c.Speed) }
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
	needed := find(base, free, power).Value
	for name, row := range map[string]struct {
		change    func(w *Work)
		limit     string
		keepsChip bool
	}{
		"feed":                      {func(w *Work) { w.Spindle.FeedMost = free.Rough[0] * .8 }, "feed", true},
		"power":                     {func(w *Work) { w.Spindle.Power = needed * .8 }, power, true},
		"spindle":                   {func(w *Work) { w.Spindle.Most = free.Speed / 2 }, "spindle speed", true},
		"power of a fast spindle":   {func(w *Work) { w.Spindle.Least, w.Spindle.Power = free.Speed, needed/2 }, power, false},
		"feed under a fast spindle": {func(w *Work) { w.Spindle.Least, w.Spindle.FeedMost = free.Speed, free.Rough[0]/2 }, "feed", false},
		"deflection":                {func(w *Work) { w.Tool.ShankDiameter, w.Tool.StickOut = 8, 40 }, "deflection of the cutter in roughing", false},
		// A short thin neck breaks before it bends too far.
		"stress": {func(w *Work) { w.Tool.FluteLength, w.Tool.ShankDiameter, w.Tool.StickOut = 6, 3.2, 10 }, "bending stress in the cutter", false},
	} {
		w := base
		row.change(&w)
		c, err := w.Choose()
		require.NoError(t, err)
		l := find(w, c, row.limit)
		assert.InEpsilon(t, l.Bound, l.Value, 1e-6, "%s: up to the limit", name)
		if row.keepsChip {
			assert.InEpsilon(t, chip(base, free), chip(w, c), 1e-9, name)
			assert.Less(t, c.Speed, free.Speed, name)
		} else {
			assert.Less(t, chip(w, c), .99*chip(base, free), name)
		}
	}
}

// TestDeepLevelsAreFedSlower: the walls lean on later levels, and each has its own feed.
func TestDeepLevelsAreFedSlower(t *testing.T) {
	w := roughing(dataFor(t, "1084"), ball(6), benchMill(), slots(6, .9, 3))
	w.Tool.StickOut = 26
	w.Finish = []Level{{3, .1, 2.8}}
	c, err := w.Choose()
	require.NoError(t, err)
	require.Len(t, c.Rough, 3)
	assert.Greater(t, c.Rough[0], 1.1*c.Rough[2])
	require.Positive(t, c.Finish)
	assert.Empty(t, unmet(w.Check(c)))
	w.Finish = append([]Level{{3, 1, 2.8}}, w.Finish...)
	heavier, err := w.Choose()
	require.NoError(t, err)
	assert.Less(t, heavier.Finish, .9*c.Finish, "the heaviest finishing sets the feed of all")
}

// TestMotorPower: at the motor there is a quarter lost, and half as much again for what is
// not known of the force.
func TestMotorPower(t *testing.T) {
	w := roughing(dataFor(t, "1084"), ball(12), benchMill(), slots(12, 1.2, 1))
	assert.InEpsilon(t, 1.5/.75*w.Rough[0].Power(300.0/8000, 300, w.Steel).Value, w.withMeans().motorPower(w.Rough[0], 300.0/8000, 300), 1e-9)
}

// TestSlotIsShifted: the slot of TestSlotIn1084 on a cutter fluted as far as the holder,
// 25 mm out, lies 0.023 mm to the left of the feed; derived. A later level of the same
// depth is shifted no farther.
func TestSlotIsShifted(t *testing.T) {
	w := roughing(dataFor(t, "1084"), endMill(25), benchMill(), slots(6, .6, 1))
	c := Choice{Speed: 8841.9, Rough: []float64{353.68}}
	assert.InDelta(t, .0230, w.SideShift(c), 5e-5)
	w.Rough, c.Rough = slots(6, .6, 3), []float64{353.68, 353.68, 353.68}
	assert.InDelta(t, .0230, w.SideShift(c), 5e-5)
}

// TestChooseRefuses what the steel refuses.
func TestChooseRefuses(t *testing.T) {
	tool := ball(6)
	tool.Material = HighSpeedSteel
	_, err := roughing(dataFor(t, "S35VN"), tool, benchMill(), slots(6, .3, 1)).Choose()
	var refusal *Refusal
	assert.ErrorAs(t, err, &refusal)
}

// TestCheckFindsWhatIsPastItsLimit: a choice from elsewhere, past each limit in turn.
func TestCheckFindsWhatIsPastItsLimit(t *testing.T) {
	base := roughing(dataFor(t, "1084"), ball(12), benchMill(), slots(12, 1.2, 2))
	base.Finish = []Level{{6, .1, 2.5}}
	good, err := base.Choose()
	require.NoError(t, err)
	require.Empty(t, unmet(base.Check(good)))
	faster := func(c *Choice, share float64) {
		c.Rough, c.Finish = []float64{c.Rough[0] * share, c.Rough[1] * share}, c.Finish*share
	}
	for name, change := range map[string]func(w *Work, c *Choice){
		"surface speed at the effective diameter": func(_ *Work, c *Choice) { c.Speed *= 1.3; faster(c, 1.3) },
		"spindle speed": func(w *Work, _ *Choice) { w.Spindle.Most = .9 * good.Speed },
		"feed":          func(w *Work, _ *Choice) { w.Spindle.FeedMost = .9 * good.Finish },
		"power at the motor, with half as much again for what is not known": func(w *Work, _ *Choice) { w.Spindle.Power = .9 * base.figures(good).power },
		"feed per tooth":                        func(_ *Work, c *Choice) { faster(c, .2) },
		"feed of the worst placed tooth":        func(w *Work, _ *Choice) { w.Tool.RunOut = .06 },
		"run-out against the feed per tooth":    func(w *Work, _ *Choice) { w.Tool.RunOut = .045 },
		"thickest chip against rubbing":         func(_ *Work, c *Choice) { faster(c, .03) },
		"depth of a level":                      func(w *Work, _ *Choice) { w.Rough = slots(12, 2.5, 2) },
		"depth against the flutes":              func(w *Work, _ *Choice) { w.Tool.FluteLength = 2.3 },
		"deflection of the cutter in roughing":  func(w *Work, _ *Choice) { w.Tool.StickOut = 80 },
		"deflection of the cutter in finishing": func(w *Work, _ *Choice) { w.Strength.Finish = .0005 },
		"bending stress in the cutter":          func(w *Work, _ *Choice) { w.Tool.ShankDiameter = 3 },
	} {
		w, c := base, good
		change(&w, &c)
		assert.Contains(t, unmet(w.Check(c)), name)
	}
}
