package export

import (
	"math"
	"sort"
	"strings"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// Pens of the plan, in the widths 0.5 and 0.25 mm and the line types of ISO 128-2 (from
// memory): visible edges thick; dimensions, hatching, hidden edges, centre lines and
// adjacent parts thin.
var (
	edgePen     = sheet.Pen{Width: 0.5}
	finePen     = sheet.Pen{Width: 0.25}
	hiddenPen   = sheet.Pen{Width: 0.25, Dash: []float64{3, 0.75}}
	axisPen     = sheet.Pen{Width: 0.25, Dash: []float64{6, 0.8, 0.4, 0.8}}
	adjacentPen = sheet.Pen{Width: 0.25, Dash: []float64{6, 0.8, 0.4, 0.8, 0.4, 0.8}}
	hatchPen    = sheet.Pen{Width: 0.18}
)

// Measures of dimensions on paper, mm (ISO 129-1, from memory: extension lines begin
// near the edge and run a little past the dimension line; arrows are narrow and filled).
const (
	planLetter   = 2.5 // letters on a plan
	shopLetter   = 3.5 // letters of sheets that are read at a machine or a bench
	arrowLength  = 2.5
	arrowWidth   = 0.8
	lineGap      = 1.0 // from an edge to its extension line
	linePast     = 1.5 // of an extension line past the dimension line
	tierSpace    = 3.2 // over a text, up to the next dimension line
	textSpace    = 1.0 // between texts
	outsideArrow = 4.5 // of a dimension line beyond an arrow that points inward
)

const dimensionLayer = "dimensions"

// pencil draws on one sheet, with letters of one height.
type pencil struct {
	sheet  *sheet.Sheet
	ruler  sheet.Ruler
	style  LengthStyle
	letter float64
}

// add puts items on a layer, whose label is its identifier in words.
func (p pencil) add(layer string, items ...sheet.Item) {
	p.sheet.Add(layer, strings.ReplaceAll(layer, "-", " "), items...)
}

// width returns how long a text is in the letters of the pencil.
func (p pencil) width(text string) float64 {
	return p.ruler.Width(sheet.Text{Height: p.letter, Content: text})
}

// over returns how far a text stands over its line: beyond what hangs below its baseline.
func (p pencil) over() float64 { return 0.35 * p.letter }

// tier returns the distance from one dimension line to the next.
func (p pencil) tier() float64 { return p.letter + tierSpace }

// arrow draws an arrow head with its tip at a place, pointing along a direction of
// length 1.
func (p pencil) arrow(tip, direction geom.Point) {
	back := geom.Point{X: tip.X - arrowLength*direction.X, Y: tip.Y - arrowLength*direction.Y}
	side := geom.Point{X: -direction.Y * arrowWidth / 2, Y: direction.X * arrowWidth / 2}
	head := sheet.Polyline(sheet.Pen{}, []geom.Point{tip, {X: back.X + side.X, Y: back.Y + side.Y}, {X: back.X - side.X, Y: back.Y - side.Y}, tip})
	head.Fill = "#000000"
	p.add(dimensionLayer, head)
}

func (p pencil) line(pen sheet.Pen, a, b geom.Point) {
	if a != b {
		p.add(dimensionLayer, sheet.Line(pen, a.X, a.Y, b.X, b.Y))
	}
}

// label writes a text of a dimension and keeps what was drawn before it out of its box.
func (p pencil) label(t sheet.Text) {
	p.add(dimensionLayer, sheet.Filled("#ffffff", p.ruler.Box(t)), t)
}

// linear is a straight dimension between two points of a view on paper, measured
// across the sheet, or up it where the stack that draws it stands upright.
type linear struct {
	from, to geom.Point
	text     string
}

// interval is a stretch of a tier that is taken.
type interval struct{ least, most float64 }

func (i interval) meets(j interval) bool { return i.least < j.most && j.least < i.most }

// stack is a place for parallel dimensions beside a view: the first tier lies at base,
// the next ones outward of it. Upright dimensions stand beside a view, others over or
// under it.
type stack struct {
	base    float64
	outward float64 // +1 or -1
	upright bool
}

// layered is a dimension with the tier it has found and where its text begins.
type layered struct {
	linear
	tier   int
	text   interval
	inside bool // arrows and text between the extension lines
}

func (k stack) along(p geom.Point) float64 {
	if k.upright {
		return p.Y
	}
	return p.X
}

func (k stack) place(along, across float64) geom.Point {
	if k.upright {
		return geom.Point{X: across, Y: along}
	}
	return geom.Point{X: along, Y: across}
}

// arrange gives every dimension a tier, the shortest nearest to the view, so that no
// text meets another or a dimension line of its tier.
func (k stack) arrange(p pencil, dims []linear) []layered {
	sorted := append([]linear(nil), dims...)
	span := func(d linear) float64 { return math.Abs(k.along(d.to) - k.along(d.from)) }
	sort.SliceStable(sorted, func(i, j int) bool { return span(sorted[i]) < span(sorted[j]) })
	var taken [][]interval
	var out []layered
	for _, d := range sorted {
		one := k.fit(p, d, sorted)
		whole := interval{math.Min(one.text.least, math.Min(k.along(d.from), k.along(d.to))), math.Max(one.text.most, math.Max(k.along(d.from), k.along(d.to)))}
		if !one.inside {
			whole.least, whole.most = whole.least-outsideArrow-arrowLength, whole.most+outsideArrow
		}
		for one.tier < len(taken) && meetsAny(whole, taken[one.tier]) {
			one.tier++
		}
		if one.tier == len(taken) {
			taken = append(taken, nil)
		}
		taken[one.tier] = append(taken[one.tier], interval{whole.least - textSpace, whole.most + textSpace})
		out = append(out, one)
	}
	return out
}

func meetsAny(i interval, others []interval) bool {
	for _, o := range others {
		if i.meets(o) {
			return true
		}
	}
	return false
}

// fit finds where the text of a dimension stands: between its arrows, or beyond the end
// at which fewer extension lines of others pass.
func (k stack) fit(p pencil, d linear, all []linear) layered {
	width := p.width(d.text)
	low, high := math.Min(k.along(d.from), k.along(d.to)), math.Max(k.along(d.from), k.along(d.to))
	if high-low >= math.Max(width+1, 3*arrowLength) {
		middle := (low + high) / 2
		return layered{linear: d, inside: true, text: interval{middle - width/2, middle + width/2}}
	}
	above := interval{high + arrowLength + textSpace, high + arrowLength + textSpace + width}
	below := interval{low - arrowLength - textSpace - width, low - arrowLength - textSpace}
	crossed := func(i interval) (n int) {
		for _, o := range all {
			for _, end := range []float64{k.along(o.from), k.along(o.to)} {
				if i.least-0.3 < end && end < i.most+0.3 {
					n++
				}
			}
		}
		return n
	}
	if crossed(below) < crossed(above) {
		return layered{linear: d, text: below}
	}
	return layered{linear: d, text: above}
}

// depth returns how far dimensions reach outward from the base of their stack.
func (p pencil) depth(dims []layered) float64 {
	tiers := 0
	for _, d := range dims {
		tiers = max(tiers, d.tier+1)
	}
	if tiers == 0 {
		return 0
	}
	return float64(tiers-1)*p.tier() + p.over() + p.letter + 1
}

// reach returns the stretch along the stack that dimensions take up.
func reach(dims []layered, k stack) interval {
	out := interval{math.Inf(1), math.Inf(-1)}
	for _, d := range dims {
		for _, v := range []float64{d.text.least, d.text.most, k.along(d.from), k.along(d.to)} {
			out = interval{math.Min(out.least, v), math.Max(out.most, v)}
		}
	}
	return out
}

// stacked draws dimensions: all lines first, then the texts.
func (p pencil) stacked(k stack, dims []linear) {
	arranged := k.arrange(p, dims)
	for _, d := range arranged {
		p.strokes(k, d)
	}
	for _, d := range arranged {
		across := k.base + k.outward*float64(d.tier)*p.tier()
		at := k.place(d.text.least, across+p.over())
		if k.upright { // read from the right: the top of the letters lies to the left
			at = k.place(d.text.least, across-p.over())
		}
		p.label(sheet.Text{At: at, Height: p.letter, Upright: k.upright, Content: d.linear.text})
	}
}

// strokes draws extension lines, dimension line and arrows.
func (p pencil) strokes(k stack, d layered) {
	across := k.base + k.outward*float64(d.tier)*p.tier()
	for _, end := range []geom.Point{d.from, d.to} {
		feature := end.Y
		if k.upright {
			feature = end.X
		}
		if away := (across - feature) * k.outward; away > lineGap {
			p.line(finePen, k.place(k.along(end), feature+k.outward*lineGap), k.place(k.along(end), across+k.outward*linePast))
		}
	}
	low, high := math.Min(k.along(d.from), k.along(d.to)), math.Max(k.along(d.from), k.along(d.to))
	up, down := k.place(1, 0), k.place(-1, 0)
	if d.inside {
		p.line(finePen, k.place(low, across), k.place(high, across))
		p.arrow(k.place(low, across), down)
		p.arrow(k.place(high, across), up)
		return
	}
	p.line(finePen, k.place(math.Min(low-outsideArrow, d.text.least), across), k.place(math.Max(high+outsideArrow, d.text.most), across))
	p.arrow(k.place(low, across), up)
	p.arrow(k.place(high, across), down)
}
