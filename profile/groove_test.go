package profile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/geom"
)

// A knife for tests: a level blade of the given thickness, one fuller to be changed.
func testKnife() Knife {
	return Knife{
		Name:    "Test",
		Blade:   BladeSize{Length: 200, Width: 34, Thickness: 6.35, Steel: "1084"},
		Clip:    Clip{Length: 60, Drop: 10, Sag: 2},
		Edge:    Edge{BellyLength: 50, PointAngle: 40 * geom.Degree, Fullness: 0.55},
		Ricasso: Ricasso{Length: 10},
		Bevel:   Bevel{Height: Some(14), Kind: FlatBevel, EdgeThickness: 0.5, EdgeAngle: 20 * geom.Degree},
		Tang:    Tang{Width: 16, EndWidth: 10, Length: 100, CornerRadius: 1},
		Fullers: []FullerSize{{
			Radius: 8.5, Depth: Some(1), FromSpine: 9, Start: Some(25), End: Some(145),
			Ends: FullDepthEnds, StartRunOut: SweptRunOut, EndRunOut: SweptRunOut, RunOutRadius: Some(50),
			Follows: FollowsStraight, Faces: "both",
		}},
		Bar: BarSize{SpineAllowance: 2, EdgeAllowance: 2, TangAllowance: 5, PointAllowance: 5},
	}
}

func mustBuild(t *testing.T, k Knife) Blade {
	t.Helper()
	require.NoError(t, k.Validate())
	b, err := Build(k, Measured{})
	require.NoError(t, err)
	return b
}

// TestGrooveIsTheEnvelopeOfBalls compares the surface with balls set down densely
// along the axis: none may lie under the surface, and the lowest comes close to it.
func TestGrooveIsTheEnvelopeOfBalls(t *testing.T) {
	tapered := testKnife()
	tapered.Taper = []TaperStation{{80, 5.6}, {120, 4.6}, {170, 4.4}}
	oblique := testKnife()
	oblique.Fullers[0].FromSpineEnd = Some(12)
	ball := testKnife()
	ball.Fullers[0].StartRunOut, ball.Fullers[0].EndRunOut = BallRunOut, BallRunOut
	rising := testKnife()
	rising.Spine.Rise, rising.Fullers[0].Follows, rising.Fullers[0].End = 5, FollowsSpine, Some(120)
	sinking := testKnife()
	sinking.Spine.Rise, sinking.Fullers[0].Follows, sinking.Fullers[0].End = -4, FollowsSpine, Some(120)
	for name, k := range map[string]Knife{"level": testKnife(), "tapered": tapered, "oblique": oblique, "ball ends": ball,
		"along a rising spine": rising, "along a sinking spine": sinking} {
		t.Run(name, func(t *testing.T) {
			b := mustBuild(t, k)
			g := b.Fullers[0].Finished
			centres := ballCentres(g, 0.02)
			random := rand.New(rand.NewPCG(1, 2))
			for range 400 {
				at, u := g.Place(g.Axis[0].S - 12 + random.Float64()*(g.Axis[len(g.Axis)-1].S-g.Axis[0].S+24))
				across := (random.Float64()*2 - 1) * 0.7 * g.Radius
				x, y := at.X-across*u.Y, at.Y+across*u.X
				brute := bruteHeight(centres, g.Radius, x, y)
				got := g.Height(x, y)
				if brute > b.Thickness(x)/2+2 {
					continue // far above the face, where only the flank of the last ball is near
				}
				// Balls set down every 0.02 mm leave ridges of up to
				// 0.02²/(8 r), steeper on the walls; 2e-4 bounds it there.
				assert.InDelta(t, brute, got, 2e-4, "Height(%g, %g)", x, y)
				assert.LessOrEqual(t, got, brute+1e-4, "a ball lies under the surface at (%g, %g)", x, y)
			}
		})
	}
}

type ballCentre struct{ x, y, h float64 }

// ballCentres walks the axis of a groove as its documentation describes it, without
// its own evaluation: straight pieces, then a quarter of a circle at either end.
func ballCentres(g Groove, step float64) []ballCentre {
	var out []ballCentre
	add := func(s, h float64) { at, _ := g.Place(s); out = append(out, ballCentre{at.X, at.Y, h}) }
	for i := 1; i < len(g.Axis); i++ {
		a, b := g.Axis[i-1], g.Axis[i]
		n := int((b.S-a.S)/step) + 1
		for j := range n + 1 {
			f := float64(j) / float64(n)
			add(a.S+f*(b.S-a.S), a.H+f*(b.H-a.H))
		}
	}
	arc := func(c AxisArc, end AxisPoint, side float64) {
		from := math.Atan2(side*(end.S-c.S), c.H-end.H)
		n := int(c.Radius*(math.Pi/2-from)/step) + 1
		for j := range n + 1 {
			a := from + (math.Pi/2-from)*float64(j)/float64(n)
			add(c.S+side*c.Radius*math.Sin(a), c.H-c.Radius*math.Cos(a))
		}
	}
	arc(g.StartArc, g.Axis[0], -1)
	arc(g.EndArc, g.Axis[len(g.Axis)-1], 1)
	return out
}

func bruteHeight(centres []ballCentre, r, x, y float64) float64 {
	low := math.Inf(1)
	for _, c := range centres {
		if d := r*r - (x-c.x)*(x-c.x) - (y-c.y)*(y-c.y); d >= 0 {
			low = math.Min(low, c.h-math.Sqrt(d))
		}
	}
	return low
}

// TestGrooveWidth checks width against depth and radius. The values were derived for
// common fullers and rounded to four decimals.
func TestGrooveWidth(t *testing.T) {
	const rounding = 5e-5
	for _, row := range []struct{ radius, depth, width float64 }{
		{3, 0.5, 3.3166}, {3, 1, 4.4721}, {4, 1, 5.2915}, {5, 0.8, 5.4259},
		{6, 1, 6.6332}, {6, 1.2, 7.2}, {8.5, 1, 8},
	} {
		assert.InDelta(t, row.width, GrooveWidth(row.radius, row.depth), rounding, "GrooveWidth(%g, %g)", row.radius, row.depth)
	}
	// Machinery's Handbook, 31st ed., p. 79, read there: a chord 59.86 for a radius of
	// 60 and a height of 8 (rounded down from 59.8665).
	assert.InDelta(t, 59.86, GrooveWidth(60, 8), 0.01)
	assert.Equal(t, 6.0, GrooveWidth(3, 4), "deeper than its radius")
}

// TestDepthLaws checks the three laws on a bar of 6.35 mm that tapers to 4 mm over
// 180 mm, groove radius 8.5 mm. The figures were derived by hand from the taper.
func TestDepthLaws(t *testing.T) {
	knife := testKnife()
	knife.Blade.Length, knife.Clip.Length, knife.Ricasso.Length = 260, 70, 1
	knife.Taper = []TaperStation{{1, 6.35}, {181, 4}}
	knife.Fullers[0].Start, knife.Fullers[0].End = Some(1.5), Some(180)
	knife.Bar.Thickness = Some(6.35)
	const rounding = 5e-5
	at := func(x float64) float64 { return x + 1 } // the taper begins at the plunge line

	constant := mustBuild(t, knife)
	for _, row := range []struct{ x, cut, web float64 }{
		{45, 1.29375, 3.7625}, {90, 1.5875, 3.175}, {135, 1.88125, 2.5875},
	} {
		s := constant.SectionAt(0, at(row.x))
		assert.InDelta(t, row.cut, s.MilledDepth, 1e-3, "cut at %g: constant depth, and the balls of a sloped floor", row.x)
		assert.InDelta(t, row.web, s.Web, 1e-3, "web at %g", row.x)
	}

	web := knife
	web.Fullers = []FullerSize{knife.Fullers[0]}
	web.Fullers[0].Depth, web.Fullers[0].Web, web.Fullers[0].End = Optional{}, Some(4.35), Some(150)
	flat := mustBuild(t, web)
	for _, row := range []struct{ x, depth, width float64 }{
		{45, 0.70625, 6.785}, {90, 0.4125, 5.232}, {135, 0.11875, 2.832},
	} {
		s := flat.SectionAt(0, at(row.x))
		assert.InDelta(t, row.depth, s.Depth, rounding, "depth at %g", row.x)
		assert.InDelta(t, row.width, s.Width, 5e-4, "width at %g", row.x)
		assert.InDelta(t, 1, s.MilledDepth, rounding, "cut flat at %g", row.x)
		assert.InDelta(t, 4.35, s.Web, rounding, "web at %g", row.x)
	}

	// It vanishes 153.19 mm along: an end beyond that is refused, naming the place.
	web.Fullers[0].End = Some(170)
	_, err := Build(web, Measured{})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "154.191 mm")

	ratio := knife
	ratio.Fullers = []FullerSize{knife.Fullers[0]}
	ratio.Fullers[0].Depth, ratio.Fullers[0].Ratio = Optional{}, Some(0.15)
	for _, s := range mustBuild(t, ratio).Sections(0, 9) {
		assert.InDelta(t, 0.15*s.Thickness, s.Depth, 1e-3, "ratio at %g", s.X)
	}
}

// TestTaperedFirst: in a bar that is ground to its taper before it is milled, a fuller of
// constant depth is milled equally deep under the tapered face all along, by its finished
// depth and what comes off the face later; the bar is as bought at the ricasso and has
// lost 2.35 mm after 180 mm, as worked by hand.
func TestTaperedFirst(t *testing.T) {
	knife := testKnife()
	knife.Blade.Length, knife.Clip.Length, knife.Ricasso.Length, knife.Blade.Thickness = 260, 70, 1, 6.35
	knife.Taper = []TaperStation{{1, 6.35}, {181, 4}}
	knife.Fullers[0].Start, knife.Fullers[0].End = Some(1.5), Some(180)
	knife.Allowance = Allowance{Finish: 0.05, Scale: 0.05, CleanUp: 0.1}
	knife.Bar.Thickness = Some(6.9)
	knife.Bar.Tapered = TaperedBefore
	b := mustBuild(t, knife)
	for _, s := range b.Sections(0, 9) {
		// The floor lies over balls on a slope of 2.35/2 in 180: they go deeper by
		// R·(sqrt(1+m²)-1), 0.17 µm, wherever they stand.
		assert.InDelta(t, knife.Fullers[0].Depth.Value+0.2, s.MilledDepth, 2e-4, "at %g", s.X)
		assert.InDelta(t, knife.Fullers[0].Depth.Value, s.Depth, 1e-3, "at %g", s.X)
	}
	assert.InDelta(t, 6.75, b.Bar.Thickness(0), 1e-12)
	assert.InDelta(t, 6.75-2.35, b.Bar.Thickness(181), 1e-12)
	assert.InDelta(t, 6.75-2.35/2, b.Bar.Thickness(91), 1e-12)
	assert.Equal(t, b.Bar.Thickness(181), b.Bar.Thickness(b.Bar.Front), "in front of the last station it goes on")
	assert.Equal(t, 6.9, b.Bar.Bought().Thickness(181))
	assert.False(t, b.Bar.Bought().TaperedFirst())

	ground := b.Bar.Ground()
	require.Len(t, ground, 4, "%v", ground)
	for i, want := range []GroundStation{{b.Bar.Butt, 0, 6.75, 0.075}, {1, 1 - b.Bar.Butt, 6.75, 0.075}, {181, 181 - b.Bar.Butt, 4.4, 1.25}, {b.Bar.Front, b.Bar.Length(), 4.4, 1.25}} {
		assert.InDelta(t, want.X, ground[i].X, 1e-12)
		assert.InDelta(t, want.FromButt, ground[i].FromButt, 1e-12)
		assert.InDelta(t, want.Thickness, ground[i].Thickness, 1e-12)
		assert.InDelta(t, want.OffEach, ground[i].OffEach, 1e-12)
	}
	ladder := Ladder(knife, b.Bar)
	assert.InDelta(t, 6.75, ladder[2].Thickness, 1e-12)
	assert.InDelta(t, 6.9, ladder[3].Thickness, 1e-12)
	assert.InDelta(t, 0.075, ladder[3].TakenByNext, 1e-12)
	assert.InDelta(t, (6.9-4)/2, b.GrindingAt(181).PerFace, 1e-12, "in all, from the bar as bought")

	// A reading of 0.06 mm too much at one place and 0.02 mm too little at another shifts the
	// planned taper by what is straight between them.
	reading := func(at, thickness float64) string {
		return fmt.Sprintf("[[thickness]]\nfrom_butt = %g\nthickness = %g\n", at-b.Bar.Butt, thickness)
	}
	read, err := ParseMeasured("bar.toml", []byte(reading(46, 6.2225)+reading(136, 4.9675)), knife)
	require.NoError(t, err, "what is ground may measure less than the ricasso")
	real, err := Build(knife, read)
	require.NoError(t, err)
	for at, want := range map[float64]float64{0: 6.81, 46: 6.2225, 91: 6.75 - 2.35/2 + 0.02, 136: 4.9675, 200: 4.38} {
		assert.InDelta(t, want, real.Bar.Thickness(at), 1e-9, "at %g", at)
	}
	assert.Equal(t, 6.9, real.Bar.Bought().Thickness(0), "what was read is the ground bar")
	_, err = ParseMeasured("bar.toml", []byte(reading(181, 3.9)), knife)
	assert.ErrorContains(t, err, "less than the finished thickness there, 4.000 mm")
}

// TestBarReadingsThatCannotBe: a tang wider than the ricasso or thicker than its bar, and a
// reading beyond the end of the bar, are told, all at once and in the order of the file.
func TestBarReadingsThatCannotBe(t *testing.T) {
	k := testKnife()
	_, err := ParseMeasured("bar.toml", []byte("[tang]\nwidth = 34.1\nthickness = 9\n[[thickness]]\nfrom_butt = 900\nthickness = 6.4\n[[width]]\nfrom_butt = 901\nwidth = 40\n"), k)
	require.Error(t, err)
	last := -1
	for _, want := range []string{"more than the ricasso, 34.000 mm", "more than the bar, 6.400 mm", "thickness[1].from_butt", "width[1].from_butt"} {
		at := strings.Index(err.Error(), want)
		assert.Greater(t, at, last, "%s in:\n%s", want, err)
		last = at
	}
	_, err = ParseMeasured("bar.toml", []byte("[tang]\nwidth = 15.9\nthickness = 6.42\n[[thickness]]\nfrom_butt = 200\nthickness = 6.4\n"), k)
	assert.NoError(t, err)
}

// TestMarkOnATaperedFace: a mark is deepest where the face under it stands highest, be that
// at its near end or at a place between its ends.
func TestMarkOnATaperedFace(t *testing.T) {
	knife := testKnife()
	knife.Bar.Tapered = TaperedBefore
	knife.Mark = Mark{Text: "III", Height: 6, At: Some(80), FromSpine: Some(20), Depth: 0.1, Radius: 0.25, Face: "right"}
	for name, taper := range map[string][]TaperStation{
		"falling": {{10, 6}, {150, 4}},
		"ridged":  {{10, 5}, {80, 6}, {150, 5}},
	} {
		knife.Taper, knife.Blade.Thickness = taper, taper[0].Thickness
		b := mustBuild(t, knife)
		cut, err := b.MarkCut(Right)
		require.NoError(t, err)
		box, highest := cut.Bounds(), 0.0
		for i := range 1001 {
			highest = math.Max(highest, b.Bar.Face(box.Min.X+(box.Max.X-box.Min.X)*float64(i)/1000))
		}
		assert.InDelta(t, highest-cut.Floor(), cut.Depth(), 1e-4, name)
		assert.Greater(t, cut.Depth(), b.Bar.Face(box.Max.X)-cut.Floor()+1e-3, name)
	}
}

// TestStationsPlus: a sum of two functions given at stations is the sum at every place.
func TestStationsPlus(t *testing.T) {
	a, b := stations{{0, 1}, {10, 3}, {20, 2}}, stations{{-5, 0.5}, {10, 0.25}, {12, -1}}
	sum := a.plus(b)
	assert.Len(t, sum, 5, "a place that both have stands once")
	for x := -8.0; x < 25; x += 0.7 {
		assert.InDelta(t, a.value(x)+b.value(x), sum.value(x), 1e-12, "at %g", x)
	}
}

// TestRunOutLength checks the length of a run-out on a level floor against
// sqrt(2 rho d - d²), derived, rounded to three decimals.
func TestRunOutLength(t *testing.T) {
	for _, row := range []struct{ radius, want float64 }{{25, 7}, {31.5, 7.874}, {37.5, 8.602}, {50, 9.950}, {127, 15.906}} {
		k := testKnife()
		k.Fullers[0].RunOutRadius = Some(row.radius)
		f := mustBuild(t, k).Fullers[0]
		assert.InDelta(t, row.want, f.EndVisible-f.EndFull, 5e-4, "run-out of radius %g", row.radius)
		assert.InDelta(t, row.want, f.StartFull-f.StartVisible, 5e-4, "run-out of radius %g", row.radius)
	}
}

// TestEndsRoundTrip: a fuller dimensioned by the ends that another one shows is the
// same fuller.
func TestEndsRoundTrip(t *testing.T) {
	k := testKnife()
	k.Taper = []TaperStation{{60, 5.8}, {130, 4.6}, {180, 3}}
	full := mustBuild(t, k).Fullers[0]
	k.Fullers[0].Ends = VisibleEnds
	k.Fullers[0].Start, k.Fullers[0].End = Some(full.StartVisible), Some(full.EndVisible)
	visible := mustBuild(t, k).Fullers[0]
	const tolerance = 1e-6
	assert.InDelta(t, full.StartFull, visible.StartFull, tolerance)
	assert.InDelta(t, full.EndFull, visible.EndFull, tolerance)
}

// TestSandingKeepsTheAxis: the milled groove, sanded by the allowance square to its
// surface, is the finished one.
func TestSandingKeepsTheAxis(t *testing.T) {
	k := testKnife()
	k.Allowance.Sanding = 0.05
	f := mustBuild(t, k).Fullers[0]
	assert.Equal(t, f.Finished.Axis, f.Milled.Axis)
	assert.InDelta(t, 0.05, f.Milled.floor(60)-f.Finished.floor(60), 1e-12)
	assert.InDelta(t, 8.45, f.Milled.Radius, 1e-12)
}

// TestHeightPastTheGroove: away from the groove the surface is the bar's face.
func TestHeightPastTheGroove(t *testing.T) {
	b := mustBuild(t, testKnife())
	s := b.FullerSurface(Right)
	assert.Equal(t, b.Bar.Face(60), s.Height(60, -20))
	assert.Equal(t, b.Bar.Face(190), s.Height(190, -9))
	assert.InDelta(t, 6.35/2-1, s.Height(60, -9), 1e-12)
}

// TestAxisKeepsItsDistance: every vertex of the axis lies the radius away from the
// floors on either side of it, square to them.
func TestAxisKeepsItsDistance(t *testing.T) {
	k := testKnife()
	k.Taper = []TaperStation{{60, 5.9}, {90, 4.6}, {120, 4.5}, {170, 2.4}}
	b := mustBuild(t, k)
	g := b.Fullers[0].Finished
	require.Len(t, g.Axis, 5)
	floors := []float64{25, 60, 90, 120, 145}
	depth := func(x float64) AxisPoint { return AxisPoint{g.AtX(x), b.Thickness(x)/2 - 1} }
	for i, v := range g.Axis {
		for _, j := range []int{i - 1, i} {
			if j < 0 || j >= len(floors)-1 {
				continue
			}
			p, q := depth(floors[j]), depth(floors[j+1])
			length := math.Hypot(q.S-p.S, q.H-p.H)
			away := ((q.S-p.S)*(v.H-p.H) - (q.H-p.H)*(v.S-p.S)) / length
			assert.InDelta(t, 8.5, away, 1e-9, "vertex %d over floor %d", i, j)
		}
	}
}

// TestFullDepthEndsByHalving: the ends of full depth are those that halving finds for the
// run-out to come up to the face right at the visible end.
func TestFullDepthEndsByHalving(t *testing.T) {
	for _, name := range []string{"osprey", "kite", "rook"} {
		for i := range 12 {
			k := parsePattern(t, name)
			size := k.Fullers[0]
			size.Radius *= 1 + 0.03*float64(i)
			size.RunOutRadius = Some(size.Radius * (1.5 + 0.7*float64(i)))
			draft := fullerDraft{knife: k, ground: mustBuild(t, k).ground, size: size, near: k.nearEnd(size), far: k.farEnd(size), plan: k.centreline(size)}
			for _, side := range []float64{-1, 1} {
				seen, other := draft.far, draft.near
				if side < 0 {
					seen, other = other, seen
				}
				full, ok := draft.fullFor(seen, side, other)
				require.True(t, ok, name)
				deep, shallow := other, seen
				for range 60 {
					middle := (deep + shallow) / 2
					if draft.cover(draft.tail(middle, side, seen), seen) > 0 {
						shallow = middle
					} else {
						deep = middle
					}
				}
				assert.InDelta(t, deep, full, 1e-9, "%s, %g", name, size.RunOutRadius.Value)
			}
		}
	}
}

// TestTailIsTheEndOfTheWholeGroove: what is looked at of a fuller on the bevel to find its
// end is the same as the whole groove there.
func TestTailIsTheEndOfTheWholeGroove(t *testing.T) {
	k := parsePattern(t, "osprey")
	b := mustBuild(t, k)
	size := k.Fullers[0]
	draft := fullerDraft{knife: k, ground: b.ground, size: size, near: k.nearEnd(size), far: k.farEnd(size), plan: k.centreline(size)}
	for _, full := range []float64{40, 61.3, 97.7, 110} {
		for _, side := range []float64{-1, 1} {
			whole := draft.groove(draft.floor(full, draft.far, full, draft.far))
			arc := whole.StartArc
			if side > 0 {
				whole = draft.groove(draft.floor(draft.near, full, draft.near, full))
				arc = whole.EndArc
			}
			for i := range 40 {
				s := whole.AtX(full) + side*float64(i)/39*(arc.Radius+whole.Radius)
				at, _ := whole.Place(s)
				tail := draft.tail(full, side, at.X)
				assert.InDelta(t, whole.floor(s), tail.floor(s), 1e-12, "%g of %g", s, full)
			}
		}
	}
}
