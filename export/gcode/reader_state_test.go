package gcode

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath/motion"
)

// endsOf returns where the motions of a legal program end.
func endsOf(t *testing.T, program string) []motion.Vec {
	t.Helper()
	p, err := readText(program)
	require.NoError(t, err, program)
	var ends []motion.Vec
	for _, m := range p.Motions {
		ends = append(ends, m.To)
	}
	return ends
}

// lastOf returns where the last motion of a legal program ends.
func lastOf(t *testing.T, program string) motion.Vec {
	t.Helper()
	ends := endsOf(t, program)
	require.NotEmpty(t, ends, program)
	return ends[len(ends)-1]
}

// TestFullCirclesAfterShifts: an arc that ends at the coordinates it starts from is a
// whole turn, whatever rounding a shift of the coordinates has left between the two; by
// its radius it is not determined. Inches and three decimals, so that nothing is exact.
func TestFullCirclesAfterShifts(t *testing.T) {
	random := rand.New(rand.NewPCG(6556, 2000))
	number := func() float64 { return float64(random.IntN(2001)-1000) / 1000 }
	for i := range 2000 {
		x, y, u, v := number(), number(), number(), number()
		shifted := fmt.Sprintf("g20 f1 g0 x%.3f y%.3f\ng92 x%.3f y%.3f\ng%d x%.3f y%.3f", x, y, u, v, 2+i%2, u, v)
		p, err := readText(fmt.Sprintf("%s i%.3f j0.3\nm2\n", shifted, number()))
		require.NoError(t, err, shifted)
		require.InDelta(t, [2]float64{-2 * math.Pi, 2 * math.Pi}[i%2], p.Motions[1].Sweep, 1e-9, shifted)
		for _, radius := range []string{" r5", " r-5"} {
			_, err := readText(shifted + radius + "\nm2\n")
			require.Error(t, err, shifted+radius)
		}
	}
}

// TestHalfTurns: an arc whose radius is half its chord is a half turn, of either sign.
func TestHalfTurns(t *testing.T) {
	for _, radius := range []string{"r5", "r-5"} {
		p, err := readText("g21 f1\ng2 x10 " + radius + "\nm2\n")
		require.NoError(t, err)
		assert.InDelta(t, -math.Pi, p.Motions[0].Sweep, 1e-6, radius)
		assert.InDelta(t, 5, p.Motions[0].Centre.X, 1e-9, radius)
		assert.InDelta(t, 0, p.Motions[0].Centre.Y, 1e-9, radius)
	}
}

// TestArcsOfEveryPlane: a quarter turn from the first axis of a plane to its second is
// counterclockwise, with a helix along the normal; G18 counts from Z to X.
func TestArcsOfEveryPlane(t *testing.T) {
	for program, want := range map[string]struct {
		plane       motion.Plane
		to, halfway motion.Vec
	}{
		"g17 g0 x1\ng3 x0 y1 i-1 z2": {motion.PlaneXY, motion.Vec{Y: 1, Z: 2}, motion.Vec{X: math.Sqrt2 / 2, Y: math.Sqrt2 / 2, Z: 1}},
		"g18 g0 z1\ng3 z0 x1 k-1 y2": {motion.PlaneZX, motion.Vec{X: 1, Y: 2}, motion.Vec{X: math.Sqrt2 / 2, Y: 1, Z: math.Sqrt2 / 2}},
		"g19 g0 y1\ng3 y0 z1 j-1 x2": {motion.PlaneYZ, motion.Vec{X: 2, Z: 1}, motion.Vec{X: 1, Y: math.Sqrt2 / 2, Z: math.Sqrt2 / 2}},
	} {
		p, err := readText("g21 f100\n" + program + "\nm2\n")
		require.NoError(t, err, program)
		arc := p.Motions[1]
		assert.Equal(t, want.plane, arc.Plane, program)
		assert.InDelta(t, math.Pi/2, arc.Sweep, 1e-12, program)
		assert.Less(t, arc.To.Sub(want.to).Norm(), 1e-12, program)
		assert.Less(t, arc.At(0.5).Sub(want.halfway).Norm(), 1e-12, program)
	}
}

// TestStoredOffsets: the parameters that the report gives a meaning and the codes that
// use them see the same numbers.
func TestStoredOffsets(t *testing.T) {
	for _, row := range []struct {
		program string
		want    motion.Vec
		reason  string
	}{
		{"#5221=10\ng0 x1", motion.Vec{X: 1}, "an origin set by its parameter waits until its system is called for"},
		{"#5221=10\ng54 g0 x1", motion.Vec{X: 11}, "and is in force then"},
		{"#5384=3 #5383=2\ng59.3 g0 y1 z1", motion.Vec{Y: 1, Z: 3}, "the last system lies at 5381 to 5383; 5384 is rotary: nothing"},
		{"g10 l2 p1 x10\ng0 x1", motion.Vec{X: 11}, "G10 is in force at once for the system in force"},
		{"g10 l2 p2 x10\ng0 x1", motion.Vec{X: 1}, "and not for another"},
		{"#5221=10\ng10 l2 p1 y5\ng0 x1 y1", motion.Vec{X: 11, Y: 6}, "G10 takes the axes not named as they are stored"},
		{"#5221=10\ng10 l2 p2 y5\ng0 x1 y1", motion.Vec{X: 1, Y: 1}, "G10 for another system puts nothing in force"},
		{"g10 l2 p2 x7\ng0 x#5241", motion.Vec{X: 7}, "G10 can be read back"},
		{"g59.1\ng0 x#5220", motion.Vec{X: 7}, "so can the number of the system"},
		{"g0 x#5220", motion.Vec{X: 1}, "which is 1 at first"},
		{"g0 x5\ng92 x1\ng0 x#5211", motion.Vec{X: 8}, "so can the offset of G92: 4, at 4"},
		{"g92 x1\n#5211=7\ng92.3\ng0 x0", motion.Vec{X: 7}, "G92.3 takes what is stored"},
		{"g92 x-1\ng92.2\ng0 x0", motion.Vec{}, "G92.2 takes it out of force"},
		{"g92 x-1\ng92.2\ng92.3 g0 x0", motion.Vec{X: 1}, "and G92.3 puts it back"},
		{"g92 x-1\ng92.1\ng92.3 g0 x0", motion.Vec{}, "G92.1 forgets it"},
		{"g0 x5 y5\ng92 x0\ng0 x1 y1", motion.Vec{X: 6, Y: 1}, "G92 leaves the axes not named alone"},
		{"g10 l2 p1 x10\ng0 x5\ng92 x0\ng0 x1", motion.Vec{X: 16}, "both shifts add"},
		{"#5161=3 #5163=9\ng28", motion.Vec{X: 3, Z: 9}, "the home of G28"},
		{"#5182=4\ng0 z1\ng30 z2", motion.Vec{Y: 4}, "the home of G30"},
	} {
		assert.Equal(t, row.want, lastOf(t, "g21\n"+row.program+"\nm2\n"), "%s: %s", row.program, row.reason)
	}
	assert.Equal(t, []motion.Vec{{X: 1}, {X: 1, Z: 2}, {Y: 4}}, endsOf(t, "g21 #5182=4\ng0 x1\ng30 z2\nm2\n"), "through the point named")
}

// TestExpressions: values in the order of strength that the report gives, from left to
// right; angles in degrees.
func TestExpressions(t *testing.T) {
	for expression, want := range map[string]float64{
		"[1+2*3**2]": 19, "[2**3**2]": 64, "[8/4/2]": 1, "[7 mod 4 * 2]": 6, "[1-2-3]": -4, "[[0-7]mod 4]": 1,
		"[1 or 0]": 1, "[1 xor 1]": 0, "[2 and 3]": 1, "[0 and 3]": 0, "[1 + 1 and 0]": 0,
		"abs[-2]": 2, "acos[0]": 90, "asin[1]": 90, "atan[1]/[-1]": 135, "cos[60]": 0.5, "exp[0]": 1,
		"fix[2.8]": 2, "fix[-2.8]": -3, "fup[2.8]": 3, "fup[-2.8]": -2, "ln[exp[2]]": 2, "round[2.5]": 3, "round[-2.5]": -3,
		"sin[30]": 0.5, "sqrt[9]": 3, "tan[45]": 1, "#[1+1]": 5, "##2": 7, "[#2*2]": 10, "s i n [ 3 0 ]": 0.5,
	} {
		at := lastOf(t, "g21 #2=5 #5=7\ng0 x"+expression+"\nm2\n")
		assert.InDelta(t, want, at.X, 1e-12, expression)
	}
}

// TestOrderOfExecution: the words of one line act in the order of table 8.
func TestOrderOfExecution(t *testing.T) {
	for _, row := range []struct{ line, calls, reason string }{
		{"x1 m5 m9 s5 f7 g1", "SET_FEED_RATE(7.0000) SET_SPINDLE_SPEED(5.0000) STOP_SPINDLE_TURNING() STRAIGHT_FEED(1.0000, 0.0000, 0.0000)", "feed, speed, spindle, move"},
		{"m0 g0 x1", "STRAIGHT_TRAVERSE(1.0000, 0.0000, 0.0000) PROGRAM_STOP()", "a stop comes last"},
		{"g0 x1 m6 t3", "SELECT_TOOL(3) CHANGE_TOOL(3) STRAIGHT_TRAVERSE(1.0000, 0.0000, 0.0000)", "a change of tools before the move"},
		{"g0 x1 g20 g18 (late)", `COMMENT("late") SELECT_PLANE(CANON_PLANE_XZ) USE_LENGTH_UNITS(CANON_UNITS_INCHES) STRAIGHT_TRAVERSE(1.0000, 0.0000, 0.0000)`, "comment, plane, units, move"},
		{"x1 g4 p2 g0 m7", "MIST_ON() DWELL(2.0000) STRAIGHT_TRAVERSE(1.0000, 0.0000, 0.0000)", "coolant, dwell, move"},
		{"(m s g, look) g0 x1", `MESSAGE(" look") STRAIGHT_TRAVERSE(1.0000, 0.0000, 0.0000)`, "a message is no comment"},
	} {
		calls, err := traced("g21 f100\n" + row.line + "\nm2\n")
		require.NoError(t, err, row.line)
		got := strings.Join(calls[2:], " ")
		assert.True(t, strings.HasPrefix(got, row.calls), "%s: %s\ngot  %s\nwant %s", row.line, row.reason, got, row.calls)
	}
}

// TestFeedModes: under G93 an F word says how often a minute the move could be made.
func TestFeedModes(t *testing.T) {
	p, err := readText("g21 f100 g1 x1\ng93 x3 f5\ny4 f0.5\ng94 x4\nm2\n")
	require.NoError(t, err)
	for i, want := range []float64{100, 10, 2, 100} {
		assert.InDelta(t, want, p.Motions[i].Feed, 1e-12, "motion %d", i)
	}
	assert.Len(t, p.Notes, 1, "that the old feed is in force again deserves a look")
	p, err = readText("g20 f2 g1 x1\ng2 x1 i1 g93 f2\nm2\n")
	require.NoError(t, err)
	assert.InDelta(t, 2*25.4, p.Motions[0].Feed, 1e-12)
	assert.InDelta(t, 2*2*math.Pi*25.4, p.Motions[1].Feed, 1e-9)
}

// TestCyclesInEveryPlane: a hole is drilled along the normal of the plane.
func TestCyclesInEveryPlane(t *testing.T) {
	for program, want := range map[string][]motion.Vec{
		"g17 g81 x1 y2 z-3 r1": {{Z: 1}, {X: 1, Y: 2, Z: 1}, {X: 1, Y: 2, Z: -3}, {X: 1, Y: 2, Z: 1}},
		"g18 g81 x1 z2 y-3 r1": {{Y: 1}, {X: 1, Z: 2, Y: 1}, {X: 1, Z: 2, Y: -3}, {X: 1, Z: 2, Y: 1}},
		"g19 g81 y1 z2 x-3 r1": {{X: 1}, {Y: 1, Z: 2, X: 1}, {Y: 1, Z: 2, X: -3}, {Y: 1, Z: 2, X: 1}},
	} {
		assert.Equal(t, want, endsOf(t, "g21 f100\n"+program+"\nm2\n"), program)
	}
}

// TestCycleWays: heights of the ways of cycles by 3.5.16 and 3.5.20.
func TestCycleWays(t *testing.T) {
	heights := func(program string) []float64 {
		var out []float64
		for _, v := range endsOf(t, "g21 f100 m3 s100 g0 z5\n"+program+"\nm2\n") {
			out = append(out, v.Z)
		}
		return out[1:]
	}
	for program, want := range map[string][]float64{
		"g85 x1 z-3 r1":                                {5, 1, -3, 5},
		"g86 x1 z-3 r1 p1":                             {5, 1, -3, -3, 5},
		"g89 x1 z-3 r1 p1":                             {5, 1, -3, -3, 5},
		"g81 x1 z-3 r1 l2":                             {5, 1, -3, 5, 5, 1, -3, 5},
		"g91 g81 x1 z-3 r-1":                           {5, 4, 1, 5},
		"g81 x1 z-3 r6":                                {6, 6, -3, 6}, // R above: up first, and back to R
		"g81 x1 z-3 r1\nx2\ny1 z-2":                    {5, 1, -3, 5, 5, 1, -3, 5, 5, 1, -2, 5},
		"g99 g81 x1 z-3 r1\ng98 x2":                    {5, 1, -3, 1, 1, -3, 1}, // back to where this cycle began
		"g99 g81 x1 z-3 r1\ng98 g82 x2 z-3 r1 p1":      {5, 1, -3, 1, 1, -3, -3, 1},
		"g83 x1 z-0.5 r1 q1":                           {5, 1, 0, 1, 0.254, -0.5, 5},
		"g81 x1 z-3 r1\ng80\ng0 z4\ng81 x2 z-1 r2 l1 ": {5, 1, -3, 5, 4, 4, 2, -1, 4},
	} {
		assert.Equal(t, want, heights(program), program)
	}
	p, err := readText("g21 f100 m3 s100 g0 z5\ng85 x1 z-3 r1\ng86 x2 z-3 r1 p1\nm2\n")
	require.NoError(t, err)
	assert.Equal(t, motion.Line, p.Motions[4].Kind, "G85 feeds out")
	last := p.Motions[len(p.Motions)-1]
	assert.Equal(t, motion.Rapid, last.Kind, "G86 does not")
	assert.Equal(t, motion.SpindleOff, last.Spindle, "and stands still on its way out")
	_, err = readText("g21 f100 g81 x1 z-1 r1\ng82 x2 z-1 p1\nm2\n")
	assert.Error(t, err, "another cycle needs its own R")
}

// TestStops: what the operator sees at a stop.
func TestStops(t *testing.T) {
	for line, want := range map[string]string{"(msg, turn the bar) m0": "turn the bar", "(MSG,turn) m1": "turn", "(turn, then go) m60": "turn, then go", "m0": ""} {
		p, err := readText(line + "\nm2\n")
		require.NoError(t, err)
		assert.Equal(t, motion.Stop, p.Motions[0].Kind)
		assert.Equal(t, want, p.Motions[0].Text, line)
	}
}

// TestNotes: what is legal and worth a person's eye, with its line; and that a plain
// program has none.
func TestNotes(t *testing.T) {
	for program, line := range map[string]int{
		"g0 x1\nm2\n":                   1, // no units
		"g21\n/g0 x1\nm2\n":             2, // may be skipped
		"g21\ng43 h2\nm2\n":             2, // an unknown tool length
		"g21\ng55\nm2\n":                2, // an unknown origin
		"g21\ng53 g0 x1\nm2\n":          2, // an unknown machine zero
		"g21\ng28\nm2\n":                2,
		"g21 g0 x1\ng20\nm2\n":          2, // units change on the way
		"g21 g10 l2 p3 x1\ng20\nm2\n":   2, // or under stored offsets
		"g21 f1\ng1 a1\nm2\n":           2, // a rotary axis
		"g21 f1\ng93\ng94\ng1 x1\nm2\n": 3, // the feed from before
	} {
		p, err := readText(program)
		require.NoError(t, err, program)
		if assert.Len(t, p.Notes, 1, program) {
			assert.Equal(t, line, p.Notes[0].TextLine, program)
		}
	}
	p, err := readText("%\n(plain)\ng21 g17 g90 g94 g54\nf100 s900 m3\ng43 h0\ng0 x1\ng1 z-1\ng2 x0 i-0.5\nm5\nm30\n%\n")
	require.NoError(t, err)
	assert.Empty(t, p.Notes)
	assert.Equal(t, []Comment{{2, "plain"}}, p.Comments)
	p, err = readText("m0\ng20 g0 x1\nm2\n")
	require.NoError(t, err)
	assert.True(t, p.Inch, "units are those of the first move; a stop is none")
}

// TestBounds: no text makes the reader keep or make more than a bounded lot.
func TestBounds(t *testing.T) {
	var unsupported *UnsupportedError
	cycles := "g21 f1 g91 g81 x1 z-1 r0 l2500\n" + strings.Repeat("x1l2500\n", 300) + "m2\n"
	made := 0
	_, err := Scan(strings.NewReader(cycles), func(motion.Motion) error { made++; return nil })
	require.ErrorAs(t, err, &unsupported, "a little text, many motions")
	assert.LessOrEqual(t, made, mostFromCycles+mostPlain*300)

	notes := "g21 f1 g0 x0 (c)\n" + strings.Repeat("/a1 (c)\n", 5000) + "m2\n"
	p, err := Scan(strings.NewReader(notes), func(motion.Motion) error { return nil })
	require.NoError(t, err)
	assert.Len(t, p.Notes, mostNotes)
	assert.Empty(t, p.Comments, "they are kept only where the motions are")

	var rule *RuleError
	nines := "g21 f1 g1 x" + strings.Repeat("9", 200)
	_, err = readText(nines + "\nm2\n")
	require.ErrorAs(t, err, &rule, "a move whose length is beyond all numbers")
	_, err = readText("g21 g0 x" + strings.Repeat("[", 240) + "\nm2\n")
	require.ErrorAs(t, err, &rule)
	_, err = readText("g21 g0 x" + strings.Repeat("#", 240) + "1\nm2\n")
	require.ErrorAs(t, err, &rule)
}

// TestScanAllocatesNothing: the work on a line leaves nothing behind.
func TestScanAllocatesNothing(t *testing.T) {
	lines := func(n int) float64 {
		text := "g21 f100\n" + strings.Repeat("N10 G1 X1.5 Y-2.25\nG2 X1.5 I1.25 F90\n(a comment)\nG17 G21 G4 P1 M3 S9.5 T1 M0\n", n) + "m2\n"
		return testing.AllocsPerRun(1, func() {
			_, err := Scan(strings.NewReader(text), func(motion.Motion) error { return nil })
			require.NoError(t, err)
		})
	}
	assert.Equal(t, lines(100), lines(1100), "as many for 400 lines as for 4400")
}
