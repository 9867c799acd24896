package proof

import (
	"fmt"
	"math"

	"fullerwright/toolpath/motion"
)

// Web returns the least steel between two faces, and where: the sum of their heights
// at the nodes, which must be the same ones. The place where there is no bar does not
// count; +Inf where there is no bar at all.
func Web(right, left *Map) Deviation {
	least := Deviation{Value: math.Inf(1)}
	g := right.Grid
	for row := range g.Rows {
		for column := range g.Columns {
			w := right.At(column, row) + left.At(column, row)
			if w < least.Value && !math.IsInf(w, -1) {
				least = Deviation{Value: w, X: g.X(column), Y: g.Y(row)}
			}
		}
	}
	return least
}

// Mismatch returns the greatest difference in height between two faces whose designs
// are alike, and where.
func Mismatch(right, left *Map) Deviation {
	return greatestDifference(right.Grid, func(column, row int) float64 { return right.At(column, row) - left.At(column, row) })
}

// Faces are the designs of both faces.
type Faces struct{ Right, Left Surface }

// MismatchFrom returns how far the difference in height between two faces departs most
// from the difference between their designs, and where.
func MismatchFrom(right, left *Map, designs Faces) Deviation {
	g := right.Grid
	return greatestDifference(g, func(column, row int) float64 {
		x, y := g.X(column), g.Y(row)
		wanted := math.Min(designs.Right.Height(x, y), right.Stock(column, row)) - math.Min(designs.Left.Height(x, y), left.Stock(column, row))
		return right.At(column, row) - left.At(column, row) - wanted
	})
}

func greatestDifference(g Grid, difference func(column, row int) float64) Deviation {
	rows := make([]Deviation, g.Rows)
	inRows(g, func(row int) {
		for column := range g.Columns {
			// Off the bar the difference is not a number, and greater than none.
			if d := math.Abs(difference(column, row)); d > rows[row].Value {
				rows[row] = Deviation{Value: d, X: g.X(column), Y: g.Y(row)}
			}
		}
	})
	var most Deviation
	for _, d := range rows {
		if d.Value > most.Value {
			most = d
		}
	}
	return most
}

// SidewaysOffset returns how far the middle of the right face's groove lies from that
// of the left one at the given places, less what the designs say, where that is
// greatest; positive toward the spine.
func SidewaysOffset(right, left *Map, designs Faces, places ...Place) Deviation {
	var most Deviation
	for _, p := range places {
		a, okA := right.Station(designs.Right, p.X, p.Y)
		b, okB := left.Station(designs.Left, p.X, p.Y)
		if !okA || !okB || a.Width == 0 || b.Width == 0 || a.DesignWidth == 0 || b.DesignWidth == 0 {
			continue
		}
		if d := a.Centre - b.Centre - (a.DesignCentre - b.DesignCentre); math.Abs(d) > math.Abs(most.Value) {
			most = Deviation{Value: d, X: a.X, Y: a.Centre}
		}
	}
	return most
}

// FacesJudgement is what both faces came to together.
type FacesJudgement struct {
	Web      Deviation // least
	Mismatch Deviation // in height, from the difference of the designs
	Sideways Deviation // of the grooves' middles, from that of the designs
	Findings []Finding
}

// JudgeFaces looks at both faces, on one grid, together.
func JudgeFaces(right, left *Map, designs Faces, t Tolerance, places ...Place) FacesJudgement {
	j := FacesJudgement{Web: Web(right, left), Mismatch: MismatchFrom(right, left, designs), Sideways: SidewaysOffset(right, left, designs, places...)}
	if t.Web > 0 && j.Web.Value < t.Web {
		j.Findings = append(j.Findings, Finding{Kind: "web", Place: motion.Vec{X: j.Web.X, Y: j.Web.Y}, Value: j.Web.Value, Limit: t.Web,
			Message: fmt.Sprintf("only %.3f mm of steel is left between the faces %.2f mm from the guard plane, %.2f mm from the spine line; %.3f mm is wanted: cut each face %.3f mm less deep",
				j.Web.Value, j.Web.X, -j.Web.Y, t.Web, (t.Web-j.Web.Value)/2)})
	}
	return j
}
