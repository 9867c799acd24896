package export

import (
	"strconv"
	"strings"
)

// decimalsOf returns how many decimals a cell has that is a plain number.
func decimalsOf(cell string) (count int, number bool) {
	if _, err := strconv.ParseFloat(cell, 64); err != nil {
		return 0, false
	}
	_, after, _ := strings.Cut(cell, ".")
	return len(after), true
}

// alignDecimals gives the numbers of each column of a table the same count of decimals, so
// that their points stand under each other. Words and fractions stay as they are.
func (b block) alignDecimals() {
	for column := range b.widths {
		most := 0
		for _, row := range b.rows {
			count, _ := decimalsOf(row[column])
			most = max(most, count)
		}
		for _, row := range b.rows {
			count, number := decimalsOf(row[column])
			if !number || count == most {
				continue
			}
			if count == 0 {
				row[column] += "."
			}
			row[column] += strings.Repeat("0", most-count)
		}
	}
}
