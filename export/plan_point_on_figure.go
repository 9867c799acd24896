package export

import (
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// pointOnLetter names the view from the point where it stands apart from the side view.
const pointOnLetter = "P"

// linesApart is the least distance between lines that go beside each other, mm on paper
// (ISO 128-2, from memory): what lies nearer to its mirror image is drawn as one line.
const linesApart = 0.7

// tangBehind returns what the shoulder hides: the tang's section at its root and at its
// end.
func tangBehind(b profile.Blade) (out [][]geom.Point) {
	for _, x := range []float64{-b.Knife.Tang.CornerRadius - 1e-3, -b.Knife.Tang.Length + 1e-3} {
		c := b.CrossSectionAt(x)
		if c.Empty() {
			continue
		}
		out = append(out, []geom.Point{{X: -c.Flat, Y: c.Bottom}, {X: c.Flat, Y: c.Bottom}, {X: c.Flat, Y: c.Top}, {X: -c.Flat, Y: c.Top}, {X: -c.Flat, Y: c.Bottom}})
	}
	return out
}

// hiltAround returns what is seen of the parts of the hilt: each outline where neither
// the blade nor a part before it hides it.
func hiltAround(b profile.Blade, blade []geom.Point) (out [][]geom.Point) {
	var before []geom.Chain
	if chain, err := geom.NewChain(sheet.Polyline(sheet.Pen{}, blade).Pieces...); err == nil && chain.Closed() {
		before = append(before, chain)
	}
	k := b.Knife
	for _, part := range []struct {
		shape profile.Shape
		size  profile.Handle
		there bool
	}{
		{k.Guard.Shape, profile.Handle{Width: k.Guard.Length, Thickness: k.Guard.Width}, k.Guard.Thickness > 0},
		{k.Handle.Shape, k.Handle, k.Handle.Length > 0},
		{k.Pommel.Shape, profile.Handle{Width: k.Pommel.Width, Thickness: k.Pommel.Thickness}, k.Pommel.Length > 0},
	} {
		if !part.there {
			continue
		}
		chain, err := geom.NewChain(outlineOf(part.shape, part.size.Thickness, part.size.Width)...)
		if err != nil {
			panic("impossible: the outline of a part of the hilt is none: " + err.Error())
		}
		chain = chain.Translate(geom.Point{Y: middleOfTang(k)})
		out = append(out, outsideOf(densely(chain.Sample(0.01)), before)...)
		before = append(before, chain)
	}
	return out
}

// densely puts points between others, so that no two neighbours lie more than half a
// millimetre apart.
func densely(points []geom.Point) []geom.Point {
	const step = 0.5
	out := points[:1:1]
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		n := math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y) / step)
		for j := 1.0; j <= n; j++ {
			out = append(out, geom.Point{X: a.X + (b.X-a.X)*j/n, Y: a.Y + (b.Y-a.Y)*j/n})
		}
	}
	return out
}

// outsideOf returns the stretches of a run of points that lie in none of the chains.
func outsideOf(points []geom.Point, chains []geom.Chain) (out [][]geom.Point) {
	var run []geom.Point
	for i, p := range points {
		hidden := false
		for _, c := range chains {
			hidden = hidden || c.Contains(p)
		}
		if !hidden {
			run = append(run, p)
		}
		if (hidden || i == len(points)-1) && len(run) > 1 {
			out = append(out, run)
		}
		if hidden {
			run = nil
		}
	}
	return out
}

// figure returns the view at a scale, about the spine line on the centre-plane, with the
// sizes of the hilt. Those of the blade stand in the other views.
func (v pointOn) figure(k profile.Knife, style LengthStyle, scale float64) figure {
	f := figure{box: sheet.Box{MinX: math.Inf(1), MinY: math.Inf(1), MaxX: math.Inf(-1), MaxY: math.Inf(-1)}}
	for _, line := range append([][]geom.Point{v.outline}, v.hilt...) {
		for _, p := range line {
			f.box = sheet.Box{MinX: math.Min(f.box.MinX, scale*p.X), MinY: math.Min(f.box.MinY, scale*p.Y), MaxX: math.Max(f.box.MaxX, scale*p.X), MaxY: math.Max(f.box.MaxY, scale*p.Y)}
		}
	}
	middle := scale * middleOfTang(k)
	said := [2]map[string]bool{{}, {}}
	size := func(wide, high float64) {
		if text := style.Thickness(wide); !said[0][text] {
			said[0][text] = true
			f.foot = append(f.foot, linear{geom.Point{X: -scale * wide / 2, Y: middle}, geom.Point{X: scale * wide / 2, Y: middle}, text})
		}
		if text := style.Thickness(high); !said[1][text] {
			said[1][text] = true
			low, top := middleOfTang(k)-high/2, middleOfTang(k)+high/2
			f.right = append(f.right, linear{geom.Point{X: scale * v.rightmost(low), Y: scale * low}, geom.Point{X: scale * v.rightmost(top), Y: scale * top}, text})
		}
	}
	if k.Guard.Thickness > 0 {
		size(k.Guard.Width, k.Guard.Length)
	}
	if k.Handle.Length > 0 {
		size(k.Handle.Thickness, k.Handle.Width)
	}
	f.paint = func(p pencil, origin geom.Point) {
		place := func(q geom.Point) geom.Point { return geom.Point{X: origin.X + scale*q.X, Y: origin.Y + scale*q.Y} }
		for _, line := range v.hilt {
			p.add("hilt", linesOf(adjacentPen, line, place))
		}
		for _, line := range append(v.floors, v.tang...) {
			p.add("hidden-edges", linesOf(hiddenPen, line, place))
		}
		for _, line := range v.edges {
			p.add("outline", linesOf(faceEdgePen, oneLine(line, scale), place))
		}
		p.add("outline", linesOf(edgePen, v.outline, place))
		for _, end := range []float64{f.box.MinY - 2, f.box.MaxY} {
			p.add("centre-lines", sheet.Line(axisPen, origin.X, origin.Y+end, origin.X, origin.Y+end+2))
		}
	}
	return f
}

// rightmost returns how far the view reaches to the right at about a height, mm.
func (v pointOn) rightmost(y float64) (x float64) {
	const about = 0.3
	for _, line := range append([][]geom.Point{v.outline}, v.hilt...) {
		for _, p := range line {
			if math.Abs(p.Y-y) < about {
				x = math.Max(x, p.X)
			}
		}
	}
	return x
}

// oneLine draws an edge on the centre-plane where its mirror image would lie too near.
func oneLine(line []geom.Point, scale float64) []geom.Point {
	out := make([]geom.Point, len(line))
	for i, p := range line {
		if out[i] = p; math.Abs(p.X)*scale < linesApart/2 {
			out[i].X = 0
		}
	}
	return out
}

// cell returns the view as a drawing of its own, at the greatest scale of the series, up
// to one that is asked for, at which it is no higher than given.
func (v pointOn) cell(k profile.Knife, p pencil, most, height float64) (c cell) {
	for _, scale := range scaleSeries {
		f := v.figure(k, p.style, scale)
		f.title = []string{pointOnLetter + " (" + sayScale(scale) + ")", "seen from the point"}
		if c = f.cell(p); scale <= most && c.height <= height {
			return c
		}
	}
	return c
}

// endReach returns how far the view from the point reaches across about the centre-plane,
// beside the side view, with its dimensions and the gap between the views.
func (l *viewLayout) endReach(p pencil, k profile.Knife) interval {
	f := l.end.figure(k, p.style, l.scale)
	r := f.room(p)
	return interval{math.Min(f.box.MinX-r.left, r.reach.least) - figureGap, math.Max(f.box.MaxX+r.right, r.reach.most) + figureGap/2}
}

// placeEnd places the view from the point across the page, beside what the side view has of
// the row: on the side of the point in third-angle projection, on the other in first-angle.
func (l *viewLayout) placeEnd(p pencil, k profile.Knife, own area, o PlanOptions) {
	reach := l.endReach(p, k)
	l.endAt.X = own.left + own.width - reach.least
	if o.FirstAngle {
		l.endAt.X = own.left - reach.most
	}
}

// viewArrowRoom is how much room is left in front of the point for the arrow of a view
// that stands apart, mm.
const viewArrowRoom = 13.0

// viewArrow draws the arrow and the letter of a view that stands apart, in front of the
// point and a little under it, the way it is seen (ISO 128-3, from memory).
func (p pencil) viewArrow(l viewLayout, b profile.Blade) {
	at := l.place(b.Point())
	tip := geom.Point{X: at.X + 1.5, Y: at.Y - 3}
	p.line(sheet.Pen{Width: 0.35}, tip, geom.Point{X: tip.X + 6.5, Y: tip.Y})
	p.arrow(tip, geom.Point{X: -1})
	p.label(sheet.Text{At: geom.Point{X: tip.X + 4.5, Y: tip.Y - 4.7}, Height: 3.5, Anchor: sheet.Middle, Bold: true, Content: pointOnLetter})
}
