package gcode

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath/motion"
)

// with returns the standard with one extension declared.
func with(e Extensions) Dialect {
	d := FullStandard()
	d.Extensions = e
	return d
}

// TestExtensionsNeedDeclaring: each is refused by the standard, taken where its own
// extension is declared, and refused where only all the others are. Programs of the
// same motions without it are read besides.
func TestExtensionsNeedDeclaring(t *testing.T) {
	all := Extensions{true, true, true, true}
	without := func(change func(e *Extensions)) Extensions { e := all; change(&e); return e }
	for name, row := range map[string]struct {
		text, plain  string
		own, without Extensions
		line, column int // of the refusal
	}{
		"line comment": {"G21\nG1 X1 F100 ; to (the) *corner%\nM2\n", "G21\nG1 X1 F100\nM2\n",
			Extensions{LineComments: true}, without(func(e *Extensions) { e.LineComments = false }), 2, 12},
		"program number": {"%\nO0123 (TOP)\nG21\nG1 X1 F100\n%\n", "%\nG21\nG1 X1 F100\n%\n",
			Extensions{ProgramNumber: true}, without(func(e *Extensions) { e.ProgramNumber = false }), 2, 1},
		"arc centres": {"G21 G91.1\nG2 X2 I1 F100\nM2\n", "G21\nG2 X2 I1 F100\nM2\n",
			Extensions{CentreFromArc: true}, without(func(e *Extensions) { e.CentreFromArc = false }), 1, 5},
		"path tolerance": {"G21\nG64 P0.01\nG1 X1 F100\nM2\n", "G21\nG64\nG1 X1 F100\nM2\n",
			Extensions{PathTolerance: true}, without(func(e *Extensions) { e.PathTolerance = false }), 2, 5},
	} {
		for _, d := range []Dialect{FullStandard(), with(row.without)} {
			p, err := d.Read(strings.NewReader(row.text))
			var rule *RuleError
			require.ErrorAs(t, err, &rule, name)
			assert.Equal(t, [2]int{row.line, row.column}, [2]int{rule.TextLine, rule.Column}, name)
			assert.Equal(t, Program{}, p, name)
		}
		want, err := Read(strings.NewReader(row.plain))
		require.NoError(t, err, name)
		for _, d := range []Dialect{with(row.own), with(all)} {
			got, err := d.Read(strings.NewReader(row.text))
			require.NoError(t, err, name)
			require.Len(t, got.Motions, len(want.Motions), name)
			for i := range want.Motions {
				moved := got.Motions[i]
				moved.TextLine = want.Motions[i].TextLine
				assert.Equal(t, want.Motions[i], moved, name)
			}
			scanned := 0
			_, err = d.Scan(strings.NewReader(row.text), func(motion.Motion) error { scanned++; return nil })
			require.NoError(t, err, name)
			assert.Equal(t, len(want.Motions), scanned, name)
		}
	}
}

// TestExtensionsHaveRulesToo: what no control takes stays refused with all declared.
func TestExtensionsHaveRulesToo(t *testing.T) {
	for name, text := range map[string]string{
		"a second number": "O1\nO2\nM2\n", "a number after a word": "G21\nO1\nM2\n", "a number without digits": "O\nM2\n", "six digits": "O123456\nM2\n",
		"a negative tolerance": "G64 P-0.1\nM2\n", "a tolerance with G61": "G61 P0.1\nM2\n", "centres as coordinates": "G90.1\nM2\n", "P alone": "P0.1\nM2\n",
		"comment in a number": "G1 X1;.5 F\nG99.99\nM2\n", "open comment": "G21 (; M2\nM2\n", "E": "E1\nM2\n",
	} {
		p, err := with(Extensions{true, true, true, true}).Read(strings.NewReader(text))
		assert.ErrorAs(t, err, new(*RuleError), name)
		assert.Equal(t, Program{}, p, name)
	}
}

func TestLineCommentsAreKept(t *testing.T) {
	p, err := with(Extensions{LineComments: true}).Read(strings.NewReader("; UP LEFT FACE \nG21 (mm) ; and (more\nM2\n"))
	require.NoError(t, err)
	assert.Equal(t, []Comment{{1, "UP LEFT FACE"}, {2, "mm"}, {2, "and (more"}}, p.Comments)
}

// TestPathToleranceIsNoted: the simulated cut follows the path that the control may
// leave, and a person must know.
func TestPathToleranceIsNoted(t *testing.T) {
	p, err := with(Extensions{PathTolerance: true}).Read(strings.NewReader("G21\nG64 P0.02\nM2\n"))
	require.NoError(t, err)
	require.Len(t, p.Notes, 1)
	assert.Equal(t, 2, p.Notes[0].TextLine)
	assert.Contains(t, p.Notes[0].Text, "leave the path")
}

// TestStandardDeclaresNothing: the dialect of the standard's own text, and the reading
// that the proof of our own programs goes by.
func TestStandardDeclaresNothing(t *testing.T) {
	assert.Equal(t, Extensions{}, FullStandard().Extensions)
	declared := Extensions{}
	for _, d := range Presets() {
		declared.LineComments = declared.LineComments || d.Extensions.LineComments
		declared.ProgramNumber = declared.ProgramNumber || d.Extensions.ProgramNumber
		declared.CentreFromArc = declared.CentreFromArc || d.Extensions.CentreFromArc
		declared.PathTolerance = declared.PathTolerance || d.Extensions.PathTolerance
	}
	assert.Equal(t, Extensions{true, true, true, true}, declared, "each can be had from some preset")
}

// FuzzExtensions: the extensions add to the standard and change nothing in it.
func FuzzExtensions(f *testing.F) {
	for _, s := range []string{"%\no1\ng91.1 g21 ; mm\ng64 p.1\ng2 x2 i1 f9\n%\n", "g21 g64\ng1 x1 f1 (;)\nm30\n", "g64 g4 p1\nm2\n", "o\n;\nm2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		extended, extendedErr := with(Extensions{true, true, true, true}).Read(strings.NewReader(text))
		standard, err := Read(strings.NewReader(text))
		switch {
		case extendedErr != nil && err == nil:
			t.Fatalf("legal by the standard, but with extensions: %v", extendedErr)
		case extendedErr != nil && len(extended.Motions) > 0:
			t.Fatal("an error and motions")
		case err == nil:
			assert.Equal(t, standard.Motions, extended.Motions)
		}
	})
}
