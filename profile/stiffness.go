package profile

import "fullerwright/profile/material"

// Stiffness is the bending stiffness of a section: Young's modulus times its second
// moment of area, N·mm².
type Stiffness struct{ Sideways, Edgewise float64 }

// Stiffness returns the bending stiffness of a section. The modulus is material.Modulus.
func (p SectionProperties) Stiffness() Stiffness {
	return Stiffness{material.Modulus * p.Flat, material.Modulus * p.Edge}
}

// Deflection is how far the point moves, mm.
type Deflection struct{ Sideways, Edgewise float64 }

// PointDeflection returns how far the point moves aside when a force in newtons presses
// on it and the blade is held in the guard plane: the integral of F·(L-x)²/(E·I) over
// the blade, the unit-load form of beam bending (any textbook of mechanics of
// materials). Shear and the give of the holding are left out.
func (b Blade) PointDeflection(force float64) Deflection {
	length := b.Knife.Blade.Length
	slices, _ := b.slices(0, length)
	return deflectionOf(slices, length, force)
}

func deflectionOf(slices []slice, length, force float64) Deflection {
	var d Deflection
	for _, s := range slices {
		lever := square(length-s.X) * force / material.Modulus * s.Weight
		if s.Flat > 0 {
			d.Sideways += lever / s.Flat
		}
		if s.Edge > 0 {
			d.Edgewise += lever / s.Edge
		}
	}
	return d
}
