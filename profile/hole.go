package profile

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// Hole is a hole drilled square to the faces: a pin through the tang, a dowel in the waste
// of the bar's ends, a hole to be tapped. Thread is empty for a plain one.
type Hole struct {
	At, FromSpine float64
	Diameter      Optional // of a plain hole
	Depth         float64  // of its full diameter from the bar's face; 0 for right through
	Thread        string
	Face          string // "right" or "left": from which it is drilled
}

// Place returns the middle of the hole in the blade frame.
func (h Hole) Place() geom.Point { return geom.Point{X: h.At, Y: -h.FromSpine} }

// Bore returns the diameter to drill, mm: that of a plain hole, or the tap drill of its
// thread.
func (h Hole) Bore() float64 {
	if thread, err := ThreadNamed(h.Thread); err == nil {
		return thread.TapDrill
	}
	return h.Diameter.Value
}

func holeGroup() ParameterGroup {
	return ParameterGroup{Name: "hole", Repeated: true,
		Meaning: "a hole drilled square to the faces: a pin, a dowel in the waste, a tapped hole; give its diameter or its thread",
		Parameters: []Parameter{
			planar(needed("at", "distance of its middle from the guard plane; negative in the tang", -500, 1000), Along,
				func(k *Knife, i int) any { return &k.Holes[i].At }),
			planar(needed("from_spine", "distance of its middle under the spine line", -100, 250), Fixed,
				func(k *Knife, i int) any { return &k.Holes[i].FromSpine }),
			plain(length("diameter", "diameter of a plain hole", "", 0.5, 30), Fixed,
				func(k *Knife, i int) any { return &k.Holes[i].Diameter }),
			plain(length("depth", "depth of its full diameter from the face of the bar; 0 for right through", "0 mm", 0, 30), Fixed,
				func(k *Knife, i int) any { return &k.Holes[i].Depth }),
			plain(text("thread", "thread it is to be tapped with, as M4x0.7; empty for a plain hole", ""), Verbal,
				func(k *Knife, i int) any { return &k.Holes[i].Thread }),
			plain(choice("face", "face it is drilled from", "right", "left"), Verbal,
				func(k *Knife, i int) any { return &k.Holes[i].Face }),
		},
		resize: func(k *Knife, n int) { k.Holes = make([]Hole, n) },
		count:  func(k Knife) int { return len(k.Holes) },
	}
}

// validateHoles checks the sizes of holes, and that they do not run into each other.
func (k Knife) validateHoles() (faults document.FieldErrors) {
	for i, h := range k.Holes {
		_, err := ThreadNamed(h.Thread)
		switch {
		case h.Thread == "" && !h.Diameter.Known:
			faults = append(faults, k.fault("hole", i, "diameter", "a hole needs a diameter or a thread", "give one of the two"))
			continue
		case h.Thread != "" && err != nil:
			faults = append(faults, k.fault("hole", i, "thread", err.Error(), "leave it empty for a plain hole"))
			continue
		case h.Thread != "" && h.Diameter.Known:
			faults = append(faults, k.fault("hole", i, "diameter", "the thread gives the diameter to drill", "leave one of the two out"))
			continue
		}
		for j, other := range k.Holes[:i] {
			apart := math.Hypot(h.At-other.At, h.FromSpine-other.FromSpine) - (h.Bore()+other.Bore())/2
			if apart <= 0 {
				faults = append(faults, k.fault("hole", i, "at", fmt.Sprintf("it runs %s into hole %d", k.say(-apart), j+1), "move one of them"))
			}
		}
	}
	return faults
}

// HolesFrom returns the numbers, counted from 0, of the holes drilled from a face.
func (k Knife) HolesFrom(face Face) []int {
	var out []int
	for i, h := range k.Holes {
		if h.Face == face.String() {
			out = append(out, i)
		}
	}
	return out
}

// HoleSurface returns the lowest that the face of the bar may lie once the given holes are
// drilled with a drill of the point angle: -Inf in a hole right through, NaN beside its
// wall.
func (b Blade) HoleSurface(holes []int, point geom.Angle) func(x, y float64) float64 {
	slope := 1 / math.Tan(point.Radians()/2)
	return func(x, y float64) float64 {
		face := b.Bar.Face(x)
		for _, i := range holes {
			h := b.Knife.Holes[i]
			radius, at := h.Bore()/2, h.Place()
			away := math.Hypot(x-at.X, y-at.Y)
			switch {
			case away > radius+wallDoubt:
				continue
			case away > radius-wallDoubt:
				return math.NaN()
			case h.Depth == 0:
				return math.Inf(-1)
			}
			return face - h.Depth - (radius-away)*slope
		}
		return face
	}
}

// HoleWalls returns the places at which the walls of the given holes are to be looked at.
func (b Blade) HoleWalls(holes []int) []Wall {
	const round = 16
	var out []Wall
	for _, i := range holes {
		h := b.Knife.Holes[i]
		radius, middle, face := h.Bore()/2, h.Place(), b.Bar.Face(h.At)
		low := -face + fromFace
		if h.Depth > 0 {
			low = face - h.Depth + fromFace
		}
		for j := range round {
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / round)
			at := geom.Point{X: middle.X + radius*cos, Y: middle.Y + radius*sin}
			for _, height := range []float64{low, face - fromFace} {
				out = append(out, Wall{at, geom.Point{X: -cos, Y: -sin}, height})
			}
		}
	}
	return out
}

// AroundHole returns the least steel between a hole and the finished outline, and whether
// the hole lies inside the outline; outside, the least way to the outline and to the sides
// of the bar.
func (b Blade) AroundHole(index int) (least float64, inside bool) {
	h := b.Knife.Holes[index]
	p := h.Place()
	inside = b.Outline.Contains(p)
	_, least = b.Outline.Nearest(p)
	if !inside {
		for _, side := range []float64{b.Bar.Top - p.Y, p.Y - b.Bar.Bottom, p.X - b.Bar.Butt, b.Bar.Front - p.X} {
			least = math.Min(least, side)
		}
	}
	return least - h.Bore()/2, inside
}
