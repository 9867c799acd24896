package match

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/templates"
)

// tally counts parameters inside two of their own standard errors.
type tally struct{ inside, all int }

func (c *tally) count(fit Fit, truth map[string]float64) {
	for _, e := range fit.Parameters {
		if value, there := truth[e.Key]; there && !e.AtLimit {
			c.all++
			if math.Abs(value-e.Value) <= 2*e.Error {
				c.inside++
			}
		}
	}
}

// assertCoverage holds the share against the least that chance leaves. For normal errors
// told by some 38 degrees of freedom 0.947 lie within two standard errors (Student's t).
// The parameters of one fit go together, so that each fit counts as four, and every fit
// has errors of its own, or patterns would share their luck; three binomial
// standard deviations of so many are the bound.
func (c tally) assertCoverage(t *testing.T, fits int) {
	t.Helper()
	const wanted = 0.947
	share := float64(c.inside) / float64(c.all)
	bound := 3 * math.Sqrt(wanted*(1-wanted)/float64(4*fits))
	t.Logf("%d of %d inside two standard errors: %.3f, bound %.3f ± %.3f", c.inside, c.all, share, wanted, bound)
	assert.InDelta(t, wanted, share, bound)
}

// TestStationsRecoverEveryPattern: 25 stations with 0.05 mm of noise give back what made
// them, within the standard errors that the fit states.
func TestStationsRecoverEveryPattern(t *testing.T) {
	t.Parallel()
	const seeds = 5
	var counted tally
	for number, name := range templates.Names() {
		for seed := range uint64(seeds) {
			r := rand.New(rand.NewPCG(seed, uint64(7700+number)))
			truth := anotherSize(t, name, r)
			got, err := Match(calipered(t, truth, stations(truth), normal(r, 0.05)), []Family{family(name)}, Options{})
			require.NoError(t, err, "%s %d", name, seed)
			assert.True(t, got.Verdict.Reproduced, "%s %d: %v", name, seed, got.Verdict.Reasons)
			assert.InDelta(t, 0.05, got.Fit.Deviation, 0.03, "%s %d", name, seed)
			assert.Less(t, farthestApart(t, truth, got.Fit.Knife), 0.35, "%s %d", name, seed)
			counted.count(got.Fit, values(truth))
			if seed == 0 {
				assertSees(t, name, got.Fit)
			}
		}
	}
	counted.assertCoverage(t, seeds*len(templates.Names()))
}

// assertSees: stations see the whole outline but the length of the tang, its corners, and
// a ricasso that shows by a curve of the back at most.
func assertSees(t *testing.T, name string, f Fit) {
	t.Helper()
	hidden := map[string]bool{"tang.length": true, "tang.corner_radius": true, "ricasso.length": true, "clip.drop": true}
	for _, fixed := range f.Fixed {
		assert.True(t, hidden[fixed.Key], "%s does not see %s: %s", name, fixed.Key, fixed.Why)
	}
}

// TestFarFromThePattern: a clip over half as long again as the pattern's, with a belly of
// half or nearly twice the length, is found as well, which the pattern's own proportions
// alone do not lead to.
func TestFarFromThePattern(t *testing.T) {
	for _, belly := range []float64{0.5, 1.7} {
		k, err := profile.Parse("wren", family("wren").Data)
		require.NoError(t, err)
		truth := within(k.Copied(), 0)
		truth.Clip.Length *= 1.7
		truth.Edge.BellyLength *= belly
		r := rand.New(rand.NewPCG(6, 81))
		got, err := Match(calipered(t, truth, stations(truth), normal(r, 0.05)), []Family{family("wren")}, Options{})
		require.NoError(t, err)
		assert.True(t, got.Verdict.Reproduced, "%g: %v", belly, got.Verdict.Reasons)
		assert.Less(t, farthestApart(t, truth, got.Fit.Knife), 0.35, "%g", belly)
	}
}

// TestWhatIsNotSeen: readings with five times the noise of a caliper often do not see
// where a back begins to rise by a few millimetres. Nothing is given out as found that is
// not known to a third of its size, or of a millimetre.
func TestWhatIsNotSeen(t *testing.T) {
	for seed := range uint64(4) {
		const name = "kite"
		r := rand.New(rand.NewPCG(seed, 90))
		truth := anotherSize(t, name, r)
		got, err := Match(calipered(t, truth, stations(truth), normal(r, 0.25)), []Family{family(name)}, Options{Within: 1})
		require.NoError(t, err)
		assert.True(t, got.Verdict.Reproduced, "%s: %v", name, got.Verdict.Reasons)
		for _, e := range got.Fit.Parameters {
			if e.Kind == document.Length {
				assert.LessOrEqual(t, e.Error, blind*math.Max(1, math.Abs(e.Value)), "%s %s", name, e.Key)
			}
		}
	}
}

// TestTraceRecoversEveryPattern: so do traced points with 0.2 mm of noise, turned anyhow,
// with a unit or with only the overall length known.
func TestTraceRecoversEveryPattern(t *testing.T) {
	t.Parallel()
	const seeds = 2
	var counted tally
	for number, name := range templates.Names() {
		for seed := range uint64(seeds) {
			r := rand.New(rand.NewPCG(seed, uint64(7800+number)))
			truth := anotherSize(t, name, r)
			outline, err := truth.QuickOutline()
			require.NoError(t, err)
			d, overall := drawing{turn: 2 * math.Pi * r.Float64(), unit: "mm"}, 0.0
			if seed == 1 {
				d.unit, d.scale, overall = "", 2.834, truth.OverallLength()
			}
			m, err := ParseTrace("trace.svg", d.svg(contour(outline, 1.5, normal(r, 0.2))), overall)
			require.NoError(t, err, "%s %d", name, seed)
			got, err := Match(m, []Family{family(name)}, Options{})
			require.NoError(t, err, "%s %d", name, seed)
			assert.True(t, got.Verdict.Reproduced, "%s %d: %v", name, seed, got.Verdict.Reasons)
			assert.InDelta(t, 0.2, got.Fit.Deviation, 0.05, "%s %d", name, seed)
			assert.Less(t, farthestApart(t, truth, got.Fit.Knife), 0.6, "%s %d", name, seed)
			counted.count(got.Fit, values(truth))
		}
	}
	counted.assertCoverage(t, seeds*len(templates.Names()))
}

// TestTheFamilyIsFound: the pattern that made the readings is found, or one that follows
// the same outlines, and then the two are said to be alike. One pattern of each kind of
// outline is tried.
func TestTheFamilyIsFound(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"adze", "badger", "flint", "heron", "kite", "rook"} {
		r := rand.New(rand.NewPCG(3, 79))
		truth := anotherSize(t, name, r)
		got, err := Match(calipered(t, truth, stations(truth), normal(r, 0.05)), allFamilies(), Options{})
		require.NoError(t, err, name)
		assert.True(t, got.Verdict.Reproduced, "%s: %v", name, got.Verdict.Reasons)
		assert.Contains(t, append(got.Alike, got.Fit.Family), name)
		assert.Len(t, got.Candidates, len(templates.Names()))
		for i := 1; i < len(got.Candidates); i++ {
			c := got.Candidates[i]
			assert.True(t, c.Reason != "" || c.Behind >= got.Candidates[i-1].Behind, "%s: the best stand first", name)
		}
	}
}

// TestGrossErrorsDoNotMoveIt: one reading in ten off by up to five millimetres moves the
// outline by no more than 0.1 mm, and those that are off by a millimetre are named. The
// seeds over 100 are those, of eight a pattern, that led a fit astray which knew nothing
// of leverage: by two slips on the tang, or by one where the clip begins. Where nothing but
// the readings lost moves the outline by more, no fit can do better than the one without
// them, and what moves must be within what its standard errors say.
func TestGrossErrorsDoNotMoveIt(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		seed  uint64
		bound float64 // mm
	}{
		{"adze", 5, 0.1}, {"badger", 114, 0.12}, {"brock", 5, 0.1}, {"curlew", 125, 0.1}, {"dipper", 5, 0.1}, {"flint", 5, 0.1}, {"heron", 148, 0.14},
		{"kite", 157, 0.1}, {"kite", 162, 0.1}, {"kite", 163, 0.1}, {"minnow", 167, 0.1}, {"osprey", 5, 0.1}, {"rook", 187, 0.1}, {"tarn", 5, 0.1}, {"wren", 5, 0.1},
	} {
		r := rand.New(rand.NewPCG(c.seed, 80))
		truth := anotherSize(t, c.name, r)
		clean := calipered(t, truth, stations(truth), normal(r, 0.05))
		spoilt, without, gross := slipped(truth, clean, r)
		whole, with, lost := matched(t, c.name, clean), matched(t, c.name, spoilt), matched(t, c.name, without)
		assert.Less(t, farthestApart(t, lost.Knife, with.Knife), 0.1, "%s %d: from the fit without the slips", c.name, c.seed)
		assert.Less(t, farthestApart(t, whole.Knife, with.Knife), c.bound, "%s %d", c.name, c.seed)
		assert.Equal(t, len(gross), namedAsWrong(spoilt, with, gross), "%s %d: all that were spoilt are named", c.name, c.seed)
		if c.bound > 0.1 {
			assert.Greater(t, farthestApart(t, whole.Knife, lost.Knife), 0.1, "%s %d: the readings lost alone move it", c.name, c.seed)
			before := values(whole.Knife)
			for _, e := range with.Parameters {
				assert.InDelta(t, before[e.Key], e.Value, 3*e.Error, "%s %d: %s", c.name, c.seed, e.Key)
			}
		}
	}
}

// slipped returns measurements with every tenth reading spoilt, and without those,
// beginning anywhere but for the very point and the choil, where a single reading is all
// there is.
func slipped(truth profile.Knife, clean Measurements, r *rand.Rand) (spoilt, without Measurements, gross map[int]bool) {
	spoilt, without, gross = clean, clean, map[int]bool{}
	spoilt.Readings, without.Readings = append([]Reading(nil), clean.Readings...), nil
	for i := r.IntN(10); i < len(spoilt.Readings); i += 10 {
		if x := spoilt.Readings[i].X; x < 0.93*truth.Blade.Length && (truth.Ricasso.Choil == 0 || math.Abs(x-truth.Ricasso.Length) > truth.Ricasso.Choil) {
			spoilt.Readings[i].Value += math.Copysign(1+4*r.Float64(), r.Float64()-0.5)
			gross[i] = true
		}
	}
	for i, reading := range clean.Readings {
		if !gross[i] {
			without.Readings = append(without.Readings, reading)
		}
	}
	return spoilt, without, gross
}

func matched(t *testing.T, name string, m Measurements) Fit {
	t.Helper()
	got, err := Match(m, []Family{family(name)}, Options{})
	require.NoError(t, err, name)
	return got.Fit
}

// namedAsWrong returns how many of some readings the fit calls wrong.
func namedAsWrong(m Measurements, f Fit, gross map[int]bool) int {
	spoilt := map[Reading]bool{}
	for i := range gross {
		spoilt[m.Readings[i]] = true
	}
	count := 0
	for _, r := range f.Wrong() {
		if spoilt[r.Reading] {
			count++
		}
	}
	return count
}

// TestTraceWithBurrs is the same for a trace with one point in ten off.
func TestTraceWithBurrs(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"heron", "kite", "badger"} {
		r := rand.New(rand.NewPCG(6, 81))
		truth := anotherSize(t, name, r)
		outline, err := truth.QuickOutline()
		require.NoError(t, err)
		points := contour(outline, 1.5, normal(r, 0.05))
		fit := func(spoil bool) Fit {
			moved := append([]geom.Point(nil), points...)
			for i := range moved {
				if spoil && i%10 == 3 {
					moved[i].X += 3 * r.NormFloat64()
					moved[i].Y += 3 * r.NormFloat64()
				}
			}
			m, err := ParseTrace("trace.svg", drawing{unit: "mm"}.svg(moved), 0)
			require.NoError(t, err, name)
			return matched(t, name, m)
		}
		assert.Less(t, farthestApart(t, fit(false).Knife, fit(true).Knife), 0.1, name)
	}
}
