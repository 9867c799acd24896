package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/profile/strength"
)

// guardFigure returns the guard blank as seen on its front, toward the blade, or on its
// back. The edge is down.
func guardFigure(b profile.Blade, style LengthStyle, scale float64, front bool) figure {
	k, m := b.Knife, b.ShoulderMeasures()
	g := k.Guard
	wide, long, slotWide, slotLong := g.Width*scale, g.Length*scale, m.Slot.Width*scale, m.Slot.Length*scale
	f := figure{title: []string{"Guard, back (" + sayScale(scale) + ")", "toward the handle"}, box: about(wide, long)}
	f.right = []linear{upAlong(long, 0, style.Thickness(g.Length))}
	f.left = []linear{upAlong(slotLong, -slotWide/2, style.Thickness(m.Slot.Length))}
	f.top = []linear{across(wide, 0, style.Thickness(g.Width))}
	f.foot = []linear{across(slotWide, -slotLong/2, style.Thickness(m.Slot.Width))}
	if front {
		f.title = []string{"Guard, front (" + sayScale(scale) + ")", "toward the blade"}
		f.captions = []string{"dash and two dots: ricasso", "dots: row of drill holes"}
	} else {
		f.captions = []string{g.Material, "edge of the blade down"}
	}
	f.paint = func(p pencil, origin geom.Point) {
		p.at(origin, "outline", edgePen, outlineOf(g.Shape, wide, long))
		p.box(origin, "outline", edgePen, about(slotWide, slotLong))
		p.crossLines(origin, f.box)
		if !front {
			return
		}
		if g.Chamfer > 0 {
			p.box(origin, "outline", faceEdgePen, about(slotWide+2*g.Chamfer*scale, slotLong+2*g.Chamfer*scale))
		}
		middle := middleOfTang(k)
		p.box(origin, "hilt", adjacentPen, sheet.Box{MinX: -k.Blade.Thickness / 2 * scale, MaxX: k.Blade.Thickness / 2 * scale, MinY: (-k.RicassoWidth() - middle) * scale, MaxY: -middle * scale})
		p.drillRow(origin, scale, m.Slot)
	}
	return f
}

// crossLines draws the centre lines of a figure.
func (p pencil) crossLines(origin geom.Point, b sheet.Box) {
	p.add("centre-lines",
		sheet.Line(axisPen, origin.X+b.MinX-2, origin.Y, origin.X+b.MaxX+2, origin.Y),
		sheet.Line(axisPen, origin.X, origin.Y+b.MinY-2, origin.X, origin.Y+b.MaxY+2))
}

// drillRow draws the centres of a row of holes that leaves the slot: end holes a file's
// stroke inside its ends, the others evenly between, so that they do not run into each
// other.
func (p pencil) drillRow(origin geom.Point, scale float64, slot strength.Slot) {
	const fileStroke, land = 0.25, 0.3 // mm, at the ends and between holes: common practice, no source
	drill := slot.Drill
	span := slot.Length - drill - 2*fileStroke
	if span <= 0 {
		return
	}
	n := int(math.Floor(span/(drill+land))) + 1
	for i := range n {
		y := 0.0
		if n > 1 {
			y = -span/2 + span*float64(i)/float64(n-1)
		}
		dot := sheet.Circle(sheet.Pen{}, geom.Point{X: origin.X, Y: origin.Y + y*scale}, 0.35)
		dot.Fill = "#000000"
		p.add("drill", dot)
	}
}

// guardSection returns the guard cut through the middle of its slot, front to the right.
func guardSection(b profile.Blade, style LengthStyle, scale float64) figure {
	k, slot := b.Knife, b.ShoulderMeasures().Slot
	g := k.Guard
	half := g.Thickness * scale / 2
	f := figure{title: []string{"Guard, cut (" + sayScale(scale) + ")", "front to the right"}, box: about(2*half, g.Length*scale), top: []linear{across(2*half, g.Length*scale/2, style.Thickness(g.Thickness))}}
	f.captions = []string{"slot mill " + style.Thickness(slot.Mill) + ", then file", "drill " + style.Thickness(slot.Drill)}
	f.captions = append(f.captions, chamferWords(b, style)...)
	f.paint = func(p pencil, origin geom.Point) {
		for _, side := range []float64{1, -1} {
			inner, outer, c := side*slot.Length*scale/2, side*g.Length*scale/2, math.Min(g.Chamfer, g.Thickness)*scale
			points := []geom.Point{{X: -half, Y: inner}, {X: half - c, Y: inner}, {X: half, Y: inner + side*c}, {X: half, Y: outer}, {X: -half, Y: outer}, {X: -half, Y: inner}}
			p.hatchedRun(origin, points)
		}
		p.add("centre-lines", sheet.Line(axisPen, origin.X-half-2, origin.Y, origin.X+half+2, origin.Y))
	}
	return f
}

// hatchedRun draws a closed run of points about an origin with hatching inside.
func (p pencil) hatchedRun(origin geom.Point, points []geom.Point) {
	chain, err := geom.NewChain(sheet.Polyline(edgePen, points).Pieces...)
	if err != nil {
		panic("impossible: a figure's outline is none: " + err.Error())
	}
	chain = chain.Translate(origin)
	p.add("hatching", hatchInside(hatchPen, chain, hatchApart))
	p.add("outline", sheet.Path{Pieces: chain.Pieces(), Pen: edgePen})
}

// chamferWords says what the front rim of the slot needs.
func chamferWords(b profile.Blade, style LengthStyle) []string {
	m, g := b.ShoulderMeasures(), b.Knife.Guard
	switch {
	case m.ChamferNeeded == 0:
		return []string{"no chamfer needed"}
	case g.Chamfer >= m.ChamferNeeded-1e-9:
		return []string{"front rim " + style.Thickness(g.Chamfer) + " x 45°", "(needed: " + style.Thickness(m.ChamferNeeded) + ")"}
	}
	return []string{"chamfer of " + style.Thickness(g.Chamfer) + " too small:", "needed " + style.Thickness(m.ChamferNeeded)}
}

// detailScale returns the scale of the series of ISO 5455 at which a small length is
// drawn at least so large.
func detailScale(length, least float64) float64 {
	for scale := 1.0; ; scale *= 10 {
		for _, step := range []float64{1, 2, 5} {
			if length*scale*step >= least {
				return scale * step
			}
		}
	}
}

// slotFigure returns tang and slot together: a corner of both, so enlarged that the
// clearance is seen.
func slotFigure(b profile.Blade, style LengthStyle) figure {
	k, m := b.Knife, b.ShoulderMeasures()
	const window, seen = 26.0, 1.5 // mm on paper: the corner drawn, and the least that a clearance is drawn
	clearance := k.Guard.Clearance
	scale := 5.0
	if clearance > 0 {
		scale = detailScale(clearance, seen)
	}
	gap := clearance * scale
	source := "tang as drawn: measure it"
	if m.SlotMeasured {
		source = "tang as measured"
	}
	f := figure{title: []string{fmt.Sprintf("Tang in slot (%s)", sayScale(scale)), "one corner of four"}, box: sheet.Box{MinX: 0, MinY: 0, MaxX: window + gap + 8, MaxY: window + gap + 8}}
	if clearance > 0 {
		f.left = []linear{{geom.Point{X: 2, Y: window}, geom.Point{X: 2, Y: window + gap}, style.Thickness(clearance)}}
		f.foot = []linear{{geom.Point{X: window, Y: 2}, geom.Point{X: window + gap, Y: 2}, style.Thickness(clearance)}}
	}
	tangWidth, tangThick := m.Slot.Length-2*clearance, m.Slot.Width-2*clearance
	f.captions = []string{source, "tang " + style.Thickness(tangWidth) + " x " + style.Thickness(tangThick), "slot " + style.Thickness(m.Slot.Length) + " x " + style.Thickness(m.Slot.Width)}
	f.paint = func(p pencil, o geom.Point) {
		end := window + gap + 8
		tang := []geom.Point{{}, {X: window}, {X: window, Y: window}, {Y: window}}
		chain, err := geom.NewChain(sheet.Polyline(edgePen, append(tang, tang[0])).Pieces...)
		if err != nil {
			panic("impossible: the tang's corner is none: " + err.Error())
		}
		p.add("hatching", hatchInside(hatchPen, chain.Translate(o), hatchApart))
		p.add("outline", sheet.Polyline(edgePen, shifted(o, tang[1:])), sheet.Polyline(edgePen, shifted(o, []geom.Point{{X: window + gap}, {X: window + gap, Y: window + gap}, {Y: window + gap}})))
		p.add("hatching", hatchOther(o, window+gap, end))
	}
	return f
}

// hatchOther hatches the part around the corner of a slot, the other way, so that the
// two parts are told apart.
func hatchOther(o geom.Point, inner, outer float64) sheet.Path {
	out := sheet.Path{Pen: hatchPen}
	step := hatchApart * math.Sqrt2
	add := func(x0, y0, x1, y1 float64) {
		if x1-x0 > 1e-6 {
			out.Pieces = append(out.Pieces, geom.Line{From: geom.Point{X: o.X + x0, Y: o.Y + y0}, To: geom.Point{X: o.X + x1, Y: o.Y + y1}})
		}
	}
	// The line x + y = c, in the strip over the slot and in the one beside it.
	for c := inner + step; c < 2*outer; c += step {
		least, most := math.Max(0, c-outer), math.Min(outer, c-inner)
		add(least, c-least, most, c-most)
		least, most = math.Max(inner, math.Max(c-inner, c-outer)), math.Min(outer, c)
		add(least, c-least, most, c-most)
	}
	return out
}

func shifted(o geom.Point, points []geom.Point) []geom.Point {
	out := make([]geom.Point, len(points))
	for i, p := range points {
		out[i] = geom.Point{X: o.X + p.X, Y: o.Y + p.Y}
	}
	return out
}

// shoulderSeat returns the guard seated at the inside corner of the shoulder, cut along
// the centre-plane, blade to the right.
func shoulderSeat(b profile.Blade, style LengthStyle) figure {
	k, m := b.Knife, b.ShoulderMeasures()
	const scale = 10.0
	r, c, gap := k.Tang.CornerRadius*scale, k.Guard.Chamfer*scale, k.Guard.Clearance*scale
	step := math.Min(k.ShoulderBottom(), k.ShoulderTop()) * scale
	high := math.Min(step, math.Max(r, c)+14)
	deep := math.Max(r, c) + 14
	f := figure{title: []string{fmt.Sprintf("Guard on shoulder (%s)", sayScale(scale)), "point to the right"}, box: sheet.Box{MinX: -deep, MinY: -8, MaxX: 10, MaxY: high}}
	f.captions = []string{"hatched: guard; inside corner R " + style.Thickness(k.Tang.CornerRadius)}
	if m.ChamferNeeded > k.Guard.Chamfer+1e-9 {
		f.captions = append(f.captions, "stands off "+style.Thickness(m.StandOff)+" if sharp")
	} else {
		f.captions = append(f.captions, "seats without a gap")
	}
	f.captions = append(f.captions, map[bool]string{true: "the step hides the chamfer", false: "the step does not hide it"}[m.Hidden])
	f.paint = func(p pencil, o geom.Point) {
		arc := geom.Arc{Centre: geom.Point{X: o.X - r, Y: o.Y + r}, Radius: r, From: -90 * geom.Degree, Sweep: 90 * geom.Degree}
		p.add("outline", sheet.Path{Pen: edgePen, Pieces: []geom.Piece{
			geom.Line{From: geom.Point{X: o.X - deep, Y: o.Y}, To: arc.Start()}, arc, geom.Line{From: arc.End(), To: geom.Point{X: o.X, Y: o.Y + high}}}})
		guard := []geom.Point{{X: -deep, Y: gap}, {X: -c, Y: gap}, {Y: gap + c}, {Y: high}}
		p.add("outline", sheet.Polyline(faceEdgePen, shifted(o, guard)))
		whole := append(guard, geom.Point{X: -deep, Y: high}, guard[0])
		if chain, err := geom.NewChain(sheet.Polyline(edgePen, whole).Pieces...); err == nil {
			p.add("hatching", hatchInside(hatchPen, chain.Translate(o), hatchApart))
		}
	}
	return f
}
