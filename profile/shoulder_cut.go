package profile

import (
	"fmt"
	"math"

	"fullerwright/profile/geom"
)

// ShoulderCut is the step from blade to tang as the mill leaves it: the shoulders in one
// plane, the tang's sides behind them, and the step on each face.
type ShoulderCut struct {
	Plane   float64 // x of the shoulders as milled: the file's allowance behind the guard plane
	Back    float64 // x to which the tang's sides are milled
	Corner  float64 // radius of the inside corners
	Sides   []ShoulderSide
	Stepped bool // the faces step down too
	bar     Bar
	tang    float64 // half thickness of the tang between its faces
}

// ShoulderSide is one side of it: the edge of the tang from Back to the inside corner,
// the corner, and the shoulder out over the side of the bar.
type ShoulderSide struct {
	Edge     geom.Line
	Corner   geom.Arc
	Shoulder geom.Line
	Up       float64 // +1 at the spine, -1 at the edge: the side on which the steel goes
}

// Pieces returns the side from the back to beyond the bar.
func (s ShoulderSide) Pieces() []geom.Piece { return []geom.Piece{s.Edge, s.Corner, s.Shoulder} }

// seatRoom is how much further than the guard is thick the tang is milled, mm, where the
// knife file does not say: room for the file (common practice, no source).
const seatRoom = 10

// milledLength returns how far behind the guard plane the tang's sides are milled.
func (k Knife) milledLength() float64 {
	return math.Min(k.Shoulder.MilledLength.Or(k.Guard.Thickness+seatRoom), k.Tang.Length)
}

// ShoulderCut returns the step from blade to tang with inside corners of the given
// radius: the knife's own, or the greater one that a cutter leaves. A side on which the
// tang does not step is not milled. It says where a corner does not fit.
func (b Blade) ShoulderCut(corner float64) (ShoulderCut, error) {
	k := b.Knife
	c := ShoulderCut{Plane: -k.Shoulder.FileStock, Back: -k.milledLength(), Corner: corner, Stepped: k.Shoulder.FaceStep > 0,
		bar: b.Bar, tang: k.tangStations().value(0) / 2}
	top, bottom := -k.ShoulderTop(), -k.ShoulderTop()-k.Tang.Width
	middle, half := (top+bottom)/2, k.Tang.EndWidth/2
	for _, side := range []struct{ at, end, out, step, up float64 }{
		{top, middle + half, b.Bar.Top, k.ShoulderTop(), 1},
		{bottom, middle - half, b.Bar.Bottom, k.ShoulderBottom(), -1},
	} {
		if side.step < resolution {
			continue
		}
		on := func(x float64) geom.Point {
			return geom.Point{X: x, Y: side.at + (side.end-side.at)*x/-k.Tang.Length}
		}
		foot := on(c.Plane)
		edge, arc, shoulder, err := geom.Fillet(geom.Line{From: on(c.Back), To: foot}, geom.Line{From: foot, To: geom.Point{X: c.Plane, Y: side.out}}, corner)
		if err != nil {
			return ShoulderCut{}, fmt.Errorf("the inside corner of the shoulder does not fit: %w", err)
		}
		c.Sides = append(c.Sides, ShoulderSide{edge, arc, shoulder, side.up})
	}
	return c, nil
}

// beside returns how far a place between Back and Plane lies from the side, square to
// it: above 0 where the steel goes.
func (s ShoulderSide) beside(p geom.Point) float64 {
	if p.X <= s.Edge.To.X {
		d := s.Edge.Tangent(0)
		return s.Up * (d.X*(p.Y-s.Edge.From.Y) - d.Y*(p.X-s.Edge.From.X))
	}
	away := math.Hypot(p.X-s.Corner.Centre.X, p.Y-s.Corner.Centre.Y)
	if s.Up*(p.Y-s.Corner.Centre.Y) > 0 {
		return s.Shoulder.From.X - p.X
	}
	return s.Corner.Radius - away
}

// wallDoubt is how near a wall a height says nothing, mm: the cutter's side may stand
// on either side of such a place.
const wallDoubt = 0.02

// Low returns the lowest that the face of the bar may lie at a place once the shoulder is
// milled: -Inf where no steel is left, NaN beside a wall and in the waste behind. Beside
// the tang too it does not matter what is left, where this face is not the one from which
// the sides are milled through.
func (c ShoulderCut) Low(through bool) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		low := c.low(x, y)
		if !through && math.IsInf(low, -1) {
			return math.NaN()
		}
		return low
	}
}

func (c ShoulderCut) low(x, y float64) float64 {
	face := c.bar.Face(x)
	if x > c.Plane+wallDoubt {
		return face
	}
	// Beside the sides' walls, and over the shoulder's plane itself.
	over, near := math.Inf(-1), math.Inf(1)
	for _, s := range c.Sides {
		d := s.beside(geom.Point{X: math.Min(x, c.Plane), Y: y})
		over, near = math.Max(over, d), math.Min(near, math.Abs(d))
	}
	switch {
	case near < wallDoubt || math.Abs(x-c.Plane) < wallDoubt:
		return math.NaN()
	case x < c.Back-wallDoubt && over > 0:
		return math.NaN()
	case x < c.Back-wallDoubt:
		return face
	case x < c.Back+wallDoubt:
		return math.NaN()
	case over > 0:
		return math.Inf(-1)
	case c.Stepped:
		return math.Min(face, c.tang)
	}
	return face
}

// High returns the highest that the face may lie: Low with a corner of the given radius
// left between the face step and the shoulder, and behind at its other end.
func (c ShoulderCut) High(radius float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		low := c.low(x, y)
		if !c.Stepped || low != c.tang {
			return low
		}
		rise := func(d float64) float64 {
			if d >= radius {
				return 0
			}
			in := radius - math.Max(0, d)
			return radius - math.Sqrt(math.Max(0, square(radius)-square(in)))
		}
		return math.Min(c.bar.Face(x), low+math.Max(rise(c.Plane-x), rise(x-c.Back)))
	}
}

// Wall is a place of the finished work that stands upright: where, the direction away
// from the steel, and the height at which it can be looked at.
type Wall struct {
	At, Away geom.Point
	Height   float64
}

// wallEvery is how far apart walls are looked at, mm.
const wallEvery = 0.5

// fromFace is how far from the bar's faces walls are looked at, mm.
const fromFace = 0.05

// Walls returns the places at which the walls of a face's milling are to be looked at:
// the sides where they are milled through from this face, and the shoulder over the face
// step. A cutter may leave a corner of the given radius at the foot of the latter.
func (c ShoulderCut) Walls(through bool, radius float64) []Wall {
	var out []Wall
	for _, s := range c.Sides {
		if !through {
			break
		}
		// Beyond the corner the wall stands over the shoulder's plane.
		for _, piece := range s.Pieces() {
			out = append(out, wallsAlong(piece, c.bar, -s.Up)...)
		}
	}
	high := c.bar.Face(c.Plane) - fromFace
	if c.Stepped && high > c.tang+radius {
		low, top := c.bar.Bottom, c.bar.Top
		for _, s := range c.Sides {
			if s.Up > 0 {
				top = s.Edge.To.Y
			} else {
				low = s.Edge.To.Y
			}
		}
		for _, y := range evenly(low+wallEvery, top-wallEvery, wallEvery) {
			out = append(out, Wall{geom.Point{X: c.Plane, Y: y}, geom.Point{X: -1}, high})
		}
	}
	return out
}

// wallsAlong returns places along a piece whose steel lies to its right (side -1) or its
// left (side +1), just over the underside of the bar.
func wallsAlong(piece geom.Piece, bar Bar, side float64) []Wall {
	var out []Wall
	n := max(1, int(piece.Length()/wallEvery))
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		p, d := piece.At(t), piece.Tangent(t)
		out = append(out, Wall{p, geom.Point{X: side * d.Y, Y: -side * d.X}, -bar.Face(p.X) + fromFace})
	}
	return out
}

// evenly returns places from one to another, at most a step apart.
func evenly(from, to, step float64) []float64 {
	if to < from {
		return nil
	}
	n := max(1, int(math.Ceil((to-from)/step)))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = from + (to-from)*float64(i)/float64(n)
	}
	return out
}
