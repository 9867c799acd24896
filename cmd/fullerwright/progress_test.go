package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// columns is how wide the terminal of these tests is.
const columns = 96

// onTerminal runs the command with its messages on a terminal of 96 columns, and
// returns the exit code, the results and all that the terminal was sent.
func onTerminal(t *testing.T, arguments ...string) (code int, results, sent string) {
	t.Helper()
	screen, keyboard, err := pty.Open()
	require.NoError(t, err)
	require.NoError(t, pty.Setsize(screen, &pty.Winsize{Rows: 24, Cols: columns}))
	all := make(chan string)
	go func() {
		var got bytes.Buffer
		piece := make([]byte, 4096)
		for {
			n, err := screen.Read(piece)
			got.Write(piece[:n])
			if err != nil { // the other end is shut
				all <- got.String()
				return
			}
		}
	}()
	var out bytes.Buffer
	code = run(context.Background(), arguments, &out, keyboard)
	require.NoError(t, keyboard.Close())
	sent = <-all
	require.NoError(t, screen.Close())
	return code, out.String(), sent
}

// after returns what stands on a terminal's last line once all was sent to it.
func after(sent string) string {
	line := []byte{}
	column := 0
	for _, b := range []byte(sent) {
		switch {
		case b == '\n':
			line, column = nil, 0
		case b == '\r':
			column = 0
		case column < len(line):
			line[column] = b
			column++
		default:
			line = append(line, b)
			column++
		}
	}
	return strings.TrimRight(string(line), " ")
}

func TestProgressOnATerminal(t *testing.T) {
	dir := t.TempDir()
	program := filepath.Join(dir, "built", "fuller-right.nc")
	for _, row := range []struct {
		arguments     []string
		first, within string // the first step, and one in which the bar moves
		last          string
	}{
		{[]string{"build", "-o", filepath.Join(dir, "built")}, "planning", "proving fuller-left.nc", "setting the setup sheet"},
		{[]string{"mill", "-o", filepath.Join(dir, "milled")}, "planning", "proving fuller-right.nc", "proving fuller-left.nc"},
		{[]string{"prove", program, "--knife", "tarn"}, "reading fuller-right.nc", "cutting the bar with fuller-right.nc", "cutting the bar with fuller-right.nc"},
		{[]string{"prove", program}, "reading fuller-right.nc", "", "cutting the bar with fuller-right.nc"},
		{[]string{"prove", program, "--knife", "tarn", "--picture", filepath.Join(dir, "drawn")}, "reading fuller-right.nc", "", "drawing the proof of fuller-right.nc"},
	} {
		code, results, sent := onTerminal(t, row.arguments...)
		assert.Equal(t, exitDone, code, "%v", row.arguments)
		assert.NotEmpty(t, results)
		steps, percents := stepsShown(t, sent)
		require.NotEmpty(t, steps, "%q", sent)
		assert.Equal(t, row.first, steps[0])
		assert.Equal(t, row.last, steps[len(steps)-1])
		for i, percent := range percents { // every step counts alike
			assert.InDelta(t, 100*float64(i)/float64(len(steps)), percent, 0.5, "%v: %s", row.arguments, steps[i])
		}
		if row.within != "" {
			assert.Greater(t, strings.Count(sent, row.within), 3, "%v", row.arguments)
		}
		checkBar(t, row.arguments[0], sent)
	}
}

// stepsShown returns the steps that a bar has shown and the percentage that each began at.
func stepsShown(t *testing.T, sent string) (steps []string, percents []float64) {
	t.Helper()
	for _, m := range regexp.MustCompile(`\r *(\d+) % \|=* *\| ([^\r]*[^\r ])`).FindAllStringSubmatch(sent, -1) {
		if len(steps) > 0 && steps[len(steps)-1] == m[2] {
			continue
		}
		percent, err := strconv.ParseFloat(m[1], 64)
		require.NoError(t, err)
		steps, percents = append(steps, m[2]), append(percents, percent)
	}
	return steps, percents
}

// checkBar: the bar only grows, stays on its line, ends beyond its half and is wiped
// away.
func checkBar(t *testing.T, name, sent string) {
	t.Helper()
	last := 0
	for _, m := range regexp.MustCompile(`(?m)\r *(\d+) % \|(=*)( *)\|`).FindAllStringSubmatch(sent, -1) {
		percent, err := strconv.Atoi(m[1])
		require.NoError(t, err)
		assert.GreaterOrEqual(t, percent, last, name)
		assert.LessOrEqual(t, percent, 100, name)
		assert.Equal(t, 24, len(m[2])+len(m[3]), name)
		last = percent
	}
	assert.GreaterOrEqual(t, last, 50, "%s: %q", name, sent)
	for _, line := range strings.Split(sent, "\r") {
		assert.Less(t, len(line), columns, "%s: %q", name, line)
	}
	assert.Empty(t, after(sent), name)
}

// TestQuiet: no bar with --quiet, and none where messages do not go to a terminal, be
// that a file or a pipe.
func TestQuiet(t *testing.T) {
	dir := t.TempDir()
	for _, arguments := range [][]string{{"build", "--quiet", "-o", filepath.Join(dir, "a")}, {"mill", "-q", "-o", filepath.Join(dir, "b")},
		{"prove", "-q", filepath.Join(dir, "a", "fuller-right.nc"), "--knife", "tarn"}} {
		code, results, sent := onTerminal(t, arguments...)
		assert.Equal(t, exitDone, code, "%v", arguments)
		assert.NotEmpty(t, results)
		assert.Empty(t, sent, "%v", arguments)
	}
	file, err := os.Create(filepath.Join(dir, "messages"))
	require.NoError(t, err)
	assert.Equal(t, exitDone, run(context.Background(), []string{"mill", "-o", filepath.Join(dir, "c")}, io.Discard, file))
	require.NoError(t, file.Close())
	said, err := os.ReadFile(file.Name())
	require.NoError(t, err)
	assert.Empty(t, said)
}

// onSight does something once it has been sent a text.
type onSight struct {
	bytes.Buffer
	text string
	do   func()
}

func (w *onSight) Write(piece []byte) (int, error) {
	n, err := w.Buffer.Write(piece)
	if strings.Contains(w.String(), w.text) {
		w.do()
	}
	return n, err
}

// TestInterruptedAtWork: an interrupt while a step is under way ends it, wipes the bar
// away and leaves nothing behind.
func TestInterruptedAtWork(t *testing.T) {
	made := filepath.Join(t.TempDir(), "made")
	require.Equal(t, exitDone, run(context.Background(), []string{"mill", "-o", made}, io.Discard, io.Discard))
	proved := filepath.Join(made, "fuller-right.nc")
	for when, arguments := range map[string][]string{
		"planning":             {"build", "-o", "OUT"},
		"proving fuller-right": {"build", "-o", "OUT"},
		"proving fuller-left":  {"mill", "-o", "OUT"},
		"drawing the template": {"build", "-o", "OUT"},
		"reading":              {"prove", proved, "--knife", "tarn", "--picture", "OUT"},
		"cutting":              {"prove", proved},
		"drawing":              {"prove", proved, "--knife", "tarn", "--picture", "OUT"},
	} {
		dir := t.TempDir()
		if arguments[len(arguments)-1] == "OUT" {
			arguments[len(arguments)-1] = filepath.Join(dir, "out")
		}
		ctx, interrupt := context.WithCancel(context.Background())
		screen := &onSight{text: when, do: interrupt}
		var results, problems bytes.Buffer
		p := &program{ctx: ctx, stdout: &results, stderr: &problems, progress: &progress{out: screen, columns: func() int { return columns }}}
		assert.Equal(t, exitStop, p.run(arguments), when)
		assert.Equal(t, "fullerwright: interrupted; nothing was written\n", problems.String(), when)
		// A proof that was told before its picture was drawn stays told.
		assert.Equal(t, when == "drawing", results.Len() > 0, when)
		assert.Len(t, listing(t, dir), 1, when)
		p.progress.part(1, 1) // what the step that was left alone may still say
		assert.Empty(t, after(screen.String()), when)
		interrupt()
	}
}

// TestNarrowTerminal: the bar is cut off before the last column, and one of no width
// harms nothing.
func TestNarrowTerminal(t *testing.T) {
	for _, width := range []int{0, 1, 12, 40} {
		var screen bytes.Buffer
		b := &progress{out: &screen, columns: func() int { return width }}
		b.expect(2)
		b.begin("planning everything there is to plan")
		whole := "  0 % |                        | planning everything there is to plan"
		assert.Equal(t, strings.TrimRight(whole[:max(0, width-1)], " "), after(screen.String()))
		b.end()
		assert.Empty(t, after(screen.String()))
	}
}

// TestPartsMoveTheBar: a step of two, half done, is a quarter of the work; what comes
// late from a step does not move the bar back.
func TestPartsMoveTheBar(t *testing.T) {
	var screen bytes.Buffer
	b := &progress{out: &screen, columns: func() int { return columns }}
	b.expect(2)
	b.begin("one")
	b.part(5, 10)
	b.part(4, 10)
	assert.Equal(t, " 25 % |======                  | one", after(screen.String()))
	b.end()
	b.begin("two")
	assert.Equal(t, " 50 % |============            | two", after(screen.String()))
}
