package export

import (
	"fmt"
	"math"
	"strconv"

	"fullerwright/export/sheet"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/profile/match"
)

const (
	matchOutlineMost = 66.0 // height on paper that the outline may take, mm
	whiskerLength    = 4.0  // of three standard deviations, on paper
	matchChartHeight = 26.0
)

// matchDrawing is a match while it is drawn.
type matchDrawing struct {
	*sheet.Sheet
	m      match.Measurements
	found  match.Matched
	chain  geom.Chain
	scale  float64    // paper over steel
	origin geom.Point // of the blade frame, on paper
	grow   float64    // paper over steel of the distances drawn at the outline
	left   float64    // x on steel of the left end of the charts
	right  float64
}

// MatchPicture draws a measured or traced knife against the one found: the outline with
// every reading and its distance enlarged, the distances along the blade, the thicknesses
// on their taper, and the parameters with their standard errors. Readings that look wrong
// carry a ring and the number under which they are listed.
func MatchPicture(m match.Measurements, found match.Matched) sheet.Sheet {
	s := sheet.Sheet{Title: "Match of " + m.File, Width: pictureWidth, Height: pictureHeight,
		Description: document.Say("Pattern %s, standard deviation of the readings %.3f mm.", found.Fit.Family, found.Fit.Deviation).In(m.Unit)}
	chain, err := found.Fit.Knife.QuickOutline()
	if err != nil {
		panic("impossible: a knife that was found has no outline: " + err.Error())
	}
	d := &matchDrawing{Sheet: &s, m: m, found: found, chain: chain}
	d.place()
	d.title()
	d.outline()
	y := d.origin.Y + d.scale*chain.Bounds().Min.Y - 22
	y = d.distances(y)
	y = d.thicknesses(y)
	d.table(y)
	return s
}

func (d *matchDrawing) place() {
	box := d.chain.Bounds()
	d.left, d.right = box.Min.X, box.Max.X
	for _, r := range d.found.Fit.Residuals {
		d.left, d.right = math.Min(d.left, r.Place.X), math.Max(d.right, r.Place.X)
	}
	width, height := d.right-d.left, box.Max.Y-box.Min.Y
	d.scale = math.Min((pictureWidth-2*pictureMargin)/width, matchOutlineMost/height)
	d.origin = geom.Point{X: (pictureWidth-width*d.scale)/2 - d.left*d.scale, Y: pictureHeight - pictureMargin - 28 - box.Max.Y*d.scale}
	d.grow = roundDown(whiskerLength / math.Max(3*d.found.Fit.Deviation*d.scale, 1e-3))
}

// roundDown returns the greatest of 1, 2 and 5 times a power of ten that is no more than
// v, at least 1.
func roundDown(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(math.Max(v, 1))))
	for _, step := range []float64{5, 2} {
		if v >= step*power {
			return step * power
		}
	}
	return power
}

func (d *matchDrawing) at(p geom.Point) geom.Point {
	return geom.Point{X: d.origin.X + d.scale*p.X, Y: d.origin.Y + d.scale*p.Y}
}

func (d *matchDrawing) write(x, y, height float64, anchor sheet.Anchor, format string, values ...any) {
	d.Add("notes", "notes", sheet.Text{At: geom.Point{X: x, Y: y}, Height: height, Anchor: anchor, Content: document.Say(format, values...).In(d.m.Unit)})
}

func (d *matchDrawing) title() {
	top := pictureHeight - pictureMargin
	verdict := "no pattern fits; the nearest is " + d.found.Fit.Family
	if d.found.Verdict.Reproduced {
		verdict = "reproduced by the pattern " + d.found.Fit.Family
	}
	d.Add("notes", "notes", sheet.Text{At: geom.Point{X: pictureMargin, Y: top - 4}, Height: 4.2, Bold: true, Content: d.Title + ": " + verdict})
	enlarged := "not enlarged"
	if d.grow > 1 {
		enlarged = fmt.Sprintf("%g times enlarged", d.grow)
	}
	d.write(pictureMargin, top-11, 2.6, sheet.Start,
		"Line: outline found. Dots: readings. Strokes: their distances from it, %s. Standard deviation %.3f mm; asked: within %.2f mm.",
		enlarged, d.found.Fit.Deviation, d.found.Verdict.Within)
	d.write(pictureMargin, top-16, 2.6, sheet.Start, "Ring: looks wrong, over 3.5 standard deviations off. Right face: the point is to the right, the spine is up. Scale %.2f to 1.", d.scale)
}

func (d *matchDrawing) outline() {
	d.Add("outline", "outline found", sheet.Path{Pieces: d.chain.Scale(d.scale).Translate(d.origin).Pieces(), Pen: sheet.Pen{Width: 0.25}})
	for _, r := range d.found.Fit.Residuals {
		if r.Reading.Kind == match.Thickness {
			continue
		}
		place, foot := d.at(r.Place), d.at(r.Foot)
		dot := sheet.Circle(sheet.Pen{}, place, 0.3)
		dot.Fill = "#000000"
		away := geom.Point{X: r.Place.X - r.Foot.X, Y: r.Place.Y - r.Foot.Y}
		far := geom.Point{X: foot.X + d.scale*d.grow*away.X, Y: foot.Y + d.scale*d.grow*away.Y}
		if long := math.Hypot(far.X-foot.X, far.Y-foot.Y); long > 1.5*whiskerLength {
			far = geom.Point{X: foot.X + (far.X-foot.X)*1.5*whiskerLength/long, Y: foot.Y + (far.Y-foot.Y)*1.5*whiskerLength/long}
		}
		d.Add("distances", "distances enlarged", sheet.Line(sheet.Pen{Width: 0.12}, foot.X, foot.Y, far.X, far.Y))
		d.Add("readings", "readings", dot)
	}
	for i, r := range d.listed() {
		if r.Reading.Kind != match.Thickness {
			p := d.at(r.Place)
			d.Add("wrong", "readings that look wrong", sheet.Circle(sheet.Pen{Width: 0.3}, p, 1.4),
				sheet.Text{At: geom.Point{X: p.X + 1.9, Y: p.Y + 0.6}, Height: 2.2, Bold: true, Content: fmt.Sprint(i + 1)})
		}
	}
}

// mostListed is how many wrong readings are ringed and listed.
const mostListed = 8

func (d *matchDrawing) listed() []match.Residual {
	wrong := d.found.Fit.Wrong()
	return wrong[:min(len(wrong), mostListed)]
}

// chart is a frame over stations, x as the outline above it has it.
type chart struct {
	d           *matchDrawing
	y, low, top float64 // paper y of the frame's foot; values at its foot and top
}

func (c chart) at(x, v float64) geom.Point {
	share := math.Max(0, math.Min(1, (v-c.low)/(c.top-c.low)))
	return geom.Point{X: c.d.origin.X + c.d.scale*x, Y: c.y + share*matchChartHeight}
}

// stationStep returns how far apart stations are marked, mm on steel, so that their
// numbers have room on paper.
func (d *matchDrawing) stationStep() float64 {
	const room = 11.0
	steps := []float64{5, 10, 20, 50, 100, 200}
	if d.m.Unit == document.Inch {
		steps = []float64{inchMM / 2, inchMM, 2 * inchMM, 5 * inchMM, 10 * inchMM}
	}
	for _, step := range steps {
		if step*d.scale >= room {
			return step
		}
	}
	return steps[len(steps)-1]
}

// frame draws the frame with a few values at its left and stations at its foot.
func (c chart) frame(title string, marks []float64, decimals int) {
	d := c.d
	low, high := c.at(d.left, c.low), c.at(d.right, c.top)
	d.Add("charts", "charts", sheet.Rectangle(sheet.Pen{Width: 0.15}, low.X, low.Y, high.X-low.X, matchChartHeight))
	d.write(low.X, high.Y+2.2, 2.4, sheet.Start, "%s", title)
	for _, v := range marks {
		p := c.at(d.left, v)
		d.Add("charts", "charts", sheet.Line(sheet.Pen{Width: 0.08, Dash: []float64{0.8, 0.8}}, low.X, p.Y, high.X, p.Y))
		said, _ := d.m.Unit.Say(v, "mm")
		d.write(low.X-1, p.Y-0.9, 1.9, sheet.End, "%s", strconv.FormatFloat(said, 'f', d.m.Unit.Decimals(decimals, "mm"), 64))
	}
	step := d.stationStep()
	for x := math.Ceil(d.left/step) * step; x <= d.right; x += step {
		p := c.at(x, c.low)
		d.Add("charts", "charts", sheet.Line(sheet.Pen{Width: 0.12}, p.X, p.Y, p.X, p.Y-1))
		said, _ := d.m.Unit.Say(x, "mm")
		d.write(p.X, p.Y-3.4, 1.9, sheet.Middle, "%s", strconv.FormatFloat(math.Round(said*10)/10+0, 'f', -1, 64))
	}
}

// distances draws how far each reading lies from the outline over its station and returns
// where the next may begin.
func (d *matchDrawing) distances(y float64) float64 {
	spread := math.Max(d.found.Fit.Deviation, 1e-3)
	c := chart{d: d, y: y - matchChartHeight, low: -5 * spread, top: 5 * spread}
	decimals := int(math.Max(1, math.Ceil(1-math.Log10(spread))))
	title := "distance from the outline, " + d.m.Unit.String() + ", by station; dots: spine, circles: edge and width; dashed: two standard deviations; at the rim: beyond"
	if d.m.Traced {
		title = "distance square to the outline, " + d.m.Unit.String() + ", positive outside, by station; dots: spine half, circles: edge half; dashed: two standard deviations; at the rim: beyond"
	}
	c.frame(title, []float64{-2 * spread, 0, 2 * spread}, decimals)
	middle := (d.chain.Bounds().Min.Y + d.chain.Bounds().Max.Y) / 2
	for _, r := range d.found.Fit.Residuals {
		kind := r.Reading.Kind
		if kind == match.Thickness {
			continue
		}
		dot := sheet.Circle(sheet.Pen{}, c.at(r.Place.X, r.Distance), 0.45)
		dot.Fill = "#000000"
		if kind == match.Edge || kind == match.Width || kind == match.Traced && r.Foot.Y < middle {
			dot.Fill, dot.Pen.Width = "#ffffff", 0.15
		}
		d.Add("charts", "charts", dot)
	}
	for i, r := range d.listed() {
		if r.Reading.Kind != match.Thickness {
			p := c.at(r.Place.X, r.Distance)
			d.Add("wrong", "readings that look wrong", sheet.Circle(sheet.Pen{Width: 0.25}, p, 1.1),
				sheet.Text{At: geom.Point{X: p.X + 1.6, Y: p.Y - 0.7}, Height: 1.9, Bold: true, Content: fmt.Sprint(i + 1)})
		}
	}
	return y - matchChartHeight - 12
}

// thicknesses draws the measured thicknesses on the taper found.
func (d *matchDrawing) thicknesses(y float64) float64 {
	if d.found.Fit.ThicknessDeviation == 0 {
		return y
	}
	thickest := 0.0
	for _, r := range d.found.Fit.Residuals {
		if r.Reading.Kind == match.Thickness {
			thickest = math.Max(thickest, r.Reading.Value)
		}
	}
	c := chart{d: d, y: y - matchChartHeight, top: 1.15 * thickest}
	whole := math.Max(1, math.Round(thickest/3))
	c.frame(document.Say("thickness, %s; line: taper found, dots: readings, standard deviation %.3f mm", d.m.Unit, d.found.Fit.ThicknessDeviation).In(d.m.Unit), []float64{whole, 2 * whole, 3 * whole}, 0)
	k := d.found.Fit.Knife
	var line []geom.Point
	for x := -k.Tang.Length; x < k.Blade.Length; x += k.OverallLength() / 400 {
		thickness := k.Thickness(x)
		if x < 0 {
			thickness = k.TangThickness(x)
		}
		line = append(line, c.at(x, thickness))
	}
	d.Add("charts", "charts", sheet.Polyline(sheet.Pen{Width: 0.2}, line))
	for _, r := range d.found.Fit.Residuals {
		if r.Reading.Kind == match.Thickness {
			dot := sheet.Circle(sheet.Pen{}, c.at(r.Place.X, r.Reading.Value), 0.45)
			dot.Fill = "#000000"
			d.Add("charts", "charts", dot)
		}
	}
	for i, r := range d.listed() {
		if r.Reading.Kind == match.Thickness {
			p := c.at(r.Place.X, r.Reading.Value)
			d.Add("wrong", "readings that look wrong", sheet.Circle(sheet.Pen{Width: 0.25}, p, 1.1),
				sheet.Text{At: geom.Point{X: p.X + 1.6, Y: p.Y - 0.7}, Height: 1.9, Bold: true, Content: fmt.Sprint(i + 1)})
		}
	}
	return y - matchChartHeight - 12
}

// table writes the parameters in three columns at most and the wrong readings beside them.
func (d *matchDrawing) table(y float64) {
	const columnsMost, line, wide = 3, 3.5, 62.0
	rows := max(mostListed, (len(d.found.Fit.Parameters)+columnsMost-1)/columnsMost)
	d.write(pictureMargin, y+1, 2.4, sheet.Start, "found, with standard errors")
	for i, e := range d.found.Fit.Parameters {
		x, down := pictureMargin+wide*float64(i/rows), y-line*float64(i%rows+1)
		d.write(x, down, 2, sheet.Start, "%s", e.Key)
		d.write(x+wide-6, down, 2, sheet.End, "%s", sayEstimate(e, d.m.Unit))
	}
	wrong := d.listed()
	if len(wrong) == 0 {
		return
	}
	x := pictureMargin + wide*float64((len(d.found.Fit.Parameters)+rows-1)/rows)
	d.write(x, y+1, 2.4, sheet.Start, "look wrong")
	for i, r := range wrong {
		d.write(x, y-line*float64(i+1), 2, sheet.Start, "%d  %s: off by %+.2f mm", i+1, r.Reading.Name(d.m.Unit), r.Distance)
	}
}

func sayEstimate(e match.Estimate, of document.Unit) string {
	unit, one := "", 1.0
	switch e.Kind {
	case document.Length:
		unit, one = " "+of.String(), of.Millimetres()
	case document.Angle:
		unit, one = " deg", math.Pi/180
	}
	if e.AtLimit {
		return fmt.Sprintf("%.3f%s, at its limit", e.Value/one, unit)
	}
	return fmt.Sprintf("%.3f ± %.3f%s", e.Value/one, e.Error/one, unit)
}
