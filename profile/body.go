package profile

import (
	"math"
	"sort"
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

// panels is how many panels the length of a blade has at least, over each of which its
// sections are taken as smooth. Five Gauss points on each are exact for tapers and
// straight bevels; the belly and the run-outs of fullers are good to about 1e-7 of the
// volume. Their number does not depend on the size, so that a scaled blade has exactly
// the scaled volume.
const panels = 18

// slice is a section of the blade with its weight in an integral along the blade.
type slice struct {
	X, Weight float64
	SectionProperties
}

// slices returns sections between two distances from the guard plane such that the sum
// of weight times a property is its integral over the length; and the same for the blade
// without its fullers.
func (b Blade) slices(from, to float64) (with, plain []slice) {
	curved, five := twelvePoints().crowded(), fivePoints()
	grooves, alike := b.finishedGrooves()
	xs := b.lengthBreaks(from, to)
	with = make([]slice, 0, len(five.at)*(panels+len(xs)))
	plain = make([]slice, 0, cap(with))
	for i := 1; i < len(xs); i++ {
		n := math.Ceil((xs[i]-xs[i-1])/b.Knife.Blade.Length*panels - 1e-9)
		half := (xs[i] - xs[i-1]) / n / 2
		for j := range int(n) {
			middle := xs[i-1] + float64(2*j+1)*half
			for k, at := range five.at {
				x := middle + half*at
				c := b.ground.section(x)
				c.alike = true
				if x >= 0 {
					c.grooves, c.alike = grooves, alike
				}
				p, q := c.properties(&curved)
				with = append(with, slice{x, half * five.weight[k], p})
				plain = append(plain, slice{x, half * five.weight[k], q})
			}
		}
	}
	return with, plain
}

func fivePoints() rule {
	return rule{[]float64{-0.9061798459386640, -0.5384693101056831, 0, 0.5384693101056831, 0.9061798459386640},
		[]float64{0.2369268850561891, 0.4786286704993665, 0.5688888888888889, 0.4786286704993665, 0.2369268850561891}}
}

// lengthBreaks returns the distances between from and to, ascending, at which the form
// of the sections changes, both included.
func (b Blade) lengthBreaks(from, to float64) []float64 {
	k := b.Knife
	all := []float64{-k.Tang.CornerRadius, 0, k.Ricasso.Length, b.ground.heel.X, k.Ricasso.Length - k.Ricasso.Choil, k.bellyStart().X, b.ClipStart().X,
		(k.bellyStart().X + b.ground.heel.X) / 2}
	for _, v := range []bevel{b.ground.edge, b.ground.back} {
		if v.present {
			all = append(all, v.foot, v.foot+v.plunge)
		}
	}
	for _, s := range b.ground.blade {
		all = append(all, s.at)
	}
	for _, f := range b.Fullers {
		all = append(all, f.StartVisible, f.StartFull, f.EndFull, f.EndVisible)
	}
	sort.Float64s(all)
	xs := []float64{from}
	for _, x := range all {
		if x > xs[len(xs)-1]+1e-6 && x < to-1e-6 {
			xs = append(xs, x)
		}
	}
	return append(xs, to)
}

// bodyBetween returns the finished steel between two distances from the guard plane.
func (b Blade) bodyBetween(from, to float64) Body {
	slices, _ := b.slices(from, to)
	return bodyOf(slices)
}

func bodyOf(slices []slice) Body {
	var body Body
	for _, s := range slices {
		body = body.plus(Body{s.Weight * s.Area, s.X, s.Y, s.Z})
	}
	return body
}

// BladeBody returns the steel in front of the guard plane, TangBody that behind it,
// without a threaded extension.
func (b Blade) BladeBody() Body { return b.bodyBetween(0, b.Knife.Blade.Length) }

// TangBody returns the steel behind the guard plane, without a threaded extension.
func (b Blade) TangBody() Body { return b.bodyBetween(-b.Knife.Tang.Length, 0) }
