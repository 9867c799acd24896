package export

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// curve is a stretch of the outline that is neither straight nor an arc, between two
// distances from the guard plane.
type curve struct {
	name     string
	from, to float64
	at       func(x float64) float64 // y of the outline there
	datum    float64                 // y of the line that it leaves
	off      string                  // what the height over or under that is called
	ends     string                  // how it begins and ends
}

// curvesOf returns the curves of an outline that are laid out by ordinates.
func curvesOf(b profile.Blade) (out []curve) {
	k := b.Knife
	length := k.Blade.Length
	const seen = 0.005 // mm
	if k.Clip.Sag < -seen {
		out = append(out, curve{"clip", b.ClipStart().X, length, b.BackAt, b.ClipStart().Y, "below its start", "It leaves the back smoothly."})
	}
	if k.Edge.Recurve > seen {
		heel := k.Ricasso.Length + k.Ricasso.Choil
		out = append(out, curve{"recurve", heel, length - k.Edge.BellyLength, b.EdgeAt, -k.Blade.Width, "over its ends", "It is level at both ends and in its middle."})
	}
	if k.Edge.BellyLength > seen && k.Edge.Fullness > 0 {
		out = append(out, curve{"belly", length - k.Edge.BellyLength, length, b.EdgeAt, -k.Blade.Width, "over the edge",
			fmt.Sprintf("It leaves the edge level and meets the point at %.1f°.", k.Edge.PointAngle.Degrees())})
	}
	return out
}

// layoutError is how far straight lines between neighbouring ordinates may lie from a
// curve, mm: a stroke of a file. Where a curve turns sharply the least step decides.
const layoutError = 0.1

// laySteps returns the distances at which curves are laid out, the greatest first, mm:
// those of a rule in millimetres, or in inches.
func (l LengthStyle) laySteps() []float64 {
	if l == Millimetres {
		return []float64{20, 10, 5, 2, 1}
	}
	return []float64{inchMM, inchMM / 2, inchMM / 4, inchMM / 8, inchMM / 16, inchMM / 32}
}

// places returns where a curve is laid out: its ends, and between them even distances from
// the guard plane; with how far straight lines between those lie from it at most, mm.
func (c curve) places(style LengthStyle) (xs []float64, off float64) {
	for _, step := range style.laySteps() {
		xs = []float64{c.from}
		for n := math.Floor(c.from/step) + 1; n*step < c.to-step/20; n++ {
			if x := n * step; x > c.from+step/20 {
				xs = append(xs, x)
			}
		}
		xs = append(xs, c.to)
		if off = c.strays(xs); off <= layoutError {
			return xs, off
		}
	}
	return xs, off
}

// height returns y of the curve, short of its very ends, where the outline goes on
// upright.
func (c curve) height(x float64) float64 {
	return c.at(math.Max(c.from+1e-6, math.Min(x, c.to-1e-6)))
}

// strays returns how far straight lines between places on the curve lie from it at most.
func (c curve) strays(xs []float64) (most float64) {
	const between = 8
	for i := 1; i < len(xs); i++ {
		a, b := geom.Point{X: xs[i-1], Y: c.height(xs[i-1])}, geom.Point{X: xs[i], Y: c.height(xs[i])}
		for j := 1; j < between; j++ {
			x := a.X + (b.X-a.X)*float64(j)/between
			most = math.Max(most, geom.Distance(geom.Line{From: a, To: b}, geom.Point{X: x, Y: c.height(x)}))
		}
	}
	return most
}

// block returns the table of a curve.
func (c curve) block(length float64, style LengthStyle) block {
	out := block{title: fmt.Sprintf("Curve of the %s, ordinates in %s", c.name, style.unitWord()),
		heads: []string{"from the guard plane", "from the point", "below spine line", c.off}, widths: []float64{0, 26, 28, 27}}
	xs, off := c.places(style)
	for _, x := range xs {
		at, _ := style.Length(x)
		y := c.height(x)
		out.rows = append(out.rows, []string{at, style.Thickness(length - x), style.Thickness(-y), style.Thickness(math.Abs(y - c.datum))})
	}
	out.alignDecimals()
	for _, words := range []string{c.ends, fmt.Sprintf("Straight lines from place to place lie within %s %s of it.", style.Thickness(math.Ceil(100*off)/100), style.Unit())} {
		out.rows = append(out.rows, []string{words, "", "", ""})
	}
	return out
}

// radiusLead is how far the leader of a radius goes square to its arc, mm on paper.
const radiusLead = 6.0

// radiusMarks returns the marks that give the radius of each arc of the outline in front of
// the guard plane, of its back or of its edge side. Each leads to a place on its arc as far
// as can be from other marks and from the letters of the sections.
func (l viewLayout) radiusMarks(p pencil, b profile.Blade, back bool, others []mark) (out []mark) {
	taken := []float64{}
	for _, m := range others {
		taken = append(taken, m.at.X)
	}
	for _, s := range PlanStations(b) {
		taken = append(taken, l.place(geom.Point{X: s.X}).X+1.5)
	}
	outward := map[bool]float64{true: 1, false: -1}[back]
	for _, piece := range b.Outline.Pieces() {
		arc, ok := piece.(geom.Arc)
		if !ok || arc.At(0.5).X < 0 || (arc.At(0.5).Y > (b.BackAt(arc.At(0.5).X)+b.EdgeAt(arc.At(0.5).X))/2) != back {
			continue
		}
		best := mark{}
		clear := -1.0
		for i := range 9 {
			m := l.radiusMark(p, b, arc, 0.3+0.05*float64(i), outward)
			least := math.Inf(1)
			for _, x := range taken {
				least = math.Min(least, math.Abs(x-m.foot().X))
			}
			if least > clear {
				best, clear = m, least
			}
		}
		out = append(out, best)
	}
	return out
}

// radiusMark returns the mark of an arc's radius at a share of its length.
func (l viewLayout) radiusMark(p pencil, b profile.Blade, arc geom.Arc, share, outward float64) mark {
	at := arc.At(share)
	x, y := (at.X-arc.Centre.X)/arc.Radius, (at.Y-arc.Centre.Y)/arc.Radius
	if y*outward < 0 {
		x, y = -x, -y
	}
	lead := math.Min(radiusLead, 0.6*arc.Radius*l.scale)
	name := "choil R"
	if outward > 0 {
		if name = "back R"; at.X > b.ClipStart().X {
			name = "clip R"
		}
	}
	return mark{at: l.place(at), text: l.say(p, name, arc.Radius), radial: geom.Point{X: lead * x, Y: lead * y}}
}
