// Package motion holds what a program makes a machine do: straight and circular
// moves of the tool tip, in the order in which they happen, each with the line of
// the text that caused it.
//
// Lengths are millimetres and angles radians, in the work frame of the setup:
// X along the fixed jaw to the right, Y away from the operator, Z up. The
// coordinates are those of the controlled point, the tip of the cutter on its axis.
// The package knows neither the text a motion came from nor the steel it cuts.
package motion

import "math"

// Vec is a point or a displacement in millimetres.
type Vec struct{ X, Y, Z float64 }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub returns v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Scale returns f times v.
func (v Vec) Scale(f float64) Vec { return Vec{f * v.X, f * v.Y, f * v.Z} }

// Norm returns the length of v.
func (v Vec) Norm() float64 { return math.Sqrt(v.X*v.X + v.Y*v.Y + v.Z*v.Z) }

// Kind says what a motion is.
type Kind uint8

// The kinds of motion. The zero value is not a motion.
const (
	None  Kind = iota
	Rapid      // straight, at the machine's traverse rate
	Line       // straight, at the feed
	Arc        // circular or helical, at the feed
	Dwell      // no movement for Seconds
	Stop       // the program waits for the operator
	Tool       // the tool is changed
)

// Plane is the plane in which an arc is circular.
type Plane uint8

// The three planes. For each the pair of axes (first, second) is right-handed with
// the plane's normal: XY with Z, ZX with Y, YZ with X.
const (
	PlaneXY Plane = iota // G17, normal Z
	PlaneZX              // G18, normal Y
	PlaneYZ              // G19, normal X
)

// Split returns the coordinates of v along the first and second axis of p and along
// its normal.
func (p Plane) Split(v Vec) (first, second, normal float64) {
	switch p {
	case PlaneZX:
		return v.Z, v.X, v.Y
	case PlaneYZ:
		return v.Y, v.Z, v.X
	default:
		return v.X, v.Y, v.Z
	}
}

// Join is the inverse of Split.
func (p Plane) Join(first, second, normal float64) Vec {
	switch p {
	case PlaneZX:
		return Vec{X: second, Y: normal, Z: first}
	case PlaneYZ:
		return Vec{X: normal, Y: first, Z: second}
	default:
		return Vec{X: first, Y: second, Z: normal}
	}
}

// Spindle is the state of the spindle during a motion.
type Spindle int8

// The states of the spindle.
const (
	SpindleOff              Spindle = 0
	SpindleClockwise        Spindle = 1  // M3
	SpindleCounterclockwise Spindle = -1 // M4
)

// Motion is one movement or pause of a program. Its zero value is no motion.
type Motion struct {
	TextLine int  // line of the program, counted from 1
	Kind     Kind // what it is
	From, To Vec  // where it begins and ends, mm

	// For arcs: the plane, the centre (its coordinate along the plane's normal is
	// that of From) and the signed sweep in radians, positive when counterclockwise
	// seen from the positive end of the plane's normal. A full circle sweeps ±2π.
	Plane  Plane
	Centre Vec
	Sweep  float64

	Feed    float64 // mm/min along the true path; 0 for motions that are not fed
	Spindle Spindle // what the spindle does meanwhile
	Speed   float64 // rev/min as programmed
	Flood   bool    // M8
	Mist    bool    // M7
	Slot    int     // tool slot in the spindle, 0 when the program never says
	Seconds float64 // length of a dwell
	Text    string  // for stops: the message that the operator sees, if any
}

// Radius returns the radius of an arc, mm, measured at its start; 0 otherwise.
func (m Motion) Radius() float64 {
	if m.Kind != Arc {
		return 0
	}
	a, b, _ := m.Plane.Split(m.From)
	c, d, _ := m.Plane.Split(m.Centre)
	return math.Hypot(a-c, b-d)
}

// At returns the point at the fraction t of the motion, t from 0 to 1. Along an arc
// whose end is not exactly on the circle (the standard's tolerance allows this) the
// radius changes linearly with the angle, so that the path ends at To.
func (m Motion) At(t float64) Vec {
	switch m.Kind {
	case Rapid, Line:
		return m.From.Add(m.To.Sub(m.From).Scale(t))
	case Arc:
		a, b, n := m.Plane.Split(m.From)
		c, d, _ := m.Plane.Split(m.Centre)
		e, f, n1 := m.Plane.Split(m.To)
		radius := math.Hypot(a-c, b-d)
		radius += t * (math.Hypot(e-c, f-d) - radius)
		sin, cos := math.Sincos(math.Atan2(b-d, a-c) + t*m.Sweep)
		return m.Plane.Join(c+radius*cos, d+radius*sin, n+t*(n1-n))
	default:
		return m.From
	}
}

// Length returns the length of the path, mm.
func (m Motion) Length() float64 {
	switch m.Kind {
	case Rapid, Line:
		return m.To.Sub(m.From).Norm()
	case Arc:
		_, _, n0 := m.Plane.Split(m.From)
		_, _, n1 := m.Plane.Split(m.To)
		return math.Hypot(m.Radius()*m.Sweep, n1-n0)
	default:
		return 0
	}
}

// Directions returns the unit directions in which a movement sets off and arrives; both
// are zero where it does not move.
func (m Motion) Directions() (sets, arrives Vec) {
	if m.Length() == 0 {
		return Vec{}, Vec{}
	}
	if m.Kind != Arc {
		along := m.To.Sub(m.From)
		along = along.Scale(1 / along.Norm())
		return along, along
	}
	_, _, n0 := m.Plane.Split(m.From)
	_, _, n1 := m.Plane.Split(m.To)
	tangent := func(at Vec) Vec {
		a, b, _ := m.Plane.Split(at.Sub(m.Centre))
		radius := math.Hypot(a, b)
		way := m.Plane.Join(-b*m.Sweep, a*m.Sweep, 0).Add(m.Plane.Join(0, 0, n1-n0).Scale(radius / m.Radius()))
		return way.Scale(1 / way.Norm())
	}
	return tangent(m.From), tangent(m.To)
}

// Angle returns the angle between two directions, radians; a right angle where one is zero.
func (v Vec) Angle(w Vec) float64 {
	if (v == Vec{} || w == Vec{}) {
		return math.Pi / 2
	}
	cross := Vec{v.Y*w.Z - v.Z*w.Y, v.Z*w.X - v.X*w.Z, v.X*w.Y - v.Y*w.X}
	return math.Atan2(cross.Norm(), v.X*w.X+v.Y*w.Y+v.Z*w.Z)
}

// Placement says how the blade's face frame lies in the work frame of a setup. The
// face frame has x toward the point, y toward the spine (both as in the blade frame)
// and h, the height over the blade's centre-plane toward the face that is up. A
// point (x, y, h) stands at
//
//	X = SignX·x + X0,  Y = SignY·y + Y0,  Z = h + Z0
//
// in the work frame. SignX and SignY are +1 or -1; the zero value is invalid.
type Placement struct {
	SignX, SignY float64
	X0, Y0, Z0   float64 // mm
}

// Work takes a point of the face frame to the work frame.
func (p Placement) Work(face Vec) Vec {
	return Vec{p.SignX*face.X + p.X0, p.SignY*face.Y + p.Y0, face.Z + p.Z0}
}

// Face takes a point of the work frame to the face frame.
func (p Placement) Face(work Vec) Vec {
	return Vec{p.SignX * (work.X - p.X0), p.SignY * (work.Y - p.Y0), work.Z - p.Z0}
}
