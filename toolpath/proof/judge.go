package proof

import (
	"fmt"
	"math"
)

// Tolerance is how far the cut may lie from the design.
type Tolerance struct {
	Gouge    float64 // below it, mm
	Leftover float64 // above it, square to the wall, mm
}

// Limits are what a program must keep to besides.
type Limits struct {
	Feed         float64 // greatest, mm/min
	FeedPerTooth float64 // greatest while cutting, mm; 0 for no limit
	RampSlope    float64 // greatest way down over way along into solid steel
	SteepCut     float64 // greatest height a steeper way down may take off, mm: finishing stock
	Engagement   float64 // greatest height a block may take off, mm; 0 for no limit
	BarTop       float64 // highest place of the bar, in the face frame
	JawTop       float64 // height of the jaws, in the face frame
	FixedJaw     float64 // y of the edge of the bar at the fixed jaw
	MovingJaw    float64 // y of the other edge
	LeastX       float64 // the bar's ends
	MostX        float64
	HighestTip   float64 // of fed moves, in the face frame; 0 for no limit
}

// Deviation is a difference between cut and design, where it is greatest.
type Deviation struct {
	Value    float64 // mm
	X, Y     float64
	TextLine int // of the program that cut there last; 0 where nothing did
}

// Finding is something wrong with a program.
type Finding struct {
	Kind     string
	TextLine int // 0 where no line did it
	Message  string
}

// Judgement is what the proof of one face came to.
type Judgement struct {
	Gouge, Leftover   Deviation
	RMS               float64 // of the deviation where the design is cut, mm
	DeepestEngagement Deviation
	ThickestChip      Deviation // at the top of the contact, mm
	Removed           float64   // steel, mm³
	Step, Bound       float64   // of the grid, and what it may hide, mm
	Findings          []Finding
}

// OK reports whether nothing was found.
func (j Judgement) OK() bool { return len(j.Findings) == 0 }

// Judge compares a cut map with the design and looks through the blocks.
func Judge(m *Map, design Surface, blocks []Block, t Tolerance, l Limits, c Cutter, bound float64) Judgement {
	j := Describe(m, blocks, l, c)
	j.Bound = bound
	j.compare(m, design)
	j.tolerances(t)
	return j
}

// Describe looks through the blocks of a cut that there is no design for.
func Describe(m *Map, blocks []Block, l Limits, c Cutter) Judgement {
	j := Judgement{Step: m.Grid.Step}
	for _, b := range blocks {
		j.Removed += b.Removed
		if b.Deepest > j.DeepestEngagement.Value {
			j.DeepestEngagement = Deviation{b.Deepest, b.X, b.Y, b.Motion.TextLine}
		}
		if chip := b.chip(c); chip > j.ThickestChip.Value {
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

// chip returns the thickness of a block's chip at the top of the contact, mm: the feed
// per tooth times the width that the cutter has at the depth taken off, over its
// diameter.
func (b Block) chip(c Cutter) float64 {
	depth := math.Min(b.Deepest, c.Radius)
	if c.Square {
		return b.perTooth(c)
	}
	return b.perTooth(c) * math.Sqrt(depth*(2*c.Radius-depth)) / c.Radius
}

// compare finds the greatest gouge and leftover. The leftover is taken square to the
// wall: its height times the cosine of the wall's lean, from the design's heights at
// a tenth of a step either way.
func (j *Judgement) compare(m *Map, design Surface) {
	g := m.Grid
	rows := make([]struct {
		gouge, leftover Deviation
		square, count   float64
	}, g.Rows)
	inRows(g, func(row int) {
		r := &rows[row]
		y := g.Y(row)
		for column := range g.Columns {
			x := g.X(column)
			i := row*g.Columns + column
			wanted, cut, stock := design.Height(x, y), m.Height[i], m.stock[i]
			if wanted >= stock && cut >= stock {
				continue
			}
			d := cut - wanted
			r.square += d * d
			r.count++
			if -d > r.gouge.Value {
				r.gouge = Deviation{-d, x, y, int(m.Line[i])}
			}
			if d > r.leftover.Value {
				if d *= uprightness(design, x, y, g.Step/10); d > r.leftover.Value {
					r.leftover = Deviation{d, x, y, int(m.Line[i])}
				}
			}
		}
	})
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

// uprightness returns the cosine of the angle between a surface's normal and the
// upright.
func uprightness(s Surface, x, y, d float64) float64 {
	dx := (s.Height(x+d, y) - s.Height(x-d, y)) / (2 * d)
	dy := (s.Height(x, y+d) - s.Height(x, y-d)) / (2 * d)
	return 1 / math.Sqrt(1+dx*dx+dy*dy)
}

func (j *Judgement) tolerances(t Tolerance) {
	if j.Gouge.Value > t.Gouge {
		j.find("gouge", j.Gouge.TextLine, "the cut lies %.4f mm below the design %.2f mm from the guard plane, %.2f mm from the spine line; %.4f mm is allowed",
			j.Gouge.Value, j.Gouge.X, -j.Gouge.Y, t.Gouge)
	}
	if j.Leftover.Value > t.Leftover {
		j.find("leftover", j.Leftover.TextLine, "%.4f mm of steel is left on the design %.2f mm from the guard plane, %.2f mm from the spine line; %.4f mm is allowed",
			j.Leftover.Value, j.Leftover.X, -j.Leftover.Y, t.Leftover)
	}
	if j.Bound > t.Gouge/4+1e-12 {
		j.find("grid", 0, "the grid of %.3f mm may hide %.5f mm, more than a quarter of the tolerance", j.Step, j.Bound)
	}
}

func (j *Judgement) find(kind string, line int, format string, values ...any) {
	j.Findings = append(j.Findings, Finding{kind, line, fmt.Sprintf(format, values...)})
}
