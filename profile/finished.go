package profile

import "slices"

// finished is the blade ready to be cut at many places: the ground blade and the grooves
// of its fullers.
type finished struct {
	ground  *ground
	grooves [2][]Groove // by face
	alike   bool        // both faces have the same grooves
	through bool        // one of them runs through the shoulder
}

// finished returns the finished blade with its fullers as they lie in each face.
func (b *Blade) finished() finished {
	out := finished{ground: &b.ground, alike: true, through: b.fulleredTang()}
	for i := range b.Fullers {
		f := &b.Fullers[i]
		out.alike = out.alike && f.Size.Faces == "both" && f.came == [2]*Came{}
		for _, face := range Faces() {
			if f.Size.Cut(face) {
				out.grooves[face] = append(out.grooves[face], f.On(face).Finished)
			}
		}
	}
	return out
}

// fulleredTang reports whether a fuller runs through the shoulder.
func (b *Blade) fulleredTang() bool {
	return slices.ContainsFunc(b.Fullers, func(f Fuller) bool { return f.StartVisible < 0 })
}

// section returns the blade or tang cut at the distance x from the guard plane.
func (f *finished) section(x float64) CrossSection {
	c := f.ground.section(x)
	c.alike = true
	if x >= 0 || f.through {
		c.grooves, c.alike = f.grooves, f.alike
	}
	return c
}
