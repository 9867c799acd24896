package export

import (
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// viewLayout is where the views of a plan lie on a page, and the dimensions about them.
type viewLayout struct {
	scale       float64
	side, back  geom.Point // of the origin of the blade frame, in the side view and in the view on the back
	over, under running    // about the side view
	thick       running    // of thicknesses, beside the view on the back
	overall     stack      // of whole lengths
	heights     stack      // of heights at the point
	withAdded   bool       // dimensions say what rounding adds
	apart       bool       // the view on the back goes on another page
	end         pointOn    // what is seen from the point
	beside      bool       // the view from the point stands beside the side view
	endAt       geom.Point // of the spine line on the centre-plane, in that view
}

const (
	sectionBand = 12.5 // over and under the side view, for the letters of the sections
	figureGap   = 7.0
)

// viewsFor lays out the views at the greatest scale of the series, up to true size, at
// which they fit the page; ok is false where they do not at any. First the words give
// way; then the view from the point goes with the sections, where it stands from the
// beginning at less than true size, at which it would show nothing; then the view on the
// back goes on a page of its own.
func viewsFor(p pencil, b profile.Blade, m profile.Measures, o PlanOptions) (lay viewLayout, ok bool) {
	end := newPointOn(b)
	for _, scale := range scaleSeries {
		for way := range 8 {
			lay = viewLayout{scale: scale, end: end, apart: way&4 != 0, beside: way&2 == 0, withAdded: way&1 == 0}
			if scale <= 1 && (scale == 1 || !lay.beside) && lay.fit(p, b, m, o) {
				return lay, true
			}
		}
	}
	return lay, false
}

// fit places the views from the top of a page down, and reports whether they fit.
func (l *viewLayout) fit(p pencil, b profile.Blade, m profile.Measures, o PlanOptions) bool {
	room := o.free()
	behind := behindGuard(b.Knife) * l.scale
	heights := p.depth(l.heights.arrange(p, l.heightDimensions(p, b)))
	aside := 8.0
	if !l.beside {
		aside = viewArrowRoom
	}
	width := behind + b.Knife.Blade.Length*l.scale + aside + heights + 6
	column := 0.0
	if l.beside {
		reach := l.endReach(p, b.Knife)
		column = reach.most - reach.least
	}
	if width+column > room.width {
		return false
	}
	// What stands in the row of the side view, without the view from the point.
	own := area{left: room.left + (room.width-width-column)/2, width: width}
	if o.FirstAngle {
		own.left += column
	}
	l.placeEnd(p, b.Knife, own, o)
	x := own.left + behind + 3
	l.heights = stack{base: x + b.Knife.Blade.Length*l.scale + aside, outward: 1, upright: true}
	if !l.beside {
		own = room
	}
	own.top = room.top
	if !o.FirstAngle && !l.apart {
		own.top = l.placeBack(p, b, x, room, o) - figureGap
	}
	y := l.placeSide(p, b, m, x, own)
	if o.FirstAngle && !l.apart {
		room.top, room.height = y-figureGap, room.height-(room.top-y+figureGap)
		y = l.placeBack(p, b, x, room, o)
	}
	return y >= o.free().top-o.free().height
}

// within returns the stretch across an area in which upright texts may stand.
func (a area) within() interval {
	return interval{a.left + planLetter/2 + 1, a.left + a.width - planLetter/2 - 1}
}

// placeSide places the side view and its dimensions under the top of an area, and
// returns where they end; those of the view from the point beside it end before them. The dimension line over the view may cross a guard: nothing
// that it leads to lies behind the guard plane.
func (l *viewLayout) placeSide(p pencil, b profile.Blade, m profile.Measures, x float64, a area) float64 {
	crest, hilt := b.Outline.Bounds().Max.Y*l.scale, highest(b)*l.scale
	labels := sectionBand + running{}.length(p, l.overMarks(p, b))
	l.side = geom.Point{X: x, Y: a.top - math.Max(crest+labels, hilt)}
	l.endAt.Y = l.side.Y
	l.over = running{origin: l.side, within: a.within(), outward: 1, line: l.side.Y + crest + sectionBand}
	foot := l.side.Y + lowest(b)*l.scale
	l.under = running{origin: geom.Point{X: x, Y: foot}, within: a.within(), outward: -1, line: foot - sectionBand}
	y := foot - sectionBand - running{}.length(p, l.underMarks(p, b, m)) - 6.5
	l.overall = stack{base: y, outward: -1}
	tiers := 0
	for _, d := range l.overall.arrange(p, l.overallDimensions(p, b)) {
		tiers = max(tiers, d.tier)
	}
	return y - float64(tiers)*p.tier() - 2
}

// placeBack places the view on the back and its dimensions under the top of an area, and
// returns where they end.
func (l *viewLayout) placeBack(p pencil, b profile.Blade, x float64, a area, o PlanOptions) float64 {
	const leader = 3
	l.thick = running{plain: true, within: a.within(), outward: 1}
	half := halfThickest(b) * l.scale
	labels := leader + l.thick.length(p, l.thicknessMarks(p, b))
	if o.FirstAngle {
		l.back = geom.Point{X: x, Y: a.top - half}
		l.thick.line, l.thick.outward = l.back.Y-half-leader, -1
		return l.back.Y - half - labels
	}
	l.back = geom.Point{X: x, Y: a.top - labels - half}
	l.thick.line = l.back.Y + half + leader
	return l.back.Y - half
}

// behindGuard returns how far the knife reaches behind the guard plane, mm.
func behindGuard(k profile.Knife) float64 {
	s := k.StackUp()
	return math.Max(s.Pommel, math.Max(s.Rod, s.Tang))
}

func (l viewLayout) place(p geom.Point) geom.Point {
	return geom.Point{X: l.side.X + l.scale*p.X, Y: l.side.Y + l.scale*p.Y}
}

// fromBack returns where a place at x, and z over the centre-plane, lies in the view on
// the back: the right face lies toward the side view, or the foot of the page.
func (l viewLayout) fromBack(x, z float64) geom.Point {
	return geom.Point{X: l.back.X + l.scale*x, Y: l.back.Y - l.scale*z}
}

// say writes a dimension with its name.
func (l viewLayout) say(p pencil, name string, mm float64) string {
	text, added := p.style.Length(mm)
	if added != "" && l.withAdded {
		text += " (" + added + ")"
	}
	if name == "" {
		return text
	}
	return name + " " + text
}

func (l viewLayout) marks(p pencil, features []feature) []mark {
	var out []mark
	for _, f := range features {
		out = append(out, mark{at: l.place(f.at), text: l.say(p, f.name, math.Abs(f.at.X))})
	}
	return out
}

func (l viewLayout) overMarks(p pencil, b profile.Blade) []mark {
	out := l.marks(p, spineFeatures(b))
	return append(out, l.radiusMarks(p, b, true, out)...)
}

func (l viewLayout) underMarks(p pencil, b profile.Blade, m profile.Measures) []mark {
	out := l.marks(p, edgeFeatures(b, geom.Point{X: m.Whole.X, Y: m.Whole.Y}))
	return append(out, l.radiusMarks(p, b, false, out)...)
}

// thicknessMarks returns the thicknesses that a caliper reads over the ricasso, at the
// stations of the taper, and at the end of the tang.
func (l viewLayout) thicknessMarks(p pencil, b profile.Blade) []mark {
	k := b.Knife
	var out []mark
	add := func(x float64) {
		half := silhouette(b, x)
		at := l.fromBack(x, half)
		if l.thick.outward >= 0 {
			at = l.fromBack(x, -half)
		}
		text := p.style.Thickness(2 * half)
		if x > 0 {
			station, _ := p.style.Length(x)
			text += " at " + station
		}
		out = append(out, mark{at: at, text: text})
	}
	add(-k.Tang.Length + 1e-3)
	add(k.Ricasso.Length / 2)
	for _, s := range k.Taper {
		add(math.Min(s.At, k.Blade.Length-1e-3))
	}
	return out
}

// overallDimensions returns the dimensions of whole lengths, under the side view.
func (l viewLayout) overallDimensions(p pencil, b profile.Blade) []linear {
	k, stack := b.Knife, b.Knife.StackUp()
	low := l.overall.base + p.tier()
	end := func(x float64) geom.Point { return geom.Point{X: l.side.X + l.scale*x, Y: low} }
	whole := behindGuard(k)
	out := []linear{{end(0), end(k.Blade.Length), l.say(p, "blade", k.Blade.Length)},
		{end(-stack.Tang), end(k.Blade.Length), l.say(p, "blade and tang", k.OverallLength())}}
	if whole > stack.Tang {
		out = append(out, linear{end(-whole), end(k.Blade.Length), l.say(p, "overall", whole+k.Blade.Length)})
	}
	return out
}

// heightDimensions returns the dimensions of heights, in front of the point: all from
// the spine line.
func (l viewLayout) heightDimensions(p pencil, b profile.Blade) []linear {
	k := b.Knife
	spine := l.place(geom.Point{X: b.ClipStart().X})
	add := func(out []linear, at geom.Point, name string, mm float64) []linear {
		if math.Abs(mm) < 0.005 {
			return out
		}
		return append(out, linear{geom.Point{X: spine.X, Y: spine.Y}, l.place(at), l.say(p, name, math.Abs(mm))})
	}
	var out []linear
	out = add(out, b.Point(), "point", k.Clip.Drop)
	out = add(out, geom.Point{X: k.Blade.Length - k.Edge.BellyLength, Y: -k.Blade.Width}, "width", k.Blade.Width)
	return add(out, b.ClipStart(), "rise", b.ClipStart().Y)
}

// linesOf returns a polyline on paper from points of a view.
func linesOf(pen sheet.Pen, points []geom.Point, place func(geom.Point) geom.Point) sheet.Path {
	out := make([]geom.Point, len(points))
	for i, p := range points {
		out[i] = place(p)
	}
	return sheet.Polyline(pen, out)
}

// backCell returns the view on the back as a drawing of its own.
func backCell(p pencil, b profile.Blade, l viewLayout, o PlanOptions) cell {
	room := o.free()
	below := func(top float64) (viewLayout, float64) {
		l := l
		foot := l.placeBack(p, b, l.side.X, area{room.left, top, room.width, 0}, o)
		return l, foot
	}
	_, foot := below(0)
	return cell{width: room.width, height: -foot, draw: func(p pencil, _, top float64) {
		placed, _ := below(top)
		p.backView(placed, b)
	}}
}
