package toolpath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/motion"
)

// wedge is a bar of 6.35 mm that is ground, before it is milled, to 4 mm over 180 mm from
// the plunge line at 10 mm on, with a fuller 1 mm deep along it.
func wedge(t *testing.T, order profile.TaperOrder) profile.Blade {
	k := testKnife()
	k.Blade.Length, k.Blade.Thickness = 240, 6.35
	k.Taper = []profile.TaperStation{{At: 10, Thickness: 6.35}, {At: 190, Thickness: 4}}
	k.Fullers[0].Start, k.Fullers[0].End = profile.Some(30), profile.Some(130)
	k.Fullers[0].Radius = 6 // the ball's own: one lane
	k.Bar.Tapered = order
	return mustBuild(t, k)
}

// TestBeds: the shim under a wedge that loses 2.35 mm over 180 mm is half of what the bar
// has lost there, so that both faces lean alike: 0.653 mm for 100 mm of it. The vise is as
// long as the bar. Turned end for end the bar lies the other way round.
func TestBeds(t *testing.T) {
	shop := builtInShop(t)
	shop.Vise.JawHeight = 0 // the parallels are chosen by hand
	b := wedge(t, profile.TaperedBefore)
	shop.Vise.JawLength = b.Bar.Length()
	x := func(at float64) float64 { return at - b.Bar.Butt }
	end := (6.35 - 4.0) / 2
	job := planned(t, b, shop, profile.Right, AboutY, "")
	assertBeds := func(job *Job, want ...Bed) {
		t.Helper()
		beds := job.Beds(shop.Vise)
		require.Len(t, beds, len(want), "%v", beds)
		for i, w := range want {
			assert.InDelta(t, w.X, beds[i].X, 1e-9)
			assert.InDelta(t, w.Thickness, beds[i].Thickness, 1e-9)
			assert.InDelta(t, w.Packing, beds[i].Packing, 1e-9)
			assert.InDelta(t, w.Under, beds[i].Under, 1e-9)
		}
	}
	whole := b.Bar.Length()
	assertBeds(job, Bed{0, 6.35, 0, 0}, Bed{x(0), 6.35, 0, 0}, Bed{x(10), 6.35, 0, 0}, Bed{x(190), 4, end, end}, Bed{whole, 4, end, end})
	assertBeds(planned(t, b, shop, profile.Left, AboutY, ""),
		Bed{0, 4, end, end}, Bed{whole - x(190), 4, end, end}, Bed{whole - x(10), 6.35, 0, 0}, Bed{whole - x(0), 6.35, 0, 0}, Bed{whole, 6.35, 0, 0})
	shop.Vise.JawLength = 60
	jaws := job.JawSpan(shop.Vise)
	beds := job.Beds(shop.Vise)
	require.Len(t, beds, 2, "%v", beds)
	assert.InDelta(t, 60*2.35/2/180, beds[1].Packing-beds[0].Packing, 1e-9, "0.653 mm for 100 mm")
	assert.Equal(t, jaws, Span{beds[0].X, beds[1].X})
	for _, bed := range beds {
		top := job.Setup.Placement.Work(motion.Vec{Z: b.Bar.Face(bed.X + b.Bar.Butt)}).Z
		assert.InDelta(t, -bed.Under, top, 1e-9, "and the face lies as far under Z = 0")
	}
	plate := planned(t, b, shop, profile.Right, AboutY, "")
	plate.Setup.Plate = true
	assertBeds(plate, Bed{0, 6.35, 0, 0}, Bed{x(0), 6.35, 0, 0}, Bed{x(10), 6.35, 0, 0}, Bed{x(190), 4, end, end}, Bed{whole, 4, end, end})
	assert.Empty(t, planned(t, wedge(t, profile.TaperedAfter), shop, profile.Right, AboutY, "").Beds(shop.Vise), "parallel faces need none")
}

// TestBedsOfAnUnevenBar: a bar with parallel faces by the order, but thicker toward the point as
// it was measured, is laid with its middle level: what lies under it and half of its thickness
// come to the same height everywhere, and its thickest place lies on the support itself. Less
// than two of the thinnest shims are not worth laying, and count in what the web may lose.
func TestBedsOfAnUnevenBar(t *testing.T) {
	shop := builtInShop(t)
	uneven := func(butt, front float64) (profile.Blade, *Job) {
		k := testKnife()
		k.Bar.Length = profile.Some(300)
		b, err := profile.Build(k, profile.Measured{Thickness: []profile.MeasuredStation{{FromButt: 10, Value: butt}, {FromButt: 290, Value: front}}})
		require.NoError(t, err)
		return b, planned(t, b, shop, profile.Right, AboutY, "")
	}
	faces := func(b profile.Blade) Check {
		for _, c := range DesignChecks(b, shop) {
			if c.Name == "faces of the bar out of parallel, by the thickness measured" {
				return c
			}
		}
		return Check{}
	}
	b, job := uneven(6.2, 6.6)
	beds := job.Beds(shop.Vise)
	require.GreaterOrEqual(t, len(beds), 2)
	least, jaws := math.Inf(1), job.JawSpan(shop.Vise)
	for _, bed := range beds {
		thick := 6.2 + 0.4*(math.Min(math.Max(bed.X, 10), 290)-10)/280
		assert.InDelta(t, thick, bed.Thickness, 1e-9)
		assert.InDelta(t, beds[0].Packing+beds[0].Thickness/2, bed.Packing+bed.Thickness/2, 1e-9, "the middle lies level")
		zero := 6.2 + 0.4*(-b.Bar.Butt-10)/280 // touched at the guard plane
		assert.InDelta(t, (zero-thick)/2, bed.Under, 1e-9)
		least = math.Min(least, bed.Packing)
	}
	assert.Zero(t, least)
	assert.Equal(t, jaws, Span{beds[0].X, beds[len(beds)-1].X})
	assert.Equal(t, Caution, faces(b).Verdict)
	assert.InDelta(t, 0.4, faces(b).Value, 1e-9)

	b, job = uneven(6.2, 6.215)
	assert.Empty(t, job.Beds(shop.Vise))
	assert.Equal(t, OK, faces(b).Verdict)
	_, to := extentOf(Fullers, b)
	loss := func(b profile.Blade) float64 { return TurningFor(Fullers, b, shop).AboutY.WebLoss.Worst() }
	even, _ := uneven(6.2, 6.2)
	assert.InDelta(t, 0.015*to/280, loss(b)-loss(even), 1e-9, "twice half of what the bar is thicker there")
	assert.Empty(t, faces(mustBuild(t, testKnife())).Name, "nobody measured")
}

// TestRaisedWedge: a floor parallel to the tapered face, and the face with it, lie level once
// the bar is raised by its whole taper: 2.35 mm over 180 mm in all, half of it the shims
// that lay the middle level. Z = 0 is touched on the face beside the groove, so that every Z
// is the depth under it.
func TestRaisedWedge(t *testing.T) {
	shop := builtInShop(t)
	b := wedge(t, profile.TaperedBefore)
	for _, face := range profile.Faces() {
		job := planned(t, b, shop, face, AboutY, "ball 12")
		table := job.Readout()
		require.Len(t, table.Shims, 1)
		shim := table.Shims[0]
		assert.InDelta(t, 2.35/2, shim.Height(180), 1e-4)
		assert.Equal(t, face == profile.Right, shim.RaiseRight(), "the point end, wherever it lies")
		assert.Less(t, shim.FaceStray, 1e-4)
		finished := 0
		for _, r := range table.Rows {
			if r.Purpose == Finish {
				finished++
				assert.InDelta(t, -1, r.Raised, 2e-4, "%+v", r)
			}
		}
		assert.Positive(t, finished)
	}
	// A fuller of constant web has a floor that is level already, under a face that is not.
	k := b.Knife
	k.Fullers = []profile.FullerSize{k.Fullers[0]}
	k.Fullers[0].Depth, k.Fullers[0].Web = profile.Optional{}, profile.Some(4.35)
	k.Fullers[0].End = profile.Some(100)
	shim := planned(t, mustBuild(t, k), shop, profile.Right, AboutY, "ball 12").Readout().Shims[0]
	assert.InDelta(t, 0, shim.Slope, 1e-9)
	assert.InDelta(t, 35*2.35/2/180, shim.FaceStray, 0.01, "from the middle to the ends of 70 mm")
}

// TestHoldingAWedge: the thin end of a wedge may stand deeper than the top of the jaws; then
// its whole edge is held.
func TestHoldingAWedge(t *testing.T) {
	shop := builtInShop(t)
	shop.Vise.JawHeight = 0 // the parallels are chosen by hand
	b := wedge(t, profile.TaperedBefore)
	shop.Vise.JawLength = b.Bar.Length()
	bearing := func(above float64) Check {
		shop.Vise.BarAboveJaws = above
		return planned(t, b, shop, profile.Right, AboutY, "ball 12").holdingChecks(b, shop)[0]
	}
	assert.InDelta(t, 4, bearing(1).Value, 1e-9, "the face lies 1.175 mm under that of the ricasso")
	assert.InDelta(t, 4-(3-1.175), bearing(3).Value, 1e-9)
	c := bearing(4)
	assert.Equal(t, Caution, c.Verdict)
	assert.InDelta(t, 4-(4-1.175), c.Value, 1e-9)
	assert.Contains(t, c.Remedy.String(), "3.17 mm", "%s", c.Remedy)
	assert.Equal(t, OK, bearing(3.17).Verdict)
	assert.InDelta(t, math.Min(2, 4.0/2), c.Limit, 1e-9)
	left := planned(t, b, shop, profile.Left, AboutY, "ball 12").holdingChecks(b, shop)[0]
	assert.InDelta(t, c.Limit, left.Limit, 1e-9, "the thin end to the left")
	assert.InDelta(t, bearing(3.17).Value, left.Value, 1e-9)
}

// TestKnifeWithoutTheFeature: a program of a fuller or a hole that the knife does not have is
// a finding, not a crash.
func TestKnifeWithoutTheFeature(t *testing.T) {
	shop := builtInShop(t)
	b := mustBuild(t, testKnife())
	job := planned(t, b, shop, profile.Right, AboutY, "ball 12")
	k := testKnife()
	k.Fullers = nil
	plain := mustBuild(t, k)
	result := prove(plain, shop, job)
	require.Len(t, result.Judged.Findings, 1)
	assert.Contains(t, result.Judged.Findings[0].Message, "no fuller in its right face")
	job.Step = Step{Operation: Holes, Bore: 4}
	result = prove(plain, shop, job)
	require.Len(t, result.Judged.Findings, 1)
	assert.Contains(t, result.Judged.Findings[0].Message, "no hole of 4.00 mm")
}

// TestHairThinCutter is not tried for a deep side cut.
func TestHairThinCutter(t *testing.T) {
	b := mustBuild(t, testKnife())
	hair := endMill("hair", 0.3, 0)
	job, why := planShoulderWith(b, squareShop(t, hair), SetupFor(b.Bar, profile.Right, AboutX), hair)
	assert.Nil(t, job)
	assert.Contains(t, why, "less than an eighth")
}
