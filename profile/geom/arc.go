package geom

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Arc is a piece of a circle: it begins at the angle From and turns by Sweep,
// counterclockwise where that is positive. Its zero value is invalid.
type Arc struct {
	Centre      Point
	Radius      float64
	From, Sweep Angle
}

func (a Arc) on(angle float64) Point {
	sin, cos := math.Sincos(angle)
	return Point{X: a.Centre.X + a.Radius*cos, Y: a.Centre.Y + a.Radius*sin}
}

// Start returns where the arc begins.
func (a Arc) Start() Point { return a.on(float64(a.From)) }

// End returns where the arc ends.
func (a Arc) End() Point { return a.on(float64(a.From + a.Sweep)) }

// At returns the point at t.
func (a Arc) At(t float64) Point { return a.on(float64(a.From) + t*float64(a.Sweep)) }

// Tangent returns the direction of travel at t.
func (a Arc) Tangent(t float64) Point {
	sin, cos := math.Sincos(float64(a.From) + t*float64(a.Sweep))
	if a.Sweep < 0 {
		return Point{X: sin, Y: -cos}
	}
	return Point{X: -sin, Y: cos}
}

// Length returns the length along the arc.
func (a Arc) Length() float64 { return a.Radius * math.Abs(float64(a.Sweep)) }

// Bounds returns the box of the arc, with the circle's own extremes where the arc
// passes them.
func (a Arc) Bounds() r2.Box {
	points := []Point{a.Start(), a.End()}
	lo, hi := a.span()
	for k := math.Ceil(lo / (math.Pi / 2)); k*math.Pi/2 <= hi; k++ {
		points = append(points, a.on(k*math.Pi/2))
	}
	return boxOf(points...)
}

// span returns the angles between which the arc lies, ascending.
func (a Arc) span() (lo, hi float64) {
	lo, hi = float64(a.From), float64(a.From+a.Sweep)
	return math.Min(lo, hi), math.Max(lo, hi)
}

// Reverse returns the arc travelled the other way.
func (a Arc) Reverse() Piece {
	return Arc{Centre: a.Centre, Radius: a.Radius, From: a.From + a.Sweep, Sweep: -a.Sweep}
}

func (a Arc) valid() bool {
	return finite(a.Centre.X, a.Centre.Y, a.Radius, float64(a.From), float64(a.Sweep)) &&
		a.Radius > 0 && a.Sweep != 0 && math.Abs(float64(a.Sweep)) <= 2*math.Pi
}

func (a Arc) moments() (area, aboutY, aboutX float64) {
	r, cx, cy := a.Radius, a.Centre.X, a.Centre.Y
	t0, t1 := float64(a.From), float64(a.From+a.Sweep)
	s0, c0 := math.Sincos(t0)
	s1, c1 := math.Sincos(t1)
	dt := t1 - t0
	sin, cos := s1-s0, c1-c0
	area = (float64(r*r)*dt + r*(cx*sin-cy*cos)) / 2
	// x = cx + r cos t, dy = r cos t dt; y = cy + r sin t, dx = -r sin t dt.
	cos2 := (dt + float64(s1*c1) - float64(s0*c0)) / 2
	sin2 := dt - cos2
	cos3 := sin - (s1*s1*s1-s0*s0*s0)/3
	sin3 := -cos + (c1*c1*c1-c0*c0*c0)/3
	aboutY = r * (float64(cx*cx)*sin + 2*cx*r*cos2 + float64(r*r)*cos3) / 2
	aboutX = r * (-float64(cy*cy)*cos + 2*cy*r*sin2 + float64(r*r)*sin3) / 2
	return area, aboutY, aboutX
}

// appendRuns: the runs are given by angles.
func (a Arc) appendRuns(to []run) []run {
	lo, hi := a.span()
	add := func(from, until float64) {
		p, q := a.on(from).X, a.on(until).X
		to = append(to, run{from: from, until: until, least: min(p, q), most: max(p, q)})
	}
	for k := math.Floor(lo/math.Pi) + 1; k*math.Pi < hi; k++ {
		add(lo, k*math.Pi)
		lo = k * math.Pi
	}
	add(lo, hi)
	return to
}

func (a *Arc) yAt(x, from, until float64) float64 {
	// At the circle's own extremes x may lie a rounding beyond it.
	away := x - a.Centre.X
	half := math.Sqrt(math.Max(0, (a.Radius-away)*(a.Radius+away)))
	// A run lies in one half turn: those above the centre and below it take turns.
	if turns := math.Floor((from + until) / 2 / math.Pi); turns/2 != math.Floor(turns/2) {
		return a.Centre.Y - half
	}
	return a.Centre.Y + half
}

// steps: a chord over an angle d lies r·(1 - cos(d/2)) from its arc.
func (a Arc) steps(chordError float64) int {
	step := 2 * math.Acos(1-math.Min(1, chordError/a.Radius))
	return max(1, int(math.Ceil(math.Abs(float64(a.Sweep))/step)))
}

func (a Arc) transform(m similarity) Piece {
	out := Arc{Centre: m.apply(a.Centre), Radius: a.Radius * m.factor, From: a.From, Sweep: a.Sweep}
	if m.mirror {
		out.From, out.Sweep = Angle(math.Pi)-a.From, -a.Sweep
	}
	out.From += m.turn
	return out
}

// ArcThrough returns the arc between two points that lies the given sagitta from the
// middle of their chord, to the left of the direction from start to end where it is
// positive. The sagitta must not be 0.
func ArcThrough(start, end Point, sag float64) Arc {
	chord := norm(sub(end, start))
	s := math.Abs(sag)
	radius := (float64(chord*chord)/4 + float64(s*s)) / (2 * s)
	left := Point{X: -(end.Y - start.Y) / chord, Y: (end.X - start.X) / chord}
	// The centre lies on the other side of the chord from the arc.
	centre := add(mix(start, end, 0.5), scale(-math.Copysign(radius-s, sag), left))
	half := 2 * math.Atan2(2*s, chord)
	from := math.Atan2(start.Y-centre.Y, start.X-centre.X)
	return Arc{Centre: centre, Radius: radius, From: Angle(from), Sweep: Angle(-math.Copysign(2*half, sag))}
}

// ArcTangent returns the arc that leaves start in the given direction and ends at
// end, which must not lie on the line of that direction.
func ArcTangent(start, direction, end Point) Arc {
	d := unit(direction)
	chord := sub(end, start)
	turn := math.Atan2(cross(d, chord), dot(d, chord)) // half the sweep
	radius := norm(chord) / (2 * math.Abs(math.Sin(turn)))
	left := Point{X: -d.Y, Y: d.X}
	centre := add(start, scale(math.Copysign(radius, turn), left))
	from := math.Atan2(start.Y-centre.Y, start.X-centre.X)
	return Arc{Centre: centre, Radius: radius, From: Angle(from), Sweep: Angle(2 * turn)}
}
