package toolpath

import (
	"math"
	"sort"

	"fullerwright/profile/geom"
)

// loop is a closed path of lines and arcs told by the length along it.
type loop struct {
	pieces []geom.Piece
	starts []float64 // length at the start of each piece
	length float64
}

func loopOf(pieces []geom.Piece) loop {
	l := loop{pieces: pieces}
	for _, p := range pieces {
		l.starts = append(l.starts, l.length)
		l.length += p.Length()
	}
	return l
}

// wrap brings a length along the loop to where it is counted from.
func (l loop) wrap(s float64) float64 {
	s = math.Mod(s, l.length)
	if s < 0 {
		s += l.length
	}
	return s
}

// pieceAt returns the number of the piece that a place lies on, and how far along it.
func (l loop) pieceAt(s float64) (int, float64) {
	s = l.wrap(s)
	i := sort.SearchFloat64s(l.starts, s+1e-12) - 1
	i = max(0, i)
	return i, math.Min(s-l.starts[i], l.pieces[i].Length())
}

// at returns a place on the loop.
func (l loop) at(s float64) geom.Point {
	i, along := l.pieceAt(s)
	return l.pieces[i].At(along / l.pieces[i].Length())
}

// part returns a part of the piece i between two lengths along it.
func (l loop) part(i int, from, to float64) geom.Piece {
	whole := l.pieces[i].Length()
	if arc, round := l.pieces[i].(geom.Arc); round {
		return geom.Arc{Centre: arc.Centre, Radius: arc.Radius, From: arc.From + geom.Angle(from/whole)*arc.Sweep, Sweep: geom.Angle((to-from)/whole) * arc.Sweep}
	}
	return geom.Line{From: l.pieces[i].At(from / whole), To: l.pieces[i].At(to / whole)}
}

// between returns the pieces from one length along the loop on to a greater one, which may
// go round more than once.
func (l loop) between(from, to float64) []geom.Piece {
	var out []geom.Piece
	for from < to-1e-9 {
		i, along := l.pieceAt(from)
		left := l.pieces[i].Length() - along
		if left < 1e-9 {
			from += left + 1e-9
			continue
		}
		step := math.Min(left, to-from)
		out = append(out, l.part(i, along, along+step))
		from += step
	}
	return out
}
