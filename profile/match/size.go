package match

import (
	"math"
	"sort"

	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// size is what can be told of a knife before any family is fitted, mm; 0 where it cannot.
type size struct {
	length, width                           float64
	tangLength, tangWidth, tangEnd, tangTop float64
}

// sizeOf reads a rough size off stations: the greatest width of the rear half, and the
// last station with as much more as the width still left there takes to close at the
// pace of the last two, at most a sixth of the whole.
func sizeOf(m Measurements) size {
	widths := widthsOf(m)
	if len(widths) == 0 {
		return size{}
	}
	last := widths[len(widths)-1]
	s := size{length: last.x}
	for _, w := range widths {
		if w.x >= 0 && w.x <= last.x/2 {
			s.width = math.Max(s.width, w.width)
		}
	}
	if s.width == 0 {
		s.width = widths[0].width
	}
	if len(widths) > 1 && last.width > 0 {
		before := widths[len(widths)-2]
		if pace := (before.width - last.width) / (last.x - before.x); pace > 0 {
			s.length += math.Min(last.width/pace, last.x/5)
		} else {
			s.length += last.x / 20
		}
	}
	return s
}

type widthAt struct{ x, width float64 }

// widthsOf returns the width at each station in front of the guard plane, ascending:
// measured, or from both sides, or twice the farther side where there is one only.
func widthsOf(m Measurements) []widthAt { return widthsOver(m, 0) }

// widthsOver returns the same from a station on.
func widthsOver(m Measurements, from float64) []widthAt {
	type sides struct{ spine, edge, width float64 }
	all := map[float64]*sides{}
	for _, r := range m.Readings {
		if r.X < from || r.Kind == Thickness || r.Kind == Traced {
			continue
		}
		if all[r.X] == nil {
			all[r.X] = &sides{math.NaN(), math.NaN(), math.NaN()}
		}
		switch r.Kind {
		case Spine:
			all[r.X].spine = r.Value
		case Edge:
			all[r.X].edge = r.Value
		case Width:
			all[r.X].width = r.Value
		}
	}
	var out []widthAt
	for x, s := range all {
		w := s.width
		if math.IsNaN(w) {
			w = s.spine - s.edge
		}
		if !math.IsNaN(w) {
			out = append(out, widthAt{x, w})
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].x < out[j].x })
	return out
}

// sized returns the pattern in a size, with the tang of the size where it is known and a
// knife can have it. The error says why the family has no such knife.
func sized(f Family, s size, overall float64) (profile.Knife, error) {
	k, _, err := inSize(f, s.length, s.width)
	if err != nil {
		return profile.Knife{}, err
	}
	if s.tangWidth == 0 {
		return within(k, overall), nil
	}
	tang := k.Copied()
	tang.Tang.Width, tang.Tang.Length = s.tangWidth, s.tangLength
	tang.Tang.EndWidth = math.Min(s.tangEnd, s.tangWidth)
	tang.Shoulder.Top, tang.Shoulder.Bottom = profile.Some(math.Max(0, s.tangTop)), profile.Optional{}
	if bottom := k.RicassoWidth() - s.tangWidth - tang.Shoulder.Top.Value; bottom < 0 {
		tang.Shoulder.Top.Value = math.Max(0, tang.Shoulder.Top.Value+bottom)
	}
	step := math.Min(tang.ShoulderTop(), tang.ShoulderBottom())
	tang.Tang.CornerRadius = math.Min(tang.Tang.CornerRadius, math.Max(0.1, 0.8*step))
	if _, ok := newCurve(within(tang, overall)); ok {
		return within(tang, overall), nil
	}
	return within(k, overall), nil
}

// inSize returns the pattern with a length and width and its file. Where its tang does not
// go into that width, the tang follows the width as well.
func inSize(f Family, length, width float64) (profile.Knife, []byte, error) {
	r := profile.Resizing{Length: length, Width: width}
	for {
		resized, _, err := profile.Resize(f.Name+".toml", f.Data, r)
		if err != nil {
			return profile.Knife{}, nil, err
		}
		k, err := profile.Parse(f.Name+".toml", resized)
		if err == nil || r.Follow != nil {
			return k, resized, err
		}
		r.Follow = map[string]profile.ResizeClass{}
		for _, key := range []string{"tang.width", "tang.end_width", "tang.corner_radius", "shoulder.top", "shoulder.bottom", "ricasso.choil"} {
			r.Follow[key] = profile.Across
		}
	}
}

// within returns a knife with what is tied, and with a given upper step: free to move.
func within(k profile.Knife, overall float64) profile.Knife {
	if !k.Shoulder.Top.Known && !k.Shoulder.Bottom.Known {
		k.Shoulder.Top = profile.Some(k.ShoulderTop())
	}
	tie(&k, overall)
	return k
}

// startsOf returns the starts of the search in a family, each the pattern in the rough
// size: as it is, and with its clip, its belly or both at 0.7 and 1.4 of their length,
// as far as those are knives.
func startsOf(k profile.Knife, overall float64) []profile.Knife {
	factors := [][3]float64{{1, 1, 1}, {0.7, 1, 1}, {1.4, 1, 1}, {1, 0.7, 1}, {1, 1.4, 1}, {0.7, 0.7, 1}, {1.4, 1.4, 1}}
	if k.Ricasso.Choil > 0 {
		factors = append(factors, [3]float64{1, 1, 0.8}, [3]float64{1, 1, 1.25})
	}
	var out []profile.Knife
	for _, factor := range factors {
		start := k.Copied()
		start.Clip.Length *= factor[0]
		start.Edge.BellyLength *= factor[1]
		start.Ricasso.Length *= factor[2]
		tie(&start, overall)
		if _, ok := newCurve(start); ok {
			out = append(out, start)
		}
	}
	return out
}

// layout is how a trace lies: the motion to the blade frame and the size that it shows.
type layout struct {
	motion motion
	size   size
}

// layouts returns how a trace may lie, first as the right face is seen, then mirrored:
// the long axis is that of its greatest spread, the tang lies where the greatest step in
// width leads in, and the spine is the straight side in front of that step. ok is false
// where there is no such step.
func layouts(points []geom.Point) (out [2]layout, ok bool) {
	centre, angle := axisOf(points)
	for i, mirror := range []bool{false, true} {
		turn := angle
		if mirror {
			turn = -angle
		}
		best := 0.0
		for _, half := range []float64{0, math.Pi} {
			sin, cos := math.Sincos(half - turn)
			m := motion{mirror: mirror, sine: sin, cosin: cos}
			c := m.apply(centre)
			m.shift = geom.Point{X: -c.X, Y: -c.Y}
			if l, step := lay(points, m); step > best {
				out[i], best, ok = l, step, true
			}
		}
	}
	return out, ok
}

// axisOf returns the centre of a closed run of points and the direction of its greatest
// spread, each stretch counted by its length.
func axisOf(points []geom.Point) (centre geom.Point, angle float64) {
	var whole, xx, xy, yy float64
	for pass := range 2 {
		for i, p := range points {
			q := points[(i+1)%len(points)]
			long := math.Hypot(q.X-p.X, q.Y-p.Y)
			x, y := (p.X+q.X)/2, (p.Y+q.Y)/2
			if pass == 0 {
				whole += long
				centre.X += long * x
				centre.Y += long * y
				continue
			}
			x, y = x-centre.X, y-centre.Y
			xx, xy, yy = xx+long*x*x, xy+long*x*y, yy+long*y*y
		}
		if pass == 0 && whole > 0 {
			centre.X, centre.Y = centre.X/whole, centre.Y/whole
		}
	}
	return centre, math.Atan2(2*xy, xx-yy) / 2
}

// lay looks for the shoulders of a trace that was moved so that its long axis lies along
// x, and returns the motion that brings them to the guard plane, with the step in width.
func lay(points []geom.Point, m motion) (layout, float64) {
	moved := make([]geom.Point, len(points))
	for i, p := range points {
		moved[i] = m.apply(p)
	}
	a := newAcross(moved)
	whole := a.high - a.low
	apart := whole / 100
	guard, step := 0.0, 0.0
	for i := range 400 {
		x := a.low + whole*(0.05+0.7*float64(i)/400)
		if s := a.width(x+apart) - a.width(x-apart); s > step {
			guard, step = x, s
		}
	}
	// The back in front of the shoulder is straight: it says how the trace is turned.
	x0, x1 := guard+2*apart, guard+0.15*whole
	_, y0 := a.sides(x0)
	_, y1 := a.sides(x1)
	turn := -math.Atan2(y1-y0, x1-x0)
	sin, cos := math.Sincos(turn)
	from := geom.Point{X: guard, Y: y0 - (x0-guard)*(y1-y0)/(x1-x0)}
	turned := func(p geom.Point) geom.Point { return geom.Point{X: cos*p.X - sin*p.Y, Y: sin*p.X + cos*p.Y} }
	shift, corner := turned(m.shift), turned(from)
	out := layout{motion: motion{mirror: m.mirror, sine: sin*m.cosin + cos*m.sine, cosin: cos*m.cosin - sin*m.sine,
		shift: geom.Point{X: shift.X - corner.X, Y: shift.Y - corner.Y}}}
	low, high := a.sides(guard - 2*apart)
	tangEnd := a.endWidth(apart)
	rear := a.low // of the tang, where a burr on its end is passed
	for rear < a.low+8*apart && a.width(rear) < tangEnd/2 {
		rear += apart / 10
	}
	out.size = size{length: a.high - guard, tangLength: guard - rear, tangWidth: high - low, tangTop: from.Y - high,
		tangEnd: math.Min(tangEnd, high-low)}
	for i := range 30 {
		out.size.width = math.Max(out.size.width, a.width(guard+apart+out.size.length/3*float64(i)/30))
	}
	return out, step
}

// across measures a closed run of points across its long axis.
type across struct {
	chain     geom.Chain
	low, high float64
}

func newAcross(points []geom.Point) across {
	var pieces []geom.Piece
	low, high := math.Inf(1), math.Inf(-1)
	for i, p := range points {
		q := points[(i+1)%len(points)]
		low, high = math.Min(low, p.X), math.Max(high, p.X)
		if p != q {
			pieces = append(pieces, geom.Line{From: p, To: q})
		}
	}
	chain, _ := geom.NewChain(pieces...)
	return across{chain, low, high}
}

func (a across) sides(x float64) (low, high float64) {
	ys := a.chain.Crossings(x)
	if len(ys) == 0 {
		return 0, 0
	}
	return ys[0], ys[len(ys)-1]
}

// endWidth returns the median of the width at some places near the low end, so that a burr
// on the end is not taken for it.
func (a across) endWidth(apart float64) float64 {
	var widths []float64
	for i := range 7 {
		widths = append(widths, a.width(a.low+apart*(1.5+float64(i))))
	}
	return medianOf(widths)
}

func (a across) width(x float64) float64 {
	low, high := a.sides(x)
	return high - low
}
