package profile

import (
	"math"
	"slices"
)

// Body is a volume with its centroid, in the blade frame; lengths in mm.
type Body struct {
	Volume  float64 // mm³
	X, Y, Z float64
}

// plus returns two bodies as one.
func (b Body) plus(c Body) Body {
	v := b.Volume + c.Volume
	if v == 0 {
		return Body{}
	}
	mean := func(p, q float64) float64 { return (p*b.Volume + q*c.Volume) / v }
	return Body{v, mean(b.X, c.X), mean(b.Y, c.Y), mean(b.Z, c.Z)}
}

// panels is how many panels the length of a blade has at least. Over each the sections
// change smoothly but for its ends, where they may begin with an upright tangent, as at a
// run-out or a plunge; the crowded rule follows both. Masses and balances are good to
// about 1e-9, and to 1e-7 where chords stand for the floor of a fuller on the bevel. The
// number of panels does not depend on the size, so that a scaled blade has exactly the
// scaled volume.
const panels = 4

// slice is a section of the blade with its weight in an integral along the blade.
type slice struct {
	X, Weight float64
	SectionProperties
}

// body returns what a section adds to the volume.
func (s slice) body() Body { return Body{s.Weight * s.Area, s.X, s.Y, s.Z} }

// along calls visit with sections between two distances from the guard plane such that the
// sum of weight times a property is its integral over the length; and with the same
// sections of the blade without its fullers.
func (b Blade) along(from, to float64, visit func(with, plain slice)) {
	r := twelvePoints().crowded()
	f := b.finished()
	xs := b.lengthBreaks(from, to)
	for i := 1; i < len(xs); i++ {
		n := math.Ceil((xs[i]-xs[i-1])/b.Knife.Blade.Length*panels - 1e-9)
		half := (xs[i] - xs[i-1]) / n / 2
		for j := range int(n) {
			middle := xs[i-1] + float64(2*j+1)*half
			for k, at := range r.at {
				x := middle + half*at
				c := b.ground.section(x)
				f.cut(&c)
				with, plain := c.properties(&r)
				visit(slice{x, half * r.weight[k], with}, slice{x, half * r.weight[k], plain})
			}
		}
	}
}

// lengthBreaks returns the distances between from and to, ascending, at which the form
// of the sections changes, both included.
func (b Blade) lengthBreaks(from, to float64) []float64 {
	k := b.Knife
	all := []float64{0, k.Ricasso.Length, k.Blade.Length - math.Max(k.FalseEdge.Length, k.SecondEdge.Length), k.Blade.Length * (1 - behindPoint)}
	for _, p := range b.Outline.Pieces() {
		all = append(all, p.Start().X)
	}
	for _, v := range []bevel{b.ground.edge, b.ground.back} {
		if v.present {
			all = append(all, v.foot, v.foot+v.plunge)
		}
	}
	for _, s := range b.ground.blade {
		all = append(all, s.at)
	}
	for _, f := range b.Fullers {
		all = f.breaks(all)
	}
	xs := apart(all, from, to)
	if kinks := b.kinks(xs); len(kinks) > 0 {
		xs = apart(append(all, kinks...), from, to)
	}
	return xs
}

// breaks adds the distances at which a fuller, as it lies in each face, begins, changes its
// form and ceases.
func (f *Fuller) breaks(all []float64) []float64 {
	for _, face := range Faces() {
		lies := *f
		if f.came != [2]*Came{} {
			lies = f.On(face)
		}
		all = append(all, lies.StartCut, lies.StartFull, lies.EndFull, lies.EndCut)
		all = append(all, lies.kinks...)
		if f.came == [2]*Came{} { // alike in the other
			break
		}
	}
	return all
}

// apart returns the distances between from and to, ascending, both included, without
// those that lie on each other.
func apart(all []float64, from, to float64) []float64 {
	const least = 1e-6 // mm
	slices.Sort(all)
	xs := make([]float64, 1, len(all)+2)
	xs[0] = from
	for _, x := range all {
		if x > xs[len(xs)-1]+least && x < to-least {
			xs = append(xs, x)
		}
	}
	return append(xs, to)
}

// kinks returns the distances at which the bevels begin or cease to meet each other or
// the other side of the blade.
func (b Blade) kinks(xs []float64) (out []float64) {
	const samples, aside = 4, 1e-7
	for i := 1; i < len(xs); i++ {
		if xs[i] <= b.ground.edge.foot {
			continue
		}
		at := xs[i-1] + aside
		before := b.ground.meetings(at)
		for j := 1; j <= samples; j++ {
			x := xs[i-1] + (xs[i]-xs[i-1])*float64(j)/samples - aside
			after := b.ground.meetings(x)
			for m := range before {
				// What is level but for rounding neither begins nor ceases to meet.
				if before[m]*after[m] < 0 && min(math.Abs(before[m]), math.Abs(after[m])) > near {
					out = append(out, bisectTo(func(x float64) float64 { return b.ground.meetings(x)[m] }, at, x))
				}
			}
			at, before = x, after
		}
	}
	return out
}

// meetings returns how far at x the bevel line of the edge lies over that of the back, or
// over the back itself; how far at the back the edge's bevel is thicker than that of the
// back; how far at the edge the other way round; and how far the bevel line lies over a
// choil.
func (g *ground) meetings(x float64) [4]float64 {
	c := g.section(x)
	out := [4]float64{c.edgeLine() - c.backLine(), 1, 1, c.edgeLine() - c.Bottom}
	if c.edge.present && c.back.present {
		out[1] = c.edge.surface(c.Top-c.edge.rim) - c.back.surface(0)
		out[2] = c.back.surface(c.back.rim-c.Bottom) - c.edge.surface(0)
	}
	return out
}

// bodyBetween returns the finished steel between two distances from the guard plane.
func (b Blade) bodyBetween(from, to float64) (body Body) {
	b.along(from, to, func(with, _ slice) { body = body.plus(with.body()) })
	return body
}

// BladeBody returns the steel in front of the guard plane, TangBody that behind it,
// without a threaded extension.
func (b Blade) BladeBody() Body { return b.bodyBetween(0, b.Knife.Blade.Length) }

// TangBody returns the steel behind the guard plane, without a threaded extension.
func (b Blade) TangBody() Body { return b.bodyBetween(-b.Knife.Tang.Length, 0) }
