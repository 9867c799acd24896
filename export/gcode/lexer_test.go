package gcode

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
)

const otherLexer = "../../testdata/lexer"

// otherWords asks a general-purpose parser of the npm registry (gcode-parser 2.2.0, MIT)
// for the words of lines. It knows letters and numbers, and no rule of the standard.
func otherWords(t *testing.T, lines []string) [][]string {
	t.Helper()
	if _, err := os.Stat(filepath.Join(otherLexer, "node_modules", "gcode-parser")); err != nil {
		t.Skip("SKIPPED: no second opinion on words; run npm ci --ignore-scripts in testdata/lexer")
	}
	command := exec.Command("node", "words.js")
	command.Dir = otherLexer
	command.Stdin = strings.NewReader(strings.Join(lines, "\n") + "\n")
	out, err := command.Output()
	require.NoError(t, err)
	var all [][]string
	for _, line := range bytes.Split(bytes.TrimSpace(out), []byte("\n")) {
		var words [][2]any
		require.NoError(t, json.Unmarshal(line, &words))
		var one []string
		for _, w := range words {
			value, number := w[1].(float64)
			require.True(t, number, "%s", line)
			one = append(one, sayWord(w[0].(string)[0], value))
		}
		slices.Sort(one)
		all = append(all, one)
	}
	require.Len(t, all, len(lines))
	return all
}

func sayWord(letter byte, value float64) string {
	if value == 0 {
		value = 0 // no negative zero
	}
	return fmt.Sprintf("%c%.9g", letter, value)
}

// ourWords takes a line apart as the reader does. A line number is kept by its text alone.
func ourWords(line string) ([]string, error) {
	m := newMachine(nil)
	b, err := m.lex([]byte(line))
	if err != nil {
		return nil, err
	}
	var out []string
	for i, w := range b.words {
		if w.given {
			out = append(out, sayWord(byte('A'+i), w.value))
		}
	}
	for group := range b.g {
		if b.g[group] >= 0 {
			out = append(out, sayWord('G', float64(b.g[group])/10))
		}
		if b.m[group] >= 0 {
			out = append(out, sayWord('M', float64(b.m[group])))
		}
	}
	slices.Sort(out)
	return out, nil
}

func withoutLineNumbers(words []string) []string {
	return slices.DeleteFunc(slices.Clone(words), func(w string) bool { return w[0] == 'N' })
}

// TestWordsAgainstAnotherParser: the reader tells the words of a line apart as a parser of
// other origin does, in our own programs of every dialect and in thousands of random lines
// of the letters and spellings that both know.
func TestWordsAgainstAnotherParser(t *testing.T) {
	var lines []string
	for _, name := range []string{"tarn", "kite"} {
		checked := checkedJob(t, name, profile.Right, toolpath.AboutY)
		for _, d := range dialect.Presets() {
			for _, inch := range []bool{false, true} {
				text, err := Write(checked, d, inch, []string{"A heading, with words: G1 X2"})
				require.NoError(t, err)
				for _, line := range strings.Split(strings.ReplaceAll(string(text), "\r", ""), "\n") {
					if line != "" && line != "%" {
						lines = append(lines, line)
					}
				}
			}
		}
	}
	written := len(lines)
	random := rand.New(rand.NewPCG(11, 7))
	for range 4000 {
		lines = append(lines, randomLine(random))
	}
	compared := 0
	for i, other := range otherWords(t, lines) {
		ours, err := ourWords(lines[i])
		if i < written {
			require.NoError(t, err, "%q", lines[i])
		} else if err != nil {
			continue // a rule that a parser of words does not know
		}
		compared++
		if !assert.Equal(t, withoutLineNumbers(other), ours, "%q", lines[i]) {
			return
		}
	}
	assert.Greater(t, compared, written+2000)
}

// randomLine makes a line of different letters, spelled in many ways.
func randomLine(r *rand.Rand) string {
	var b strings.Builder
	if r.IntN(3) == 0 {
		fmt.Fprintf(&b, "N%d ", r.IntN(9999))
	}
	letters := []byte("XYZIJKFSTPQRLABC")
	r.Shuffle(len(letters), func(i, j int) { letters[i], letters[j] = letters[j], letters[i] })
	words := []string{fmt.Sprintf("G%d", []int{0, 1, 2, 3, 17, 18, 19, 20, 21, 90, 91, 94}[r.IntN(12)])}
	for _, letter := range letters[:r.IntN(6)] {
		number := []string{"%.0f", "%.1f", "%.4f", "%+.3f", "%08.3f", "%.0f."}[r.IntN(6)]
		text := fmt.Sprintf(number, (r.Float64()-0.5)*200)
		if strings.ContainsRune("FSTPQL", rune(letter)) {
			text = fmt.Sprint(r.IntN(500))
		}
		if r.IntN(4) == 0 {
			letter += 'a' - 'A'
		}
		words = append(words, string(letter)+text)
	}
	gap := []string{"", " ", "  ", "\t"}[r.IntN(4)]
	b.WriteString(strings.Join(words, gap))
	if r.IntN(4) == 0 {
		b.WriteString(" (a comment)")
	}
	return b.String()
}
