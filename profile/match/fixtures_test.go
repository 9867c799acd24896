package match

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/templates"
)

func allFamilies() []Family {
	var all []Family
	for _, name := range templates.Names() {
		all = append(all, family(name))
	}
	return all
}

func family(name string) Family {
	data, _ := templates.Pattern(name)
	return Family{name, data}
}

// anotherSize returns a knife of a family as another maker might have made it: every
// parameter of the blade's outline changed at random by up to an eighth, which the search
// knows nothing of.
func anotherSize(t *testing.T, name string, r *rand.Rand) profile.Knife {
	t.Helper()
	pattern, err := profile.Parse(name, family(name).Data)
	require.NoError(t, err)
	factor := func() float64 { return 1 + (2*r.Float64()-1)/8 }
	for range 100 {
		k := within(pattern.Copied(), 0)
		stretch := factor()
		for _, q := range outlineQuantities(k, 0) {
			if q.Group != "tang" && q.Group != "ricasso" && q.Group != "shoulder" && q.Key != "blade.length" {
				q.Put(&k, q.Of(k)*factor())
			}
		}
		for i := range k.Taper {
			k.Taper[i].At = k.Ricasso.Length + (k.Taper[i].At-k.Ricasso.Length)*stretch
		}
		k.Blade.Length = k.Ricasso.Length + (k.Blade.Length-k.Ricasso.Length)*stretch
		tie(&k, 0)
		if _, ok := newCurve(k); ok {
			return k
		}
	}
	t.Fatalf("%s has no other size", name)
	return profile.Knife{}
}

// stations are 25 distances from the guard plane at which a maker would measure: four on
// the tang, three in a choil, the rest along the blade, closer toward the point, the last
// the point itself.
func stations(k profile.Knife) []float64 {
	var xs []float64
	for _, share := range []float64{-0.8, -0.55, -0.3, -0.08} {
		xs = append(xs, share*k.Tang.Length)
	}
	if c := k.Ricasso.Choil; c > 0 {
		xs = append(xs, k.Ricasso.Length-0.7*c, k.Ricasso.Length, k.Ricasso.Length+0.7*c)
	}
	n := 25 - len(xs)
	for i := range n {
		share := float64(i) / float64(n-1)
		xs = append(xs, k.Blade.Length*math.Min(1, 1.25*share-0.25*math.Pow(share, 5)))
	}
	return xs
}

// calipered measures a knife at stations by the finished blade's own functions, which the
// search does not use, with normal errors.
func calipered(t *testing.T, k profile.Knife, xs []float64, noise func() float64) Measurements {
	t.Helper()
	outline, err := k.QuickOutline()
	require.NoError(t, err)
	m := Measurements{File: "points.csv"}
	for i, x := range xs {
		top, bottom := -k.Clip.Drop, -k.Clip.Drop // at the point itself
		if ys := outline.Crossings(x + 1e-9); x < k.Blade.Length && len(ys) > 0 {
			top, bottom = ys[len(ys)-1], ys[0]
		}
		add := func(kind Kind, value float64) {
			m.Readings = append(m.Readings, Reading{Kind: kind, X: x, Value: value + noise(), Line: i + 2})
		}
		add(Spine, top)
		add(Edge, bottom)
		add(Thickness, thicknessAt(k, x))
	}
	return m
}

func normal(r *rand.Rand, deviation float64) func() float64 {
	return func() float64 { return deviation * r.NormFloat64() }
}

// contour returns points about every so many mm along an outline, each moved square to it.
func contour(outline geom.Chain, apart float64, noise func() float64) []geom.Point {
	var out []geom.Point
	for _, p := range outline.Pieces() {
		n := max(1, int(math.Round(p.Length()/apart)))
		for i := range n {
			at := (float64(i) + 0.5) / float64(n)
			q, along, by := p.At(at), p.Tangent(at), noise()
			out = append(out, geom.Point{X: q.X + by*along.Y, Y: q.Y - by*along.X})
		}
	}
	return out
}

// drawing is how a contour is put into an SVG file.
type drawing struct {
	turn   float64
	mirror bool
	unit   string // of width and height; empty for pixels
	scale  float64
}

// svg writes points, turned and perhaps mirrored, as a polygon with y down.
func (d drawing) svg(points []geom.Point) []byte {
	if d.scale == 0 {
		d.scale = 1
	}
	sin, cos := math.Sincos(d.turn)
	var b strings.Builder
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"1000%s\" height=\"1000%[1]s\" viewBox=\"0 0 1000 1000\">\n<polygon points=\"", d.unit)
	for _, p := range points {
		if d.mirror {
			p.Y = -p.Y
		}
		fmt.Fprintf(&b, "%.5f,%.5f ", 500+d.scale*(cos*p.X-sin*p.Y), 500-d.scale*(sin*p.X+cos*p.Y))
	}
	return []byte(b.String() + "\"/>\n</svg>\n")
}

// farthestApart returns how far the outlines of two knives lie from each other at most,
// mm, looked at every half millimetre of the first.
func farthestApart(t *testing.T, a, b profile.Knife) float64 {
	t.Helper()
	first, err := a.QuickOutline()
	require.NoError(t, err)
	second, err := b.QuickOutline()
	require.NoError(t, err)
	most := 0.0
	for _, p := range contour(first, 0.5, func() float64 { return 0 }) {
		_, d := second.Nearest(p)
		most = math.Max(most, d)
	}
	return most
}

func values(k profile.Knife) map[string]float64 {
	out := map[string]float64{}
	for _, q := range k.Quantities() {
		out[q.Key] = q.Of(k)
	}
	return out
}
