package profile

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"

	"fullerwright/profile/geom"
	"fullerwright/profile/material"
	"fullerwright/templates"
)

// plainBlade is a bar of the given taper from the guard plane to its end, with straight
// grooves of one size at the given distances from the spine, in both faces.
func plainBlade(t *testing.T, length, width float64, taper stations) Blade {
	t.Helper()
	a, b := geom.Point{}, geom.Point{X: length}
	c, d := geom.Point{X: length, Y: -width}, geom.Point{Y: -width}
	outline, err := geom.NewChain(geom.Line{From: d, To: c}, geom.Line{From: c, To: b}, geom.Line{From: b, To: a}, geom.Line{From: a, To: d})
	require.NoError(t, err)
	blade := Blade{Outline: outline, ground: ground{outline: outline, blade: taper, tang: stations{{0, 1}}}}
	blade.Knife.Blade = BladeSize{Length: length, Width: width, Thickness: taper[0].value}
	return blade
}

// levelGroove is a straight groove along the blade at a constant depth.
func levelGroove(half, radius, depth, fromSpine float64) Groove {
	h := half - depth + radius
	return Groove{Radius: radius, Plan: []geom.Point{{X: -1000, Y: -fromSpine}, {X: 1000, Y: -fromSpine}},
		Axis: []AxisPoint{{0, h}, {2000, h}}, StartArc: AxisArc{0, h, 0, 0}, EndArc: AxisArc{2000, h, 0, 0}}
}

// grooved is a section of a bar with one groove in each face.
func grooved(width, thickness, radius, depth, offset float64) CrossSection {
	g := levelGroove(thickness/2, radius, depth, width/2-offset)
	return CrossSection{X: 0, Bottom: -width, Top: 0, Flat: thickness / 2, alike: true, grooves: [2][]Groove{{g}, {g}}}
}

func TestGaussRule(t *testing.T) {
	r := twelvePoints()
	n := len(r.at)
	at, weight := make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(at, weight, -1, 1)
	for i := range r.at {
		j := 0
		for math.Abs(at[j]-r.at[i]) > 1e-9 {
			j++
		}
		assert.InDelta(t, at[j], r.at[i], 1e-15)
		assert.InDelta(t, weight[j], r.weight[i], 1e-15)
	}
}

// TestGroovedBar holds areas and second moments of a bar with a groove in each face
// against closed forms of the circular segment (machining handbooks give the segment's
// properties; the composed values were derived and integrated numerically elsewhere).
func TestGroovedBar(t *testing.T) {
	p := grooved(30, 4, 6, 0.8, 0).Properties()
	assert.InEpsilon(t, 113.523922, p.Area, 1e-6/113)
	assert.InEpsilon(t, 141.478234, p.Flat, 1e-8)
	assert.InEpsilon(t, 8988.203648, p.Edge, 1e-9)
	assert.InDelta(t, -15, p.Y, 1e-9)
	p = grooved(30, 4, 6, 0.8, 6).Properties()
	assert.InDelta(t, -15-0.342276, p.Y, 1e-6)
	assert.InEpsilon(t, 141.478234, p.Flat, 1e-8)
	assert.InEpsilon(t, 8741.765230, p.Edge, 1e-9)
	solid := CrossSection{Bottom: -30, Flat: 2, alike: true}.Properties()
	assert.InEpsilon(t, 160, solid.Flat, 1e-12)
	assert.InEpsilon(t, 9000, solid.Edge, 1e-12)
}

// TestSegments: what one groove takes out of a thick bar is the circular segment, whose
// area and own second moments are in handbooks (Machinery's Handbook, areas of plane
// figures, from memory; values derived and integrated numerically elsewhere).
func TestSegments(t *testing.T) {
	for _, row := range []struct{ radius, depth, area, own, across float64 }{
		{6, 0.8, 3.238039, 0.142524, 5.898176},
		{12, 2, 18.006222, 4.957119, 161.785706},
		{3, 0.6, 1.471510, 0.036486, 0.978097},
		{1, 0.999999999, math.Pi / 2, 0.109757, 0.392699}, // the semicircle, textbook 0.1098·R⁴
	} {
		const width, thickness = 60, 20.0
		c := grooved(width, thickness, row.radius, row.depth, 0)
		c.alike, c.grooves[Left] = false, nil
		p := c.Properties()
		area := width*thickness - p.Area
		// Taking the segment out moves the centroid by area·z/(whole - area); the
		// rest is the rule of parallel axes.
		z := -p.Z * p.Area / area
		own := width*thickness*thickness*thickness/12 - (p.Flat + p.Area*p.Z*p.Z) - area*z*z
		across := thickness*width*width*width/12 - p.Edge
		assert.InEpsilon(t, row.area, area, 2e-6, "R %g", row.radius)
		assert.InDelta(t, row.own, own, 2e-6*width*thickness, "R %g", row.radius)
		assert.InDelta(t, row.across, across, 2e-5*row.across+1e-6*row.area*width, "R %g", row.radius)
	}
}

// TestBevelledSections holds the area H·t - h·(t-e)/2 of a section with flat bevels.
func TestBevelledSections(t *testing.T) {
	for _, row := range []struct{ height, area float64 }{{20, 100.25}, {30, 78.9375}} {
		b := bevel{present: true, rimHalf: 0.25, height: row.height, kind: FlatBevel}
		c := CrossSection{Bottom: -30, Flat: 4.7625 / 2, alike: true, edge: b.at(10, -30, 4.7625/2)}
		assert.InEpsilon(t, row.area, c.Properties().Area, 1e-12)
	}
}

// TestConvexAndHollow: the arc of a convex bevel adds to the flat one the segment over
// its chord, that of a hollow one takes it away.
func TestConvexAndHollow(t *testing.T) {
	const height, flat, half = 20, 2.4, 0.25
	chord := math.Hypot(height, flat-half)
	segment := func(radius float64) float64 {
		angle := 2 * math.Asin(chord/2/radius)
		return radius * radius / 2 * (angle - math.Sin(angle))
	}
	area := func(kind BevelKind, wheel float64) float64 {
		b := bevel{present: true, rimHalf: half, height: height, kind: kind, wheel: wheel}
		return CrossSection{Bottom: -30, Flat: flat, alike: true, edge: b.at(10, -30, flat)}.Properties().Area
	}
	straight := area(FlatBevel, 0)
	convex := chord * chord / (2 * (flat - half))
	assert.InEpsilon(t, straight+2*segment(convex), area(ConvexBevel, 0), 1e-10)
	assert.InEpsilon(t, straight-2*segment(127), area(HollowBevel, 127), 1e-10)
}

// TestHollowUndercut: a ten-inch wheel on 3/16 stock with an edge of 0.020 in and a
// bevel of one inch leaves 0.0186 in, 0.085 in over the edge (derived, and found by a
// search elsewhere); at the ceiling the edge is the thinnest place.
func TestHollowUndercut(t *testing.T) {
	const inch = 25.4
	section := func(height float64) CrossSection {
		b := bevel{present: true, rimHalf: 0.010 * inch, height: height, kind: HollowBevel, wheel: 5 * inch}
		return CrossSection{Bottom: -40, Flat: 0.1875 / 2 * inch, alike: true, edge: b.at(10, -40, 0.1875/2*inch)}
	}
	thin, at := math.Inf(1), 0.0
	c := section(1 * inch)
	for i := range 4000 {
		y := -40 + float64(i)/4000*inch
		if v := 2 * c.Half(Right, y); v < thin {
			thin, at = v, y+40
		}
	}
	assert.InDelta(t, 0.0186, thin/inch, 5e-5)
	assert.InDelta(t, 0.085, at/inch, 1e-3)
	for _, row := range []struct{ diameter, stock, ceiling float64 }{
		{8, 1.0 / 8, 0.646}, {8, 5.0 / 32, 0.735}, {8, 3.0 / 16, 0.814}, {8, 7.0 / 32, 0.886}, {8, 1.0 / 4, 0.952},
		{10, 1.0 / 8, 0.723}, {10, 5.0 / 32, 0.823}, {10, 3.0 / 16, 0.911}, {10, 7.0 / 32, 0.992}, {10, 1.0 / 4, 1.066},
		{72, 1.0 / 8, 1.944}, {72, 5.0 / 32, 2.214}, {72, 3.0 / 16, 2.454}, {72, 7.0 / 32, 2.673}, {72, 1.0 / 4, 2.875},
	} {
		assert.InDelta(t, row.ceiling, HollowCeiling(row.diameter/2*inch, row.stock*inch, 0.020*inch)/inch, 6e-4, "wheel of %g in, stock of %g in", row.diameter, row.stock)
	}
	ceiling := HollowCeiling(5*inch, 0.1875*inch, 0.020*inch)
	c = section(ceiling)
	for i := range 1000 {
		assert.GreaterOrEqual(t, c.Half(Right, -40+float64(i)/1000*ceiling), 0.010*inch-1e-9)
	}
}

// TestTaperedBar: volume, mass and centre of gravity of a taper prism (derived; the
// volume is length times width times the mean thickness).
func TestTaperedBar(t *testing.T) {
	b := plainBlade(t, 180, 30, stations{{0, 6.35}, {180, 4}})
	body := b.BladeBody()
	assert.InEpsilon(t, 27945, body.Volume, 1e-9)
	assert.InDelta(t, 219.37, body.Volume*7.85e-3, 5e-3)
	assert.InDelta(t, 83.188, body.X, 5e-4)
	assert.InEpsilon(t, 180.0/3*(6.35+2*4)/(6.35+4), body.X, 1e-9)
	assert.InDelta(t, -15, body.Y, 1e-9)
}

// TestBarMasses: published masses of flat bars.
func TestBarMasses(t *testing.T) {
	const inch, pound = 25.4, 453.59237
	mass := func(length, width, thickness, density float64) float64 {
		return plainBlade(t, length, width, stations{{0, thickness}}).BladeBody().Volume * density * 1e-3
	}
	const trade = 0.2833 * pound / (inch * inch * inch) * 1e3 // g/cm³ of the trade's 0.2833 lb/in³ (productionmachining.com, crib sheet 106, read)
	assert.InDelta(t, 1.275, mass(12*inch, 1.5*inch, 0.25*inch, trade)/pound, 5e-4, "1 1/2 x 1/4 flat, pounds a foot; the same page")
	assert.InDelta(t, 33.996, mass(120*inch, 2*inch, 0.5*inch, trade)/pound, 1e-3, "a page on weights of steel bars prints 33.99")
	assert.InDelta(t, 40.795, mass(144*inch, 1*inch, 1*inch, trade)/pound, 1e-3, "another such page prints 40.97, which is wrong")
	assert.InDelta(t, 353.25, mass(300, 30, 5, 7.85), 1e-6, "derived")
	brass, aluminium := material.PartNamed("brass").Density.Value, material.PartNamed("aluminium").Density.Value
	assert.InEpsilon(t, 1.08, brass/trade, 0.01, "brass weighs 1.08 times as much; the same crib sheet")
	assert.InEpsilon(t, 0.346, aluminium/trade, 0.01, "aluminium 0.346 times")
}

// TestFullersTake: what two fullers take from a bar 178 x 30 x 4.7625: 10.17 g of
// 199.64 g over 120 mm, and sideways stiffness down to 0.841 with area down to 0.924
// (derived).
func TestFullersTake(t *testing.T) {
	whole := plainBlade(t, 178, 30, stations{{0, 4.7625}}).BladeBody().Volume * 7.85e-3
	assert.InDelta(t, 199.64, whole, 5e-3)
	c := grooved(30, 4.7625, 8.5, 1, 0).Properties()
	solid := CrossSection{Bottom: -30, Flat: 4.7625 / 2, alike: true}.Properties()
	assert.InDelta(t, 10.17, (solid.Area-c.Area)*120*7.85e-3, 5e-3)
	assert.InDelta(t, 0.841, c.Flat/solid.Flat, 5e-4)
	assert.InDelta(t, 0.924, c.Area/solid.Area, 5e-4)
}

// TestCantilever: a bar of one thickness bends at its end by F·L³/(3·E·I) (Gere,
// Mechanics of Materials, deflections of cantilever beams, from memory); a tapering one
// by the integral of that formula's unit-load form, done by hand.
func TestCantilever(t *testing.T) {
	const length, width, force, e = 180.0, 30.0, 10.0, material.Modulus
	d := plainBlade(t, length, width, stations{{0, 5}}).PointDeflection(force)
	assert.InEpsilon(t, force*length*length*length/(3*e*width*125/12), d.Sideways, 1e-9)
	const pressed = length * 29 / 30
	assert.InEpsilon(t, force*pressed*pressed*pressed/(3*e*5*width*width*width/12), d.Edgewise, 1e-9)

	const t1, t2 = 6.0, 3.0
	k := (t1 - t2) / length
	primitive := func(u float64) float64 { return math.Log(u) + 2*t2/u - t2*t2/(2*u*u) }
	want := 12 * force / (e * width) * (primitive(t1) - primitive(t2)) / (k * k * k)
	d = plainBlade(t, length, width, stations{{0, t1}, {length, t2}}).PointDeflection(force)
	assert.InEpsilon(t, want, d.Sideways, 1e-6)
}

// built returns every starter pattern as a blade.
func built(t *testing.T) map[string]Blade {
	t.Helper()
	out := map[string]Blade{}
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		k, err := Parse(name, data)
		require.NoError(t, err, name)
		out[name], err = Build(k, Measured{})
		require.NoError(t, err, name)
	}
	return out
}

// TestVolumeTwice holds the volume of every pattern, from its sections, against a count
// over the places of a grid.
func TestVolumeTwice(t *testing.T) {
	for name, b := range built(t) {
		const step = 0.2
		box := b.Outline.Bounds()
		counted, moment := 0.0, 0.0
		for x := step / 2; x < box.Max.X; x += step {
			c := b.CrossSectionAt(x)
			n := math.Ceil((c.Top - c.Bottom) / step)
			across := (c.Top - c.Bottom) / n
			for i := range int(n) {
				y := c.Bottom + (float64(i)+0.5)*across
				h := c.Half(Right, y) + c.Half(Left, y)
				counted += h * step * across
				moment += x * h * step * across
			}
		}
		body := b.BladeBody()
		assert.InEpsilon(t, counted, body.Volume, 1e-3, name)
		assert.InEpsilon(t, moment/counted, body.X, 1e-3, name)
	}
}

// TestSectionChains: the chain of a section has the section's area and centroid, and its
// second moments by the polygon through it; and every point of it lies on the surface.
func TestSectionChains(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 11))
	for name, b := range built(t) {
		for range 40 {
			x := -b.Knife.Tang.Length + random.Float64()*(b.Knife.OverallLength()-1)
			c := b.CrossSectionAt(x)
			chain, err := c.Chain()
			require.NoError(t, err, "%s at %g", name, x)
			require.True(t, chain.Closed())
			p := c.Properties()
			assert.InEpsilon(t, chain.Area(), p.Area, 1e-6, "%s at %g", name, x)
			assert.InDelta(t, chain.Centroid().Y, p.Y, 1e-5, "%s at %g", name, x)
			assert.InDelta(t, chain.Centroid().X, p.Z, 1e-5, "%s at %g", name, x)
			flat, edge := polygonMoments(chain.Sample(1e-6), p)
			assert.InEpsilon(t, flat, p.Flat, 1e-5, "%s at %g", name, x)
			assert.InEpsilon(t, edge, p.Edge, 1e-5, "%s at %g", name, x)
		}
	}
}

// polygonMoments returns the second moments of a polygon about a centroid, by the
// formula of its corners.
func polygonMoments(points []geom.Point, about SectionProperties) (flat, edge float64) {
	for i := 1; i < len(points); i++ {
		x0, y0 := points[i-1].X-about.Z, points[i-1].Y-about.Y
		x1, y1 := points[i].X-about.Z, points[i].Y-about.Y
		cross := x0*y1 - x1*y0
		edge += cross * (y0*y0 + y0*y1 + y1*y1) / 12
		flat += cross * (x0*x0 + x0*x1 + x1*x1) / 12
	}
	return flat, edge
}
