package geom

import (
	"errors"
	"fmt"
	"math"
)

// Fillet rounds the corner where line a goes on into line b by an arc that both touch.
// It returns what is left of a, the arc, and what is left of b. The corner must turn,
// and both lines must be long enough.
func Fillet(a, b Line, radius float64) (before Line, corner Arc, after Line, err error) {
	if !(radius > 0) {
		return Line{}, Arc{}, Line{}, errors.New("the radius must be greater than 0")
	}
	d, e := a.Tangent(1), b.Tangent(0)
	turn := math.Atan2(cross(d, e), dot(d, e))
	if math.Abs(turn) < 1e-9 || math.Pi-math.Abs(turn) < 1e-9 {
		return Line{}, Arc{}, Line{}, errors.New("the two lines do not make a corner")
	}
	reach := radius * math.Tan(math.Abs(turn)/2)
	if shorter := math.Min(a.Length(), b.Length()); reach > shorter+joint {
		return Line{}, Arc{}, Line{}, fmt.Errorf("a radius of %.3f mm needs %.3f mm of line on either side; there are %.3f mm", radius, reach, shorter)
	}
	start := sub(a.To, scale(reach, d))
	left := Point{X: -d.Y, Y: d.X}
	centre := add(start, scale(math.Copysign(radius, turn), left))
	corner = Arc{Centre: centre, Radius: radius, From: Angle(math.Atan2(start.Y-centre.Y, start.X-centre.X)), Sweep: Angle(turn)}
	return Line{a.From, corner.Start()}, corner, Line{corner.End(), b.To}, nil
}
