package gcode_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// oracleFault is a line that no state of the machine makes legal, unless it has
// a line before it that sets the state.
type oracleFault struct{ before, line string }

// oracleFaults lists single faults by what is wrong.
var oracleFaults = []struct {
	name   string
	faults []oracleFault
}{
	{"a word is missing", []oracleFault{
		{"", "G0"}, {"", "G1"}, {"", "G2 I1"}, {"", "G4"}, {"", "G92"}, {"", "G43"},
		{"G17", "G2 X1 Y1"}, {"G17", "G3 Z1 I1"}, {"G18", "G3 Y1 I1"}, {"G19", "G2 X1 J1"},
		{"G17", "G2 Z1 R5"}, {"", "G10 P1 X0"}, {"", "G10 L2 X0"}, {"", "G53"}, {"", "G1 F10"},
		{"G80", "G81 X1 R1"}, {"G17 G80", "G81 X1 Z-5"}, {"G18 G80", "G81 Z1 X1 R1"},
		{"G17 G80", "G82 X1 Z-5 R1"}, {"G17 G80", "G83 X1 Z-5 R1"}, {"G17 G80", "G89 Z-5 R1"},
		{"G93", "G1 X1.5"}, {"G93", "G2 X1 R90"}, {"G80", "X1"}, {"G80", "Z5 F100"},
	}},
	{"two of a group", []oracleFault{
		{"", "G0 G1 X1"}, {"", "G17 G18"}, {"", "G90 G91"}, {"", "G94 G93"}, {"", "G20 G21"},
		{"", "G40 G41"}, {"", "G43 H1 G49"}, {"", "G98 G99"}, {"", "G54 G59.3"}, {"", "G61 G64"},
		{"", "G4 P1 G92 X1"}, {"", "G4 P1 G53 G0 X1"}, {"", "G0 X1 G28"}, {"", "G1 G92 X1"},
		{"", "G1 G1 X1"}, {"", "M3 M5"}, {"", "M7 M8"}, {"", "M0 M2"}, {"", "M48 M49"},
		{"", "M3 M7 M48 M0 M6"}, {"", "X1 X2 G0"}, {"", "F1 F1"}, {"", "S1 S2"}, {"", "T1 T1"},
		{"", "G80 X1"}, {"", "G81 G82 X1 Z-1 R1 P1"}, {"", "N1 N2 G0 X1"},
	}},
	{"a wrong arc", []oracleFault{
		{"G90 G17 G21 G0 X0 Y0", "G2 X10.003 I5"}, {"G90 G17 G21 G0 X0 Y0", "G3 X9.997 I5"},
		{"G90 G17 G20 G0 X0 Y0", "G2 X1.0003 I.5"}, {"G90 G17 G20 G0 X0 Y0", "G2 X0.9997 I.5"},
		{"G90 G18 G21 G0 X0 Z0", "G2 X10.003 I5"}, {"G90 G19 G21 G0 Y0 Z0", "G2 Y10.003 J5"},
		{"G91 G17", "G2 X10 R4.99"}, {"G91 G17", "G3 X10 R-4.99"}, {"G91 G17", "G3 X10 R0"},
		{"G91 G17", "G2 X0 Y0 R5"}, {"G91 G17", "G2 X0 I0"}, {"G91 G17", "G2 X0 I0 J0"},
		{"G91 G17", "G2 X10 I5 K0"}, {"G91 G18", "G2 X10 I5 J0"}, {"G91 G19", "G2 Y10 J5 I0"},
		{"G91 G17", "G2 X10 I5 R5"}, {"G91 G17", "G2 X10 I10"},
	}},
	{"an unknown word", []oracleFault{
		{"", "U1"}, {"", "G0 X1 W2"}, {"", "E5"}, {"", "O100"}, {"", "G5 X1"}, {"", "G71"}, {"", "G95"},
		{"", "G59.4"}, {"", "G1.1 X1"}, {"", "G61.2"}, {"", "G92.4"}, {"", "M10"}, {"", "M98"}, {"", "M31"},
		{"", "G73 X1 Z-1 R1"}, {"", "G90.1"}, {"", "G0 X1 ; a remark"}, {"", "G0 X1*71"},
		{"", ":100"}, {"", "G0 X1 %"}, {"", "G0 X1 )"}, {"", "G0 X1 $"}, {"", "G0 /X1"}, {"", "//G0 X1"},
	}},
	{"a word nothing uses", []oracleFault{
		{"", "D1"}, {"", "H1"}, {"", "L1"}, {"", "P1"}, {"", "Q1"}, {"", "R1"}, {"", "G1 X1 I1"},
		{"", "G0 X1 J1"}, {"", "G1 X1 R1"}, {"", "G0 X1 P1"}, {"", "G64 P0.1"}, {"", "G4 P1 L1"},
		{"G17 G80", "G81 X1 Z-1 R1 Q1"}, {"G17 G80", "G81 X1 Z-1 R1 P1"}, {"G17 G80", "G81 X1 Z-1 R1 I1"},
		{"G2 G91 X1 R5", "I1"}, {"G17 G80\nG81 X1 Z-100 R100", "L2"}, {"G0 X1", "G28 R1"},
	}},
	{"out of range", []oracleFault{
		{"", "F-1"}, {"", "S-1"}, {"", "T-1"}, {"", "T1.5"}, {"", "T2000"}, {"", "G4 P-1"}, {"", "G43 H-1"},
		{"", "G43 H0.5"}, {"", "G43 H2000"}, {"", "N123456"}, {"", "N-1"}, {"", "N1.5"}, {"", "#0=1"},
		{"", "#5400=1"}, {"", "#1.5=1"}, {"", "#-1=1"}, {"", "G0 X#0"}, {"", "G0 X#5400"}, {"", "G-1 X1"},
		{"", "G100 X1"}, {"", "M100"}, {"", "M-1"}, {"", "M3.5"}, {"", "G10 L2 P0 X1"}, {"", "G10 L2 P10 X1"},
		{"", "G10 L2 P1.5 X1"}, {"", "G10 L1 P1 X1"}, {"", "G10 L3 P1 X1"}, {"F0 G80", "G1 X1.25"},
		{"F0 G80 G17", "G2 X1 R90"}, {"G17 G80", "G81 X1 Z-1 R1 L0"}, {"G17 G80", "G81 X1 Z-1 R1 L-1"},
		{"G17 G80", "G81 X1 Z-1 R1 L1.5"}, {"G17 G80", "G83 X1 Z-1 R1 Q0"}, {"G17 G80", "G83 X1 Z-1 R1 Q-1"},
		{"G17 G80", "G82 X1 Z-1 R1 P-1"}, {"G17 G80 G90", "G81 X1 Z2 R1"}, {"G17 G80 G91", "G81 X1 Z1 R5"},
	}},
	{"what may not go together", []oracleFault{
		{"G91", "G53 G0 X1"}, {"", "G91 G53 G0 X1"}, {"G90 G0 X1 G17", "G53 G2 X3 Y2 R50"},
		{"G3 G91 G17 X1 R5", "G53 X1"}, {"G17 G93", "G81 X1 Z-5 R1 F1"}, {"G80", "G53 X1"},
	}},
	{"a bad spelling", []oracleFault{
		{"", "G0 X"}, {"", "G0 X."}, {"", "G0 X-"}, {"", "G0 X--1"}, {"", "G0 X+-1"}, {"", "G0 X1,5"},
		{"", "G0 X1.2.3"}, {"", "G0 X1E3"}, {"", "G0 X1E-3"}, {"", "G0 XNaN"}, {"", "G0 XInf"}, {"", "G0 X0x1"},
		{"", "G0 X1_0"}, {"", "G0 X(1)"}, {"", "G0 X1 (a"}, {"", "(a (b) c)"}, {"", "G0 X[1+2"}, {"", "G0 X1]"},
		{"", "G0 X[]"}, {"", "G0 X[1+]"}, {"", "G0 X[*2]"}, {"", "G0 X[1 2 +]"}, {"", "G0 X[1(a)+"}, {"", "G0 X(1"},
		{"", "G0 X-[1]"}, {"", "G0 X-#1"}, {"", "G0 X[1=1]"}, {"", "G0 X[1 % 2]"}, {"", "G0 X1+1"},
		{"", "G0 X[1/0]"}, {"", "G0 X sqrt[-1]"}, {"", "G0 X ln[0]"}, {"", "G0 X ln[-1]"},
		{"", "G0 X asin[2]"}, {"", "G0 X acos[-2]"}, {"", "G0 X[[0-2]**0.5]"}, {"", "G0 X sin 30"},
		{"", "G0 X atan[1]"}, {"", "G0 X atan[1][2]"}, {"", "G0 X sinh[1]"}, {"", "G0 X[1 nand 1]"},
		{"", "#1"}, {"", "#1="}, {"", "#=1"}, {"", "1=#1"}, {"", "G0 N1 X1"}, {"", "N G0 X1"}, {"", "5"},
		{"", "%G0 X1"}, {"", "G0 X1 " + strings.Repeat(" ", 260)}, {"", "(" + strings.Repeat("a", 255) + ")"},
	}},
}

// oracleFaulty appends a fault and an end to a program.
func oracleFaulty(program string, fault oracleFault) string {
	if fault.before != "" {
		program += fault.before + "\n"
	}
	return program + fault.line + "\nM2\n"
}

// TestOracleAgreesOnFaults puts single faults after legal beginnings. The line
// before a fault is legal by itself, which the program without the fault shows.
func TestOracleAgreesOnFaults(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 6556))
	for _, family := range oracleFaults {
		for _, fault := range family.faults {
			for range 3 {
				author := newOracleAuthor(random)
				author.write(random.IntN(5))
				author.lines = author.lines[:len(author.lines)-1]
				author.lines = append(author.lines, "G94 G80 F100")
				require.NoError(t, author.err)

				sound := oracleFaulty(author.text(), oracleFault{fault.before, ""})
				oracle, reader, difference := oracleCompare(sound)
				require.NoError(t, difference, oracleNumbered(sound))
				require.Equal(t, oracleAccepts, oracle, oracleNumbered(sound))
				require.Equal(t, oracleAccepts, reader, oracleNumbered(sound))

				program := oracleFaulty(author.text(), fault)
				oracle, reader, difference = oracleCompare(program)
				if difference != nil || oracle != oracleRefuses || reader != oracleRefuses {
					t.Errorf("%s: %s: %s: oracle %v, reader %v: %v", family.name, fault.before, fault.line, oracle, reader, difference)
					break
				}
			}
		}
	}
}
