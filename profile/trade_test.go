package profile

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/document"
)

// TestThreads: stress areas in in² as printed in Shigley's Mechanical Engineering Design,
// table 8-2 (read), and in mm² after ISO 898-1 (from memory); tap drills in per cent of
// thread as tap charts count (from memory).
func TestThreads(t *testing.T) {
	const inch = 25.4
	for _, row := range []struct {
		name       string
		area, unit float64
		share      float64
	}{
		{"8-32", 0.0140, inch * inch, 69}, {"10-24", 0.0175, inch * inch, 75}, {"10-32", 0.0200, inch * inch, 76},
		{"1/4-20", 0.0318, inch * inch, 75}, {"1/4-28", 0.0364, inch * inch, 80}, {"5/16-18", 0.0524, inch * inch, 77},
		{"M4", 8.78, 1, 77}, {"M5x0.8", 14.2, 1, 77}, {"m6 x 1", 20.1, 1, 77}, {"M8", 36.6, 1, 74},
	} {
		thread, err := ThreadNamed(row.name)
		require.NoError(t, err)
		assert.InEpsilon(t, row.area*row.unit, thread.StressArea(), 0.005, row.name)
		assert.InDelta(t, row.share, 100*thread.Share(), 0.6, row.name)
		assert.Less(t, thread.Root(), thread.PitchDiameter())
		assert.InEpsilon(t, thread.StressArea(), math.Pi/4*square((thread.PitchDiameter()+thread.Root())/2), 0.03, "its diameter is about the mean of pitch and root")
	}
	for name, root := range map[string]float64{"M4": 3.141, "M5": 4.019, "M6": 4.773, "M8": 6.466} {
		thread, err := ThreadNamed(name)
		require.NoError(t, err)
		assert.InDelta(t, root, thread.Root(), 6e-4, "ISO 724, from memory")
	}
	_, err := ThreadNamed("M7")
	assert.ErrorContains(t, err, "M6x1")
}

// TestSpecialThreads: a thread by its dimensions has the form of the standard one that has
// them, metric in mm and unified in inches, and what is no thread is none.
func TestSpecialThreads(t *testing.T) {
	for text, name := range map[string]string{"6 x 1 mm, drill 5 mm": "M6x1", "0.25x0.05 in,drill 0.2010 in": "1/4-20"} {
		special, err := ThreadNamed(text)
		require.NoError(t, err)
		standard, err := ThreadNamed(name)
		require.NoError(t, err)
		assert.InDelta(t, standard.StressArea(), special.StressArea(), 1e-9)
		assert.InDelta(t, standard.TapDrill, special.TapDrill, 1e-9)
		assert.False(t, special.Standard())
		assert.Equal(t, name, special.Nearest().Name)
		assert.Equal(t, name, special.scaled(1, false), "by the name of what it comes to")
	}
	for _, text := range []string{"6 x 0 mm, drill 5 mm", "6 x 1 mm, drill 7 mm", "6 x 1 mm, drill 1 mm", "6 x 8 mm, drill 5 mm", "6 x 1 mm", "6..2 x 1 mm, drill 5 mm", "600 x 1 mm, drill 599 mm"} {
		_, err := ThreadNamed(text)
		assert.Error(t, err, text)
	}
	m6, err := ThreadNamed("M6")
	require.NoError(t, err)
	assert.Equal(t, "6.3 x 1.05 mm, drill 5.25 mm", m6.scaled(1.05, false))
}

// TestThinPlateTapped: a quarter-inch plate tapped 1/4-20 keeps only 0.0245 in beside
// the drill (derived for a build on bladeforums 942393, read).
func TestThinPlateTapped(t *testing.T) {
	thread, err := ThreadNamed("1/4-20")
	require.NoError(t, err)
	assert.InDelta(t, 0.0245*25.4, (6.35-thread.TapDrill)/2, 1e-3)
}

// TestPommel: engagement, wall and a rod that bottoms.
func TestPommel(t *testing.T) {
	k := testKnife()
	k.Tang.Thread, k.Tang.ThreadLength = "M6", 20
	k.Guard.Thickness, k.Handle.Length = 6, 96
	k.Pommel = Pommel{Length: 22, Width: 30, Thickness: 24, HoleDepth: 15}
	s := k.StackMeasures()
	assert.InDelta(t, 102, s.Handle, 1e-12)
	assert.InDelta(t, 15, s.Engagement, 1e-12, "all of the hole")
	assert.InDelta(t, 3, s.Bottoms, 1e-12, "the rod reaches 18 mm into a hole of 15")
	assert.InDelta(t, 9, s.WallLeft, 1e-12)
	assert.InDelta(t, 9, s.Wanted, 1e-12)
	assert.InDelta(t, 7, s.Behind, 1e-12)
	assert.Zero(t, s.StandsOut)
	k.Pommel.Length = 12
	s = k.StackMeasures()
	assert.InDelta(t, 12, s.Engagement, 1e-12, "no more than there is of the pommel")
	assert.InDelta(t, -3, s.Behind, 1e-12, "its hole is said to be 15 mm deep")
	assert.InDelta(t, 6, s.StandsOut, 1e-12)
	k.Pommel.Length = 22
	k.Pommel.HoleDepth = 0
	assert.InDelta(t, 18, k.StackMeasures().Engagement, 1e-12, "right through")
	assert.Zero(t, k.StackMeasures().Bottoms)
}

// TestLocalThickness: a full flat bevel 30 high on 4.7625 with an edge of 0.5 (derived).
func TestLocalThickness(t *testing.T) {
	k := testKnife()
	k.Blade.Width, k.Blade.Thickness, k.Bevel.Height, k.Fullers = 30, 4.7625, Some(30), nil
	b := mustBuild(t, k)
	for z, want := range map[float64]float64{18: 3.0575, 22: 3.6258, 26: 4.1942} {
		assert.InDelta(t, want, 2*b.GroundHalf(60, -30+z), 5e-5)
	}
}

// TestSwordWeb: a sword found at Sutton Hoo is 4.4 mm thick with a web of 3.3 (British
// Museum, as read by a collector on an arms forum): each fuller is an eighth as deep.
func TestSwordWeb(t *testing.T) {
	assert.InDelta(t, 0.125, FullerSize{Web: Some(3.3)}.depthAt(4.4)/4.4, 1e-12)
}

// TestOldMeasures: 8 sun 5 bu of a shaku of 10/33 m are 257.58 mm; a page prints 25.76 cm
// (nihontoclub.com, read). Pins of 0.425 + 0.200 and 0.500 + 0.125 in are both 0.625
// (tradgang.com 47394, read); a recipe's 5/8 + 1/8 is 3/4, not the 7/8 it prints
// (tradgang.com 140872, read).
func TestOldMeasures(t *testing.T) {
	assert.InDelta(t, 257.58, 0.85*10.0/33*1000, 5e-3)
	inches := func(text string) float64 {
		v, err := document.ParseLength(text+" in", document.Inch)
		require.NoError(t, err)
		return v
	}
	assert.InDelta(t, inches("0.425")+inches("0.200"), inches("0.500")+inches("0.125"), 1e-12)
	assert.InDelta(t, inches("3/4"), inches("5/8")+inches("1/8"), 1e-12)
}

// TestSegmentAgainstParabola: a groove 8 wide and 1 deep of radius 8.5 has 5.3994 mm²;
// the parabola of the same width and depth has 5.3333 (derived).
func TestSegmentAgainstParabola(t *testing.T) {
	p := grooved(40, 10, 8.5, 1, 0).Properties()
	area := (40*10 - p.Area) / 2
	assert.InDelta(t, 5.3994, area, 1e-4)
	assert.InDelta(t, 5.3333, 2.0/3*8*1, 1e-4)
}

// TestTaperedTang: a tang of two widths and two thicknesses is a prismoid; its volume by
// the prismoidal formula, less what the inside corners add.
func TestTaperedTang(t *testing.T) {
	k := testKnife()
	k.Fullers, k.Tang = nil, Tang{Width: 14, EndWidth: 8, Length: 100, CornerRadius: 1e-6, EndThickness: Some(4)}
	k.Shoulder.FaceStep = 0.15
	b := mustBuild(t, k)
	first, last := 14*(6.35-0.3), 8*4.0
	middle := 11 * (6.35 - 0.3 + 4) / 2
	assert.InEpsilon(t, (first+4*middle+last)/6*100, b.TangBody().Volume, 1e-6)
}

// TestHilt weighs a guard, a handle and a pommel without a tang to take room in them.
func TestHilt(t *testing.T) {
	k := testKnife()
	k.Guard = Guard{Length: 50, Width: 15, Thickness: 6, Shape: Block, Material: "brass"}
	k.Handle = Handle{Length: 100, Width: 30, Thickness: 20, Shape: Oval, Material: "hardwood", Density: Some(0.8)}
	k.Pommel = Pommel{Length: 20, Width: 30, Thickness: 20, Shape: Oval, Material: "steel"}
	k.Spacers.Material = "brass"
	b := mustBuild(t, k)
	byName := map[string]Part{}
	for _, p := range b.Parts(7.85) {
		byName[p.Name] = p
	}
	tang := func(from, to float64) float64 { return b.bodyBetween(-to, -from).Volume }
	assert.InEpsilon(t, (50*15*6-tang(0, 6))*8.5e-3, byName["guard"].Mass, 1e-9)
	assert.InEpsilon(t, (math.Pi/4*30*20*100-tang(6, 100))*0.8e-3, byName["handle"].Mass, 1e-9, "the tang ends inside the handle")
	assert.InEpsilon(t, math.Pi/4*30*20*20*7.85e-3, byName["pommel"].Mass, 1e-9)
	assert.InDelta(t, -116, byName["pommel"].X, 1e-9)
	whole := WeightOf(b.Parts(7.85))
	sum, moment := 0.0, 0.0
	for _, p := range byName {
		sum, moment = sum+p.Mass, moment+p.Mass*p.X
	}
	assert.InEpsilon(t, sum, whole.Mass, 1e-12)
	assert.InDelta(t, moment/sum, whole.X, 1e-9)
}

// TestSecondEdge: a symmetrical two-edged blade has its ridge and its centroid half way.
func TestSecondEdge(t *testing.T) {
	k := built(t)["osprey"].Knife
	k.Fullers = nil
	b := mustBuild(t, k)
	c := b.CrossSectionAt(60)
	y, ridge := c.Ridge()
	assert.True(t, ridge)
	assert.InDelta(t, -14, y, 1e-6)
	p := c.Properties()
	assert.InDelta(t, -14, p.Y, 1e-9)
	// A six-sided section: two trapezoids of the edge's thickness and the ridge's.
	assert.InEpsilon(t, 28*(0.5+b.Thickness(60))/2, p.Area, 1e-9)
	assert.InDelta(t, b.Thickness(60), 2*c.Half(Right, y), 1e-6)
}

// TestPlunge: the plunge line is where the file puts it, at the edge, and the bevel comes
// to its full height a radius further on.
func TestPlunge(t *testing.T) {
	for name, b := range built(t) {
		k := b.Knife
		if k.Ricasso.Choil > 0 {
			continue
		}
		before, after := b.CrossSectionAt(k.Ricasso.Length-1e-4), b.CrossSectionAt(k.Ricasso.Length+1e-4)
		assert.InDelta(t, b.Thickness(k.Ricasso.Length), 2*before.Half(Right, before.Bottom), 1e-9, name)
		assert.Less(t, 2*after.Half(Right, after.Bottom), b.Thickness(k.Ricasso.Length), name)
		full := b.CrossSectionAt(b.ground.edge.foot + k.Plunge.Radius + 1e-9)
		assert.InDelta(t, k.Bevel.EdgeThickness, 2*full.Half(Right, full.Bottom), 1e-9, name)
	}
}

// TestEdgeAngle: along a straight second edge that climbs at a slope m, a bevel measured
// square to the spine line is steeper square to the edge: its tangent is sqrt(1 + m²)
// times as great, the length of the surface's gradient.
func TestEdgeAngle(t *testing.T) {
	b := built(t)["flint"]
	k := b.Knife
	slope := (k.Blade.Width - k.Clip.Drop) / k.Edge.BellyLength
	s := b.GrindingAt(k.Blade.Length - k.Edge.BellyLength/2)
	assert.InEpsilon(t, math.Tan(s.Angle)*math.Sqrt(1+slope*slope), math.Tan(s.EdgeAngle), 1e-6)
	// The gradient itself, by differences on the surface just above the edge.
	const d = 1e-3
	y := b.EdgeAt(s.X) + 0.5
	dx := (b.GroundHalf(s.X+d, y) - b.GroundHalf(s.X-d, y)) / (2 * d)
	dy := (b.GroundHalf(s.X, y+d) - b.GroundHalf(s.X, y-d)) / (2 * d)
	assert.InDelta(t, math.Hypot(dx, dy), math.Tan(s.EdgeAngle), 2e-3, "the taper adds a little")
}

// TestFloorOnBevel: the floor of a fuller across a hollow bevel keeps its depth under the
// curved surface within half a micrometre, and its lips lie on the surface.
func TestFloorOnBevel(t *testing.T) {
	k := testKnife()
	k.Bevel = Bevel{Height: Some(24), Kind: HollowBevel, WheelRadius: Some(250), EdgeThickness: 0.6, EdgeAngle: 0.35}
	k.Taper = []TaperStation{{150, 4.6}}
	f := &k.Fullers[0]
	f.On, f.Depth, f.Radius, f.FromSpine, f.FromSpineEnd, f.RunOutRadius = OnBevel, Some(0.4), 5, 14, Some(22), Some(30)
	f.End = Some(135)
	b := mustBuild(t, k)
	for i := range 101 {
		x := b.Fullers[0].StartFull + (b.Fullers[0].EndFull-b.Fullers[0].StartFull)*float64(i)/100
		s := b.SectionAt(0, x)
		assert.InDelta(t, 0.4, s.Depth, 2*b.Knife.chordError(), "at %g", x)
	}
	upper, lower := b.Lips(0, 21)
	for _, p := range append(upper[1:20], lower[1:20]...) {
		assert.InDelta(t, b.GroundHalf(p.X, p.Y), b.Fullers[0].Finished.Height(p.X, p.Y), 1e-6)
	}
}

// TestScribes: on the bar the edge is scribed as it must be before hardening, with what
// scale and finishing take off each side of it later.
func TestScribes(t *testing.T) {
	k := testKnife()
	k.Allowance = Allowance{Finish: 0.05, Scale: 0.07, CleanUp: 0.1}
	s := mustBuild(t, k).GrindingAt(40)
	bar := 6.35 + 2*(0.05+0.07+0.1)
	assert.InDelta(t, (bar-(0.5+2*0.12))/2, s.ScribeOnBar, 1e-12)
	assert.InDelta(t, (6.35-0.5)/2, s.ScribeFromFace, 1e-12)
	assert.False(t, s.OverBack)
	assert.True(t, mustBuild(t, k).GrindingAt(199).OverBack)
}
