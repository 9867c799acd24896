package proof

import "math"

// Cutter is the tool as the proof sees it. The zero value is invalid.
type Cutter struct {
	Square       bool    // a flat end, its corner rounded by CornerRadius; else a ball
	Radius       float64 // mm
	CornerRadius float64 // of a flat end, mm; 0 for a sharp corner
	PointAngle   float64 // of a drill, from side to side, radians; 0 for no drill
	Flutes       int
	FluteLength  float64 // mm; 0 where it is not known
	ShankRadius  float64 // mm; 0 for the cutter's own
	StickOut     float64 // mm, from the holder to the tip; 0 where it is not known
	HolderRadius float64 // mm; 0 for a holder of any size
}

// CutterEnd is the form of a cutter's end.
type CutterEnd uint8

// The forms of a cutter's end.
const (
	Ball CutterEnd = iota
	Square
	CornerRadius
	Point // of a drill
)

// End returns the form of the cutter's end.
func (c Cutter) End() CutterEnd {
	switch {
	case c.PointAngle > 0:
		return Point
	case !c.Square || c.CornerRadius >= c.Radius:
		return Ball
	case c.CornerRadius > 0:
		return CornerRadius
	}
	return Square
}

// shankRadius returns the radius above the flutes.
func (c Cutter) shankRadius() float64 {
	if c.ShankRadius > 0 {
		return c.ShankRadius
	}
	return c.Radius
}

// end is the turned profile of a cutter's lower end: a flat disc whose rim a corner
// rounds up to the radius. A ball has no flat, a square end no corner. A drill's point is
// a cone.
type end struct {
	form                 CutterEnd
	radius, flat, corner float64
	slope                float64 // of a drill's point
}

func endOf(c Cutter) end {
	e := end{form: c.End(), radius: c.Radius}
	switch e.form {
	case Ball:
		e.corner = c.Radius
	case CornerRadius:
		e.corner = c.CornerRadius
	case Point:
		return end{form: Point, radius: c.Radius, slope: 1 / math.Tan(c.PointAngle/2)}
	}
	e.flat = e.radius - e.corner
	return e
}

// rise returns how high the end stands over its tip at a distance from its axis; +Inf
// beyond its radius.
func (e end) rise(away float64) float64 {
	if away <= e.flat {
		return 0
	}
	if away > e.radius {
		return math.Inf(1)
	}
	if e.form == Point {
		return e.slope * away
	}
	out := away - e.flat
	return e.corner - math.Sqrt(math.Max(0, float64(e.corner*e.corner)-float64(out*out)))
}

// climb returns the slope of the end at a distance from its axis, less than its radius.
func (e end) climb(away float64) float64 {
	if away <= e.flat {
		return 0
	}
	if e.form == Point {
		return e.slope
	}
	out := away - e.flat
	return out / math.Sqrt(math.Max(0, float64(e.corner*e.corner)-float64(out*out)))
}
