package match

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// goodTable is a table without a fault, to be spoilt.
const goodTable = `# a knife in the hand
x_mm,spine,edge,thickness
-50,-8,-20,4
0,0,-30,4.8
50,0,-30,4.5
100,0.1,-30,
140,-4,"-27.5",3
178,-9,-9,1.9
`

func TestGoodTable(t *testing.T) {
	m, err := ParseStations("points.csv", []byte(goodTable), "")
	require.NoError(t, err)
	require.Len(t, m.Readings, 6*3-1)
	assert.Equal(t, Reading{Kind: Edge, X: 140, Value: -27.5, Line: 7}, m.Readings[12])
	inches, err := ParseStations("points.csv", []byte("x;width\n0;\"1 3/16 in\"\n4;1.2\n6;30 mm\n7;0\n"), "in")
	require.NoError(t, err)
	assert.InDelta(t, 1.1875*25.4, inches.Readings[0].Value, 1e-12)
	assert.InDelta(t, 1.2*25.4, inches.Readings[1].Value, 1e-12)
	assert.InDelta(t, 30, inches.Readings[2].Value, 1e-12)
	assert.InDelta(t, 7*25.4, inches.Readings[3].X, 1e-12)
}

// spoilt is a fault of an input and where it must be told.
type spoilt struct {
	name, old, new string
	line           int
	field, says    string // in the field; in the rule or the way out
}

// assertTold holds that a fault is told where it stands, with a way out.
func assertTold(t *testing.T, err error, c spoilt) {
	t.Helper()
	var faults document.FieldErrors
	if !assert.True(t, errors.As(err, &faults), "%s: %v", c.name, err) {
		return
	}
	for _, f := range faults {
		assert.NotEmpty(t, f.Hint, "%s has no way out", c.name)
		if f.Line == c.line && strings.Contains(f.Field, c.field) && strings.Contains(f.Rule+"; "+f.Hint, c.says) {
			return
		}
	}
	t.Errorf("%s: %q is not told of line %d, %s, but: %v", c.name, c.says, c.line, c.field, err)
}

func TestFaultsOfTables(t *testing.T) {
	for _, c := range []spoilt{
		{"a word", "0,0,-30,4.8", "0,zero,-30,4.8", 4, "column 2, spine", "must be a length"},
		{"not a number", "0,0,-30,4.8", "0,nan,-30,4.8", 4, "column 2, spine", "must be a length"},
		{"infinite", "0,0,-30,4.8", "0,1e999,-30,4.8", 4, "column 2, spine", "must be a"},
		{"a station twice", "50,0,-30,4.5", "100,0,-30,4.5", 6, "x", "stands already in line 5"},
		{"no station", "50,0,-30,4.5", ",0,-30,4.5", 5, "x", "has no station"},
		{"a decimal comma", "50,0,-30,4.5", "50,0,-30,5,5", 5, "column 5", "12.5"},
		{"an unknown column", "x_mm,spine", "x_mm,top", 2, "column 2", "no column"},
		{"a column twice", "edge,thickness", "edge,edge", 2, "column 4", "stands twice"},
		{"no unit", "x_mm", "x", 2, "", "no unit is named"},
		{"two units", "spine,", "spine_in,", 2, "column 2", "at odds"},
		{"no stations", "x_mm,", "width_mm,", 2, "", "no column x"},
		{"a width under nothing", "140,-4,\"-27.5\",3", "140,-4,\"-27.5\",-3", 7, "thickness", "negative"},
		{"a quote", `"-27.5"`, `"-27.5`, 8, "column", "comma-separated"},
	} {
		_, err := ParseStations("points.csv", []byte(strings.Replace(goodTable, c.old, c.new, 1)), "")
		assertTold(t, err, c)
	}
	for _, c := range []struct {
		spoilt
		table string
	}{
		{spoilt{name: "an empty file", says: "empty"}, ""},
		{spoilt{name: "a binary file", says: "not a text"}, "x_mm\x00"},
		{spoilt{name: "three points", says: "3 stations"}, "x_mm,width\n0,30\n50,30\n100,0\n"},
		{spoilt{name: "a blade behind the guard", field: "x", says: "minus signs"}, "x_mm,width\n0,30\n-50,30\n-100,28\n-120,29\n-150,30\n"},
		{spoilt{name: "a column of nothing", says: "column is empty"}, "x_mm,width,edge\n0,30,\n50,30,\n100,28\n150,0,\n"},
		{spoilt{name: "nothing across", line: 1, says: "how high"}, "x_mm,thickness\n0,4\n50,4\n100,3\n150,2\n"},
		{spoilt{name: "a heading and no row", says: "0 stations"}, "x_mm,width\n"},
	} {
		_, err := ParseStations("points.csv", []byte(c.table), "")
		assertTold(t, err, c.spoilt)
	}
}

// TestWrongUnitsAreNamed: a table in inches or centimetres that says millimetres, and the
// other way round, are told by every column that is off, with what it would be; so is a single
// column.
func TestWrongUnitsAreNamed(t *testing.T) {
	table := func(unit string, one, thickness float64) []byte {
		var b strings.Builder
		fmt.Fprintf(&b, "x_%s,width,thickness\n", unit)
		for _, s := range [][3]float64{{0, 30, 4.8}, {60, 30, 4.5}, {120, 30, 4}, {178, 0, 2}} {
			fmt.Fprintf(&b, "%g,%g,%g\n", s[0]/one, s[1]/one, s[2]/thickness)
		}
		return []byte(b.String())
	}
	for _, c := range []struct {
		unit           string
		one, thickness float64
		columns        int
		says           string
	}{
		{"mm", 25.4, 25.4, 3, " in would be"},
		{"mm", 10, 10, 3, " cm would be"},
		{"in", 1, 1, 3, " mm would be"},
		{"cm", 1, 1, 3, " mm would be"},
		{"mm", 1, 25.4, 1, " in would be"},
	} {
		_, err := ParseStations("points.csv", table(c.unit, c.one, c.thickness), "")
		var faults document.FieldErrors
		require.ErrorAs(t, err, &faults)
		assert.Len(t, faults, c.columns)
		for _, f := range faults {
			assert.Contains(t, f.Hint, c.says)
			assert.Positive(t, f.Line)
			assert.NotEmpty(t, f.Value)
		}
	}
	want, err := ParseStations("points.csv", table("mm", 1, 1), "")
	require.NoError(t, err)
	centimetres, err := ParseStations("points.csv", table("cm", 10, 10), "")
	require.NoError(t, err)
	for i, r := range want.Readings {
		assert.InDelta(t, r.X, centimetres.Readings[i].X, 1e-9)
		assert.InDelta(t, r.Value, centimetres.Readings[i].Value, 1e-9)
	}
	assert.Contains(t, strings.Join(centimetres.Notes, ""), "centimetres")
	assert.Empty(t, want.Notes)
}

// TestTablesTurnedOver: spine and edge exchanged, heights counted downward, and stations that
// count from the point or against their sign are told once, with what to do, for every pattern;
// the table as it should be is not.
func TestTablesTurnedOver(t *testing.T) {
	for _, f := range allFamilies() {
		k, err := profile.Parse(f.Name, f.Data)
		require.NoError(t, err)
		right := calipered(t, k, stations(k), func() float64 { return 0 })
		table := func(turn func(x, spine, edge float64) (float64, float64, float64)) []byte {
			var b strings.Builder
			b.WriteString("x_mm,spine,edge\n")
			edges := map[float64]float64{}
			for _, r := range right.Readings {
				if r.Kind == Edge {
					edges[r.X] = r.Value
				}
			}
			for _, r := range right.Readings {
				if edge, there := edges[r.X]; there && r.Kind == Spine {
					x, s, e := turn(r.X, r.Value, edge)
					fmt.Fprintf(&b, "%g,%g,%g\n", x, s, e)
				}
			}
			return []byte(b.String())
		}
		_, err = ParseStations("points.csv", table(func(x, s, e float64) (float64, float64, float64) { return x, s, e }), "")
		require.NoError(t, err, f.Name)
		for says, turn := range map[string]func(x, s, e float64) (float64, float64, float64){
			"exchange the headings":    func(x, s, e float64) (float64, float64, float64) { return x, e, s },
			"give all of them a minus": func(x, s, e float64) (float64, float64, float64) { return x, -s, -e },
			"take each x from":         func(x, s, e float64) (float64, float64, float64) { return k.Blade.Length - x, s, e },
			"change the sign":          func(x, s, e float64) (float64, float64, float64) { return -x, s, e },
		} {
			_, err := ParseStations("points.csv", table(turn), "")
			var faults document.FieldErrors
			if assert.ErrorAs(t, err, &faults, "%s: %s", f.Name, says) {
				assert.Len(t, faults, 1, f.Name)
				assert.Contains(t, faults[0].Hint, says, f.Name)
			}
		}
	}
}

// TestAllFaultsAtOnce: every fault of a table is told, not the first alone.
// TestTheSpineAloneIsNoHeight: it takes the edge, or a width, to fit a blade.
func TestTheSpineAloneIsNoHeight(t *testing.T) {
	_, err := ParseStations("points.csv", []byte("x_mm,spine\n0,0\n50,0\n100,-1\n140,-4\n178,-9\n"), "")
	assert.ErrorContains(t, err, "points.csv:1: x_mm,spine: nothing says how high the blade is")
}

// TestNextToNoLength: a knife said to be next to nothing long is no knife, and no panic.
func TestNextToNoLength(t *testing.T) {
	m, err := ParseStations("points.csv", []byte(goodTable), "")
	require.NoError(t, err)
	m.Overall = 1e-4
	assert.NotPanics(t, func() { _, err = Match(m, []Family{family("tarn")}, Options{}) })
	assert.Error(t, err)
}

// TestNoMoreStationsThanHelp: a table of a thousand lines is refused at the first beyond.
func TestNoMoreStationsThanHelp(t *testing.T) {
	table := "x_mm,width\n" + strings.Repeat("1,30\n", 2*mostStations)
	_, err := ParseStations("points.csv", []byte(table), "")
	var faults document.FieldErrors
	require.ErrorAs(t, err, &faults)
	assert.Contains(t, err.Error(), fmt.Sprintf("points.csv:%d: there are more than %d stations", mostStations+2, mostStations))
}

func TestAllFaultsAtOnce(t *testing.T) {
	_, err := ParseStations("points.csv", []byte("x_mm,spine,edge\n0,a,-30\n0,0,b\n50,c,\n100,0,-30,7\n"), "")
	var faults document.FieldErrors
	require.ErrorAs(t, err, &faults)
	assert.GreaterOrEqual(t, len(faults), 5) // three words, a station twice, a fifth cell
}

func TestFaultsOfTraces(t *testing.T) {
	k := anotherSize(t, "tarn", rand.New(rand.NewPCG(1, 86)))
	outline, err := k.QuickOutline()
	require.NoError(t, err)
	points := contour(outline, 3, func() float64 { return 0 })
	good := string(drawing{unit: "mm"}.svg(points))
	_, err = ParseTrace("trace.svg", []byte(good), 0)
	require.NoError(t, err)
	gap := strings.Replace(string(drawing{unit: "mm"}.svg(points[:len(points)*2/3])), "<polygon", "<polyline", 1)
	swapped := append([]geom.Point(nil), points...)
	for i, j := 20, 90; i < j; i, j = i+1, j-1 {
		swapped[i], swapped[j] = swapped[j], swapped[i]
	}
	long := k.OverallLength()
	for _, c := range []struct {
		name, svg, says string
		overall         float64
	}{
		{"nothing", "", "empty", 0},
		{"no SVG", "x,y\n1,2\n", "no svg element", 0},
		{"another XML", "<html><body/></html>", "no svg element", 0},
		{"broken XML", good[:len(good)/2], "not SVG", 0},
		{"no outline", `<svg width="9mm" height="9mm" viewBox="0 0 9 9"><rect width="3" height="4"/></svg>`, "no path", 0},
		{"open", gap, "is open", 0},
		{"three points", `<svg width="300mm" height="300mm" viewBox="0 0 300 300"><polygon points="0,0 290,0 290,30"/></svg>`, "3 points", 0},
		{"crossing itself", string(drawing{unit: "mm"}.svg(swapped)), "crosses itself", 0},
		{"no unit and no length", string(drawing{}.svg(points)), "--overall", 0},
		{"its unit against its length", good, "25.4 times too large", long / 25.4},
		{"its known length in centimetres", good, "10 times too large", long / 10},
		{"its length in millimetres, its unit in inches", string(drawing{unit: "in", scale: 1}.svg(points)), "25.4 times too large", 0},
		{"its size in inches called millimetres", string(drawing{unit: "mm", scale: 1 / 25.4}.svg(points)), "25.4 times too small", 0},
		{"another length", good, "factor of", long * 1.2},
		{"two of them", strings.Replace(good, "<polygon", good[strings.Index(good, "<polygon"):strings.Index(good, "/>")+2]+"<polygon", 1), "which of them", 0},
		{"a word among numbers", strings.Replace(good, ",", ",much ", 1), "no number", 0},
		{"a broken path", `<svg width="300mm" height="300mm" viewBox="0 0 300 300"><path d="M 0 0 L 1"/></svg>`, "takes 2 numbers", 0},
		{"a path of something else", `<svg><path d="hello"/></svg>`, "no number", 0},
		{"unequal scales", strings.Replace(good, `height="1000mm"`, `height="900mm"`, 1), "wide and", 0},
		{"a transform of something else", strings.Replace(good, "<polygon", `<polygon transform="bend(3)"`, 1), "cannot be used", 0},
	} {
		m, err := ParseTrace("trace.svg", []byte(c.svg), c.overall)
		assertSays(t, c.name, err, c.says)
		assert.Empty(t, m.Readings, c.name)
	}
}

// assertSays holds that one of the faults says something, and that all have a way out.
func assertSays(t *testing.T, name string, err error, says string) {
	t.Helper()
	var faults document.FieldErrors
	if !assert.True(t, errors.As(err, &faults), "%s: %v", name, err) {
		return
	}
	said := false
	for _, f := range faults {
		assert.NotEmpty(t, f.Hint, name)
		said = said || strings.Contains(f.Rule+"; "+f.Hint, says)
	}
	assert.True(t, said, "%s: %q is not said, but: %v", name, says, err)
}

// TestPathsDrawTheSame: one outline written in absolute and relative commands, in curves
// and under transforms is the same run of points.
func TestPathsDrawTheSame(t *testing.T) {
	points := func(text string) []geom.Point {
		runs, _, err := readSVG("x.svg", []byte(`<svg>`+text+`</svg>`))
		require.NoError(t, err, text)
		require.Len(t, runs, 1, text)
		var out []geom.Point
		for _, p := range runs[0].points {
			out = append(out, p.Point)
		}
		return out
	}
	want := points(`<polygon points="10,20 40,20 40,50 10,50"/>`)
	for _, same := range []string{
		`<path d="M10,20L40,20L40,50L10,50Z"/>`,
		`<path d="m10 20 30 0 0 30-30 0z"/>`,
		`<path d="M10 20H40V50H10Z"/>`,
		`<path d="M1e1 20h30v30h-3.e1z"/>`,
		`<g transform="translate(10 20)"><path transform="scale(30)" d="M0 0h1v1h-1z"/></g>`,
		`<path transform="rotate(90) matrix(1 0 0 1 20 -10)" d="M0 0v-30h30v30z"/>`,
		`<defs><path d="M0 0L9 9"/><g><path d="M1 1L2 2"/></g></defs><path d="M10,20L40,20 40,50 10,50Z"/>`,
	} {
		got := points(same)
		require.Len(t, got, len(want), same)
		for i := range want {
			assert.InDelta(t, 0, between(want[i], got[i]), 1e-9, "%s: %v, want %v", same, got, want)
		}
	}
	// Half a circle, as an arc of the standard's both flags, lies on its circle.
	for _, flags := range []string{"0 0 1", "0 1 1", "1,0,1", "0 01"} {
		d := "M0 0A5 5 " + flags + " 10 0"
		if flags == "0 01" {
			d = "M0 0A5 5 0 0110 0"
		}
		for _, p := range points(`<path d="` + d + `"/>`) {
			assert.InDelta(t, 5, math.Hypot(p.X-5, p.Y), 1e-9, flags)
			assert.LessOrEqual(t, p.Y, 1e-9, "clockwise with y down goes over the top")
		}
	}
	// Of a chord of 6 on a circle of 5, y down, the four arcs pass at these heights.
	for flags, passes := range map[string]float64{"0 0 1": -1, "0 0 0": 1, "0 1 1": -9, "0 1 0": 9} {
		middle := points(`<path d="M0 0A5 5 ` + flags + ` 6 0"/>`)[curvePoints/2]
		assert.InDelta(t, 0, between(geom.Point{X: 3, Y: passes}, middle), 1e-9, flags)
	}
	// One transform after another is the one applied to what the other gives.
	r := rand.New(rand.NewPCG(2, 86))
	for range 20 {
		random := func() affine {
			return affine{r.NormFloat64(), r.NormFloat64(), r.NormFloat64(), r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}
		}
		m, n, p := random(), random(), geom.Point{X: r.NormFloat64(), Y: r.NormFloat64()}
		assert.InDelta(t, 0, between(m.apply(n.apply(p)), m.after(n).apply(p)), 1e-12)
	}
	// A smooth curve goes on in the direction of the one before.
	smooth := points(`<path d="M0 0C0 10 10 10 10 0S20-10 20 0"/>`)
	mirrored := points(`<path d="M0 0C0 10 10 10 10 0C10-10 20-10 20 0"/>`)
	assert.Equal(t, mirrored, smooth)
}

func FuzzParseStations(f *testing.F) {
	f.Add(goodTable, "")
	f.Add("x;width\n0;\"1 3/16 in\"\n4;1.2\n", "in")
	f.Add("x_mm,spine\n,,,,\n-0,1e308\n\"", "mm")
	f.Fuzz(func(t *testing.T, text, unit string) {
		m, err := ParseStations("f.csv", []byte(text), unit)
		if err != nil {
			require.Empty(t, m.Readings)
			require.NotEmpty(t, err.Error())
			return
		}
		for _, r := range m.Readings {
			require.False(t, math.IsNaN(r.X+r.Value) || math.IsInf(r.X+r.Value, 0))
		}
		// What was read can be fitted or refused, and never panics.
		if len(m.Readings) < 60 {
			_, _ = Match(m, []Family{family("adze")}, Options{})
		}
	})
}

func FuzzParseTrace(f *testing.F) {
	f.Add(`<svg width="30mm" height="30mm" viewBox="0 0 300 300"><path d="M0 0h290v30q-3 3-9 9A5 5 0 0110 0S1 1 2 2T3 4z"/></svg>`, 0.0)
	f.Add(`<svg viewBox="0 0 9 9"><g transform="rotate(3 4 5) skewX(3)"><polyline points="0,0 1,2 3,4"/></g></svg>`, 290.0)
	f.Fuzz(func(t *testing.T, text string, overall float64) {
		m, err := ParseTrace("f.svg", []byte(text), math.Abs(overall))
		if err != nil {
			require.Empty(t, m.Readings)
			return
		}
		for _, r := range m.Readings {
			require.False(t, math.IsNaN(r.At.X+r.At.Y) || math.IsInf(r.At.X+r.At.Y, 0))
		}
		_, _ = Match(thinned(m, 40), []Family{family("adze")}, Options{})
	})
}
