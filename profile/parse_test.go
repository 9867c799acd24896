package profile

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/document"
	"fullerwright/templates"
)

func parsePattern(t testing.TB, name string) Knife {
	t.Helper()
	data, found := templates.Pattern(name)
	require.True(t, found)
	k, err := Parse(name+".toml", data)
	require.NoError(t, err)
	return k
}

// TestPatternsBuild: every pattern parses, builds, and says in its first line what it is.
func TestPatternsBuild(t *testing.T) {
	require.GreaterOrEqual(t, len(templates.Names()), 3)
	for _, name := range templates.Names() {
		_, err := Build(parsePattern(t, name), Measured{})
		require.NoError(t, err, name)
		assert.NotEmpty(t, templates.Summary(name))
	}
}

// TestResolvedIsTheSameKnife: a knife written out with every parameter reads back as
// the same knife, in millimetres and in inches.
func TestResolvedIsTheSameKnife(t *testing.T) {
	for _, name := range templates.Names() {
		k := parsePattern(t, name)
		again, err := Parse("knife.toml", Resolved(k))
		require.NoError(t, err, name)
		assert.Equal(t, string(Resolved(k)), string(Resolved(again)), name)
		one, err := Build(k, Measured{})
		require.NoError(t, err)
		two, err := Build(again, Measured{})
		require.NoError(t, err)
		assert.InDelta(t, one.Outline.Area(), two.Outline.Area(), 1e-3, name)
		for i := range one.Fullers {
			assert.InDelta(t, one.Fullers[i].EndFull, two.Fullers[i].EndFull, 1e-3, name)
		}
	}
}

// TestMeaningsAreBesideTheKeys: a starter file says of every key what it means, and is
// the same knife.
func TestMeaningsAreBesideTheKeys(t *testing.T) {
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		commented := WithMeanings(data)
		for _, line := range strings.Split(string(commented), "\n") {
			if keyLine.MatchString(line) {
				assert.Contains(t, line, "# ", name)
			}
		}
		k, err := Parse(name, commented)
		require.NoError(t, err, name)
		assert.Equal(t, string(Resolved(parsePattern(t, name))), string(Resolved(k)))
		assert.Equal(t, string(commented), string(WithMeanings(commented)), "done twice it changes nothing")
	}
	for _, group := range Table() {
		assert.Contains(t, string(DescribeTable()), group.Name)
	}
}

// TestTableIsWhole: every key of the table has a meaning, a resize class and limits, and
// its default lies inside them.
func TestTableIsWhole(t *testing.T) {
	for _, group := range Table() {
		assert.True(t, group.Name == "" || group.Meaning != "")
		for _, p := range group.Parameters {
			assert.NotEmpty(t, p.Meaning, "%s.%s", group.Name, p.Name)
			assert.NotEmpty(t, p.Resize, "%s.%s", group.Name, p.Name)
			if p.Resize != Verbal {
				assert.Less(t, p.Min, p.Max, "%s.%s", group.Name, p.Name)
			}
		}
	}
}

// TestLadderAscends: finished, before hardening, as milled, bar: none thinner than the
// one before.
func TestLadderAscends(t *testing.T) {
	for _, name := range templates.Names() {
		k := parsePattern(t, name)
		steps := Ladder(k, BarOf(k, Measured{}))
		require.Len(t, steps, 4)
		for i := 1; i < len(steps); i++ {
			assert.GreaterOrEqual(t, steps[i].Thickness, steps[i-1].Thickness)
		}
		assert.InDelta(t, k.Blade.Thickness, steps[0].Thickness, 1e-12)
	}
}

// TestGrowth: O1 grows by 0.0015 a length in hardening (a distributor's data sheet, as
// quoted; not re-read): 178 mm by 0.267 mm. The blade is made that much shorter before.
func TestGrowth(t *testing.T) {
	k := parsePattern(t, "tarn")
	k.Allowance.Growth = 0.0015
	soft := k.BeforeHardening()
	assert.InDelta(t, 0.267, 178*0.0015, 5e-4)
	assert.InDelta(t, 178/1.0015, soft.Blade.Length, 1e-12)
	assert.InDelta(t, 104/1.0015, soft.Fullers[0].End.Value, 1e-12)
	assert.Equal(t, k.Fullers[0].Radius, soft.Fullers[0].Radius)
	assert.Equal(t, k.Blade.Thickness, soft.Blade.Thickness)
	assert.Equal(t, 104.0, k.Fullers[0].End.Value, "the knife itself is left as it is")
	grown, err := Build(soft, Measured{})
	require.NoError(t, err)
	finished, err := Build(k, Measured{})
	require.NoError(t, err)
	assert.InDelta(t, finished.Outline.Area(), grown.Outline.Area()*1.0015*1.0015, 1e-6)
}

// TestMeasuredOverrides: what was measured takes the place of what was ordered, and a
// measured file that cannot be right is refused.
func TestMeasuredOverrides(t *testing.T) {
	k := parsePattern(t, "tarn")
	text := "[bar]\nlength = 301.5\n[[width]]\nfrom_butt = 20\nwidth = 34.1\n[[width]]\nfrom_butt = 200\nwidth = 34.06\n" +
		"[[thickness]]\nfrom_butt = 0\nthickness = 5.3\n[[thickness]]\nfrom_butt = 300\nthickness = 5.2\n"
	m, err := ParseMeasured("m.toml", []byte(text), k)
	require.NoError(t, err)
	bar := BarOf(k, m)
	assert.InDelta(t, 301.5, bar.Length(), 1e-9)
	assert.InDelta(t, 34.1, bar.Width(), 1e-9, "a vise closes on the widest place")
	assert.InDelta(t, 5.25, bar.Thickness(bar.Butt+150), 1e-9)
	b, err := Build(k, m)
	require.NoError(t, err)
	ordered, err := Build(k, Measured{})
	require.NoError(t, err)
	x := 60.0
	want := ordered.SectionAt(0, x).MilledDepth + (bar.Thickness(x)-ordered.Bar.Thickness(x))/2
	assert.InDelta(t, want, b.SectionAt(0, x).MilledDepth, 1e-9, "half of what the bar is thicker")
	for text, why := range map[string]string{
		"[[thickness]]\nfrom_butt = 9\nthickness = 5.3\n[[thickness]]\nfrom_butt = 9\nthickness = 5.3\n": "ascend",
		"[[thickness]]\nfrom_butt = 9\nthickness = 3\n":                                                  "less than the finished thickness",
		"[[width]]\nfrom_butt = 9\nwidth = 20\n":                                                         "less than the width",
		"[bar]\nlength = 200\n":                                                                          "the piece alone",
		"[bar]\nlenth = 200\n":                                                                           "did you mean bar.length?",
	} {
		_, err := ParseMeasured("m.toml", []byte(text), k)
		assert.ErrorContains(t, err, why)
	}
}

// TestRedundantDimensions: parts against their sum, and radius against width and depth.
// The last two are a published case: a sword read with a fuller 3 mm deep in each face
// of a blade 4.5 mm thick, which is impossible (Wallace Collection A.459, figures by an
// author who handled it, read).
func TestRedundantDimensions(t *testing.T) {
	for name, row := range map[string]struct {
		change func(k *Knife)
		want   string
	}{
		"steps and tang":  {func(k *Knife) { k.Shoulder.Top, k.Shoulder.Bottom = Some(8), Some(3) }, "add up to"},
		"width":           {func(k *Knife) { k.Fullers[0].Width = Some(9) }, "a difference of"},
		"end and length":  {func(k *Knife) { k.Fullers[0].Length = Some(90) }, "a difference of"},
		"bevel":           {func(k *Knife) { k.Bevel.Angle = Some(10 * math.Pi / 180) }, "a difference of"},
		"two laws":        {func(k *Knife) { k.Fullers[0].Web = Some(3) }, "exactly one of depth, web and ratio"},
		"no end":          {func(k *Knife) { k.Fullers[0].End = Optional{} }, "needs an end or a length"},
		"too deep":        {func(k *Knife) { k.Blade.Thickness = 4.5; k.Fullers[0].Radius = 21; k.Fullers[0].Depth = Some(3) }, "go through a blade"},
		"deeper than R":   {func(k *Knife) { k.Fullers[0].Radius = 0.9 }, "walls stand upright"},
		"short run-out":   {func(k *Knife) { k.Fullers[0].RunOutRadius = Some(3) }, "at least the radius of the groove"},
		"clip too long":   {func(k *Knife) { k.Clip.Length = 195 }, "the clip must end before the plunge line"},
		"point too low":   {func(k *Knife) { k.Clip.Drop = 40 }, "below the edge"},
		"belly too blunt": {func(k *Knife) { k.Edge.PointAngle = 0.2 }, "must meet the point at more than"},
		"sharp choil":     {func(k *Knife) { k.Ricasso.Width = Some(30) }, "sharp inside corner"},
		"corner too wide": {func(k *Knife) { k.Tang.CornerRadius = 11 }, "inside corner must fit"},
		"wide tang":       {func(k *Knife) { k.Tang.Width = 40 }, "wider than the ricasso"},
		"stations":        {func(k *Knife) { k.Taper = []TaperStation{{100, 5}, {90, 4}} }, "stations must ascend"},
		"hollow":          {func(k *Knife) { k.Bevel.Kind = HollowBevel }, "needs the radius of its wheel"},
		"small bar":       {func(k *Knife) { k.Bar.Width = Some(30) }, "needs"},
		"swollen clip":    {func(k *Knife) { k.Clip.Sag = -30 }, "can swell by at most"},
	} {
		k := testKnife()
		require.NoError(t, k.Validate())
		row.change(&k)
		assert.ErrorContains(t, k.Validate(), row.want, name)
	}
}

// TestRunOutsMustFit: a fuller shorter than its run-outs is refused.
func TestRunOutsMustFit(t *testing.T) {
	k := testKnife()
	k.Fullers[0].Ends, k.Fullers[0].End = VisibleEnds, Some(40)
	_, err := Build(k, Measured{})
	assert.ErrorContains(t, err, "its run-outs")
}

// TestForgottenUnit: a file in inches that does not say so gets one fault that tells, over
// those of each length.
func TestForgottenUnit(t *testing.T) {
	data, _ := templates.Pattern("minnow")
	_, err := Parse("knife.toml", bytes.Replace(data, []byte(`units = "in"`), nil, 1))
	var faults document.FieldErrors
	require.ErrorAs(t, err, &faults)
	assert.Contains(t, faults[0].Error(), `begin the file with units = "in"`)
	_, err = Parse("knife.toml", bytes.Replace(data, []byte(`units = "in"`), []byte(`units = "mm"`), 1))
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "begin the file", "they were named")
}

func FuzzParse(f *testing.F) {
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		k, err := Parse("k.toml", data)
		if err != nil {
			if k.Blade.Length != 0 {
				t.Fatal("an error and a knife")
			}
			return
		}
		if b, err := Build(k, Measured{}); err == nil && !(b.Outline.Area() > 0) {
			t.Fatalf("an outline of %g mm2", b.Outline.Area())
		}
	})
}

func BenchmarkOutline(b *testing.B) {
	k := parsePattern(b, "tarn")
	for b.Loop() {
		_, err := k.outline()
		require.NoError(b, err)
	}
}

func BenchmarkBuildBlade(b *testing.B) {
	k := parsePattern(b, "tarn")
	for b.Loop() {
		_, err := Build(k, Measured{})
		require.NoError(b, err)
	}
}
