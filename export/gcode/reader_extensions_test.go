package gcode

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// everyWord declares every extension that adds words and changes the meaning of none.
func everyWord() dialect.Extensions {
	return dialect.Extensions{LineComments: true, ProgramNumber: true, CentreFromArc: true, PathTolerance: true, UnitsG70: true}
}

// TestDwellOfMilliseconds: the P word counts seconds by the standard (NISTIR 6556, 3.5.4),
// milliseconds where that is declared, in a cycle as well.
func TestDwellOfMilliseconds(t *testing.T) {
	text := "G21 F100 S100 M3\nG4 P1500\nG82 X1 Z-1 R1 P250\nM2\n"
	for seconds, e := range map[float64]dialect.Extensions{1500: {}, 1.5: {DwellMilliseconds: true}} {
		p, err := ReadWith(strings.NewReader(text), e)
		require.NoError(t, err)
		var dwells []float64
		for _, m := range p.Motions {
			if m.Kind == motion.Dwell {
				dwells = append(dwells, m.Seconds)
			}
		}
		assert.Equal(t, []float64{seconds, seconds / 6}, dwells)
	}
}

// TestExtensionsNeedDeclaring: each is refused by the standard, taken where its own
// extension is declared, and refused where only all the others are. Programs of the
// same motions without it are read besides.
func TestExtensionsNeedDeclaring(t *testing.T) {
	all := everyWord()
	without := func(change func(e *dialect.Extensions)) dialect.Extensions { e := all; change(&e); return e }
	for name, row := range map[string]struct {
		text, plain  string
		own, without dialect.Extensions
		line, column int // of the refusal
	}{
		"line comment": {"G21\nG1 X1 F100 ; to (the) *corner%\nM2\n", "G21\nG1 X1 F100\nM2\n",
			dialect.Extensions{LineComments: true}, without(func(e *dialect.Extensions) { e.LineComments = false }), 2, 12},
		"program number": {"%\nO0123 (TOP)\nG21\nG1 X1 F100\n%\n", "%\nG21\nG1 X1 F100\n%\n",
			dialect.Extensions{ProgramNumber: true}, without(func(e *dialect.Extensions) { e.ProgramNumber = false }), 2, 1},
		"arc centres": {"G21 G91.1\nG2 X2 I1 F100\nM2\n", "G21\nG2 X2 I1 F100\nM2\n",
			dialect.Extensions{CentreFromArc: true}, without(func(e *dialect.Extensions) { e.CentreFromArc = false }), 1, 5},
		"path tolerance": {"G21\nG64 P0.01\nG1 X1 F100\nM2\n", "G21\nG64\nG1 X1 F100\nM2\n",
			dialect.Extensions{PathTolerance: true}, without(func(e *dialect.Extensions) { e.PathTolerance = false }), 2, 5},
		"units of ISO 6983": {"G71\nG1 X1 F100\nG70 G1 X2\nM2\n", "G21\nG1 X1 F100\nG20 G1 X2\nM2\n",
			dialect.Extensions{UnitsG70: true}, without(func(e *dialect.Extensions) { e.UnitsG70 = false }), 1, 1},
	} {
		for _, e := range []dialect.Extensions{{}, row.without} {
			p, err := ReadWith(strings.NewReader(row.text), e)
			var rule *RuleError
			require.ErrorAs(t, err, &rule, name)
			assert.Equal(t, [2]int{row.line, row.column}, [2]int{rule.TextLine, rule.Column}, name)
			assert.Equal(t, Program{}, p, name)
		}
		want, err := Read(strings.NewReader(row.plain))
		require.NoError(t, err, name)
		for _, e := range []dialect.Extensions{row.own, all} {
			got, err := ReadWith(strings.NewReader(row.text), e)
			require.NoError(t, err, name)
			require.Len(t, got.Motions, len(want.Motions), name)
			for i := range want.Motions {
				moved := got.Motions[i]
				moved.TextLine = want.Motions[i].TextLine
				assert.Equal(t, want.Motions[i], moved, name)
			}
			scanned := 0
			_, err = ScanWith(strings.NewReader(row.text), e, func(motion.Motion) error { scanned++; return nil })
			require.NoError(t, err, name)
			assert.Equal(t, len(want.Motions), scanned, name)
		}
	}
}

// TestExtensionsHaveRulesToo: what no control takes stays refused with all declared.
func TestExtensionsHaveRulesToo(t *testing.T) {
	for name, text := range map[string]string{
		"a second number": "O1\nO2\nM2\n", "a number after a word": "G21\nO1\nM2\n", "a number without digits": "O\nM2\n", "six digits": "O123456\nM2\n",
		"both words for units": "G70 G20\nM2\n", "a negative tolerance": "G64 P-0.1\nM2\n", "a tolerance with G61": "G61 P0.1\nM2\n", "centres as coordinates": "G90.1\nM2\n", "P alone": "P0.1\nM2\n",
		"comment in a number": "G1 X1;.5 F\nG99.99\nM2\n", "open comment": "G21 (; M2\nM2\n", "E": "E1\nM2\n",
	} {
		p, err := ReadWith(strings.NewReader(text), everyWord())
		assert.ErrorAs(t, err, new(*RuleError), name)
		assert.Equal(t, Program{}, p, name)
	}
}

func TestLineCommentsAreKept(t *testing.T) {
	p, err := ReadWith(strings.NewReader("; UP LEFT FACE \nG21 (mm) ; and (more\nM2\n"), dialect.Extensions{LineComments: true})
	require.NoError(t, err)
	assert.Equal(t, []Comment{{1, "UP LEFT FACE"}, {2, "mm"}, {2, "and (more"}}, p.Comments)
}

// TestPathToleranceIsNoted: the simulated cut follows the path that the control may
// leave, and a person must know.
func TestPathToleranceIsNoted(t *testing.T) {
	p, err := ReadWith(strings.NewReader("G21\nG64 P0.02\nM2\n"), dialect.Extensions{PathTolerance: true})
	require.NoError(t, err)
	require.Len(t, p.Notes, 1)
	assert.Equal(t, 2, p.Notes[0].TextLine)
	assert.Contains(t, p.Notes[0].Text, "leave the path")
}

// TestStandardDeclaresNothing: the dialect of the standard's own text, and the reading
// that the proof of our own programs goes by.
func TestStandardDeclaresNothing(t *testing.T) {
	assert.Equal(t, dialect.Extensions{}, dialect.FullStandard().Extensions)
	declared := dialect.Extensions{}
	for _, d := range dialect.Presets() {
		declared.LineComments = declared.LineComments || d.Extensions.LineComments
		declared.ProgramNumber = declared.ProgramNumber || d.Extensions.ProgramNumber
		declared.CentreFromArc = declared.CentreFromArc || d.Extensions.CentreFromArc
		declared.PathTolerance = declared.PathTolerance || d.Extensions.PathTolerance
	}
	assert.Equal(t, dialect.Extensions{LineComments: true, ProgramNumber: true, CentreFromArc: true, PathTolerance: true}, declared, "each can be had from some preset")
}

// FuzzExtensions: the extensions add to the standard and change nothing in it.
func FuzzExtensions(f *testing.F) {
	for _, s := range []string{"%\no1\ng91.1 g21 ; mm\ng64 p.1\ng2 x2 i1 f9\n%\n", "g21 g64\ng1 x1 f1 (;)\nm30\n", "g64 g4 p1\nm2\n", "o\n;\nm2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		extended, extendedErr := ReadWith(strings.NewReader(text), everyWord())
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
