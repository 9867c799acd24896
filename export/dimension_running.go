package export

import (
	"math"
	"sort"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// mark is a feature to which a running dimension leads: its place on the view, on
// paper, and what is written at the end of its extension line. One that gives a radius is
// not on the dimension line: its leader begins square to its arc.
type mark struct {
	at     geom.Point
	text   string
	radial geom.Point // the stretch of the leader square to the arc; zero for a distance
}

// foot returns where the upright part of an extension line or leader begins.
func (m mark) foot() geom.Point { return geom.Point{X: m.at.X + m.radial.X, Y: m.at.Y + m.radial.Y} }

func (m mark) isRadius() bool { return m.radial != geom.Point{} }

// running is superimposed running dimensioning (ISO 129-1, from memory): one dimension
// line from an origin, an arrow at every feature, the texts upright at the ends of the
// extension lines, which give way where features lie close to each other.
type running struct {
	origin  geom.Point
	line    float64 // y of the dimension line
	outward float64 // +1 over the view, -1 under it
	within  interval
	plain   bool // leaders alone, without a dimension line
}

const (
	jog     = 4.0 // height over which an extension line gives way
	upright = 1.0 // of the extension line before and after its jog
)

// spread moves places as little as need be so that neighbours lie at least the given
// distance apart, all of them within an interval: pools of neighbours that push each
// other move together (isotonic regression).
func spread(places []float64, least float64, within interval) []float64 {
	type pool struct {
		sum float64
		n   int
	}
	var pools []pool
	for i, v := range places {
		pools = append(pools, pool{v - float64(i)*least, 1})
		for len(pools) > 1 {
			a, b := pools[len(pools)-2], pools[len(pools)-1]
			if a.sum/float64(a.n) <= b.sum/float64(b.n) {
				break
			}
			pools = append(pools[:len(pools)-2], pool{a.sum + b.sum, a.n + b.n})
		}
	}
	out := make([]float64, 0, len(places))
	last := within.most - float64(len(places)-1)*least
	for _, q := range pools {
		mean := math.Max(within.least, math.Min(last, q.sum/float64(q.n)))
		for range q.n {
			out = append(out, mean+float64(len(out))*least)
		}
	}
	return out
}

// length returns how far running dimensions reach outward from their line.
func (k running) length(p pencil, marks []mark) float64 {
	longest := 0.0
	for _, m := range marks {
		longest = math.Max(longest, p.width(m.text))
	}
	return 2*upright + jog + p.over() + longest
}

// draw draws running dimensions to marks.
func (p pencil) running(k running, marks []mark) {
	sorted := append([]mark(nil), marks...)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].foot().X < sorted[j].foot().X })
	places := make([]float64, len(sorted))
	for i, m := range sorted {
		places[i] = m.foot().X
	}
	places = spread(places, p.letter*1.3+textSpace, k.within)
	if !k.plain {
		p.axis(k, sorted)
	}
	for i, m := range sorted {
		p.leader(k, m, places[i])
	}
}

// axis draws the dimension line with its origin and its arrows.
func (p pencil) axis(k running, marks []mark) {
	least, most := k.origin.X, k.origin.X
	for _, m := range marks {
		if m.isRadius() {
			continue
		}
		least, most = math.Min(least, m.at.X), math.Max(most, m.at.X)
	}
	p.line(finePen, geom.Point{X: least, Y: k.line}, geom.Point{X: most, Y: k.line})
	for _, m := range marks {
		if away := m.at.X - k.origin.X; away != 0 && !m.isRadius() {
			p.arrow(geom.Point{X: m.at.X, Y: k.line}, geom.Point{X: math.Copysign(1, away)})
		}
	}
	ring := sheet.Circle(finePen, geom.Point{X: k.origin.X, Y: k.line}, 1)
	ring.Fill = "#ffffff"
	p.line(finePen, geom.Point{X: k.origin.X, Y: k.origin.Y + k.outward*lineGap}, geom.Point{X: k.origin.X, Y: k.line + k.outward*linePast})
	p.add(dimensionLayer, ring)
}

// leader draws the extension line of one mark and its text.
func (p pencil) leader(k running, m mark, place float64) {
	foot := m.foot()
	start := geom.Point{X: foot.X, Y: foot.Y + k.outward*lineGap}
	knee := geom.Point{X: foot.X, Y: k.line + k.outward*upright}
	over := geom.Point{X: place, Y: knee.Y + k.outward*jog}
	end := geom.Point{X: place, Y: over.Y + k.outward*upright}
	if k.plain {
		start = m.at
		p.arrow(m.at, geom.Point{Y: -k.outward})
	}
	if m.isRadius() {
		start = foot
		lead := math.Hypot(m.radial.X, m.radial.Y)
		p.arrow(m.at, geom.Point{X: -m.radial.X / lead, Y: -m.radial.Y / lead})
		p.line(finePen, m.at, foot)
	}
	p.line(finePen, start, knee)
	p.line(finePen, knee, over)
	p.line(finePen, over, end)
	text := sheet.Text{At: geom.Point{X: place + p.letter/2, Y: end.Y + k.outward*p.over()}, Height: p.letter, Upright: true, Content: m.text}
	if k.outward < 0 {
		text.Anchor = sheet.End
	}
	p.label(text)
}
