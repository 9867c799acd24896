package gcode

import (
	"bufio"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath/motion"
)

// conformanceRow is a program with what NIST's reference interpreter made of it.
type conformanceRow struct {
	id, name, program string
	accept            bool
	message           string
	calls             []string
}

func conformanceRows(t *testing.T) []conformanceRow {
	t.Helper()
	file, err := os.Open("../../testdata/rs274/conformance.tsv")
	require.NoError(t, err)
	defer file.Close()
	var rows []conformanceRow
	lines := bufio.NewScanner(file)
	lines.Scan() // the heading
	for lines.Scan() {
		f := strings.Split(lines.Text(), "\t")
		require.GreaterOrEqual(t, len(f), 5, lines.Text())
		row := conformanceRow{id: f[0], name: f[1], program: unescape(f[2]), accept: f[3] == "ACCEPT", message: f[4]}
		if len(f) > 5 && f[5] != "" {
			row.calls = strings.Split(f[5], " ; ")
		}
		var length int
		if _, err := fmt.Sscanf(f[2], "<line of %d characters>", &length); err == nil {
			row.program = "g21 g90 g17 f100\n(" + strings.Repeat("a", length-2) + ")\nm2\n"
		}
		rows = append(rows, row)
	}
	require.NoError(t, lines.Err())
	require.Greater(t, len(rows), 80)
	return rows
}

func unescape(text string) string {
	return strings.NewReplacer(`\n`, "\n", `\r`, "\r", `\t`, "\t").Replace(text)
}

// traced reads a program and returns its canonical calls.
func traced(program string) ([]string, error) {
	var calls []string
	m := newMachine(func(motion.Motion) error { return nil })
	m.trace = func(call string) { calls = append(calls, call) }
	_, err := m.scan(strings.NewReader(program))
	return calls, err
}

// failsAt returns the line of a rejected program that is at fault: by the way the table
// is built, the last before its M2, but for three programs.
func (r conformanceRow) failsAt() int {
	switch r.id {
	case "C055": // the colon comes first
		return 1
	case "C147": // nothing is at fault but that the program does not end
		return 1
	}
	return len(strings.Split(strings.TrimSuffix(r.program, "\n"), "\n")) - 1
}

// TestConformance holds the reader against what NIST's reference interpreter printed
// for each program: accepted or rejected, where, and the canonical calls up to there.
func TestConformance(t *testing.T) {
	for _, row := range conformanceRows(t) {
		t.Run(row.id+" "+row.name, func(t *testing.T) {
			calls, err := traced(row.program)
			// The reference prints a negative zero where one was typed; it is the
			// same point.
			for i, call := range row.calls {
				row.calls[i] = strings.ReplaceAll(call, "-0.0000", "0.0000")
			}
			if row.accept {
				require.NoError(t, err)
				assert.Equal(t, row.calls, calls)
				return
			}
			var rule *RuleError
			require.ErrorAs(t, err, &rule, "the reference interpreter says: %s", row.message)
			assert.Equal(t, row.failsAt(), rule.TextLine, "%v", rule)
			assert.Regexp(t, `^3\.`, rule.Section)
			if row.id == "C144" { // the reference does the move to R before it finds that P is missing
				row.calls = row.calls[:3]
			}
			assert.Equal(t, row.calls, calls)
		})
	}
}
