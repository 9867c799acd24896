package match

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// outlineModel is the outline of a family against the readings of heights, widths or
// traced points. Its parameters are those of the knife that are free and, behind them, how
// the readings lie: for stations the height of the line they are measured from, where
// heights are given; for a trace its shift, its turn about the guard plane, and the
// logarithm of its scale where only its overall length is known.
type outlineModel struct {
	readings []Reading
	base     profile.Knife
	free     []profile.Quantity
	overall  float64
	pose     int
	rough    motion // brings traced points near the blade frame
	// shownTang is the length of tang that a trace shows, mm; 0 for stations. Where the
	// outline has no point of the trace beside it, no residual says so.
	shownTang float64
}

// shownWithin is by how much, over it, the tang may differ from what a trace shows: a burr
// on its end is no longer.
const shownWithin = 0.15

// motion takes points of a trace to the blade frame: mirrored in y or not, turned by an
// angle, then shifted.
type motion struct {
	mirror      bool
	sine, cosin float64
	shift       geom.Point
}

func (m motion) apply(p geom.Point) geom.Point {
	if m.mirror {
		p.Y = -p.Y
	}
	return geom.Point{X: m.cosin*p.X - m.sine*p.Y + m.shift.X, Y: m.sine*p.X + m.cosin*p.Y + m.shift.Y}
}

// poseOf returns how many parameters tell how the readings lie.
func poseOf(m Measurements) int {
	switch {
	case m.Traced && m.Unscaled:
		return 4
	case m.Traced:
		return 3
	case m.has(Spine, Edge):
		return 1
	}
	return 0
}

// knife returns the knife of some parameters, with what is tied to them.
func (o *outlineModel) knife(theta []float64) profile.Knife {
	k := o.base.Copied()
	for i, q := range o.free {
		q.Put(&k, theta[i])
	}
	tie(&k, o.overall)
	return k
}

// tie makes what follows from other parameters follow them: the point of a blade without
// a belly lies on the line of its edge, and a known overall length leaves the tang what
// the blade does not take.
func tie(k *profile.Knife, overall float64) {
	if k.Edge.BellyLength == 0 {
		k.Clip.Drop = k.Blade.Width
	}
	if overall > 0 {
		k.Tang.Length = overall - k.Blade.Length
	}
}

// tied says whether a key follows from others, and from what.
func tied(key string, k profile.Knife, overall float64) (from string, is bool) {
	switch {
	case key == "clip.drop" && k.Edge.BellyLength == 0:
		return "is the width, since the point lies on the line of the edge", true
	case key == "tang.length" && overall > 0:
		return "is what the blade leaves of the known overall length", true
	}
	return "", false
}

func (o *outlineModel) posed(theta []float64) []float64 { return theta[len(o.free):] }

// placed returns where a traced point lies in the blade frame.
func (o *outlineModel) placed(r Reading, pose []float64) geom.Point {
	p := o.rough.apply(r.At)
	factor := 1.0
	if o.pose == 4 {
		factor = math.Exp(pose[3])
	}
	sin, cos := math.Sincos(pose[2])
	return geom.Point{X: factor*(cos*p.X-sin*p.Y) + pose[0], Y: factor*(sin*p.X+cos*p.Y) + pose[1]}
}

func (o *outlineModel) residuals(theta []float64) ([]float64, bool) {
	c, ok := newCurve(o.knife(theta))
	if !ok {
		return nil, false
	}
	out := make([]float64, len(o.readings))
	for i, r := range o.readings {
		out[i], _ = o.residual(c, r, o.posed(theta))
	}
	return out, true
}

// spot is where a reading touches the curve, and which way the residual falls when the
// curve moves there.
type spot struct {
	place geom.Place
	by    geom.Point // the fall of the residual is by times the movement
}

// residual returns the reading less what the curve gives, and where it touches: one spot,
// or two for a width.
func (o *outlineModel) residual(c curve, r Reading, pose []float64) (float64, []spot) {
	if r.Kind == Traced {
		place, distance, outward := c.foot(o.placed(r, pose))
		return distance, []spot{{place, outward}}
	}
	shift := 0.0
	if o.pose == 1 {
		shift = pose[0]
	}
	// At a fixed station the height of a moving curve grows by dy - slope·dx.
	touch := func(spine bool, sign float64) (float64, spot) {
		place := c.side(r.X, spine)
		return c.at(place).Y, spot{place, geom.Point{X: -sign * c.slope(place), Y: sign}}
	}
	switch r.Kind {
	case Spine:
		y, s := touch(true, 1)
		return r.Value - shift - y, []spot{s}
	case Edge:
		y, s := touch(false, 1)
		return r.Value - shift - y, []spot{s}
	}
	top, s := touch(true, 1)
	bottom, t := touch(false, -1)
	return r.Value - (top - bottom), []spot{s, t}
}

func (o *outlineModel) linearise(theta []float64) ([]float64, *mat.Dense, bool) {
	c, ok := newCurve(o.knife(theta))
	if !ok {
		return nil, nil, false
	}
	pose := o.posed(theta)
	out, spots := make([]float64, len(o.readings)), make([][]spot, len(o.readings))
	jacobian := mat.NewDense(len(o.readings), max(1, len(theta)), nil)
	for i, r := range o.readings {
		out[i], spots[i] = o.residual(c, r, pose)
		o.poseSlopes(jacobian.RawRowView(i)[len(o.free):], r, pose, spots[i])
	}
	for a := range o.free {
		to, h, ok := o.neighbour(c, theta, a)
		if !ok {
			continue // no way to move: the readings do not see it
		}
		for i := range o.readings {
			fall := 0.0
			for _, s := range spots[i] {
				p, q := c.at(s.place), to.at(s.place)
				fall += s.by.X*(q.X-p.X) + s.by.Y*(q.Y-p.Y)
			}
			jacobian.Set(i, a, -fall/h)
		}
	}
	return out, jacobian, true
}

// nudge is the step of the differences by which derivatives are taken, mm; of angles and
// proportions a hundredth of it. Curvature makes a derivative wrong by the step over a
// radius, rounding by less than a millionth.
const nudge = 1e-5

// neighbour returns the curve a little above one parameter, or below where that is no
// knife.
func (o *outlineModel) neighbour(c curve, theta []float64, a int) (to curve, h float64, ok bool) {
	h = nudge
	if o.free[a].Kind != document.Length {
		h /= 100
	}
	for _, by := range []float64{h, -h} {
		moved := append([]float64(nil), theta...)
		moved[a] += by
		if to, fits := newCurve(o.knife(moved)); fits && len(to.pieces) == len(c.pieces) {
			return to, by, true
		}
	}
	return c, h, false
}

// poseSlopes fills in the derivatives by how the readings lie.
func (o *outlineModel) poseSlopes(row []float64, r Reading, pose []float64, spots []spot) {
	switch {
	case r.Kind == Traced:
		n, p := spots[0].by, o.placed(r, pose)
		x, y := p.X-pose[0], p.Y-pose[1]
		row[0], row[1], row[2] = n.X, n.Y, -n.X*y+n.Y*x
		if o.pose == 4 {
			row[3] = n.X*x + n.Y*y
		}
	case o.pose == 1 && r.Kind != Width:
		row[0] = -1
	}
}

func (o *outlineModel) limits() (least, most []float64) {
	for _, q := range o.free {
		low, high := familyLimits(q, o.base)
		if o.shownTang > 0 && q.Key == "tang.length" {
			low, high = math.Max(low, o.shownTang*(1-shownWithin)), math.Min(high, o.shownTang*(1+shownWithin))
		}
		least, most = append(least, low), append(most, high)
	}
	for i := range o.pose {
		reach := math.Inf(1)
		if i == 3 {
			reach = sameScale // or the trace would shrink to a point, which lies on any outline
		}
		least, most = append(least, -reach), append(most, reach)
	}
	return least, most
}

// kept is the least size of what makes a family: a hollow clip stays hollow, mm.
const kept = 0.02

// familyLimits returns the limits of a parameter within its family: those of the table,
// and on its own side of 0 where that tells families apart.
func familyLimits(q profile.Quantity, k profile.Knife) (least, most float64) {
	least, most = q.Limits()
	if least == 0 && most == 0 {
		return math.Inf(-1), math.Inf(1)
	}
	switch q.Key {
	case "clip.sag", "clip.drop", "spine.rise", "edge.recurve", "edge.fullness", "edge.belly_length", "ricasso.choil", "tang.corner_radius":
		if q.Of(k) > 0 {
			least = math.Max(least, kept)
		} else {
			most = math.Min(most, -kept)
		}
	}
	return least, most
}
