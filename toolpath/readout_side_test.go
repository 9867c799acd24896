package toolpath

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/motion"
)

// byHand is a job whose moves are those of its table alone, in the order in which a maker
// works: stage by stage, all passes of a level before the next.
func byHand(j *Job) *Job {
	out, table := *j, j.SideReadout()
	out.Moves = nil
	run := func(p SidePass, z float64) {
		at := motion.Vec{X: p.Places[0].X, Y: p.Places[0].Y, Z: j.Clearance}
		out.Moves = append(out.Moves, Move{Kind: motion.Rapid, To: at, Purpose: Position})
		at.Z = z
		out.Moves = append(out.Moves, Move{Kind: motion.Line, To: at, Feed: j.Feeds.Air, Purpose: Approach})
		for _, place := range p.Places[1:] {
			at.X, at.Y = place.X, place.Y
			out.Moves = append(out.Moves, Move{Kind: motion.Line, To: at, Feed: p.Feed, Purpose: p.Purpose})
		}
		at.Z = j.Clearance
		out.Moves = append(out.Moves, Move{Kind: motion.Rapid, To: at, Purpose: Retract})
	}
	for stage, s := range j.Stages {
		for level := s.From; level <= s.To+1; level++ {
			for _, p := range table.Passes {
				for _, l := range p.Levels {
					if p.Stage == stage && (l.Number == level || l.Number == 0 && level > s.To) {
						run(p, l.Z)
					}
				}
			}
		}
	}
	return &out
}

// TestShoulderTableAloneCutsTheShoulder: a bar cut by nothing but the stops of the table,
// one wheel at a time, is nowhere beyond the design; where the tang tapers or the corner is
// larger than the cutter there stands as much as the table says, and nothing elsewhere.
func TestShoulderTableAloneCutsTheShoulder(t *testing.T) {
	for name, row := range map[string]struct {
		change func(k *profile.Knife)
		ridges bool
	}{
		"tapered tang":  {func(*profile.Knife) {}, true},
		"much tapered":  {func(k *profile.Knife) { k.Tang.Width, k.Tang.EndWidth = 20, 4 }, true},
		"parallel tang": {func(k *profile.Knife) { k.Tang.EndWidth = k.Tang.Width }, false},
		"large corner":  {func(k *profile.Knife) { k.Tang.EndWidth, k.Tang.CornerRadius = k.Tang.Width, 4 }, true},
		"face step":     {func(k *profile.Knife) { k.Shoulder.FaceStep, k.Tang.EndWidth = 0.4, k.Tang.Width }, false},
	} {
		flips := []Flip{AboutX}
		if name == "face step" { // the right face lies alike for both
			flips = append(flips, AboutY)
		}
		for _, flip := range flips {
			t.Run(fmt.Sprint(name, " ", flip), func(t *testing.T) {
				k := testKnife()
				row.change(&k)
				b := mustBuild(t, k)
				cutter := endMill("square 6", 6, 0)
				shop := squareShop(t, cutter)
				state := NewBarState(b, shop, 3)
				for _, step := range shoulderSteps(b) {
					job, _, err := PlanShoulder(b, shop, SetupFor(b.Bar, step.Face, flip), cutter.Name)
					require.NoError(t, err)
					left := 0.0
					for _, p := range job.SideReadout().Passes {
						if p.Purpose == Finish {
							left = math.Max(left, p.Left)
						}
						keepsOff(t, b, job, p)
						for i := 1; i < len(p.Places); i++ {
							dx, dy := math.Abs(p.Places[i].X-p.Places[i-1].X), math.Abs(p.Places[i].Y-p.Places[i-1].Y)
							assert.Less(t, math.Min(dx, dy), 1e-9, "one wheel at a time: %+v", p)
						}
					}
					assert.Equal(t, row.ridges, left > 0)
					assert.LessOrEqual(t, left, handRidge)
					judged := state.Prove(job.Step, job.Setup, job.Cutter, 0, asMotions(byHand(job))).Judged
					assert.Less(t, judged.Gouge.Value, 1e-5, "%s face at %+v", step.Face, judged.Gouge)
					if !row.ridges {
						assert.Less(t, judged.Leftover.Value, 1e-5, "%s face at %+v", step.Face, judged.Leftover)
						continue
					}
					stands := leftAtWalls(t, b, job)
					assert.LessOrEqual(t, stands, left+1e-6, "%s face", step.Face)
					assert.GreaterOrEqual(t, stands, left/2, "%s face", step.Face)
				}
			})
		}
	}
}

// keepsOff: a roughing pass stands as far from the line of the tang's side as its lane in
// the program, or farther.
func keepsOff(t *testing.T, b profile.Blade, job *Job, p SidePass) {
	cut, err := b.ShoulderCut(job.Corner)
	require.NoError(t, err)
	if p.Purpose != Rough || job.Stages[p.Stage].Name == "face step" {
		return
	}
	step := besideShare * 2 * job.Cutter.Radius()
	want := job.Cutter.Radius() + 0.1 + float64(nearest(job.SideReadout(), p.Stage)-p.Lane)*step
	for _, side := range cut.Sides {
		if sideName(side) != job.Stages[p.Stage].Name {
			continue
		}
		d := side.Edge.Tangent(0)
		for _, place := range p.Places {
			at := job.Setup.Placement.Face(motion.Vec{X: place.X, Y: place.Y})
			assert.GreaterOrEqual(t, side.Up*(d.X*(at.Y-side.Edge.From.Y)-d.Y*(at.X-side.Edge.From.X)), want-1e-6, "%+v", p)
		}
	}
}

// leftAtWalls returns how much the finishing passes of a table leave beside the walls of
// the knife, square to them: a place is cut where a way passes within the cutter's radius.
func leftAtWalls(t *testing.T, b profile.Blade, job *Job) float64 {
	cut, err := b.ShoulderCut(job.Corner)
	require.NoError(t, err)
	most := 0.0
	for i, side := range cut.Sides {
		for _, piece := range []geom.Piece{side.Edge, side.Corner} {
			for n := range 150 {
				at := (float64(n) + 0.5) / 150
				d := piece.Tangent(at)
				off := func(away float64) bool {
					p := piece.At(at)
					place := job.Setup.Placement.Work(motion.Vec{X: p.X - side.Up*d.Y*away, Y: p.Y + side.Up*d.X*away})
					return within(job, job.Stages[i].Name, place) <= job.Cutter.Radius()
				}
				for ; !off(most + 1e-9); most += 1e-4 {
					require.Less(t, most, 1.0)
				}
			}
		}
	}
	return most
}

// within returns how near the finishing passes of a stage come to a place.
func within(job *Job, stage string, at motion.Vec) float64 {
	near := math.Inf(1)
	for _, p := range job.SideReadout().Passes {
		if p.Purpose != Finish || job.Stages[p.Stage].Name != stage {
			continue
		}
		for i := 1; i < len(p.Places); i++ {
			a, b := p.Places[i-1], p.Places[i]
			x := math.Max(math.Min(a.X, b.X), math.Min(math.Max(a.X, b.X), at.X))
			y := math.Max(math.Min(a.Y, b.Y), math.Min(math.Max(a.Y, b.Y), at.Y))
			near = math.Min(near, math.Hypot(at.X-x, at.Y-y))
		}
	}
	return near
}

// TestShoulderTableInClosedForm: the stops of the table are the walls of the knife less the
// cutter's radius, on either face and for either turn of the bar.
func TestShoulderTableInClosedForm(t *testing.T) {
	k := testKnife()
	k.Shoulder.FaceStep, k.Shoulder.FileStock, k.Tang.EndWidth, k.Tang.CornerRadius = 0.4, 0.05, k.Tang.Width, 3
	b := mustBuild(t, k)
	cutter := endMill("square 6", 6, 0)
	shop := squareShop(t, cutter)
	for _, c := range []struct {
		face profile.Face
		flip Flip
		x    float64 // of the shoulder: 90 + 5 of tang and waste behind it, less the file's 0.05; 165 before it
		way  float64 // from the shoulder to the cutter's axis
	}{
		{profile.Right, AboutX, 94.95, -1},
		{profile.Left, AboutX, 94.95, -1},
		{profile.Left, AboutY, 165.05, 1},
	} {
		job, _, err := PlanShoulder(b, shop, SetupFor(b.Bar, c.face, c.flip), cutter.Name)
		require.NoError(t, err)
		table := job.SideReadout()
		sides := 0
		for _, p := range table.Passes {
			off := 3.0
			if p.Purpose == Rough {
				off = 3.1 // the finishing stock
			}
			switch {
			case job.Stages[p.Stage].Name == "face step":
				require.Len(t, p.Places, 2)
				if p.Purpose == Finish {
					assert.InDelta(t, c.x+c.way*3, p.Places[0].X, 1e-9)
					assert.InDelta(t, -0.4, p.Levels[0].Z, 1e-9)
				}
				// Up-cut: with the shoulder on the left of the way.
				assert.Positive(t, (p.Places[1].Y-p.Places[0].Y)*c.way, "%s %s", c.face, c.flip)
			case p.Purpose == Finish || p.Lane == nearest(table, p.Stage):
				sides++
				first, last := p.Places[0], p.Places[len(p.Places)-1]
				assert.InDelta(t, c.x+c.way*off, math.Max(first.X, last.X), 1e-9) // the right face's alone
				// The tang is 16 wide in the middle of a bar of 38: its sides stand at 11 and 27.
				edge := -11 + off
				if job.Stages[p.Stage].Name == "edge side" {
					edge = -27 - off
				}
				assert.InDelta(t, edge, p.Places[1].Y, 1e-9)
				assert.InDelta(t, p.Places[0].X, p.Places[1].X, 1e-9)
			}
		}
		assert.Equal(t, c.face == profile.Right, sides > 0)
		require.NotEmpty(t, table.Touches)
		for _, touch := range table.Touches {
			if touch.What == TouchedShoulder {
				assert.InDelta(t, c.x, touch.Finished, 1e-9)
				assert.InDelta(t, c.x+c.way*0.1, touch.Rough, 1e-9)
				continue
			}
			want := map[string]float64{"spine side": -11, "edge side": -27}[job.Stages[touch.Stage].Name]
			assert.InDelta(t, want, touch.Finished, 1e-9)
			assert.InDelta(t, 0.1, math.Abs(touch.Rough-touch.Finished), 1e-9)
		}
	}
}

// nearest returns the last lane of a stage's roughing.
func nearest(r SideReadout, stage int) int {
	lane := 0
	for _, p := range r.Passes {
		if p.Stage == stage && p.Purpose == Rough {
			lane = max(lane, p.Lane)
		}
	}
	return lane
}

// TestSlotTable: the stops stand a radius inside the slot's walls, the finishing stock more
// while it is roughed; cut by the table alone, the slot is as designed.
func TestSlotTable(t *testing.T) {
	b := mustBuild(t, guarded())
	c := endMill("square 4", 4, 0)
	c.FluteLength = 8
	for _, drilled := range []bool{false, true} {
		shop := squareShop(t, c)
		if drilled {
			shop.Cutters = append(shop.Cutters, Cutter{Name: "drill 5.2", End: DrillEnd, Diameter: 5.2, Flutes: 2, FluteLength: 40, ShankDiameter: 5.2, StickOut: 45, Material: "hss", PointAngle: 2})
		} else {
			shop = withoutDrills(shop)
		}
		state := NewBarState(b, shop, 3)
		for _, step := range slotSteps(b, shop) {
			name := ""
			if step.Bore == 0 {
				name = c.Name
			}
			job, _, err := Plan(b, shop, step, Setup{}, name)
			require.NoError(t, err)
			if step.Bore > 0 {
				rows := job.HoleReadout()
				require.Len(t, rows, 1)
				assert.InDelta(t, 30, rows[0].X, 1e-9)
				assert.InDelta(t, -9, rows[0].Y, 1e-9)
				assert.True(t, rows[0].Through)
				state.Prove(step, job.Setup, job.Cutter, 0, asMotions(job))
				continue
			}
			slot, _ := b.GuardSlot(2)
			table := job.SideReadout()
			levels := map[int]bool{}
			for _, p := range table.Passes {
				for _, l := range p.Levels {
					levels[l.Number] = true
					assert.InDelta(t, -job.SideLevel*float64(l.Number), l.Z*boolTo(l.Number > 0), 1e-9)
				}
				if p.Purpose == Finish {
					assert.InDelta(t, 30-slot.Length/2+2, p.Places[2].X, 1e-9)
					assert.InDelta(t, -9-slot.Width/2+2, p.Places[2].Y, 1e-9)
					assert.InDelta(t, 30+slot.Length/2-2, p.Places[4].X, 1e-9)
					assert.InDelta(t, -9+slot.Width/2-2, p.Places[4].Y, 1e-9)
				}
				assert.Equal(t, !drilled && p.Lane == 1, p.Down > 0)
			}
			assert.Len(t, levels, job.RoughLevels()+1, "every level, and the finishing")
			for _, touch := range table.Touches {
				switch touch.What {
				case TouchedWidth:
					assert.InDelta(t, slot.Width, touch.Finished, 1e-9)
					assert.InDelta(t, slot.Width-0.2, touch.Rough, 0.1001)
				case TouchedLength:
					assert.InDelta(t, slot.Length, touch.Finished, 1e-9)
				case TouchedSide:
					assert.InDelta(t, -9+slot.Width/2, touch.Finished, 1e-9)
				}
			}
			judged := state.Prove(job.Step, job.Setup, job.Cutter, 0, asMotions(byHand(job))).Judged
			assert.Less(t, judged.Gouge.Value, 1e-5)
			assert.Less(t, judged.Leftover.Value, 1e-5)
		}
	}
}

func boolTo(v bool) float64 {
	if v {
		return 1
	}
	return 0
}

// TestHoleTable: each hole stands where the knife file has it, as far from the butt and from
// the spine side of the bar; a blind one is its depth deep beside the drill's point.
func TestHoleTable(t *testing.T) {
	k := testKnife()
	k.Holes = []profile.Hole{
		{At: -60, FromSpine: 17, Diameter: profile.Some(4.0), Face: "right"},
		{At: -40, FromSpine: 17, Diameter: profile.Some(4.0), Depth: 2.5, Face: "right"},
	}
	b := mustBuild(t, k)
	shop := builtInShop(t)
	step := holeSteps(b)[0]
	job, _, err := PlanHoles(b, shop, step, SetupFor(b.Bar, step.Face, AboutY), "")
	require.NoError(t, err)
	rows := job.HoleReadout()
	require.Len(t, rows, 2)
	point := 2 / math.Tan(59*math.Pi/180) // of a drill of 4 mm, 118 degrees
	for i, row := range rows {
		assert.Equal(t, i+1, row.Number)
		assert.InDelta(t, 95-[]float64{60, 40}[i], row.X, 1e-9)
		assert.InDelta(t, -19, row.Y, 1e-9, "17 from the spine and 2 of waste over it")
		assert.Equal(t, i == 0, row.Through)
		assert.InDelta(t, -row.Z, row.Bite*float64(row.Bites), 1e-9)
		assert.LessOrEqual(t, row.Bite, 3+1e-9, "three quarters of the diameter")
	}
	assert.InDelta(t, -2.5, rows[1].Full, 1e-9)
	assert.InDelta(t, -2.5-point, rows[1].Z, 1e-9)
	assert.InDelta(t, -6-breakThrough, rows[0].Full, 1e-9)
	assert.Empty(t, planned(t, b, shop, profile.Right, AboutY, "ball 10").HoleReadout())
	assert.Empty(t, planned(t, b, shop, profile.Right, AboutY, "ball 10").SideReadout())
}
