package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// pommelEnd returns the pommel as seen from the handle, at true size.
func pommelEnd(k profile.Knife, style LengthStyle) figure {
	q := k.Pommel
	f := figure{title: []string{"Pommel, front (1:1)", "toward the handle"}, box: about(q.Thickness, q.Width), captions: []string{q.Material}}
	f.right = []linear{upAlong(q.Width, 0, style.Thickness(q.Width))}
	f.top = []linear{across(q.Thickness, 0, style.Thickness(q.Thickness))}
	thread, err := profile.ThreadNamed(k.Tang.Thread)
	f.paint = func(p pencil, o geom.Point) {
		p.at(o, "outline", edgePen, outlineOf(q.Shape, q.Thickness, q.Width))
		p.crossLines(o, f.box)
		if err == nil {
			// A tapped hole from its end: the drilled hole thick, three quarters of
			// the thread thin (ISO 6410-1, from memory).
			p.sheet.Add("outline", "", sheet.Circle(edgePen, o, thread.TapDrill/2),
				sheet.Path{Pen: finePen, Pieces: []geom.Piece{geom.Arc{Centre: o, Radius: thread.Major / 2, From: 10 * geom.Degree, Sweep: 270 * geom.Degree}}})
		}
	}
	return f
}

// pommelSection returns the pommel cut along the knife, handle to the right.
func pommelSection(k profile.Knife, style LengthStyle) figure {
	q, stack := k.Pommel, k.StackMeasures()
	f := figure{title: []string{"Pommel, cut (1:1)", "handle to the right"}, box: about(q.Length, q.Width)}
	f.top = []linear{across(q.Length, q.Width/2, style.Thickness(q.Length))}
	depth := q.HoleDepth
	if depth == 0 {
		depth = q.Length
	}
	if !stack.Threaded {
		f.captions = []string{"no thread in the knife file"}
		f.paint = func(p pencil, o geom.Point) { p.hatched(o, f.box) }
		return f
	}
	f.foot = []linear{{geom.Point{X: q.Length/2 - depth, Y: -stack.Thread.Major / 2}, geom.Point{X: q.Length / 2, Y: -stack.Thread.Major / 2}, style.Thickness(depth)}}
	f.captions = []string{"tap " + stack.Thread.Name + ", drill " + stack.Thread.DrillName,
		fmt.Sprintf("thread engaged %s, wanted %s", style.Thickness(stack.Engagement), style.Thickness(stack.Wanted)), "wall left " + style.Thickness(stack.WallLeft)}
	if stack.Bottoms > 0 {
		f.captions = append(f.captions, "rod too long by "+style.Thickness(stack.Bottoms))
	}
	f.paint = func(p pencil, o geom.Point) {
		half, drill, major := q.Length/2, stack.Thread.TapDrill/2, stack.Thread.Major/2
		inner := half - depth
		wide := q.Width / 2
		if q.HoleDepth > 0 {
			p.hatchedRun(o, []geom.Point{{X: half, Y: drill}, {X: half, Y: wide}, {X: -half, Y: wide}, {X: -half, Y: -wide}, {X: half, Y: -wide},
				{X: half, Y: -drill}, {X: inner, Y: -drill}, {X: inner, Y: drill}, {X: half, Y: drill}})
		} else {
			p.hatched(o, sheet.Box{MinX: -half, MaxX: half, MinY: drill, MaxY: wide})
			p.hatched(o, sheet.Box{MinX: -half, MaxX: half, MinY: -wide, MaxY: -drill})
		}
		for _, side := range []float64{1, -1} {
			p.sheet.Add("outline", "", sheet.Line(finePen, o.X+inner, o.Y+side*major, o.X+half, o.Y+side*major))
		}
		p.sheet.Add("centre lines", "centre lines", sheet.Line(axisPen, o.X-half-2, o.Y, o.X+half+2, o.Y))
	}
	return f
}

// handleFigure returns the envelope of the handle from the side with the tang inside, at
// the greatest scale, up to true size, that the page takes.
func handleFigure(b profile.Blade, p pencil, room area) figure {
	for _, scale := range scaleSeries {
		if scale > 1 {
			continue
		}
		f := handleAt(b, p.style, scale)
		if f.cell(p).width <= room.width {
			return f
		}
	}
	return handleAt(b, p.style, 0.1)
}

func handleAt(b profile.Blade, style LengthStyle, scale float64) figure {
	k, stack := b.Knife, b.Knife.StackUp()
	h := k.Handle
	// The origin lies on the axis of the tang, in the middle of the handle.
	shift := (stack.Spacers + stack.Handle) / 2
	f := figure{title: []string{fmt.Sprintf("Handle, side (%s)", sayScale(scale)), "point to the right"}, box: about(h.Length*scale, h.Width*scale)}
	f.top = []linear{across(h.Length*scale, h.Width*scale/2, style.Thickness(h.Length))}
	f.left = []linear{upAlong(h.Width*scale, -h.Length*scale/2, style.Thickness(h.Width))}
	f.captions = []string{h.Material + ", mean size. Dashed: tang inside", fmt.Sprintf("front %s, end %s behind the guard plane", style.Thickness(stack.Spacers), style.Thickness(stack.Handle))}
	f.paint = func(p pencil, o geom.Point) {
		p.box(o, "outline", edgePen, f.box)
		on := func(x, y float64) geom.Point { return geom.Point{X: o.X + scale*(x+shift), Y: o.Y + scale*y} }
		ends := interval{-math.Min(stack.Tang, stack.Handle), -stack.Spacers}
		for _, side := range []float64{1, -1} {
			width := func(x float64) float64 { return k.Tang.Width + (k.Tang.EndWidth-k.Tang.Width)*-x/k.Tang.Length }
			p.sheet.Add("hidden edges", "hidden edges", sheet.Polyline(hiddenPen, []geom.Point{on(ends.most, side*width(ends.most)/2), on(ends.least, side*width(ends.least)/2), on(ends.least, 0)}))
			if thread, err := profile.ThreadNamed(k.Tang.Thread); err == nil && stack.Handle > stack.Tang {
				p.sheet.Add("hidden edges", "", sheet.Polyline(hiddenPen, []geom.Point{on(-stack.Tang, side*thread.Major/2), on(-math.Min(stack.Rod, stack.Handle), side*thread.Major/2)}))
			}
		}
		p.sheet.Add("centre lines", "centre lines", sheet.Line(axisPen, o.X+f.box.MinX-2, o.Y, o.X+f.box.MaxX+2, o.Y))
	}
	return f
}

// handleEnd returns the front end of the handle with the tang in it, at true size.
func handleEnd(b profile.Blade, style LengthStyle) figure {
	k, stack := b.Knife, b.Knife.StackUp()
	h := k.Handle
	c := b.CrossSectionAt(-math.Max(stack.Spacers, k.Tang.CornerRadius))
	f := figure{title: []string{"Handle, front end (1:1)", "toward the guard"}, box: about(h.Thickness, h.Width), top: []linear{across(h.Thickness, 0, style.Thickness(h.Thickness))}}
	f.captions = []string{"tang there " + style.Thickness(c.Top-c.Bottom) + " x " + style.Thickness(2*c.Flat)}
	f.paint = func(p pencil, o geom.Point) {
		p.at(o, "outline", edgePen, outlineOf(h.Shape, h.Thickness, h.Width))
		middle := middleOfTang(k)
		p.hatched(o, sheet.Box{MinX: -c.Flat, MaxX: c.Flat, MinY: c.Bottom - middle, MaxY: c.Top - middle})
		p.crossLines(o, f.box)
	}
	return f
}
