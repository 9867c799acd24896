package toolpath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/motion"
)

// TestStandOf: the height over the jaws is that of parallels and bar less that of the jaws;
// the nearest to the height wanted is taken of those that hold the bar and let it stand out.
func TestStandOf(t *testing.T) {
	shop := Shop{Vise: Vise{JawHeight: 32, BarAboveJaws: 1}, Parallels: []Parallel{{24}, {26}, {28}, {30}}}
	for _, row := range []struct {
		thickness float64
		want      Stand
		why       string
	}{
		{5, Stand{28, 1}, "just so"},
		{4.2, Stand{28, 0.2}, "nearer to 1 than the 2.2 of the next"},
		{6.4, Stand{26, 0.4}, "nearer than 2.4"},
		{3, Stand{30, 1}, "held by 2"},
		{2.4, Stand{30, 0.4}, "held by more than half of it"},
		{2, Stand{30, 0}, "none lets it stand out: the nearest"},
		{12, Stand{24, 4}, "the lowest"},
	} {
		got := shop.StandOf(row.thickness)
		assert.InDelta(t, row.want.Parallels, got.Parallels, 1e-9, "%g: %s", row.thickness, row.why)
		assert.InDelta(t, row.want.Above, got.Above, 1e-9, "%g: %s", row.thickness, row.why)
	}
	// Held by less than 2 mm none is taken where another does.
	shop.Vise.BarAboveJaws = 4
	assert.Equal(t, Stand{30, 3}, shop.StandOf(5))
	shop.Parallels = append(shop.Parallels, Parallel{31})
	assert.Equal(t, Stand{30, 3}, shop.StandOf(5))
	shop.Vise.JawHeight = 0
	assert.Equal(t, Stand{Above: 4}, shop.StandOf(5), "as it is wanted")
	assert.False(t, shop.StandOf(5).Known())
}

// TestStandChecks: no parallels that do, a vise that opens too little and no air under a
// drill stop the work; each stop says what would do, and that does.
func TestStandChecks(t *testing.T) {
	k := testKnife()
	k.Holes = []profile.Hole{{At: -60, FromSpine: 17, Diameter: profile.Some(4.0), Face: "right"}}
	b := mustBuild(t, k) // 6 mm thick, 38 wide
	shop := builtInShop(t)
	find := func(shop Shop, name string) Check {
		step := holeSteps(b)[0]
		job, _, err := PlanHoles(b, shop, step, SetupFor(b.Bar, step.Face, AboutY), "")
		require.NoError(t, err)
		for _, c := range job.Checks {
			if c.Name == name {
				return c
			}
		}
		require.Fail(t, name)
		return Check{}
	}
	const opening, above, air = "width against the opening of the vise", "face above the top of the jaws", "air under the cutter that comes through"
	for _, name := range []string{opening, above, air} {
		assert.Equal(t, OK, find(shop, name).Verdict, name)
	}
	narrow := shop
	narrow.Vise.JawOpening = 37
	assert.Equal(t, Stop, find(narrow, opening).Verdict)
	assert.Contains(t, find(narrow, opening).Remedy.String(), "opens 38.00 mm")
	narrow.Vise.JawOpening = 38
	assert.Equal(t, OK, find(narrow, opening).Verdict)

	low := shop
	low.Parallels = []Parallel{{20}} // 26 under jaws of 32
	c := find(low, above)
	assert.Equal(t, Stop, c.Verdict)
	assert.InDelta(t, -6, c.Value, 1e-9)
	assert.Contains(t, c.Remedy.String(), "parallels of 26.10 to 30.00 mm would do")
	for _, height := range []float64{26.1, 30} {
		low.Parallels = []Parallel{{height}}
		assert.Equal(t, OK, find(low, above).Verdict)
		job := planned(t, b, low, profile.Right, AboutY, "ball 10")
		assert.Equal(t, OK, job.holdingChecks(b, low)[0].Verdict, "held by enough at %g", height)
	}
	low.Parallels = []Parallel{{30.1}}
	job := planned(t, b, low, profile.Right, AboutY, "ball 10")
	assert.Equal(t, Caution, job.holdingChecks(b, low)[0].Verdict)
	assert.Contains(t, job.holdingChecks(b, low)[0].Remedy.String(), "parallels of 30.00 mm, or lower")

	// Jaws of 5 mm: parallels of 2 mm leave less than a drill's point of 1.2 mm and 0.3 need.
	flat := shop
	flat.Vise.JawHeight, flat.Parallels = 5, []Parallel{{2}}
	c = find(flat, air)
	point := 2 / math.Tan(59*math.Pi/180)
	assert.InDelta(t, 2-breakThrough-point, c.Value, 1e-9)
	assert.Equal(t, Stop, c.Verdict)
	assert.Contains(t, c.Remedy.String(), "parallels of 2.51 mm")
	flat.Parallels = []Parallel{{2.51}}
	assert.Equal(t, OK, find(flat, air).Verdict)
}

// TestCutterToTheJaws: below the top of the jaws a square end is as wide as it is, a ball as
// wide as its chord there; above it neither is near.
func TestCutterToTheJaws(t *testing.T) {
	s := Setup{Placement: motion.Placement{SignX: 1, SignY: 1}, Length: 200, Width: 30, Top: 3}
	to := func(end CutterEnd, y, z float64) float64 {
		j := &Job{Setup: s, Cutter: Cutter{End: end, Diameter: 10}, Moves: []Move{
			{Kind: motion.Rapid, To: motion.Vec{X: 90, Y: y, Z: 5}}, {Kind: motion.Line, To: motion.Vec{X: 90, Y: y, Z: z}}, {Kind: motion.Line, To: motion.Vec{X: 110, Y: y, Z: z}}}}
		return j.toJaws(Vise{JawLength: 100}, 1)
	}
	assert.True(t, math.IsInf(to(SquareEnd, -4, -1), 1), "at the top of the jaws")
	assert.InDelta(t, -1, to(SquareEnd, -4, -1.5), 1e-9, "into the fixed jaw")
	assert.InDelta(t, 1, to(SquareEnd, -24, -1.5), 1e-9, "30 less 24 and 5")
	// 0.5 mm over the tip of a ball of 5: sqrt(0.5 · 9.5) = 2.179.
	assert.InDelta(t, 4-2.17945, to(BallEnd, -4, -1.5), 1e-5)
	assert.InDelta(t, 4-5, to(BallEnd, -4, -7), 1e-9)
}
