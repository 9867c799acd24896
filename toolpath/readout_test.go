package toolpath

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
	"fullerwright/toolpath/motion"
)

// readoutCases are the fuller jobs of every pattern, on both faces.
func readoutCases(t *testing.T) map[string]*Job {
	t.Helper()
	out := map[string]*Job{}
	shop := builtInShop(t)
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		k, err := profile.Parse(name, data)
		require.NoError(t, err)
		b := mustBuild(t, k)
		for _, face := range profile.Faces() {
			if len(b.Grooves(face)) == 0 {
				continue
			}
			job, _, err := PlanFullers(b, shop, SetupFor(b.Bar, face, AboutY), "")
			require.NoError(t, err)
			out[fmt.Sprintf("%s %s", name, face)] = job
		}
	}
	require.NotEmpty(t, out)
	return out
}

// TestReadout looks at the tables of every pattern.
func TestReadout(t *testing.T) {
	cases := readoutCases(t)
	t.Run("covers every lane and level once", func(t *testing.T) { coversEveryLaneAndLevelOnce(t, cases) })
	t.Run("is the plan", func(t *testing.T) { isThePlan(t, cases) })
	t.Run("raised floors are level", func(t *testing.T) { raisedFloorsAreLevel(t, cases) })
	t.Run("every lane runs out once", func(t *testing.T) { everyLaneRunsOutOnce(t, cases) })
}

// everyLaneRunsOutOnce: whatever pass of the plan has arcs has its steps in the table, in
// one place, and they end where its arcs end.
func everyLaneRunsOutOnce(t *testing.T, cases map[string]*Job) {
	shared := 0
	for name, job := range cases {
		table := job.Readout()
		type lane struct{ fuller, level, lane int }
		listed := map[lane]ReadoutEnd{}
		for _, e := range table.Ends {
			for _, n := range e.Lanes {
				key := lane{e.Fuller, e.Level, n}
				assert.NotContains(t, listed, key, "%s: listed twice", name)
				listed[key] = e
			}
			if len(e.Lanes) > 1 {
				shared++
			}
		}
		for _, p := range job.readoutPasses() {
			if slices.Contains(table.Curved, p.fuller) {
				continue
			}
			at := p.from
			for _, m := range p.moves {
				if m.Kind == motion.Arc {
					e, found := listed[lane{p.fuller, m.Level, m.Lane}]
					require.True(t, found, "%s: level %d, lane %d", name, m.Level, m.Lane)
					high := at
					if m.To.Z > at.Z {
						high = m.To
					}
					last := func(steps []ReadoutStep) (motion.Vec, bool) {
						if len(steps) == 0 {
							return motion.Vec{}, false
						}
						s := steps[len(steps)-1]
						return motion.Vec{X: s.X, Y: high.Y, Z: s.Z}, true
					}
					left, isLeft := last(e.Left)
					right, isRight := last(e.Right)
					assert.True(t, isLeft && near3(left, high) || isRight && near3(right, high), "%s: level %d, lane %d runs out to %v", name, m.Level, m.Lane, high)
				}
				at = m.To
			}
		}
	}
	assert.Positive(t, shared, "lanes alike on both sides of the middle share their steps")
}

func near3(a, b motion.Vec) bool {
	return math.Abs(a.X-b.X)+math.Abs(a.Y-b.Y)+math.Abs(a.Z-b.Z) < 1e-5
}

// TestTableAloneCutsTheGroove: a bar cut by nothing but the rows and steps of the table is
// nowhere below the design, and what is left to blend is no higher than a step.
func TestTableAloneCutsTheGroove(t *testing.T) {
	shop := builtInShop(t)
	k := testKnife()
	b := mustBuild(t, k)
	whole := planned(t, b, shop, profile.Right, AboutY, "ball 6")
	require.Greater(t, whole.Lanes[0].Count, 2)
	table := whole.Readout()
	byHand := *whole
	byHand.Moves = nil
	cut := func(y float64, places ...readoutPlace) {
		at := motion.Vec{X: places[0].x, Y: y, Z: whole.Clearance}
		byHand.Moves = append(byHand.Moves, Move{Kind: motion.Rapid, To: at, Purpose: Position})
		for i, p := range places {
			if i > 0 { // up or down first, then along
				at.Z = math.Max(at.Z, p.z)
				byHand.Moves = append(byHand.Moves, Move{Kind: motion.Line, To: at, Feed: 100, Purpose: Finish})
			}
			at.X, at.Z = p.x, p.z
			byHand.Moves = append(byHand.Moves, Move{Kind: motion.Line, To: at, Feed: 100, Purpose: Finish})
		}
		at.Z = whole.Clearance
		byHand.Moves = append(byHand.Moves, Move{Kind: motion.Rapid, To: at, Purpose: Retract})
	}
	step := 0.0
	for _, r := range table.Rows {
		if r.Purpose != Finish {
			continue
		}
		cut(r.Y, readoutPlace{r.XFrom, r.ZFrom}, readoutPlace{r.XTo, r.ZTo})
		for _, e := range table.Ends {
			if e.Level != 0 || e.Fuller != r.Fuller || !slices.Contains(e.Lanes, r.Lane) {
				continue
			}
			for _, steps := range [][]ReadoutStep{e.Left, e.Right} {
				places := []readoutPlace{{r.XFrom, r.ZFrom}}
				if math.Abs(steps[0].X-r.XTo) < math.Abs(steps[0].X-r.XFrom) {
					places[0] = readoutPlace{r.XTo, r.ZTo}
				}
				for _, s := range steps {
					step = math.Max(step, s.Z-places[len(places)-1].z)
					places = append(places, readoutPlace{s.X, s.Z})
				}
				cut(r.Y, places...)
			}
		}
	}
	judged := prove(b, shop, &byHand).Judged
	assert.LessOrEqual(t, judged.Gouge.Value, shop.Limits.Gouge)
	assert.LessOrEqual(t, judged.Leftover.Value, step+whole.Cusp)
	assert.Greater(t, judged.Leftover.Value, step/4, "steps were left")
}

// coversEveryLaneAndLevelOnce: the table has each finishing lane and each level
// of the plan, no others, and no stretch of a lane twice.
func coversEveryLaneAndLevelOnce(t *testing.T, cases map[string]*Job) {
	for name, job := range cases {
		t.Run(name, func(t *testing.T) {
			table := job.Readout()
			lanes, levels := map[[2]int][]ReadoutRow{}, map[[2]int]bool{}
			for _, r := range table.Rows {
				switch {
				case r.Purpose == Finish:
					lanes[[2]int{r.Fuller, r.Lane}] = append(lanes[[2]int{r.Fuller, r.Lane}], r)
				case r.Purpose == Rough:
					levels[[2]int{r.Fuller, r.Level}] = true
				}
			}
			curved := map[int]bool{}
			for _, n := range table.Curved {
				curved[n] = true
			}
			wantLanes, wantLevels := 0, 0
			for _, l := range job.Lanes {
				for lane := 1; lane <= l.Count && !curved[l.Fuller]; lane++ {
					wantLanes++
					assert.NotEmpty(t, lanes[[2]int{l.Fuller, lane}], "fuller %d, lane %d", l.Fuller, lane)
				}
			}
			for _, l := range job.Levels {
				if !curved[l.Fuller] {
					wantLevels++
					assert.True(t, levels[[2]int{l.Fuller, l.Number}], "fuller %d, level %d", l.Fuller, l.Number)
				}
			}
			assert.Len(t, lanes, wantLanes)
			assert.Len(t, levels, wantLevels)
			for key, rows := range lanes {
				for i := 1; i < len(rows); i++ {
					assert.InDelta(t, rows[i-1].XTo, rows[i].XFrom, 1e-9, "lane %v goes on where it left off", key)
					assert.Positive(t, (rows[i].XTo-rows[i].XFrom)*(rows[0].XTo-rows[0].XFrom), "lane %v runs one way", key)
				}
			}
		})
	}
}

// isThePlan: every row is a straight move of the plan, end for end, and every
// straight cut along X of the plan is a row.
func isThePlan(t *testing.T, cases map[string]*Job) {
	type cut struct{ a, b motion.Vec }
	for name, job := range cases {
		t.Run(name, func(t *testing.T) {
			table := job.Readout()
			if len(table.Curved) > 0 {
				return // its fullers are not in the table
			}
			planned := map[cut]float64{}
			var at motion.Vec
			for _, m := range job.Moves {
				if m.Kind == motion.Line && m.Purpose != Approach && (m.To.X != at.X || m.Purpose == StepOver) {
					planned[cut{at, m.To}] = m.Feed
				}
				at = m.To
			}
			seen := map[cut]bool{}
			for _, r := range table.Rows {
				c := cut{motion.Vec{X: r.XFrom, Y: r.YFrom, Z: r.ZFrom}, motion.Vec{X: r.XTo, Y: r.Y, Z: r.ZTo}}
				feed, there := planned[c]
				assert.True(t, there, "no move is %+v", c)
				assert.Equal(t, feed, r.Feed)
				seen[c] = true
				if r.Purpose == StepOver {
					assert.True(t, slices.ContainsFunc(table.Rows, func(b ReadoutRow) bool {
						return b.Fuller == r.Fuller && b.Level == r.Level && b.Lane == r.Beside && math.Abs(b.Y-r.YFrom) < 1e-6
					}), "it begins in pass %d", r.Beside)
				}
			}
			assert.Len(t, seen, len(planned))
		})
	}
}

// TestShim: a floor that falls by a known part of its length, in closed form: 0.15 mm over
// 60 mm is 0.25 mm over supports 100 mm apart, under the end toward which it falls; with
// it every place of the floor has one Z.
func TestShim(t *testing.T) {
	table := Readout{Rows: []ReadoutRow{{Fuller: 1, Lane: 1, Purpose: Finish, XFrom: 130, XTo: 190, ZFrom: -1, ZTo: -1.15}}}
	s := table.shim(1, Setup{TouchX: 100, Placement: motion.Placement{SignX: 1, SignY: 1}})
	assert.InDelta(t, 0.25, s.Height(100), 1e-12)
	assert.True(t, s.RaiseRight())
	// At the place of touching a floor of this slope lies -1 + 0.0025·30 deep.
	for _, x := range []float64{130, 150, 190} {
		z := -1 - 0.0025*(x-130)
		assert.InDelta(t, -0.925*math.Cos(math.Atan(0.0025)), s.Z(x, z), 1e-12)
	}
	level := Readout{Rows: []ReadoutRow{{Fuller: 1, Lane: 1, Purpose: Finish, XFrom: 10, XTo: 20, ZFrom: -1, ZTo: -1}}}
	assert.Zero(t, level.shim(1, Setup{}).Height(100))
	kinked := Readout{Rows: []ReadoutRow{
		{Fuller: 1, Lane: 1, Purpose: Finish, XFrom: 0, XTo: 50, ZFrom: -1, ZTo: -1},
		{Fuller: 1, Lane: 1, Purpose: Finish, XFrom: 50, XTo: 100, ZFrom: -1, ZTo: -1.1},
	}}
	assert.InDelta(t, 0.05, kinked.shim(1, Setup{}).OffLine, 1e-12, "half way down a fall of 0.1 mm")
}

// raisedFloorsAreLevel: where a floor has one slope, all finishing cuts of a lane have
// one Z on the raised bar, at both of their ends.
func raisedFloorsAreLevel(t *testing.T, cases map[string]*Job) {
	checked := 0
	for name, job := range cases {
		table := job.Readout()
		for _, r := range table.Rows {
			s := table.shimOf(r.Fuller)
			if r.Purpose == RampIn || s.OffLine > 1e-6 {
				continue
			}
			checked++
			assert.InDelta(t, r.Raised, s.Z(r.XTo, r.ZTo), 1e-6, "%s: %+v", name, r)
		}
	}
	assert.Positive(t, checked)
}

// TestReadoutEnds: every step of a run-out ends on the planned arc, the way to it lies
// over the arc, and the last is where the lane ends.
func TestReadoutEnds(t *testing.T) {
	centre := motion.Vec{X: 100, Z: 19}
	// An arc of radius 20 that rises from Z -1, its lowest place, toward +X.
	m := Move{Kind: motion.Arc, To: motion.Vec{X: 100 + math.Sqrt(20*20-19*19), Z: 0}, Centre: centre}
	steps, right := stepsOfArc(motion.Vec{X: 100, Z: -1}, m, Shim{})
	require.Len(t, steps, readoutSteps)
	assert.True(t, right)
	before := 100.0
	for i, s := range steps {
		assert.InDelta(t, -1+float64(i+1)/readoutSteps, s.Z, 1e-12)
		assert.InDelta(t, 20, math.Hypot(s.X-centre.X, s.Z-centre.Z), 1e-9)
		for x := before; x <= s.X; x += (s.X - before) / 8 {
			assert.GreaterOrEqual(t, s.Z+1e-9, centre.Z-math.Sqrt(20*20-(x-100)*(x-100)))
		}
		before = s.X
	}
	assert.InDelta(t, m.To.X, before, 1e-9)
}

// TestTouchWidth: Machinery's Handbook, segments of circles: a radius of 60 and a height
// of 8 give a chord of 59.86.
func TestTouchWidth(t *testing.T) {
	assert.InDelta(t, 59.86, TouchWidth(60, 8), 0.01)
	assert.InDelta(t, 12, TouchWidth(6, 7), 1e-12, "deeper than the ball's middle it is no wider")
}

// TestSecondFaceZ: a bar 0.06 mm thicker than planned is cut 0.03 mm deeper, so that half
// of the difference stays on each side of the web.
func TestSecondFaceZ(t *testing.T) {
	assert.InDelta(t, -1.03, SecondFaceZ(-1, 5.2, 5.26), 1e-12)
	assert.InDelta(t, -0.98, SecondFaceZ(-1, 5.2, 5.16), 1e-12)
}

// TestJawSpan: jaws named by the setup stand there; others under the middle of the cut,
// never beyond the ends of the bar.
func TestJawSpan(t *testing.T) {
	vise := Vise{JawLength: 100}
	cut := func(x float64) []Move {
		return []Move{{Kind: motion.Rapid, To: motion.Vec{X: x - 20, Z: 5}}, {Kind: motion.Line, To: motion.Vec{X: x - 20, Z: -1}}, {Kind: motion.Line, To: motion.Vec{X: x + 20, Z: -1}}}
	}
	s := Setup{Placement: motion.Placement{SignX: -1, SignY: 1, X0: 200}, Length: 300}
	assert.Equal(t, Span{100, 200}, (&Job{Setup: s, Moves: cut(150)}).JawSpan(vise))
	assert.Equal(t, Span{0, 100}, (&Job{Setup: s, Moves: cut(30)}).JawSpan(vise))
	assert.Equal(t, Span{200, 300}, (&Job{Setup: s, Moves: cut(280)}).JawSpan(vise))
	s.Jaws = [2]float64{10, 110}
	assert.Equal(t, Span{90, 190}, (&Job{Setup: s, Moves: cut(30)}).JawSpan(vise))
}
