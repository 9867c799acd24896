package lettering

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestReadableAtTwoAndAHalf cuts each character 2.5 mm high with a line of 0.3 mm, the
// line that suits such capitals, on a grid, and counts what is left standing inside it
// and the parts it is cut in: an eye that closes or a dot that touches its letter is
// found, and so is a dot whose middle is left standing.
func TestReadableAtTwoAndAHalf(t *testing.T) {
	eyes := map[rune]int{'A': 1, 'B': 2, 'D': 1, 'O': 1, 'P': 1, 'Q': 1, 'R': 1, 'a': 1, 'b': 1, 'd': 1, 'e': 1, 'g': 1, 'o': 1, 'p': 1, 'q': 1,
		'0': 1, '4': 1, '6': 1, '8': 2, '9': 1, '#': 1, '&': 2, '°': 1, 'Ä': 1, 'Ö': 1, 'ä': 1, 'ö': 1, 'é': 1, 'Å': 2, 'å': 2, 'Ø': 2, 'ø': 2, 'Æ': 1, 'æ': 2}
	parts := map[rune]int{'i': 2, 'j': 2, ':': 2, 'Ä': 3, 'Ö': 3, 'Ü': 3, 'ä': 3, 'ö': 3, 'ü': 3, 'É': 2, 'é': 2, 'Å': 2, 'å': 2, 'Ñ': 2, 'ñ': 2}
	for _, character := range Alphabet() {
		cut := cutOnGrid(set(t, string(character), 2.5, 0.3), 0.3)
		assert.Equal(t, eyes[character], cut.count(false)-1, "eyes of %c", character)
		assert.Equal(t, max(1, parts[character]), cut.count(true), "parts of %c", character)
	}
}

// grid says of each cell whether its middle is cut.
type grid [][]bool

// cutOnGrid cuts strokes with a line of a width on cells of a tenth of that.
func cutOnGrid(s Strokes, line float64) grid {
	cell := line / 10
	box := s.Bounds()
	columns := int((box.Max.X-box.Min.X+2*line)/cell) + 1
	rows := int((box.Max.Y-box.Min.Y+2*line)/cell) + 1
	out := make(grid, rows)
	for r := range out {
		out[r] = make([]bool, columns)
	}
	for _, chain := range s.Chains() {
		for _, piece := range chain.Pieces() {
			for n, k := math.Ceil(piece.Length()/cell*2), 0.0; k <= n; k++ {
				p := piece.At(k / n)
				out.stamp((p.X-box.Min.X+line)/cell, (p.Y-box.Min.Y+line)/cell)
			}
		}
	}
	return out
}

// stamp cuts the cells within a line's half width, five cells, of a point.
func (g grid) stamp(x, y float64) {
	for r := int(y) - 5; r <= int(y)+6; r++ {
		for c := int(x) - 5; c <= int(x)+6; c++ {
			if math.Hypot(float64(c)-x, float64(r)-y) <= 5 {
				g[r][c] = true
			}
		}
	}
}

// count returns in how many connected parts the cells are that are cut, or are not.
// Cells of what is cut also meet at their corners.
func (g grid) count(cut bool) int {
	seen, parts := map[[2]int]bool{}, 0
	for r := range g {
		for c := range g[r] {
			if g[r][c] != cut || seen[[2]int{r, c}] {
				continue
			}
			parts++
			g.flood([2]int{r, c}, seen)
		}
	}
	return parts
}

func (g grid) flood(from [2]int, seen map[[2]int]bool) {
	cut := g[from[0]][from[1]]
	seen[from] = true
	for rest := [][2]int{from}; len(rest) > 0; {
		at := rest[len(rest)-1]
		rest = rest[:len(rest)-1]
		for dr := -1; dr <= 1; dr++ {
			for dc := -1; dc <= 1; dc++ {
				next := [2]int{at[0] + dr, at[1] + dc}
				inside := next[0] >= 0 && next[0] < len(g) && next[1] >= 0 && next[1] < len(g[0])
				if !inside || !cut && dr*dc != 0 || seen[next] || g[next[0]][next[1]] != cut {
					continue
				}
				seen[next] = true
				rest = append(rest, next)
			}
		}
	}
}
