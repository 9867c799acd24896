package proof

import (
	"math"
	"runtime"
	"sync"

	"fullerwright/toolpath/motion"
)

// bandRows is how many rows of nodes are cut together. Sums over nodes are made band
// by band, so that they do not depend on how many workers there are.
const bandRows = 16

// Block is what one motion did to the bar.
type Block struct {
	Motion  motion.Motion // in the face frame
	Deepest float64       // greatest height it took off at a node, mm
	Removed float64       // steel, mm³
	X, Y    float64       // where it took off most
	// Steepest is the steepest way down, as way down over way along.
	Steepest float64
}

// Cut runs the motions of one setup over the map, in order, and returns what each did.
func (m *Map) Cut(p motion.Placement, c Cutter, motions []motion.Motion) []Block {
	return m.cut(p, c, motions, runtime.GOMAXPROCS(0))
}

func (m *Map) cut(p motion.Placement, c Cutter, motions []motion.Motion, workers int) []Block {
	blocks := make([]Block, len(motions))
	var all []sweep
	for i, v := range motions {
		blocks[i].Motion = toFace(v, p)
		for _, s := range sweeps(blocks[i].Motion, c, i) {
			blocks[i].Steepest = math.Max(blocks[i].Steepest, s.steepest)
			if m.reached(s) {
				all = append(all, s)
			}
		}
	}
	bands := (m.Grid.Rows + bandRows - 1) / bandRows
	results := make([][]tally, bands)
	spread(bands, workers, func(band int) { results[band] = m.cutBand(band, all) })
	for _, band := range results {
		for _, t := range band {
			b := &blocks[t.index]
			b.Removed += t.removed
			if t.deepest > b.Deepest {
				b.Deepest, b.X, b.Y = t.deepest, t.x, t.y
			}
		}
	}
	return blocks
}

// reached reports whether a sweep can reach the map at all.
func (m *Map) reached(s sweep) bool {
	g := m.Grid
	return s.x1 >= g.X0 && s.x0 <= g.X(g.Columns-1) && s.y1 >= g.Y0 && s.y0 <= g.Y(g.Rows-1)
}

// tally is what a sweep did in one band.
type tally struct {
	index                  int
	removed, deepest, x, y float64
}

func (m *Map) cutBand(band int, all []sweep) []tally {
	g := m.Grid
	first, last := band*bandRows, min(g.Rows, (band+1)*bandRows)-1
	var out []tally
	for _, s := range all {
		r0 := max(first, int(math.Ceil((s.y0-g.Y0)/g.Step)))
		r1 := min(last, int(math.Floor((s.y1-g.Y0)/g.Step)))
		c0 := max(0, int(math.Ceil((s.x0-g.X0)/g.Step)))
		c1 := min(g.Columns-1, int(math.Floor((s.x1-g.X0)/g.Step)))
		t := tally{index: s.index}
		for row := r0; row <= r1; row++ {
			m.cutRow(row, c0, c1, s, &t)
		}
		if t.deepest > 0 {
			out = append(out, t)
		}
	}
	return out
}

func (m *Map) cutRow(row, c0, c1 int, s sweep, t *tally) {
	g := m.Grid
	y := g.Y(row)
	heights := m.Height[row*g.Columns : (row+1)*g.Columns]
	lines := m.Line[row*g.Columns : (row+1)*g.Columns]
	for column := c0; column <= c1; column++ {
		now := heights[column]
		if s.lowest >= now {
			continue
		}
		x := g.X(column)
		h := s.shape.over(x, y)
		if !(h < now) {
			continue
		}
		off := now - h
		heights[column], lines[column] = h, int32(s.line)
		t.removed += off * g.Step * g.Step
		if off > t.deepest {
			t.deepest, t.x, t.y = off, x, y
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
