package gcode_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// oracleChanged changes one thing of a program at random: a character more, less or
// other, a line less, doubled, before its neighbour or joined with it.
func oracleChanged(random *rand.Rand, lines []string) []string {
	const alphabet = "0123456789.+-*/[]#=() gmxyzijkfrplqstnd"
	at := random.IntN(len(lines) - 1)
	line, next := lines[at], lines[at+1]
	column := random.IntN(len(line) + 1)
	left, right := line[:column], line[column:]
	letter := string(alphabet[random.IntN(len(alphabet))])
	rest := line[min(column+1, len(line)):]
	ways := [][]string{
		{left + letter + right, next}, {left + letter + rest, next}, {left + rest, next},
		{next}, {line, line, next}, {next, line}, {line + " " + next},
	}
	return slices.Replace(slices.Clone(lines), at, at+2, ways[random.IntN(len(ways))]...)
}

// TestOracleAgreesOnChanges changes one thing of legal programs: some become
// illegal, others different, and both evaluators must see the same.
func TestOracleAgreesOnChanges(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 6556))
	verdicts := map[oracleVerdict]int{}
	for range 1500 {
		author := newOracleAuthor(random)
		author.write(4)
		program := oracleProgram(oracleChanged(random, author.lines))
		oracle, _, difference := oracleCompare(program)
		verdicts[oracle]++
		if difference != nil {
			t.Errorf("%v\n%s", difference, oracleNumbered(program))
		}
	}
	require.Greater(t, verdicts[oracleAccepts], 200)
	require.Greater(t, verdicts[oracleRefuses], 200)
}
