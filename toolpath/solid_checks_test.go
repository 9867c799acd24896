package toolpath

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/material"
	"fullerwright/templates"
	"fullerwright/toolpath/cutting"
)

// TestMilledThenGround mills the bar by the programs and then grinds it by the solid: the
// finished fuller has the depth that the parameters ask for, at every station.
func TestMilledThenGround(t *testing.T) {
	shop := builtInShop(t)
	for name, k := range fullerCases() {
		k.Allowance = profile.Allowance{Finish: 0.05, Scale: 0.05, CleanUp: 0.1, Sanding: k.Allowance.Sanding}
		b := mustBuild(t, k)
		job := planned(t, b, shop, profile.Right, AboutY, "")
		milled := prove(b, shop, job).Map
		for i, f := range b.Fullers {
			for _, s := range b.Sections(i, 9) {
				at, _ := f.Finished.Place(f.Finished.AtX(s.X))
				ground := b.GroundHalf(s.X, at.Y)
				floor := milled.HeightAt(s.X, at.Y) - k.Allowance.Sanding
				assert.InDelta(t, s.Depth, ground-floor, 0.01, "%s, fuller %d, %.1f mm", name, i+1, s.X)
				assert.InDelta(t, ground-s.Depth, b.HalfThickness(profile.Right, s.X, at.Y), 1e-6, "%s: the solid has the same floor", name)
			}
			// Half way up the run-outs.
			for _, x := range []float64{(f.StartVisible + f.StartFull) / 2, (f.EndVisible + f.EndFull) / 2} {
				at, _ := f.Finished.Place(f.Finished.AtX(x))
				floor := milled.HeightAt(x, at.Y) - k.Allowance.Sanding
				assert.InDelta(t, b.SectionAt(i, x).Depth, b.GroundHalf(x, at.Y)-floor, 0.01, "%s, run-out at %.1f mm", name, x)
			}
		}
	}
}

// twelveFaults is a knife with twelve faults of design, none of which follows from
// another.
const twelveFaults = `units = "mm"
[blade]
length = 170
width = 32
thickness = 5
steel = "1084"
[[taper]]
at = 110
thickness = 4.6
[[taper]]
at = 150
thickness = 1.5
[[taper]]
at = 160
thickness = 0.6
[clip]
length = 55
drop = 9
[edge]
belly_length = 50
point_angle = 40
[ricasso]
length = 14
[bevel]
height = 8
edge_thickness = 0.2
[tang]
width = 9
length = 60
end_width = 7
corner_radius = 0.25
thread = "M6x1"
thread_length = 46
[shoulder]
top = 10
[[fuller]]
radius = 4
depth = 1.9
from_spine = 7
start = 2.5
end = 60
[[fuller]]
radius = 4
depth = 0.5
from_spine = 12
start = 20
end = 114
[[fuller]]
radius = 4
depth = 0.5
from_spine = 22
start = 20
end = 90
[guard]
length = 40
width = 14
thickness = 6
[handle]
length = 95
width = 28
thickness = 20
[pommel]
length = 10
width = 7
thickness = 7
`

func TestTwelveFaultsTwelveFindings(t *testing.T) {
	k, err := profile.Parse("faults.toml", []byte(twelveFaults))
	require.NoError(t, err)
	checks := DesignChecks(mustBuild(t, k), builtInShop(t))
	for _, name := range []string{
		"web, fuller 1", "start in front of the shoulder's corner, fuller 1", "land between fullers 1 and 2",
		"end apart from the clip's corner, fuller 2", "land to the bevel line, fuller 3",
		"edge before hardening", "thickness behind the point",
		"width of the tang over that of the ricasso", "height of the shoulder's step over the inside corner's radius",
		"chamfer of the guard's slot over the inside corners", "tang inside the handle over the handle's length",
		"thread engaged in the pommel", "wall of the pommel beside its thread",
	} {
		found := false
		for _, c := range checks {
			if c.Name == name {
				found = true
				assert.NotEqual(t, OK, c.Verdict, "%s", c)
				if c.Verdict == Stop {
					assert.NotEmpty(t, c.Ways(), "a way out is named: %s", c)
				}
				assert.NotEmpty(t, c.Source, c.Name)
				assert.True(t, !c.Place.Empty() || strings.Contains(c.Name, "fuller"), "where? %s", c)
			}
		}
		assert.True(t, found, "no check %q", name)
	}
	for _, c := range checks {
		if strings.HasPrefix(c.Name, "web, ") || strings.HasPrefix(c.Name, "land to") {
			assert.Contains(t, c.Place.String(), "mm from the guard plane")
		}
	}
}

// TestStrayIntoBevel: a fuller that strays into the bevel is stopped, with the place; the
// same one that is declared to lie there is measured on the bevel.
func TestStrayIntoBevel(t *testing.T) {
	k := testKnife()
	k.Fullers[0].FromSpine, k.Fullers[0].Depth = 22, profile.Some(0.4)
	stray := mustBuild(t, k)
	verdicts := func(b profile.Blade, name string) Check {
		for _, c := range DesignChecks(b, builtInShop(t)) {
			if c.Name == name {
				return c
			}
		}
		t.Fatalf("no check %q", name)
		return Check{}
	}
	c := verdicts(stray, "land to the bevel line, fuller 1")
	assert.Equal(t, Stop, c.Verdict)
	assert.Contains(t, c.Place.String(), "mm from the guard plane")

	k.Fullers[0].On = profile.OnBevel
	declared := mustBuild(t, k)
	assert.Equal(t, OK, verdicts(declared, "land to the edge, fuller 1").Verdict)
	for _, s := range declared.Sections(0, 5) {
		// The bevel rises from the edge, 0.25 mm, to half the flat's thickness over 14 mm.
		want := 2 * (0.25 + (3-0.25)/14*(34-22))
		assert.InDelta(t, want, s.Thickness, 1e-9)
		assert.InDelta(t, want-2*0.4, s.Web, 1e-6)
		assert.InDelta(t, 3-want/2+0.4, s.MilledDepth, 1e-6, "milled from the flat bar")
	}
	k.Fullers[0].FromSpine = 30
	_, err := profile.Build(k, profile.Measured{})
	assert.NoError(t, err)
	k.Fullers[0].Depth = profile.Some(1.2)
	_, err = profile.Build(k, profile.Measured{})
	assert.ErrorContains(t, err, "go through the bevel")
}

// TestEverySteelIsKnown: the steels with cutting data are those with densities.
func TestEverySteelIsKnown(t *testing.T) {
	for _, name := range cutting.Steels() {
		_, known := material.SteelNamed(name)
		assert.True(t, known, name)
	}
	for _, steel := range material.Steels() {
		_, known := cutting.DataFor(steel.Name)
		assert.True(t, known, steel.Name)
		assert.InDelta(t, 7.7, steel.Density.Value, 0.3, steel.Name)
		for _, r := range []material.Range{steel.Annealed, steel.Hardened} {
			assert.NotEmpty(t, r.Mark)
			assert.NotEmpty(t, r.Source)
			assert.Less(t, r.Least, r.Most)
		}
	}
}

// TestEveryMetalIsKnown: metals of guards, by the names that knife files may give, have
// cutting data and a hardness as bought, and nothing else does; a [[metal]] is one of them.
func TestEveryMetalIsKnown(t *testing.T) {
	for _, part := range material.Parts() {
		_, cut := cutting.MetalFor(part.Name)
		assert.Equal(t, part.Hardness.Most > 0, cut, part.Name)
		_, own := builtInShop(t).MetalData(part.Name)
		assert.Equal(t, cut, own, part.Name)
	}
	for _, name := range cutting.Metals() {
		assert.Contains(t, material.PartNames(), name)
		text := string(templates.Shop()) + "\n[[metal]]\nname = \"" + name + "\"\ncuts_like = \"bronze\"\nspeed_share = 0.5\n"
		shop, err := ParseShop("shop.toml", []byte(text))
		require.NoError(t, err)
		data, known := shop.MetalData(name)
		bronze, _ := cutting.MetalFor("bronze")
		assert.True(t, known)
		assert.InDelta(t, bronze.Coated/2, data.Coated, 1e-9)
	}
	_, err := ParseShop("shop.toml", []byte(string(templates.Shop())+"\n[[metal]]\nname = \"gunmetal\"\ncuts_like = \"bronze\"\n"))
	assert.ErrorContains(t, err, "guard.material")
	assert.ErrorContains(t, err, `name it "bronze" here`)
}

// TestOwnSteel: a steel of the shop file is weighed and cut as it says.
func TestOwnSteel(t *testing.T) {
	text := string(templates.Shop()) + "\n[[steel]]\nname = \"Forge 7\"\ncuts_like = \"O1\"\nspeed_share = 0.8\ndensity = 7.79\n"
	shop, err := ParseShop("shop.toml", []byte(text))
	require.NoError(t, err)
	own, known := shop.CuttingData("Forge 7")
	require.True(t, known)
	like, _ := cutting.DataFor("O1")
	assert.InDelta(t, 0.8*like.Coated, own.Coated, 1e-12)
	assert.InDelta(t, like.KC11, own.KC11, 1e-12)
	assert.InDelta(t, 7.79, shop.Density("Forge 7").Value, 1e-12)
	assert.Equal(t, material.Given, shop.Density("Forge 7").Mark)
	k := testKnife()
	k.Blade.Steel = "Forge 7"
	job := planned(t, mustBuild(t, k), shop, profile.Right, AboutY, "")
	assert.NotNil(t, job)
	_, _, err = PlanFullers(mustBuild(t, k), builtInShop(t), SetupFor(mustBuild(t, k).Bar, profile.Right, AboutY), "")
	assert.ErrorContains(t, err, "[[steel]]")
}

// TestNeighbours: a fuller is held against the choil and against the false edge that it
// lies beside, and a rod against the hole that it is screwed into.
func TestNeighbours(t *testing.T) {
	find := func(k profile.Knife, name string) Check {
		for _, c := range DesignChecks(mustBuild(t, k), builtInShop(t)) {
			if c.Name == name {
				return c
			}
		}
		t.Fatalf("no check %q", name)
		return Check{}
	}
	k := testKnife()
	k.Fullers[0].Start, k.Fullers[0].FromSpine = profile.Some(22), 15
	k.Ricasso = profile.Ricasso{Length: 16, Choil: 6}
	lip := 15 + profile.GrooveWidth(8, 1)/2
	c := find(k, "steel between it and the choil, fuller 1")
	assert.InDelta(t, 34-lip-6, c.Value, 1.5, "over the middle of the choil, or further where the lip turns in")
	assert.Equal(t, OK, c.Verdict)
	k.Ricasso.Choil = 14.5
	k.Ricasso.Length = 20
	c = find(k, "steel between it and the choil, fuller 1")
	assert.Equal(t, Stop, c.Verdict)
	if ways := c.Ways(); assert.NotEmpty(t, ways) {
		assert.Equal(t, "ricasso.choil", ways[0].Key)
	}

	k = testKnife()
	k.Fullers[0].End = profile.Some(125)
	k.FalseEdge = profile.FalseEdge{Length: 50, Height: profile.Some(3), Thickness: 1}
	b := mustBuild(t, k)
	x := 120.0
	want := b.BackAt(x) - 3 - (-9 + profile.GrooveWidth(8, 1)/2)
	assert.InDelta(t, want, b.SectionAt(0, x).BackBevelLand.Value, 1e-6)
	assert.Equal(t, Stop, find(k, "land to the false edge, fuller 1").Verdict)

	k = testKnife()
	k.Tang.Thread, k.Tang.ThreadLength = "M6x1", 30
	k.Guard = profile.Guard{Length: 40, Width: 14, Thickness: 6, Material: "brass", Chamfer: 1}
	k.Handle = profile.Handle{Length: 88, Width: 28, Thickness: 20, Material: "hardwood"}
	k.Pommel = profile.Pommel{Length: 20, Width: 28, Thickness: 20, Material: "brass", HoleDepth: 15}
	c = find(k, "rod longer than the pommel's hole")
	assert.InDelta(t, 90+30-94-15, c.Value, 1e-9)
	assert.Equal(t, Stop, c.Verdict)
	k.Tang.ThreadLength -= c.Value
	assert.Equal(t, OK, find(k, "rod longer than the pommel's hole").Verdict, "its remedy does")

	const special = "thread off one that taps and dies come in"
	for _, c := range DesignChecks(mustBuild(t, k), builtInShop(t)) {
		assert.NotEqual(t, special, c.Name, "a standard thread is none")
	}
	k.Tang.Thread = "6.42 x 1.07 mm, drill 5.35 mm"
	c = find(k, special)
	assert.InDelta(t, 0.42, c.Value, 1e-12)
	assert.Equal(t, Caution, c.Verdict)
	assert.Contains(t, c.Remedy.String(), "M6x1")
}

// TestNoShoulder: a tang as wide as the ricasso leaves nothing for the guard to seat on.
func TestNoShoulder(t *testing.T) {
	k := testKnife()
	k.Tang.Width = 34
	for _, c := range DesignChecks(mustBuild(t, k), builtInShop(t)) {
		if strings.HasPrefix(c.Name, "higher step") {
			assert.Equal(t, Stop, c.Verdict)
			if ways := c.Ways(); assert.NotEmpty(t, ways) {
				assert.Equal(t, Way{File: KnifeFile, Key: "tang.width", Value: 32}, ways[0])
			}
			return
		}
	}
	t.Fatal("no such check")
}

// TestTaperThatRises: a blade thicker in its middle than at the ricasso is said, by how much and
// where; a taper that falls, or stays, is well.
func TestTaperThatRises(t *testing.T) {
	shop := builtInShop(t)
	rise := func(k profile.Knife) Check {
		c, _ := named(DesignChecks(mustBuild(t, k), shop), "growth of the thickness toward the point")
		return c
	}
	k := testKnife()
	assert.Empty(t, rise(k).Name, "no taper")
	thick := k.Blade.Thickness
	k.Taper = []profile.TaperStation{{At: 60, Thickness: thick}, {At: 120, Thickness: thick - 1}, {At: 150, Thickness: thick - 0.7}}
	c := rise(k)
	assert.Equal(t, Caution, c.Verdict)
	assert.InDelta(t, 0.3, c.Value, 1e-9)
	assert.Equal(t, "150 mm from the guard plane", c.Place.String())
	k.Taper[2].Thickness = thick - 1
	assert.Equal(t, OK, rise(k).Verdict)
	k.Taper[0].Thickness = thick + 0.1
	assert.Equal(t, Caution, rise(k).Verdict)
}
