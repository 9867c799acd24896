package toolpath

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
)

// designCheck returns the design check of the given name, and whether there is one.
func designCheck(t *testing.T, k profile.Knife, shop Shop, name string) (Check, bool) {
	t.Helper()
	for _, c := range DesignChecks(mustBuild(t, k), shop) {
		if c.Name == name {
			return c, true
		}
	}
	return Check{}, false
}

// TestWebToTheOpenEnd: the web is looked at up to where the fuller leaves the blade, in
// closed form the thickness there less both depths; the remedy's number does.
func TestWebToTheOpenEnd(t *testing.T) {
	const name = "web where it leaves the blade, fuller 1"
	k, shop := openCases()["tapered"], builtInShop(t)
	k.Taper = []profile.TaperStation{{At: 50, Thickness: 5.6}, {At: 160, Thickness: 3}}
	k.Clip = profile.Clip{Length: 50, Drop: 20} // from 110 down at 0.4: the centreline leaves at 132.5
	c, has := designCheck(t, k, shop, name)
	require.True(t, has)
	leaves := 110 + 9/0.4
	thickness := 5.6 - 2.6*(leaves-50)/110
	assert.InDelta(t, thickness-2, c.Value, 0.02, "a hundredth of the way from lip to lip, and what the floor falls in it")
	assert.Equal(t, OK, c.Verdict)

	shop.Limits.Web = 1.9
	c, _ = designCheck(t, k, shop, name)
	require.Equal(t, Stop, c.Verdict)
	ways := c.Ways()
	require.NotEmpty(t, ways)
	for _, way := range ways {
		mended, err := k.Put(way.Key, way.Value)
		require.NoError(t, err)
		again, _ := designCheck(t, mended, shop, name)
		assert.Equal(t, OK, again.Verdict, again)
	}
}

// TestLandsOfAnOpenFuller: the land that narrows to nothing on the way out is no fault, one
// that is too narrow all along is.
func TestLandsOfAnOpenFuller(t *testing.T) {
	k, shop := openCases()["tapered"], builtInShop(t)
	for _, name := range []string{"land to the back, fuller 1", "land to the bevel line, fuller 1"} {
		c, has := designCheck(t, k, shop, name)
		require.True(t, has)
		assert.Equal(t, OK, c.Verdict, c)
	}
	k.Fullers[0].FromSpine = 6
	c, _ := designCheck(t, k, shop, "land to the back, fuller 1")
	assert.Equal(t, Stop, c.Verdict)
	assert.InDelta(t, 6-profile.GrooveWidth(8, 1)/2, c.Value, 1e-9)
	_, has := designCheck(t, k, shop, "end apart from the clip's corner, fuller 1")
	assert.False(t, has, "it has no end")

	closed := testKnife()
	closed.Fullers[0].FromSpineEnd = profile.Some(7)
	shop.Limits.SpineLand = 3.5
	c, _ = designCheck(t, closed, shop, "land to the back, fuller 1")
	assert.Equal(t, Stop, c.Verdict, "a fuller with an end does not narrow its land for nothing")
}

// TestOpenFullerKeepsTheEdge: a fuller that leaves across the bevel takes nothing of the
// edge, whose thickness is less than the web: it has risen out of the bevel before.
func TestOpenFullerKeepsTheEdge(t *testing.T) {
	k, shop := openCases()["tapered"], builtInShop(t)
	k.Fullers[0].FromSpineEnd = profile.Some(16)
	b := mustBuild(t, k)
	f := b.Fullers[0]
	assert.Less(t, f.EndVisible, b.Knife.Blade.Length)
	crossed := false
	for i := range 100 {
		x := f.EndFull + (f.EndVisible-f.EndFull)*float64(i)/100
		lower, _, ok := b.Span(0, x)
		crossed = crossed || ok && lower < b.BevelLineAt(x)-0.1
		c := b.CrossSectionAt(x)
		assert.InDelta(t, b.GroundHalf(x, c.Bottom), c.Half(profile.Right, c.Bottom), 1e-12, "%g", x)
	}
	assert.True(t, crossed, "it cuts into the bevel on its way")
	_, has := designCheck(t, k, shop, "rim it runs over, before hardening, fuller 1")
	assert.False(t, has)

	// Out through the clip it runs over the rim of the back, and leaves its web there.
	k = openCases()["tapered"]
	c, has := designCheck(t, k, shop, "rim it runs over, before hardening, fuller 1")
	require.True(t, has)
	web, _ := designCheck(t, k, shop, "web where it leaves the blade, fuller 1")
	assert.GreaterOrEqual(t, c.Value, web.Value-1e-9)
	shop.Limits.EdgeBeforeQuench = c.Value + 0.01
	c, _ = designCheck(t, k, shop, "rim it runs over, before hardening, fuller 1")
	assert.Equal(t, Stop, c.Verdict)
}

// TestFullerUnderTheGuardIsSaid: what stays open behind the guard is the depth less the
// face step, and a step as deep as the fuller closes it.
func TestFullerUnderTheGuardIsSaid(t *testing.T) {
	const gap, beside = "gap between its floor and the guard's slot, fuller 1", "tang beside it, fuller 1"
	k, shop := openCases()["ends on the tang"], builtInShop(t)
	k.Guard = profile.Guard{Clearance: 0.02, Material: "brass"}
	k.Shoulder.FaceStep = 0.3
	c, has := designCheck(t, k, shop, gap)
	require.True(t, has)
	assert.InDelta(t, 0.7, c.Value, 1e-5)
	assert.Equal(t, Caution, c.Verdict)
	assert.Contains(t, c.Remedy.String(), "shoulder.face_step of 1.0")

	// The tang begins 9 mm under the spine, where the centreline is.
	c, has = designCheck(t, k, shop, beside)
	require.True(t, has)
	assert.Equal(t, Caution, c.Verdict)
	assert.Less(t, c.Value, 1e-6)
	web, _ := designCheck(t, k, shop, "web on the tang, fuller 1")
	assert.InDelta(t, 4, web.Value, 1e-6, "floors go straight on through the shoulder")

	k.Shoulder.FaceStep = 1
	k.Fullers[0].StartRunOut, k.Fullers[0].Start = profile.OpenRunOut, profile.Optional{}
	c, _ = designCheck(t, k, shop, gap)
	assert.Equal(t, OK, c.Verdict, c)
	_, has = designCheck(t, k, shop, beside)
	assert.False(t, has, "it leaves through the shoulder")
	for _, c := range DesignChecks(mustBuild(t, k), shop) {
		assert.False(t, strings.HasPrefix(c.Name, "start "), c.Name)
		assert.False(t, math.IsNaN(c.Value), c.Name)
	}
	_, has = designCheck(t, openCases()["tapered"], shop, gap)
	assert.False(t, has, "that one begins on the blade")
}

// TestFullerBesideTheTangIsSaid: a fuller that ends on the tang with its centreline over it
// takes the corner off, at every kind of end: how far its lip lies beside the tang, the steel
// left under it there, and how deep it stands open behind the guard, in closed form; one that
// lies clear of the tang runs out through the shoulder, and nothing is said of a tang that it
// does not touch.
func TestFullerBesideTheTangIsSaid(t *testing.T) {
	const gap, beside, web = "gap between its floor and the guard's slot, fuller 1", "tang beside it, fuller 1", "web on the tang, fuller 1"
	const radius, depth, centre = 8.0, 1.0, 9.0
	shop, half := builtInShop(t), profile.GrooveWidth(radius, depth)/2
	for _, end := range []profile.RunOutKind{profile.BallRunOut, profile.SweptRunOut, profile.OpenRunOut} {
		k := openCases()["ends on the tang"]
		k.Tang.Width, k.Tang.EndWidth, k.Tang.CornerRadius, k.Shoulder.Top = 13, 13, 0.5, profile.Some(centre+1.5)
		k.Fullers[0].StartRunOut, k.Fullers[0].Start = end, profile.Some(-40.0)
		if end == profile.OpenRunOut {
			k.Fullers[0].Start = profile.Optional{}
		}
		c, has := designCheck(t, k, shop, beside)
		require.True(t, has, end)
		assert.Equal(t, Caution, c.Verdict, end)
		assert.InDelta(t, -1.5-half, c.Value, 1e-6, "its lip lies over the tang, which begins under its centreline")
		c, has = designCheck(t, k, shop, web)
		require.True(t, has, end)
		deep := depth - radius + math.Sqrt(radius*radius-1.5*1.5)
		inCorner := depth - radius + math.Sqrt(radius*radius-1*1) // the inside corner reaches up a half of a millimetre
		assert.LessOrEqual(t, c.Value, k.Blade.Thickness-2*deep+1e-9, end)
		assert.GreaterOrEqual(t, c.Value, k.Blade.Thickness-2*inCorner-1e-9, end)
		c, _ = designCheck(t, k, shop, gap)
		assert.InDelta(t, inCorner, c.Value, 1e-3, end)

		k.Tang.Width, k.Tang.EndWidth, k.Shoulder.Top = 10, 10, profile.Some(centre+half+0.6)
		_, has = designCheck(t, k, shop, web)
		assert.False(t, has, "%s: it lies clear of the tang", end)
		_, has = designCheck(t, k, shop, beside)
		assert.False(t, has, end)
	}
}

// TestNoCheckIsOfNothing: every check of every knife has looked at something.
func TestNoCheckIsOfNothing(t *testing.T) {
	shop := builtInShop(t)
	knives := openCases()
	choil := testKnife()
	choil.Ricasso.Choil = 4
	knives["choil"] = choil
	through := testKnife()
	through.Tang.Thread, through.Tang.ThreadLength = "M6x1", 20
	through.Pommel = profile.Pommel{Length: 20, Width: 20, Thickness: 20, Material: "brass"}
	knives["pommel with a hole right through"] = through
	short := openCases()["ends on the tang"]
	short.Tang.Width, short.Tang.EndWidth, short.Shoulder.Top = 10, 10, profile.Some(14.0)
	knives["beside the tang"] = short
	for name, k := range knives {
		for _, c := range DesignChecks(mustBuild(t, k), shop) {
			assert.False(t, math.IsInf(c.Value, 0) || math.IsNaN(c.Value), "%s: %s", name, c)
		}
	}
}
