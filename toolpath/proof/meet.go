package proof

import (
	"math"

	"fullerwright/toolpath/motion"
)

// lookAhead returns sweeps that cut nothing, and tell how far the steel as it stands
// reaches into what must not meet it: the shank above the flutes, the holder above the
// stick-out, and, for a rapid move in several axes, the box that it may take.
func (m *Map) lookAhead(v motion.Motion, c Cutter) []sweep {
	if !moves(v) {
		return nil
	}
	var out []sweep
	if c.FluteLength > 0 {
		out = append(out, m.disc(v, c.shankRadius(), c.FluteLength, meetsShank)...)
	}
	if c.StickOut > 0 && c.HolderRadius > 0 {
		out = append(out, m.disc(v, c.HolderRadius, c.StickOut, meetsHolder)...)
	}
	low := math.Min(v.From.Z, v.To.Z)
	if v.Kind == motion.Rapid && low < m.top && axes(v) > 1 {
		b := box(v.From, v.To, c.Radius)
		out = append(out, sweep{shape: flatBox{b, low}, reach: b, lowest: low, line: v.TextLine, job: meetsCorner})
	}
	return out
}

// disc returns the sweep of a flat disc that is carried over the tip.
func (m *Map) disc(v motion.Motion, radius, over float64, what job) []sweep {
	_, lowest, _ := extent(v)
	if lowest+over >= m.top {
		return nil
	}
	for _, p := range []*motion.Vec{&v.From, &v.To, &v.Centre} {
		p.Z += over
	}
	p := path{end: end{form: Square, radius: radius, flat: radius}}
	out := p.add(v, motion.Motion{})
	for i := range out {
		out[i].job = what
	}
	return out
}

// axes counts the axes in which a motion moves.
func axes(v motion.Motion) int {
	n := 0
	for _, d := range [3]float64{v.To.X - v.From.X, v.To.Y - v.From.Y, v.To.Z - v.From.Z} {
		if d != 0 {
			n++
		}
	}
	return n
}

// flatBox is the floor of a box.
type flatBox struct {
	box Box
	h   float64
}

func (f flatBox) spans(_ float64, out []span) []span {
	return append(out, levelSpan(f.box.MinX, f.box.MaxX, f.h))
}

func (f flatBox) over(float64, float64) float64 { return f.h }
