package export

import (
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// faceEdgePen draws visible edges within a face, so that the outline stands out.
var faceEdgePen = sheet.Pen{Width: 0.3}

// views draws the views with their dimensions.
func (p pencil) views(l viewLayout, b profile.Blade, m profile.Measures) {
	p.sideView(l, b, m)
	if !l.apart {
		p.backView(l, b)
	}
	p.running(l.over, l.overMarks(p, b))
	p.running(l.under, l.underMarks(p, b, m))
	p.stacked(l.overall, l.overallDimensions(p, b))
	p.stacked(l.heights, l.heightDimensions(p, b))
	p.planes(l, PlanStations(b))
	if l.beside {
		l.end.figure(b.Knife, p.style, l.scale).draw(p, l.endAt)
	} else {
		p.viewArrow(l, b)
	}
	for i, line := range []string{
		"Right face, point to the right. Distances",
		"count from the guard plane, at the ring.",
		"Sections are seen toward the point. Dashed:",
		"fullers, tang. Dash and two dots: hilt.",
	} {
		p.add("notes", sheet.Text{At: geom.Point{X: planFrame + 2, Y: planFrame + titleHeight - 3.2 - 4.4*float64(i)}, Height: planLetter, Content: line})
	}
}

func (p pencil) sideView(l viewLayout, b profile.Blade, m profile.Measures) {
	k := b.Knife
	for _, part := range hiltParts(k) {
		p.adjacent(l.place(geom.Point{X: -part.to, Y: middleOfTang(k) - part.width/2}), l.place(geom.Point{X: -part.from, Y: middleOfTang(k) + part.width/2}))
	}
	p.rod(l, b)
	p.add("outline", sheet.Path{Pieces: b.Outline.Scale(l.scale).Translate(l.side).Pieces(), Pen: edgePen})
	for _, line := range b.GroundLines() {
		p.add("outline", linesOf(faceEdgePen, line.Points, l.place))
	}
	for i, f := range b.Fullers {
		if f.Size.Cut(profile.Right) {
			upper, lower := b.Lips(i, 81)
			p.add("outline", linesOf(faceEdgePen, upper, l.place), linesOf(faceEdgePen, lower, l.place))
		}
		p.add("centre-lines", linesOf(axisPen, centrelineOf(f), l.place))
	}
	p.holes(b, ownHoles(b), l.scale, l.place)
	p.mark(b, l)
	box := b.Outline.Bounds()
	middle := middleOfTang(k)
	p.add("centre-lines", linesOf(axisPen, []geom.Point{{X: box.Min.X - 4/l.scale, Y: middle}, {X: 2 / l.scale, Y: middle}}, l.place))
	p.balance(l.place(geom.Point{X: m.Whole.X, Y: m.Whole.Y}))
}

// adjacent draws the outline of a part that is not of this drawing.
func (p pencil) adjacent(low, high geom.Point) {
	p.add("hilt", sheet.Rectangle(adjacentPen, low.X, low.Y, high.X-low.X, high.Y-low.Y))
}

// rod draws the threaded extension as a thread is drawn: its crests thick, its roots
// thin (ISO 6410-1, from memory).
func (p pencil) rod(l viewLayout, b profile.Blade) {
	k, stack := b.Knife, b.Knife.StackUp()
	thread, err := profile.ThreadNamed(k.Tang.Thread)
	if err != nil || stack.Rod <= stack.Tang {
		return
	}
	middle := middleOfTang(k)
	low, high := l.place(geom.Point{X: -stack.Rod, Y: middle - thread.Major/2}), l.place(geom.Point{X: -stack.Tang, Y: middle + thread.Major/2})
	p.add("outline", sheet.Rectangle(edgePen, low.X, low.Y, high.X-low.X, high.Y-low.Y))
	for _, side := range []float64{-1, 1} {
		y := l.place(geom.Point{Y: middle + side*thread.Root()/2}).Y
		p.add("outline", sheet.Line(finePen, low.X, y, high.X, y))
	}
}

// balance draws the sign of a centre of gravity: a circle with two quarters filled.
func (p pencil) balance(at geom.Point) {
	const radius = 2.2
	ring := sheet.Circle(finePen, at, radius)
	ring.Fill = "#ffffff"
	p.add("balance", ring)
	for _, from := range []float64{0, 180} {
		arc := geom.Arc{Centre: at, Radius: radius, From: geom.Angle(from) * geom.Degree, Sweep: 90 * geom.Degree}
		p.add("balance", sheet.Path{Fill: "#000000", Pieces: []geom.Piece{
			geom.Line{From: at, To: arc.Start()}, arc, geom.Line{From: arc.End(), To: at}}})
	}
}

// backView draws the knife as seen on its back: the silhouette, the rim of a false edge,
// and the floors of the fullers as hidden edges.
func (p pencil) backView(l viewLayout, b profile.Blade) {
	k := b.Knife
	for _, part := range hiltParts(k) {
		p.adjacent(l.fromBack(-part.to, part.thickness/2), l.fromBack(-part.from, -part.thickness/2))
	}
	for _, stretch := range []interval{{-k.Tang.Length, -1e-6}, {1e-6, k.Blade.Length}} {
		p.silhouette(l, b, stretch)
	}
	for i := range b.Fullers {
		p.floors(l, b, i)
	}
	p.running(l.thick, l.thicknessMarks(p, b))
	p.add("centre-lines", sheet.Polyline(axisPen, []geom.Point{l.fromBack(-k.Tang.Length, 0), l.fromBack(k.Blade.Length, 0)}))
}

// silhouette draws both sides of a stretch of the blade, closed at its ends.
func (p pencil) silhouette(l viewLayout, b profile.Blade, stretch interval) {
	const n = 400
	var right, left, rim []geom.Point
	for i := range n + 1 {
		x := stretch.least + (stretch.most-stretch.least)*float64(i)/n
		inside := math.Max(stretch.least+1e-3, math.Min(x, stretch.most-1e-3))
		c, half := b.CrossSectionAt(inside), silhouette(b, inside)
		right, left = append(right, l.fromBack(x, half)), append(left, l.fromBack(x, -half))
		if _, ok := c.BackBevelLine(); ok || len(rim) > 0 {
			rim = append(rim, geom.Point{X: x, Y: b.GroundHalf(inside, c.Top)})
		}
	}
	for i := len(left) - 1; i >= 0; i-- {
		right = append(right, left[i])
	}
	p.add("outline", sheet.Polyline(edgePen, append(right, right[0])))
	for _, side := range []float64{-1, 1} {
		p.add("outline", linesOf(faceEdgePen, rim, func(q geom.Point) geom.Point { return l.fromBack(q.X, side*q.Y) }))
	}
}

// floors draws the floor of a fuller in each face it is cut in.
func (p pencil) floors(l viewLayout, b profile.Blade, index int) {
	const n = 60
	f := b.Fullers[index]
	for _, face := range profile.Faces() {
		if !f.Size.Cut(face) {
			continue
		}
		side := map[profile.Face]float64{profile.Right: 1, profile.Left: -1}[face]
		var points []geom.Point
		for i := range n + 1 {
			x := f.StartVisible + (f.EndVisible-f.StartVisible)*float64(i)/n
			y := onCentreline(f, x).Y
			if c := b.CrossSectionAt(x); y < c.Bottom || y > c.Top {
				continue // beyond where the centreline of an open one leaves the blade
			}
			points = append(points, l.fromBack(x, side*b.HalfThickness(face, x, y)))
		}
		p.add("hidden-edges", sheet.Polyline(hiddenPen, points))
	}
}

// planes marks the cutting planes of the sections over and under the side view: a thick
// stroke, an arrow the way the section is seen, and its letter (ISO 128-3, from memory).
func (p pencil) planes(l viewLayout, stations []Station) {
	places := make([]float64, len(stations))
	for i, s := range stations {
		places[i] = l.side.X + l.scale*s.X
	}
	letters := spread(places, 5.5, l.over.within)
	for i, s := range stations {
		for _, side := range []running{l.over, l.under} {
			from, to := side.line-side.outward*(sectionBand-1.2), side.line-side.outward*(sectionBand-5.2)
			p.line(sheet.Pen{Width: 0.7}, geom.Point{X: places[i], Y: from}, geom.Point{X: places[i], Y: to})
			p.line(finePen, geom.Point{X: places[i], Y: to}, geom.Point{X: places[i] + 4, Y: to})
			p.arrow(geom.Point{X: places[i] + 4, Y: to}, geom.Point{X: 1})
			base := to + 1.7
			if side.outward < 0 {
				base = to - 0.9 - 3.5
			}
			p.label(sheet.Text{At: geom.Point{X: letters[i] + 1.5, Y: base}, Height: 3.5, Anchor: sheet.Middle, Bold: true, Content: s.Letter})
		}
	}
}
