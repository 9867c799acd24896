package profile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// readKnife is a level blade whose fuller has the radius 6 and the depth 0.8 of the worked
// groove below, and a bar that is as thick as the blade.
func readKnife(t *testing.T) (Knife, Bar) {
	t.Helper()
	k := parsePattern(t, "tarn")
	k.Taper, k.Allowance = nil, Allowance{}
	k.Bar.Thickness = Optional{}
	require.NoError(t, k.Validate())
	return k, BarOf(k, Measured{})
}

func withReading(t *testing.T, k Knife, text string) Blade {
	t.Helper()
	m, err := ParseMeasured("m.toml", []byte("[[fuller]]\n"+text), k)
	require.NoError(t, err)
	b, err := Build(k, m)
	require.NoError(t, err)
	return b
}

// TestReadingsOfAWorkedGroove: a ball of radius 6 sunk by 0.8 leaves a groove 5.98665 wide
// (derived; the chord of Machinery's Handbook, 31st ed., p. 79, as a formula). Read as
// designed, by width, by depth or by both, nothing is off; read as the groove of a depth
// of 0.85, 0.05 is, by either reading.
func TestReadingsOfAWorkedGroove(t *testing.T) {
	k, _ := readKnife(t)
	require.Equal(t, 6.0, k.Fullers[0].Radius)
	require.Equal(t, 0.8, k.Fullers[0].Depth.Value)
	wide := func(d float64) float64 { return 2 * math.Sqrt(2*6*d-d*d) }
	assert.InDelta(t, 5.98665, wide(0.8), 5e-6)
	for text, want := range map[string]GrooveShift{
		"width = 5.98665":                               {},
		"depth = 0.8":                                   {},
		"depth = 0.8\nwidth = 5.98665":                  {},
		fmt.Sprint("width = ", wide(.85)):               {Sunk: .05},
		"depth = 0.85":                                  {Sunk: .05},
		fmt.Sprint("depth = 0.85\nwidth = ", wide(.85)): {Sunk: .05},
		fmt.Sprint("depth = 0.8\nwidth = ", 2*math.Sqrt(2*6.1*.8-.64)): {Wider: .1},
		"depth = 0.75": {Sunk: -.05},
	} {
		came, read := withReading(t, k, "from_butt = 190\n"+text).Fullers[0].Came(Right)
		require.True(t, read)
		assert.InDelta(t, want.Sunk, came.Shift.Sunk, 2e-6, text)
		assert.InDelta(t, want.Wider, came.Shift.Wider, 2e-5, text)
		assert.Zero(t, came.Shift.Aside+came.Shift.Along, text)
	}
}

// TestReadingsOfAKnownGroove: whatever shift a groove has, its readings, taken from its own
// surface on the bar, tell it: on a level floor, on a sloped one and along an oblique
// centreline.
func TestReadingsOfAKnownGroove(t *testing.T) {
	level, _ := readKnife(t)
	sloped := parsePattern(t, "tarn")
	oblique, _ := readKnife(t)
	oblique.Fullers[0].FromSpineEnd = Some(oblique.Fullers[0].FromSpine + 2)
	for name, k := range map[string]Knife{"level": level, "sloped": sloped, "oblique": oblique} {
		b, err := Build(k, Measured{})
		require.NoError(t, err)
		want := GrooveShift{Sunk: -0.03, Wider: 0.02, Aside: 0.07, Along: -0.4}
		g := b.Fullers[0].Milled.Shifted(want)
		x := (b.Fullers[0].StartFull + b.Fullers[0].EndFull) / 2
		s := g.AtX(x)
		at, u := g.Place(s)
		from, to := Surface{bar: b.Bar}.reach(g)
		first, _ := g.Place(from)
		last, _ := g.Place(to)
		half := g.HalfWidth(s, b.Bar.Face(x))
		got := withReading(t, k, fmt.Sprintf("from_butt = %.9f\nwidth = %.9f\ndepth = %.9f\nfrom_edge = %.9f\nstart = %.9f\nend = %.9f\n", x-b.Bar.Butt,
			2*half, b.Bar.Face(x)-g.floor(s), b.Bar.Top-at.Y-half/u.X, first.X-b.Bar.Butt, last.X-b.Bar.Butt)).Fullers[0]
		came, _ := got.Came(Right)
		assert.InDelta(t, want.Sunk, came.Shift.Sunk, 1e-5, name)
		assert.InDelta(t, want.Wider, came.Shift.Wider, 1e-4, name)
		assert.InDelta(t, want.Aside, came.Shift.Aside, 1e-5, name)
		assert.InDelta(t, want.Along, came.Shift.Along, 1e-4, name)
		cut := got.On(Right).Milled
		assert.InDelta(t, b.Bar.Face(x)-g.floor(s), b.Bar.Face(x)-cut.floor(s), 1e-5, "the floor at the station is as read, "+name)
	}
}

// TestSecondFaceFollows: the second face has the depth and the place of the first, or the
// web of the design; what is read of both stays as it is.
func TestSecondFaceFollows(t *testing.T) {
	k, bar := readKnife(t)
	reading := "from_butt = 190\ndepth = 0.86\nfrom_edge = 5\nsecond_face = "
	match, keep := withReading(t, k, reading+`"match"`), withReading(t, k, reading+`"keep web"`)
	web := bar.Thickness(0) - 2*0.8
	half := GrooveWidth(6, 0.86) / 2
	for _, b := range []Blade{match, keep} {
		y := b.Fullers[0].On(Right).Milled.Plan[0].Y
		assert.InDelta(t, bar.Top-5-half, y, 1e-9)
		assert.InDelta(t, y, b.Fullers[0].On(Left).Milled.Plan[0].Y, 1e-12, "opposite the first")
		assert.InDelta(t, 0.86, b.On(Right).SectionAt(0, 60).MilledDepth, 1e-9)
		assert.InDelta(t, 0.8, b.SectionAt(0, 60).MilledDepth, 1e-9, "the design is left as it is")
		assert.Equal(t, b.FullerSurface(Left).Height(60, y), b.On(Left).FullerSurface(Left).Height(60, y), "done twice it changes nothing")
		assert.True(t, b.FullersMilled(Right))
		assert.False(t, b.FullersMilled(Left))
		assert.InDelta(t, bar.Face(60)-0.86, b.AsMilled(Right).Height(60, y), 1e-9)
		assert.InDelta(t, bar.Face(60), b.AsMilled(Left).Height(60, y), 1e-9)
	}
	assert.InDelta(t, 0.86, match.On(Left).SectionAt(0, 60).MilledDepth, 1e-9)
	assert.InDelta(t, web-2*0.06, match.SectionAt(0, 60).Web, 1e-9)
	assert.InDelta(t, 0.74, keep.On(Left).SectionAt(0, 60).MilledDepth, 1e-9)
	assert.InDelta(t, web, keep.SectionAt(0, 60).Web, 1e-9)
	both := withReading(t, k, reading+"\"match\"\n[[fuller]]\nface = \"left\"\nfrom_butt = 190\ndepth = 0.79\n")
	assert.InDelta(t, 0.79, both.On(Left).SectionAt(0, 60).MilledDepth, 1e-9)
	assert.InDelta(t, web-0.06+0.01, both.SectionAt(0, 60).Web, 1e-9)
	// The finished blade is lighter by what was cut too deep, in each face by itself.
	plain := withReading(t, k, "from_butt = 190\ndepth = 0.8\n")
	lighter := func(b Blade) float64 { return plain.BladeBody().Volume - b.BladeBody().Volume }
	f := match.Fullers[0]
	assert.InEpsilon(t, 2*0.06*6.1*(f.EndVisible+f.EndFull-f.StartVisible-f.StartFull)/2, lighter(match), 0.1, "a strip as wide as the groove and 0.06 mm deep")
	assert.InDelta(t, lighter(match), 2*lighter(withReading(t, k, "from_butt = 190\ndepth = 0.86\nfrom_edge = 5\n[[fuller]]\nface = \"left\"\nfrom_butt = 190\ndepth = 0.8\n")), 0.02*lighter(match))
}

// TestSeveralStations: their mean counts, and how far they lie apart is known.
func TestSeveralStations(t *testing.T) {
	k, _ := readKnife(t)
	came, _ := withReading(t, k, "from_butt = 170\ndepth = 0.83\n[[fuller]]\nfrom_butt = 210\ndepth = 0.87\n").Fullers[0].Came(Right)
	assert.InDelta(t, 0.05, came.Shift.Sunk, 1e-9)
	assert.InDelta(t, 0.04, came.Spread, 1e-9)
}

// TestOpenEndsAreNotRead: an open fuller has width, depth and place, but no end there.
func TestOpenEndsAreNotRead(t *testing.T) {
	k := openKnife(false, true)
	_, err := ParseMeasured("m.toml", []byte("[[fuller]]\nfrom_butt = 150\ndepth = 0.8\nend = 250\n"), k)
	assert.ErrorContains(t, err, "m.toml:4: fuller[1].end")
	plain, err := Build(k, Measured{})
	require.NoError(t, err)
	f := plain.Fullers[0]
	x := (f.StartFull + f.EndFull) / 2
	designed := f.MilledDepthAt(plain.Bar, x)
	b := withReading(t, k, fmt.Sprintf("from_butt = %.6f\ndepth = %.6f\n", x-plain.Bar.Butt, designed+0.05))
	assert.InDelta(t, designed+0.05, b.Fullers[0].On(Left).MilledDepthAt(b.Bar, x), 1e-6)
	assert.Greater(t, plain.BladeBody().Volume, b.BladeBody().Volume)
}

// TestReadingsThatCannotBe: all at once, each with its key.
func TestReadingsThatCannotBe(t *testing.T) {
	k, _ := readKnife(t)
	k.Fullers[0].Faces = "right"
	for text, why := range map[string]string{
		"from_butt = 190\n":                               "needs the width, the depth or both",
		"from_butt = 190\ndepth = 0.8\nnumber = 3\n":      "the knife has 1",
		"from_butt = 190\ndepth = 0.8\nface = \"left\"\n": "not cut in the left face",
		"from_butt = 30\ndepth = 0.8\n":                   "has its full depth from",
		"from_butt = 190\nwidth = 12\n":                   "is at most 12.000 mm wide",
		"from_butt = 190\ndepth = 1.4\n":                  "0.600 mm deeper than designed",
		"from_butt = 190\ndepth = 0.8\nwidth = 7.5\n":     "makes the radius",
		"from_butt = 190\ndepth = 0.8\n[[fuller]]\nfrom_butt = 200\ndepth = 0.8\nsecond_face = \"keep web\"\n": "says otherwise",
		"from_butt = 190\ndepth = 0.8\nfrom_edge = 20\n":                                                       "nearer to the spine than designed",
		"from_butt = 190\ndepth = 0.8\nstart = 190\n":                                                          "nearer to the point than designed",
		"from_butt = 190\ndepht = 0.8\n":                                                                       "did you mean fuller.depth?",
	} {
		m, err := ParseMeasured("m.toml", []byte("[[fuller]]\n"+text), k)
		if err == nil {
			_, err = Build(k, m)
		}
		require.Error(t, err, text)
		assert.ErrorContains(t, err, why)
		assert.True(t, strings.HasPrefix(err.Error(), "m.toml:"), err.Error())
	}
}
