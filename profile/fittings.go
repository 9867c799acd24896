package profile

import (
	"math"

	"fullerwright/profile/material"
)

// gramsPer is what a cubic millimetre weighs at a density of 1 g/cm³, g.
const gramsPer = 1e-3

// Part is a part of the knife with its mass and the place of its centre of gravity.
type Part struct {
	Name    string
	Density float64 // g/cm³
	Mass    float64 // g
	Body
}

// Stack is where the parts of the hilt lie along the knife: distances behind the guard
// plane, mm, each part from where the one before ends.
type Stack struct {
	Guard, Spacers, Handle, Pommel float64 // where each ends
	Tang                           float64 // where the tang ends
	Rod                            float64 // where its threaded extension ends
}

// StackUp returns where the parts of the hilt end.
func (k Knife) StackUp() Stack {
	s := Stack{Guard: k.Guard.Thickness, Tang: k.Tang.Length}
	s.Spacers = s.Guard + k.Spacers.Thickness
	s.Handle = s.Spacers + k.Handle.Length
	s.Pommel = s.Handle + k.Pommel.Length
	s.Rod = s.Tang
	if k.Tang.Thread != "" {
		s.Rod += k.Tang.ThreadLength
	}
	return s
}

// fill returns the part of its rectangle that a cross-section fills.
func (s Shape) fill() float64 {
	if s == Oval {
		return math.Pi / 4
	}
	return 1
}

// fitting is a prism of a part of the hilt, before the tang's room is taken out.
type fitting struct {
	name          string
	from, to      float64 // behind the guard plane
	width, across float64
	shape         Shape
	density       float64
}

// fittings returns the parts of the hilt that the knife has.
func (k Knife) fittings() []fitting {
	s := k.StackUp()
	made := func(name string, given Optional) float64 { return given.Or(material.PartNamed(name).Density.Value) }
	all := []fitting{
		{"guard", 0, s.Guard, k.Guard.Length, k.Guard.Width, k.Guard.Shape, made(k.Guard.Material, k.Guard.Density)},
		{"spacers", s.Guard, s.Spacers, k.Handle.Width, k.Handle.Thickness, k.Handle.Shape, made(k.Spacers.Material, k.Spacers.Density)},
		{"handle", s.Spacers, s.Handle, k.Handle.Width, k.Handle.Thickness, k.Handle.Shape, made(k.Handle.Material, k.Handle.Density)},
		{"pommel", s.Handle, s.Pommel, k.Pommel.Width, k.Pommel.Thickness, k.Pommel.Shape, made(k.Pommel.Material, k.Pommel.Density)},
	}
	var out []fitting
	for _, f := range all {
		if f.to > f.from {
			out = append(out, f)
		}
	}
	return out
}

// Parts returns the finished knife by its parts: blade, tang, threaded extension and
// fittings, each with its mass for the density of its material. A fitting is a prism
// about the middle of the tang, less the room of the tang inside it; the little room
// around the tang is taken as full.
func (b Blade) Parts(steel float64) []Part {
	return append([]Part{newPart("blade", steel, b.BladeBody())}, b.behindGuard(steel)...)
}

func newPart(name string, density float64, body Body) Part {
	return Part{name, density, body.Volume * density * gramsPer, body}
}

// behindGuard returns the parts behind the guard plane.
func (b Blade) behindGuard(steel float64) []Part {
	middle := -b.Knife.ShoulderTop() - b.Knife.Tang.Width/2
	rod := b.rod(middle)
	var tang Body
	seen := 0.0 // how far behind the guard plane the tang is added up
	var fittings []Part
	for _, f := range b.Knife.fittings() {
		prism := Body{(f.to - f.from) * f.width * f.across * f.shape.fill(), -(f.from + f.to) / 2, middle, 0}
		steel := b.tangBetween(f.from, f.to)
		tang, seen = tang.plus(steel), f.to
		inside := steel.plus(b.rodBetween(rod, f.from, f.to))
		inside.Volume = -inside.Volume
		fittings = append(fittings, newPart(f.name, f.density, prism.plus(inside)))
	}
	tang = tang.plus(b.tangBetween(seen, b.Knife.Tang.Length))
	out := []Part{newPart("tang", steel, tang)}
	if rod.Volume > 0 {
		out = append(out, newPart("threaded extension", steel, rod))
	}
	return append(out, fittings...)
}

// rod returns the threaded extension of the tang: a cylinder of the thread's pitch
// diameter, whose section is that of the thread on the average.
func (b Blade) rod(middle float64) Body {
	s := b.Knife.StackUp()
	thread, err := b.Knife.thread()
	if err != nil || s.Rod <= s.Tang {
		return Body{}
	}
	return Body{math.Pi / 4 * square(thread.PitchDiameter()) * (s.Rod - s.Tang), -(s.Tang + s.Rod) / 2, middle, 0}
}

// tangBetween returns what of the tang lies between two distances behind the guard plane.
func (b Blade) tangBetween(from, to float64) Body {
	if end := math.Min(to, b.Knife.Tang.Length); end > from {
		return b.bodyBetween(-end, -from)
	}
	return Body{}
}

// rodBetween returns the same of its threaded extension.
func (b Blade) rodBetween(rod Body, from, to float64) Body {
	s := b.Knife.StackUp()
	lo, hi := math.Max(from, s.Tang), math.Min(to, s.Rod)
	if hi <= lo {
		return Body{}
	}
	return Body{rod.Volume * (hi - lo) / (s.Rod - s.Tang), -(lo + hi) / 2, rod.Y, 0}
}

// Weight is the mass of several parts and where they balance.
type Weight struct {
	Mass float64 // g
	X, Y float64 // of the centre of gravity; X is the balance point, in front of the guard plane where positive
}

// WeightOf returns the mass and centre of gravity of parts together.
func WeightOf(parts []Part) Weight {
	var w Weight
	for _, p := range parts {
		w.Mass += p.Mass
		w.X += p.Mass * p.X
		w.Y += p.Mass * p.Y
	}
	if w.Mass == 0 {
		return Weight{}
	}
	w.X, w.Y = w.X/w.Mass, w.Y/w.Mass
	return w
}
