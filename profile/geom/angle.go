// Package geom holds exact plane geometry: lines, circular arcs and cubic Béziers,
// and chains of them.
//
// Lengths are millimetres, angles radians; x to the right, y up, angles
// counterclockwise from x. Everything is immutable once made. Signs and areas are
// computed with each product rounded on its own, so that every processor agrees.
package geom

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Point is a place or a displacement, mm.
type Point = r2.Vec

// Angle is an angle in radians.
type Angle float64

// Degree is one degree.
const Degree Angle = math.Pi / 180

// Degrees returns the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a / Degree) }

// Radians returns the angle in radians.
func (a Angle) Radians() float64 { return float64(a) }

// cross returns the z of the cross product of two displacements.
func cross(a, b Point) float64 { return float64(a.X*b.Y) - float64(a.Y*b.X) }

// dot returns the scalar product of two displacements.
func dot(a, b Point) float64 { return float64(a.X*b.X) + float64(a.Y*b.Y) }

func sub(a, b Point) Point            { return Point{X: a.X - b.X, Y: a.Y - b.Y} }
func add(a, b Point) Point            { return Point{X: a.X + b.X, Y: a.Y + b.Y} }
func scale(f float64, a Point) Point  { return Point{X: f * a.X, Y: f * a.Y} }
func norm(a Point) float64            { return math.Hypot(a.X, a.Y) }
func mix(a, b Point, t float64) Point { return Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)} }
func unit(a Point) Point {
	if n := norm(a); n > 0 {
		return scale(1/n, a)
	}
	return Point{}
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
