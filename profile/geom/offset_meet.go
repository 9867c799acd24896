package geom

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
)

// stretch is a part of a piece of an offset between two places where the piece meets
// others, or its ends.
type stretch struct {
	piece      Piece // the part itself
	start, end int   // the places where it begins and ends
}

// encounter is a place where two pieces of a run meet.
type encounter struct {
	at            Point
	first, second int     // the pieces; the first comes before the second
	t, u          float64 // the parameters of the place on them
}

// allMeetings returns the places where lines and arcs meet each other, their joints
// among them.
func allMeetings(pieces []Piece) []encounter {
	boxes := make([]r2.Box, len(pieces))
	for i, p := range pieces {
		boxes[i] = p.Bounds()
	}
	var out []encounter
	for i, p := range pieces {
		for j := i + 1; j < len(pieces); j++ {
			if !boxesTouch(boxes[i], boxes[j]) {
				continue
			}
			for _, at := range meetings(p, pieces[j]) {
				t, onFirst := locate(p, at)
				u, onSecond := locate(pieces[j], at)
				if onFirst && onSecond {
					out = append(out, encounter{at, i, j, t, u})
				}
			}
		}
	}
	return out
}

// splitAtMeetings returns the stretches of lines and arcs between the places where
// they meet each other.
func splitAtMeetings(pieces []Piece) []stretch {
	cuts := make([][]float64, len(pieces))
	for _, m := range allMeetings(pieces) {
		cuts[m.first], cuts[m.second] = append(cuts[m.first], m.t), append(cuts[m.second], m.u)
	}
	var out []stretch
	for i, p := range pieces {
		sort.Float64s(cuts[i])
		from := 0.0
		for _, to := range append(cuts[i], 1) {
			if to > from && (to == 1 || (1-to)*p.Length() > touch) && (to-from)*p.Length() > touch {
				out = append(out, stretch{piece: pieceBetween(p, from, to)})
				from = to
			}
		}
	}
	return out
}

func boxesTouch(a, b r2.Box) bool {
	return a.Min.X <= b.Max.X+touch && b.Min.X <= a.Max.X+touch && a.Min.Y <= b.Max.Y+touch && b.Min.Y <= a.Max.Y+touch
}

// pieceBetween returns the part of a line or arc between two parameters.
func pieceBetween(piece Piece, from, to float64) Piece {
	if p, isArc := piece.(Arc); isArc {
		p.From, p.Sweep = p.From+Angle(from)*p.Sweep, Angle(to-from)*p.Sweep
		return p
	}
	return Line{piece.At(from), piece.At(to)}
}

// locate returns the parameter of the point on a line or arc, and whether it lies on
// it within touch.
func locate(piece Piece, q Point) (t float64, on bool) {
	if Distance(piece, q) > touch {
		return 0, false
	}
	switch p := piece.(type) {
	case Line:
		along := sub(p.To, p.From)
		t = dot(sub(q, p.From), along) / dot(along, along)
	case Arc:
		sweep := math.Abs(float64(p.Sweep))
		turned := p.turnedTo(q)
		if turned-sweep > 2*math.Pi-turned {
			turned = 0 // before the start
		}
		t = turned / sweep
	}
	return math.Max(0, math.Min(1, t)), true
}

// meetings returns the points where two pieces may meet: where the lines and circles
// that carry them do, and their ends, which may touch the other or lie on it.
func meetings(p, q Piece) []Point {
	out := []Point{p.Start(), p.End(), q.Start(), q.End()}
	switch a := p.(type) {
	case Line:
		switch b := q.(type) {
		case Line:
			out = append(out, linesMeet(a, b)...)
		case Arc:
			out = append(out, lineMeetsCircle(a, b)...)
		}
	case Arc:
		switch b := q.(type) {
		case Line:
			out = append(out, lineMeetsCircle(b, a)...)
		case Arc:
			out = append(out, circlesMeet(a, b)...)
		}
	}
	return out
}

// linesMeet returns where two endless lines meet; parallel ones do not.
func linesMeet(a, b Line) []Point {
	d, e := sub(a.To, a.From), sub(b.To, b.From)
	across := cross(d, e)
	if math.Abs(across) <= 1e-12*norm(d)*norm(e) {
		return nil
	}
	return []Point{a.At(cross(sub(b.From, a.From), e) / across)}
}

// lineMeetsCircle returns where an endless line meets a circle, or its nearest point
// to the centre when it passes outside.
func lineMeetsCircle(l Line, a Arc) []Point {
	d := l.Tangent(0)
	foot := add(l.From, scale(dot(sub(a.Centre, l.From), d), d))
	away := norm(sub(foot, a.Centre))
	half := math.Sqrt(math.Max(0, (a.Radius-away)*(a.Radius+away)))
	return []Point{add(foot, scale(half, d)), sub(foot, scale(half, d))}
}

// circlesMeet returns where two circles meet, or points near where they would touch
// when they miss each other; circles about one centre do not meet.
func circlesMeet(a, b Arc) []Point {
	between := sub(b.Centre, a.Centre)
	apart := norm(between)
	if apart <= joint*joint {
		return nil
	}
	u := unit(between)
	along := (apart + (a.Radius-b.Radius)*(a.Radius+b.Radius)/apart) / 2
	along = math.Max(-a.Radius, math.Min(a.Radius, along))
	half := math.Sqrt((a.Radius - along) * (a.Radius + along))
	foot := add(a.Centre, scale(along, u))
	return []Point{add(foot, scale(half, rightOf(u))), sub(foot, scale(half, rightOf(u)))}
}

// clearStretches returns the stretches that lie no nearer to the chain than the
// distance, judged at their middles.
func clearStretches(stretches []stretch, base []Piece, distance float64) []stretch {
	return slices.DeleteFunc(stretches, func(s stretch) bool {
		return distanceToPieces(base, s.piece.At(0.5)) < math.Abs(distance)-shallow
	})
}
