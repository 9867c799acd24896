package export

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/templates"
)

// saidOn returns the texts of sheets.
func saidOn(pages ...sheet.Sheet) map[string]bool {
	out := map[string]bool{}
	for _, s := range pages {
		for _, layer := range s.Layers {
			for _, item := range layer.Items {
				if text, ok := item.(sheet.Text); ok {
					out[text.Content] = true
				}
			}
		}
	}
	return out
}

// TestPlanSaysWhatTheKnifeFileSays: the dimensions of the views follow from the knife
// file by plain sums.
func TestPlanSaysWhatTheKnifeFileSays(t *testing.T) {
	for _, name := range templates.Names() {
		b := pattern(t, name)
		k := b.Knife
		pages, err := Plan(b, planOptions(t, "A3"))
		require.NoError(t, err)
		said := saidOn(pages[0])
		say := func(name string, mm float64) {
			assert.True(t, said[name+" "+Millimetres.Thickness(mm)], "%s: %s %.2f", b.Knife.Name, name, mm)
		}
		say("blade", k.Blade.Length)
		say("point", k.Blade.Length)
		say("blade and tang", k.Blade.Length+k.Tang.Length)
		say("tang end", k.Tang.Length)
		say("plunge line", k.Ricasso.Length)
		say("clip start", k.Blade.Length-k.Clip.Length)
		say("width", k.Blade.Width)
		if k.Edge.BellyLength > 0 {
			say("belly", k.Blade.Length-k.Edge.BellyLength)
		}
		if k.FalseEdge.Length > 0 {
			say("false edge", k.Blade.Length-k.FalseEdge.Length)
		}
		if len(k.Fullers) == 1 && k.Fullers[0].Ends == profile.VisibleEnds && k.Fullers[0].Start.Known {
			say("fuller from", k.Fullers[0].Start.Value)
		}
		if k.Pommel.Length > 0 {
			say("overall", k.Blade.Length+math.Max(k.Tang.Length+k.Tang.ThreadLength, k.Guard.Thickness+k.Spacers.Thickness+k.Handle.Length+k.Pommel.Length))
		}
	}
}

// TestPlanShowsHolesAndMark: a hole in the tang is drawn at its place and size, one in the
// waste is not; the tables give both hole and mark.
func TestPlanShowsHolesAndMark(t *testing.T) {
	k := pattern(t, "tarn").Knife
	k.Holes = []profile.Hole{{At: -60, FromSpine: 14.75, Diameter: profile.Some(4), Face: "right"}, {At: -40, FromSpine: -30, Diameter: profile.Some(3), Face: "right"}}
	k.Mark = profile.Mark{Text: "TARN", Height: 3, Depth: 0.1, Radius: 0.25, Face: "right"}
	b, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	pages, err := Plan(b, planOptions(t, "A3"))
	require.NoError(t, err)
	said := saidOn(pages...)
	assert.True(t, said["hole 1 at 60"] && said["TARN"] && said["14.75"] && said["4.00"] && said["Mark, right face"], "%v", said)
	assert.False(t, said["hole 2 at 40"])
	drawn := pathOn(t, pages[0], "outline", 500).Bounds() // the outline, at true size
	holes, marks := 0, 0
	for _, layer := range pages[0].Layers {
		for _, item := range layer.Items {
			path, ok := item.(sheet.Path)
			if !ok || len(path.Pieces) == 0 {
				continue
			}
			if layer.ID == "mark" {
				marks++
			}
			if arc, ok := path.Pieces[0].(geom.Arc); ok && layer.ID == "outline" && math.Abs(arc.Radius-2) < 1e-9 {
				holes++
				assert.InDelta(t, 178+60, drawn.Max.X-arc.Centre.X, 1e-6)
				assert.InDelta(t, 14.75, drawn.Max.Y-arc.Centre.Y, 1e-6)
			}
		}
	}
	assert.Equal(t, 1, holes)
	assert.Positive(t, marks)
	requireClear(t, pages[0], planLetter, planFrame, "with a hole and a mark")
}

// pathOn returns the first closed path of a layer whose pen has the given width.
func pathOn(t *testing.T, s sheet.Sheet, layer string, least float64) geom.Chain {
	for _, l := range s.Layers {
		for _, item := range l.Items {
			if p, ok := item.(sheet.Path); ok && l.ID == layer && p.Pen.Width == edgePen.Width && len(p.Pieces) > 2 && math.Hypot(p.Pieces[0].Start().X-p.Pieces[len(p.Pieces)-1].End().X, p.Pieces[0].Start().Y-p.Pieces[len(p.Pieces)-1].End().Y) < 1e-6 {
				chain, err := geom.NewChain(p.Pieces...)
				require.NoError(t, err)
				if math.Abs(chain.Area()) > least {
					return chain
				}
			}
		}
	}
	t.Fatal("no closed path")
	return geom.Chain{}
}

// TestPlanIsTrueToScale: what is drawn has the area of the real thing times the square
// of the scale that the title block names, the outline as well as a section, whose area
// comes from integrals.
func TestPlanIsTrueToScale(t *testing.T) {
	for _, name := range []string{"tarn", "heron", "osprey", "dipper"} {
		b := pattern(t, name)
		for _, paper := range []string{"A3", "A4"} {
			pages, err := Plan(b, planOptions(t, paper))
			require.NoError(t, err)
			said := saidOn(pages[0])
			scale := 0.0
			for _, s := range scaleSeries {
				if said[sayScale(s)] {
					scale = s
				}
			}
			require.NotZero(t, scale)
			drawn := pathOn(t, pages[0], "outline", b.Outline.Area()*scale*scale/2)
			assert.InDelta(t, b.Outline.Area()*scale*scale, drawn.Area(), 1e-6, name)
		}
		for _, station := range PlanStations(b) {
			v, err := newSectionView(b, station, Millimetres, 2)
			require.NoError(t, err)
			assert.InEpsilon(t, 4*b.CrossSectionAt(station.X).Properties().Area, v.chain.Area(), 1e-6, "%s %s", name, station.Name)
			// Lines so far apart cover the area, but for what the ends of a few add or lack.
			covered := 0.0
			for _, piece := range hatchInside(hatchPen, v.chain, 0.5).Pieces {
				covered += 0.5 * piece.Length()
			}
			assert.InEpsilon(t, v.chain.Area(), covered, 0.03, "%s %s", name, station.Name)
			for _, piece := range hatchInside(hatchPen, v.chain, 1.8).Pieces {
				assert.InDelta(t, piece.End().X-piece.Start().X, piece.End().Y-piece.Start().Y, 1e-9, "hatching at 45 degrees")
				assert.True(t, v.chain.Contains(piece.At(0.5)))
			}
			assert.InDelta(t, 2*(b.CrossSectionAt(station.X).Top-b.CrossSectionAt(station.X).Bottom), v.box.MaxY-v.box.MinY, 1e-9)
		}
	}
}

// TestSectionDimensions: what is written at a section is what lies between the ends of
// the dimension at the scale of the drawing; and for a pattern whose knife file gives
// them, edge, bevel, width and place of the fuller are those figures.
func TestSectionDimensions(t *testing.T) {
	b := pattern(t, "tarn")
	for _, station := range PlanStations(b) {
		v, err := newSectionView(b, station, Millimetres, 2)
		require.NoError(t, err)
		all := map[string]bool{}
		for _, d := range append(append([]linear(nil), v.top...), v.foot...) {
			assert.Equal(t, Millimetres.Thickness(math.Abs(d.from.X-d.to.X)/2), d.text, station.Name)
			all[d.text] = true
		}
		for _, d := range append(append([]linear(nil), v.left...), v.right...) {
			assert.Equal(t, Millimetres.Thickness(math.Abs(d.from.Y-d.to.Y)/2), d.text, station.Name)
			all[d.text] = true
		}
		if station.Name == "middle of the fuller" {
			assert.True(t, all["0.5"] && all["16"] && all["30"] && all["7"], "%v", all)
			assert.True(t, all[Millimetres.Thickness(b.Thickness(station.X))])
			assert.Contains(t, v.captions[1], "("+Millimetres.Thickness(2*b.HalfThickness(profile.Right, station.X, -7))+")")
		}
	}
}

// empty returns a sheet with nothing on it.
func empty(s sheet.Sheet) sheet.Sheet {
	s.Layers = nil
	return s
}

// TestPlanPageSizes asks Poppler for the size of every page of a plan: ISO 216 and
// ANSI sizes laid across, in points.
func TestPlanPageSizes(t *testing.T) {
	pdfinfo := tool(t, "pdfinfo", "poppler-utils")
	b := pattern(t, "wren")
	for name, want := range map[string]string{"A4": "841.89 x 595.276", "A3": "1190.55 x 841.89", "Letter": "792 x 612", "Legal": "1008 x 612", "Tabloid": "1224 x 792"} {
		pages, err := Plan(b, planOptions(t, name))
		require.NoError(t, err)
		data, err := sheet.PDF(sheet.Document{Title: pages[0].Title}, []sheet.Sheet{pages[0], empty(pages[len(pages)-1])})
		require.NoError(t, err)
		path := filepath.Join(t.TempDir(), "plan.pdf")
		require.NoError(t, os.WriteFile(path, data, 0o644))
		out, err := exec.Command(pdfinfo, "-l", "9", path).CombinedOutput()
		require.NoError(t, err)
		assert.Equal(t, 2, strings.Count(string(out), want), "%s:\n%s", name, out)
		assert.Contains(t, string(out), "Plan: Wren")
	}
}

// TestPlanSameBytes: the same knife gives the same sheets.
func TestPlanSameBytes(t *testing.T) {
	first, err := Plan(pattern(t, "wren"), planOptions(t, "A4"))
	require.NoError(t, err)
	second, err := Plan(pattern(t, "wren"), planOptions(t, "A4"))
	require.NoError(t, err)
	for i, s := range first {
		data, err := sheet.SVG(s)
		require.NoError(t, err)
		again, err := sheet.SVG(second[i])
		require.NoError(t, err)
		assert.Equal(t, data, again)
	}
}

// TestPlanAtExtremeSizes: the shortest and the longest blades that a pattern is resized
// to, and a blade of nearly a metre.
func TestPlanAtExtremeSizes(t *testing.T) {
	for _, c := range []struct {
		name   string
		length float64
	}{{"minnow", 60}, {"tarn", 130}, {"heron", 420}, {"badger", 900}} {
		data, _ := templates.Pattern(c.name)
		resized, _, err := profile.Resize(c.name, data, profile.Resizing{Length: c.length})
		require.NoError(t, err)
		k, err := profile.Parse(c.name, resized)
		require.NoError(t, err)
		b, err := profile.Build(k, profile.Measured{})
		require.NoError(t, err)
		for i, paper := range Papers() {
			o := planOptions(t, paper.Name)
			o.Lengths, o.FirstAngle = ShopFraction, i%2 == 1
			pages, err := Plan(b, o)
			require.NoError(t, err)
			for n, s := range pages {
				where := fmt.Sprintf("%s at %.0f on %s, sheet %d", c.name, c.length, paper.Name, n+1)
				requireClear(t, s, planLetter, planFrame, where)
				requireOutsideTitleBlock(t, s, where)
			}
		}
	}
}

// TestPlanStations: letters follow from the tang to the point, no two stations lie close
// to each other, and all lie on the piece.
func TestPlanStations(t *testing.T) {
	for _, name := range templates.Names() {
		b := pattern(t, name)
		stations := PlanStations(b)
		require.GreaterOrEqual(t, len(stations), 4)
		for i, s := range stations {
			assert.Equal(t, string(rune('A'+i)), s.Letter)
			assert.False(t, b.CrossSectionAt(s.X).Empty(), "%s %s", name, s.Name)
			if i > 0 {
				assert.GreaterOrEqual(t, s.X-stations[i-1].X, b.Knife.Blade.Length/25-1e-9, "%s %s", name, s.Name)
			}
		}
	}
}
