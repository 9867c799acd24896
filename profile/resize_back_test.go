package profile_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/templates"
)

// everyStyle is a knife of our own invention whose lengths are typed in every way that a
// knife file takes, in inches, with some defaults left out and a Windows editor's line ends.
const everyStyle = "# as typed\r\nunits = \"in\"\r\n\r\n[blade]\r\nlength = \"7 1/64 in\" # from guard to point\r\nwidth=1.1875\r\n" +
	"thickness = 0.1875\r\nsteel = \"1095\"\r\n[[taper]]\r\nat = 4.109375\r\nthickness = '170 thou'\r\n[[taper]]\r\nat = \"16,0 cm\"\r\nthickness = 0.1200\r\n" +
	"[clip]\r\nlength = 2.70\r\ndrop = \"9.50 mm\"\r\n[false_edge]\r\nlength = \"2 1/2 in\"\r\nheight = \".1875 in\"\r\n[edge]\r\nbelly_length = 2\r\n" +
	"[ricasso]\r\nlength = \"5/8 in\"\r\n[bevel]\r\nheight = 0.625\r\nangle = 7.65\r\n[tang]\r\nwidth = \"1/2 in\"\r\nlength = \"4 1/2 in\"\r\nthread = \"1/4-20\"\r\nthread_length = 0.6\r\n" +
	"[[fuller]]\r\nradius = 0.236\r\ndepth = 0.03125\r\nwidth = \"0.235 in\"\r\nfrom_spine = \"7.0 mm\"\r\nstart = 0.875\r\nend = 4\r\nlength = 3.125\r\n"

// wholeFiles returns every pattern and everyStyle, that also with a hyphen in its fractions and
// a thread that goes without its pitch, by name.
func wholeFiles() map[string][]byte {
	hyphens := strings.NewReplacer("7 1/64", "7-1/64", "2 1/2", "2-1/2", "4 1/2", "4-1/2", "1/4-20", "M6").Replace(everyStyle)
	files := map[string][]byte{"every style": []byte(everyStyle), "hyphens": []byte(hyphens)}
	for _, name := range templates.Names() {
		files[name], _ = templates.Pattern(name)
	}
	return files
}

const inch = 25.4 // mm, exactly

// TestResizeThereAndBackGivesTheFileByteForByte, by every target and several, over one
// resized file to another too, whatever unit the target was typed in. (Over another one a
// value may by chance, about once in a thousand, come so near to its style that it is taken for
// one of it; these do not.)
func TestResizeThereAndBackGivesTheFileByteForByte(t *testing.T) {
	for name, data := range wholeFiles() {
		knife, err := profile.Parse(name, data)
		require.NoError(t, err)
		bar := profile.BarOf(knife, profile.Measured{}).Thickness(0)
		tang := knife.Tang.Length
		is := profile.Resizing{Length: knife.Blade.Length, Width: knife.Blade.Width, Overall: knife.Blade.Length + tang, Stock: bar, Scale: 1}
		for share, step := range map[float64]float64{0.6: 0.1, 0.73: inch / 64, 1.37: 0.1, 1.6: inch / 64} {
			to := func(mm float64) float64 { return math.Round(mm*share/step) * step }
			ways := map[string][]profile.Resizing{
				"length":              {{Length: to(is.Length)}, {Length: to(is.Length * 1.17)}, {Length: is.Length}},
				"width":               {{Width: to(is.Width)}, {Width: to(is.Width * 1.17)}, {Width: is.Width}},
				"stock":               {{Stock: to(is.Stock)}, {Stock: to(is.Stock * 1.17)}, {Stock: is.Stock}},
				"overall":             {{Overall: to(is.Length) + tang}, {Overall: is.Overall}},
				"all together":        {{Length: to(is.Length), Width: to(is.Width), Stock: to(is.Stock)}, {Length: is.Length, Stock: is.Stock}, {Width: is.Width}},
				"scale":               {{Scale: share}, {Scale: 1.17}, {Scale: 1 / share / 1.17}},
				"scale of ten digits": {{Scale: share}, {Scale: math.Round(1e10/share) / 1e10}},
			}
			for way, steps := range ways {
				label, out := fmt.Sprintf("%s by %s at %g", name, way, share), data
				for _, r := range steps {
					if out, _, err = profile.Resize(name, out, r); err != nil {
						break // too small a step to be a knife, which another test tells
					}
				}
				if err == nil {
					assert.Equal(t, string(data), string(out), label)
				}
			}
		}
	}
}

// TestScaleIsATrueSimilarity for every pattern, in both units, with and without a thread.
func TestScaleIsATrueSimilarity(t *testing.T) {
	for name, data := range wholeFiles() {
		for _, s := range []float64{0.93, 1.07} {
			before, err := profile.Parse(name, data)
			require.NoError(t, err)
			out, _, err := profile.Resize(name, data, profile.Resizing{Scale: s})
			require.NoError(t, err)
			after, err := profile.Parse(name, out)
			require.NoError(t, err, "%s at %.2f", name, s)
			assertScaled(t, fmt.Sprintf("%s at %g", name, s), before, after, s)
		}
	}
}

// absent returns the groups of what a knife has not, whose defaults say nothing.
func absent(k profile.Knife) (out []string) {
	for group, has := range map[string]bool{"false_edge": k.FalseEdge.Length > 0, "second_edge": k.SecondEdge.Length > 0,
		"mark": k.Mark.Text != "", "outline": k.Outline.Hold != profile.NoOutline, "guard": k.Guard.Thickness > 0} {
		if !has {
			out = append(out, group)
		}
	}
	return out
}

func assertScaled(t *testing.T, label string, before, after profile.Knife, s float64) {
	t.Helper()
	was, err := profile.Build(before, profile.Measured{})
	require.NoError(t, err, label)
	is, err := profile.Build(after, profile.Measured{})
	require.NoError(t, err, label)
	for i, q := range before.Quantities() {
		if q.Kind == document.Length && !slices.Contains(absent(before), q.Group) {
			assert.InDelta(t, q.Of(before)*s, after.Quantities()[i].Of(after), 1e-9*math.Abs(q.Of(before))+1e-12, "%s: %s", label, q.Key)
		}
	}
	assert.InEpsilon(t, was.Outline.Area()*s*s, is.Outline.Area(), 1e-9, label)
	assert.InEpsilon(t, before.OverallLength()*s, after.OverallLength(), 1e-9, label)
	assert.InEpsilon(t, was.Bar.Width()*s, is.Bar.Width(), 1e-9, label)
	for i, part := range was.Parts(7.85) { // the threaded extension too
		assert.InEpsilon(t, part.Mass*s*s*s, is.Parts(7.85)[i].Mass, 1e-9, "%s: %s", label, part.Name)
	}
	for i := range 20 {
		x := before.Blade.Length * float64(i) / 20
		assert.InEpsilon(t, was.Bar.Thickness(x)*s, is.Bar.Thickness(x*s), 1e-9, label)
	}
}
