package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// shoulderCell returns the detail of the shoulder: the outline about the guard plane,
// with both steps, the tang and the inside corner.
func shoulderCell(b profile.Blade, p pencil, scale float64) cell {
	style := p.style
	k := b.Knife
	reach := math.Min(10, math.Min(k.Ricasso.Length*0.8, k.Tang.Length/3))
	top, bottom := -k.ShoulderTop(), -k.ShoulderTop()-k.Tang.Width
	middle := -k.RicassoWidth() / 2
	on := func(x, y float64) geom.Point { return geom.Point{X: scale * x, Y: scale * (y - middle)} }
	left := []linear{{on(-2*reach/3, bottom), on(-2*reach/3, top), style.Thickness(k.Tang.Width)}}
	var right []linear
	if k.ShoulderTop() > 0.005 {
		left = append(left, linear{on(0, 0), on(-2*reach/3, top), style.Thickness(k.ShoulderTop())})
	}
	if k.ShoulderBottom() > 0.005 {
		left = append(left, linear{on(-2*reach/3, bottom), on(0, -k.RicassoWidth()), style.Thickness(k.ShoulderBottom())})
	}
	right = append(right, linear{on(reach, -k.RicassoWidth()), on(reach, 0), style.Thickness(k.RicassoWidth())})
	half := scale * k.RicassoWidth() / 2
	f := figure{left: left, right: right, title: []string{fmt.Sprintf("Shoulder (%s)", sayScale(scale)), "right face"},
		captions: []string{"inside corners R " + style.Thickness(k.Tang.CornerRadius), "guard plane: the line of both steps", style.say("steps in one plane within 0.02 mm")},
		box:      sheet.Box{MinX: -scale * reach, MinY: -half - 4, MaxX: scale * reach, MaxY: half + 4}}
	f.paint = func(p pencil, origin geom.Point) {
		place := func(q geom.Point) geom.Point {
			d := on(q.X, q.Y)
			return geom.Point{X: origin.X + d.X, Y: origin.Y + d.Y}
		}
		for _, run := range clippedTo(b.Outline.Sample(0.005), interval{-reach, reach}) {
			p.add("outline", linesOf(edgePen, run, place))
		}
		p.add("centre-lines", sheet.Line(axisPen, origin.X, origin.Y-half-4, origin.X, origin.Y+half+4))
	}
	return f.cell(p)
}

// clippedTo returns what of a closed run of points lies between two x.
func clippedTo(points []geom.Point, x interval) [][]geom.Point {
	var out [][]geom.Point
	var run []geom.Point
	for i := 1; i < len(points); i++ {
		a, b, ok := clip(points[i-1], points[i], x)
		switch {
		case !ok:
			continue
		case len(run) > 0 && run[len(run)-1] == a:
			run = append(run, b)
		default:
			if len(run) > 0 {
				out = append(out, run)
			}
			run = []geom.Point{a, b}
		}
	}
	return append(out, run)
}

// clip returns what of a line lies between two x; ok is false where nothing does.
func clip(a, b geom.Point, x interval) (from, to geom.Point, ok bool) {
	at := func(v float64) geom.Point {
		return geom.Point{X: v, Y: a.Y + (b.Y-a.Y)*(v-a.X)/(b.X-a.X)}
	}
	cut := func(p geom.Point) geom.Point {
		if p.X < x.least {
			return at(x.least)
		}
		if p.X > x.most {
			return at(x.most)
		}
		return p
	}
	if math.Max(a.X, b.X) < x.least || math.Min(a.X, b.X) > x.most {
		return a, b, false
	}
	return cut(a), cut(b), true
}
