package toolpath

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
)

// TestWaysOutWork: for jobs that cannot be done, what is said would let them be done is
// read from the words, set and tried; a hundredth more depth would not do.
func TestWaysOutWork(t *testing.T) {
	thin := func(s *Shop) { s.Cutters[0].StickOut = 95 }
	cases := map[string]struct {
		knife func(k *profile.Knife)
		shop  func(s *Shop)
		want  []string // beginnings of what must be among the ways out
	}{
		"a weak mill":            {func(*profile.Knife) {}, func(s *Shop) { s.Machine.Power = 25 }, nil},
		"a cutter far out":       {func(*profile.Knife) {}, thin, []string{"the cutter", "a coated carbide ball"}},
		"too deep for the flute": {func(k *profile.Knife) { k.Fullers[0].Depth = profile.Some(2) }, func(s *Shop) { s.Cutters[0].FluteLength = 1.5 }, []string{"a depth of", "a coated carbide ball"}},
		"a web of": {func(k *profile.Knife) { k.Fullers[0].Depth, k.Fullers[0].Web = profile.Optional{}, profile.Some(2.5) },
			func(s *Shop) { s.Cutters[0].FluteLength = 1.5 }, []string{"a web of", "a coated carbide ball"}},
		"a ratio of": {func(k *profile.Knife) { k.Fullers[0].Depth, k.Fullers[0].Ratio = profile.Optional{}, profile.Some(0.3) },
			func(s *Shop) { s.Cutters[0].FluteLength = 1.5 }, []string{"a ratio of", "a coated carbide ball"}},
		"a hard bar":       {func(k *profile.Knife) { k.Bar.Condition, k.Bar.Hardness = "hardened", profile.Some(55) }, func(*Shop) {}, []string{"the bar annealed"}},
		"a ball too large": {func(k *profile.Knife) { k.Fullers[0].Radius = 4 }, func(*Shop) {}, []string{"a coated carbide ball of 8.00 mm"}},
	}
	for name, row := range cases {
		t.Run(name, func(t *testing.T) {
			k := testKnife()
			row.knife(&k)
			shop := builtInShop(t)
			shop.Cutters = shop.Cutters[:1] // a ball of 12 mm
			row.shop(&shop)
			b := mustBuild(t, k)
			setup := SetupFor(b.Bar, profile.Right, AboutY)
			job, _, err := PlanFullers(b, shop, setup, "")
			require.True(t, err != nil || len(Stops(job.Checks)) > 0, "it cannot be done")
			ways := WaysOut(b, shop, setup, "")
			for _, want := range row.want {
				assert.True(t, strings.Contains("\n"+strings.Join(ways, "\n"), "\n"+want), "%q in %q", want, ways)
			}
			for _, way := range ways {
				assert.True(t, cut(t, k, shop, way), "%s: %s", name, way)
			}
		})
	}
}

// cut sets what a way out says and reports whether the job can be done.
func cut(t *testing.T, k profile.Knife, shop Shop, way string) bool {
	t.Helper()
	var v [5]float64
	var number int
	scan := func(format string, into ...any) bool {
		n, _ := fmt.Sscanf(way, format, into...)
		return n == len(into)
	}
	name := ""
	switch {
	case scan("a depth of %f mm for fuller %d", &v[0], &number):
		k.Fullers[number-1].Depth.Value = v[0]
	case scan("a ratio of %f for fuller %d", &v[0], &number):
		k.Fullers[number-1].Ratio.Value = v[0]
	case scan("a web of %f mm for fuller %d", &v[0], &number):
		k.Fullers[number-1].Web.Value = v[0]
	case scan("the cutter %q standing out %f mm", &name, &v[0]):
		shop.Cutters = append([]Cutter(nil), shop.Cutters...)
		shop.Cutters[0].StickOut = v[0]
	case regexp.MustCompile("^a coated carbide ball").MatchString(way):
		require.True(t, scan("a coated carbide ball of %f mm with two flutes %f mm long, standing out %f mm, that runs out no more than %f mm", &v[0], &v[1], &v[2], &v[3]), way)
		shop.Cutters = []Cutter{{Name: "new", End: BallEnd, Diameter: v[0], Flutes: 2, FluteLength: v[1], ShankDiameter: max(6, v[0]), StickOut: v[2], RunOut: v[3],
			HolderRadius: 16, Material: "carbide", Coated: true}}
	case strings.HasPrefix(way, "the bar annealed"):
		k.Bar.Condition, k.Bar.Hardness = "annealed", profile.Optional{}
	default:
		t.Fatalf("what is %q?", way)
	}
	b := mustBuild(t, k)
	job, _, err := PlanFullers(b, shop, SetupFor(b.Bar, profile.Right, AboutY), "")
	return err == nil && len(Stops(job.Checks)) == 0
}
