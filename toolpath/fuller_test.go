package toolpath

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
	"fullerwright/toolpath/motion"
	"fullerwright/toolpath/proof"
)

// TestEveryFullerIsCutAsDesigned plans every kind of fuller with a cutter smaller than
// the groove, for both faces and both flips, and cuts the simulated bar: nothing is
// gouged, and the ridges, square to the wall, are those of the exact formula within
// 5 %. For chords along an oblique or curved centreline half a micrometre is added.
func TestEveryFullerIsCutAsDesigned(t *testing.T) {
	shop := builtInShop(t)
	for name, k := range fullerCases() {
		for _, cutter := range []string{"ball 6", "ball 10"} {
			t.Run(name+" "+cutter, func(t *testing.T) {
				b := mustBuild(t, k)
				for _, face := range profile.Faces() {
					job := planned(t, b, shop, face, AboutY, cutter)
					result := prove(b, shop, job)
					assert.Empty(t, result.Judged.Findings, "%s face", face)
					assert.Less(t, result.Judged.Gouge.Value, 2e-5, "gouge, %s face at %+v", face, result.Judged.Gouge)
					assert.LessOrEqual(t, result.Judged.Leftover.Value, 1.05*job.Cusp+planChordError+1e-5, "ridge, %s face at %+v", face, result.Judged.Leftover)
					assert.LessOrEqual(t, job.Cusp, shop.Limits.Cusp)
					assert.Greater(t, result.Judged.Leftover.Value, 0.8*job.Cusp, "the ridges are seen at all")
				}
			})
		}
	}
}

// TestRoughingLeavesTheStock: after roughing every fuller is shallower than designed by the
// finishing stock, and by no more than a ridge of the same height besides.
func TestRoughingLeavesTheStock(t *testing.T) {
	shop := builtInShop(t)
	cases := fullerCases()
	alike := testKnife()
	alike.Fullers[0].Radius = 5
	cases["as the ball"] = alike
	for name, k := range cases {
		b := mustBuild(t, k)
		job := planned(t, b, shop, profile.Right, AboutY, "ball 10")
		rough := *job
		rough.Moves = job.picked(func(m Move) bool { return m.Level > 0 })
		require.NotEmpty(t, rough.Moves)
		for _, s := range prove(b, shop, &rough).Stations {
			assert.InDelta(t, 1.5*shop.Work.FinishStock, s.DesignDepth-s.Depth, 0.55*shop.Work.FinishStock, "%s, fuller %d at %.0f", name, s.Fuller, s.X)
		}
	}
}

// TestSpringPass: with it the finishing passes are run once more, move by move, the bar is
// cut as without, and the table for a manual mill stays the same.
func TestSpringPass(t *testing.T) {
	shop := builtInShop(t)
	b := mustBuild(t, fullerCases()["two"])
	once := planned(t, b, shop, profile.Right, AboutY, "ball 10")
	shop.Work.SpringPass = true
	twice := planned(t, b, shop, profile.Right, AboutY, "ball 10")
	var first, second []Move
	for _, m := range twice.Moves {
		if m.Purpose == Finish && !m.Spring {
			first = append(first, m)
		}
		if m.Purpose == Finish && m.Spring {
			m.Spring = false
			second = append(second, m)
		}
	}
	require.NotEmpty(t, first)
	assert.Equal(t, first, second)
	a, z := prove(b, shop, once), prove(b, shop, twice)
	assert.Empty(t, z.Judged.Findings)
	assert.InDelta(t, a.Judged.Removed, z.Judged.Removed, 1e-9)
	assert.Greater(t, twice.Seconds, once.Seconds+twice.TimeSpent(shop.Machine).Finish/2-1)
	assert.Equal(t, fmt.Sprint(once.Readout().Rows), fmt.Sprint(twice.Readout().Rows), "NaN where no shim is needed")
}

// TestOnePassGroove: with r = R the floor lies at the depth, and the width at the face
// is 2·sqrt(2RD - D²).
func TestOnePassGroove(t *testing.T) {
	shop := builtInShop(t)
	k := testKnife()
	k.Fullers[0].Radius = 6
	b := mustBuild(t, k)
	job := planned(t, b, shop, profile.Right, AboutY, "ball 12")
	result := prove(b, shop, job)
	require.Len(t, result.Stations, 5)
	for _, s := range result.Stations {
		assert.InDelta(t, 1, s.Depth, 0.001)
		assert.InDelta(t, 2*math.Sqrt(2*6*1-1), s.Width, 0.002)
	}
	assert.Zero(t, job.Cusp)
}

// TestFacesCoincide: brought back to the blade frame the grooves of both faces are one
// within a micrometre, for both flips.
func TestFacesCoincide(t *testing.T) {
	shop := builtInShop(t)
	for name, k := range fullerCases() {
		b := mustBuild(t, k)
		for _, flip := range []Flip{AboutY, AboutX} {
			var maps []*proof.Map
			for _, face := range profile.Faces() {
				job := planned(t, b, shop, face, flip, "ball 10")
				maps = append(maps, prove(b, shop, job).Map)
			}
			assert.Less(t, proof.Mismatch(maps[0], maps[1]).Value, 0.001, "%s, turned %s", name, flip)
		}
	}
}

// TestWrongBarWidth: a bar wider than set moves the second face's groove by the whole
// difference when it is turned about X, and not at all about Y (derived: the other
// edge lies at the jaw only in the first case).
func TestWrongBarWidth(t *testing.T) {
	shop := builtInShop(t)
	b := mustBuild(t, testKnife())
	const wider = 0.04
	for _, row := range []struct {
		flip Flip
		want float64
	}{{AboutY, 0}, {AboutX, wider}} {
		job := planned(t, b, shop, profile.Left, row.flip, "ball 12")
		real := b.Bar
		real.Bottom -= wider // measured from the spine side, as the first face was
		truly := SetupFor(real, profile.Left, row.flip)
		grid, _ := ProofGrid(b, shop, 6)
		m := proof.NewMap(grid, b.Stock())
		m.Cut(truly.Placement, CutterOf(job.Cutter), asMotions(job))
		s, ok := m.SectionAt(50, -9)
		require.True(t, ok)
		assert.InDelta(t, row.want, math.Abs(s.Centre+9), 0.001, "turned %s", row.flip)
	}
}

// TestSetupsAreRotations: a setup turns the bar and never mirrors it, whichever face is
// up: the determinant with h counted toward the face is +1 for the right face, and -1
// for the left one, whose h runs against the blade's z.
func TestSetupsAreRotations(t *testing.T) {
	b := mustBuild(t, testKnife())
	for _, face := range profile.Faces() {
		for _, flip := range []Flip{AboutY, AboutX} {
			p := SetupFor(b.Bar, face, flip).Placement
			ofBladeZ := map[profile.Face]float64{profile.Right: 1, profile.Left: -1}[face]
			assert.Equal(t, 1.0, p.SignX*p.SignY*ofBladeZ, "%s face, turned %s", face, flip)
			for _, corner := range []motion.Vec{{X: b.Bar.Butt, Y: b.Bar.Top}, {X: b.Bar.Front, Y: b.Bar.Bottom}} {
				w := p.Work(corner)
				assert.GreaterOrEqual(t, w.X, -1e-9, "the bar begins at the stop")
				assert.LessOrEqual(t, w.X, b.Bar.Length()+1e-9)
				assert.LessOrEqual(t, w.Y, 1e-9, "the bar lies before the fixed jaw")
				assert.GreaterOrEqual(t, w.Y, -b.Bar.Width()-1e-9)
			}
			assert.InDelta(t, 0, p.Work(motion.Vec{Z: b.Bar.Face(0)}).Z, 1e-12, "zero on the face where it is touched")
		}
	}
}

// TestSameWallIsCutClimb: with the spindle turning clockwise the wall to the right of
// the feed is cut climb. On both faces and for both flips that is the wall toward the
// edge, and all finishing passes run one way.
func TestSameWallIsCutClimb(t *testing.T) {
	shop := builtInShop(t)
	b := mustBuild(t, testKnife())
	for _, face := range profile.Faces() {
		for _, flip := range []Flip{AboutY, AboutX} {
			job := planned(t, b, shop, face, flip, "ball 10")
			passes := 0
			at := motion.Vec{}
			for _, m := range job.Moves {
				if m.Purpose == Finish && m.To != at {
					from, to := job.Setup.Placement.Face(at), job.Setup.Placement.Face(m.To)
					feed := to.X - from.X
					machineRight := motion.Vec{X: m.To.Y - at.Y, Y: -(m.To.X - at.X)}
					toEdge := -job.Setup.Placement.SignY // machine Y that leads toward the edge
					assert.Positive(t, machineRight.Y*toEdge, "%s face, turned %s: the climb wall", face, flip)
					assert.Positive(t, feed*job.Setup.finishDirection(), "one way")
					passes++
				}
				at = m.To
			}
			assert.Positive(t, passes)
		}
	}
}

// TestRapidsKeepClear: no rapid goes below the clearance plane but straight up, and
// none moves up or down and across at once.
func TestRapidsKeepClear(t *testing.T) {
	shop := builtInShop(t)
	for name, k := range fullerCases() {
		b := mustBuild(t, k)
		job := planned(t, b, shop, profile.Right, AboutY, "ball 6")
		at := job.Moves[0].To
		for _, m := range job.Moves[1:] {
			if m.Kind == motion.Rapid {
				across := m.To.X != at.X || m.To.Y != at.Y
				assert.False(t, across && m.To.Z != at.Z, name)
				assert.GreaterOrEqual(t, m.To.Z, job.Clearance-1e-9, name)
			}
			at = m.To
		}
		assert.InDelta(t, job.Clearance, at.Z, 1e-9, "ends up clear")
	}
}

// TestLevelsAreEqualAndDeepEnough: levels are equal, as many as asked, and with the
// finishing stock add up to the depth.
func TestLevelsAreEqualAndDeepEnough(t *testing.T) {
	b := mustBuild(t, testKnife())
	for _, count := range []int{1, 2, 7} {
		cut := newFullerCut(b, b.Fullers[0], 8, 0.1)
		levels := cut.levels(count)
		require.Len(t, levels, count)
		for _, l := range levels {
			assert.InDelta(t, levels[0].depth, l.depth, 1e-12)
		}
		assert.InDelta(t, cut.deepest-0.1, levels[len(levels)-1].total, 1e-9)
	}
	shallow := testKnife()
	shallow.Fullers[0].Depth = profile.Some(0.08)
	shallowBlade := mustBuild(t, shallow)
	assert.Empty(t, newFullerCut(shallowBlade, shallowBlade.Fullers[0], 8, 0.1).levels(1), "nothing but finishing stock")
}

// TestFlipFor: with the shop's usual errors fullers are turned end for end and shoulders
// edge over edge (machining rule derived there: what is tight across the blade wants the
// same edge at the jaw, what is tight along it the same end at the stop), and the shop
// file overrules.
func TestFlipFor(t *testing.T) {
	b := mustBuild(t, testKnife())
	shop := builtInShop(t)
	fuller, shoulder := TurningFor(Fullers, b, shop), TurningFor(Shoulders, b, shop)
	assert.Equal(t, AboutY, fuller.Flip)
	assert.Equal(t, AboutX, shoulder.Flip)
	assert.Less(t, fuller.Counts(AboutY).Likely(), fuller.Counts(AboutX).Likely())
	assert.Less(t, shoulder.Counts(AboutX).Worst(), shoulder.Counts(AboutY).Worst())
	// Across the blade turned about Y: seating and readout twice, and the jaw's sweep
	// doubled over the distance from the bar's middle.
	e := shop.Errors
	middle := (b.Bar.Butt + b.Bar.Front) / 2
	f := b.Fullers[0]
	far := math.Max(math.Abs(f.StartVisible-middle), math.Abs(f.EndVisible-middle))
	assert.InDelta(t, 2*e.Seating+2*e.Readout+2*e.JawSweep.Radians()*far, fuller.Counts(AboutY).Worst(), 1e-9)
	shop.Flip.Fuller = string(AboutX)
	assert.Equal(t, AboutX, TurningFor(Fullers, b, shop).Flip)
}

func TestShopFaults(t *testing.T) {
	text := string(templates.Shop())
	for name, row := range map[string]struct{ from, to, want string }{
		"two of one name":    {`name          = "ball 10"`, `name = "ball 12"`, "cutter[2].name"},
		"flutes too long":    {"flute_length  = 22", "flute_length = 40", "cutter[1].flute_length"},
		"speeds exchanged":   {"spindle_least = 200", "spindle_least = 9000", "machine.spindle_least"},
		"no clearance":       {"clearance       = 5\n", "", "work.clearance"},
		"unknown key":        {"travel_x      = 400", "travel_q = 400", "machine.travel_q"},
		"a count with parts": {"flutes        = 2", "flutes = 2.5", "cutter[1].flutes"},
	} {
		_, err := ParseShop("shop.toml", []byte(replaceFirst(text, row.from, row.to)))
		assert.ErrorContains(t, err, row.want, name)
	}
}

func replaceFirst(text, from, to string) string {
	for i := 0; i+len(from) <= len(text); i++ {
		if text[i:i+len(from)] == from {
			return text[:i] + to + text[i+len(from):]
		}
	}
	panic(fmt.Sprintf("%q is not there", from))
}

func BenchmarkPlan(b *testing.B) {
	shop := builtInShop(b)
	blade := mustBuild(b, testKnife())
	for b.Loop() {
		planned(b, blade, shop, profile.Right, AboutY, "ball 10")
	}
}

func BenchmarkProof(b *testing.B) {
	shop := builtInShop(b)
	blade := mustBuild(b, testKnife())
	job := planned(b, blade, shop, profile.Right, AboutY, "ball 10")
	motions := asMotions(job)
	for b.Loop() {
		NewBarState(blade, shop, job.Cutter.Radius()).Prove(job.Step, job.Setup, job.Cutter, job.Cusp, motions)
	}
}

// TestBallEndsInOnePass: a groove of the cutter's own radius that ends in the ball's own
// shape is cut in one pass, to both ends.
func TestBallEndsInOnePass(t *testing.T) {
	shop := builtInShop(t)
	k := fullerCases()["ball ends"]
	k.Fullers[0].Radius = 6
	b := mustBuild(t, k)
	job := planned(t, b, shop, profile.Right, AboutY, "ball 12")
	result := prove(b, shop, job)
	assert.Empty(t, result.Judged.Findings)
	assert.Equal(t, 1, job.Lanes[0].Count)
	assert.Less(t, result.Judged.Leftover.Value, 2e-5)
}
