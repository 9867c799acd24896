package export

import (
	"math"
	"slices"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// ChartMark is a line across all panels of a chart.
type ChartMark struct {
	Along float64 // as Along of the chart
	Label string
	Bold  bool
}

// CurveChart shows measures over one parameter, or over several that change together,
// each in a panel of its own, the panels under each other on one scale.
type CurveChart struct {
	Title    string
	Notes    []string
	Along    []float64   // of each design, ascending
	Axes     []ChartAxis // each with a value for each design; the first is told at every tick
	Verdicts []ChartVerdict
	Measures []ChartMeasure
	Marks    []ChartMark
}

const (
	curveWidth, curveHeight = 210.0, 297.0 // A4, ISO 216
	curveLabels             = 16.0         // room for the values left of the panels
	curveGap                = 9.0
)

// panel is the frame of one measure.
type panel struct {
	box         sheet.Box
	along       []float64
	least, most float64
}

// Sheet draws the chart.
func (c CurveChart) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: c.Title, Description: designsWords(c.Verdicts), Width: curveWidth, Height: curveHeight}
	top := chartHead(&s, append(append([]string(nil), c.Notes...), designsWords(c.Verdicts))) - 3
	legend := legendOf(c.Verdicts, curveWidth-2*chartMargin)
	bottom := chartMargin + legend.height() + 4 + 5*float64(len(c.Axes)) + 4
	panels := float64(max(1, len(c.Measures)))
	height := (top - bottom - curveGap*panels) / panels
	left, right := chartMargin+curveLabels, curveWidth-chartMargin
	if len(c.Measures) == 0 {
		c.drawVerdicts(&s, panel{box: sheet.Box{MinX: left, MinY: bottom, MaxX: right, MaxY: bottom + height}, along: c.Along})
	}
	for i, m := range c.Measures {
		low := bottom + float64(len(c.Measures)-1-i)*(height+curveGap)
		p := panel{box: sheet.Box{MinX: left, MinY: low, MaxX: right, MaxY: low + height}, along: c.Along}
		p.least, p.most = m.bounds()
		c.drawPanel(&s, p, m, i == 0)
	}
	c.drawScales(&s, panel{box: sheet.Box{MinX: left, MinY: bottom, MaxX: right, MaxY: bottom + height}, along: c.Along})
	legend.draw(&s, chartMargin, chartMargin)
	return s
}

// drawVerdicts draws verdicts alone, where no design has a measure.
func (c CurveChart) drawVerdicts(s *sheet.Sheet, p panel) {
	c.drawBands(s, p, true)
	s.Add("frames", "frames", sheet.Rectangle(sheet.Pen{Width: 0.2}, p.box.MinX, p.box.MinY, p.box.MaxX-p.box.MinX, p.box.MaxY-p.box.MinY),
		sheet.Text{At: geom.Point{X: p.box.MinX, Y: p.box.MaxY + 1.6}, Height: 2.5, Bold: true, Content: "no design has anything to measure"})
}

// bounds returns between what the panel of a measure runs.
func (m ChartMeasure) bounds() (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	consider := func(v float64) {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			least, most = min(least, v), max(most, v)
		}
	}
	for _, v := range m.Values {
		consider(v)
	}
	if m.Target.Known {
		consider(m.Target.Value)
	}
	if math.IsInf(least, 1) {
		return 0, 1
	}
	spare := 0.06 * (most - least)
	if finest := max(m.Finest, 1e-9*math.Abs(most), 1e-9); most-least < 4*finest {
		spare = 4 * finest
	}
	return least - spare, most + spare
}

func (p panel) x(along float64) float64 {
	first, last := p.along[0], p.along[len(p.along)-1]
	if last == first {
		return (p.box.MinX + p.box.MaxX) / 2
	}
	return p.box.MinX + (along-first)/(last-first)*(p.box.MaxX-p.box.MinX)
}

func (p panel) y(v float64) float64 {
	return p.box.MinY + (v-p.least)/(p.most-p.least)*(p.box.MaxY-p.box.MinY)
}

func (c CurveChart) drawPanel(s *sheet.Sheet, p panel, m ChartMeasure, first bool) {
	c.drawBands(s, p, first)
	values, decimals := ticks(p.least, p.most, 5)
	for _, v := range values {
		y := p.y(v)
		s.Add("scales", "scales", sheet.Line(sheet.Pen{Width: 0.05}, p.box.MinX, y, p.box.MaxX, y),
			sheet.Text{At: geom.Point{X: p.box.MinX - 1.5, Y: y - 1}, Height: 2.2, Anchor: sheet.End, Content: sayTick(v, decimals)})
	}
	s.Add("frames", "frames", sheet.Rectangle(sheet.Pen{Width: 0.2}, p.box.MinX, p.box.MinY, p.box.MaxX-p.box.MinX, p.box.MaxY-p.box.MinY),
		sheet.Text{At: geom.Point{X: p.box.MinX, Y: p.box.MaxY + 1.6}, Height: 2.5, Bold: true, Content: named(m.Name, m.Unit)})
	if m.Target.Known {
		y := p.y(m.Target.Value)
		s.Add("marks", "marks", sheet.Line(sheet.Pen{Width: 0.3, Dash: []float64{4, 1.5}}, p.box.MinX, y, p.box.MaxX, y),
			sheet.Text{At: geom.Point{X: p.box.MaxX, Y: p.box.MaxY + 1.6}, Height: 2.2, Anchor: sheet.End,
				Content: "target " + sayTick(m.Target.Value, decimals+2) + " " + m.Unit})
	}
	for _, mark := range c.marks() {
		width := 0.2
		if mark.Bold {
			width = 0.45
		}
		s.Add("marks", "marks", sheet.Line(sheet.Pen{Width: width, Dash: []float64{1.2, 0.8}}, p.x(mark.Along), p.box.MinY, p.x(mark.Along), p.box.MaxY))
	}
	var run []geom.Point
	flush := func() {
		if len(run) > 1 {
			s.Add("curves", "curves", sheet.Polyline(sheet.Pen{Width: 0.45}, run))
		}
		run = nil
	}
	for i, v := range m.Values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			flush()
			continue
		}
		run = append(run, geom.Point{X: p.x(c.Along[i]), Y: p.y(v)})
	}
	flush()
}

// drawBands shades runs of designs of one verdict, from half way to the design before to
// half way to the one after, with the letter of the obstacle on the first panel.
func (c CurveChart) drawBands(s *sheet.Sheet, p panel, letters bool) {
	_, letter := obstacleLetters(c.Verdicts)
	n := len(c.Along)
	side := func(i int) float64 { // between design i-1 and design i
		switch i {
		case 0:
			return p.box.MinX
		case n:
			return p.box.MaxX
		}
		return (p.x(c.Along[i-1]) + p.x(c.Along[i])) / 2
	}
	for from := 0; from < n; {
		to := from + 1
		for to < n && c.Verdicts[to] == c.Verdicts[from] {
			to++
		}
		box := sheet.Box{MinX: side(from), MinY: p.box.MinY, MaxX: side(to), MaxY: p.box.MaxY}
		shade(s, c.Verdicts[from], box)
		if name := letter[c.Verdicts[from].Obstacle]; letters && name != "" && box.MaxX-box.MinX > 3 {
			label(s, "letters", geom.Point{X: (box.MinX + box.MaxX) / 2, Y: p.box.MaxY - 3.4}, name)
		}
		from = to
	}
}

// drawScales writes the values of the parameters under the last panel, and the marks'
// names over the first.
func (c CurveChart) drawScales(s *sheet.Sheet, p panel) {
	const wanted = 10
	places, decimals := c.tickPlaces(wanted)
	for row, axis := range c.Axes {
		y := p.box.MinY - 4.4 - 5*float64(row)
		d := decimals
		if row > 0 {
			d = spreadDecimals(axis.Values)
		}
		for _, at := range places {
			x := p.x(at)
			if row == 0 {
				s.Add("scales", "scales", sheet.Line(sheet.Pen{Width: 0.15}, x, p.box.MinY, x, p.box.MinY-1.2))
			}
			s.Add("scales", "scales", sheet.Text{At: geom.Point{X: x, Y: y}, Height: 2.2, Anchor: sheet.Middle, Content: sayTick(interpolate(c.Along, axis.Values, at), d)})
		}
	}
	y := p.box.MinY - 4.4 - 5*float64(len(c.Axes))
	content := ""
	for i, axis := range c.Axes {
		if i > 0 {
			content += "; under it "
		}
		content += named(axis.Name, axis.Unit)
	}
	s.Add("scales", "scales", sheet.Text{At: geom.Point{X: (p.box.MinX + p.box.MaxX) / 2, Y: y}, Height: 2.5, Bold: true, Anchor: sheet.Middle, Content: content})
	for _, mark := range c.marks() {
		label(s, "marks", geom.Point{X: p.x(mark.Along), Y: p.box.MinY + 1.2}, mark.Label)
	}
}

// marks returns the marks that lie on the chart.
func (c CurveChart) marks() []ChartMark {
	return slices.DeleteFunc(slices.Clone(c.Marks), func(m ChartMark) bool { return m.Along < c.Along[0] || m.Along > c.Along[len(c.Along)-1] })
}

// tickPlaces returns the places at which the first parameter is round.
func (c CurveChart) tickPlaces(wanted int) (places []float64, decimals int) {
	values := c.Axes[0].Values
	first, last := values[0], values[len(values)-1]
	round, decimals := ticks(min(first, last), max(first, last), wanted)
	for _, v := range round {
		if last == first {
			return []float64{c.Along[0]}, decimals
		}
		share := (v - first) / (last - first)
		places = append(places, c.Along[0]+share*(c.Along[len(c.Along)-1]-c.Along[0]))
	}
	return places, decimals
}

// spreadDecimals returns the decimals that tell an eighth of a spread apart.
func spreadDecimals(values []float64) int {
	spread := math.Abs(values[len(values)-1] - values[0])
	if spread == 0 {
		return 2
	}
	return max(0, int(math.Ceil(1-math.Log10(spread/8))))
}

// interpolate returns the value at a place along, straight between those given.
func interpolate(along, values []float64, at float64) float64 {
	for i := 1; i < len(along); i++ {
		if at <= along[i] || i == len(along)-1 {
			return values[i-1] + (values[i]-values[i-1])*(at-along[i-1])/(along[i]-along[i-1])
		}
	}
	return values[0]
}
