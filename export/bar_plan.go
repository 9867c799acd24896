package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// clampClear is how far clamps keep from what is milled, mm: our own choice, for a small
// cutter in a collet; a holder may need more, as the sheet says.
const clampClear = 10.0

// BarPlan returns the sheet of the bar: where the blade lies in it, where clamps may
// stand, what is cut off, and what bar, blade and chips weigh; for a forged bar the
// billet that it takes.
func BarPlan(b profile.Blade, o PlanOptions) ([]sheet.Sheet, error) {
	ruler, err := sheet.NewRuler()
	if err != nil {
		return nil, err
	}
	p := pencil{&sheet.Sheet{}, ruler, o.Lengths, shopLetter}
	room := o.shopRoom(ruler)
	rows := barRows(b, b.Measure(o.Density), o)
	high := p.row() * float64(len(rows))
	for _, scale := range scaleSeries {
		c := barFigure(b, o.Lengths, scale).cell(p)
		if scale <= 1 && c.width <= room.width && c.height+high <= room.height {
			return shopPages(p, o, "Bar: "+b.Knife.Name, "Deburr the bar; chips and fresh edges cut.", []cell{c, p.rowsCell(rows, room.width)}), nil
		}
	}
	return nil, fmt.Errorf("the bar of %s does not fit %s paper; take a larger paper", b.Knife.Name, o.Paper.Name)
}

// barFigure returns the bar with the blade in it, right face up, point to the right.
func barFigure(b profile.Blade, style LengthStyle, scale float64) figure {
	bar, outline := b.Bar, b.Outline.Bounds()
	middle := geom.Point{X: (bar.Butt + bar.Front) / 2, Y: (bar.Top + bar.Bottom) / 2}
	on := func(x, y float64) geom.Point {
		return geom.Point{X: scale * (x - middle.X), Y: scale * (y - middle.Y)}
	}
	f := figure{title: []string{fmt.Sprintf("Bar (%s)", sayScale(scale)), "right face up, point to the right, spine up"}, box: about(bar.Length()*scale, bar.Width()*scale)}
	level := func(from, to, y float64) linear { return linear{on(from, y), on(to, y), say(style, to-from)} }
	upright := func(x, from, to float64) linear { return linear{on(x, from), on(x, to), style.Thickness(to - from)} }
	add := func(dims *[]linear, d linear, size float64) {
		if size > 0.005 {
			*dims = append(*dims, d)
		}
	}
	add(&f.foot, level(bar.Butt, outline.Min.X, bar.Bottom), outline.Min.X-bar.Butt)
	add(&f.foot, level(outline.Min.X, outline.Max.X, bar.Bottom), 1)
	add(&f.foot, level(outline.Max.X, bar.Front, bar.Bottom), bar.Front-outline.Max.X)
	add(&f.foot, level(bar.Butt, bar.Front, bar.Bottom), 1)
	add(&f.left, upright(bar.Butt, bar.Bottom, bar.Top), 1)
	add(&f.right, upright(bar.Front, outline.Max.Y, bar.Top), bar.Top-outline.Max.Y)
	add(&f.right, upright(bar.Front, bar.Bottom, outline.Min.Y), outline.Min.Y-bar.Bottom)
	zones := clampZones(b)
	for _, z := range zones {
		if inner := z.most; inner < bar.Front {
			add(&f.top, level(bar.Butt, inner, bar.Top), 1)
		} else if z.least > bar.Butt {
			add(&f.top, level(bar.Butt, z.least, bar.Top), 1)
		}
	}
	add(&f.top, level(bar.Butt, 0, bar.Top), 1)
	f.captions = []string{"The fullers run out of both ends: no clamp may stand on a face.", "Dash and dot: guard plane. Dashed: fullers."}
	if len(zones) > 0 {
		f.captions = []string{fmt.Sprintf("Hatched: clamps may stand there, %s clear of what is milled; a holder may need more.", style.Thickness(clampClear)), "Dash and dot: guard plane. Dashed: fullers. No clamp on a hole."}
	}
	f.paint = func(p pencil, o geom.Point) {
		at := func(x, y float64) geom.Point { q := on(x, y); return geom.Point{X: o.X + q.X, Y: o.Y + q.Y} }
		for _, z := range zones {
			low, high := at(z.least, bar.Bottom), at(z.most, bar.Top)
			p.add("clamp-zones", sheet.Hatch(sheet.Pen{Width: 0.13}, sheet.Box{MinX: low.X, MinY: low.Y, MaxX: high.X, MaxY: high.Y}, 4),
				sheet.Rectangle(finePen, low.X, low.Y, high.X-low.X, high.Y-low.Y))
		}
		shape := sheet.Path{Pieces: b.Outline.Scale(scale).Translate(at(0, 0)).Pieces(), Pen: edgePen}
		p.add("outline", shape)
		if least, most, ok := milledBounds(b); ok {
			low, high := at(least.X, least.Y), at(most.X, most.Y)
			p.add("hidden-edges", sheet.Rectangle(hiddenPen, low.X, low.Y, high.X-low.X, high.Y-low.Y))
		}
		all := make([]int, len(b.Knife.Holes))
		for i := range all {
			all[i] = i
		}
		p.holes(b, all, scale, func(q geom.Point) geom.Point { return at(q.X, q.Y) })
		p.box(o, "outline", edgePen, f.box)
		guard := at(0, 0)
		p.add("centre-lines", sheet.Line(axisPen, guard.X, o.Y+f.box.MinY-2, guard.X, o.Y+f.box.MaxY+2))
	}
	return f
}

// say writes a length with what rounding adds.
func say(style LengthStyle, mm float64) string {
	text, added := style.Length(mm)
	if added != "" {
		text += " (" + added + ")"
	}
	return text
}

// milledBounds returns the box in plan of all that is milled into either face.
func milledBounds(b profile.Blade) (least, most geom.Point, ok bool) {
	least, most = geom.Point{X: math.Inf(1), Y: math.Inf(1)}, geom.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, face := range profile.Faces() {
		if low, high, here := b.FullerSurface(face).Bounds(); here {
			least = geom.Point{X: math.Min(least.X, low.X), Y: math.Min(least.Y, low.Y)}
			most = geom.Point{X: math.Max(most.X, high.X), Y: math.Max(most.Y, high.Y)}
			ok = true
		}
	}
	return least, most, ok
}

// clampZones returns where along the bar clamps may stand on a face: clear of what is
// milled, behind it and in front of it.
func clampZones(b profile.Blade) []interval {
	least, most, ok := milledBounds(b)
	if !ok {
		return []interval{{b.Bar.Butt, b.Bar.Front}}
	}
	var out []interval
	for _, z := range []interval{{b.Bar.Butt, least.X - clampClear}, {most.X + clampClear, b.Bar.Front}} {
		if z.most > z.least {
			out = append(out, z)
		}
	}
	return out
}

// barVolume returns the volume of a bar, mm³: its width times the integral of its
// thickness, which is straight between stations.
func barVolume(bar profile.Bar) float64 {
	ends := []float64{bar.Butt}
	for _, x := range bar.Stations() {
		if x > bar.Butt && x < bar.Front {
			ends = append(ends, x)
		}
	}
	ends = append(ends, bar.Front)
	area := 0.0
	for i := 1; i < len(ends); i++ {
		area += (ends[i] - ends[i-1]) * (bar.Thickness(ends[i-1]) + bar.Thickness(ends[i])) / 2
	}
	return area * bar.Width()
}

// rowsCell returns rows of a name and what is said of it as a cell.
func (p pencil) rowsCell(rows [][2]string, width float64) cell {
	c := cell{width: width, height: p.row() * float64(len(rows))}
	names := 0.0
	for _, row := range rows {
		names = math.Max(names, p.width(row[0]))
	}
	c.draw = func(p pencil, left, top float64) {
		for i, row := range rows {
			y := top - p.letter - p.row()*float64(i)
			p.add("notes", sheet.Text{At: geom.Point{X: left, Y: y}, Height: p.letter, Content: row[0]},
				sheet.Text{At: geom.Point{X: left + names + 6, Y: y}, Height: p.letter, Content: row[1]})
		}
	}
	return c
}
