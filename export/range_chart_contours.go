package export

import (
	"cmp"
	"math"
	"slices"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// drawContours draws the lines along which the measure is round, straight across each
// square of four designs that are all there, and writes the value of each line once.
func (f *field) drawContours(s *sheet.Sheet) {
	if f.Measure.hardlyMoves() {
		return
	}
	least, most := f.Measure.bounds()
	levels, decimals := ticks(least, most, 14)
	for n, level := range levels {
		var middles []geom.Point
		for i := 1; i < len(f.X.Values); i++ {
			for j := 1; j < len(f.Y.Values); j++ {
				for _, line := range f.across(i, j, level) {
					s.Add("contours", "contours", sheet.Line(sheet.Pen{Width: 0.25}, line[0].X, line[0].Y, line[1].X, line[1].Y))
					middles = append(middles, geom.Point{X: (line[0].X + line[1].X) / 2, Y: (line[0].Y + line[1].Y) / 2})
				}
			}
		}
		f.write(s, "values", f.placesFor(middles, float64(n%3+1)/4), sayTick(level, decimals))
	}
}

// known reports whether any design has the measure.
func (m ChartMeasure) known() bool {
	return slices.ContainsFunc(m.Values, func(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) })
}

// hardlyMoves reports whether a measure is alike in all designs.
func (m ChartMeasure) hardlyMoves() bool {
	least, most := math.Inf(1), math.Inf(-1)
	for _, v := range m.Values {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			least, most = min(least, v), max(most, v)
		}
	}
	return !(most-least > 2*m.Finest)
}

// placesFor returns the places of a contour that are not at the very border of the map,
// those nearest to a share of its width first.
func (f *field) placesFor(middles []geom.Point, share float64) []geom.Point {
	const room = 5
	wanted := f.box.MinX + share*(f.box.MaxX-f.box.MinX)
	places := slices.DeleteFunc(middles, func(p geom.Point) bool {
		return p.X < f.box.MinX+room || p.X > f.box.MaxX-room || p.Y < f.box.MinY+room || p.Y > f.box.MaxY-room
	})
	slices.SortStableFunc(places, func(p, q geom.Point) int { return cmp.Compare(math.Abs(p.X-wanted), math.Abs(q.X-wanted)) })
	return places
}

// across returns the pieces of a contour in the square whose upper right design is i, j.
// Where the square is a saddle, the pieces join the sides that the mean of its corners
// leaves joined.
func (f *field) across(i, j int, level float64) [][2]geom.Point {
	corner := [4][2]int{{i - 1, j - 1}, {i, j - 1}, {i, j}, {i - 1, j}}
	var value [4]float64
	var at [4]geom.Point
	mean := 0.0
	for k, c := range corner {
		value[k] = f.Measure.Values[f.index(c[0], c[1])] - level
		if math.IsNaN(value[k]) || math.IsInf(value[k], 0) {
			return nil
		}
		at[k] = geom.Point{X: f.x(f.X.Values[c[0]]), Y: f.y(f.Y.Values[c[1]])}
		mean += value[k] / 4
	}
	var cuts []geom.Point
	for k := range 4 {
		l := (k + 1) % 4
		if (value[k] < 0) != (value[l] < 0) {
			t := value[k] / (value[k] - value[l])
			cuts = append(cuts, geom.Point{X: at[k].X + t*(at[l].X-at[k].X), Y: at[k].Y + t*(at[l].Y-at[k].Y)})
		}
	}
	switch {
	case len(cuts) == 2:
		return [][2]geom.Point{{cuts[0], cuts[1]}}
	case len(cuts) == 4 && (mean < 0) == (value[0] < 0):
		return [][2]geom.Point{{cuts[0], cuts[1]}, {cuts[2], cuts[3]}}
	case len(cuts) == 4:
		return [][2]geom.Point{{cuts[3], cuts[0]}, {cuts[1], cuts[2]}}
	}
	return nil
}
