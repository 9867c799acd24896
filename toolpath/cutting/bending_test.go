package cutting

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// endMill is a carbide cutter of 6 mm that stands out 25 mm, fluted as far as asked.
func endMill(fluted float64) Tool {
	return Tool{Diameter: 6, FluteLength: fluted, ShankDiameter: 6, StickOut: 25, Flutes: 2, Material: CoatedCarbide}
}

// TestDeflection: derived; a maker's course (Mitsubishi, read there) for the ratios: twice
// the overhang bends eight times as far, 0.2 and 1.6 mm; twice the diameter a sixteenth,
// 25 and 1.5 µm (cut short from 1.5625).
func TestDeflection(t *testing.T) {
	assert.InDelta(t, 26.0576, inertia(bendingDiameter*6), 5e-5)
	assert.InDelta(t, 63.617, inertia(6), 5e-4)
	assert.InDelta(t, .016656, Deflection(50, 25, 6, false), 5e-7)
	assert.InDelta(t, .006822, Deflection(50, 25, 6/bendingDiameter, false), 5e-7, "were it solid")
	assert.InDelta(t, .047590, Deflection(50, 25, 6, true), 5e-7)
	assert.InDelta(t, .011789, Deflection(20, 12, 3, false), 5e-7)
	assert.InDelta(t, 1.6, .2*Deflection(50, 50, 6, false)/Deflection(50, 25, 6, false), 1e-9)
	assert.InDelta(t, 1.5, 25*Deflection(50, 25, 12, false)/Deflection(50, 25, 6, false), .07)
	assert.InDelta(t, 1.5625, 25*Deflection(50, 25, 12, false)/Deflection(50, 25, 6, false), 1e-9, "derived")
}

// TestSteppedShank: derived; flutes of 12 mm under a plain shank.
func TestSteppedShank(t *testing.T) {
	assert.InDelta(t, .0079100, endMill(12).Deflection(50), 5e-8)
	assert.InDelta(t, .016656, endMill(25).Deflection(50), 5e-7, "fluted as far as the holder")
	assert.InDelta(t, .016656, endMill(40).Deflection(50), 5e-7, "and into it")
	hss := endMill(25)
	hss.Material = HighSpeedSteel
	assert.InDelta(t, .047590, hss.Deflection(50), 5e-7)
	stout := endMill(12)
	stout.ShankDiameter = 10
	assert.Less(t, stout.Deflection(50), endMill(12).Deflection(50))
	// A beam bent by its own curvature: the tip's deflection is ∫ F·x²/(E·I) dx.
	const steps = 100000
	sum, dx := 0.0, 25.0/steps
	for i := range steps {
		x := (float64(i) + .5) * dx
		diameter := 10.0
		if x < 12 {
			diameter = .8 * 6
		}
		sum += 50 * x * x / (600000 * inertia(diameter)) * dx
	}
	assert.InDelta(t, sum, stout.Deflection(50), 1e-8)
}

// TestStress: derived, 32·F·L/(π·d³): 50 N at 25 mm on 4.8 mm is 115.13 N/mm²; with a
// plain shank the flutes' end, 12 mm up, carries 55.26 and the holder's mouth 58.95.
func TestStress(t *testing.T) {
	assert.InDelta(t, 115.13, endMill(25).Stress(50), .005)
	assert.InDelta(t, 58.95, endMill(12).Stress(50), .005)
	stout := endMill(12)
	stout.ShankDiameter = 10
	assert.InDelta(t, 55.26, stout.Stress(50), .005)
}

// TestDeflectionMost: judgement.
func TestDeflectionMost(t *testing.T) {
	assert.Equal(t, []float64{.03, .01, .02, .01, .005}, []float64{DeflectionMost(6, false), DeflectionMost(6, true), DeflectionMost(2, false),
		DeflectionMost(2, true), DeflectionMost(.5, true)})
}

// TestSideShift: the steel pushes on a tooth against its motion. A spindle turning
// clockwise seen from above turns at -Z; the tooth straight ahead of a feed along a
// moves with (-Z)×a, and the push is its opposite, Z×a: the left of the feed.
func TestSideShift(t *testing.T) {
	const bend = .01
	type vector struct{ x, y float64 }
	crossZ := func(turn float64, a vector) vector { return vector{-turn * a.y, turn * a.x} } // (turn·Z)×a
	for _, feed := range []vector{{1, 0}, {-1, 0}, {0, 1}, {.6, -.8}} {
		left := vector{-feed.y, feed.x}
		for clockwise, turn := range map[bool]float64{true: -1, false: 1} {
			moves := crossZ(turn, feed)
			pushLeft := -(moves.x*left.x + moves.y*left.y)
			assert.InDelta(t, bend*pushLeft, SideShift(bend, clockwise), 1e-15)
		}
	}
	// There and back: the two slots lie apart by twice the shift.
	there, back := SideShift(bend, true)*1, SideShift(bend, true)*-1 // left of +X is +Y, left of -X is -Y
	assert.InDelta(t, 2*bend, there-back, 1e-15)
}
