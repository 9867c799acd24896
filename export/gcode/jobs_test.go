package gcode

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
)

// fullerJob is a row of testdata/fuller_jobs/jobs.tsv: invented jobs that fill a grid of
// steels, cutters, laws of depth, flips, mills and units.
type fullerJob map[string]string

func (j fullerJob) number(t *testing.T, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(j[column], 64)
	require.NoError(t, err, column)
	return v
}

func fullerJobs(t *testing.T) []fullerJob {
	t.Helper()
	file, err := os.Open("../../testdata/fuller_jobs/jobs.tsv")
	require.NoError(t, err)
	defer func() { _ = file.Close() }()
	table := csv.NewReader(file)
	table.Comma = '\t'
	rows, err := table.ReadAll()
	require.NoError(t, err)
	var out []fullerJob
	for _, row := range rows[1:] {
		job := fullerJob{}
		for i, name := range rows[0] {
			job[name] = row[i]
		}
		out = append(out, job)
	}
	return out
}

// knife returns the blade of a job.
func (j fullerJob) knife(t *testing.T) profile.Knife {
	n := func(column string) float64 { return j.number(t, column) }
	length := n("length")
	fuller := profile.FullerSize{Radius: n("radius"), FromSpine: 8, Start: profile.Some(n("start")), End: profile.Some(n("end")),
		Ends: profile.FullDepthEnds, StartRunOut: profile.SweptRunOut, EndRunOut: profile.SweptRunOut, RunOutRadius: profile.Some(40),
		Follows: profile.FollowsStraight, Faces: "both"}
	switch value := profile.Some(n("value")); j["law"] {
	case "web":
		fuller.Web = value
	case "ratio":
		fuller.Ratio = value
	default:
		fuller.Depth = value
	}
	k := profile.Knife{
		Name: "Job", Blade: profile.BladeSize{Length: length, Width: 36, Thickness: n("thickness"), Steel: j["steel"]},
		Clip: profile.Clip{Length: 45, Drop: 10, Sag: 2}, Edge: profile.Edge{BellyLength: 40, PointAngle: 40 * geom.Degree, Fullness: 0.55},
		Ricasso: profile.Ricasso{Length: 10}, Bevel: profile.Bevel{Height: profile.Some(12), Kind: profile.FlatBevel, EdgeThickness: 0.5, EdgeAngle: 20 * geom.Degree},
		Tang: profile.Tang{Width: 16, EndWidth: 10, Length: 90, CornerRadius: 1}, Fullers: []profile.FullerSize{fuller},
		Bar: profile.BarSize{SpineAllowance: 2, EdgeAllowance: 2, TangAllowance: 5, PointAllowance: 5, Condition: j["condition"]},
	}
	if thin := n("thin"); thin > 0 {
		k.Taper = []profile.TaperStation{{At: length - 10, Thickness: thin}}
	}
	switch j["path"] {
	case "oblique":
		k.Fullers[0].FromSpineEnd = profile.Some(10.5)
	case "spine":
		k.Spine.Rise, k.Fullers[0].Follows = 4, profile.FollowsSpine
	}
	if j["fullers"] == "2" {
		second := k.Fullers[0]
		second.FromSpine += 2*second.Radius + 1
		k.Fullers = append(k.Fullers, second)
	}
	require.NoError(t, k.Validate())
	return k
}

// shop returns the mill of a job with its one cutter. The mills are invented: a bench mill,
// a knee mill and a router.
func (j fullerJob) shop(t *testing.T) toolpath.Shop {
	mills := map[string]string{
		"bench":  "spindle_least = 200\nspindle_most = 5000\npower = 750\nfeed_most = 1500\nrapid = 2500\nacceleration = 150",
		"knee":   "spindle_least = 80\nspindle_most = 6000\npower = 1500\nfeed_most = 2500\nrapid = 5000\nacceleration = 250",
		"router": "spindle_least = 4000\nspindle_most = 24000\npower = 800\nfeed_most = 3000\nrapid = 5000\nacceleration = 400",
	}
	material := map[string]string{"coated": "material = \"carbide\"\ncoated = true", "uncoated": "material = \"carbide\"", "hss": "material = \"hss\""}[j["material"]]
	diameter := j.number(t, "cutter")
	text := fmt.Sprintf("name = \"Jobs\"\n[machine]\ntravel_x = 600\ntravel_y = 200\ntravel_z = 250\nprogram_units = %q\n%s\n"+
		"[vise]\njaw_length = 150\n[work]\nclearance = 3\n[[cutter]]\nname = \"ball\"\nend = \"ball\"\nrun_out = 0.003\ndiameter = %g\nflutes = %s\nflute_length = %g\nshank_diameter = %g\nstick_out = %s\n%s\n",
		j["units"], mills[j["mill"]], diameter, j["flutes"], 2*diameter, max(6, diameter), j["stick_out"], material)
	shop, err := toolpath.ParseShop("shop.toml", []byte(text))
	require.NoError(t, err)
	return shop
}

// face and flip of a job.
func (j fullerJob) setup(b profile.Blade) toolpath.Setup {
	face, flip := profile.Right, toolpath.AboutY
	if j["face"] == "left" {
		face = profile.Left
	}
	if j["flip"] == "X" {
		flip = toolpath.AboutX
	}
	return toolpath.SetupFor(b.Bar, face, flip)
}

// TestJobsNearTheBound plans, writes, reads back and cuts twenty varied jobs: no check
// stops any, the bar is as designed, and the time at the mill is at most 1.6 times the
// stated lower bound, 1.35 times on average.
func TestJobsNearTheBound(t *testing.T) {
	jobs := fullerJobs(t)
	require.Len(t, jobs, 20)
	sum := 0.0
	table := "| job | planned, s | bound, s | ratio | roughing | finishing | ramps | ways between | acceleration |\n|---|---|---|---|---|---|---|---|---|\n"
	for _, j := range jobs {
		b, err := profile.Build(j.knife(t), profile.Measured{})
		require.NoError(t, err)
		shop, setup := j.shop(t), j.setup(b)
		job, _, err := toolpath.PlanFullers(b, shop, setup, "")
		require.NoError(t, err, j["job"])
		checked, err := job.Checked()
		require.NoError(t, err, j["job"])
		text, err := Write(checked, dialect.FullStandard(), shop.Inch, nil)
		require.NoError(t, err)
		read, err := Read(bytes.NewReader(text))
		require.NoError(t, err)
		result := toolpath.NewBarState(b, shop, job.Cutter.Radius()).Prove(job.Step, setup, job.Cutter, job.Cusp, read.Motions)
		assert.Empty(t, result.Judged.Findings, j["job"])
		bound := job.TimeBound(b, shop).Seconds()
		ratio := job.Seconds / bound
		assert.LessOrEqual(t, ratio, 1.6, j["job"])
		assert.Greater(t, ratio, 1.0, j["job"])
		sum += ratio
		s := job.TimeSpent(shop.Machine)
		table += fmt.Sprintf("| %s | %.0f | %.0f | %.2f | %.0f | %.0f | %.0f | %.0f | %.0f |\n", j["job"], job.Seconds, bound, ratio,
			s.Rough, s.Finish, s.Ramp, s.Link, s.Acceleration)
	}
	mean := sum / float64(len(jobs))
	assert.LessOrEqual(t, mean, 1.35)
	table += fmt.Sprintf("| mean | | | %.2f | | | | | |\n", mean)
	guide, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	assert.True(t, strings.Contains(string(guide), table), "DEVELOPERS.md shows another table than that of the jobs as they are now:\n%s", table)
}

// TestJobsFillAGrid: no two jobs are near copies, and together they hold every kind.
func TestJobsFillAGrid(t *testing.T) {
	jobs := fullerJobs(t)
	kinds := []string{"steel", "condition", "cutter", "material", "flutes", "mill", "units", "flip", "law", "path", "fullers", "face"}
	kind := func(j fullerJob, column string) string {
		switch column {
		case "fit":
			return fmt.Sprint(j.number(t, "cutter") == 2*j.number(t, "radius"))
		case "tapered":
			return fmt.Sprint(j["thin"] != "0")
		}
		return j[column]
	}
	kinds = append(kinds, "fit", "tapered")
	seen := map[string]map[string]bool{}
	for i, a := range jobs {
		for _, column := range kinds {
			if seen[column] == nil {
				seen[column] = map[string]bool{}
			}
			seen[column][kind(a, column)] = true
		}
		for _, b := range jobs[:i] {
			unlike := 0
			for _, column := range kinds {
				if kind(a, column) != kind(b, column) {
					unlike++
				}
			}
			assert.GreaterOrEqual(t, unlike, 3, "%s and %s", a["job"], b["job"])
		}
	}
	for column, least := range map[string]int{"steel": 12, "condition": 2, "cutter": 10, "material": 3, "flutes": 2, "mill": 3, "units": 2, "flip": 2,
		"law": 3, "path": 3, "fullers": 2, "face": 2, "fit": 2, "tapered": 2} {
		assert.GreaterOrEqual(t, len(seen[column]), least, column)
	}
	assert.True(t, seen["cutter"]["3"] && seen["cutter"]["12.7"], "from 3 to 12.7 mm")
}
