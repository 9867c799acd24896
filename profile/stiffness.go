package profile

import "fullerwright/profile/material"

// Stiffness is the bending stiffness of a section: Young's modulus times its second
// moment of area, N·mm².
type Stiffness struct{ Sideways, Edgewise float64 }

// Stiffness returns the bending stiffness of a section. The modulus is material.Modulus.
func (p SectionProperties) Stiffness() Stiffness {
	return Stiffness{material.Modulus * p.Flat, material.Modulus * p.Edge}
}

// Deflection is how far the blade bends, mm: the point sideways, and edgewise the place
// that lies behindPoint of the length behind it.
type Deflection struct{ Sideways, Edgewise float64 }

// behindPoint is how far behind the point a blade is pressed edgewise, as a part of its
// length. At the point itself the section vanishes so fast that the integral has no
// limit: the answer would be that of the number of sections looked at.
const behindPoint = 1.0 / 30

// PointDeflection returns how far the blade bends when a force in newtons presses on it
// and it is held in the guard plane: the integral of F·(a-x)²/(E·I) up to the place a
// that is pressed, the unit-load form of beam bending (any textbook of mechanics of
// materials). Shear and the give of the holding are left out.
func (b Blade) PointDeflection(force float64) (d Deflection) {
	length := b.Knife.Blade.Length
	b.along(0, length, func(with, _ slice) { d = d.plus(with, length, force) })
	return d
}

// plus returns the deflection with what the give of one more section adds.
func (d Deflection) plus(s slice, length, force float64) Deflection {
	pressed := length * (1 - behindPoint)
	unit := force / material.Modulus * s.Weight
	if s.Flat > 0 {
		d.Sideways += square(length-s.X) * unit / s.Flat
	}
	if s.Edge > 0 && s.X < pressed {
		d.Edgewise += square(pressed-s.X) * unit / s.Edge
	}
	return d
}
