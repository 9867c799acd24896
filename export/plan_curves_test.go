package export

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/templates"
)

// curvy returns the default pattern with a choil, a drawn-in edge, a back that rises and a
// drop point.
func curvy(t *testing.T) profile.Blade {
	t.Helper()
	k := pattern(t, "tarn").Knife
	k.Ricasso.Choil, k.Edge.Recurve, k.Spine.Rise, k.Clip.Sag = 4, 2, 3, -2
	b, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	return b
}

// bellyAt returns the height of a belly over the edge at a distance from the guard plane:
// the cubic whose inner control points lie the fullness of the way to where its tangents
// meet, solved for its x by halving.
func bellyAt(k profile.Knife, x float64) float64 {
	start := k.Blade.Length - k.Edge.BellyLength
	rise := k.Blade.Width - k.Clip.Drop
	corner := k.Blade.Length - rise/math.Tan(k.Edge.PointAngle.Radians())
	f := k.Edge.Fullness
	p1, p2 := start+f*(corner-start), k.Blade.Length+f*(corner-k.Blade.Length)
	low, high := 0.0, 1.0
	for range 60 {
		t := (low + high) / 2
		u := 1 - t
		if u*u*u*start+3*u*u*t*p1+3*u*t*t*p2+t*t*t*k.Blade.Length < x {
			low = t
		} else {
			high = t
		}
	}
	t, u := low, 1-low
	return 3*u*t*t*(1-f)*rise + t*t*t*rise
}

// TestCurveOrdinatesByFormula: the ordinates of a belly are those of its cubic, those of a
// drop point on a level back those of the parabola that leaves it smoothly.
func TestCurveOrdinatesByFormula(t *testing.T) {
	for _, name := range templates.Names() {
		b := pattern(t, name)
		k := b.Knife
		for _, c := range curvesOf(b) {
			xs, _ := c.places(Millimetres)
			for _, x := range xs[1 : len(xs)-1] {
				switch {
				case c.name == "belly":
					assert.InDelta(t, bellyAt(k, x), c.height(x)+k.Blade.Width, 1e-6, name)
				case c.name == "clip" && k.Spine.Rise == 0:
					// y = a u² + b u over the chord's frame would turn the axes; along the
					// back it is the Bézier curve with its corner on the back.
					chord := math.Hypot(k.Clip.Length, k.Clip.Drop)
					reach := 2 * -k.Clip.Sag / (k.Clip.Drop / chord)
					u := x - (k.Blade.Length - k.Clip.Length)
					// u = 2 s(1-s) reach + s² length
					a, h := k.Clip.Length-2*reach, reach
					s := u / (h + math.Sqrt(h*h+a*u))
					assert.InDelta(t, -s*s*k.Clip.Drop, c.height(x), 1e-6, name)
				}
			}
		}
	}
}

// TestCurvesCanBeLaidOut: for every pattern at its shortest, its own and its longest size,
// and for one with every kind of curve, each piece of the outline in front of the guard
// plane that is neither straight nor an arc has a table; it begins and ends where the curve
// does, its places between are those of a rule, and the curve is nowhere farther from
// straight lines between them than the table says, nor than a tenth of a millimetre unless
// the step is the least.
func TestCurvesCanBeLaidOut(t *testing.T) {
	blades := []profile.Blade{curvy(t)}
	for _, name := range templates.Names() {
		shortest, longest := extremes(t, patternFile(t, name))
		blades = append(blades, shortest, pattern(t, name), longest)
	}
	for _, b := range blades {
		what := fmt.Sprintf("%s, %.0f mm", b.Knife.Name, b.Knife.Blade.Length)
		curves := curvesOf(b)
		for _, piece := range b.Outline.Pieces() {
			if cubic, ok := piece.(geom.Cubic); ok {
				from, to := math.Min(cubic.P0.X, cubic.P3.X), math.Max(cubic.P0.X, cubic.P3.X)
				covered := false
				for _, c := range curves {
					middle := cubic.At(0.5)
					covered = covered || c.from <= from+1e-9 && c.to >= to-1e-9 && math.Abs(c.height(middle.X)-middle.Y) < 1e-6
				}
				assert.True(t, covered, "%s: a curve from %.1f to %.1f has no table", what, from, to)
			}
		}
		for _, c := range curves {
			for _, style := range []LengthStyle{Millimetres, ShopFraction} {
				xs, off := c.places(style)
				assert.Equal(t, []float64{c.from, c.to}, []float64{xs[0], xs[len(xs)-1]}, what)
				rule := map[LengthStyle]float64{Millimetres: 1, ShopFraction: 25.4 / 32}[style]
				least := math.Inf(1)
				for i, x := range xs[1:] {
					require.Greater(t, x, xs[i], what)
					if i+2 < len(xs) {
						assert.InDelta(t, math.Round(x/rule)*rule, x, 1e-9, what)
						least = math.Min(least, x-xs[i])
					}
				}
				strays := 0.0
				for i := 1; i < len(xs); i++ {
					for j := 1; j < 40; j++ {
						x := xs[i-1] + (xs[i]-xs[i-1])*float64(j)/40
						y := c.height(xs[i-1]) + (c.height(xs[i])-c.height(xs[i-1]))*float64(j)/40
						slope := math.Atan((c.height(xs[i]) - c.height(xs[i-1])) / (xs[i] - xs[i-1]))
						strays = math.Max(strays, math.Abs(c.height(x)-y)*math.Cos(slope))
					}
				}
				assert.LessOrEqual(t, strays, off+0.005, what)
				if off > layoutError {
					assert.LessOrEqual(t, least, rule+1e-9, "%s, %s: %.3f off at steps of %g", what, c.name, off, least)
				}
			}
		}
	}
}

// TestArcsHaveTheirRadius: the radius of each arc of the outline in front of the guard plane
// stands on the plan, its arrow is on the arc and its leader begins toward or away from the
// centre; the radius of a hollow clip follows from its chord c and sag s: c²/8s + s/2.
func TestArcsHaveTheirRadius(t *testing.T) {
	for _, b := range []profile.Blade{pattern(t, "tarn"), pattern(t, "heron"), pattern(t, "kite"), curvy(t)} {
		k := b.Knife
		pages, err := Plan(b, planOptions(t, "A3"))
		require.NoError(t, err)
		said := saidOn(pages[0])
		if k.Clip.Sag > 0 {
			chord := math.Hypot(k.Clip.Length, k.Clip.Drop+k.Spine.Rise)
			assert.True(t, said["clip R "+Millimetres.Thickness(chord*chord/8/k.Clip.Sag+k.Clip.Sag/2)], k.Name)
		}
		if k.Ricasso.Choil > 0 {
			assert.True(t, said["choil R "+Millimetres.Thickness(k.Ricasso.Choil)], k.Name)
		}
		if rise := k.Spine.Rise; rise != 0 { // tangent to the spine line at the plunge line, so R = (a² + rise²)/2 rise
			a := b.ClipStart().X - k.Ricasso.Length
			assert.True(t, said["back R "+Millimetres.Thickness((a*a+rise*rise)/2/math.Abs(rise))], k.Name)
		}
		ruler := rulers.Get().(*sheet.Ruler)
		l := viewLayout{scale: 1}
		p := pencil{&sheet.Sheet{}, *ruler, Millimetres, planLetter}
		arcs := 0
		for _, piece := range b.Outline.Pieces() {
			arc, ok := piece.(geom.Arc)
			if !ok || arc.At(0.5).X < 0 {
				continue
			}
			arcs++
			found := false
			for _, m := range append(l.radiusMarks(p, b, true, nil), l.radiusMarks(p, b, false, nil)...) {
				radial := math.Abs(math.Hypot(m.at.X-arc.Centre.X, m.at.Y-arc.Centre.Y)-arc.Radius) < 1e-9
				aside := (m.at.X-arc.Centre.X)*m.radial.Y - (m.at.Y-arc.Centre.Y)*m.radial.X
				found = found || radial && math.Abs(aside) < 1e-6*arc.Radius
			}
			assert.True(t, found, "%s: an arc of radius %.2f", k.Name, arc.Radius)
		}
		rulers.Put(ruler)
		assert.Positive(t, arcs)
	}
}

// TestRadiusIsNoDistance: the dimension line of running dimensions ends at the last distance,
// and has no arrow for a radius.
func TestRadiusIsNoDistance(t *testing.T) {
	ruler := rulers.Get().(*sheet.Ruler)
	defer rulers.Put(ruler)
	s := sheet.Sheet{Title: "x", Width: 200, Height: 100}
	p := pencil{&s, *ruler, Millimetres, planLetter}
	k := running{origin: geom.Point{X: 20, Y: 40}, line: 60, outward: 1, within: interval{5, 195}}
	p.running(k, []mark{{at: geom.Point{X: 70, Y: 40}, text: "a 50"}, {at: geom.Point{X: 120, Y: 40}, text: "R 30", radial: geom.Point{X: 1, Y: 5}}})
	arrows, longest := 0, 0.0
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			path, ok := item.(sheet.Path)
			if !ok {
				continue
			}
			box := path.Pieces[0].Bounds()
			for _, piece := range path.Pieces {
				if b := piece.Bounds(); b.Min.Y == 60 && b.Max.Y == 60 {
					longest = math.Max(longest, b.Max.X)
				}
			}
			if path.Fill == "#000000" {
				arrows++
				assert.True(t, math.Abs(box.Max.X-70) < 3 && math.Abs(box.Max.Y-60) < 1 || math.Abs(box.Min.X-120) < 1 && math.Abs(box.Min.Y-40) < 3, "%v", box)
			}
		}
	}
	assert.Equal(t, 2, arrows)
	assert.InDelta(t, 70, longest, 1e-9)
}

// TestCurvyPlanIsClear: with every kind of curve, on every paper, in both projections.
func TestCurvyPlanIsClear(t *testing.T) {
	b := curvy(t)
	for i, paper := range Papers() {
		o := planOptions(t, paper.Name)
		o.Lengths, o.FirstAngle = ShopFraction, i%2 == 0
		pages, err := Plan(b, o)
		require.NoError(t, err)
		for n, s := range pages {
			where := fmt.Sprintf("curvy on %s, sheet %d", paper.Name, n+1)
			requireClear(t, s, planLetter, planFrame, where)
			requireOutsideTitleBlock(t, s, where)
		}
	}
}

// TestOrdinatesStandUnderEachOther: in tables of ordinates every number of a column has as
// many decimals, in each way of writing lengths, and says the same length as before.
func TestOrdinatesStandUnderEachOther(t *testing.T) {
	b := pattern(t, "badger")
	for _, style := range []LengthStyle{Millimetres, DecimalInch} {
		curves := curvesOf(b)
		require.NotEmpty(t, curves)
		for _, table := range []block{ordinates(b, style), curves[0].block(b.Knife.Blade.Length, style), weights(b.Measure(7.85), style), ladderBlock(b, style)} {
			for column := range table.widths {
				decimals := map[int]bool{}
				for _, row := range table.rows {
					_, after, _ := strings.Cut(row[column], ".")
					if _, err := strconv.ParseFloat(row[column], 64); err == nil {
						decimals[len(after)] = true
					}
				}
				assert.LessOrEqual(t, len(decimals), 1, "%s, column %d", table.title, column)
			}
		}
	}
	kept := block{widths: []float64{0, 1, 1}, rows: [][]string{{"tang", "5", "7 1/64"}, {"x", "-.25", ""}, {"y", "0.5", "2"}}}
	kept.alignDecimals()
	assert.Equal(t, [][]string{{"tang", "5.00", "7 1/64"}, {"x", "-.25", ""}, {"y", "0.50", "2"}}, kept.rows)
}
