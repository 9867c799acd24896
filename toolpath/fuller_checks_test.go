package toolpath

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
)

// TestChecksStop: each limit, moved past its value, stops the job with a number that
// helps.
func TestChecksStop(t *testing.T) {
	b := mustBuild(t, testKnife())
	stopsOf := func(shop Shop, cutter string) string {
		job := planned(t, b, shop, profile.Right, AboutY, cutter)
		text := ""
		for _, c := range append(Stops(job.Checks), Stops(DesignChecks(b, shop))...) {
			assert.NotEmpty(t, c.Source, c.Name)
			assert.NotEmpty(t, c.Remedy, c.Name)
			text += c.Name + "\n"
		}
		return text
	}
	assert.Empty(t, stopsOf(builtInShop(t), ""))
	for name, change := range map[string]func(s *Shop){
		"web, fuller 1":                    func(s *Shop) { s.Limits.Web = 4.1 },
		"depth over thickness, fuller 1":   func(s *Shop) { s.Limits.DepthRatio = 0.15 },
		"land to the back, fuller 1":       func(s *Shop) { s.Limits.SpineLand = 6 },
		"land to the bevel line, fuller 1": func(s *Shop) { s.Limits.BevelLand = 8 },
		"travel in X":                      func(s *Shop) { s.Machine.TravelX = 40 },
		"travel in Z":                      func(s *Shop) { s.Machine.TravelZ = 5 },
		"power at the motor":               func(s *Shop) { s.Machine.Power = 20 },
		"depth against the flutes":         func(s *Shop) { shortFlutes(s) },
		"deflection of the cutter":         func(s *Shop) { thinShanks(s) },
		"bending stress in the cutter":     func(s *Shop) { thinShanks(s) },
		"surface speed at the effective":   func(s *Shop) { s.Machine.SpindleLeast = 9000; s.Machine.SpindleMost = 9000 },
		"feed per tooth":                   func(s *Shop) { s.Machine.FeedMost = 40 },
	} {
		shop := builtInShop(t)
		change(&shop)
		assert.Contains(t, stopsOf(shop, "ball 12"), name)
	}
}

// TestRemediesDo: what is named first does away with its stop, when it is tried.
func TestRemediesDo(t *testing.T) {
	for name, row := range map[string]struct {
		limit func(l *Limits)
		key   string
	}{
		"web, fuller 1":                                     {func(l *Limits) { l.Web = 4.137 }, "fuller[1].depth"},
		"web over thickness, fuller 1":                      {func(l *Limits) { l.WebRatio = 0.7111 }, "fuller[1].depth"},
		"depth over thickness, fuller 1":                    {func(l *Limits) { l.DepthRatio = 0.1333 }, "fuller[1].depth"},
		"land to the back, fuller 1":                        {func(l *Limits) { l.SpineLand = 5.9337 }, "fuller[1].from_spine"},
		"land to the bevel line, fuller 1":                  {func(l *Limits) { l.BevelLand = 7.4111 }, "fuller[1].from_spine"},
		"start in front of the shoulder's corner, fuller 1": {func(*Limits) {}, "fuller[1].start"},
	} {
		shop, k := builtInShop(t), testKnife()
		row.limit(&shop.Limits)
		if row.key == "fuller[1].start" {
			k.Fullers[0].Start = profile.Some(11)
		}
		stop, _ := named(DesignChecks(mustBuild(t, k), shop), name)
		require.Equal(t, Stop, stop.Verdict, name)
		require.NotEmpty(t, stop.Ways(), name)
		way := stop.Ways()[0]
		assert.Equal(t, row.key, way.Key, name)
		mended, err := k.Put(way.Key, way.Value)
		require.NoError(t, err)
		now, _ := named(DesignChecks(mustBuild(t, mended), shop), name)
		assert.Equal(t, OK, now.Verdict, "%s: %+v: %s", name, way, now)
	}
}

func thinShanks(s *Shop) {
	for i := range s.Cutters {
		s.Cutters[i].ShankDiameter = 2
	}
}

func shortFlutes(s *Shop) {
	for i := range s.Cutters {
		s.Cutters[i].FluteLength = 0.5
	}
}

// TestCutterTooLarge names the largest that would do.
func TestCutterTooLarge(t *testing.T) {
	shop := builtInShop(t)
	k := testKnife()
	k.Fullers[0].Radius = 5
	b := mustBuild(t, k)
	job := planned(t, b, shop, profile.Right, AboutY, "ball 12")
	require.NotEmpty(t, Stops(job.Checks))
	assert.Contains(t, Stops(job.Checks)[0].String(), "take a smaller ball")
	_, err := job.Checked()
	var stop *StopError
	require.ErrorAs(t, err, &stop)
	assert.NotEmpty(t, stop.Checks)
	shop.Cutters = shop.Cutters[:1]
	_, _, err = PlanFullers(b, shop, SetupFor(b.Bar, profile.Right, AboutY), "")
	assert.ErrorContains(t, err, "a ball of up to 10.000 mm diameter would do")
	_, _, err = PlanFullers(b, shop, SetupFor(b.Bar, profile.Right, AboutY), "ball 99")
	assert.ErrorContains(t, err, `there is no cutter "ball 99" in the drawer`)
}

// TestTiltedMillIsOffered where no ball fits and the drawer has a square end mill.
func TestTiltedMillIsOffered(t *testing.T) {
	shop := builtInShop(t)
	b := mustBuild(t, testKnife())
	shop.Cutters = []Cutter{{Name: "ball 20", End: BallEnd, Diameter: 20}, {Name: "square 10", End: SquareEnd, Diameter: 10}}
	_, _, err := PlanFullers(b, shop, SetupFor(b.Bar, profile.Right, AboutY), "")
	assert.ErrorContains(t, err, fmt.Sprintf(`"square 10" tilted %.2f degrees`, math.Asin(5.0/8)*180/math.Pi))
	// Half an ellipse 5 mm wide and 25/8 deep, for the arc of a ball of 8 mm.
	wide := 10 * math.Sqrt(1-math.Pow(1-1/3.125, 2))
	assert.ErrorContains(t, err, fmt.Sprintf("1.000 mm, it is %.3f mm wide instead of %.3f, and its lips stand up to %.3f mm over the arc", wide, 2*math.Sqrt(15), 1-(8-math.Sqrt(64-wide*wide/4))))
	shop.Cutters = shop.Cutters[:1]
	_, _, err = PlanFullers(b, shop, SetupFor(b.Bar, profile.Right, AboutY), "")
	assert.NotContains(t, err.Error(), "tilted")
}

// TestBestCutter: the chosen cutter passes every check, and none that passes is quicker.
func TestBestCutter(t *testing.T) {
	b := mustBuild(t, testKnife())
	best, tried, err := PlanFullers(b, builtInShop(t), SetupFor(b.Bar, profile.Right, AboutY), "")
	require.NoError(t, err)
	assert.Empty(t, Stops(best.Checks))
	for _, c := range tried {
		assert.NotEmpty(t, c.Why, c.Cutter.Name)
		if c.Job != nil && len(Stops(c.Job.Checks)) == 0 {
			assert.GreaterOrEqual(t, c.Job.Seconds, best.Seconds, c.Cutter.Name)
		}
	}
}

// TestSpeedIsChosenAtTheEffectiveDiameter and the feed is not raised for thin chips on
// top of that.
func TestSpeedIsChosenAtTheEffectiveDiameter(t *testing.T) {
	k := testKnife()
	k.Fullers[0].Radius = 6
	b := mustBuild(t, k)
	shop := builtInShop(t)
	shop.Machine.SpindleMost = 20000
	job := planned(t, b, shop, profile.Right, AboutY, "ball 12")
	data, _ := cutting.DataFor("1084")
	assert.InDelta(t, data.CoatedMost, cutting.SurfaceSpeed(cutting.EffectiveDiameter(12, 1), job.Spindle), 0.1)
	_, _, most := cutting.FeedPerTooth(12)
	assert.LessOrEqual(t, job.Feeds.Slot/job.Spindle/2, most)
}

func TestUncheckedJobCannotBeHad(t *testing.T) {
	var none CheckedJob
	assert.Nil(t, none.Job())
	stopped := &Job{Checks: []Check{most("x", 2, 1, "mm")}}
	_, err := stopped.Checked()
	assert.Error(t, err)
}
