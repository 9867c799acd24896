package gcode

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestEveryRule: a fault, where it stands and the section of NISTIR 6556 that it is
// against; the rules are those of the report's chapter 3. Each program is the fault
// itself after a line of settings, so the fault stands on line 2.
func TestEveryRule(t *testing.T) {
	for _, row := range []struct {
		name, line, section string
		column              int
		reason              string
	}{
		// 3.1, 3.3: lines
		{"no bracket", "%", "3.1", 1, "a closing % belongs to an opening one"},
		{"text after %", "% end", "3.1", 2, "a line of % holds nothing else"},
		{"block delete twice", "//g0 x1", "3.3", 2, "one slash, at the beginning"},
		{"block delete late", "n5 /g0 x1", "3.3", 4, "it comes before the block number"},
		{"character zero", "g0 x1\x00 m30", "3.3", 6, "no character may hide the rest of the line"},
		{"only a character zero", "\x00", "3.3", 1, "such a line is not blank"},
		{"only a form feed", "\x0c", "3.3", 1, "such a line is not blank"},
		{"form feed", "\x0cg0 x1", "3.3", 1, "blanks are spaces and tabs only"},
		{"letter E", "g0 x1 e1", "3.3", 7, "not a letter of the standard"},
		{"letter O", "o100", "3.3", 1, "not a letter of the standard"},
		{"letter U", "g0 u1", "3.3", 4, "not a letter of the standard"},
		{"letter V", "g0 v1", "3.3", 4, "not a letter of the standard"},
		{"letter W", "g0 w1", "3.3", 4, "not a letter of the standard"},
		{"dollar", "$h", "3.3", 1, "not a character of the standard"},
		{"number alone", "12", "3.3", 1, "a word begins with a letter"},
		// 3.3.1: block numbers
		{"N alone", "n g0 x1", "3.3.1", 3, "digits are missing"},
		{"N of six digits", "n000009 g0 x1", "3.3.1", 7, "five by the text, though the reference counts the value"},
		{"N signed", "n-1 g0 x1", "3.3.1", 2, "unsigned"},
		// 3.3.2.1: numbers
		{"second point", "g0 x1.2.3", "3.3", 8, "a number has one point"},
		{"sign twice", "g0 x+-1", "3.3.2.1", 6, "a number has one sign"},
		{"sign inside", "g0 x1-2", "3.3", 6, "the sign comes first"},
		{"sign of a parameter", "g0 x-#1", "3.3.2.1", 6, "a sign belongs to digits"},
		{"infinity", "g0 xinf", "3.3.2.1", 5, "no such value"},
		{"M with a fraction", "m3.5", "3.3.2.1", 1, "an integer"},
		{"G with two decimals", "g59.11", "3.3.2.1", 1, "one decimal at most"},
		{"G beyond 0.0001", "g1.0002 x1", "3.3.2.1", 1, "not within 0.0001 of a code"},
		// 3.3.2.2 to 3.3.3: parameters, expressions, functions
		{"parameter 0", "g0 x#0", "3.3.2.2", 6, "numbered from 1"},
		{"parameter 5400", "#5400=1", "3.3.2.2", 5, "numbered to 5399"},
		{"parameter by a fraction", "g0 x#1.5", "3.3.2.2", 8, "an integer"},
		{"setting without value", "#1=", "3.3.2.1", 4, "a value is missing"},
		{"setting without sign", "#1 5", "3.3.3", 5, "the digits join to 15; an equals sign is missing"},
		{"empty brackets", "g0 x[]", "3.3.2.1", 6, "a value is missing"},
		{"no operator", "g0 x[1 [2]]", "3.3.2.3", 8, "an operator is missing"},
		{"operator at the end", "g0 x[1+]", "3.3.2.1", 8, "a value is missing"},
		{"by zero", "g0 x[1 mod 0]", "3.3.2.3", 13, "no remainder of a division by 0"},
		{"root of a negative power", "g0 x[[0-2]**0.5]", "3.3.2.3", 16, "not a number"},
		{"beyond all numbers", "g0 x[exp[1000]]", "3.3.2.3", 15, "not a number"},
		{"ATAN of one", "g0 x atan[1]", "3.3.2.4", 13, "it takes two arguments"},
		{"function without brackets", "g0 x sin 1", "3.3.2.4", 10, "the argument stands in brackets"},
		{"ASIN of 2", "g0 x asin[2]", "3.3.2.4", 13, "outside -1 to 1"},
		{"LN of 0", "g0 x ln[0]", "3.3.2.4", 11, "not a number"},
		// 3.3.4, 3.3.5: comments and repeats
		{"comment in a comment", "(a (b) c)", "3.3.4", 1, "comments do not nest"},
		{"M0 M1", "m0 m1", "3.4", 4, "one modal group"},
		{"five M codes", "m3 m7 m48 m0 m6", "3.3.5", 14, "four at most"},
		{"two X", "g0 x1 y1 x2", "3.3.5", 10, "every other letter once"},
		{"two T", "t1 t2", "3.3.5", 4, "every other letter once"},
		// 3.4: modal groups
		{"G0 G1", "g0 g1 x1", "3.4", 4, "one modal group"},
		{"G90 G91", "g90 g91", "3.4", 5, "one modal group"},
		{"G98 G99", "g98 g99", "3.4", 5, "one modal group"},
		{"G61 G64", "g61 g64", "3.4", 5, "one modal group"},
		{"G92 G92.1", "g92 x1 g92.1", "3.4", 8, "one modal group"},
		{"M7 M8", "m7 m8", "3.4", 4, "one modal group, though both may be on"},
		{"M48 M49", "m48 m49", "3.4", 5, "one modal group"},
		{"G1 with G92", "g1 g92 x1", "3.4", 1, "both use the axis words"},
		// 3.5: codes that are none
		{"G5", "g5 x1", "3.5", 1, "not in the standard"},
		{"G33", "g33 x1", "3.5", 1, "not in the standard"},
		{"G70", "g70", "3.5", 1, "not in the standard"},
		{"G90.1", "g90.1", "3.5", 1, "not in the standard"},
		{"G91.1", "g91.1", "3.5", 1, "not in the standard"},
		{"G96", "g96 s1", "3.5", 1, "not in the standard"},
		{"G-1", "g-1 x1", "3.5", 1, "not in the standard"},
		{"M98", "m98", "3.6", 1, "not in the standard"},
		{"M-3", "m-3", "3.6", 1, "not in the standard"},
		// 3.5: words that nothing uses
		{"H alone", "h1", "3.5", 1, "it belongs with G43"},
		{"J on a straight move", "g1 x1 j1", "3.5", 7, "it belongs with an arc"},
		{"L on a straight move", "g1 x1 l2", "3.5", 7, "it belongs with a cycle"},
		{"R on a straight move", "g1 x1 r2", "3.5", 7, "it belongs with an arc or a cycle"},
		{"P on an arc", "g2 x1 i1 p1", "3.5", 10, "it belongs with a dwell"},
		{"Q on G82", "g82 x1 z-1 r1 p1 q1", "3.5", 18, "it belongs with G83"},
		// 3.5.1 to 3.5.3: moves
		{"G0 alone", "g0", "3.5.1", 1, "an axis word is missing"},
		{"arc without offsets", "g2 x1", "3.5.3", 1, "neither centre nor radius"},
		{"arc without axes", "g2 i1", "3.5.3", 1, "no end"},
		{"only the axis of the helix", "g2 z1 i1", "3.5.3", 1, "no end in the plane"},
		{"centre and radius", "g2 x1 i1 r1", "3.5.3", 10, "one or the other"},
		{"J in G18", "g18 g2 x1 i0.5 j0", "3.5.3.2", 16, "wrong plane"},
		{"I in G19", "g19 g2 y1 j0.5 i0", "3.5.3.2", 16, "wrong plane"},
		{"radius 0", "g2 x0 i0", "3.5.3.2", 7, "no circle"},
		{"end 0.0021 off", "g2 x10.0021 i5", "3.5.3.2", 13, "the radii differ by more than 0.002 mm"},
		{"end 0.00021 in off", "g20 g2 x1.00021 i0.5", "3.5.3.2", 17, "the radii differ by more than 0.0002 in"},
		{"full circle by radius", "g2 x0 y0 r5", "3.5.3.1", 10, "the centre is not determined"},
		{"R too small", "g3 x10 r-4.99", "3.5.3.1", 8, "it cannot reach"},
		{"R0", "g3 x10 r0", "3.5.3.1", 8, "no circle"},
		// 3.5.4 to 3.5.20
		{"G10 L1", "g10 l1 p1 x1", "3.5.5", 1, "L2 only"},
		{"G10 P0", "g10 l2 p0 x1", "3.5.5", 1, "systems are numbered from 1"},
		{"G10 P1.5", "g10 l2 p1.5 x1", "3.5.5", 1, "an integer"},
		{"H-1", "g43 h-1", "3.5.11", 5, "not negative"},
		{"G53 alone", "g53", "3.5.12", 1, "it needs a straight move"},
		{"G53 with a cycle", "g53 g81 x1 z-1 r1", "3.5.12", 1, "straight moves only"},
		{"G80 with axes", "g80 x1", "3.5.15", 1, "G80 uses none"},
		{"G80 with a rotary axis", "g80 a5", "3.5.15", 1, "a rotary word is an axis word"},
		{"axes without a mode", "a5", "3.5.15", 1, "no motion mode to use them"},
		{"G92 without axes", "g92", "3.5.18", 1, "an axis word is missing"},
		{"G93 without F", "g93 g1 x1", "3.5.19", 5, "F on each line"},
		{"G93 F0", "g93 g1 x1 f0", "3.5.2", 5, "a move that never ends"},
		{"F0", "g1 x1 f0", "3.5.2", 1, "a feed of 0 moves nothing"},
		{"S-1", "s-1", "3.7.2", 1, "not negative"},
		{"T-1", "t-1", "3.7.3", 1, "not negative"},
		// 3.5.16: cycles
		{"cycle without R", "g81 x1 z-1", "3.5.16", 1, "the first of a kind needs R"},
		{"cycle without axes", "g81 r1", "3.5.3", 1, "an axis word is missing"},
		{"cycle from below", "g81 x1 z2 r1", "3.5.16", 1, "the bottom lies above R"},
		{"cycle with L-1", "g81 x1 z-1 r1 l-1", "3.5.16", 15, "not negative"},
		{"cycle with L1.5", "g81 x1 z-1 r1 l1.5", "3.5.16", 15, "an integer"},
		{"G82 P-1", "g82 x1 z-1 r1 p-1", "3.5.16", 1, "no negative dwell"},
		{"G83 without Q", "g83 x1 z-1 r1", "3.5.16", 1, "a peck is needed"},
		{"G83 Q-1", "g83 x1 z-1 r1 q-1", "3.5.16", 15, "no negative peck"},
		{"cycle under G93", "g93 g81 x1 z-1 r1 f1", "3.5.16", 5, "no inverse time"},
		{"G86 at rest", "g86 x1 z-1 r1 p1", "3.5.16.7", 1, "the spindle must turn, to be stopped"},
		{"G18 cycle without Y", "g18 g81 x1 r1", "3.5.16", 5, "Y is its depth"},
		{"G19 cycle without X", "g19 g81 y1 r1", "3.5.16", 5, "X is its depth"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := readText("g21 g90 g17 f100\n" + row.line + "\nm2\n")
			var rule *RuleError
			require.ErrorAs(t, err, &rule, "%q is legal, but should not be: %s", row.line, row.reason)
			assert.Equal(t, 2, rule.TextLine)
			assert.Equal(t, row.column, rule.Column, "%v", rule)
			assert.Equal(t, row.section, rule.Section, "%v", rule)
			assert.NotEmpty(t, rule.Words, "%v", rule)
		})
	}
}

// TestLegal: what looks like a fault, and is none.
func TestLegal(t *testing.T) {
	for line, reason := range map[string]string{
		"n5":                    "a block number alone",
		"n00007 g0 x1":          "five digits",
		"N1 2 3 4 5 G 0 X 1":    "blanks may stand inside a block number",
		"/n5 g0 x1":             "a block that may be skipped",
		"(a comment) g0 x1":     "a comment may come first",
		"()":                    "an empty comment",
		"g0 (%;$) x1":           "anything but brackets in a comment",
		"x1 g0":                 "words in any order",
		"g0 x1 m3 s1 f1 t1":     "words in any order",
		"m5 m9 m49 m1":          "four M codes",
		"g59.3":                 "one decimal",
		"g 9 2 . 1":             "blanks inside a number",
		"m3.00001":              "within 0.0001 of an integer",
		"s0":                    "a speed of 0",
		"t0":                    "slot 0",
		"g43 h0":                "entry 0",
		"f0":                    "a feed of 0 that nothing uses",
		"g4 p0":                 "a dwell of no time",
		"g0 x-0.":               "a negative zero, a point at the end",
		"g0 x#5220":             "a parameter never set by the program",
		"#1=2 #1=3 g0 x#1":      "the same parameter twice",
		"g0 x[ 2 * * 3 ]":       "blanks inside an operator",
		"g10 l2 p9":             "no axis words: nothing changes",
		"g92.3":                 "nothing was stored: zeros",
		"g2 x10 r5":             "an exact half turn",
		"g2 x10.0019 i5":        "the radii differ by less than 0.002 mm",
		"g20 g2 x1.00019 i.5":   "the radii differ by less than 0.0002 in",
		"g1 a5":                 "a rotary word is an axis word",
		"g80 g92 x1":            "G80 beside a code that uses the axis words",
		"g40 g49 g54 g61.1 g98": "five groups",
		"m6":                    "a change to the tool that is in",
	} {
		_, err := readText("g21 g90 g17 f100\n" + line + "\nm2\n")
		assert.NoError(t, err, "%q: %s", line, reason)
	}
}

// TestEndings: how a program may and may not begin and end (3.1).
func TestEndings(t *testing.T) {
	for _, row := range []struct {
		program, ended string
		lines          int
	}{
		{"m2", "M2", 1}, {"m30\n", "M30", 1}, {"%\nm2\n", "M2", 2}, {"\n \t\n %\t\ng21\n % \n", "%", 5},
		{"%\n%\nall that follows ;;; is not read\n", "%", 2}, {"m2\r\n\x00\n", "M2", 1}, {"g21\r\rm2\r", "M2", 3},
		{"g0 x1 m2 y2\ng0 x9\n", "M2", 1},
	} {
		p, err := readText(row.program)
		require.NoError(t, err, "%q", row.program)
		assert.Equal(t, row.ended, p.Ended, "%q", row.program)
		assert.Equal(t, row.lines, p.Lines, "%q", row.program)
	}
	for program, line := range map[string]int{
		"": 0, "\n\n": 2, "g21\n": 1, "%\ng21\n": 2, "%\n": 1, "(a)\n%\nm2\n": 2, "%%\nm2\n": 1, "m1\n": 1,
		strings.Repeat("a", 1<<20): 1,
	} {
		_, err := readText(program)
		var rule *RuleError
		require.ErrorAs(t, err, &rule, "%.20q", program)
		assert.Equal(t, line, rule.TextLine, "%.20q", program)
		assert.Regexp(t, `^3\.[13]$`, rule.Section, "%.20q", program)
		assert.Less(t, len(rule.Error()), 300, "%.20q", program)
	}
}
