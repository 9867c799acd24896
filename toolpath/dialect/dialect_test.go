package dialect

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTableHoldsEveryField: whatever a dialect can say can be said in a shop file, but for
// its name and what the reader takes beyond the standard.
func TestTableHoldsEveryField(t *testing.T) {
	var d Dialect
	said := map[uintptr]string{}
	for _, e := range Table() {
		at := reflect.ValueOf(e.field(&d)).Pointer()
		assert.Empty(t, said[at], "%s says the same as another key", e.Name)
		said[at] = e.Name
		assert.Empty(t, e.Default, "%s: what is left out is as in the preset", e.Name)
	}
	v := reflect.ValueOf(&d).Elem()
	for i := range v.NumField() {
		switch name := v.Type().Field(i).Name; name {
		case "Name", "Meaning", "Extensions":
		case "BlockNumbers":
			for j := range v.Field(i).NumField() {
				assert.NotEmpty(t, said[v.Field(i).Field(j).Addr().Pointer()], name)
			}
		default:
			assert.NotEmpty(t, said[v.Field(i).Addr().Pointer()], name)
		}
	}
}

// TestPresets: each is valid in both units on a machine that travels a metre, has the
// longest line that holds its blocks, and says in the words of the table what that takes.
func TestPresets(t *testing.T) {
	for _, d := range Presets() {
		for _, inch := range []bool{false, true} {
			assert.Empty(t, Check(d, Use{Inch: inch, Reach: 999}), d.Name)
		}
		rule, _ := Nameable(d.Name, nil)
		assert.NotEmpty(t, rule, "the name of a preset is taken")
		for _, e := range Table() {
			if len(e.Choices) > 0 {
				assert.Contains(t, e.Choices, e.Say(d), "%s.%s", d.Name, e.Name)
			}
		}
	}
	assert.Equal(t, Extensions{}, FullStandard().Needs())
}

// TestLongestBlock counts blocks that were written out by hand.
func TestLongestBlock(t *testing.T) {
	for name, row := range map[string]struct {
		change func(d *Dialect)
		use    Use
		block  string
	}{
		"helix by its centre": {func(*Dialect) {}, Use{Reach: 400}, "G3 X-400.0000 Y-400.0000 Z-400.0000 I-400.0000 J-400.0000"},
		"helix by its radius": {func(d *Dialect) { d.ArcForm = ByRadius }, Use{Reach: 400}, "G3 X-400.0000 Y-400.0000 Z-400.0000 R-400.0000"},
		"no helices":          {func(d *Dialect) { d.Helices = false }, Use{Reach: 400}, "G3 X-400.0000 Y-400.0000 I-400.0000 J-400.0000"},
		"axes repeated":       {func(d *Dialect) { d.Helices, d.RepeatAxes, d.ArcForm = false, true, ByRadius }, Use{Reach: 400}, "G3 X-400.0000 Y-400.0000 Z-400.0000 R-400.0000"},
		"lines alone":         {func(d *Dialect) { d.Helices, d.ArcsXY, d.ArcsZX = false, false, false }, Use{Reach: 400}, "G1 X-400.0000 Y-400.0000 Z-400.0000"},
		"drill cycle":         {func(d *Dialect) { d.DrillCycle = true }, Use{Reach: 400}, "G83 X-400.0000 Y-400.0000 Z-400.0000 R-400.0000 Q-400.0000"},
		"inches":              {func(d *Dialect) { d.BlockNumbers.Step = 10 }, Use{Reach: 400, Inch: true}, "N9990 G3 X-15.70000 Y-15.70000 Z-15.70000 I-15.70000 J-15.70000"},
	} {
		d := FullStandard()
		row.change(&d)
		assert.Equal(t, len(row.block), d.LongestBlock(row.use), name)
	}
}

// TestAccepts: a dialect is read with what it declares and what its own programs use.
func TestAccepts(t *testing.T) {
	d, known := Named("numbered", nil)
	require.True(t, known)
	d.Comments, d.Dwell, d.UnitWords = Semicolon, DwellMilliseconds, G70G71
	assert.Equal(t, Extensions{LineComments: true, ProgramNumber: true, PathTolerance: true, UnitsG70: true, DwellMilliseconds: true}, d.Accepts())
	assert.Equal(t, Extensions{LineComments: true, UnitsG70: true, DwellMilliseconds: true}, d.Needs())
}
