package gcode_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fullerwright/export/gcode"
	"fullerwright/toolpath/motion"
)

// oracleTolerance bounds the difference of the two evaluators in a length, mm, an
// angle or a feed (relative there): both reckon with float64, and rounding grows
// over the increments of a program.
const oracleTolerance = 1e-6

// oracleVerdict is what an evaluator says of a program.
type oracleVerdict int

const (
	oracleAccepts oracleVerdict = iota
	oracleRefuses
	oracleLeaves // legal, not followed
)

func (v oracleVerdict) String() string { return [...]string{"accepts", "refuses", "leaves"}[v] }

// oracleCompare runs both evaluators over a program. It returns their verdicts and
// how their motions differ, if both accept.
func oracleCompare(program string) (oracle, reader oracleVerdict, difference error) {
	moves, line, err := oracleRun(program)
	switch {
	case errors.Is(err, errOracleSkips):
		oracle = oracleLeaves
	case err != nil:
		oracle = oracleRefuses
	}
	read, readErr := gcode.Read(strings.NewReader(program))
	var rule *gcode.RuleError
	var unsupported *gcode.UnsupportedError
	switch {
	case errors.As(readErr, &unsupported):
		reader = oracleLeaves
	case errors.As(readErr, &rule):
		reader = oracleRefuses
	}
	switch {
	case oracle == oracleLeaves || reader == oracleLeaves:
		return oracle, reader, nil
	case oracle != reader:
		return oracle, reader, fmt.Errorf("the oracle %s (line %d: %v), the reader %s (%v)",
			oracle, line, err, reader, readErr)
	case oracle == oracleAccepts:
		return oracle, reader, oracleDifference(moves, read.Motions)
	case line != 0 && rule.TextLine != line:
		return oracle, reader, fmt.Errorf("refused at line %d (%w) and at line %d (%w)",
			line, err, rule.TextLine, readErr)
	}
	return oracle, reader, nil
}

// oracleMoving drops the straight moves that go nowhere.
func oracleMoving(moves []motion.Motion) []motion.Motion {
	var kept []motion.Motion
	for _, move := range moves {
		straight := move.Kind == motion.Rapid || move.Kind == motion.Line
		if !straight || move.To.Sub(move.From).Norm() > oracleSamePoint {
			kept = append(kept, move)
		}
	}
	return kept
}

// oracleDifference compares two lists of motions.
func oracleDifference(oracle, reader []motion.Motion) error {
	oracle, reader = oracleMoving(oracle), oracleMoving(reader)
	for i := range min(len(oracle), len(reader)) {
		if !oracleSame(oracle[i], reader[i]) {
			return fmt.Errorf("motion %d: the oracle has %+v, the reader %+v", i, oracle[i], reader[i])
		}
	}
	if len(oracle) != len(reader) {
		return fmt.Errorf("the oracle has %d motions, the reader %d", len(oracle), len(reader))
	}
	return nil
}

// oracleSame reports whether two motions agree but for their texts.
func oracleSame(a, b motion.Motion) bool {
	near := func(p, q motion.Vec) bool { return p.Sub(q).Norm() < oracleTolerance }
	if !near(a.From, b.From) || !near(a.To, b.To) || !near(a.Centre, b.Centre) ||
		math.Abs(a.Sweep-b.Sweep) > oracleTolerance ||
		math.Abs(a.Feed-b.Feed) > oracleTolerance*math.Max(1, a.Feed) ||
		math.Abs(a.Speed-b.Speed) > oracleTolerance || math.Abs(a.Seconds-b.Seconds) > oracleTolerance {
		return false
	}
	for _, m := range []*motion.Motion{&a, &b} {
		m.From, m.To, m.Centre = motion.Vec{}, motion.Vec{}, motion.Vec{}
		m.Sweep, m.Feed, m.Speed, m.Seconds, m.Text = 0, 0, 0, 0, ""
	}
	return a == b
}

// oracleNumbered writes a program with the numbers of its lines.
func oracleNumbered(program string) string {
	var numbered strings.Builder
	for i, line := range strings.Split(program, "\n") {
		fmt.Fprintf(&numbered, "%3d %s\n", i+1, line)
	}
	return numbered.String()
}

// TestOracleAgreesOnLegalPrograms compares the motions of random legal programs.
func TestOracleAgreesOnLegalPrograms(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 6556))
	for range 500 {
		author := newOracleAuthor(random)
		author.write(12)
		program := author.text()
		require.NoError(t, author.err, oracleNumbered(program))
		oracle, reader, difference := oracleCompare(program)
		require.NoError(t, difference, oracleNumbered(program))
		require.Equal(t, oracleAccepts, oracle, oracleNumbered(program))
		require.Equal(t, oracleAccepts, reader, oracleNumbered(program))
	}
}

// TestOracleConformance holds both evaluators against the recorded verdicts of
// the reference interpreter.
func TestOracleConformance(t *testing.T) {
	table, err := os.ReadFile("../../testdata/rs274/conformance.tsv")
	require.NoError(t, err)
	rows := 0
	for _, row := range strings.Split(strings.TrimSpace(string(table)), "\n")[1:] {
		columns := strings.Split(row, "\t")
		program := strings.NewReplacer(`\n`, "\n", `\r`, "\r", `\t`, "\t").Replace(columns[2])
		var length int
		if _, err := fmt.Sscanf(program, "<line of %d characters>", &length); err == nil {
			program = "g0x1" + strings.Repeat(" ", length-4) + "\nm2\n"
		}
		oracle, reader, difference := oracleCompare(program)
		if difference != nil {
			t.Errorf("%s %s: %v", columns[0], columns[1], difference)
		}
		want := oracleRefuses
		if columns[3] == "ACCEPT" {
			want = oracleAccepts
		}
		if oracle != want || reader != want {
			t.Errorf("%s %s: the oracle %s, the reader %s", columns[0], columns[1], oracle, reader)
		}
		rows++
	}
	require.Greater(t, rows, 100)
}
