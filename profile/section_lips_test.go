package profile

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/geom"
)

// TestLipLiesOnTheWall: where a face that slopes across meets a groove whose floor slopes
// and whose centreline lies oblique, and how steeply the wall rises over it there, against
// the groove's own height.
func TestLipLiesOnTheWall(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	for range 200 {
		radius, slope, turn := 3+9*rng.Float64(), 0.1*(rng.Float64()-0.5), 0.4*(rng.Float64()-0.5)
		g := LevelGroove(radius, 1, -5, 0, 200)
		g.Plan[1].Y += 200 * turn
		g.Axis = raise([]AxisPoint{{0, 1}, {200 * math.Hypot(1, turn), 1 + 200*slope}}, radius)
		x := 60 + 80*rng.Float64()
		at, u := g.PlaceAt(x)
		face, rise := g.floor(g.AtX(x))+0.1+0.6*rng.Float64(), 0.6*(rng.Float64()-0.5)
		for _, side := range []float64{-1, 1} {
			aside, steep := g.beneath(g.AtX(x), face).lip(u.X, side*u.Y, rise)
			over := func(aside float64) float64 { return g.Height(x, at.Y+side*aside) - face - rise*aside }
			const step = 1e-5
			assert.InDelta(t, 0, over(aside), 1e-12, "%g aside", aside)
			assert.InDelta(t, (over(aside+step)-over(aside-step))/(2*step), steep, 1e-7)
		}
	}
}

// TestUnderBetween: a convex function is under 0 or is not, and where it clearly is not that
// is seen at once.
func TestUnderBetween(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 2))
	for range 200 {
		lowest, at, bend, kink := math.Pow(10, -8+8*rng.Float64()), 10*rng.Float64(), 0.1+rng.Float64(), rng.Float64()
		f := func(y float64) float64 { return lowest + bend*square(y-at) + kink*math.Abs(y-at) }
		y, value := underBetween(f, 0, 10)
		assert.Equal(t, f(y), value)
		assert.Positive(t, value, "its least is %g", lowest)
		lowest = -lowest
		y, value = underBetween(f, 0, 10)
		assert.Equal(t, f(y), value)
		assert.Negative(t, value, "its least is %g", lowest)
	}
	looks := 0
	_, value := underBetween(func(y float64) float64 { looks++; return 1 + square(y-3) }, 0, 10)
	assert.Positive(t, value)
	assert.LessOrEqual(t, looks, 14)
}

// TestConvexBound: of convex functions, the greatest of random lines, none goes under the
// bound between the places, looked at densely; and none that is higher would do, since of
// those that follow one line and turn up steeply before the outer place one comes as low.
func TestConvexBound(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	looked := 0
	for range 4000 {
		var lines [6][2]float64
		for i := range lines {
			lines[i] = [2]float64{rng.NormFloat64(), math.Pow(10, 2*rng.Float64()-1) * rng.NormFloat64()}
		}
		f := func(y float64) float64 {
			highest := math.Inf(-1)
			for _, l := range lines {
				highest = max(highest, l[0]+l[1]*y)
			}
			return highest
		}
		at := []float64{2 * (rng.Float64() - 0.5), 2 * (rng.Float64() - 0.5), 2 * (rng.Float64() - 0.5)}
		slices.Sort(at)
		first, middle, last := seen{at[0], f(at[0])}, seen{at[1], f(at[1])}, seen{at[2], f(at[2])}
		if middle.value > min(first.value, last.value) {
			continue
		}
		looked++
		bound, reach := convexBound(first, middle, last), last.at-first.at
		for i := range 201 {
			assert.GreaterOrEqual(t, f(first.at+reach*float64(i)/200), bound-1e-9)
		}
		lowest := min(turning(first, middle, last), turning(last, middle, first))
		assert.InDelta(t, lowest, bound, 1e-4*(1+math.Abs(lowest)), "a function that turns just before the outer place comes as low")
	}
	assert.Greater(t, looked, 500)
}

// turning returns the least value, by thirds, of the function that goes on from one place
// through the middle one and turns up to another just before it.
func turning(from, middle, to seen) float64 {
	const steep = 1e8
	f := func(y float64) float64 {
		on := middle.value + (middle.value-from.value)/(middle.at-from.at)*(y-middle.at)
		return max(on, to.value-steep*math.Abs(to.at-y))
	}
	a, b := middle.at, to.at
	for range 120 {
		p, q := a+(b-a)/3, b-(b-a)/3
		if f(p) < f(q) {
			b = q
		} else {
			a = p
		}
	}
	return f((a + b) / 2)
}

// TestFarDipIsSeen: a function that falls slowly over nearly all of a stretch and dips under
// 0 just before its end, or just behind its beginning, where it climbs steeply.
func TestFarDipIsSeen(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	for range 300 {
		fall, short := 0.01+rng.Float64(), math.Pow(10, -1-5*rng.Float64())
		dip := 10*rng.Float64()*0.98 + 0.1
		for _, ahead := range []bool{true, false} {
			f := func(y float64) float64 {
				if !ahead {
					y = 10 - y
				}
				return max(fall*(dip-y)-fall*short, 1e4*(y-dip)-fall*short)
			}
			_, value := underBetween(f, 0, 10)
			assert.Negative(t, value, "it falls by %g to %g under 0 at %g", fall, fall*short, dip)
		}
	}
}

// TestLipsOfOpenEnds: where fullers leave the blade over the back, over a false edge, with
// their centreline on the blade and beside it, their lips are where the finished face goes
// under the ground one, looked at every hundredth of a millimetre.
func TestLipsOfOpenEnds(t *testing.T) {
	const step = 0.01
	for _, name := range []string{"curlew", "heron", "flint", "kite"} {
		k := parsePattern(t, name)
		k.Fullers[0].EndRunOut, k.Fullers[0].End = OpenRunOut, Optional{}
		b := mustBuild(t, k)
		f := b.Fullers[0]
		for i := range 24 {
			c := b.CrossSectionAt(f.EndFull + (f.EndVisible-f.EndFull)*(float64(i)+0.5)/24)
			first, last := math.Inf(1), math.Inf(-1)
			for y := c.Bottom; y <= c.Top; y += step {
				if c.Half(Right, y) < c.ground(y)-resolution {
					first, last = min(first, y), max(last, y)
				}
			}
			lower, upper, ok := b.Span(0, c.X)
			require.True(t, ok, "%s at %g", name, c.X)
			if last < first { // narrower than a step
				assert.Less(t, upper-lower, step)
				continue
			}
			assert.InDelta(t, first-step/2, lower, step, "%s at %g", name, c.X)
			assert.InDelta(t, last+step/2, upper, step, "%s at %g", name, c.X)
		}
		before := b.CrossSectionAt(f.EndVisible + near*10)
		cut := f.Finished.across(before.X)
		_, _, ok := before.lips(&cut)
		assert.False(t, ok, "%s: the last of it has left the blade", name)
	}
}

// TestReachUnder: beside its reach a groove lies nowhere under a height, also on its
// run-outs and where its floor slopes.
func TestReachUnder(t *testing.T) {
	f := mustBuild(t, parsePattern(t, "kite")).Fullers[0]
	g := f.Finished
	for _, h := range []float64{1, 1.5, 2, 3} {
		reach := g.reachUnder(h)
		for i := range 60 {
			at, u := g.Place(g.AtX(f.StartVisible-5) + (f.EndVisible-f.StartVisible+10)*float64(i)/59)
			p := geom.Point{X: at.X - (reach+0.01)*u.Y, Y: at.Y + (reach+0.01)*u.X}
			assert.GreaterOrEqual(t, g.Height(p.X, p.Y), h)
		}
	}
}

// TestLowestUnder: on a blade ground like a roof, a groove whose centreline lies over the
// bevel cuts it beside that, uphill, and is found there on either side of the ridge; one that
// lies clear of it is not.
func TestLowestUnder(t *testing.T) {
	const ridge, flat, slope, radius = -10.0, 2.3, 0.2, 5.0
	bevel := bevelCut{present: true, height: 10, rimHalf: 0.3, slope: slope}
	c := CrossSection{X: 50, Bottom: -20, Top: 0, Flat: flat, edge: bevel, back: bevel, alike: true}
	c.edge.rim = -20
	deepest := radius * (math.Hypot(1, slope) - 1) // under the bevel, of a floor level with it
	for centre := -16.0; centre <= -4; centre += 0.25 {
		if math.Abs(centre-ridge) < 2 {
			continue
		}
		for _, clear := range []float64{0.3 * deepest, 0.97 * deepest, 1.001 * deepest, 2 * deepest} {
			g := LevelGroove(radius, c.ground(centre)+clear, centre, 0, 100)
			cut := g.across(c.X)
			y, over := c.cutBy(&cut, geom.Point{X: c.X, Y: centre}, geom.Point{X: 1})
			assert.Equal(t, clear < deepest, over < 0, "%g over the bevel at %g", clear, centre)
			if over < 0 {
				assert.Less(t, g.Height(c.X, y), c.ground(y))
			}
		}
	}
}

// TestRootNear: a root is found from any guess, however wrong the rise there is said to be.
func TestRootNear(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for range 500 {
		root, bend := 2+6*rng.Float64(), 3*rng.Float64()
		f := func(y float64) float64 { return math.Atan(bend*(y-root)) + 0.05*(y-root) }
		first := guess{10 * rng.Float64(), math.Pow(10, 14*rng.Float64()-2)}
		assert.InDelta(t, root, rootNear(f, first, 0, 10), 2*near)
		g := func(y float64) float64 { return f(10 - y) } // from the other end
		first.rise = -first.rise
		assert.InDelta(t, 10-root, rootNear(g, first, 10, 0), 2*near)
	}
}

// TestKinksAreNoRounding: where the bevels of edge and back end on one line, which of them
// lies higher there is a matter of rounding, and nothing breaks.
func TestKinksAreNoRounding(t *testing.T) {
	for i := range 12 {
		k := parsePattern(t, "osprey")
		k.Blade.Thickness += 0.05 * float64(i)
		k.Bevel.Kind, k.Bevel.WheelRadius = HollowBevel, Some(110+7*float64(i))
		b := mustBuild(t, k)
		for _, x := range b.kinks([]float64{k.Ricasso.Length, 22, 30, 60, 113, 126, 160, 170}) {
			const aside = 0.5
			before, after := b.ground.meetings(x-aside), b.ground.meetings(x+aside)
			most := 0.0
			for m := range before {
				most = max(most, -before[m]*after[m])
			}
			assert.Greater(t, most, square(near), "%g mm thick, at %g", k.Blade.Thickness, x)
		}
	}
}
