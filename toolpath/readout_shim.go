package toolpath

import (
	"math"

	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// Shim raises one end of the bar so that the sloping floor of a fuller lies level and
// can be cut at one Z.
type Shim struct {
	Fuller int
	// Slope is the rise of the floor over X with the bar lying flat: the slope of the
	// straight line through the ends of the middle finishing lane.
	Slope float64
	// OffLine is how far the floor strays from that line, mm, upright: 0 for a floor of
	// one slope. What is more than the maker can live with is cut stretch by stretch.
	OffLine float64
	// TouchX is where Z = 0 is touched on the bar once it is raised, and TouchZ how high that
	// place lies before. On parallel faces it is where Z is touched anyway; on a tapered one,
	// over the middle of the floor, so that Z tells the depth under the face.
	TouchX, TouchZ float64
	// FaceStray is how far a tapered face lies from level beside the floor once the bar is
	// raised, mm.
	FaceStray float64
}

// Height returns the thickness of the shim, mm, for two supports of the bar the given
// distance apart: the bar leans by the angle whose tangent is the slope.
//
//	height = |slope| · span
func (s Shim) Height(span float64) float64 { return math.Abs(s.Slope) * span }

// RaiseRight reports whether the end toward +X is raised: the floor falls that way.
func (s Shim) RaiseRight() bool { return s.Slope < 0 }

// Z returns the height of a place once the bar is raised and Z = 0 is touched again:
// turned by the angle of the slope about the place that is touched,
//
//	Z' = (Z - touch Z - slope·(X - touch X)) · cos(angle).
//
// X changes by less than Z · slope, which no run-out shows.
func (s Shim) Z(x, z float64) float64 {
	return (z - s.TouchZ - s.Slope*(x-s.TouchX)) / math.Hypot(1, s.Slope)
}

// shim returns the shim of a fuller, from the middle one of its finishing lanes.
func (r Readout) shim(fuller int, setup Setup) Shim {
	count := 0
	for _, row := range r.Rows {
		if row.Fuller == fuller && row.Purpose == Finish {
			count = max(count, row.Lane)
		}
	}
	var places []readoutPlace
	for _, row := range r.Rows {
		if row.Fuller == fuller && row.Purpose == Finish && row.Lane == (count+1)/2 {
			places = append(places, readoutPlace{row.XFrom, row.ZFrom}, readoutPlace{row.XTo, row.ZTo})
		}
	}
	out := Shim{Fuller: fuller, TouchX: setup.Placement.Work(motion.Vec{X: setup.TouchX}).X}
	if len(places) == 0 {
		return out
	}
	first, last := places[0], places[len(places)-1]
	out.Slope = (last.z - first.z) / (last.x - first.x)
	for _, p := range places {
		out.OffLine = math.Max(out.OffLine, math.Abs(p.z-first.z-out.Slope*(p.x-first.x)))
	}
	if setup.bar.TaperedFirst() {
		out.TouchX = (first.x + last.x) / 2
		out.TouchZ = setup.faceZ(out.TouchX)
		for _, x := range setup.changes(Span{math.Min(first.x, last.x), math.Max(first.x, last.x)}) {
			out.FaceStray = math.Max(out.FaceStray, math.Abs(out.Z(x, setup.faceZ(x))))
		}
	}
	return out
}

type readoutPlace struct{ x, z float64 }

// shimOf returns the shim of a fuller.
func (r Readout) shimOf(fuller int) Shim {
	for _, s := range r.Shims {
		if s.Fuller == fuller {
			return s
		}
	}
	return Shim{Fuller: fuller}
}

// TouchWidth returns how wide a groove must measure that a ball of the given radius has
// cut to the given depth, mm: the chord of a segment,
//
//	width = 2 · sqrt(depth · (2 · radius - depth)),
//
// and never more than the ball's diameter.
func TouchWidth(radius, depth float64) float64 { return cutting.EffectiveDiameter(2*radius, depth) }

// SecondFaceZ returns the Z that replaces a planned one where the bar measures another
// thickness than was planned with: half of the difference goes to each face, so that
// both fullers lie alike about the true centre-plane.
//
//	Z' = Z - (measured - planned) / 2
func SecondFaceZ(z, planned, measured float64) float64 { return z - (measured-planned)/2 }
