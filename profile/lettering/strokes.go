package lettering

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"fullerwright/profile/geom"
)

// Strokes is a line of lettering: the chains to cut, in order, each of lines and arcs,
// mm. It does not change once made. The zero value has no strokes.
type Strokes struct {
	chains         []geom.Chain
	width, capital float64
}

// Chains returns the strokes in the order in which they are cut.
func (s Strokes) Chains() []geom.Chain { return slices.Clone(s.chains) }

// Width returns how far the middles of the strokes reach from left to right, before
// they were placed, mm.
func (s Strokes) Width() float64 { return s.width }

// Length returns the length of all strokes, mm, without the ways between them.
func (s Strokes) Length() float64 {
	sum := 0.0
	for _, c := range s.chains {
		sum += c.Length()
	}
	return sum
}

// Bounds returns the smallest upright box that holds the middles of the strokes. What
// is cut reaches half a line farther on every side.
func (s Strokes) Bounds() r2.Box {
	return boundsOf(s.chains)
}

// boundsOf returns the box of chains, lines without a width among them.
func boundsOf(chains []geom.Chain) r2.Box {
	if len(chains) == 0 {
		return r2.Box{}
	}
	out := chains[0].Bounds()
	for _, c := range chains[1:] {
		box := c.Bounds()
		out.Min = geom.Point{X: min(out.Min.X, box.Min.X), Y: min(out.Min.Y, box.Min.Y)}
		out.Max = geom.Point{X: max(out.Max.X, box.Max.X), Y: max(out.Max.Y, box.Max.Y)}
	}
	return out
}

// Placed returns the strokes with the middle of the lettering at a point, turned about
// it counterclockwise by an angle. The middle lies half the width along and half the
// height of a capital up, whatever marks or tails the text has, so that two texts
// placed at the same height stand on the same line. Strokes are placed once, as they
// come from Set.
func (s Strokes) Placed(centre geom.Point, angle geom.Angle) Strokes {
	out := s
	out.chains = nil
	for _, c := range s.chains {
		out.chains = append(out.chains, c.Translate(geom.Point{X: -s.width / 2, Y: -s.capital / 2}).Rotate(angle).Translate(centre))
	}
	return out
}
