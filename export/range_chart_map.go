package export

import (
	"cmp"
	"math"
	"slices"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
	"fullerwright/toolpath"
)

// MapChart shows one measure over two parameters by its contours, and where the designs
// pass their checks: the feasible region, with a bold border.
type MapChart struct {
	Title    string
	Notes    []string
	X, Y     ChartAxis      // ascending
	Verdicts []ChartVerdict // of X's first value with every value of Y, then of the next
	Measure  ChartMeasure   // in the same order
	Start    *geom.Point    // the knife as it is, if it lies on the map
}

const mapWidth, mapHeight = 297.0, 210.0 // A4 lying

// field is the frame of a map on paper.
type field struct {
	MapChart
	box    sheet.Box
	labels []geom.Point // places that are written on
}

// Sheet draws the map.
func (c MapChart) Sheet() sheet.Sheet {
	s := sheet.Sheet{Title: c.Title, Description: designsWords(c.Verdicts), Width: mapWidth, Height: mapHeight}
	lines := "Lines: " + named(c.Measure.Name, c.Measure.Unit) + ". "
	switch {
	case !c.Measure.known():
		lines = "No lines: there is no knife to measure. "
	case c.Measure.hardlyMoves():
		lines = "No lines: " + c.Measure.Name + " hardly moves. "
	}
	notes := append(append([]string(nil), c.Notes...), lines+designsWords(c.Verdicts))
	if len(bordered(c.Verdicts)) == 2 {
		notes = append(notes, "The bold line parts the designs that can be built from those that a check stops or that cannot be.")
	}
	top := chartHead(&s, notes)
	legend := legendOf(c.Verdicts, mapWidth-2*chartMargin)
	f := field{MapChart: c, box: sheet.Box{MinX: chartMargin + 20, MinY: chartMargin + legend.height() + 16, MaxX: mapWidth - chartMargin, MaxY: top}}
	f.drawCells(&s)
	s.Add("contours", "contours") // under all that is written
	f.drawBorder(&s)
	f.drawStart(&s)
	f.drawLetters(&s)
	f.drawContours(&s)
	f.drawScales(&s)
	legend.draw(&s, chartMargin, chartMargin)
	return s
}

// bordered returns on which sides of the bold line there are designs.
func bordered(verdicts []ChartVerdict) map[bool]bool {
	sides := map[bool]bool{}
	for _, v := range verdicts {
		sides[v.Verdict == toolpath.OK || v.Verdict == toolpath.Caution] = true
	}
	return sides
}

// write puts a label where it lies on no other, on a place of those given, the first that
// will do; it is left out where none does.
func (f *field) write(s *sheet.Sheet, layer string, places []geom.Point, content string) {
	const wide, high = 14, 4.5
	for _, p := range places {
		if !slices.ContainsFunc(f.labels, func(q geom.Point) bool { return math.Abs(p.X-q.X) < wide && math.Abs(p.Y-q.Y) < high }) {
			f.labels = append(f.labels, p)
			label(s, layer, geom.Point{X: p.X, Y: p.Y - 1.1}, content)
			return
		}
	}
}

// drawStart marks the knife as it is.
func (f *field) drawStart(s *sheet.Sheet) {
	if f.Start == nil {
		return
	}
	p := geom.Point{X: f.x(f.Start.X), Y: f.y(f.Start.Y)}
	s.Add("marks", "marks", sheet.Circle(sheet.Pen{Width: 0.4}, p, 1.3), sheet.Line(sheet.Pen{Width: 0.25}, p.X-2.4, p.Y, p.X+2.4, p.Y),
		sheet.Line(sheet.Pen{Width: 0.25}, p.X, p.Y-2.4, p.X, p.Y+2.4))
	f.labels = append(f.labels, p)
	f.write(s, "marks", []geom.Point{{X: p.X, Y: p.Y + 4.6}, {X: p.X, Y: p.Y - 4.6}}, "now")
}

// scaled takes a value of an axis to the paper: half a step of room is left at both ends.
func scaled(axis ChartAxis, v, from, to float64) float64 {
	n := len(axis.Values)
	first, last := axis.Values[0], axis.Values[n-1]
	if n == 1 {
		return (from + to) / 2
	}
	half := (last - first) / float64(n-1) / 2
	return from + (v-first+half)/(last-first+2*half)*(to-from)
}

func (f *field) x(v float64) float64 { return scaled(f.X, v, f.box.MinX, f.box.MaxX) }
func (f *field) y(v float64) float64 { return scaled(f.Y, v, f.box.MinY, f.box.MaxY) }

func (f *field) index(i, j int) int { return i*len(f.Y.Values) + j }

// cell returns the box of a design.
func (f *field) cell(i, j int) sheet.Box {
	width, height := (f.box.MaxX-f.box.MinX)/float64(len(f.X.Values)), (f.box.MaxY-f.box.MinY)/float64(len(f.Y.Values))
	return sheet.Box{MinX: f.box.MinX + float64(i)*width, MaxX: f.box.MinX + float64(i+1)*width,
		MinY: f.box.MinY + float64(j)*height, MaxY: f.box.MinY + float64(j+1)*height}
}

// drawCells shades columns of designs of one look at once.
func (f *field) drawCells(s *sheet.Sheet) {
	for i := range f.X.Values {
		for j := 0; j < len(f.Y.Values); {
			from := j
			verdict := f.Verdicts[f.index(i, j)].Verdict
			for j < len(f.Y.Values) && f.Verdicts[f.index(i, j)].Verdict == verdict {
				j++
			}
			box := f.cell(i, from)
			box.MaxY = f.cell(i, j-1).MaxY
			shade(s, ChartVerdict{Verdict: verdict}, box)
		}
	}
}

// feasible reports whether nothing stops a design; designs off the map are not.
func (f *field) feasible(i, j int) bool {
	if i < 0 || j < 0 || i >= len(f.X.Values) || j >= len(f.Y.Values) {
		return false
	}
	v := f.Verdicts[f.index(i, j)].Verdict
	return v == toolpath.OK || v == toolpath.Caution
}

// drawBorder draws the border between what is feasible and what is not.
func (f *field) drawBorder(s *sheet.Sheet) {
	pen := sheet.Pen{Width: 0.6}
	add := func(x0, y0, x1, y1 float64) {
		s.Add("feasible", "border of the feasible region", sheet.Line(pen, x0, y0, x1, y1))
	}
	for i := range f.X.Values {
		for j := range f.Y.Values {
			box := f.cell(i, j)
			if i > 0 && f.feasible(i, j) != f.feasible(i-1, j) {
				add(box.MinX, box.MinY, box.MinX, box.MaxY)
			}
			if j > 0 && f.feasible(i, j) != f.feasible(i, j-1) {
				add(box.MinX, box.MinY, box.MaxX, box.MinY)
			}
		}
	}
}

// drawLetters writes the letter of each obstacle at the design of it that lies nearest to
// the middle of all of them and has room for it.
func (f *field) drawLetters(s *sheet.Sheet) {
	order, letter := obstacleLetters(f.Verdicts)
	for _, name := range order {
		var places []geom.Point
		var mean geom.Point
		f.each(name, func(p geom.Point) {
			places = append(places, p)
			mean = geom.Point{X: mean.X + p.X, Y: mean.Y + p.Y}
		})
		n := float64(len(places))
		mean = geom.Point{X: mean.X / n, Y: mean.Y / n}
		away := func(p geom.Point) float64 { return math.Hypot(p.X-mean.X, p.Y-mean.Y) }
		slices.SortStableFunc(places, func(p, q geom.Point) int { return cmp.Compare(away(p), away(q)) })
		f.write(s, "letters", places, letter[name])
	}
}

// each calls visit with the middle of every design that has an obstacle.
func (f *field) each(obstacle string, visit func(geom.Point)) {
	for i := range f.X.Values {
		for j := range f.Y.Values {
			if f.Verdicts[f.index(i, j)].Obstacle == obstacle {
				box := f.cell(i, j)
				visit(geom.Point{X: (box.MinX + box.MaxX) / 2, Y: (box.MinY + box.MaxY) / 2})
			}
		}
	}
}

func (f *field) drawScales(s *sheet.Sheet) {
	s.Add("frames", "frames", sheet.Rectangle(sheet.Pen{Width: 0.2}, f.box.MinX, f.box.MinY, f.box.MaxX-f.box.MinX, f.box.MaxY-f.box.MinY))
	values, decimals := ticks(f.X.Values[0], f.X.Values[len(f.X.Values)-1], 10)
	for _, v := range values {
		x := f.x(v)
		s.Add("scales", "scales", sheet.Line(sheet.Pen{Width: 0.15}, x, f.box.MinY, x, f.box.MinY-1.2),
			sheet.Text{At: geom.Point{X: x, Y: f.box.MinY - 4.4}, Height: 2.2, Anchor: sheet.Middle, Content: sayTick(v, decimals)})
	}
	values, decimals = ticks(f.Y.Values[0], f.Y.Values[len(f.Y.Values)-1], 8)
	for _, v := range values {
		y := f.y(v)
		s.Add("scales", "scales", sheet.Line(sheet.Pen{Width: 0.15}, f.box.MinX, y, f.box.MinX-1.2, y),
			sheet.Text{At: geom.Point{X: f.box.MinX - 2, Y: y - 1}, Height: 2.2, Anchor: sheet.End, Content: sayTick(v, decimals)})
	}
	s.Add("scales", "scales",
		sheet.Text{At: geom.Point{X: (f.box.MinX + f.box.MaxX) / 2, Y: f.box.MinY - 9.4}, Height: 2.5, Bold: true, Anchor: sheet.Middle, Content: named(f.X.Name, f.X.Unit)},
		sheet.Text{At: geom.Point{X: chartMargin + 3, Y: (f.box.MinY + f.box.MaxY) / 2}, Height: 2.5, Bold: true, Anchor: sheet.Middle, Upright: true, Content: named(f.Y.Name, f.Y.Unit)})
}
