// Package profile turns the parameters of a knife into exact geometry: the outline
// of the blade, its thickness, its fullers, the bar it is cut from.
//
// Lengths are millimetres and angles radians. The blade frame has its origin where
// the guard plane meets the spine line, x toward the point (the tang lies at
// negative x), y toward the spine (the edge lies at y = -width) and z out of the
// right face, with z = 0 on the centre-plane. Either face is also described in its
// face frame: the same x and y, and h, the height over the centre-plane toward that
// face. Left and right are as the knife is held, edge down, point away.
//
// The package knows no cutter, machine or file format of a program.
package profile

import "math"

// Face is one of the two faces of a blade.
type Face uint8

// The faces, as the knife is held with the edge down and the point away.
const (
	Right Face = iota
	Left
)

// String returns "right" or "left".
func (f Face) String() string {
	if f == Left {
		return "left"
	}
	return "right"
}

// Faces returns both faces in the order in which they are worked.
func Faces() []Face { return []Face{Right, Left} }

// Optional is a length or a number that a knife file may leave out. The zero value
// is one left out.
type Optional struct {
	Value float64
	Known bool
}

// Some returns a known value.
func Some(v float64) Optional { return Optional{Value: v, Known: true} }

// Or returns the value, or other where it was left out.
func (o Optional) Or(other float64) float64 {
	if o.Known {
		return o.Value
	}
	return other
}

const (
	// agreement bounds how far two dimensions that say the same thing may differ, mm.
	// Handbook tables and drawings round to 0.01 mm or 0.001 in; twice that is kept.
	agreement = 0.05
	// resolution is the smallest length the geometry tells apart, mm.
	resolution = 1e-9
)

func square(v float64) float64 { return v * v }

// rootOf returns the square root of v, or 0 where v is negative.
func rootOf(v float64) float64 { return math.Sqrt(max(0, v)) }
