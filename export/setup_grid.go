package export

import (
	"math"

	"fullerwright/export/sheet"
)

// columnWidths shares the width of a table among its columns. Each gets what its longest
// cell takes; what is then left over goes by the shares of the table. Where it does not
// reach, numbers stay whole and the longest words are parted into lines.
func (f *setupFlow) columnWidths(v grid, room float64) []float64 {
	widths := make([]float64, len(v.shares))
	sum, shares, words := 0.0, 0.0, 0.0
	for i := range widths {
		widths[i] = f.longest(v, i)
		sum += widths[i]
		shares += v.shares[i]
		if i < v.texts {
			words += widths[i]
		}
	}
	if sum <= room {
		for i := range widths {
			widths[i] += (room - sum) * v.shares[i] / shares
		}
		return widths
	}
	most := evenly(widths[:v.texts], words-(sum-room))
	for i := range widths[:v.texts] {
		widths[i] = math.Min(widths[i], most)
	}
	return widths
}

// longest returns how wide a column of a table is with every cell in one line, mm.
func (f *setupFlow) longest(v grid, column int) float64 {
	widest := f.textWidth(v.head[column], setupLetter, true)
	for _, row := range v.rows {
		if column < len(row) {
			widest = math.Max(widest, f.textWidth(row[column], setupLetter, false))
		}
	}
	return widest + setupGap + rounding
}

// rounding is what sums of widths may be off by, mm.
const rounding = 0.01

// evenly returns the width to which columns must be cut for all to fit into the room.
func evenly(widths []float64, room float64) float64 {
	most := room / float64(max(1, len(widths)))
	for range widths {
		over, left := 0, room
		for _, w := range widths {
			if w > most {
				over++
			} else {
				left -= w
			}
		}
		if over == 0 {
			break
		}
		most = left / float64(over)
	}
	return math.Max(most, setupGap+setupBox)
}

// addGrid sets a table; its head is said again on every page.
func (f *setupFlow) addGrid(v grid) {
	left := float64(setupMargin)
	if v.tick {
		left += setupBox + setupGap
	}
	widths := f.columnWidths(v, f.paper.Width-setupMargin-left)
	row := func(cells []string, bold, measureOnly bool) float64 {
		x, lines := left, 0
		for i, cell := range cells {
			width := widths[i]
			w := f.wrapped(cell, width-setupGap, bold)
			lines = max(lines, len(w))
			if !measureOnly {
				look, at := sheet.Text{Bold: bold}, x
				if i >= v.texts {
					look.Anchor, at = sheet.End, x+width-setupGap/2
				}
				f.write(at, 0, w, look)
			}
			x += width
		}
		return float64(lines)*f.pitch.line + 0.4
	}
	head := row(v.head, true, true)
	setHead := func() {
		row(v.head, true, false)
		f.y -= head
		f.rule()
	}
	first := head
	if len(v.rows) > 0 {
		first += row(v.rows[0], false, true)
	}
	f.need(first)
	setHead()
	for _, cells := range v.rows {
		height := row(cells, false, true)
		if f.room() < height {
			f.need(height)
			setHead()
		}
		if v.tick {
			f.tickAt(setupMargin)
		}
		row(cells, false, false)
		f.y -= height
		f.rule()
	}
	f.y -= 1
}
