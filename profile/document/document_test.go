package document

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func schema() Schema {
	return Schema{Groups: []Group{
		{Keys: []Key{{Name: "units", Kind: Choice, Default: "mm", Choices: []string{"mm", "in"}}, {Name: "name", Kind: Text, Default: "x"}}},
		{Name: "blade", Required: true, Keys: []Key{
			{Name: "length", Meaning: "from guard to point", Kind: Length, Required: true, Min: 30, Max: 900},
			{Name: "angle", Kind: Angle, Default: "20", Min: 1, Max: 89},
			{Name: "teeth", Kind: Count, Default: "2", Min: 1, Max: 12},
			{Name: "growth", Kind: Number, Default: "0", Min: -1, Max: 1},
			{Name: "coated", Kind: Flag, Default: "false"},
		}},
		{Name: "fuller", Repeated: true, Keys: []Key{
			{Name: "radius", Kind: Length, Required: true, Min: 0, Max: 60, AboveMin: true},
			{Name: "kind", Kind: Choice, Default: "swept", Choices: []string{"swept", "ball"}},
		}},
	}}
}

// TestParseLength: the values in inches are exact by the definition of the inch,
// 25.4 mm (international yard and pound agreement, 1959).
func TestParseLength(t *testing.T) {
	for text, want := range map[string]string{"1,5": `type 1.5`, "1e308": "kilometre", "-2000000": "kilometre", "50000 in": "kilometre"} {
		_, err := ParseLength(text, Millimetre)
		assert.ErrorContains(t, err, want, text)
	}
	for text, want := range map[string]float64{
		`1/8 in`: 3.175, `5/32"`: 3.96875, `3/16 in`: 4.7625, `7/32 inch`: 5.55625, `1/4in`: 6.35, `5/16 inches`: 7.9375,
		`7 1/4 in`: 184.15, `7-1/4 in`: 184.15, `0.165 in`: 4.191, `4.2 mm`: 4.2, `12 thou`: 0.3048, `1.2 cm`: 12,
		`0,5 mm`: 0.5, `-2 mm`: -2, `.5 in`: 12.7, `- 1 1/2 in`: -38.1, `  3MM `: 3,
	} {
		got, err := ParseLength(text, Millimetre)
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-12, "ParseLength(%q)", text)
	}
	got, err := ParseLength("2.5", Inch)
	require.NoError(t, err)
	assert.Equal(t, 63.5, got, "a plain number is in the file's units")
}

func TestParseLengthRefuses(t *testing.T) {
	for text, why := range map[string]string{
		``: "missing", `abc`: "not a length", `5/0 in`: "under its line", `3 mil`: "mil", `10 ga`: "gauge", `NaN`: "", `inf`: "", `1e`: "",
		`0x10`: "", `5/32`: "unit", `1..2 mm`: "", `1 2 mm`: "", `--1 mm`: "", `1_000 mm`: "",
	} {
		_, err := ParseLength(text, Millimetre)
		if assert.Error(t, err, "ParseLength(%q)", text) {
			assert.Contains(t, err.Error(), why)
		}
	}
}

// TestLengthRoundTrip: what is written reads back to half a ten-thousandth of a
// millimetre, the last decimal written.
func TestLengthRoundTrip(t *testing.T) {
	random := rand.New(rand.NewPCG(71, 72))
	for i := range 20000 {
		mm := (random.Float64()*2 - 1) * 1000
		if i%3 == 0 {
			mm = math.Round(mm*16) / 16 // where the last decimal lies half way
		}
		for _, unit := range []Unit{Millimetre, Inch} {
			text := FormatLength(mm, unit)
			got, err := ParseLength(text, unit)
			require.NoError(t, err)
			require.InDelta(t, mm, got, 0.5e-4+1e-9, "FormatLength(%g, %v) = %q", mm, unit, text)
		}
	}
}

func TestNearestFraction(t *testing.T) {
	for _, row := range []struct {
		mm    float64
		text  string
		added float64
	}{{184.15, "7 1/4 in", 0}, {3.96875, "5/32 in", 0}, {25.4, "1 in", 0}, {-6.35, "-1/4 in", 0}, {4, "5/32 in", -0.03125}, {0, "0 in", 0}} {
		text, added := NearestFraction(row.mm, 64)
		assert.Equal(t, row.text, text)
		assert.InDelta(t, row.added, added, 1e-12)
	}
}

const good = `
name = "Wren" # a comment
[blade]
length = "7 1/4 in"
angle = 12.5
coated = true
[[fuller]]
radius = 6
[[fuller]]
radius = "4 mm"
kind = "ball"
`

func TestRead(t *testing.T) {
	d, err := Read("knife.toml", []byte(good), schema())
	require.NoError(t, err)
	assert.InDelta(t, 184.15, d.Value("blade", 0, "length").Float, 1e-12)
	assert.InDelta(t, 12.5*math.Pi/180, d.Value("blade", 0, "angle").Float, 1e-15)
	assert.Equal(t, 2, d.Value("blade", 0, "teeth").Count)
	assert.False(t, d.Value("blade", 0, "teeth").Given)
	assert.True(t, d.Value("blade", 0, "coated").Flag)
	assert.Equal(t, 2, d.Len("fuller"))
	assert.Equal(t, "ball", d.Value("fuller", 1, "kind").Text)
	assert.Equal(t, "swept", d.Value("fuller", 0, "kind").Text)
	assert.Equal(t, 4, d.Value("blade", 0, "length").Line)
	fault := d.Fault("fuller", 1, "radius", "is wrong", "mend it")
	assert.Equal(t, `knife.toml:10: fuller[2].radius: "4 mm": is wrong; mend it`, fault.Error())
}

func TestInchFile(t *testing.T) {
	d, err := Read("k.toml", []byte("units = \"in\"\n[blade]\nlength = 7.25\n[[fuller]]\nradius = \"6 mm\"\n"), schema())
	require.NoError(t, err)
	assert.Equal(t, Inch, d.Units())
	assert.InDelta(t, 184.15, d.Value("blade", 0, "length").Float, 1e-12)
	assert.InDelta(t, 6, d.Value("fuller", 0, "radius").Float, 1e-12)
	assert.InDelta(t, 20*math.Pi/180, d.Value("blade", 0, "angle").Float, 1e-12, "defaults stand as in a file in millimetres")
}

// TestEveryFaultAtOnce: twelve faults, none following from another, each found with
// its line.
func TestEveryFaultAtOnce(t *testing.T) {
	text := `name = 7
units = "furlong"
[blade]
lenght = 170
angle = 95
teeth = 2.5
growth = nan
coated = "yes"
radius = 3
[fuler]
x = 1
[[fuller]]
radius = 0
kind = "stepped"
kind = "ball"
`
	_, err := Read("k.toml", []byte(text), schema())
	var faults FieldErrors
	require.ErrorAs(t, err, &faults)
	found := map[string][]int{}
	for _, f := range faults {
		found[f.Field] = append(found[f.Field], f.Line)
	}
	want := map[string]int{"name": 1, "units": 2, "blade.lenght": 4, "blade.angle": 5, "blade.teeth": 6, "blade.growth": 7, "blade.coated": 8,
		"blade.radius": 9, "fuler": 10, "fuller[1].radius": 13, "fuller[1].kind": 15, "blade.length": 3}
	for field, line := range want {
		assert.Contains(t, found[field], line, "no fault for %s in:\n%v", field, err)
	}
	hints := err.Error()
	assert.Contains(t, hints, "did you mean blade.length?")
	assert.Contains(t, hints, "did you mean fuller?")
	assert.Contains(t, hints, "it belongs under [fuller]")
}

func TestFilesThatAreNone(t *testing.T) {
	for name, row := range map[string]struct{ text, want string }{
		"empty":          {"", "empty"},
		"blank":          {" \n\t\n", "empty"},
		"binary":         {"blade\x00", "not a text file"},
		"not UTF-8":      {"# a\nname = \"\xff\"", "line 2 has a letter of another encoding"},
		"UTF-16":         {"\xff\xfen\x00", "UTF-16"},
		"old line ends":  {"[blade]\rlength = 40\r", "carriage return"},
		"escape":         {"name = \"\\u001b[31m\"\n[blade]\nlength = 40\n", "U+001B"},
		"turned letters": {"name = \"\\u202e\"\n[blade]\nlength = 40\n", "U+202E"},
		"long text":      {"name = \"" + strings.Repeat("n", 121) + "\"\n[blade]\nlength = 40\n", "at most 120"},
		"no TOML":        {"[blade]\nlength == 3\n", "not TOML"},
		"unclosed":       {"[blade\n", "not TOML"},
		"group as value": {"blade = 3\n", "under its heading"},
		"twice":          {"[blade]\nlength=40\n[blade]\nlength=50\n", "stands already"},
		"single as list": {"[[blade]]\nlength = 40\n", "[blade]"},
		"list as single": {"[blade]\nlength = 40\n[fuller]\nradius = 1\n", "[[fuller]]"},
		"infinite":       {"[blade]\nlength = inf\n", "finite"},
		"too long text":  {"[blade]\nlength = \"inf mm\"\n", "not a length"},
		"missing group":  {"name = \"a\"\n", "missing"},
		"too large":      {strings.Repeat("#", mostBytes+1), "over"},
		"array":          {"[blade]\nlength = [1]\n", "must be a length"},
		"table":          {"[blade]\nlength = {a=1}\n", "must be a length"},
		"dotted":         {"blade.length = 4\n", "under its heading"},
	} {
		d, err := Read("k.toml", []byte(row.text), schema())
		if assert.Error(t, err, name) {
			assert.Contains(t, err.Error(), row.want, name)
		}
		assert.Zero(t, d.Len("blade"), name)
	}
}

func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	huge := filepath.Join(dir, "huge.toml")
	file, err := os.Create(huge)
	require.NoError(t, err)
	require.NoError(t, file.Truncate(100<<20)) // takes no room on the disk
	require.NoError(t, file.Close())
	for path, want := range map[string]string{
		filepath.Join(dir, "none.toml"): "no such file", dir: "is a folder", huge: "never over",
	} {
		_, err := ReadFile(path, schema())
		if assert.Error(t, err) {
			assert.Contains(t, err.Error(), want)
		}
	}
	path := filepath.Join(dir, "k.toml")
	require.NoError(t, os.WriteFile(path, []byte("\xef\xbb\xbf"+good), 0o644))
	_, err = ReadFile(path, schema())
	assert.NoError(t, err, "a byte order mark is accepted")
}

// TestBrokenOff: of a file that breaks off nothing is called missing, which may have come after;
// what a fault shows of it is short and steers no terminal.
func TestBrokenOff(t *testing.T) {
	_, err := Read("k.toml", []byte("units = \"cm\"\n[blade\x1b[31m"+strings.Repeat("x", 1000)), schema())
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "missing")
	assert.Contains(t, err.Error(), "k.toml:1: units", "the fault before it")
	assert.Contains(t, err.Error(), "k.toml:2: [blade\uFFFD[31mx")
	assert.Less(t, len(err.Error()), 600)
	assert.NotContains(t, err.Error(), "\x1b")
}

func TestLimitsInInches(t *testing.T) {
	_, err := Read("k.toml", []byte("units = \"in\"\n[blade]\nlength = 1\n"), schema())
	require.Error(t, err)
	assert.Contains(t, err.Error(), "from 1.1811 to 35.4331 in")
	assert.NotContains(t, err.Error(), "mm")
}

func TestZeroDocument(t *testing.T) {
	var d Document
	assert.Zero(t, d.Len("blade"))
	assert.Zero(t, d.Value("blade", 0, "length"))
	assert.Equal(t, "blade.length: wrong; mend", FieldError{Field: "blade.length", Rule: "wrong", Hint: "mend"}.Error())
	assert.NotPanics(t, func() { d.Fault("blade", 3, "length", "wrong", "") })
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"7 1/4 in", "5/32\"", "4.2 mm", "12 thou", "0,5 mm", "", "-", "1/0 in"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := ParseLength(text, Inch)
		if err != nil && v != 0 {
			t.Fatalf("an error and %g", v)
		}
		if err == nil && math.IsNaN(v) {
			t.Fatalf("%q is not a number", text)
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(good))
	f.Add([]byte("[blade]\nlength = 1e400\n[[fuller]]\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := Read("k.toml", data, schema())
		if err != nil {
			if d.Len("blade") != 0 {
				t.Fatal("an error and a document")
			}
			return
		}
		if v := d.Value("blade", 0, "length").Float; !(v >= 30-1e-9 && v <= 900+1e-9) {
			t.Fatalf("a length of %g", v)
		}
	})
}

func TestNearest(t *testing.T) {
	keys := []string{"blade.length", "blade.width", "blade.thickness", "tang.length", "edge.belly_length", "edge.fullness", "fuller.from_spine", "bevel.height"}
	for name, want := range map[string]string{
		"blade.lenght": "blade.length", "blade.thick": "blade.thickness", "edge.belly": "edge.belly_length", "Blade.Width": "blade.width",
		"tangs.length": "tang.length", "fuller.spine": "fuller.from_spine", "bevel.hight": "bevel.height",
		"blade.colour": "", "bevel.xyz": "", "": "",
	} {
		got, ok := Nearest(name, keys)
		assert.Equal(t, want, got, name)
		assert.Equal(t, want != "", ok, name)
	}
}
