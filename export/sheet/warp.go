package sheet

import (
	"fullerwright/profile/geom"
)

// Warp is a linear map of everything on a sheet about a point that stays: x becomes
// XX·x + XY·y, and y becomes YX·x + YY·y. It makes up for a printer that stretches or
// leans. The zero value changes nothing.
type Warp struct {
	XX, XY, YX, YY float64
	About          geom.Point
}

// None reports whether the map changes nothing.
func (w Warp) None() bool { return w == Warp{} }

// At returns where a point of the drawing lies on the sheet.
func (w Warp) At(p geom.Point) geom.Point {
	if w.None() {
		return p
	}
	x, y := p.X-w.About.X, p.Y-w.About.Y
	return geom.Point{X: w.About.X + w.XX*x + w.XY*y, Y: w.About.Y + w.YX*x + w.YY*y}
}

// shift returns what the map adds to the linear part of a point.
func (w Warp) shift() geom.Point { return w.At(geom.Point{}) }
