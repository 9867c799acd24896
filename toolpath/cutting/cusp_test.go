package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestLineOffsetTable checks the step for a theoretical roughness that a catalogue
// prints (Dormer Pramet, p. 114, read there) to two decimals.
func TestLineOffsetTable(t *testing.T) {
	roughness := []float64{2, 4, 8, 16, 32, 63, 125, 250}
	for diameter, row := range map[float64][]float64{
		2:  {.13, .18, .25, .36, .50, .70, .97, 1.32},
		3:  {.15, .22, .31, .44, .62, .86, 1.20, 1.66},
		4:  {.18, .25, .36, .50, .71, 1.00, 1.39, 1.94},
		5:  {.20, .28, .40, .56, .80, 1.12, 1.56, 2.18},
		6:  {.22, .31, .44, .62, .87, 1.22, 1.71, 2.40},
		10: {.28, .40, .57, .80, 1.13, 1.58, 2.22, 3.12},
		12: {.31, .44, .62, .88, 1.24, 1.73, 2.44, 3.43},
	} {
		for i, want := range row {
			assert.InDelta(t, want, Stepover(diameter/2, roughness[i]/1000), .0055, "D %g, Rth %g", diameter, roughness[i])
		}
	}
}

// TestFlatCusps: derived, in micrometres; and the example of a public machining page,
// read there, which prints .000402 for a ball of a quarter inch and a step of .020, rounded early.
func TestFlatCusps(t *testing.T) {
	assert.InDelta(t, 10.4348, 1000*FlatCusp(3, .5), 5e-5)
	assert.InEpsilon(t, 10.4167, 1000*FlatCusp(3, .5), .002, "the approximation s²/(8r)")
	assert.InDelta(t, .0004006, FlatCusp(.125, .020), 5e-8)
	assert.InDelta(t, .000402, FlatCusp(.125, .020), 2e-6)
	// The same page takes the diameter for the radius in its table: .0137 for a ridge of
	// .0005 under a ball of three quarters of an inch, where .0387 is right.
	assert.InDelta(t, .0387, Stepover(.375, .0005), 5e-5)
	assert.Equal(t, 3.0, FlatCusp(3, 7), "no ridge is higher than the ball")
	assert.Equal(t, 6.0, Stepover(3, 3))
}

// TestConcaveCusps: derived, in micrometres, checked by brute force. The approximation
// (s²/8)·(1/r - 1/R) is the standard path interval for concave surfaces (Lin and Koren
// 1996; Vickers and Quan 1989; from memory).
func TestConcaveCusps(t *testing.T) {
	for _, row := range []struct{ groove, cutter, arc, exact, approximate, flat float64 }{
		{8, 3, .5, 6.5117, 6.5104, 10.435}, {8, 3, 1, 26.0616, 26.0417, 41.960}, {6, 3, .5, 5.2076, 5.2083, 10.435},
	} {
		assert.InDelta(t, row.exact, 1000*ConcaveCusp(row.groove, row.cutter, row.arc/row.groove), 5e-5)
		assert.InDelta(t, row.approximate, 1000*row.arc*row.arc/8*(1/row.cutter-1/row.groove), 5e-5)
		assert.InEpsilon(t, row.approximate, 1000*ConcaveCusp(row.groove, row.cutter, row.arc/row.groove), .001)
		assert.InDelta(t, row.flat, 1000*FlatCusp(row.cutter, row.arc), 5e-4)
	}
	assert.InDelta(t, 0, ConcaveCusp(6, 6, 1), 1e-12)
	assert.InDelta(t, FlatCusp(3, .5), ConcaveCusp(1e7, 3, .5/1e7), 1e-6, "a groove as wide as a flat")
}

// TestLaneCount: derived, for R 8, r 3, depth 1.
func TestLaneCount(t *testing.T) {
	half := HalfAngle(8, 1)
	assert.InDelta(t, 57.910, 2*half/degree, 5e-4)
	assert.InDelta(t, 3.13799, ConcavePitch(8, 3, .005)/degree, 5e-6)
	for cusp, row := range map[float64]struct {
		count    int
		realised float64
	}{.005: {20, 4.717}, .010: {15, 8.689}} {
		n := LaneCount(8, 3, half, cusp)
		assert.Equal(t, row.count, n)
		assert.InDelta(t, row.realised, 1000*ConcaveCusp(8, 3, 2*half/float64(n-1)), 5e-4)
	}
	// The formula for a flat, over the same arc, would ask for 25 passes.
	assert.Equal(t, 25, 1+int(math.Ceil(8*2*half/Stepover(3, .005))))
	assert.Equal(t, 1, LaneCount(6, 6, half, .005))
}

// TestPitchIsTheInverseOfCusp over many grooves.
func TestPitchIsTheInverseOfCusp(t *testing.T) {
	for _, groove := range []float64{3, 6, 8.5, 20} {
		for _, share := range []float64{.2, .5, .9} {
			for _, cusp := range []float64{.001, .005, .02} {
				pitch := ConcavePitch(groove, share*groove, cusp)
				if pitch < math.Pi {
					assert.InDelta(t, cusp, ConcaveCusp(groove, share*groove, pitch), 1e-9)
				}
			}
		}
	}
}
