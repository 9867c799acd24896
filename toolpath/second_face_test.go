package toolpath

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/toolpath/proof"
)

// slip is what went wrong in a setup: zeros that stand off, in the blade frame and in
// height (positive too high), and a cutter larger than its figure.
type slip struct{ aside, along, high, wider float64 }

// milledWith cuts the right face as planned with a slip and returns it on the simulated
// bar.
func milledWith(b profile.Blade, grid proof.Grid, job *Job, s slip) *proof.Map {
	m := proof.NewMap(grid, b.Stock())
	cutter := job.Cutter
	cutter.Measured = profile.Some(2 * (cutter.Radius() + s.wider))
	setup := slipped(job.Setup, s)
	m.Cut(setup.Placement, CutterOf(cutter), asMotions(job))
	return m
}

// slipped returns a setup with its right face up as it really lies.
func slipped(setup Setup, s slip) Setup {
	setup.Placement.X0 -= s.along
	setup.Placement.Y0 -= s.aside
	setup.Placement.Z0 -= s.high
	return setup
}

// caliper reads a groove off the simulated bar as a maker reads it off the real one.
func caliper(t *testing.T, b profile.Blade, m *proof.Map, x float64) string {
	t.Helper()
	s, ok := m.SectionAt(x, middleOf(b))
	require.True(t, ok)
	fades := func(side float64) float64 {
		in, out := x, x+side*80
		for math.Abs(out-in) > 1e-5 {
			if at := (in + out) / 2; m.HeightAt(at, s.Centre) < b.Bar.Face(at)-1e-7 {
				in = at
			} else {
				out = at
			}
		}
		return in - b.Bar.Butt
	}
	return fmt.Sprintf("[[fuller]]\nfrom_butt = %.5f\nwidth = %.5f\ndepth = %.5f\nfrom_edge = %.5f\nstart = %.5f\nend = %.5f\n",
		s.X-b.Bar.Butt, s.Width, s.Depth, b.Bar.Top-s.Centre-s.Width/2, fades(-1), fades(1))
}

func rebuilt(t *testing.T, k profile.Knife, readings string) profile.Blade {
	t.Helper()
	m, err := profile.ParseMeasured("m.toml", []byte(readings), k)
	require.NoError(t, err)
	b, err := profile.Build(k, m)
	require.NoError(t, err)
	return b
}

// TestSecondFaceFollowsTheFirst mills the first face with every zero off, reads it with a
// caliper, plans the second face from the readings and mills it rightly, both on the
// simulated bar: the faces are alike in depth and place within 3 µm, or the web is that
// of the design. Lips stand within a ridge of 5 µm.
func TestSecondFaceFollowsTheFirst(t *testing.T) {
	shop := builtInShop(t)
	off := slip{aside: 0.12, along: -0.35, high: 0.06}
	sloped := fullerCases()["sloped"]
	for _, c := range []struct {
		name   string
		knife  profile.Knife
		second profile.SecondFace
		flip   Flip
	}{
		{"level, match", testKnife(), profile.MatchFirst, AboutX}, {"level, keep web", testKnife(), profile.KeepWeb, AboutY},
		{"sloped, match", sloped, profile.MatchFirst, AboutY}, {"sloped, keep web", sloped, profile.KeepWeb, AboutX},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := mustBuild(t, c.knife)
			grid, _ := ProofGrid(b, shop, 5)
			firstJob := planned(t, b, shop, profile.Right, c.flip, "ball 10")
			first := milledWith(b, grid, firstJob, off)
			read := rebuilt(t, c.knife, caliper(t, b, first, 50)+fmt.Sprintf("second_face = %q\n", c.second))
			assert.Equal(t, Step{Operation: Fullers, Face: profile.Left}, Sequence(read, shop)[0], "the first face is done")
			job := planned(t, read, shop, profile.Left, c.flip, "ball 10")
			state := NewBarState(read, shop, 5)
			result := state.Prove(job.Step, job.Setup, job.Cutter, job.Cusp, asMotions(job))
			assert.Empty(t, result.Judged.Findings)
			for _, x := range []float64{30, 50, 70} {
				one, ok := first.SectionAt(x, middleOf(b))
				require.True(t, ok)
				two, ok := result.Map.SectionAt(x, middleOf(b))
				require.True(t, ok)
				assert.InDelta(t, one.Centre, two.Centre, 0.003, "at %g", x)
				if c.second == profile.KeepWeb {
					assert.InDelta(t, 2*b.SectionAt(0, x).MilledDepth, one.Depth+two.Depth, 0.01, "the web of the design at %g", x)
					continue
				}
				assert.InDelta(t, one.Depth, two.Depth, 0.003, "at %g", x)
				assert.InDelta(t, one.Width, two.Width, 0.01, "at %g", x)
			}
			// The simulated bar has the first face as it came out.
			together := state.JudgeFaces()
			assert.InDelta(t, proof.Web(milledWith(b, result.Map.Grid, firstJob, off), result.Map).Value, together.Web.Value, 0.004)
			assert.Less(t, together.Mismatch.Value, 2*job.Cusp+0.002, "nothing but what was planned")
		})
	}
}

// TestReadingsAreChecked: each of what is read has its check with its number, and what its
// remedy names does away with it.
func TestReadingsAreChecked(t *testing.T) {
	k := testKnife()
	shop := builtInShop(t)
	of := func(text, name string) Check {
		t.Helper()
		for _, c := range DesignChecks(rebuilt(t, k, "[[fuller]]\nfrom_butt = 145\n"+text), shop) {
			if c.Name == name {
				return c
			}
		}
		t.Fatalf("no check %q", name)
		return Check{}
	}
	deep := of("depth = 1.08", "right face as read, depth off the design, fuller 1")
	assert.Equal(t, Caution, deep.Verdict)
	assert.InDelta(t, 0.08, deep.Value, 1e-9)
	shallow := of("depth = 0.94", "right face as read, depth off the design, fuller 1")
	assert.Contains(t, shallow.Remedy.String(), "a touch-up pass sunk by 0.060 mm")
	assert.Equal(t, OK, of("depth = 1.04", deep.Name).Verdict)

	// R = w²/8d + d/2: for a groove of radius 8, 7.746 wide and 1 deep, a caliper 0.02 mm
	// off makes 0.0387 mm of it, a depth 0.01 mm off 0.07 mm.
	radius := of(fmt.Sprintf("depth = 1\nwidth = %.6f", 2*math.Sqrt(2*8.12-1)), "right face as read, radius by width and depth, off the design, fuller 1")
	assert.InDelta(t, 0.12, radius.Value, 1e-5)
	assert.InDelta(t, math.Hypot(7.8077/4*0.02, 0.01*(7.8077*7.8077/8-0.5)), radius.Limit, 1e-5)
	assert.Equal(t, Caution, radius.Verdict)
	assert.Contains(t, radius.Remedy.String(), "8.120 mm")

	mismatch := "mismatch left between the faces, "
	for _, what := range []string{"depth", "width", "across", "ends"} {
		matched := of("depth = 1.08\nfrom_edge = 7.2\nstart = 111", mismatch+what+", fuller 1")
		assert.InDelta(t, 0, matched.Value, 1e-9, what)
	}
	kept := of("depth = 1.08\nsecond_face = \"keep web\"", mismatch+"depth, fuller 1")
	assert.InDelta(t, 0.16, kept.Value, 1e-9)
	assert.Equal(t, "the left face 0.160 mm deeper would leave none", kept.Remedy.String())
	// The width of a groove: 2·sqrt(2·8·1.08 - 1.08²) against that of 0.92.
	wide := of("depth = 1.08\nsecond_face = \"keep web\"", mismatch+"width, fuller 1")
	assert.InDelta(t, profile.GrooveWidth(8, 1.08)-profile.GrooveWidth(8, 0.92), wide.Value, 1e-9)
	assert.Equal(t, Caution, wide.Verdict)
	both := "depth = 1\nfrom_edge = 7\nstart = 111\n[[fuller]]\nface = \"left\"\nfrom_butt = 145\ndepth = 1\nfrom_edge = 7.2\nstart = 111.4"
	assert.InDelta(t, 0.2, of(both, mismatch+"across, fuller 1").Value, 1e-9)
	assert.InDelta(t, 0.4, of(both, mismatch+"ends, fuller 1").Value, 1e-9)
	apart := of("depth = 1\n[[fuller]]\nfrom_butt = 160\ndepth = 1.08", "right face as read, depths of the readings apart, fuller 1")
	assert.InDelta(t, 0.08, apart.Value, 1e-9)
	assert.Equal(t, Caution, apart.Verdict)

	// A groove that lies 0.2 mm nearer to the spine has that much less land there.
	aside := of("depth = 1\nfrom_edge = 6.927", "right face as read, land to the back, fuller 1")
	plain := of("depth = 1", "land to the back, fuller 1")
	assert.InDelta(t, plain.Value-0.2, aside.Value, 2e-3)

	// A first face too deep by 0.3 mm takes 0.3 mm from the web, or twice that matched.
	k.Blade.Thickness, shop.Limits.Web, shop.Limits.WebRatio, shop.Limits.DepthRatio = 4, 1.5, 0.1, 0.45
	web := of("depth = 1.3", "web, fuller 1")
	assert.InDelta(t, 4-2*1.3, web.Value, 1e-9)
	assert.Equal(t, Stop, web.Verdict)
	assert.Contains(t, web.Remedy.String(), `second_face = "keep web"`)
	assert.Equal(t, OK, of("depth = 1.3\nsecond_face = \"keep web\"", "web, fuller 1").Verdict)
}
