package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// pommelEnd returns the pommel as seen from the handle.
func pommelEnd(k profile.Knife, style LengthStyle, scale float64) figure {
	q := k.Pommel
	f := figure{title: []string{"Pommel, front (" + sayScale(scale) + ")", "toward the handle"}, box: about(q.Thickness*scale, q.Width*scale), captions: []string{q.Material}}
	f.right = []linear{upAlong(q.Width*scale, 0, style.Thickness(q.Width))}
	f.top = []linear{across(q.Thickness*scale, 0, style.Thickness(q.Thickness))}
	thread, err := profile.ThreadNamed(k.Tang.Thread)
	f.paint = func(p pencil, o geom.Point) {
		p.at(o, "outline", edgePen, outlineOf(q.Shape, q.Thickness*scale, q.Width*scale))
		p.crossLines(o, f.box)
		if err == nil {
			// A tapped hole from its end: the drilled hole thick, three quarters of
			// the thread thin (ISO 6410-1, from memory).
			p.add("outline", sheet.Circle(edgePen, o, thread.TapDrill/2*scale),
				sheet.Path{Pen: finePen, Pieces: []geom.Piece{geom.Arc{Centre: o, Radius: thread.Major / 2 * scale, From: 10 * geom.Degree, Sweep: 270 * geom.Degree}}})
		}
	}
	return f
}

// pommelSection returns the pommel cut along the knife, handle to the right.
func pommelSection(k profile.Knife, style LengthStyle, scale float64) figure {
	q, stack := k.Pommel, k.StackMeasures()
	f := figure{title: []string{"Pommel, cut (" + sayScale(scale) + ")", "handle to the right"}, box: about(q.Length*scale, q.Width*scale)}
	f.top = []linear{across(q.Length*scale, q.Width*scale/2, style.Thickness(q.Length))}
	depth := q.HoleDepth
	if depth == 0 {
		depth = q.Length
	}
	if !stack.Threaded {
		f.captions = []string{"no thread in the knife file"}
		f.paint = func(p pencil, o geom.Point) { p.hatched(o, f.box) }
		return f
	}
	f.foot = []linear{{geom.Point{X: (q.Length/2 - depth) * scale, Y: -stack.Thread.Major / 2 * scale}, geom.Point{X: q.Length / 2 * scale, Y: -stack.Thread.Major / 2 * scale}, style.Thickness(depth)}}
	f.captions = []string{"tap " + stack.Thread.Name + ", drill " + stack.Thread.DrillName,
		fmt.Sprintf("thread engaged %s, wanted %s", style.Thickness(stack.Engagement), style.Thickness(stack.Wanted)), "wall left " + style.Thickness(stack.WallLeft)}
	if stack.Bottoms > 0 {
		f.captions = append(f.captions, "rod too long by "+style.Thickness(stack.Bottoms))
	}
	f.paint = func(p pencil, o geom.Point) {
		half, drill, major := q.Length/2*scale, stack.Thread.TapDrill/2*scale, stack.Thread.Major/2*scale
		inner := half - depth*scale
		wide := q.Width / 2 * scale
		if q.HoleDepth > 0 {
			p.hatchedRun(o, []geom.Point{{X: half, Y: drill}, {X: half, Y: wide}, {X: -half, Y: wide}, {X: -half, Y: -wide}, {X: half, Y: -wide},
				{X: half, Y: -drill}, {X: inner, Y: -drill}, {X: inner, Y: drill}, {X: half, Y: drill}})
		} else {
			p.hatched(o, sheet.Box{MinX: -half, MaxX: half, MinY: drill, MaxY: wide})
			p.hatched(o, sheet.Box{MinX: -half, MaxX: half, MinY: -wide, MaxY: -drill})
		}
		for _, side := range []float64{1, -1} {
			p.add("outline", sheet.Line(finePen, o.X+inner, o.Y+side*major, o.X+half, o.Y+side*major))
		}
		p.add("centre-lines", sheet.Line(axisPen, o.X-half-2, o.Y, o.X+half+2, o.Y))
	}
	return f
}

// handleFigure returns the envelope of the handle from the side with the tang inside.
func handleFigure(b profile.Blade, style LengthStyle, scale float64) figure {
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
			p.add("hidden-edges", sheet.Polyline(hiddenPen, []geom.Point{on(ends.most, side*width(ends.most)/2), on(ends.least, side*width(ends.least)/2), on(ends.least, 0)}))
			if thread, err := profile.ThreadNamed(k.Tang.Thread); err == nil && stack.Handle > stack.Tang {
				p.add("hidden-edges", sheet.Polyline(hiddenPen, []geom.Point{on(-stack.Tang, side*thread.Major/2), on(-math.Min(stack.Rod, stack.Handle), side*thread.Major/2)}))
			}
		}
		p.add("centre-lines", sheet.Line(axisPen, o.X+f.box.MinX-2, o.Y, o.X+f.box.MaxX+2, o.Y))
	}
	return f
}

// handleEnd returns the front end of the handle with the tang in it.
func handleEnd(b profile.Blade, style LengthStyle, scale float64) figure {
	k, stack := b.Knife, b.Knife.StackUp()
	h := k.Handle
	c := b.CrossSectionAt(-math.Max(stack.Spacers, k.Tang.CornerRadius))
	f := figure{title: []string{"Handle, front end (" + sayScale(scale) + ")", "toward the guard"}, box: about(h.Thickness*scale, h.Width*scale), top: []linear{across(h.Thickness*scale, 0, style.Thickness(h.Thickness))}}
	f.captions = []string{"tang there " + style.Thickness(c.Top-c.Bottom) + " x " + style.Thickness(2*c.Flat)}
	f.paint = func(p pencil, o geom.Point) {
		p.at(o, "outline", edgePen, outlineOf(h.Shape, h.Thickness*scale, h.Width*scale))
		middle := middleOfTang(k)
		p.hatched(o, sheet.Box{MinX: -c.Flat * scale, MaxX: c.Flat * scale, MinY: (c.Bottom - middle) * scale, MaxY: (c.Top - middle) * scale})
		p.crossLines(o, f.box)
	}
	return f
}
