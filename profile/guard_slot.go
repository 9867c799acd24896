package profile

import (
	"math"

	"fullerwright/profile/geom"
)

// GuardSlot is the slot of the guard as the mill leaves it, in the frame of the blank: x
// along the guard's length, y across it, the middle of the slot at 0, h over the middle of
// its thickness.
type GuardSlot struct {
	Length, Width   float64 // to be milled, less than the finished slot by what the file takes
	Finished        geom.Point
	Corner          float64 // radius that the cutter leaves in its corners, mm
	BlankLength     float64
	BlankWidth      float64
	Thickness       float64
	TangAsMeasured  bool
	TangClearance   float64
	NeededTangBreak float64 // of the tang's edges, at 45 degrees, to go in beside the corners unfiled, mm
	CornerCleared   float64 // greatest radius of the corners beside which the tang goes in as its edges are, mm
}

// GuardSlot returns the slot for the tang's section at the guard plane, as measured where
// somebody measured it, with the corners that a cutter of the given radius leaves; ok is
// false where the knife has no guard.
func (b Blade) GuardSlot(corner float64) (slot GuardSlot, ok bool) {
	g := b.Knife.Guard
	if g.Thickness <= 0 || g.Length <= 0 || g.Width <= 0 {
		return GuardSlot{}, false
	}
	m := b.ShoulderMeasures()
	file := m.Slot.Width - m.Slot.Mill
	slot = GuardSlot{Length: m.Slot.Length - file, Width: m.Slot.Mill, Finished: geom.Point{X: m.Slot.Length, Y: m.Slot.Width}, Corner: corner,
		BlankLength: g.Length, BlankWidth: g.Width, Thickness: g.Thickness, TangAsMeasured: m.SlotMeasured, TangClearance: g.Clearance}
	// A corner broken by k at 45 degrees clears the round corner where its middle lies
	// within the radius from the round's centre.
	slot.NeededTangBreak = math.Max(0, (2-math.Sqrt2)*corner-2*g.Clearance)
	slot.CornerCleared = (b.Knife.Tang.EdgeBreak + 2*g.Clearance) / (2 - math.Sqrt2)
	return slot, true
}

// inside returns how far a place lies inside the slot, below 0 outside.
func (s GuardSlot) inside(x, y float64) float64 {
	x, y = math.Abs(x), math.Abs(y)
	cx, cy := s.Length/2-s.Corner, s.Width/2-s.Corner
	if x > cx && y > cy {
		return s.Corner - math.Hypot(x-cx, y-cy)
	}
	return math.Min(s.Length/2-x, s.Width/2-y)
}

// Low returns the lowest that the face of the blank may lie: -Inf in the slot, NaN beside
// its walls.
func (s GuardSlot) Low(x, y float64) float64 {
	switch in := s.inside(x, y); {
	case math.Abs(in) < wallDoubt:
		return math.NaN()
	case in > 0:
		return math.Inf(-1)
	}
	return s.Thickness / 2
}

// Walls returns the places at which the walls of the slot are to be looked at, near both
// faces of the blank.
func (s GuardSlot) Walls() []Wall {
	cx, cy := s.Length/2-s.Corner, s.Width/2-s.Corner
	var out []Wall
	add := func(at, away geom.Point) {
		for _, h := range []float64{-s.Thickness/2 + fromFace, s.Thickness/2 - fromFace} {
			out = append(out, Wall{at, away, h})
		}
	}
	for _, side := range []float64{-1, 1} {
		for _, x := range evenly(-cx, cx, wallEvery) {
			add(geom.Point{X: x, Y: side * s.Width / 2}, geom.Point{Y: -side})
		}
		for _, y := range evenly(-cy, cy, wallEvery) {
			add(geom.Point{X: side * s.Length / 2, Y: y}, geom.Point{X: -side})
		}
		for _, other := range []float64{-1, 1} {
			for i := 1; i < 4; i++ {
				sin, cos := math.Sincos(math.Pi / 2 * float64(i) / 4)
				out := geom.Point{X: side * cos, Y: other * sin}
				add(geom.Point{X: side*cx + s.Corner*out.X, Y: other*cy + s.Corner*out.Y}, geom.Point{X: -out.X, Y: -out.Y})
			}
		}
	}
	return out
}
