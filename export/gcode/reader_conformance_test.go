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
		if len(f) > 5 {
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

// TestConformance holds the reader against what NIST's reference interpreter printed
// for each program: accepted or rejected, and the canonical calls up to there.
func TestConformance(t *testing.T) {
	for _, row := range conformanceRows(t) {
		t.Run(row.id+" "+row.name, func(t *testing.T) {
			calls, err := traced(row.program)
			if !row.accept {
				assert.Error(t, err, "the reference interpreter says: %s", row.message)
				var rule *RuleError
				assert.ErrorAs(t, err, &rule)
				return
			}
			require.NoError(t, err)
			// The reference prints a negative zero where one was typed; it is the
			// same point.
			for i, call := range row.calls {
				row.calls[i] = strings.ReplaceAll(call, "-0.0000", "0.0000")
			}
			assert.Equal(t, row.calls, calls)
		})
	}
}
