package geom

import (
	"errors"
	"fmt"
	"math"
	"sort"
)

const (
	// leastOffset and leastTolerance, mm, are the least distance and tolerance an offset
	// may have: both stay well over together.
	leastOffset    = 1e-4
	leastTolerance = 1e-5
	// farthest bounds the coordinates and distances of an offset, mm, so that rounding
	// stays well under shallow.
	farthest = 1e5
	// flattest bounds the radius of the arcs that are offset as arcs, mm: of flatter ones
	// the places of the ends lose more than a tenth of joint to rounding.
	flattest = 1e6
	// touch bounds how far a point may lie from a piece and count as on it, mm: under
	// together, so that pieces which lie nearly upon each other are split alike.
	touch = together / 2
	// shallow bounds how much nearer than the distance a stretch may lie to the chain
	// and be kept, mm: over the gaps of the chain and rounding.
	shallow = 1e-8
	// together bounds how far apart ends of stretches may lie and count as one, mm: a
	// nanometre, over what nearly tangent meetings lose to rounding.
	together = 1e-6
	// cornerReach bounds how far from the joint of two pieces their meetings count as the
	// joint itself, mm: what the place of a touch loses to rounding.
	cornerReach = 1e-3
	// strayLength bounds the stretches without a continuation that may be dropped, mm.
	strayLength = 0.05
)

// Offset returns the curves at a distance from a closed chain, mm: outside it where the
// distance is positive, inside where negative, whichever way the chain runs. The
// longest comes first. Each runs the way the chain does, but for the edge of a pocket
// that an outward offset closes off, which runs the other way.
//
// Lines become lines and arcs become arcs, exactly; about each convex corner (concave,
// inside) there is an arc; other corners are trimmed where the offset pieces meet, and
// what lies nearer to the chain than the distance is left out. Cubics are first
// replaced by tangent arcs within half the tolerance, and arcs of a radius over 1 km by
// lines, so every point of the result lies at the distance from the chain within the
// tolerance, mm.
//
// The chain must be closed, must not meet itself and must lie within 100 m of the
// origin. The distance must be from 1e-4 mm to 1e5 mm, either way, the tolerance from
// 1e-5 mm up to the distance. An offset that leaves nothing is an error.
func (c Chain) Offset(distance, tolerance float64) ([]Chain, error) {
	if err := c.offsetFaults(distance, tolerance); err != nil {
		return nil, err
	}
	clockwise := c.Area() < 0
	if clockwise {
		c = c.Reverse()
	}
	base := roundPieces(c.pieces, tolerance/2)
	if err := errors.Join(meetsItself(base), c.hasInside()); err != nil {
		return nil, err
	}
	stretches, places := joinEnds(splitAtMeetings(rawOffset(base, distance)))
	loops, err := stitch(leaveOnce(clearStretches(stretches, base, distance)), places)
	if err != nil {
		return nil, fmt.Errorf("the offset by %g mm does not close: %w; look for a corner of the chain near there that crosses itself, or change the distance by a hundredth of a millimetre", distance, err)
	}
	if len(loops) == 0 {
		return nil, fmt.Errorf("an offset by %g mm leaves nothing: the chain is nowhere %g mm wide; offset it by less", distance, 2*math.Abs(distance))
	}
	if clockwise {
		for i := range loops {
			loops[i] = loops[i].Reverse()
		}
	}
	sort.SliceStable(loops, func(i, j int) bool { return loops[i].Length() > loops[j].Length() })
	return loops, nil
}

// offsetFaults returns all that keeps a chain from being offset.
func (c Chain) offsetFaults(distance, tolerance float64) error {
	var faults []error
	if size := math.Abs(distance); !(size >= leastOffset && size <= farthest) {
		faults = append(faults, fmt.Errorf("the distance of an offset is %g mm; it must be from %g to %g mm, outward or inward", distance, leastOffset, farthest))
	} else if !(tolerance >= leastTolerance && tolerance <= size) {
		faults = append(faults, fmt.Errorf("the tolerance of an offset is %g mm; it must be from %g mm to the distance, %g mm", tolerance, leastTolerance, size))
	}
	if !c.closed {
		return errors.Join(append(faults, errors.New("only a closed chain has an offset; end it where it begins"))...)
	}
	box := c.Bounds()
	if reach := max(-box.Min.X, -box.Min.Y, box.Max.X, box.Max.Y); reach > farthest {
		return errors.Join(append(faults, fmt.Errorf("the chain reaches %g mm from the origin; bring it within %g mm", reach, farthest))...)
	}
	return errors.Join(faults...)
}

// hasInside returns an error for a chain that encloses nothing.
func (c Chain) hasInside() error {
	if area := math.Abs(c.Area()); !(area > together*c.Length()) {
		return fmt.Errorf("the chain encloses %g mm²: it has no inside; give it some width", area)
	}
	return nil
}

// meetsItself returns the places where a closed run of lines and arcs meets itself
// other than at the joint of two neighbours, as an error.
func meetsItself(base []Piece) error {
	n := len(base)
	known := map[string]bool{}
	var faults []error
	for _, m := range allMeetings(base) {
		i, j := m.first, m.second
		if i+1 == j && norm(sub(m.at, base[j].Start())) <= cornerReach ||
			(j+1)%n == i && norm(sub(m.at, base[i].Start())) <= cornerReach {
			continue
		}
		place := fmt.Sprintf("x %.3f, y %.3f mm", m.at.X, m.at.Y)
		if !known[place] { // an overlap is met from both pieces
			known[place] = true
			faults = append(faults, fmt.Errorf("the chain meets itself at %s; pull it apart there", place))
		}
	}
	return errors.Join(faults...)
}

// rawOffset returns the pieces at the distance from those of a closed counterclockwise
// run of lines and arcs, and the arcs about its corners, on the side of the distance.
// An arc that would turn inside out is left out: each of its points lies nearer to the
// rest of its own arc.
func rawOffset(base []Piece, distance float64) []Piece {
	var raw []Piece
	for i, piece := range base {
		before := base[(i+len(base)-1)%len(base)]
		turn := turnBetween(before, piece)
		if turn*distance > 0 {
			away := scale(distance, rightOf(before.Tangent(1)))
			raw = append(raw, Arc{Centre: piece.Start(), Radius: math.Abs(distance),
				From: Angle(math.Atan2(away.Y, away.X)), Sweep: Angle(turn)})
		}
		if moved, left := offsetPiece(piece, distance); left {
			raw = append(raw, moved)
		}
	}
	return raw
}

func rightOf(direction Point) Point { return Point{X: direction.Y, Y: -direction.X} }

// offsetPiece returns a line or arc moved to its right by the distance, and whether
// anything is left of it.
func offsetPiece(piece Piece, distance float64) (Piece, bool) {
	switch p := piece.(type) {
	case Line:
		away := scale(distance, rightOf(p.Tangent(0)))
		return Line{add(p.From, away), add(p.To, away)}, true
	case Arc:
		radius := p.Radius + distance*math.Copysign(1, float64(p.Sweep))
		return Arc{Centre: p.Centre, Radius: radius, From: p.From, Sweep: p.Sweep}, radius > 0
	}
	panic("impossible: only lines and arcs are offset")
}

// turnBetween returns the angle by which the chain turns from one piece into the next,
// positive to the left. Where it turns back on itself the curves beside the point tell
// the side.
func turnBetween(before, after Piece) float64 {
	d, e := before.Tangent(1), after.Tangent(0)
	turn := math.Atan2(cross(d, e), dot(d, e))
	if math.Pi-math.Abs(turn) > together {
		return turn
	}
	reach := math.Min(1, math.Min(before.Length(), after.Length())) / 2
	p, q := before.At(1-reach/before.Length()), after.At(reach/after.Length())
	return math.Copysign(turn, cross(sub(after.Start(), p), sub(q, after.Start())))
}
