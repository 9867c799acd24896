package geom

import (
	"fmt"
	"math"
	"slices"
	"sort"
)

// stitch returns the closed chains that stretches between places form.
func stitch(stretches []stretch, places []Point) ([]Chain, error) {
	loops, err := loopsOf(dropStrays(stretches))
	if err != nil {
		return nil, err
	}
	var out []Chain
	for _, loop := range loops {
		var pieces []Piece
		for _, s := range loop {
			pieces = append(pieces, endingAt(s.piece, places[s.start], places[s.end]))
		}
		chain, err := NewChain(pieces...)
		if err != nil {
			return nil, err
		}
		out = append(out, chain)
	}
	return out, nil
}

// joinEnds finds the places where stretches begin and end, taking ends within together
// for one, and returns the stretches with them, and the places. Stretches within one
// place that are no loop are left out, and both of two that run back over each other,
// which have nothing between them.
func joinEnds(stretches []stretch) ([]stretch, []Point) {
	ends := make([]Point, 0, 2*len(stretches))
	for _, s := range stretches {
		ends = append(ends, s.piece.Start(), s.piece.End())
	}
	place, places := places(ends)
	known := middles{}
	for i := range stretches {
		s := &stretches[i]
		s.start, s.end = place[2*i], place[2*i+1]
		known.add(s.start, s.end, s.piece.At(0.5))
	}
	return slices.DeleteFunc(stretches, func(s stretch) bool {
		if s.start == s.end {
			return s.piece.Length() <= 100*together
		}
		return known.has(s.end, s.start, s.piece.At(0.5))
	}), places
}

// leaveOnce leaves out stretches that lie upon another.
func leaveOnce(stretches []stretch) []stretch {
	known := middles{}
	return slices.DeleteFunc(stretches, func(s stretch) bool {
		middle := s.piece.At(0.5)
		if known.has(s.start, s.end, middle) {
			return true
		}
		known.add(s.start, s.end, middle)
		return false
	})
}

// middles holds the middles of the stretches from one place to another.
type middles map[[2]int][]Point

func (m middles) add(from, to int, middle Point) {
	m[[2]int{from, to}] = append(m[[2]int{from, to}], middle)
}

// has reports whether a middle lies within together of one from one place to another.
func (m middles) has(from, to int, middle Point) bool {
	return slices.ContainsFunc(m[[2]int{from, to}], func(p Point) bool { return norm(sub(p, middle)) <= together })
}

// places gathers points within together of each other, and returns the place of each
// point and the first point at each place.
func places(points []Point) (of []int, at []Point) {
	order := make([]int, len(points))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return points[order[i]].X < points[order[j]].X })
	first := make([]int, len(points)) // a point at the same place, the first when it is itself
	for i := range first {
		first[i] = i
	}
	find := func(i int) int {
		for first[i] != i {
			i = first[i]
		}
		return i
	}
	for n, i := range order {
		for _, j := range order[n+1:] {
			if points[j].X-points[i].X > together {
				break
			}
			if norm(sub(points[j], points[i])) <= together {
				a, b := find(i), find(j)
				first[max(a, b)] = min(a, b)
			}
		}
	}
	of = make([]int, len(points))
	for i := range points {
		if root := find(i); root == i {
			of[i] = len(at)
			at = append(at, points[i])
		} else {
			of[i] = of[root]
		}
	}
	return of, at
}

// dropStrays leaves out stretches that nothing leads to or from, again and again: what
// nearly tangent pieces leave over beyond their meeting. Longer ones stay, and make the loops fail.
func dropStrays(stretches []stretch) []stretch {
	for {
		into, from := map[int]int{}, map[int]int{}
		for _, s := range stretches {
			from[s.start]++
			into[s.end]++
		}
		kept := slices.DeleteFunc(slices.Clone(stretches), func(s stretch) bool {
			return s.piece.Length() <= strayLength && (into[s.start] == 0 || from[s.end] == 0)
		})
		if len(kept) == len(stretches) {
			return kept
		}
		stretches = kept
	}
}

// loopsOf parts stretches into runs that end where they begin and pass no place twice.
// At most two go on from any place, for the disc about the nearest point of the chain
// fills half of what surrounds it; whichever is taken first, the runs do not cross.
func loopsOf(stretches []stretch) ([][]stretch, error) {
	leaving := map[int][]stretch{}
	for _, s := range stretches {
		leaving[s.start] = append(leaving[s.start], s)
	}
	var out [][]stretch
	for _, s := range stretches {
		var path []stretch
		for place := s.start; len(leaving[place]) > 0; {
			next := leaving[place][0]
			leaving[place] = leaving[place][1:]
			path, place = append(path, next), next.end
			for k := range path {
				if path[k].start == place {
					out = append(out, append([]stretch(nil), path[k:]...))
					path = path[:k]
					break
				}
			}
		}
		if len(path) > 0 {
			p := path[len(path)-1].piece.End()
			return nil, fmt.Errorf("nothing goes on from x %.3f, y %.3f mm", p.X, p.Y)
		}
	}
	return out, nil
}

// endingAt returns a line or arc between two points near its own ends. An arc keeps
// its circle where its ends are the points; otherwise its centre moves to the nearest
// place as far from one as from the other.
func endingAt(piece Piece, start, end Point) Piece {
	arc, isArc := piece.(Arc)
	if !isArc {
		return Line{start, end}
	}
	if norm(sub(arc.Start(), start)) <= joint/4 && norm(sub(arc.End(), end)) <= joint/4 {
		return arc
	}
	u := unit(sub(end, start))
	arc.Centre = add(arc.Centre, scale(dot(sub(mix(start, end, 0.5), arc.Centre), u), u))
	s, e := sub(start, arc.Centre), sub(end, arc.Centre)
	arc.Radius = norm(s)
	sweep := math.Atan2(cross(s, e), dot(s, e))
	turns := math.Round((float64(arc.Sweep) - sweep) / (2 * math.Pi))
	arc.From, arc.Sweep = Angle(math.Atan2(s.Y, s.X)), Angle(sweep+2*math.Pi*turns)
	return arc
}
