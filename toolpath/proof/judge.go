package proof

import (
	"fmt"
	"math"

	"fullerwright/toolpath/motion"
)

// Tolerance is how far the cut may lie from the design.
type Tolerance struct {
	Gouge    float64 // below it, mm
	Leftover float64 // above it, square to the wall, mm
	Web      float64 // least steel between two faces, mm (JudgeFaces); 0 for no limit
	Land     float64 // least flat between grooves, and to the bar's sides, mm; 0 for no limit
}

// Deviation is a difference between cut and design, where it is greatest.
type Deviation struct {
	Value    float64 // mm
	X, Y     float64
	TextLine int // of the program that cut there last; 0 where nothing did
}

// Judgement is what the proof of one face came to.
type Judgement struct {
	// Gouge is how far the cut lies below the design, upright. Leftover is how far it
	// lies above, square to the wall: the height times the cosine of the wall's lean,
	// from the design's heights at a tenth of a step either way. A ridge between nodes
	// is looked at where its flanks meet.
	Gouge, Leftover   Deviation
	RMS               float64 // of the deviation where anything is designed or cut, upright, mm
	Stations          []Station
	DeepestEngagement Deviation
	ThickestChip      Deviation // at the top of the contact, mm
	BlocksCutting     int       // how many motions took off steel
	Removed           float64   // steel, mm³
	Land              Deviation // least flat left; +Inf where there is none
	Step, Bound       float64   // of the grid, and what it may hide, mm
	Findings          []Finding
}

// OK reports whether nothing was found.
func (j Judgement) OK() bool { return len(j.Findings) == 0 }

// Place is a place of a face where a groove is to be measured.
type Place struct{ X, Y float64 }

// Judge compares a cut map with the design and looks through the blocks. The grooves at
// the places given are measured. The grid's bound must be at most a quarter of the
// tolerance on gouges, else that is a finding.
func Judge(m *Map, design Target, blocks []Block, t Tolerance, l Limits, c Cutter, bound float64, places ...Place) Judgement {
	j := Describe(m, blocks, l, c)
	j.Bound = bound
	j.compare(m, design)
	j.compareWalls(m, design.Walls)
	j.tolerances(t)
	for _, p := range places {
		if s, ok := m.Station(design.Low, p.X, p.Y); ok {
			j.Stations = append(j.Stations, s)
		}
	}
	return j
}

// Describe looks through the blocks of a cut that there is no design for.
func Describe(m *Map, blocks []Block, l Limits, c Cutter) Judgement {
	j := Judgement{Step: m.Grid.Step, Land: m.LeastLand()}
	for _, b := range blocks {
		j.Removed += b.Removed
		if b.Deepest > touch {
			j.BlocksCutting++
		}
		if b.Deepest > j.DeepestEngagement.Value {
			j.DeepestEngagement = Deviation{b.Deepest, b.X, b.Y, b.Motion.TextLine}
		}
		if chip := b.chip(c, l); chip > j.ThickestChip.Value {
			j.ThickestChip = Deviation{chip, b.X, b.Y, b.Motion.TextLine}
		}
	}
	j.Findings = lookThrough(blocks, l, c)
	return j
}

// perTooth returns the feed per tooth of a block that cuts, mm; 0 where it is not known
// or does not cut.
func (b Block) perTooth(c Cutter) float64 {
	if b.Deepest <= touch || b.Motion.Speed <= 0 || c.Flutes == 0 {
		return 0
	}
	return b.Motion.Feed / (b.Motion.Speed * float64(c.Flutes))
}

// chip returns the thickness of a block's chip at the top of the contact, mm: what the
// limits say, or the feed per tooth times the width that the cutter has at the depth
// taken off, over its diameter.
func (b Block) chip(c Cutter, l Limits) float64 {
	if l.ChipThickness != nil {
		if f := b.perTooth(c); f > 0 {
			return l.ChipThickness(f, b.Deepest)
		}
		return 0
	}
	e := endOf(c)
	depth := math.Min(b.Deepest, e.corner)
	return b.perTooth(c) * (e.flat + math.Sqrt(depth*(2*e.corner-depth))) / c.Radius
}

// compared is what the comparison of a row came to.
type compared struct {
	gouge, leftover Deviation
	square, count   float64
}

// compare finds the greatest gouge and leftover.
func (j *Judgement) compare(m *Map, design Target) {
	off := m.deviations(design)
	rows := make([]compared, m.Grid.Rows)
	inRows(m.Grid, func(row int) { rows[row] = compareRow(m, design, off, row) })
	square, count := 0.0, 0.0
	for _, r := range rows {
		square, count = square+r.square, count+r.count
		if r.gouge.Value > j.Gouge.Value {
			j.Gouge = r.gouge
		}
		if r.leftover.Value > j.Leftover.Value {
			j.Leftover = r.leftover
		}
	}
	if count > 0 {
		j.RMS = math.Sqrt(square / count)
	}
}

func compareRow(m *Map, design Target, off []float64, row int) (r compared) {
	g := m.Grid
	y := g.Y(row)
	leave := func(d, x, y float64, i int) {
		if d > r.leftover.Value {
			if d *= uprightness(design.high(), x, y, g.Step/10); d > r.leftover.Value {
				r.leftover = Deviation{d, x, y, int(m.Line[i])}
			}
		}
	}
	for column := range g.Columns {
		i := row*g.Columns + column
		d := off[i]
		if math.IsNaN(d) {
			continue
		}
		r.square += float64(d * d)
		r.count++
		if -d > r.gouge.Value {
			r.gouge = Deviation{-d, g.X(column), y, int(m.Line[i])}
		}
		leave(d, g.X(column), y, i)
	}
	// Ridges between this row's nodes, and between them and the next row's.
	between := func(i, step int, x, y float64) {
		top, at := ridge(off[i-step], off[i], off[i+step], off[i+2*step])
		if !(top > r.leftover.Value) {
			return
		}
		if step == 1 {
			x += at * g.Step
		} else {
			y += at * g.Step
		}
		leave(m.from(design, x, y, m.HeightAt(x, y), m.stock[i]), x, y, i)
	}
	for column := range g.Columns {
		i := row*g.Columns + column
		if column > 0 && column+2 < g.Columns {
			between(i, 1, g.X(column), y)
		}
		if row > 0 && row+2 < g.Rows {
			between(i, g.Columns, g.X(column), y)
		}
	}
	return r
}

// ridge looks for a ridge between the second and the third of four values a step
// apart: both flanks rise to it and meet above both values. It returns about how high
// it is and where, in steps after the second value; 0 where there is none.
func ridge(a0, a, b, b0 float64) (top, at float64) {
	left, right := a-a0, b-b0
	if !(left > 0 && right > 0) {
		return 0, 0
	}
	at = (b - a + right) / (left + right)
	if !(at > 0 && at < 1) {
		return 0, 0
	}
	return a + float64(left*at), at
}

// uprightness returns the cosine of the angle between a surface's normal and the
// upright; 1 where there is none.
func uprightness(s Surface, x, y, d float64) float64 {
	if math.IsInf(s.Height(x, y), -1) {
		return 1
	}
	dx := (s.Height(x+d, y) - s.Height(x-d, y)) / (2 * d)
	dy := (s.Height(x, y+d) - s.Height(x, y-d)) / (2 * d)
	return 1 / math.Sqrt(1+dx*dx+dy*dy)
}

func (j *Judgement) tolerances(t Tolerance) {
	if j.Gouge.Value > t.Gouge {
		j.find("gouge", j.Gouge, t.Gouge, "the cut lies %.4f mm below the design %.2f mm from the guard plane, %.2f mm from the spine line; %.4f mm is allowed: raise this move or look at its zero and cutter",
			j.Gouge.Value, j.Gouge.X, -j.Gouge.Y, t.Gouge)
	}
	if j.Leftover.Value > t.Leftover {
		j.find("leftover", j.Leftover, t.Leftover, "%.4f mm of steel is left on the design %.2f mm from the guard plane, %.2f mm from the spine line; %.4f mm is allowed: a pass is missing there or runs too high",
			j.Leftover.Value, j.Leftover.X, -j.Leftover.Y, t.Leftover)
	}
	if t.Land > 0 && j.Land.Value < t.Land {
		j.find("land", j.Land, t.Land, "a flat of only %.3f mm is left %.2f mm from the guard plane, %.2f mm from the spine line; %.3f mm is wanted: move the groove by %.3f mm or cut it less deep",
			j.Land.Value, j.Land.X, -j.Land.Y, t.Land, t.Land-j.Land.Value)
	}
	if j.Bound > t.Gouge/4+1e-12 {
		j.find("grid", Deviation{Value: j.Bound}, t.Gouge/4, "the grid of %.3f mm may hide %.5f mm, more than a quarter of the tolerance: a step of %.3f mm would do",
			j.Step, j.Bound, j.Step*math.Sqrt(t.Gouge/4/j.Bound))
	}
}

func (j *Judgement) find(kind string, d Deviation, limit float64, format string, values ...any) {
	j.Findings = append(j.Findings, Finding{Kind: kind, TextLine: d.TextLine, Message: fmt.Sprintf(format, values...),
		Place: motion.Vec{X: d.X, Y: d.Y}, Value: d.Value, Limit: limit})
}
