package export

import (
	"math"
	"slices"

	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// pointOn is a knife as it is seen from its point, toward the guard: in millimetres, y
// toward the spine, X across, with the right face to the left.
type pointOn struct {
	outline       []geom.Point   // of the blade in front of the guard plane, closed
	edges         [][]geom.Point // seen within it: rims, bevel lines, ridges, lips of fullers
	floors        [][]geom.Point // hidden: the deepest that each fuller gets at each height
	tang          [][]geom.Point // hidden behind the shoulder, closed: its root and its end
	hilt          [][]geom.Point // what is seen of guard, handle and pommel
	width, height float64        // of the blade in this view
	lowest        float64
}

const (
	pointOnStations = 160   // along the blade
	pointOnLevels   = 120   // across it
	pointOnSlack    = 0.005 // mm, by which steel in front may stand over an edge that is seen
)

// sight is the sections of a blade from the guard plane to the point, for finding what
// steel stands in front of a place.
type sight struct {
	sections []profile.CrossSection
	breaks   []float64 // distances at which a feature begins or ends
}

func newSight(b profile.Blade) sight {
	length := b.Knife.Blade.Length
	s := sight{breaks: []float64{1e-6, b.Knife.Ricasso.Length, b.ClipStart().X}}
	for _, station := range b.Knife.Taper {
		s.breaks = append(s.breaks, station.At)
	}
	for _, f := range b.Fullers {
		s.breaks = append(s.breaks, f.StartVisible, f.StartFull, f.EndFull, f.EndVisible)
	}
	xs := slices.Clone(s.breaks)
	for i := range pointOnStations + 1 {
		xs = append(xs, length*float64(i)/pointOnStations)
	}
	slices.Sort(xs)
	for _, x := range xs {
		if c := b.CrossSectionAt(math.Max(1e-6, math.Min(x, length-1e-6))); !c.Empty() {
			s.sections = append(s.sections, c)
		}
	}
	return s
}

// most returns the greatest height of a face over the centre-plane at y, of all sections
// in front of a distance from the guard plane.
func (s sight) most(face profile.Face, from, y float64) float64 {
	half := 0.0
	for i := len(s.sections) - 1; i >= 0 && s.sections[i].X > from; i-- {
		half = math.Max(half, s.sections[i].Half(face, y))
	}
	return half
}

// toSide returns X of a place of a face at a height over the centre-plane: the right face
// is seen to the left.
func toSide(face profile.Face, half float64) float64 {
	if face == profile.Right {
		return -half
	}
	return half
}

// newPointOn works out what is seen of a knife from its point.
func newPointOn(b profile.Blade) pointOn {
	s := newSight(b)
	var v pointOn
	v.outlineOf(b, s)
	for _, face := range profile.Faces() {
		for _, line := range edgesOf(b, s, face) {
			v.edges = append(v.edges, s.stretches(face, line, true)...)
		}
		for i, f := range b.Fullers {
			if f.Size.Cut(face) {
				floor := floorOf(b, i, face)
				v.edges = append(v.edges, s.stretches(face, floor, true)...) // of one that is open toward the point
				v.floors = append(v.floors, s.stretches(face, floor, false)...)
			}
		}
	}
	v.tang = tangBehind(b)
	v.hilt = hiltAround(b, v.outline)
	return v
}

// outlineOf finds the silhouette: at each height the greatest that the blade is thick.
// Heights at which it steps, as at a ricasso narrower than the blade, are looked at on
// either side.
func (v *pointOn) outlineOf(b profile.Blade, s sight) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range s.sections {
		low, high = math.Min(low, c.Bottom), math.Max(high, c.Top)
	}
	var ys []float64
	for i := range pointOnLevels + 1 {
		ys = append(ys, low+(high-low)*float64(i)/pointOnLevels)
	}
	for _, step := range []float64{0, -b.Knife.RicassoWidth(), -b.Knife.Blade.Width} {
		ys = append(ys, step-1e-6, step, step+1e-6)
	}
	slices.Sort(ys)
	var left, right []geom.Point
	most := [2]float64{}
	for _, y := range ys {
		if y < low || y > high {
			continue
		}
		r, l := s.most(profile.Right, 0, y), s.most(profile.Left, 0, y)
		most = [2]float64{math.Max(most[0], r), math.Max(most[1], l)}
		left, right = append(left, geom.Point{X: toSide(profile.Right, r), Y: y}), append(right, geom.Point{X: toSide(profile.Left, l), Y: y})
	}
	slices.Reverse(left)
	v.outline = append(append(right, left...), right[0])
	v.width, v.height, v.lowest = most[0]+most[1], high-low, low
}

// edge3 is a place on an edge: its distance from the guard plane, and where it is seen.
type edge3 struct {
	x    float64
	at   geom.Point
	half float64
}

// edgesOf returns the edges of a face, each from the guard toward the point: the rims of
// edge and back, what the grinder leaves, and the lips of the fullers.
func edgesOf(b profile.Blade, s sight, face profile.Face) (out [][]edge3) {
	place := func(x, y float64) edge3 {
		half := b.HalfThickness(face, x, y)
		return edge3{x, geom.Point{X: toSide(face, half), Y: y}, half}
	}
	var edge, back []edge3
	for _, c := range s.sections {
		edge, back = append(edge, place(c.X, c.Bottom)), append(back, place(c.X, c.Top))
	}
	out = append(out, edge, back)
	line := func(points []geom.Point) {
		const most = 60
		step := (len(points) + most - 1) / most
		var run []edge3
		for i := 0; i < len(points); i += step {
			run = append(run, place(points[i].X, points[i].Y))
		}
		if last := points[len(points)-1]; run[len(run)-1].x != last.X {
			run = append(run, place(last.X, last.Y))
		}
		out = append(out, run)
	}
	for _, g := range b.GroundLines() {
		line(g.Points)
	}
	for i, f := range b.Fullers {
		if f.Size.Cut(face) {
			upper, lower := b.Lips(i, 41)
			line(upper)
			line(lower)
		}
	}
	return out
}

// stretches returns the stretches of an edge in front of which no steel stands, which are
// seen, or those in front of which some does.
func (s sight) stretches(face profile.Face, line []edge3, seen bool) (out [][]geom.Point) {
	var run []geom.Point
	end := func() {
		if len(run) > 1 && reachOf(run) > 0.01 {
			out = append(out, run)
		}
		run = nil
	}
	for _, e := range line {
		if hidden := s.most(face, e.x+1e-3, e.at.Y) > e.half+pointOnSlack; hidden == seen {
			end()
			continue
		}
		if n := len(run); n == 0 || math.Hypot(e.at.X-run[n-1].X, e.at.Y-run[n-1].Y) > 1e-6 {
			run = append(run, e.at)
		}
	}
	end()
	return out
}

// reachOf returns the size of the box around points.
func reachOf(points []geom.Point) float64 {
	low, high := points[0], points[0]
	for _, p := range points {
		low = geom.Point{X: math.Min(low.X, p.X), Y: math.Min(low.Y, p.Y)}
		high = geom.Point{X: math.Max(high.X, p.X), Y: math.Max(high.Y, p.Y)}
	}
	return math.Hypot(high.X-low.X, high.Y-low.Y)
}

// floorOf returns the line of the deepest that a fuller gets in a face, at each height
// between its lips where the blade reaches so far: no steel is left outside of it.
func floorOf(b profile.Blade, index int, face profile.Face) []edge3 {
	const along, levels = 40, 40
	f := b.Fullers[index]
	from, to := math.Max(f.StartFull, 1e-6), math.Min(f.EndFull, b.Knife.Blade.Length-1e-6)
	var sections []profile.CrossSection
	for i := range along + 1 {
		sections = append(sections, b.CrossSectionAt(from+(to-from)*float64(i)/along))
	}
	upper, lower := b.Lips(index, 41)
	low, high := math.Inf(1), math.Inf(-1)
	for i := range upper {
		low, high = math.Min(low, lower[i].Y), math.Max(high, upper[i].Y)
	}
	var out []edge3
	for i := range levels + 1 {
		y := low + (high-low)*float64(i)/levels
		least := edge3{half: math.Inf(1)}
		for _, c := range sections {
			if half := c.Half(face, y); y >= c.Bottom && y <= c.Top && half < least.half {
				least = edge3{c.X, geom.Point{X: toSide(face, half), Y: y}, half}
			}
		}
		if !math.IsInf(least.half, 1) {
			out = append(out, least)
		}
	}
	return out
}
