package geom

import "gonum.org/v1/gonum/spatial/r2"

// Piece is one exact piece of a chain: a Line, an Arc or a Cubic.
type Piece interface {
	Start() Point
	End() Point
	// At returns the point at the parameter t from 0 to 1.
	At(t float64) Point
	// Tangent returns the direction of travel at t, of length 1.
	Tangent(t float64) Point
	// Length returns the length along the piece, mm.
	Length() float64
	// Bounds returns the smallest upright box that holds the piece.
	Bounds() r2.Box
	// Reverse returns the piece travelled the other way.
	Reverse() Piece

	valid() bool
	// moments returns what the piece adds, by Green's theorem, to the area and to the
	// first moments: the integrals of (x dy - y dx)/2, x² dy / 2 and -y² dx / 2.
	moments() (area, aboutY, aboutX float64)
	// appendRuns adds the stretches of the piece along which x does not turn.
	appendRuns(to []run) []run
	// steps returns how many equal steps of t keep chords within an error.
	steps(chordError float64) int
	transform(m similarity) Piece
}
