package strength

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// carvill is a published table of concentrations by the ratio of the wide to the narrow
// part and of the radius to the narrow part: Carvill, Mechanical Engineer's Data
// Handbook, p. 21 (read). Zero stands where the table is empty.
var carvill = []struct {
	load   Load
	radius []float64
	rows   map[float64][]float64
}{
	{Bending, []float64{.01, .02, .04, .06, .10, .15, .20, .30}, map[float64][]float64{
		1.05: {2.42, 2.04, 1.74, 1.60, 1.48, 1.40, 1.34, 1.29},
		1.10: {2.80, 2.34, 1.96, 1.78, 1.60, 1.49, 1.40, 1.31},
		1.50: {3.80, 2.98, 2.38, 2.08, 1.78, 1.59, 1.48, 1.36},
		2.00: {0, 3.14, 2.52, 2.20, 1.86, 1.64, 1.51, 1.37},
		3.00: {0, 3.30, 2.68, 2.34, 1.93, 1.67, 1.53, 1.38}}},
	{Tension, []float64{.01, .02, .04, .06, .10, .15, .20, .25, .30}, map[float64][]float64{
		1.10: {2.96, 2.43, 1.98, 1.78, 1.60, 1.50, 1.43, 1.39, 1.36},
		1.20: {3.74, 2.98, 2.38, 2.14, 1.89, 1.72, 1.62, 1.56, 1.53},
		1.50: {4.80, 3.76, 3.00, 2.64, 2.24, 1.99, 1.84, 1.74, 1.67},
		2.00: {0, 0, 3.30, 2.90, 2.44, 2.13, 1.95, 1.84, 1.76}}},
}

// TestConcentrationAgainstCarvill: two books, one curve: within 5 % in bending, 7 % in
// tension, and refused where the step is more
// than 20 radii high or less than a tenth of one.
func TestConcentrationAgainstCarvill(t *testing.T) {
	compared, refused := 0, 0
	for _, table := range carvill {
		within := map[Load]float64{Bending: 0.05, Tension: 0.07}[table.load]
		for ratio, row := range table.rows {
			for i, want := range row {
				got, err := Concentration(table.load, Step{Wide: 10 * ratio, Narrow: 10, Radius: 10 * table.radius[i]})
				switch {
				case want == 0:
				case (ratio-1)/2/table.radius[i] > MostRatio, (ratio-1)/2/table.radius[i] < leastRatio:
					var outside *RangeError
					assert.ErrorAs(t, err, &outside)
					refused++
				default:
					require.NoError(t, err)
					assert.InEpsilon(t, want, got, within, "load %d, D/d %g, r/d %g", table.load, ratio, table.radius[i])
					compared++
				}
			}
		}
	}
	assert.Equal(t, 6, refused, "five too high for their corner, one too low")
	assert.Greater(t, compared, 60)
}

// TestConcentrationValues: the polynomial's own values (derived from its coefficients),
// and two worked examples within what reading a chart allows: Beer and Johnston,
// Mechanics of Materials, example 2.12, and Hibbeler, Mechanics of Materials, example
// 6.26 (both from memory).
func TestConcentrationValues(t *testing.T) {
	for _, row := range []struct {
		load               Load
		wide, narrow, r, k float64
	}{
		{Tension, 15, 10, 1, 2.235}, {Tension, 15, 10, 2, 1.8454}, {Bending, 15, 10, 1, 1.830}, {Bending, 15, 10, 2, 1.5074},
		{Bending, 20, 10, 1, 1.917}, {Bending, 12, 10, 1, 1.681}, {Bending, 32, 16, 3, 1.569}, {Tension, 32, 16, 3, 2.043},
		{Bending, 30, 14, 1, 2.138}, {Tension, 30, 14, 1, 2.919},
	} {
		got, err := Concentration(row.load, Step{row.wide, row.narrow, row.r})
		require.NoError(t, err)
		assert.InDelta(t, row.k, got, 6e-4, "%+v", row)
	}
	k, err := Concentration(Tension, Step{60, 40, 8})
	require.NoError(t, err)
	assert.InEpsilon(t, 36.3e3, 165*40*10/k, 0.02, "the load of Beer and Johnston's bar, N")
	k, err = Concentration(Bending, Step{120, 80, 16})
	require.NoError(t, err)
	assert.InEpsilon(t, 340, k*BendingStress(5e6, 1, Flat{80, 20}), 0.05, "the stress in Hibbeler's bar, N/mm²")
}

// TestConcentrationHoldsTogether: the two sets meet where the ratio is 2, and where the
// step comes to nothing nothing is concentrated.
func TestConcentrationHoldsTogether(t *testing.T) {
	for _, load := range []Load{Tension, Bending} {
		for wide := 11.0; wide < 40; wide++ {
			below, err := Concentration(load, Step{wide, 10, (wide - 10) / 2 / 1.9999})
			require.NoError(t, err)
			above, err := Concentration(load, Step{wide, 10, (wide - 10) / 2 / 2.0001})
			require.NoError(t, err)
			assert.InDelta(t, below, above, 2e-3)
		}
		for _, ratio := range []float64{1, 10} {
			for column, want := range []float64{1, 0, 0} {
				sum := 0.0
				for _, row := range coefficientsFor(load, ratio) {
					sum += row[column]
				}
				assert.InDelta(t, want, sum, 1e-9, "a narrow part that vanishes has no corner")
			}
		}
	}
}

func TestSharpCornerIsRefused(t *testing.T) {
	_, err := Concentration(Bending, Step{30, 14, 0})
	var outside *RangeError
	require.True(t, errors.As(err, &outside))
	assert.Contains(t, err.Error(), "a radius of 0.400 mm or more would do")
	_, err = Concentration(Bending, Step{10, 0, 1})
	assert.ErrorContains(t, err, "bears nothing")
	k, err := Concentration(Bending, Step{14, 14, 0})
	require.NoError(t, err)
	assert.Equal(t, 1.0, k)
}

// TestStandOff: values derived, and a drawing of the same: the slot's rim touches the
// corner's circle where it stands c in from the tang.
func TestStandOff(t *testing.T) {
	assert.InDelta(t, 0.5216, StandOff(0.8, 0.05), 5e-5)
	assert.InDelta(t, 0.2821, StandOff(0.5, 0.05), 5e-5)
	assert.Zero(t, StandOff(0.5, 0.5))
	assert.InDelta(t, 0.8, StandOff(0.8, 0), 1e-12)
	assert.InDelta(t, 0.8, StandOff(0.8, -0.05), 1e-12, "a press fit")
	for c := 0.01; c < 0.8; c += 0.05 {
		off := StandOff(0.8, c)
		assert.InDelta(t, 0.8, math.Hypot(0.8-c, 0.8-off), 1e-12)
	}
}

// TestSlot: a magazine's method for a blade of 0.178 in drills 0.010 in smaller
// (Fitting a guard with simple tools, October 2003, read).
func TestSlot(t *testing.T) {
	const inch = 25.4
	s := SlotFor(14, 0.178*inch, 0)
	assert.InDelta(t, 0.168*inch, s.Drill, 0.1)
	assert.Less(t, s.Drill, s.Mill)
	assert.InDelta(t, 0.178*inch-0.09, s.Mill, 1e-9)
	assert.InDelta(t, 14.1, SlotFor(14, 4, 0.05).Length, 1e-12)
}
