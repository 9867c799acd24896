package geom

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Line is a straight piece. Its zero value has no length and is invalid.
type Line struct{ From, To Point }

// Start returns where the line begins.
func (l Line) Start() Point { return l.From }

// End returns where the line ends.
func (l Line) End() Point { return l.To }

// At returns the point at t.
func (l Line) At(t float64) Point { return mix(l.From, l.To, t) }

// Tangent returns the direction of the line.
func (l Line) Tangent(float64) Point { return unit(sub(l.To, l.From)) }

// Length returns the length of the line.
func (l Line) Length() float64 { return norm(sub(l.To, l.From)) }

// Bounds returns the box of the line.
func (l Line) Bounds() r2.Box { return boxOf(l.From, l.To) }

// Reverse returns the line travelled the other way.
func (l Line) Reverse() Piece { return Line{l.To, l.From} }

func (l Line) valid() bool {
	return finite(l.From.X, l.From.Y, l.To.X, l.To.Y) && l.Length() > 0
}

func (l Line) moments() (area, aboutY, aboutX float64) {
	a, b := l.From, l.To
	area = cross(a, b) / 2
	aboutY = (b.Y - a.Y) * (float64(a.X*a.X) + float64(a.X*b.X) + float64(b.X*b.X)) / 6
	aboutX = -(b.X - a.X) * (float64(a.Y*a.Y) + float64(a.Y*b.Y) + float64(b.Y*b.Y)) / 6
	return area, aboutY, aboutX
}

func (l Line) appendRuns(to []run) []run {
	return append(to, run{from: 0, until: 1, least: min(l.From.X, l.To.X), most: max(l.From.X, l.To.X)})
}

func (l *Line) yAt(x float64) float64 {
	return l.From.Y + (l.To.Y-l.From.Y)*(x-l.From.X)/(l.To.X-l.From.X)
}

func (l Line) steps(float64) int { return 1 }

func (l Line) transform(m similarity) Piece { return Line{m.apply(l.From), m.apply(l.To)} }

func boxOf(points ...Point) r2.Box {
	box := r2.Box{Min: points[0], Max: points[0]}
	for _, p := range points[1:] {
		box.Min = Point{X: math.Min(box.Min.X, p.X), Y: math.Min(box.Min.Y, p.Y)}
		box.Max = Point{X: math.Max(box.Max.X, p.X), Y: math.Max(box.Max.Y, p.Y)}
	}
	return box
}
