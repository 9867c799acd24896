package gcode

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// checkedJob plans a face of a pattern.
func checkedJob(t testing.TB, name string, face profile.Face, flip toolpath.Flip) toolpath.CheckedJob {
	t.Helper()
	data, found := templates.Pattern(name)
	require.True(t, found)
	k, err := profile.Parse(name, data)
	require.NoError(t, err)
	b, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	shop, err := toolpath.ParseShop("shop.toml", templates.Shop())
	require.NoError(t, err)
	job, _, err := toolpath.PlanFullers(b, shop, toolpath.SetupFor(b.Bar, face, flip), "")
	require.NoError(t, err)
	checked, err := job.Checked()
	require.NoError(t, err)
	return checked
}

// TestEveryDialectIsTheSameMotion: each preset of one job, in millimetres and in inches,
// reads back to the path that was planned, within the rounding of its decimals and, for
// lines alone, the chords.
func TestEveryDialectIsTheSameMotion(t *testing.T) {
	for _, name := range []string{"tarn", "heron"} {
		checked := checkedJob(t, name, profile.Left, toolpath.AboutY)
		for _, d := range dialect.Presets() {
			for _, inch := range []bool{false, true} {
				text, err := Write(checked, d, inch, []string{"A heading"})
				require.NoError(t, err)
				read, err := Read(bytes.NewReader(text))
				require.NoError(t, err, "%s, inch %v", d.Name, inch)
				assert.Equal(t, inch, read.Inch)
				rounding := 1e-4
				if inch {
					rounding = 25.4e-5
				}
				comparePaths(t, checked.Job().Moves, read.Motions, rounding+writerChordError, d.Name)
			}
		}
	}
}

// comparePaths looks whether every end of a planned move lies on the way that was read,
// in order, and the ways are as long.
func comparePaths(t *testing.T, moves []toolpath.Move, read []motion.Motion, tolerance float64, name string) {
	t.Helper()
	length, readLength := 0.0, 0.0
	at := moves[0].To
	for _, m := range moves[1:] {
		length += motion.Motion{Kind: m.Kind, From: at, To: m.To, Plane: motion.PlaneZX, Centre: m.Centre, Sweep: m.Sweep}.Length()
		at = m.To
	}
	for _, m := range read[2:] { // the first two go to where the plan begins
		readLength += m.Length()
	}
	assert.InDelta(t, length, readLength, 1e-3*length, name)
	i := 0
	for _, m := range moves {
		for i < len(read) && read[i].To.Sub(m.To).Norm() > 2*tolerance {
			i++
		}
		if !assert.Less(t, i, len(read), "%s: the way never comes to %+v", name, m.To) {
			return
		}
	}
}

// TestSpelling: every line of every dialect keeps to the portable subset.
func TestSpelling(t *testing.T) {
	word := `(G[0-9]+|[XYZIK]-?[0-9]+\.[0-9]+|F[0-9]+(\.[0-9]+)?|S[0-9]+|M[0-9]+|N[0-9]+)`
	legal := regexp.MustCompile(`^(%|\([A-Z0-9 .,+=/-]*\)|` + word + `( ` + word + `)*)$`)
	negativeZero := regexp.MustCompile(`-0\.0+( |$)`)
	for _, d := range dialect.Presets() {
		text, err := Write(checkedJob(t, "heron", profile.Right, toolpath.AboutY), d, false, []string{"Ünusual; [characters] $ and a line that is much longer than any comment may be in this dialect"})
		require.NoError(t, err)
		lines := strings.Split(strings.TrimSuffix(string(text), d.LineEnd.Bytes()), d.LineEnd.Bytes())
		for _, line := range lines {
			assert.LessOrEqual(t, len(line), d.LineMost)
			assert.Regexp(t, legal, line, d.Name)
			assert.False(t, negativeZero.MatchString(line), line)
			if !strings.HasPrefix(line, "(") {
				assert.LessOrEqual(t, strings.Count(line, "M"), 1, line)
			}
		}
		if d.Comments == dialect.NoComments {
			assert.NotContains(t, string(text), "(")
		}
		if !d.ArcsZX {
			assert.NotContains(t, string(text), "G18")
		}
	}
}

func TestOnlyCheckedJobsAreWritten(t *testing.T) {
	_, err := Write(toolpath.CheckedJob{}, dialect.FullStandard(), false, nil)
	assert.Error(t, err)
}

func TestSameJobSameBytes(t *testing.T) {
	one, err := Write(checkedJob(t, "tarn", profile.Right, toolpath.AboutY), dialect.FullStandard(), false, nil)
	require.NoError(t, err)
	two, err := Write(checkedJob(t, "tarn", profile.Right, toolpath.AboutY), dialect.FullStandard(), false, nil)
	require.NoError(t, err)
	assert.Equal(t, one, two)
}

func readText(text string) (Program, error) { return Read(strings.NewReader(text)) }

// TestVectorsOfTheReport: facts printed in NISTIR 6556 (table 10, 3.5.3.2 and C.1).
func TestVectorsOfTheReport(t *testing.T) {
	for name, row := range map[string]struct {
		program string
		centre  motion.Vec
		rounded float64
	}{
		"table 10": {"g21 f100 g0 x3 y1 z0\ng2 x0 r7.01 z0.5\nm2\n", motion.Vec{X: 1.5, Y: 7.8476}, 5e-5},
		"3.5.3.2":  {"g21 f100 g0 x7 y7\ng17 g2 x10 y16 i3 j4 z9\nm2\n", motion.Vec{X: 10, Y: 11}, 1e-9},
		"C.1":      {"g21 f100 g0 x64 y4\ng2 x69 r4\nm2\n", motion.Vec{X: 66.5, Y: 0.8775}, 5e-5},
	} {
		p, err := readText(row.program)
		require.NoError(t, err, name)
		arc := p.Motions[1]
		assert.InDelta(t, row.centre.X, arc.Centre.X, row.rounded, name)
		assert.InDelta(t, row.centre.Y, arc.Centre.Y, row.rounded, name)
		assert.Negative(t, arc.Sweep, name)
	}
}

// TestArcsDipAndRise: from X0 Z0, G18 G2 to X10 with I5 goes through (5, -5), into the
// work; G3 through (5, 5).
func TestArcsDipAndRise(t *testing.T) {
	for word, z := range map[string]float64{"g2": -5, "g3": 5} {
		p, err := readText("g21 g18 f100\n" + word + " x10 z0 i5 k0\nm2\n")
		require.NoError(t, err)
		middle := p.Motions[0].At(0.5)
		assert.InDelta(t, 5, middle.X, 1e-9)
		assert.InDelta(t, z, middle.Z, 1e-9)
	}
}

// TestArcTolerance: 0.002 mm or 0.0002 in, in the units in force; not tried at exactly
// that, where rounding decides.
func TestArcTolerance(t *testing.T) {
	for program, legal := range map[string]bool{
		"g21 f10\ng2 x10.0019 i5\nm2\n": true, "g21 f10\ng2 x10.0021 i5\nm2\n": false,
		"g20 f10\ng2 x1.00019 i0.5\nm2\n": true, "g20 f10\ng2 x1.00021 i0.5\nm2\n": false,
	} {
		_, err := readText(program)
		assert.Equal(t, legal, err == nil, program)
	}
}

// TestRules: a program that breaks one rule, with the line that breaks it and the
// section named.
func TestRules(t *testing.T) {
	for program, want := range map[string]string{
		"g21 f100\ng1\nm2\n":               "line 2",
		"g21 f100\nx1\nm2\n":               "line 2",
		"g21 f100\ng80 x1\nm2\n":           "3.5.15",
		"g21 f100\ng2 x1 i1 r1\nm2\n":      "not both",
		"g21 f100\ng2 x0 y0 r3\nm2\n":      "must not end where it starts",
		"g21 f100\ng2 i0 x0\nm2\n":         "radius of an arc must not be 0",
		"g21 f100\ng10 l2 p10 x1\nm2\n":    "from 1 to 9",
		"g21 f100\ns-1\nm2\n":              "must not be negative",
		"g21 f100\nm3 m7 m48 m0 m6\nm2\n":  "at most four",
		"g21 f100\ng1 x[1/0]\nm2\n":        "divided by 0",
		"g21 f100\ng1 xsqrt[-1]\nm2\n":     "must not be negative",
		"g21 f100\ng1 x#6000\nm2\n":        "1 to 5399",
		"g21 f100\n%\n":                    "belongs to an opening one",
		"% comment\nm2\n":                  "must hold nothing else",
		"%\ng21\n":                         "does not end",
		"":                                 "does not end",
		"g21 f100\ng81 x1 z1 r0\nm2\n":     "must not lie above R",
		"g21 f100 g81 x1 z-1 r1 l-1\nm2\n": "must not be negative",
		"g21 f100\n(a(b)\nm2\n":            "inside each other",
		"g21 f100\ng1.15 x1\nm2\n":         "at most one decimal",
		"g21 f100\ng1 x1 y\nm2\n":          "a number is missing",
	} {
		_, err := readText(program)
		var rule *RuleError
		if assert.ErrorAs(t, err, &rule, "%q", program) {
			assert.Contains(t, err.Error(), want, "%q", program)
		}
	}
}

// TestUnsupported: legal, but refused, and said so by an error of another kind.
func TestUnsupported(t *testing.T) {
	for _, program := range []string{"g41 d1\nm2\n", "g42\nm2\n", "g21 f1 g38.2 x1\nm2\n", "g21 f1 g84 x1 z-1 r1\nm2\n", "g21 f1 g81 x1 z-1 r1 l99999\nm2\n", "g21 f1 g83 x1 z-99 r1 q0.0001\nm2\n",
		"g21 f1 g83 x1 z0 r6666666666666666666666 q1\nm2\n", "g21 f1 g83 x1 z-6666666666666666666666 r0 q1\nm2\n"} {
		_, err := readText(program)
		var unsupported *UnsupportedError
		assert.ErrorAs(t, err, &unsupported, program)
	}
}

// TestModes: what words of one line do to its own motion and to later ones.
func TestModes(t *testing.T) {
	ends := func(program string) []motion.Vec {
		p, err := readText(program)
		require.NoError(t, err, program)
		var out []motion.Vec
		for _, m := range p.Motions {
			out = append(out, m.To)
		}
		return out
	}
	assert.Equal(t, []motion.Vec{{X: 1}, {X: 3, Y: 1}}, ends("g21 g91 g0 x1\nx2 y1\nm2\n"), "increments")
	assert.Equal(t, []motion.Vec{{X: 25.4}, {X: 25.4, Y: 50.8}}, ends("g20 g0 x1\ny2\nm2\n"), "inches")
	assert.Equal(t, []motion.Vec{{X: 5}, {X: 6}}, ends("g21 g0 x5\ng92 x0\ng0 x1\nm2\n"), "G92")
	assert.Equal(t, []motion.Vec{{X: 5}, {X: 1}}, ends("g21 g0 x5\ng92 x0\ng92.1\ng0 x1\nm2\n"), "G92.1")
	assert.Equal(t, []motion.Vec{{X: 12}}, ends("g21 g10 l2 p1 x10\ng0 x2\nm2\n"), "G10")
	assert.Equal(t, []motion.Vec{{X: 12}, {X: 2}}, ends("g21 g10 l2 p1 x10\ng0 x2\ng53 x2\nm2\n"), "G53")
	assert.Equal(t, []motion.Vec{{X: 7}}, ends("g21 g0 x[1+2*3]\nm2\n"), "operators bind as the report says")
	assert.Equal(t, []motion.Vec{{X: 8}}, ends("#2=[2**3]\ng21 g0 x#2\nm2\n"))
	assert.Equal(t, []motion.Vec{{X: 0}, {X: 4}}, ends("g21 #1=4 g0 x#1\ng0 x#1\nm2\n"), "settings take effect after their line is read")
	p, err := readText("g21 g93 g1 x30 f2\nm2\n")
	require.NoError(t, err)
	assert.InDelta(t, 60, p.Motions[0].Feed, 1e-12, "inverse time: 30 mm twice a minute")
	p, err = readText("g21 f100 m3 s900 g1 x1\nm5 x2\nm2\n")
	require.NoError(t, err)
	assert.Equal(t, motion.SpindleClockwise, p.Motions[0].Spindle)
	assert.Equal(t, motion.SpindleOff, p.Motions[1].Spindle, "the spindle stops before the move of its line")
	assert.Equal(t, 900.0, p.Motions[0].Speed)
	assert.Equal(t, 2, p.Motions[1].TextLine)
}

// TestDrilling: the way of a cycle, as the report describes it.
func TestDrilling(t *testing.T) {
	heights := func(program string) []float64 {
		p, err := readText(program)
		require.NoError(t, err, program)
		var out []float64
		for _, m := range p.Motions {
			out = append(out, m.To.Z)
		}
		return out
	}
	assert.Equal(t, []float64{5, 5, 1, -3, 5}, heights("g21 f100 g0 z5\ng81 x1 z-3 r1\nm2\n"))
	assert.Equal(t, []float64{5, 5, 1, -3, 1}, heights("g21 f100 g0 z5\ng99 g81 x1 z-3 r1\nm2\n"), "back to R")
	assert.Equal(t, []float64{5, 5, 1, -1, 1, -1 + 0.254, -3, 5}, heights("g21 f100 g0 z5\ng83 x1 z-3 r1 q2\nm2\n"), "pecks")
	assert.Equal(t, []float64{5, 5, 1, -3, -3, 5}, heights("g21 f100 g0 z5\ng82 x1 z-3 r1 p0.5\nm2\n"), "a dwell at the bottom")
}

// TestLongPrograms: memory does not grow with the program, and lines are told right.
func TestLongPrograms(t *testing.T) {
	var text strings.Builder
	text.WriteString("G21 G90 F100\n")
	for i := range 50000 {
		fmt.Fprintf(&text, "G1 X%d.5 Y-%d.25\n", i%100, i%7)
	}
	text.WriteString("M2\n")
	last, count := 0, 0
	p, err := Scan(strings.NewReader(text.String()), func(m motion.Motion) error { last, count = m.TextLine, count+1; return nil })
	require.NoError(t, err)
	assert.Equal(t, 50001, last)
	assert.Equal(t, 50000, count)
	assert.Empty(t, p.Motions)
	assert.Equal(t, 50002, p.Lines)
	allocations := testing.AllocsPerRun(1, func() {
		_, err := Scan(strings.NewReader(text.String()), func(motion.Motion) error { return nil })
		require.NoError(t, err)
	})
	assert.Less(t, allocations, 50000*6.0, "a few small allocations a line, none kept")
}

func FuzzReadProgram(f *testing.F) {
	for _, s := range []string{"g21 g90 f100\ng1 x1\nm2\n", "%\ng0 x1\n%\n", "#1=[2+3] g1 x#1 f1\nm2\n", "g18 g2 x10 z0 i5 k0\nm2\n", "g83 x1 z-3 r1 q.1\nm2\n", "g1 x-0. y+.5\rm30\r"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := readText(text)
		if err != nil {
			if len(p.Motions) > 0 {
				t.Fatal("an error and motions")
			}
			return
		}
		at := motion.Vec{}
		for _, m := range p.Motions {
			if m.From != at {
				t.Fatalf("a motion begins at %+v, the one before ended at %+v", m.From, at)
			}
			if math.IsNaN(m.Length()) || m.Feed < 0 {
				t.Fatalf("%+v", m)
			}
			at = m.To
		}
	})
}

func BenchmarkScan200k(b *testing.B) {
	var text bytes.Buffer
	text.WriteString("G21 G90 F100\n")
	for i := range 200000 {
		fmt.Fprintf(&text, "G1 X%d.5000 Y-%d.2500 Z-1.0000\n", i%100, i%7)
	}
	text.WriteString("M2\n")
	for b.Loop() {
		_, err := Scan(bytes.NewReader(text.Bytes()), func(motion.Motion) error { return nil })
		require.NoError(b, err)
	}
	b.ReportMetric(200000*float64(b.N)/b.Elapsed().Seconds(), "lines/s")
}

func BenchmarkWrite(b *testing.B) {
	checked := checkedJob(b, "heron", profile.Right, toolpath.AboutY)
	for b.Loop() {
		_, err := Write(checked, dialect.FullStandard(), false, nil)
		require.NoError(b, err)
	}
}
