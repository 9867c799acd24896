package profile

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/integrate/quad"

	"fullerwright/profile/material"
)

// gaussSums integrates several values over stretches between places at once, by gonum's
// Gauss-Legendre rule with the sines of its points, on parts of each stretch.
func gaussSums(places []float64, parts int, values func(at float64) []float64) []float64 {
	const n = 20
	at, weight := make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(at, weight, -math.Pi/2, math.Pi/2)
	var sums []float64
	for i := 1; i < len(places); i++ {
		half := (places[i] - places[i-1]) / float64(parts) / 2
		for j := range parts {
			for k := range at {
				v := values(places[i-1] + half*(float64(2*j+1)+math.Sin(at[k])))
				if sums == nil {
					sums = make([]float64, len(v))
				}
				for m := range v {
					sums[m] += half * weight[k] * math.Cos(at[k]) * v[m]
				}
			}
		}
	}
	return sums
}

// TestSectionsAtFinerSteps holds the properties of sections against integrals of the
// half thickness that a caller sees, at finer steps: 20 points on each of six parts
// between breaks, about ten times as many as Properties looks at.
func TestSectionsAtFinerSteps(t *testing.T) {
	const stations, parts = 37, 6
	for name, b := range built(t) {
		tolerance := 1e-9
		for _, f := range b.Fullers {
			if len(f.Finished.Plan) > 2 {
				tolerance = 5e-7 // each chord of its centreline is a corner
			}
		}
		for i := range stations {
			x := b.Knife.Blade.Length * (float64(i) + 0.37) / stations
			c := b.CrossSectionAt(x)
			var m [5]float64
			for _, face := range Faces() {
				side := map[Face]float64{Right: 1, Left: -1}[face]
				sums := gaussSums(c.breaks(face), parts, func(y float64) []float64 {
					h := b.HalfThickness(face, x, y)
					return []float64{h, h * y, h * y * y, side * h * h / 2, h * h * h / 3}
				})
				for j := range m {
					m[j] += sums[j]
				}
			}
			y, z := m[1]/m[0], m[3]/m[0]
			got := c.Properties()
			assert.InEpsilon(t, m[0], got.Area, tolerance, "%s at %g", name, x)
			assert.InEpsilon(t, y, got.Y, tolerance, "%s at %g", name, x)
			assert.InDelta(t, z, got.Z, tolerance, "%s at %g", name, x)
			assert.InEpsilon(t, m[2]-m[0]*y*y, got.Edge, tolerance, "%s at %g", name, x)
			assert.InEpsilon(t, m[4]-m[0]*z*z, got.Flat, tolerance, "%s at %g", name, x)
		}
	}
}

// TestBodiesAtFinerSteps holds mass, balance and deflection against integrals along the
// blade at finer steps. Where chords stand for a fuller's curve each is a corner, which
// either integration passes over in its own way.
func TestBodiesAtFinerSteps(t *testing.T) {
	const straight, chords = 2e-9, 2e-7
	const parts = 8
	for name, b := range built(t) {
		length := b.Knife.Blade.Length
		pressed := length * 29 / 30
		sums := gaussSums(b.lengthBreaks(0, length), parts, func(x float64) []float64 {
			p := b.CrossSectionAt(x).Properties()
			v := []float64{p.Area, p.Area * x, math.Pow(length-x, 2) / p.Flat, 0}
			if x < pressed {
				v[3] = math.Pow(pressed-x, 2) / p.Edge
			}
			return v
		})
		tolerance := straight
		for _, f := range b.Fullers {
			if f.Size.On == OnBevel || len(f.Finished.Plan) > 2 {
				tolerance = chords
			}
		}
		m := b.Measure(7.85)
		const bends = float64(pointForce) / material.Modulus
		assert.InEpsilon(t, sums[0]*7.85e-3, m.Parts[0].Mass, tolerance, name)
		assert.InEpsilon(t, sums[1]/sums[0], m.Parts[0].X, tolerance, name)
		// The last of the point bends most and weighs least: a hundred times the tolerance.
		assert.InEpsilon(t, bends*sums[2], m.Bends.Sideways, 100*tolerance, name)
		assert.InEpsilon(t, bends*sums[3], m.Bends.Edgewise, 100*tolerance, name)
	}
}

// TestFullersThatRunIntoEachOther: two grooves side by side take their two segments less
// the lens that both take, in closed form; the properties are those of the one surface.
func TestFullersThatRunIntoEachOther(t *testing.T) {
	const width, thickness, radius, depth, apart = 30, 4.0, 6, 0.8, 3.0
	c := grooved(width, thickness, radius, depth, apart/2)
	other := levelGroove(thickness/2, radius, depth, width/2+apart/2)
	for face := range c.grooves {
		c.grooves[face] = append(c.grooves[face], other)
	}
	// A segment of height h has the area R²·acos(1-h/R) - (R-h)·sqrt(2Rh-h²). The lens of
	// both under the face is what lies beyond the ridge: twice the half of a segment cut
	// off by an upright line half of apart from its middle.
	integral := func(y float64) float64 { // of sqrt(R²-y²)
		return (y*math.Sqrt(radius*radius-y*y) + radius*radius*math.Asin(y/radius)) / 2
	}
	half := math.Sqrt(2*radius*depth - depth*depth)
	segment := 2 * (integral(half) - integral(0) - (radius-depth)*half)
	lens := 2 * (integral(half) - integral(apart/2) - (radius-depth)*(half-apart/2))
	p := c.Properties()
	assert.InEpsilon(t, width*thickness-2*(2*segment-lens), p.Area, 1e-9)
	assert.InDelta(t, -width/2, p.Y, 1e-9)
}
