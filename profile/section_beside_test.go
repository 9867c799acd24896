package profile

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// segmentBetween returns the area of the part between two lines along the blade of a segment
// of a circle, the first and the last counted from its middle.
func segmentBetween(radius, depth, first, last float64) float64 {
	half := GrooveWidth(radius, depth) / 2
	primitive := func(u float64) float64 {
		u = min(max(u, -half), half)
		return u/2*math.Sqrt(radius*radius-u*u) + radius*radius/2*math.Asin(u/radius) - (radius-depth)*u
	}
	return max(0, primitive(last)-primitive(first))
}

// TestGrooveBesideTheTang: a fuller that reaches under the guard takes off the tang, in closed
// form, the part of a segment between its sides: with its centreline on the tang, over or
// under it, with one lip on it, with both beside a tang that is narrower than the groove, and
// nothing where it lies beside it, at every kind of end.
func TestGrooveBesideTheTang(t *testing.T) {
	const radius, depth, centre = 6.0, 0.6, -12.0
	half := GrooveWidth(radius, depth) / 2
	for name, tang := range map[string]struct{ top, width float64 }{
		"the centreline on it": {8, 22}, "the upper lip beside it": {10.5, 20}, "the centreline beside it": {13, 18}, "a lip on it": {14.5, 16},
		"it begins under the groove": {14.9, 16}, "the centreline under it": {2, 9}, "the lower lip under it": {2, 11}, "narrower than the groove": {11, 3},
		"narrower, the centreline beside it": {12.4, 2},
	} {
		for _, end := range []RunOutKind{BallRunOut, SweptRunOut, OpenRunOut} {
			k := openKnife(false, false)
			k.Tang.Width, k.Tang.EndWidth, k.Shoulder.Top = tang.width, tang.width, Some(tang.top)
			s := &k.Fullers[0]
			s.FromSpine, s.StartRunOut, s.Start = -centre, end, Some(-30.0)
			if end == OpenRunOut {
				s.Start = Optional{}
			}
			b := mustBuild(t, k)
			want := 2 * segmentBetween(radius, depth, -tang.top-tang.width-centre, -tang.top-centre)
			c := b.CrossSectionAt(-20)
			curved := twelvePoints().crowded()
			with, plain := c.properties(&curved)
			assert.InDelta(t, want, plain.Area-with.Area, 1e-9, "%s, %s", name, end)
			chain, err := c.Chain()
			require.NoError(t, err)
			assert.InDelta(t, with.Area, chain.Area(), 1e-5, "%s, %s", name, end)
			assert.InDelta(t, want*10, taken(b, -25, -15), 1e-7, "%s, %s", name, end)

			s20 := b.InSteelAt(0, -20)
			nearest := min(max(centre, -tang.top-tang.width), -tang.top) - centre
			deep := max(0, depth-radius+math.Sqrt(radius*radius-nearest*nearest))
			assert.InDelta(t, deep, s20.Depth, 1e-9, "%s, %s", name, end)
			assert.InDelta(t, s20.Thickness-2*deep, s20.Web, 1e-9, "%s, %s", name, end)
			assert.InDelta(t, max(0, min(half, -tang.top-centre)-max(-half, -tang.top-tang.width-centre)), s20.Width, 1e-9, "%s, %s", name, end)
			if want > 0 && end != OpenRunOut {
				assert.Less(t, b.Fullers[0].StartCut, -30.0+1, name)
			}
			if want == 0 {
				assert.InDelta(t, 0, b.Fullers[0].StartCut, 1, "%s: it takes no more than of the shoulder", name)
			}
		}
	}
}

// placedAnyhow returns a knife whose fuller lies anyhow: on the flat or the bevel, along the
// blade or oblique, over the back, the clip, the edge, the shoulder and the tang, with ends
// of every kind.
func placedAnyhow(rng *rand.Rand) Knife {
	between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	k := openKnife(rng.IntN(4) == 0, rng.IntN(4) == 0)
	k.Clip = Clip{Length: between(30, 90), Drop: between(2, 16), Sag: between(-0.5, 2)}
	k.Bevel.Height, k.Edge.BellyLength = Some(between(4, 24)), between(20, 80)
	k.Taper = []TaperStation{{between(60, 120), between(4, 5.5)}, {between(150, 190), between(2, 3.5)}}
	k.Tang.Width, k.Shoulder.Top = between(6, 22), Some(between(1, 12))
	k.Tang.EndWidth = k.Tang.Width * between(0.6, 1)
	k.Shoulder.FaceStep = max(0, between(-0.3, 0.4))
	s := &k.Fullers[0]
	s.Radius = between(3, 12)
	s.Depth, s.FromSpine = Some(s.Radius*between(0.08, 0.2)), between(0, 26)
	s.RunOutRadius = Some(between(15, 80))
	if rng.IntN(2) == 0 {
		s.FromSpineEnd = Some(max(0, s.FromSpine+between(-9, 9)))
	}
	kinds := []RunOutKind{BallRunOut, SweptRunOut}
	if !s.OpenStart() {
		s.StartRunOut, s.Start = kinds[rng.IntN(2)], Some(between(-60, 40))
	}
	if !s.OpenEnd() {
		s.EndRunOut, s.End = kinds[rng.IntN(2)], Some(between(90, 195))
	}
	if !s.OpenStart() && !s.OpenEnd() && rng.IntN(4) == 0 {
		s.On, s.Start, s.Radius = OnBevel, Some(between(30, 60)), max(6, s.Radius)
		s.Depth = Some(between(0.2, 0.6))
	}
	if rng.IntN(3) == 0 {
		s.Ends = VisibleEnds
	}
	return k
}

// removedAt returns what the grooves take off the right face across the blade at x, mm², by
// the heights of the groove and of the ground face alone at the middles of so many stretches.
func removedAt(b Blade, x float64, n int) (sum float64) {
	c, g := b.ground.section(x), b.Fullers[0].Finished
	at, u := g.PlaceAt(x)
	from, to := max(c.Bottom, at.Y-g.Radius/u.X), min(c.Top, at.Y+g.Radius/u.X)
	for i := range n {
		y := from + (to-from)*(float64(i)+0.5)/float64(n)
		sum += max(0, c.ground(y)-g.Height(x, y)) * (to - from) / float64(n)
	}
	return max(0, sum)
}

// removedBetween returns what the grooves take off the right face between two distances, mm³,
// by a grid of such heights.
func removedBetween(b Blade, from, to float64) (sum float64) {
	const columns, rows = 800, 200
	for i := range columns {
		sum += removedAt(b, from+(to-from)*(float64(i)+0.5)/columns, rows) * (to - from) / columns
	}
	return sum
}

// TestEndsBefore: where both run-outs are said to have come up to a height nothing of a groove
// lies under it, straight, oblique or along a curved spine; and that is said within a hair of
// where it is so on the centreline.
func TestEndsBefore(t *testing.T) {
	oblique := testKnife()
	oblique.Fullers[0].FromSpineEnd = Some(30.0)
	for name, k := range map[string]Knife{"straight": testKnife(), "oblique": oblique, "along the spine": parsePattern(t, "kite")} {
		f := mustBuild(t, k).Fullers[0]
		g := &f.Finished
		for _, over := range []float64{0.15, 0.5, 0.9} {
			h := g.floor(g.AtX((f.StartVisible+f.EndVisible)/2)) + over
			said, rng := 0, rand.New(rand.NewPCG(11, 8))
			for range 60 {
				x := f.StartVisible - 8 + 12*rng.Float64()
				if rng.IntN(2) == 0 {
					x = f.EndVisible + 8 - 12*rng.Float64()
				}
				at, u := g.PlaceAt(x)
				ends := g.endsBefore(x, u, h)
				if ends {
					said++
				}
				for i := 0; ends && i <= 60; i++ {
					y := at.Y + g.Radius/u.X*(float64(i)/30-1)
					require.GreaterOrEqual(t, g.Height(x, y), h-1e-12, "%s at %g, %g beside", name, x, y-at.Y)
				}
				if g.Height(x-1.5, at.Y) > h+0.5 && g.Height(x+1.5, at.Y) > h+0.5 {
					assert.True(t, ends, "%s at %g", name, x)
				}
			}
			assert.Greater(t, said, 10, name)
		}
	}
}

// TestGroovesAnywhereByBruteForce: wherever a fuller lies against outline, bevel and tang, the
// solid takes off what a sum over fine steps of the groove's heights says: at stations along
// it, and in all.
func TestGroovesAnywhereByBruteForce(t *testing.T) {
	const steps = 400
	rng := rand.New(rand.NewPCG(11, 7))
	curved := twelvePoints().crowded()
	built, beside, onTang := 0, 0, 0
	for range 120 {
		k := placedAnyhow(rng)
		b, err := Build(k, Measured{})
		if k.Validate() != nil || err != nil {
			continue
		}
		built++
		f := &b.Fullers[0]
		from, to := max(-k.Tang.Length, f.StartVisible-3), min(k.Blade.Length-1e-6, f.EndVisible+3)
		for i := range 16 {
			x := from + (to-from)*rng.Float64()
			switch i % 4 { // as often shortly before and behind its ends
			case 0:
				x = min(max(from, f.StartCut-0.3+3*rng.Float64()), to)
			case 1:
				x = max(min(to, f.EndCut+0.3-3*rng.Float64()), from)
			}
			c := b.CrossSectionAt(x)
			with, plain := c.properties(&curved)
			want := removedAt(b, x, steps)
			require.InDelta(t, want, (plain.Area-with.Area)/2, 2e-3*(0.02+want), "at %g of %+v", x, k.Fullers[0])
			at, _ := f.Finished.PlaceAt(x)
			if want > 1e-6 && (at.Y > c.Top || at.Y < c.Bottom) {
				beside++
			}
			if want > 1e-6 && x < 0 {
				onTang++
			}
			if want > 1e-6 {
				require.LessOrEqual(t, f.StartCut, x+1e-2, "%+v", k.Fullers[0])
				require.GreaterOrEqual(t, f.EndCut, x-1e-2, "%+v", k.Fullers[0])
			}
		}
		if built%6 != 0 {
			continue
		}
		if want := removedBetween(b, from, to); want > 0.01 {
			require.InDelta(t, want, taken(b, from, to)/2, 0.02+3e-3*want, "%+v", k.Fullers[0])
		}
		area := func(x float64) []float64 { return []float64{b.CrossSectionAt(x).Properties().Area} }
		require.InEpsilon(t, gaussSums(b.lengthBreaks(from, to), 3, area)[0], b.bodyBetween(from, to).Volume, 3e-7, "%+v", k.Fullers[0])
	}
	assert.Greater(t, built, 60)
	assert.Greater(t, beside, 20, "sections cut with the centreline off the steel")
	assert.Greater(t, onTang, 60)
}
