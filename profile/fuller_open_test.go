package profile

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// openKnife is a level blade with a straight clip, a broad level tang, and a fuller that
// is open at the ends asked for.
func openKnife(start, end bool) Knife {
	k := testKnife()
	k.Clip = Clip{Length: 40, Drop: 16}
	k.Edge.BellyLength, k.Bevel.Height = 30, Some(4)
	k.Guard.Material, k.Spacers.Material, k.Handle.Material, k.Pommel.Material = "brass", "brass", "hardwood", "brass"
	k.Tang.Width, k.Tang.EndWidth, k.Shoulder.Top = 30, 30, Some(2)
	k.Fullers[0] = FullerSize{Radius: 6, Depth: Some(0.6), FromSpine: 6, Start: Some(25), End: Some(120),
		StartRunOut: BallRunOut, EndRunOut: BallRunOut, Ends: FullDepthEnds, Follows: FollowsStraight, On: OnFlat, Faces: "both"}
	if start {
		k.Fullers[0].StartRunOut, k.Fullers[0].Start = OpenRunOut, Optional{}
	}
	if end {
		k.Fullers[0].EndRunOut, k.Fullers[0].End = OpenRunOut, Optional{}
	}
	return k
}

// segment returns the area of a groove's section: the segment of a circle.
func segment(radius, depth float64) float64 {
	return radius*radius*math.Acos(1-depth/radius) - (radius-depth)*math.Sqrt(2*radius*depth-depth*depth)
}

// taken returns what the fullers take of a blade between two distances, mm³.
func taken(b Blade, from, to float64) float64 {
	sum := 0.0
	b.along(from, to, func(with, plain slice) { sum += plain.body().Volume - with.body().Volume })
	return sum
}

// TestThroughGroove: a fuller open at both ends takes its section times the length of the
// tang and of the blade before the clip, and from there on what a slanting plane leaves of
// a prism: its section times the length at its centroid, which is the centreline.
func TestThroughGroove(t *testing.T) {
	b := mustBuild(t, openKnife(true, true))
	area := 2 * segment(6, 0.6)
	assert.InEpsilon(t, area*100, taken(b, -100, 0), 1e-9)
	assert.InEpsilon(t, area*160, taken(b, 0, 160), 1e-9)
	const slope = 16.0 / 40
	assert.InEpsilon(t, area*6/slope, taken(b, 160, 200), 1e-9)

	half := GrooveWidth(6, 0.6) / 2
	f := b.Fullers[0]
	assert.InDelta(t, 160+(6-half)/slope, f.EndFull, 1e-8, "the upper lip meets the clip")
	assert.InDelta(t, 160+(6+half)/slope, f.EndVisible, 1e-8, "the lower lip meets the clip")
	assert.InDelta(t, -100, f.StartVisible, 1e-6)
	assert.InDelta(t, -100, f.StartFull, 1e-6)
	assert.InEpsilon(t, taken(b, 0, 200)*7.85e-3+taken(b, -100, 0)*7.85e-3, b.Measure(7.85).Buy.Grams, 1e-9, "weighed with the tang's part")
}

// TestOpenSections: beyond where the centreline leaves the blade its lower half still
// cuts, in closed form the part of a segment under a chord.
func TestOpenSections(t *testing.T) {
	b := mustBuild(t, openKnife(false, true))
	for _, x := range []float64{168, 170, 174, 176, 180, 181} {
		top := -(x - 160) * 0.4
		from, to := -6-GrooveWidth(6, 0.6)/2, math.Min(top, -6+GrooveWidth(6, 0.6)/2)
		primitive := func(u float64) float64 {
			return u/2*math.Sqrt(36-u*u) + 18*math.Asin(u/6) - (6-0.6)*u
		}
		c := b.CrossSectionAt(x)
		curved := twelvePoints().crowded()
		with, plain := c.properties(&curved)
		assert.InDelta(t, 2*(primitive(to+6)-primitive(from+6)), plain.Area-with.Area, 1e-9, "%g", x)
		chain, err := c.Chain()
		require.NoError(t, err)
		assert.InDelta(t, with.Area, chain.Area(), 1e-5, "%g", x)
		thin, _ := c.Least(from, to)
		floor := 6.35/2 - 0.6
		if top < -6 { // the deepest place that is left is at the clip
			floor = 6.35/2 - 0.6 + 6 - math.Sqrt(36-(top+6)*(top+6))
		}
		assert.InDelta(t, 2*floor, thin, 1e-9, "%g", x)
	}
	gone, plain := b.CrossSectionAt(182), b
	plain.Fullers = nil
	assert.Equal(t, plain.CrossSectionAt(182).Properties(), gone.Properties(), "it has left the blade")
}

// TestOpenLips: each lip is drawn up to where it leaves the outline.
func TestOpenLips(t *testing.T) {
	b := mustBuild(t, openKnife(false, true))
	upper, lower := b.Lips(0, 61)
	half := GrooveWidth(6, 0.6) / 2
	last := func(points []float64) float64 { return points[len(points)-1] }
	var xs [2][]float64
	for _, p := range upper {
		xs[0] = append(xs[0], p.X)
		assert.LessOrEqual(t, p.Y, b.BackAt(p.X)+1e-6)
	}
	for _, p := range lower {
		xs[1] = append(xs[1], p.X)
	}
	assert.InDelta(t, 160+(6-half)/0.4, last(xs[0]), 1e-4)
	assert.InDelta(t, 160+(6+half)/0.4, last(xs[1]), 1e-4)
	assert.InDelta(t, -6+half, upper[len(upper)/2].Y, 1e-9)
	assert.InDelta(t, -6-half, lower[len(lower)/2].Y, 1e-9)
	assert.InDelta(t, b.Fullers[0].StartVisible, xs[0][0], 1e-4)
}

// TestOpenFloorRunsOnLevel: a floor that slopes with a strong taper goes on level once it
// has left the blade, so that in the waste the two fullers cannot meet.
func TestOpenFloorRunsOnLevel(t *testing.T) {
	k := openKnife(false, true)
	k.Taper = []TaperStation{{160, 5}, {200, 1.6}}
	b := mustBuild(t, k)
	f := b.Fullers[0]
	assert.InDelta(t, b.Thickness(f.EndVisible)/2-0.6, f.Finished.floor(f.Finished.AtX(f.EndVisible)), 2e-3)
	at := func(x float64) float64 { return f.Finished.floor(f.Finished.AtX(x)) }
	assert.InDelta(t, at(f.EndVisible+2), at(b.Bar.Front), 1e-9)
	assert.Greater(t, at(b.Bar.Front), at(f.EndVisible)-0.1)

	k.Fullers[0].Depth = Some(1.9)
	_, err := Build(k, Measured{})
	assert.ErrorContains(t, err, "go through a blade")
	assert.ErrorContains(t, err, "3.800 mm thick 174.118 mm from the guard plane", "5 mm at 160, 3.4 less at 200: 3.8 at 160 + 40·1.2/3.4")
}

// TestOpenEndInTheBar: near the end of the bar the groove is milled on through it, in a
// long bar it ends in the waste, clear of the blade.
func TestOpenEndInTheBar(t *testing.T) {
	k := openKnife(true, true)
	b := mustBuild(t, k)
	f := b.Fullers[0]
	assert.True(t, f.StartInAir && f.EndInAir)
	assert.Positive(t, f.MilledDepthAt(b.Bar, b.Bar.Front))
	assert.Positive(t, f.MilledDepthAt(b.Bar, b.Bar.Butt))
	least, most, ok := b.FullerSurface(Right).Bounds()
	assert.True(t, ok)
	assert.Equal(t, [2]float64{b.Bar.Butt, b.Bar.Front}, [2]float64{least.X, most.X}, "no part of the bar lies beyond its ends")

	k.Bar.Length = Some(600)
	long := mustBuild(t, k)
	f = long.Fullers[0]
	assert.True(t, f.StartInAir && !f.EndInAir)
	assert.Positive(t, f.MilledDepthAt(long.Bar, f.EndVisible+0.5))
	assert.Zero(t, f.MilledDepthAt(long.Bar, f.EndVisible+1+2*6))
	assert.InDelta(t, b.BladeBody().Volume, long.BladeBody().Volume, 1e-6, "the finished blade is the same")
	assert.InDelta(t, b.Fullers[0].EndVisible, f.EndVisible, 1e-9)
}

// TestFullerUnderTheGuard: a fuller with its start behind the guard plane ends on the
// tang's own face, which may lie lower; one that is no deeper than the face step leaves
// through the shoulder and marks the tang nowhere.
func TestFullerUnderTheGuard(t *testing.T) {
	for name, end := range map[string]Ends{"visible": VisibleEnds, "full": FullDepthEnds} {
		k := openKnife(false, false)
		k.Fullers[0].Start, k.Fullers[0].Ends, k.Fullers[0].StartRunOut = Some(-12), end, SweptRunOut
		k.Shoulder.FaceStep = 0.25
		b := mustBuild(t, k)
		f := b.Fullers[0]
		if end == VisibleEnds {
			assert.InDelta(t, -12, f.StartVisible, 1e-9, name)
		} else {
			assert.InDelta(t, -12, f.StartFull, 1e-9, name)
		}
		assert.InDelta(t, 0.35, f.DepthAt(b, -1e-6), 1e-6, name)
		assert.InDelta(t, 0.6, f.DepthAt(b, 1e-6), 1e-6, name)
		assert.InDelta(t, 0, f.DepthAt(b, f.StartVisible), 1e-6, name)
		assert.InDelta(t, GrooveWidth(6, 0.35), b.SectionAt(0, -0.1).Width, 1e-6, name)
		assert.Positive(t, taken(b, -12, 0), name)
		half := GrooveWidth(6, 0.35) / 2
		assert.InDelta(t, 4-half, b.SectionAt(0, -5).SpineLand, 1e-6, "the tang lies 2 to 32 under the spine")
		assert.InDelta(t, 26-half, b.SectionAt(0, -5).LowerLand, 1e-6)
	}
	k := openKnife(false, false)
	k.Fullers[0].Start, k.Shoulder.FaceStep = Some(-12), 0.7
	_, err := Build(k, Measured{})
	assert.ErrorContains(t, err, "leaves the steel through the shoulder")

	k = openKnife(true, false)
	k.Shoulder.FaceStep = 0.7
	b := mustBuild(t, k)
	f := b.Fullers[0]
	assert.InDelta(t, 0, f.StartVisible, 1e-6)
	assert.Zero(t, taken(b, -100, -1e-3))
	assert.False(t, f.StartInAir)
	assert.Less(t, f.MilledDepthAt(b.Bar, -20), 0.7)
}

// TestOpenFullerFaults: an open end is not dimensioned, and a fuller that is open lies on
// the flat.
func TestOpenFullerFaults(t *testing.T) {
	for name, row := range map[string]struct {
		change func(s *FullerSize)
		want   string
	}{
		"start given":   {func(s *FullerSize) { s.Start = Some(20) }, "start: that end is open"},
		"end given":     {func(s *FullerSize) { s.End = Some(120) }, "end: that end is open"},
		"length given":  {func(s *FullerSize) { s.Length = Some(120) }, "length: that end is open"},
		"no start":      {func(s *FullerSize) { s.StartRunOut = SweptRunOut }, "needs a start"},
		"no end":        {func(s *FullerSize) { s.EndRunOut = SweptRunOut }, "needs an end or a length"},
		"from nowhere":  {func(s *FullerSize) { s.EndRunOut, s.Length = BallRunOut, Some(100) }, "counts from the start"},
		"behind tang":   {func(s *FullerSize) { s.StartRunOut, s.Start = BallRunOut, Some(-100) }, "behind the end of the tang"},
		"on the bevel":  {func(s *FullerSize) { s.On = OnBevel }, "must end on it"},
		"bevel, begins": {func(s *FullerSize) { s.On, s.EndRunOut, s.End = OnBevel, BallRunOut, Some(120) }, "through plunge and ricasso"},
		"bevel, tang": {func(s *FullerSize) {
			s.On, s.StartRunOut, s.Start, s.EndRunOut, s.End = OnBevel, BallRunOut, Some(-5), BallRunOut, Some(120)
		}, "must begin on it"},
		"ends on tang":  {func(s *FullerSize) { s.EndRunOut, s.End = BallRunOut, Some(-1) }, "in front of the guard plane"},
		"off the blade": {func(s *FullerSize) { s.FromSpine = 60 }, "does not lie on the blade"},
		"wide":          {func(s *FullerSize) { s.Radius, s.Depth, s.FromSpine = 60, Some(2.5), 17 }, "nowhere does its whole width"},
	} {
		k := openKnife(true, true)
		row.change(&k.Fullers[0])
		err := k.Validate()
		if err == nil {
			_, err = Build(k, Measured{})
		}
		assert.ErrorContains(t, err, row.want, name)
	}
}

// TestOpenBodyAtFinerSteps: the volume of a blade whose fuller leaves across bevel and clip
// is that of integrals at finer steps; it breaks where a lip meets the bevel line.
func TestOpenBodyAtFinerSteps(t *testing.T) {
	k := openKnife(false, true)
	k.Clip, k.Bevel.Height, k.Edge.BellyLength = Clip{Length: 60, Drop: 10, Sag: 2}, Some(16), 70
	b := mustBuild(t, k)
	sums := gaussSums(b.lengthBreaks(0, 200), 8, func(x float64) []float64 { return []float64{b.CrossSectionAt(x).Properties().Area} })
	assert.InEpsilon(t, sums[0], b.BladeBody().Volume, 1e-10)
	require.Len(t, b.Fullers[0].kinks, 1)
	c := b.CrossSectionAt(b.Fullers[0].kinks[0])
	lower, _, ok := b.Span(0, c.X)
	require.True(t, ok)
	assert.InDelta(t, c.edgeLine(), lower, 1e-7)
}

// TestGrooveOnABevelAlone: a groove whose centreline and all bevel lines lie beside the
// steel that it cuts is found all the same. On a bevel of slope m the ball's surface is
// lowest against it at R·sin(atan m) beside its centre.
func TestGrooveOnABevelAlone(t *testing.T) {
	b := mustBuild(t, openKnife(false, true))
	c := b.ground.section(100)
	c.edge.height, c.edge.slope = 14, (c.Flat-0.25)/14
	const at, radius = -30.0, 8.5
	lean := math.Atan(c.edge.slope)
	beside := radius * math.Sin(lean)
	// The ball stands 0.05 deep in the bevel, square to it.
	on := 0.25 + c.edge.slope*(at+beside+34)
	centre := on - 0.05/math.Cos(lean) + radius*math.Cos(lean)
	g := levelGroove(0, radius, 0, -at)
	for i := range g.Axis {
		g.Axis[i].H = centre
	}
	cut := g.across(100)
	lower, upper, ok := c.lips(&cut)
	require.True(t, ok)
	assert.Greater(t, lower, at)
	chord := 2 * math.Sqrt(2*radius*0.05-0.05*0.05) * math.Cos(lean)
	assert.InDelta(t, chord, upper-lower, 1e-9)
	assert.InDelta(t, at+(radius-0.05)*math.Sin(lean), (lower+upper)/2, 1e-9)
}

// TestOpenFullerAlongTheSpine: a fuller that follows a curved back goes straight on where
// the clip begins.
func TestOpenFullerAlongTheSpine(t *testing.T) {
	k := openKnife(false, true)
	k.Spine.Rise, k.Fullers[0].Follows = 4, FollowsSpine
	b := mustBuild(t, k)
	g := b.Fullers[0].Finished
	assert.InDelta(t, 160, g.Plan[len(g.Plan)-1].X, 1e-9)
	_, before := g.Place(g.AtX(159.99))
	_, after := g.Place(g.AtX(180))
	assert.Equal(t, before, after)
}

// TestWholeWidthIsOnTheFlat: a fuller that crosses the bevel line on its way out has its
// whole width up to where its lower lip meets that line, not where it lies on the bevel.
func TestWholeWidthIsOnTheFlat(t *testing.T) {
	k := openKnife(false, true)
	k.Bevel.Height = Some(20)
	s := &k.Fullers[0]
	s.Radius, s.FromSpine, s.FromSpineEnd, s.EndRunOut = 3, 5, Some(26), OpenRunOut
	b := mustBuild(t, k)
	f := b.Fullers[0]
	lower, _, ok := b.Span(0, f.EndFull)
	require.True(t, ok)
	assert.InDelta(t, -34+20, lower, 1e-6, "the bevel line over the straight edge")
	assert.Greater(t, f.EndVisible, f.EndFull+5)
	c := b.CrossSectionAt(f.EndVisible - 0.5)
	_, upper, ok := b.Span(0, c.X)
	require.True(t, ok)
	assert.Less(t, upper, c.edgeLine(), "at the last it lies on the bevel alone")
}

// TestOpenEndsLieWithin: at the place where its whole width ends a fuller still lies on the
// flat, and where the last of it leaves the blade it still cuts; a hair further out neither
// is so.
func TestOpenEndsLieWithin(t *testing.T) {
	for _, name := range []string{"curlew", "heron", "flint", "kite"} {
		for i := range 8 {
			k := parsePattern(t, name)
			k.Fullers[0].EndRunOut, k.Fullers[0].End = OpenRunOut, Optional{}
			k.Blade.Length += 0.37 * float64(i)
			b := mustBuild(t, k)
			f := &b.Fullers[0]
			const rounding = 1e-11 // of the groove, which is made anew once its ends are known
			assert.Less(t, b.ground.onFlat(&f.Finished, f.EndFull), rounding, name)
			assert.GreaterOrEqual(t, b.ground.onFlat(&f.Finished, f.EndFull+3*near), 0.0, name)
			assert.Less(t, b.ground.over(&f.Finished, f.EndVisible), rounding, name)
			assert.GreaterOrEqual(t, b.ground.over(&f.Finished, f.EndVisible+3*near), 0.0, name)
			web, _ := b.WebLeaving(0)
			assert.Greater(t, web, 0.2, name)
		}
	}
}
