package export

import (
	"math"
	"strings"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// block is a table or a text that goes into a column of a page. A block without heads
// is a text: one cell a row.
type block struct {
	title  string
	heads  []string
	widths []float64 // of the columns; the first takes what the others leave
	rows   [][]string
}

// columnLeast is the least width of a column of tables, mm.
const columnLeast = 124.0

// paging lays cells and blocks on pages, from the room that is left on the first.
type paging struct {
	blank   func() sheet.Sheet
	whole   area // of a page that is free
	pages   []sheet.Sheet
	current pencil
	room    area // that is left of the page
}

// newPaging begins with an empty page.
func newPaging(p pencil, whole area, blank func() sheet.Sheet) *paging {
	g := &paging{blank: blank, whole: whole, current: p}
	g.turn()
	return g
}

func (g *paging) turn() {
	g.pages = append(g.pages, g.blank())
	g.current.sheet = &g.pages[len(g.pages)-1]
	g.room = g.whole
}

// flow lays views under each other, cells in rows and then blocks in columns, and
// returns the pages that it took. The sheet of the pencil names them.
func flow(p pencil, o PlanOptions, description string, views, cells []cell, blocks []block) []sheet.Sheet {
	title := p.sheet.Title
	g := newPaging(p, o.free(), func() sheet.Sheet { return o.newPage(title, description) })
	for _, b := range views {
		b.draw(g.current, g.room.left, g.room.top)
		g.room.top, g.room.height = g.room.top-b.height-cellGap, g.room.height-b.height-cellGap
	}
	rest, blocks := g.cells(cells, blocks)
	g.columns(rest, blocks, true)
	return g.pages
}

// cells lays cells in rows, each as high as its highest. What a row leaves of a page that
// the next does not fit, blocks take. It returns the cells of a last row that found no
// room, and the blocks that are left.
func (g *paging) cells(cells []cell, blocks []block) ([]cell, []block) {
	for len(cells) > 0 {
		n, width, height := rowOf(cells, g.room.width)
		if height > g.room.height {
			if n == len(cells) && g.room.height < g.whole.height/2 {
				return cells, blocks
			}
			blocks = g.columns(nil, blocks, false)
			g.turn()
		}
		x, gap := g.room.left, (g.room.width-width)/float64(n)
		for _, c := range cells[:n] {
			c.draw(g.current, x+gap/2, g.room.top)
			x += c.width + gap
		}
		cells = cells[n:]
		g.room.top, g.room.height = g.room.top-height-cellGap, g.room.height-height-cellGap
	}
	return nil, blocks
}

// rowOf returns how many cells go into a row, and the size of that.
func rowOf(cells []cell, room float64) (n int, width, height float64) {
	for n < len(cells) && (n == 0 || width+cells[n].width <= room) {
		width, height = width+cells[n].width, math.Max(height, cells[n].height)
		n++
	}
	return n, width, height
}

const (
	cellGap    = 4.0
	blockTitle = 6.5 // from the top of a block to that of its first row
	headRow    = 5.2
	rowHeight  = 4.3
	blockGap   = 4.0
	// columnHeightLeast is the least height of what is left of a page that is still
	// laid out in columns.
	columnHeightLeast = 40.0
	wholeRows         = 14 // of a block that is kept together
)

// columns lays cells and blocks in columns, each as soon as it finds room. A long block
// that does not fit goes on in the next column, with its heads repeated; a short one is
// kept together. Where it may not turn the page it returns what found no room.
func (g *paging) columns(cells []cell, blocks []block, mayTurn bool) []block {
	count := int(math.Max(1, math.Floor(g.room.width/columnLeast)))
	width := g.room.width / float64(count)
	column, used := 0, 0.0
	if g.room.height < columnHeightLeast {
		column = count
	}
	next := func() { column, used = column+1, 0 }
	for len(cells)+len(blocks) > 0 {
		if column == count {
			if !mayTurn {
				return blocks
			}
			g.turn()
			column = 0
		}
		at := area{g.room.left + float64(column)*width, g.room.top - used, width - 4, g.room.height - used}
		if len(cells) > 0 && (cells[0].height <= at.height || used == 0 && at.height == g.whole.height) {
			cells[0].draw(g.current, at.left+(at.width-cells[0].width)/2, at.top)
			used += cells[0].height + blockGap
			cells = cells[1:]
			continue
		}
		empty := used == 0 && at.height == g.whole.height
		pick, rows := fitting(blocks, at.height, empty)
		if rows == 0 {
			next()
			continue
		}
		b := blocks[pick]
		g.current.table(b, rows, at)
		used += b.headHeight() + rowHeight*float64(rows) + blockGap
		blocks = append(append([]block(nil), blocks[:pick]...), blocks[pick+1:]...)
		if rows < len(b.rows) {
			b.rows, b.title = b.rows[rows:], strings.TrimSuffix(b.title, ", continued")+", continued"
			blocks = append([]block{b}, blocks...)
			next()
		}
	}
	return nil
}

// fitting returns the first of the blocks that goes whole into a height; where none does,
// the first of them with as many rows as go in, if it is a long one or the column is an
// empty one. No rows: nothing goes in.
func fitting(blocks []block, height float64, empty bool) (pick, rows int) {
	for i, b := range blocks {
		if b.headHeight()+rowHeight*float64(len(b.rows)) <= height {
			return i, len(b.rows)
		}
	}
	if len(blocks) == 0 {
		return 0, 0
	}
	fits := min(len(blocks[0].rows), int((height-blocks[0].headHeight())/rowHeight))
	if fits >= wholeRows || empty {
		return 0, max(1, fits)
	}
	return 0, 0
}

func (b block) headHeight() float64 {
	if len(b.heads) == 0 {
		return blockTitle
	}
	return blockTitle + headRow
}

// table draws the first rows of a block.
func (p pencil) table(b block, rows int, a area) {
	p.add("tables", sheet.Text{At: geom.Point{X: a.left, Y: a.top - 3.2}, Height: 3, Bold: true, Content: b.title})
	y := a.top - blockTitle
	if len(b.heads) > 0 {
		p.tableRow(b, b.heads, a, y)
		y -= headRow
		p.add("tables", sheet.Line(finePen, a.left, y+headRow-rowHeight+0.1, a.left+a.width, y+headRow-rowHeight+0.1))
	}
	for i, row := range b.rows[:rows] {
		p.tableRow(b, row, a, y-rowHeight*float64(i))
	}
}

// tableRow writes one row whose top is at y: the first entry from the left, the others ending
// at the right of their columns.
func (p pencil) tableRow(b block, row []string, a area, y float64) {
	right := a.left + a.width
	for i := len(row) - 1; i >= 0; i-- {
		text := sheet.Text{At: geom.Point{X: right, Y: y - 3.2}, Height: planLetter, Anchor: sheet.End, Content: row[i]}
		if i == 0 {
			text.At.X, text.Anchor = a.left, sheet.Start
		} else {
			right -= b.widths[i]
		}
		if row[i] != "" {
			p.add("tables", text)
		}
	}
}

// wrapped breaks a text into lines no wider than given, in letters of a height.
func wrapped(r sheet.Ruler, text string, height, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && r.Width(sheet.Text{Height: height, Content: longer}) > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	return append(lines, line)
}
