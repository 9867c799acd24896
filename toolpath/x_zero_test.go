package toolpath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/proof"
)

// roughButt is the test knife with a dowel's hole in the waste behind its tang.
func roughButt(kind profile.XZeroKind) profile.Knife {
	k := testKnife()
	k.Bar.TangAllowance = 20
	k.Bar.XZero, k.Bar.XZeroFromButt = kind, profile.Some(8)
	k.Holes = []profile.Hole{{At: -k.Tang.Length - 12, FromSpine: 17, Diameter: profile.Some(4.0), Face: "right"}}
	return k
}

// TestRoughButt mills both faces of a bar that is longer than it was taken to be, turned end
// for end. Taken from the ends at the stop the grooves lie apart by as much; touched at a
// place of the bar they lie opposite each other.
func TestRoughButt(t *testing.T) {
	shop := builtInShop(t)
	const longer = 0.4
	for kind, apart := range map[profile.XZeroKind]float64{profile.ButtZero: longer, profile.DowelZero: 0, profile.LineZero: 0} {
		k := roughButt(kind)
		if kind == profile.ButtZero {
			k.Bar.XZeroFromButt = profile.Optional{}
		}
		b := mustBuild(t, k)
		real := b.Bar
		real.Front += longer
		var ends []float64
		for _, face := range profile.Faces() {
			job := planned(t, b, shop, face, AboutY, "ball 10")
			truly := SetupFor(real, face, AboutY).Placement
			if job.Setup.XZero.Touched() {
				// The work frame is laid so that what is touched stands where the sheet says.
				truly.X0 = job.Setup.XZeroAt() - truly.SignX*job.Setup.XZero.X
			}
			grid, _ := ProofGrid(b, shop, 5)
			m := proof.NewMap(grid, b.Stock())
			m.Cut(truly, CutterOf(job.Cutter), asMotions(job))
			ends = append(ends, groovesEnd(b, m))
		}
		assert.InDelta(t, apart, math.Abs(ends[1]-ends[0]), 0.002, "%s", kind)
	}
}

// groovesEnd returns the x at which the groove comes up to the face, toward the point.
func groovesEnd(b profile.Blade, m *proof.Map) float64 {
	in, out := 50.0, 120.0
	for out-in > 1e-5 {
		if at := (in + out) / 2; m.HeightAt(at, middleOf(b)) < b.Bar.Face(at)-1e-7 {
			in = at
		} else {
			out = at
		}
	}
	return in
}

// TestXZeroIsReckoned: what is touched goes into the error model with its own error, and a
// line sighted to a tenth is cautioned about with the number that would do.
func TestXZeroIsReckoned(t *testing.T) {
	shop := builtInShop(t)
	e := shop.Errors
	for kind, touch := range map[profile.XZeroKind]float64{profile.DowelZero: e.TouchDowel, profile.LineZero: e.TouchLine, profile.FlatZero: e.TouchFlat} {
		b := mustBuild(t, roughButt(kind))
		turning := TurningFor(Fullers, b, shop)
		assert.InDelta(t, 2*e.Stop+2*touch+2*e.Readout, turning.AboutY.Along.Worst(), 1e-12, "%s", kind)
		assert.InDelta(t, 2*touch+2*e.Readout, turning.AboutX.Along.Worst(), 1e-12, "%s", kind)
		checks := xZeroChecks(b, shop)
		require.Len(t, checks, 1)
		assert.Equal(t, kind == profile.LineZero, checks[0].Verdict == Caution, "%s: %v", kind, checks[0])
	}
	// 0.1² less (2·0.01)² and 2·0.005² leave 0.0687 for each of two touches.
	line := mustBuild(t, roughButt(profile.LineZero))
	assert.Contains(t, xZeroChecks(line, shop)[0].Remedy.String(), "a touch good to 0.069 mm")
	shop.Errors.TouchLine = 0.069
	assert.Equal(t, OK, xZeroChecks(line, shop)[0].Verdict, "it does")
	shop.Errors.TouchLine = 0.071
	assert.Equal(t, Caution, xZeroChecks(line, shop)[0].Verdict)
	assert.Empty(t, xZeroChecks(mustBuild(t, testKnife()), shop), "the butt at the stop is in the printed mismatch")
	b := mustBuild(t, roughButt(profile.DowelZero))
	assert.Equal(t, TurningFor(Fullers, b, shop).AboutX.Along.Worst(), TurningFor(Holes, b, shop).AboutX.Along.Worst())
	assert.InDelta(t, b.Bar.Length()-8, SetupFor(b.Bar, profile.Left, AboutY).XZeroAt(), 1e-9)
	assert.InDelta(t, 8, SetupFor(b.Bar, profile.Left, AboutX).XZeroAt(), 1e-9)
}

// TestHolesTakeTheXZeroOfAll: a dowel's own hole is drilled first and from the butt, since
// nothing else is there yet; all other holes, of other bores and from the other face, touch
// what every other operation touches, at the same place of the bar.
func TestHolesTakeTheXZeroOfAll(t *testing.T) {
	shop := builtInShop(t)
	for _, kind := range []profile.XZeroKind{profile.ButtZero, profile.DowelZero, profile.LineZero, profile.FlatZero} {
		k := roughButt(kind)
		if kind == profile.ButtZero {
			k.Bar.XZeroFromButt = profile.Optional{}
		}
		k.Holes = append(k.Holes, profile.Hole{At: -40, FromSpine: 17, Diameter: profile.Some(3.0), Face: "right"},
			profile.Hole{At: -60, FromSpine: 17, Diameter: profile.Some(4.0), Face: "left"})
		b := mustBuild(t, k)
		steps := holeSteps(b)
		require.Len(t, steps, 3)
		for i, step := range steps {
			setup := SetupFor(b.Bar, step.Face, AboutY)
			job, _, err := PlanHoles(b, shop, step, setup, "")
			require.NoError(t, err)
			own := kind == profile.DowelZero && step.Face == profile.Right && step.Bore == 4
			assert.Equal(t, own, i == 0 && kind == profile.DowelZero, "%s: the dowel's hole comes first", kind)
			assert.Equal(t, own, job.Setup.MakesXZero, "%s", kind)
			if own {
				assert.False(t, job.Setup.XZero.Touched())
				continue
			}
			fuller := planned(t, b, shop, step.Face, AboutY, "ball 10")
			assert.Equal(t, fuller.Setup.XZero, job.Setup.XZero, "%s", kind)
			assert.Equal(t, fuller.Setup.XZeroAt(), job.Setup.XZeroAt(), "%s", kind)
			// Where the dowel stands 8 from the butt, each hole is as far from it as in the knife.
			for _, row := range job.HoleReadout() {
				hole := k.Holes[row.Number-1]
				assert.InDelta(t, math.Abs(hole.At-(-k.Tang.Length-12)), math.Abs(row.X-xOf(setup, -k.Tang.Length-12)), 1e-9)
			}
		}
	}
}

// xOf returns X of a place of the blade.
func xOf(s Setup, at float64) float64 { return s.Placement.SignX*at + s.Placement.X0 }
