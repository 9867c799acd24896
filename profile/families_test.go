package profile

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/templates"
)

// TestPatternsDiffer: no two patterns are one and the same after scaling: somewhere
// their outlines, scaled to one length, lie more than a hundredth of it apart.
func TestPatternsDiffer(t *testing.T) {
	all := built(t)
	require.GreaterOrEqual(t, len(all), 10)
	for one, a := range all {
		for two, b := range all {
			if one >= two {
				continue
			}
			most := 0.0
			for i := 1; i < 100; i++ {
				share := float64(i) / 100
				x, y := share*a.Knife.Blade.Length, share*b.Knife.Blade.Length
				for _, pair := range [][2]float64{{a.BackAt(x) / a.Knife.Blade.Length, b.BackAt(y) / b.Knife.Blade.Length},
					{a.EdgeAt(x) / a.Knife.Blade.Length, b.EdgeAt(y) / b.Knife.Blade.Length}} {
					most = math.Max(most, math.Abs(pair[0]-pair[1]))
				}
			}
			assert.Greater(t, most, 0.01, "%s and %s", one, two)
		}
	}
}

// TestPatternsInBothUnits: every pattern written in either unit is the same knife, to
// the last digit written.
func TestPatternsInBothUnits(t *testing.T) {
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		first, err := Parse(name, data)
		require.NoError(t, err)
		for _, unit := range []document.Unit{document.Inch, document.Millimetre} {
			again, err := Parse(name, InUnits(data, unit))
			require.NoError(t, err, "%s in %s", name, unit)
			assert.Equal(t, unit, again.Units)
			for _, group := range Table() {
				n := 1
				if group.Repeated {
					n = group.count(first)
				}
				for i := range n {
					for _, p := range group.Parameters {
						assertSame(t, p.field(&first, i), p.field(&again, i), name+": "+group.Name+"."+p.Name)
					}
				}
			}
		}
	}
}

// assertSame holds two fields of the parameter table against each other, lengths within
// half a hundred thousandth of an inch.
func assertSame(t *testing.T, a, b any, what string) {
	t.Helper()
	const digit = 0.5e-5*25.4 + 1e-9
	switch a := a.(type) {
	case *float64:
		assert.InDelta(t, *a, *b.(*float64), digit, what)
	case *Optional:
		assert.InDelta(t, a.Value, b.(*Optional).Value, digit, what)
		assert.Equal(t, a.Known, b.(*Optional).Known, what)
	case *string:
		assert.Equal(t, *a, *b.(*string), what)
	}
}

// museumSword is a sword of about 1300 in the Wallace Collection, London, inv. A.459, as
// published by an author who handled it (foxtail.nu/bjorn/vm_1300_eng.htm, read): blade
// 857, width 48, thickness at the fuller's edge 7, 4.5 at 400 and 3.5 at 800, fuller
// width 18, 11 at 400 and 6 at 760, "fuller depth 3 (mean)".
const museumSword = `units = "mm"
[blade]
length = 857
width = 48
thickness = 7
[[taper]]
at = 400
thickness = 4.5
[[taper]]
at = 800
thickness = 3.5
[clip]
length = 60
drop = 24
[edge]
belly_length = 60
point_angle = 40
[ricasso]
length = 1
[bevel]
height = 10
[tang]
width = 24
length = 170
[[fuller]]
radius = 20.9
from_spine = 24
start = 10
end = 760
ends = "full depth"
`

// TestMuseumSword: 3 mm in each face would need 6 mm of steel where there are 4.5, so
// the published depth is refused; read as the web between the fullers, with one radius,
// it gives the published widths within half a millimetre, and 1.1 at the far end. That
// reading is an inference, no history.
func TestMuseumSword(t *testing.T) {
	_, err := Parse("sword.toml", []byte(museumSword+"depth = 3\n"))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "a published depth is often the web")

	k, err := Parse("sword.toml", []byte(museumSword+"web = 3\n"))
	require.NoError(t, err)
	b, err := Build(k, Measured{})
	require.NoError(t, err)
	for _, row := range []struct{ at, predicted, published, slack float64 }{{400, 11.10, 11, 0.5}, {760, 7.06, 6, 1.1}} {
		width := b.SectionAt(0, row.at).Width
		assert.InDelta(t, row.published, width, row.slack, "at %g", row.at)
		assert.InDelta(t, row.predicted, width, 0.02, "at %g, derived by hand", row.at)
	}
	assert.InDelta(t, 18, GrooveWidth(20.9, (7-3)/2.0), 0.5, "at the guard")
}

// TestSeax brackets a find by what could be forged from its size: the seax of Beagnoth
// (British Museum 1857,0623.1: 38.7 wide, 8.2 thick, 985 g; its blade of 551 mm from
// memory) weighs between a full wedge and a plain bar of its size.
func TestSeax(t *testing.T) {
	bar := plainBlade(t, 551, 38.7, stations{{0, 8.2}})
	wedge := bar
	wedge.ground.edge = bevel{present: true, height: 38.7, kind: FlatBevel}
	wedge.ground.heel = geom.Point{Y: -38.7}
	const density = 7.85e-3
	assert.InDelta(t, 1373, bar.BladeBody().Volume*density, 1)
	assert.InDelta(t, 686, wedge.BladeBody().Volume*density, 1)
	assert.Less(t, wedge.BladeBody().Volume*density, 985.0)
	assert.Greater(t, bar.BladeBody().Volume*density, 985.0)
}

// TestPublishedSums: dimensions that do not add up are named with the difference. A
// museum's catalogue (Santa Rosa, 97.346, read) lists parts of 8 3/4 and 3 7/8 in and a
// whole of 12 7/8; the shoulder of a tang is where such sums stand in a knife file.
func TestPublishedSums(t *testing.T) {
	const file = `units = "in"
[blade]
length = "8 3/4 in"
width = "1 3/8 in"
thickness = "3/16 in"
[clip]
length = "1 3/4 in"
drop = "1/2 in"
sag = "1/16 in"
[edge]
belly_length = "2 in"
[bevel]
height = "3/4 in"
[tang]
width = "5/8 in"
length = "3 7/8 in"
[shoulder]
top = "1/2 in"
bottom = "1/2 in"
`
	_, err := Parse("catalogue.toml", []byte(file))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "a difference of 0.2500 in")
}

// TestRatios of a service bayonet of 1905 (cruffler.com, September 2001, citing a printed
// reference, read): blade 16 in, height 1, false edge 5, true edge 14.5, fuller 0.375
// high and 12 long.
func TestRatios(t *testing.T) {
	const file = `units = "in"
[blade]
length = 16
width = 1
thickness = 0.25
[clip]
length = 5
drop = 0.5
[false_edge]
length = 5
height = 0.2
thickness = 0.05
[edge]
belly_length = 3
point_angle = 30
[ricasso]
length = 1.5
[bevel]
height = 0.4
[tang]
width = 0.45
length = 4
[[fuller]]
radius = 0.35
depth = 0.05
width = 0.36
from_spine = 0.35
start = 1
length = 12
`
	k, err := Parse("bayonet.toml", []byte(file))
	require.NoError(t, err, "0.36 in is what a round fuller of that radius and depth has; the first ones were near square")
	b := mustBuild(t, k)
	table := b.GrindingTable(5)
	assert.InDelta(t, 1.5*25.4, table[0].X, 1e-9, "ricasso: what the true edge of 14.5 in leaves of 16")
	assert.InDelta(t, 0.75, (b.Fullers[0].EndVisible-b.Fullers[0].StartVisible)/b.Knife.Blade.Length, 1e-9)
	assert.InDelta(t, 0.3125, b.Knife.FalseEdge.Length/b.Knife.Blade.Length, 1e-9)
}

// TestGrindingValues: bevel angles and slopes, the jig at one angle, the sharpened edge
// and a class's figure (allaboutpocketknives.com, read: 0.170 in stock, 0.030 left, 0.070
// a side); the rest is derived.
func TestGrindingValues(t *testing.T) {
	const inch, degrees = 25.4, 180 / math.Pi
	for _, row := range []struct{ t, e, h, angle float64 }{
		{3.175, 0.5, 25, 3.0624}, {4, 0.5, 20, 5.0006}, {4.7625, 0.5, 25.4, 4.7963}, {4.7625, 0.635, 25.4, 4.6451}, {6.35, 0.5, 30, 5.5687},
		{3.0 / 16 * inch, 0.01, inch, 5.3558}, {0.25 * inch, 0.01, 1.5 * inch, 4.7636}, {0.125 * inch, 0.01, inch, 3.5763},
	} {
		k := testKnife()
		k.Blade.Width, k.Blade.Thickness, k.Fullers = 50, row.t, nil
		k.Bevel.EdgeThickness, k.Bevel.Height = row.e, Some(row.h)
		s := mustBuild(t, k).GrindingAt(40)
		assert.InDelta(t, row.angle, s.Angle*degrees, 0.012, "%+v", row)
		assert.InDelta(t, s.Angle, s.EdgeAngle, 1e-9, "the edge is straight there")
		assert.InDelta(t, (row.t-row.e)/2, s.ScribeFromFace, 1e-12)
	}
	assert.InDelta(t, 0.070, (0.170-0.030)/2, 1e-12)
	k := testKnife()
	k.Blade.Width, k.Fullers, k.Bevel.EdgeThickness = 50, nil, 0.5
	k.Bevel.Constant, k.Bevel.Angle, k.Bevel.Height = ConstantAngle, Some(4.8/degrees), Optional{}
	k.Taper = []TaperStation{{150, 3.75}}
	b := mustBuild(t, k)
	for _, row := range []struct{ t, h float64 }{{4.7625, 25.38}, {4.25, 22.33}, {3.75, 19.35}} {
		x := bisect(func(x float64) float64 { return row.t - b.Thickness(x) }, 10, 150)
		assert.InDelta(t, row.h, b.GrindingAt(x).Height, 0.01, "a jig at 4.8 degrees, %g mm thick", row.t)
	}
	for _, row := range []struct{ e, angle, width, height float64 }{{0.5, 20, 0.731, 0.687}, {0.5, 15, 0.966, 0.933}, {0.25, 15, 0.483, 0.467}, {0.635, 20, 0.928, 0.872}} {
		s := Sharpening(row.e, geom.Angle(row.angle/degrees))
		assert.InDelta(t, row.width, s.Width, 6e-4)
		assert.InDelta(t, row.height, s.Height, 6e-4)
	}
}

// TestHollowAngle: the published formula of how much less a hollow bevel's edge has than
// its chord, sin a = T/(D·sin b) (The Complete Guide to Sharpening, 1995, p. 62, as
// quoted on weekendjoiner.com, read: T 0.125 in, D 6 in, b 25 degrees give 2.8256).
func TestHollowAngle(t *testing.T) {
	const degrees = 180 / math.Pi
	chord := 0.125 / math.Sin(25/degrees) * 25.4
	s := GrindingStation{Height: chord, Thickness: 0, Angle: 10 / degrees}
	assert.InDelta(t, 10-2.8256, s.edgeSlope(HollowBevel, 3*25.4, 0)*degrees, 1e-3)
}
