package toolpath

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// lines returns a track of straight pieces through places.
func lines(places ...rampPlace) track {
	var t track
	for i, p := range places[1:] {
		t.line(places[i].s, places[i].h, p.s, p.h)
	}
	return t
}

// TestRampLength: a ramp of one leg into a level depth is the depth over the tangent of its
// angle long (Kyocera, ramping: L = ap/tan of the angle; 0.3 mm at 3 degrees is 5.724 mm, and
// 0.6 mm is 11.449 mm).
func TestRampLength(t *testing.T) {
	slope := math.Tan(3 * math.Pi / 180)
	for depth, length := range map[float64]float64{0.3: 5.724, 0.6: 11.449} {
		flat := lines(rampPlace{20, -depth}, rampPlace{80, -depth})
		face := func(float64) float64 { return 0 }
		out := rampPlaces(flat, nil, face, slope, true)
		assert.Len(t, out, 2)
		assert.InDelta(t, 20+length, out[0].s, 5e-4)
		assert.InDelta(t, 0, out[0].h, 1e-9)
		assert.Equal(t, rampPlace{20, -depth}, out[1])
		back := rampPlaces(flat, nil, face, slope, false)
		assert.InDelta(t, 80-length, back[0].s, 5e-4)
		assert.Equal(t, rampPlace{80, -depth}, back[1])
	}
}

// TestRamps: over tracks and faces that bend at random a ramp comes down from the level
// before, is nowhere steeper than its slope, is nowhere under the track, has a corner at
// every bend it passes, and ends on the track where the pass begins. Where a ramp of one leg
// has room it is as short as the slope lets it be.
func TestRamps(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 17))
	single, several := 0, 0
	for range 400 {
		slope := 0.02 + 0.08*random.Float64()
		flat, bends := randomFlat(random, slope)
		depth := 0.1 + 2.5*random.Float64()
		tilt := 0.1 * slope * (2*random.Float64() - 1)
		before := func(s float64) float64 { return depth + tilt*s }
		forward := random.IntN(2) == 0
		out := rampPlaces(flat, bends, before, slope, forward)
		end := rampPlace{flat.start(), flat.height(flat.start())}
		if !forward {
			end = rampPlace{flat.end(), flat.height(flat.end())}
		}
		require.Equal(t, end, out[len(out)-1])
		assert.GreaterOrEqual(t, out[0].h, before(out[0].s)-1e-9, "begins in solid steel")
		turns := 0
		for i := 1; i < len(out); i++ {
			checkLeg(t, flat, bends, out[i-1], out[i], slope)
			if i > 1 && (out[i].s-out[i-1].s)*(out[i-1].s-out[i-2].s) < 0 {
				turns++
			}
		}
		if turns > 0 {
			several++
			continue
		}
		single++
		if len(out) == 1 {
			assert.LessOrEqual(t, before(end.s), end.h)
			continue
		}
		assert.InDelta(t, before(out[0].s), out[0].h, 1e-9)
	}
	assert.Greater(t, single, 50)
	assert.Greater(t, several, 50)
}

// randomFlat returns a track of one to five lines that slope by no more than half of a
// ramp's slope, and bends of a centreline.
func randomFlat(random *rand.Rand, slope float64) (track, []float64) {
	at := rampPlace{100 * random.Float64(), 0}
	places := []rampPlace{at}
	for range 1 + random.IntN(5) {
		length := 2 + 30*random.Float64()
		at = rampPlace{at.s + length, at.h + length*slope/2*(2*random.Float64()-1)}
		places = append(places, at)
	}
	flat := lines(places...)
	var bends []float64
	for range random.IntN(6) {
		bends = append(bends, flat.start()+(flat.end()-flat.start())*random.Float64())
	}
	return flat, bends
}

// checkLeg checks the straight way between two corners of a ramp.
func checkLeg(t *testing.T, flat track, bends []float64, a, b rampPlace, slope float64) {
	t.Helper()
	assert.LessOrEqual(t, math.Abs(b.h-a.h), slope*math.Abs(b.s-a.s)+1e-9, "steeper than allowed")
	assert.NotEqual(t, a.s, b.s, "straight down")
	for i := range 9 {
		part := float64(i) / 8
		s := a.s + part*(b.s-a.s)
		assert.GreaterOrEqual(t, a.h+part*(b.h-a.h), flat.height(s)-1e-9, "under the track")
	}
	low, high := math.Min(a.s, b.s), math.Max(a.s, b.s)
	for _, bend := range bends {
		assert.False(t, low+1e-9 < bend && bend < high-1e-9, "goes straight over a bend")
	}
}

// entryCases are jobs with fullers of every kind, some with a ball smaller than the groove.
func entryCases(t *testing.T) map[string]*Job {
	t.Helper()
	out := map[string]*Job{}
	shop := builtInShop(t)
	for name, k := range fullerCases() {
		for _, cutter := range []string{"ball 12", "ball 6"} {
			k.Fullers[0].Depth, k.Fullers[0].Web, k.Fullers[0].Ratio = profile.Some(1.2), profile.Optional{}, profile.Optional{}
			if b, err := profile.Build(k, profile.Measured{}); err == nil {
				out[name+", "+cutter] = planned(t, b, shop, profile.Right, AboutY, cutter)
			}
		}
	}
	return out
}

// TestEntriesStayInTheGroove: on a ramp the cutter keeps its distance beside the centreline
// all the way, also round the bends of one that follows the spine.
func TestEntriesStayInTheGroove(t *testing.T) {
	shop := builtInShop(t)
	ramps := 0
	for name, k := range fullerCases() {
		b := mustBuild(t, k)
		job := planned(t, b, shop, profile.Right, AboutY, "ball 12")
		at := job.Moves[0].To
		for _, m := range job.Moves {
			if m.Purpose == RampIn {
				ramps++
				begin, middle, end := besideAxis(b, job, at), besideAxis(b, job, motion.Vec{X: (at.X + m.To.X) / 2, Y: (at.Y + m.To.Y) / 2}), besideAxis(b, job, m.To)
				assert.InDelta(t, begin, middle, 1e-6, name)
				assert.InDelta(t, begin, end, 1e-6, name)
			}
			at = m.To
		}
	}
	assert.Greater(t, ramps, len(fullerCases()))
}

// besideAxis returns how far a place of the work frame lies from the nearest centreline of
// a groove, in plan.
func besideAxis(b profile.Blade, job *Job, at motion.Vec) float64 {
	p := job.Setup.Placement.Face(at)
	nearest := math.Inf(1)
	for _, g := range b.Grooves(profile.Right) {
		for i := 1; i < len(g.Plan); i++ {
			a, c := g.Plan[i-1], g.Plan[i]
			dx, dy := c.X-a.X, c.Y-a.Y
			along := ((p.X-a.X)*dx + (p.Y-a.Y)*dy) / (dx*dx + dy*dy)
			if i > 1 { // the first and the last go on beyond their ends
				along = math.Max(0, along)
			}
			if i < len(g.Plan)-1 {
				along = math.Min(1, along)
			}
			nearest = math.Min(nearest, math.Hypot(p.X-a.X-along*dx, p.Y-a.Y-along*dy))
		}
	}
	return nearest
}

// TestStepsOver: the first pass of every level goes in by a ramp; the others begin in the
// groove that a pass before them in their level has cleared, at a place it has gone over no
// higher, and go level from there, no farther than the cutter's radius.
func TestStepsOver(t *testing.T) {
	steps := 0
	for name, job := range entryCases(t) {
		entered := map[[3]int]bool{} // what stands for a fuller, its level, and the first pass or another
		var at motion.Vec
		fuller := 0
		for i, m := range job.Moves {
			if m.Lane == 1 && m.Level == 1 && (i == 0 || job.Moves[i-1].Lane != 1 || job.Moves[i-1].Level != 1) {
				fuller++
			}
			switch m.Purpose {
			case RampIn:
				assert.Equal(t, 1, m.Lane, "%s: a ramp into a level that is open", name)
				entered[[3]int{fuller, m.Level, m.Lane}] = true
			case StepOver:
				steps++
				entered[[3]int{fuller, m.Level, m.Lane}] = true
				assert.InDelta(t, at.Z, m.To.Z, 1e-9, "%s: level", name)
				assert.LessOrEqual(t, math.Hypot(m.To.X-at.X, m.To.Y-at.Y), job.Cutter.Radius(), name)
				over := job.Moves[i-3].To
				assert.Equal(t, []any{at.X, at.Y, job.Clearance}, []any{over.X, over.Y, over.Z}, "%s: straight down", name)
				assert.True(t, cleared(job.Moves[:i], at, m.Level), "%s: goes down at %+v where no pass was", name, at)
			case Rough:
				assert.True(t, entered[[3]int{fuller, m.Level, m.Lane}], "%s: level %d, pass %d begins in solid steel", name, m.Level, m.Lane)
			}
			at = m.To
		}
	}
	assert.Greater(t, steps, 20)
}

// TestEntriesAreSlow: on a ramp and on a step over the feed is the share of that of the pass
// which the shop asks for.
func TestEntriesAreSlow(t *testing.T) {
	share := builtInShop(t).Work.RampFeedShare
	for name, job := range entryCases(t) {
		entry := 0.0
		for _, m := range job.Moves {
			switch {
			case m.Purpose == RampIn || m.Purpose == StepOver:
				entry = m.Feed
			case m.Purpose == Rough && entry > 0:
				assert.InDelta(t, share*m.Feed, entry, 1, name)
				entry = 0
			}
		}
	}
}

// cleared reports whether a roughing move of a level goes over a place at its height or
// lower.
func cleared(moves []Move, place motion.Vec, level int) bool {
	at := moves[0].To
	for _, m := range moves {
		if m.Level == level && m.Purpose == Rough && m.Kind == motion.Line {
			dx, dy := m.To.X-at.X, m.To.Y-at.Y
			if length := math.Hypot(dx, dy); length > 0 {
				along := ((place.X-at.X)*dx + (place.Y-at.Y)*dy) / length
				aside := math.Abs((place.X-at.X)*dy-(place.Y-at.Y)*dx) / length
				inside := math.Max(0, math.Min(length, along))
				// A run-out that begins there, of a radius of 2 mm at least, rises by this.
				beyond := math.Abs(along - inside)
				height := at.Z + (m.To.Z-at.Z)*inside/length + beyond*beyond/(2*2)
				if aside < 1e-6 && beyond < 0.5 && height <= place.Z+1e-6 {
					return true
				}
			}
		}
		at = m.To
	}
	return false
}

// TestClearedBeside: the nearest pass that is as deep, reaches there and overlaps is the one
// to begin in.
func TestClearedBeside(t *testing.T) {
	cut := fullerCut{cutter: 3}
	at := func(u, height, end float64) roughPass {
		return roughPass{u: u, centre: lines(rampPlace{0, height}, rampPlace{end, height})}
	}
	pass := at(2, -1, 50)
	for name, c := range map[string]struct {
		cleared []roughPass
		u       float64
		found   bool
	}{
		"none":             {},
		"the nearest":      {[]roughPass{at(0, -1, 50), at(1, -1.2, 50), at(-1, -1, 50)}, 1, true},
		"not so deep":      {[]roughPass{at(0, -1, 50), at(1, -0.9, 50)}, 0, true},
		"does not reach":   {[]roughPass{at(0, -1, 50), at(1, -1, 30)}, 0, true},
		"does not overlap": {[]roughPass{at(-4.1, -1, 50)}, 0, false},
	} {
		u, found := cut.clearedBeside(pass, c.cleared, 40)
		assert.Equal(t, c.found, found, name)
		assert.InDelta(t, c.u, u, 1e-12, name)
	}
}

// TestLevelsTakeLeastTime: no other number of levels is roughed sooner, its moves run at
// their feeds, all of them planned and added up here for themselves.
func TestLevelsTakeLeastTime(t *testing.T) {
	shop := builtInShop(t)
	several := 0
	for name, k := range fullerCases() {
		k.Fullers[0].Depth, k.Fullers[0].Web, k.Fullers[0].Ratio = profile.Some(1.9), profile.Optional{}, profile.Optional{}
		b, err := profile.Build(k, profile.Measured{})
		if err != nil {
			continue
		}
		data, err := shop.steelData(b)
		require.NoError(t, err)
		for _, cutter := range shop.Cutters {
			if cutter.End != BallEnd || cutter.Radius() > b.Fullers[0].Milled.Radius || cutter.Radius() < 2 {
				continue
			}
			over := course{setup: SetupFor(b.Bar, profile.Right, AboutY), clearance: highestFace(b.Bar) + shop.Work.Clearance}
			cut := newFullerCut(b, b.Fullers[0], cutter.Radius(), shop.Work.FinishStock)
			chosen := len(cut.bestLevels(shop, data, cutter, &over))
			least := cut.leastLevels(data, cutter.tool())
			if chosen > least {
				several++
			}
			shortest := minutesOf(t, cut, chosen, shop, data, cutter, over)
			for n := least; n < least+6; n++ {
				assert.LessOrEqual(t, shortest, minutesOf(t, cut, n, shop, data, cutter, over)+1e-9, "%s, %s: %d levels, chosen %d", name, cutter.Name, n, chosen)
			}
		}
	}
	assert.Positive(t, several)
}

// minutesOf returns how long a fuller is roughed in a number of levels, at the feeds of the
// moves; without end where a limit stops it.
func minutesOf(t *testing.T, c fullerCut, n int, shop Shop, data cutting.Data, cutter Cutter, over course) float64 {
	t.Helper()
	levels := c.levels(n)
	work := shop.ballWork(data, cutter)
	work.Finish, work.Widest = []cutting.Level{c.finishEngaged()}, c.finishWidest()
	for _, l := range levels {
		work.Rough = append(work.Rough, l.engaged(c.cutter))
	}
	choice, err := work.Choose()
	require.NoError(t, err)
	if stopsOf(work.Check(choice)) > 0 {
		return math.Inf(1)
	}
	c.rough(&over, levels, func(l level) Feeds {
		slot := choice.Rough[l.number-1]
		return Feeds{Slot: slot, Ramp: wholeFeed(slot * shop.Work.RampFeedShare), Plunge: wholeFeed(slot / float64(cutter.Flutes)), Air: shop.Machine.FeedMost}
	}, shop.ramp())
	minutes := 0.0
	for i := 1; i < len(over.moves); i++ {
		m := motionsOf(over.moves[i:i+1], over.moves[i-1].To)[0]
		if m.Kind == motion.Rapid {
			m.Feed = shop.Machine.Rapid
		}
		minutes += m.Length() / m.Feed
	}
	return minutes
}
