package proof

import (
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"fullerwright/toolpath/motion"
)

// bandRows is how many rows of nodes are cut together. Sums over nodes are made band
// by band, so that they do not depend on how many workers there are.
const bandRows = 16

// Cut runs the motions of one setup over the map, in order, and returns what each did.
// Rapid moves cut as fed ones do. Where two motions leave a node equally high the
// earlier one counts as having made it.
func (m *Map) Cut(p motion.Placement, c Cutter, motions []motion.Motion) []Block {
	return m.cut(p, c, motions, runtime.GOMAXPROCS(0))
}

func (m *Map) cut(p motion.Placement, c Cutter, motions []motion.Motion, workers int) []Block {
	blocks := make([]Block, len(motions))
	for i, v := range motions {
		blocks[i].Motion = toFace(v, p)
	}
	all := m.sweepsOf(blocks, c)
	bands := (m.Grid.Rows + bandRows - 1) / bandRows
	results := make([][]tally, bands)
	var done atomic.Int64
	spread(bands, workers, func(band int) {
		results[band] = m.cutBand(band, all)
		if m.Watch != nil {
			m.Watch(int(done.Add(1)), bands)
		}
	})
	totals := make([]tally, len(all))
	for _, band := range results {
		for _, t := range band {
			total := &totals[t.sweep]
			total.removed += t.removed
			if t.deepest > total.deepest {
				total.deepest, total.x, total.y = t.deepest, t.x, t.y
			}
		}
	}
	for i, t := range totals {
		blocks[all[i].index].count(all[i], t)
		if all[i].job == cuts {
			m.cuts = append(m.cuts, all[i])
		}
	}
	return blocks
}

// sweepsOf returns the sweeps that reach the map, and sets how steep each block is.
func (m *Map) sweepsOf(blocks []Block, c Cutter) []sweep {
	p := path{end: endOf(c)}
	var all []sweep
	for i := range blocks {
		v, next := blocks[i].Motion, motion.Motion{}
		if i+1 < len(blocks) {
			next = blocks[i+1].Motion
		}
		// What the motion would meet is looked at before it cuts.
		made := append(m.lookAhead(v, c), p.add(v, next)...)
		for _, s := range made {
			if s.job == cuts {
				blocks[i].Steepest = math.Max(blocks[i].Steepest, s.fall)
			}
			s.index = i
			if m.reached(s) {
				all = append(all, s)
			}
		}
	}
	return all
}

// reached reports whether a sweep can reach the map at all.
func (m *Map) reached(s sweep) bool {
	g := m.Grid
	return s.lowest < m.top && s.reach.MaxX >= g.X0 && s.reach.MinX <= g.X(g.Columns-1) && s.reach.MaxY >= g.Y0 && s.reach.MinY <= g.Y(g.Rows-1)
}

// tally is what a sweep did in one band.
type tally struct {
	sweep                  int
	removed, deepest, x, y float64
}

// onNode is how far beyond a node, in steps, a span may end and yet count to it: nodes
// on the joint of two spans must not fall between them.
const onNode = 1e-9

// columns returns the columns of nodes from x0 to x1; first > last where there are
// none.
func (g Grid) columns(x0, x1 float64) (first, last int) {
	a := math.Max(0, math.Ceil((x0-g.X0)/g.Step-onNode))
	b := math.Min(float64(g.Columns-1), math.Floor((x1-g.X0)/g.Step+onNode))
	if !(a <= b) {
		return 1, 0
	}
	return int(a), int(b)
}

// rows returns the rows of nodes from y0 to y1, of those from low to high.
func (g Grid) rows(y0, y1 float64, low, high int) (first, last int) {
	a := math.Max(float64(low), math.Ceil((y0-g.Y0)/g.Step-onNode))
	b := math.Min(float64(high), math.Floor((y1-g.Y0)/g.Step+onNode))
	if !(a <= b) {
		return 1, 0
	}
	return int(a), int(b)
}

func (m *Map) cutBand(band int, all []sweep) []tally {
	g := m.Grid
	low, high := band*bandRows, min(g.Rows, (band+1)*bandRows)-1
	var out []tally
	var spans []span
	for i := range all {
		s := &all[i]
		first, last := g.rows(s.reach.MinY, s.reach.MaxY, low, high)
		t := tally{sweep: i}
		for row := first; row <= last; row++ {
			spans = s.shape.spans(g.Y(row), spans[:0])
			for _, p := range spans {
				c0, c1 := g.columns(math.Max(p.x0, s.reach.MinX), math.Min(p.x1, s.reach.MaxX))
				switch {
				case c0 > c1:
				case s.job != cuts:
					m.meet(row, [2]int{c0, c1}, p, s, &t)
				case p.node:
					m.cutNodes(row, [2]int{c0, c1}, s, &t)
				case p.uncurve:
					m.cutStraight(row, [2]int{c0, c1}, p, s, &t)
				default:
					m.cutCurve(row, [2]int{c0, c1}, p, s, &t)
				}
			}
		}
		if t.deepest > 0 {
			out = append(out, t)
		}
	}
	return out
}

// lower sets a node that a sweep reaches and counts what it took off.
func (m *Map) lower(i, column, row int, h float64, s *sweep, t *tally) {
	g := m.Grid
	off := m.Height[i] - h
	m.Height[i], m.Line[i] = h, int32(s.line)
	t.removed += float64(off*g.Step) * g.Step
	if off > t.deepest {
		t.deepest, t.x, t.y = off, g.X(column), g.Y(row)
	}
}

func (m *Map) cutStraight(row int, columns [2]int, p span, s *sweep, t *tally) {
	g := m.Grid
	start := row * g.Columns
	for column, now := range m.Height[start+columns[0] : start+columns[1]+1] {
		column += columns[0]
		if h := p.a + float64(p.b*g.X(column)); h < now {
			m.lower(start+column, column, row, h, s, t)
		}
	}
}

func (m *Map) cutCurve(row int, columns [2]int, p span, s *sweep, t *tally) {
	g := m.Grid
	start := row * g.Columns
	for column, now := range m.Height[start+columns[0] : start+columns[1]+1] {
		if s.lowest >= now {
			continue
		}
		column += columns[0]
		// At the rim the root of less than nothing is no height, and lowers nothing.
		if h := p.at(g.X(column)); h < now {
			m.lower(start+column, column, row, h, s, t)
		}
	}
}

func (m *Map) cutNodes(row int, columns [2]int, s *sweep, t *tally) {
	g := m.Grid
	start, y := row*g.Columns, g.Y(row)
	for column, now := range m.Height[start+columns[0] : start+columns[1]+1] {
		if s.lowest >= now {
			continue
		}
		column += columns[0]
		if h := s.shape.over(g.X(column), y); h < now {
			m.lower(start+column, column, row, h, s, t)
		}
	}
}

// meet sees how far steel stands up into a sweep, and leaves it.
func (m *Map) meet(row int, columns [2]int, p span, s *sweep, t *tally) {
	g := m.Grid
	for column := columns[0]; column <= columns[1]; column++ {
		x, y := g.X(column), g.Y(row)
		h := p.at(x)
		if p.node {
			h = s.shape.over(x, y)
		}
		if in := m.At(column, row) - h; in > t.deepest {
			t.deepest, t.x, t.y = in, x, y
		}
	}
}

// inRows calls f for every row, over all processors.
func inRows(g Grid, f func(row int)) {
	bands := (g.Rows + bandRows - 1) / bandRows
	spread(bands, runtime.GOMAXPROCS(0), func(band int) {
		for row := band * bandRows; row < min(g.Rows, (band+1)*bandRows); row++ {
			f(row)
		}
	})
}

// spread calls f for 0 to n-1, on several workers.
func spread(n, workers int, f func(i int)) {
	next := make(chan int)
	var wait sync.WaitGroup
	for range max(1, min(workers, n)) {
		wait.Go(func() {
			for i := range next {
				f(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
}
