package export

import (
	"math"
	"sort"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// hatchChord bounds how far the chords that hatching ends on lie from a curve, mm on
// paper: less than half a line.
const hatchChord = 0.05

// hatchApart is the distance between the lines of hatching, mm.
const hatchApart = 1.8

// hatchInside returns lines at 45 degrees, apart by the given distance across, inside a
// closed chain.
func hatchInside(pen sheet.Pen, chain geom.Chain, apart float64) sheet.Path {
	points := chain.Sample(hatchChord)
	out := sheet.Path{Pen: pen}
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range points {
		least, most = math.Min(least, p.X-p.Y), math.Max(most, p.X-p.Y)
	}
	step := apart * math.Sqrt2
	for c := (math.Floor(least/step) + 0.5) * step; c < most; c += step {
		along := crossingsAlong(points, c)
		for i := 0; i+1 < len(along); i += 2 {
			if along[i+1]-along[i] > 1e-6 {
				out.Pieces = append(out.Pieces, geom.Line{From: geom.Point{X: along[i], Y: along[i] - c}, To: geom.Point{X: along[i+1], Y: along[i+1] - c}})
			}
		}
	}
	return out
}

// crossingsAlong returns the x, ascending, at which the line x - y = c crosses a closed
// run of points. A point on the line counts as lying just beyond it.
func crossingsAlong(points []geom.Point, c float64) []float64 {
	var out []float64
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		da, db := a.X-a.Y-c, b.X-b.Y-c
		if (da >= 0) != (db >= 0) {
			out = append(out, a.X+(b.X-a.X)*da/(da-db))
		}
	}
	sort.Float64s(out)
	return out
}
