package toolpath

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/cutting"
)

// TestEachLimitStopsAlone: plan and speeds stay as they are, and each limit in turn is moved
// to one part in a hundred inside the value that the plan has. That check stops the job, and
// no other.
func TestEachLimitStopsAlone(t *testing.T) {
	k := testKnife()
	k.Fullers[0].Depth = profile.Some(1.1)
	b := mustBuild(t, k)
	shop := builtInShop(t)
	job := planned(t, b, shop, profile.Right, AboutY, "ball 10")
	require.Empty(t, Stops(job.Checks))
	data, err := shop.steelData(b)
	require.NoError(t, err)
	var cuts []fullerCut
	for _, f := range b.Fullers {
		cuts = append(cuts, newFullerCut(b, f, job.Cutter.Radius(), shop.Work.FinishStock))
	}
	const inside, outside = 1 / 1.01, 1.01
	tried := map[string]bool{"feed per tooth": true}
	for name, moved := range map[string]func(v float64, j *Job, s *Shop, d *cutting.Data){
		"cutter radius against the groove, fuller 1": func(_ float64, j *Job, _ *Shop, _ *cutting.Data) {
			j.Cutter.Diameter = 2 * outside * b.Fullers[0].Milled.Radius
		},
		"surface speed at the effective diameter": func(v float64, _ *Job, _ *Shop, d *cutting.Data) { d.CoatedMost = inside * v },
		"greatest spindle speed":                  func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Machine.SpindleMost = inside * v },
		"least spindle speed":                     func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Machine.SpindleLeast = outside * v },
		"feed":                                    func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Machine.FeedMost = inside * v },
		"power at the motor, with half as much again for what is not known": func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Machine.Power = inside * v },
		"depth of a level":                      func(v float64, _ *Job, _ *Shop, d *cutting.Data) { d.DepthRatioMost = inside * v / 10 },
		"depth against the flutes":              func(v float64, j *Job, _ *Shop, _ *cutting.Data) { j.Cutter.FluteLength = inside * v },
		"bending stress in the cutter":          func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Limits.CutterStress = inside * v },
		"deflection of the cutter in roughing":  func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Limits.CutterBend = inside * v },
		"deflection of the cutter in finishing": func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Limits.CutterBendFinishing = inside * v },
		"depth against the stick-out":           func(v float64, j *Job, _ *Shop, _ *cutting.Data) { j.Cutter.StickOut = inside * v },
		"depth against half the bar":            func(v float64, j *Job, _ *Shop, _ *cutting.Data) { j.Setup.Top = inside * v },
		"steepest ramp":                         func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Limits.Ramp = geom.Angle(inside*v) * geom.Degree },
		"ridge between passes":                  func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Limits.Cusp = inside * v },
		"width against the opening of the vise": func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Vise.JawOpening = inside * v },
		"face above the top of the jaws": func(_ float64, j *Job, s *Shop, _ *cutting.Data) {
			s.Parallels = []Parallel{{s.Vise.JawHeight - 2*j.Setup.Top + inside*aboveLeast}}
		},
		"travel in X": func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Machine.TravelX = inside * v },
		"travel in Y": func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Machine.TravelY = inside * v },
		"travel in Z": func(v float64, _ *Job, s *Shop, _ *cutting.Data) { s.Machine.TravelZ = inside * v },
	} {
		of := name
		if name == "greatest spindle speed" || name == "least spindle speed" {
			of = "spindle speed"
		}
		tried[of] = true
		pinned, its, limit := *job, shop, data
		moved(valueOf(t, job.Checks, of), &pinned, &its, &limit)
		stops := Stops(pinned.fullerChecks(b, its, limit, cuts))
		if assert.Len(t, stops, 1, "%s: %v", name, stops) {
			assert.Equal(t, of, stops[0].Name)
			assert.NotEmpty(t, stops[0].Remedy, name)
			assert.NotEmpty(t, stops[0].Source, name)
		}
	}
	// The range of the feed per tooth is not a single figure: its two ends are moved by the
	// feeds, the rest staying as it is.
	perTooth := data.FeedPerTooth(job.Cutter.tool())
	for share, name := range map[float64]string{outside * perTooth.Most: "most", inside * perTooth.Least: "least"} {
		pinned := *job
		feed := cutting.Feed(share, pinned.Cutter.Flutes, pinned.Spindle)
		pinned.Levels = append([]LevelFigures(nil), job.Levels...)
		its := shop
		its.Machine.Power, its.Machine.FeedMost, its.Limits.CutterBend, its.Limits.CutterBendFinishing = 1e5, 1e5, .1, .1
		pinned.Levels[0].Feed = feed
		stops := Stops(pinned.fullerChecks(b, its, data, cuts))
		if assert.Len(t, stops, 1, "%s: %v", name, stops) {
			assert.Equal(t, "feed per tooth", stops[0].Name)
		}
	}
	// Nothing was left out: what is not tried here can only caution.
	cautions := []string{"edges of the bar below the top of the jaws", "cut beyond the end of the jaws", "bar held in the jaws", "feed of the worst placed tooth", "run-out against the feed per tooth", "thickest chip against rubbing"}
	for _, c := range job.Checks {
		if !slices.Contains(cautions, c.Name) {
			assert.True(t, tried[c.Name], c.Name)
		}
	}
}

// valueOf returns the value of a check; of two of one name, that of the first.
func valueOf(t *testing.T, checks []Check, name string) float64 {
	t.Helper()
	i := slices.IndexFunc(checks, func(c Check) bool { return c.Name == name })
	require.GreaterOrEqual(t, i, 0, name)
	return checks[i].Value
}
