package toolpath

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/templates"
	"fullerwright/toolpath/dialect"
)

// shopWith returns the text of the built-in shop with lines after it, and with the dialect
// of its machine changed.
func shopWith(machineDialect, more string) []byte {
	text := strings.Replace(string(templates.Shop()), `dialect       = "short-lines"`, `dialect = "`+machineDialect+`"`, 1)
	return []byte(text + "\n" + more)
}

// TestOwnDialect: what a file gives is taken, what it leaves out is as in the preset.
func TestOwnDialect(t *testing.T) {
	shop, err := ParseShop("shop.toml", shopWith("old mill", `
[[dialect]]
name = "old mill"
like = "numbered"
arcs_xy = false
arc_form = "radius"
decimals_mm = 3
line_most = 64
spindle_wait = 2.5
comments = "semicolon"
`))
	require.NoError(t, err)
	got, known := shop.Dialect("old mill")
	require.True(t, known)
	want, _ := dialect.Named("numbered", nil)
	want.Name, want.Meaning = "old mill", "of your own, like numbered"
	want.ArcsXY, want.Helices, want.ArcForm, want.SweepMost = false, false, dialect.ByRadius, 120*geom.Degree
	want.DecimalsMM, want.LineMost, want.CommentMost, want.SpindleWait, want.Comments = 3, 64, 50, 2.5, dialect.Semicolon
	assert.InDelta(t, want.SweepMost.Radians(), got.SweepMost.Radians(), 1e-12)
	got.SweepMost = want.SweepMost
	assert.Equal(t, want, got)
	_, err = ParseShop("shop.toml", shopWith("numbered", ""))
	assert.NoError(t, err)
}

// TestDialectFaults: every rule between the keys of a dialect, and between it and the shop,
// is a fault with its key and line, and all stand together.
func TestDialectFaults(t *testing.T) {
	for _, row := range []struct{ dialect, keys, field, way string }{
		{"x", "helices = true\narcs_xy = false", "dialect[1].helices", "make arcs_xy true"},
		{"x", "arc_form = \"radius\"\nsweep_most = 150", "dialect[1].sweep_most", "120 would do"},
		{"x", "line_most = 60\ncomment_most = 61", "dialect[1].comment_most", "60 would do"},
		{"x", "tool = \"stop\"\ncomments = \"none\"", "dialect[1].tool", "choose comments"},
		{"x", "line_most = 50", "dialect[1].line_most", "57 would do"}, // G3 and five words of 11 characters: a blank and X-400.0000
		{"x", "line_most = 50\nblock_number_step = 10", "dialect[1].line_most", "63 would do"},
		{"x", "block_number_step = 20\nblock_number_most = 100", "dialect[1].block_number_most", "180 would do"},
		{"x", "spindle_wait = 1\ndwell = \"none\"", "dialect[1].spindle_wait", "say what the P word"},
		{"x", "file_blocks_most = 99", "dialect[1].file_blocks_most", "100 would do"},
		{"x", "file_bytes_most = 4999", "dialect[1].file_bytes_most", "5000 would do"},
		{"x", "units = \"in\"", "dialect[1].units", "mm or in"},
		{"x", "tool = \"change\"", "cutter[1].slot", "from 1 to 128"},
		{"y", "", "machine.dialect", "the dialects are short-lines, full-standard, numbered, lines-only, x"},
		{"x", "decimals_mm = 2", "dialect[1].decimals_mm", "decimals of a coordinate"},
		{"x", "like = \"long-lines\"", "dialect[1].like", "the preset"},
		{"x", "arcs = true", "dialect[1].arcs", "arcs_xy"},
	} {
		text := string(shopWith(row.dialect, "[[dialect]]\nname = \"x\"\n"+row.keys+"\n"))
		_, err := ParseShop("shop.toml", []byte(text))
		var faults document.FieldErrors
		require.ErrorAs(t, err, &faults, row.keys)
		var named []string
		for _, f := range faults {
			named = append(named, f.Field)
			if f.Field != row.field {
				continue
			}
			assert.Contains(t, f.Hint, row.way, row.keys)
			assert.NotEmpty(t, f.Rule)
			assert.Equal(t, "shop.toml", f.File)
			assert.Positive(t, f.Line, row.keys)
		}
		assert.Contains(t, named, row.field, row.keys)
	}
	_, err := ParseShop("shop.toml", shopWith("x", `
[[dialect]]
name = "x"
spindle_wait = 1
dwell = "none"
file_blocks_most = 5
flood = false
[[dialect]]
name = "x"
[[dialect]]
name = "numbered"
[[dialect]]
name = ""
`))
	var faults document.FieldErrors
	require.ErrorAs(t, err, &faults)
	var named []string
	for _, f := range faults {
		named = append(named, f.Field)
	}
	assert.Equal(t, []string{"dialect[1].spindle_wait", "dialect[1].file_blocks_most", "dialect[2].name", "dialect[3].name", "dialect[4].name"}, named)
}

// TestDialectOfTheMachine: the coolant and the tool changer must go with the dialect that
// the machine takes, and only with that.
func TestDialectOfTheMachine(t *testing.T) {
	own := "[[dialect]]\nname = \"x\"\nflood = false\ntool = \"change\"\nunits = \"in\"\n"
	_, err := ParseShop("shop.toml", shopWith("short-lines", own))
	assert.NoError(t, err)
	text := strings.Replace(string(shopWith("x", own)), `coolant       = "none"`, `coolant = "flood"`, 1)
	text = strings.ReplaceAll(text, "[[cutter]]\n", "[[cutter]]\nslot = 3\n")
	_, err = ParseShop("shop.toml", []byte(text))
	var faults document.FieldErrors
	require.ErrorAs(t, err, &faults)
	require.Len(t, faults, 2)
	assert.Equal(t, [2]string{"dialect[1].units", "machine.coolant"}, [2]string{faults[0].Field, faults[1].Field})
}

// TestRampsForFewDecimals: a chord of a tenth of a millimetre that is planned at the ramp's
// slope stays within the proof's limit after its ends are rounded the worst way, for every
// number of decimals of which the last is coarse, unless the ramp is the flattest there is.
func TestRampsForFewDecimals(t *testing.T) {
	shop := builtInShop(t)
	limit := math.Tan(shop.Limits.Ramp.Radians())
	assert.InDelta(t, 0.99*limit, shop.ramp(), 1e-12)
	for _, row := range []struct {
		inch         bool
		millimetres  int
		inchDecimals int
	}{{false, 3, 5}, {true, 4, 4}} {
		d := dialect.FullStandard()
		d.Name, d.DecimalsMM, d.DecimalsInch = "x", row.millimetres, row.inchDecimals
		shop.Dialects, shop.Machine.Dialect, shop.Inch = []dialect.Dialect{d}, "x", row.inch
		step := d.Step(row.inch)
		const chord = 0.1
		worst := (shop.ramp()*chord + step) / (chord - step)
		assert.LessOrEqual(t, worst, rampRounding*limit)
		assert.Greater(t, shop.ramp(), 0.3*limit)
	}
}
