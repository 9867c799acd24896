package profile

// finished is what makes a finished blade of sections of the ground one: the grooves of
// its fullers.
type finished struct {
	grooves [2][]Groove // by face
	alike   bool        // both faces have the same grooves
	through bool        // one of them cuts the tang
}

// finished returns what finishes sections of the blade, with its fullers as they lie in each face.
func (b *Blade) finished() finished {
	out := finished{alike: true}
	for i := range b.Fullers {
		f := &b.Fullers[i]
		out.alike = out.alike && f.Size.Faces == "both" && f.came == [2]*Came{}
		for _, face := range Faces() {
			if f.Size.Cut(face) {
				lies := f.On(face)
				out.grooves[face] = append(out.grooves[face], lies.Finished)
				out.through = out.through || lies.StartCut < 0
			}
		}
	}
	return out
}

// cut cuts the fullers into a section of the ground blade or tang.
func (f *finished) cut(c *CrossSection) {
	c.alike = true
	if c.X >= 0 || f.through {
		c.grooves, c.alike = f.grooves, f.alike
	}
}
