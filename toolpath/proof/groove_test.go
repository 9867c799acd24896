package proof

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath/motion"
)

// surface is a height given by a function.
type surface func(x, y float64) float64

func (s surface) Height(x, y float64) float64 { return s(x, y) }

// TestSlopedFloor: the surface that a ball leaves along a slope m is the canal round its
// axis: h = axis - sqrt(1+m²)·sqrt(r²-y²), all along.
func TestSlopedFloor(t *testing.T) {
	const r, m = 6.0, 0.02
	bar := NewMap(GridOver(Box{10, -8, 90, 8}, 0.1), level(3))
	bar.Cut(here, Cutter{Radius: r}, []motion.Motion{fed(vec(0, 0.03, 1.8), vec(100, 0.03, 1.8+100*m))})
	stretch := math.Hypot(1, m)
	design := surface(func(x, y float64) float64 {
		if square := r*r - (y-0.03)*(y-0.03); square > 0 {
			return math.Min(3, 1.8+m*x+r-stretch*math.Sqrt(square))
		}
		return 3
	})
	for i, d := range bar.deviations(Exactly(design)) {
		require.False(t, math.Abs(d) > 1e-9, "node %d: %g", i, d)
	}
	s, ok := bar.SectionAt(20, 0)
	require.True(t, ok)
	depth := 3 - (1.8 + m*20 + r - stretch*r)
	up := (3 - 1.8 - m*20 - r) / stretch
	assert.InDelta(t, depth, s.Depth, 1e-5)
	assert.InDelta(t, 2*math.Sqrt(r*r-up*up), s.Width, 0.002)
}

// TestRunOut: a run-out of floor radius ρ is a piece of a torus. Along the middle its
// depth is D - (ρ - sqrt(ρ²-s²)), and it fades at sqrt(2ρD - D²). In the plane YZ it is
// the same.
func TestRunOut(t *testing.T) {
	const r, rho, depth, top = 5.0, 40.0, 1.0, 2.5
	length := math.Sqrt(2*rho*depth - depth*depth)
	turn := math.Asin(length / rho)
	// The tip follows the floor's circle less the ball: its own has the radius ρ - r about
	// a centre that lies r lower.
	centre := top - depth + rho - r
	out := func(a float64) motion.Vec {
		return vec((rho-r)*math.Sin(a), 0, centre-(rho-r)*math.Cos(a))
	}
	v := motion.Motion{Kind: motion.Arc, TextLine: 2, Plane: motion.PlaneZX, From: out(0), To: out(turn), Centre: vec(0, 0, centre), Sweep: -turn, Feed: 1, Spindle: 1}
	require.InDelta(t, 0, v.At(1).Sub(v.To).Norm(), 1e-9)
	design := func(s, beside float64) float64 {
		if math.Abs(beside) > r {
			return top
		}
		if around := rho - r + math.Sqrt(r*r-beside*beside); s < around {
			return math.Min(top, centre+r-math.Sqrt(around*around-s*s))
		}
		return top
	}
	grid := GridOver(Box{0.05, -5, 12, 5}, 0.1)
	along := NewMap(grid, level(top))
	along.Cut(here, Cutter{Radius: r}, []motion.Motion{v})
	for i, d := range along.deviations(Exactly(surface(design))) {
		require.False(t, math.Abs(d) > 1e-9, "node %d: %g", i, d)
	}
	for x := 0.1; x < 12; x += 0.3 {
		want := top
		if x < length {
			want = top - depth + rho - math.Sqrt(rho*rho-x*x)
		}
		require.InDelta(t, want, along.HeightAt(x, 0), 1e-9)
	}
	turned := v
	turned.Plane, turned.Sweep = motion.PlaneYZ, turn
	turned.From, turned.To = vec(0, v.From.X, v.From.Z), vec(0, v.To.X, v.To.Z)
	across := NewMap(GridOver(Box{-5, 0.05, 5, 12}, 0.1), level(top))
	across.Cut(here, Cutter{Radius: r}, []motion.Motion{turned})
	for i, d := range across.deviations(Exactly(surface(func(x, y float64) float64 { return design(y, x) }))) {
		require.False(t, math.Abs(d) > 1e-9, "node %d: %g", i, d)
	}
}

// TestCusps: lanes at equal angle round a groove's axis leave ridges of the exact height
// h = R - [Rc·cos(Δ/2) + sqrt(r² - Rc²·sin²(Δ/2))], Rc = R - r, wherever they fall between
// the nodes. The heights are T1.10 (D: derived, checked by brute force); the arc pitch
// on the surface is R·Δ.
func TestCusps(t *testing.T) {
	for _, row := range []struct{ groove, ball, pitch, want float64 }{{8, 3, 0.5, 6.5117e-3}, {8, 3, 1, 26.0616e-3}, {6, 3, 0.5, 5.2076e-3}} {
		around := row.groove - row.ball
		step := row.pitch / row.groove
		half := step / 2
		exact := row.groove - (around*math.Cos(half) + math.Sqrt(row.ball*row.ball-around*around*math.Sin(half)*math.Sin(half)))
		require.InDelta(t, row.want, exact, 5e-8, "the formula and the table agree")
		const depth, top = 1.0, 2.0
		axis := top - depth + row.groove
		lip := math.Acos(1 - depth/row.groove)
		var motions []motion.Motion
		for angle := -math.Ceil(lip/step) * step; angle <= lip+step; angle += step {
			y, z := around*math.Sin(angle), axis-around*math.Cos(angle)-row.ball
			motions = append(motions, fed(vec(0, y, z), vec(40, y, z)))
		}
		design := groove{row.groove, depth, top}
		for _, grid := range []float64{0.1, 0.07, 0.03} {
			m := NewMap(GridOver(Box{18, -5, 22, 5}, grid), level(top))
			blocks := m.Cut(here, Cutter{Radius: row.ball}, motions)
			j := Judge(m, Exactly(design), blocks, Tolerance{Gouge: 0.005, Leftover: 0.05}, Limits{}, Cutter{Radius: row.ball}, 0)
			// The flanks are followed straight: the place is missed by a part of a step.
			assert.InDelta(t, exact, j.Leftover.Value, 2e-4*grid/0.1+1e-6, "R %g r %g pitch %g step %g", row.groove, row.ball, row.pitch, grid)
			assert.LessOrEqual(t, j.Leftover.Value, 1.0001*exact, "never more than there is")
			assert.Less(t, j.Gouge.Value, 1e-9)
		}
	}
}

// TestSlots: a flat end leaves its own width, cut square; a corner radius is left at the
// foot of the wall.
func TestSlots(t *testing.T) {
	for _, c := range []Cutter{{Square: true, Radius: 2}, {Square: true, Radius: 2, CornerRadius: 0.5}} {
		for _, way := range []motion.Vec{vec(20, 0, 0), vec(0, 20, 0), vec(12, 9, 0)} {
			m := NewMap(GridOver(Box{-6, -6, 26, 26}, 0.1), level(1))
			m.Cut(here, c, []motion.Motion{fed(vec(0, 0, -0.5), way.Add(vec(0, 0, -0.5)))})
			unit := way.Scale(1 / way.Norm())
			for row := range m.Grid.Rows {
				for column := range m.Grid.Columns {
					x, y := m.Grid.X(column), m.Grid.Y(row)
					along, beside := x*unit.X+y*unit.Y, math.Abs(x*unit.Y-y*unit.X)
					if along < 1e-6 || along > way.Norm()-1e-6 || math.Abs(beside-2) < 1e-6 {
						continue
					}
					want := 1.0
					if beside < 2 {
						corner := c.CornerRadius
						in := math.Max(0, beside-2+corner)
						want = -0.5 + corner - math.Sqrt(corner*corner-in*in)
					}
					require.InDelta(t, want, m.At(column, row), 1e-9)
				}
			}
		}
	}
}

// TestLipsBetweenNodes: a groove's lips are found far nearer than the step, wherever it
// lies on the grid.
func TestLipsBetweenNodes(t *testing.T) {
	const r, depth = 6.0, 0.9
	for i := range 20 {
		y := float64(i) * 0.0051
		m := NewMap(GridOver(Box{0, -5, 10, 5}, 0.1), level(2))
		m.Cut(here, Cutter{Radius: r}, []motion.Motion{fed(vec(-9, y, 2-depth), vec(20, y, 2-depth))})
		s, ok := m.SectionAt(5, 0)
		require.True(t, ok)
		assert.InDelta(t, 2*math.Sqrt(2*r*depth-depth*depth), s.Width, 0.0005)
		assert.InDelta(t, y, s.Centre, 0.0005)
	}
}

// TestLands: the flat between two grooves, and from a groove to the side of the bar.
func TestLands(t *testing.T) {
	const r, depth = 3.0, 0.5
	half := math.Sqrt(2*r*depth - depth*depth)
	bar := surface(func(_, y float64) float64 {
		if y > 9.95 {
			return math.Inf(-1)
		}
		return 2
	})
	for _, row := range []struct {
		name   string
		second float64
		want   float64
	}{{"between", 4.5, 4.5 - 2*half}, {"to the side", 7.6, 9.9 - 7.6 - half}} {
		m := NewMap(GridOver(Box{0, -10, 10, 12}, 0.1), bar)
		m.Cut(here, Cutter{Radius: r}, []motion.Motion{fed(vec(-9, 0, 1.5), vec(20, 0, 1.5)), fed(vec(20, row.second, 1.5), vec(-9, row.second, 1.5))})
		land := m.LeastLand()
		assert.InDelta(t, row.want, land.Value, 0.001, row.name)
		j := Judge(m, Exactly(bar), nil, Tolerance{Gouge: 9, Leftover: 9, Land: row.want + 0.01}, Limits{}, Cutter{Radius: r}, 0)
		kinds := fmt.Sprint(j.Findings)
		assert.Contains(t, kinds, "land")
	}
	whole := NewMap(GridOver(Box{0, -10, 10, 12}, 0.1), bar)
	assert.True(t, math.IsInf(whole.LeastLand().Value, 1), "without a groove there is no land to speak of")
}

// TestOutsideTheBar: where there is no bar nothing is cut, compared or counted as web.
func TestOutsideTheBar(t *testing.T) {
	bar := surface(func(x, _ float64) float64 {
		if x > 10 {
			return math.Inf(-1)
		}
		return 2
	})
	grid := GridOver(Box{0, -5, 20, 5}, 0.1)
	m, other := NewMap(grid, bar), NewMap(grid, bar)
	blocks := m.Cut(here, Cutter{Radius: 3}, []motion.Motion{fed(vec(0, 0, 1), vec(20, 0, 1))})
	j := Judge(m, Exactly(groove{3, 1, 2}), blocks, Tolerance{Gouge: 0.005, Leftover: 0.01}, Limits{}, Cutter{Radius: 3}, 0)
	assert.Less(t, j.Gouge.Value, 1e-9)
	assert.Less(t, j.Leftover.Value, 1e-9)
	assert.False(t, math.IsInf(j.Removed, 0) || math.IsNaN(j.Removed))
	assert.InDelta(t, 3, Web(m, other).Value, 1e-9)
	assert.InDelta(t, 1, Mismatch(m, other).Value, 1e-9)
}

// TestFacesTogether: web, difference from the difference of the designs, and how far the
// grooves lie beside each other.
func TestFacesTogether(t *testing.T) {
	grid := GridOver(Box{5, -5, 15, 5}, 0.1)
	right, left := NewMap(grid, level(2)), NewMap(grid, level(2))
	right.Cut(here, Cutter{Radius: 3}, []motion.Motion{fed(vec(0, 0, 1), vec(20, 0, 1))})
	left.Cut(here, Cutter{Radius: 3}, []motion.Motion{fed(vec(0, 0.03, 1.4), vec(20, 0.03, 1.4))})
	designs := Faces{groove{3, 1, 2}, groove{3, 0.6, 2}}
	j := JudgeFaces(right, left, designs, Tolerance{Web: 2.5}, Place{10, 0})
	assert.InDelta(t, 2.4, j.Web.Value, 0.001)
	assert.InDelta(t, -0.03, j.Sideways.Value, 0.0005)
	// The left groove is off by 0.03 sideways, which on its steepest wall, at the lip, is
	// 0.03·tan: tan = half width over what the ball stands above the face.
	half := math.Sqrt(2*3*0.6 - 0.36)
	assert.InDelta(t, 0.03*half/2.4, j.Mismatch.Value, 0.002)
	require.Len(t, j.Findings, 1)
	assert.Equal(t, "web", j.Findings[0].Kind)
	assert.Empty(t, JudgeFaces(right, left, designs, Tolerance{Web: 2.39}).Findings)
	// Where the left groove is meant to lie there, nothing is off.
	designs.Left = surface(func(x, y float64) float64 { return groove{3, 0.6, 2}.Height(x, y-0.03) })
	j = JudgeFaces(right, left, designs, Tolerance{}, Place{10, 0})
	assert.InDelta(t, 0, j.Sideways.Value, 1e-9)
	assert.InDelta(t, 0, j.Mismatch.Value, 1e-9)
}

// TestPictures: fields and sections hold what the map and the design do.
func TestPictures(t *testing.T) {
	m := NewMap(GridOver(Box{-5, -5, 15, 5}, 0.5), level(2))
	m.Cut(here, Cutter{Radius: 3}, []motion.Motion{fed(vec(0, 0, 0.9), vec(20, 0, 0.9))})
	design := groove{3, 1, 2}
	f := m.Field(Exactly(design))
	require.Len(t, f.Values, m.Grid.Columns*m.Grid.Rows)
	middle := m.Grid.Rows / 2 * m.Grid.Columns
	assert.InDelta(t, -0.1, f.Values[middle+20], 1e-6, "0.1 too deep")
	assert.True(t, math.IsNaN(float64(f.Values[0])), "a corner that nobody touches")
	along := m.Along(design, 0.1)
	assert.InDelta(t, 5, along.At[20], 1e-9)
	assert.Equal(t, []float64{1, 0.9, 2}, []float64{along.Design[20], along.Cut[20], along.Stock[20]})
	across := m.Across(design, 5)
	assert.Len(t, across.At, m.Grid.Rows)
	assert.Equal(t, along.Cut[20], across.Cut[m.Grid.Rows/2])
}
