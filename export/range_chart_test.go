package export

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/templates"
	"fullerwright/toolpath"
)

// assertReadable holds that every text of a sheet lies on it, and that no two lie on each
// other.
func assertReadable(t *testing.T, s sheet.Sheet, what string) {
	t.Helper()
	texts, boxes, err := s.TextBoxes()
	require.NoError(t, err, what)
	for i, a := range boxes {
		assert.True(t, a.MinX >= 0 && a.MinY >= 0 && a.MaxX <= s.Width && a.MaxY <= s.Height, "%s: %q leaves the sheet", what, texts[i].Content)
		for j, b := range boxes[:i] {
			assert.False(t, a.Overlaps(b), "%s: %q lies on %q", what, texts[i].Content, texts[j].Content)
		}
	}
	_, err = sheet.SVG(s)
	require.NoError(t, err, what)
}

// lines returns the straight pieces of a layer.
func lines(s sheet.Sheet, layer string) []geom.Line {
	var out []geom.Line
	for _, l := range s.Layers {
		if l.ID != layer {
			continue
		}
		for _, item := range l.Items {
			if p, ok := item.(sheet.Path); ok {
				for _, piece := range p.Pieces {
					if line, straight := piece.(geom.Line); straight {
						out = append(out, line)
					}
				}
			}
		}
	}
	return out
}

// tilted is a map whose measure is x + 2y; designs with x + y over a bar are stopped.
func tilted(columns, rows int, bar float64) MapChart {
	c := MapChart{Title: "Tilted plane", X: ChartAxis{Name: "x", Unit: "mm"}, Y: ChartAxis{Name: "y", Unit: "mm"}, Measure: ChartMeasure{Name: "height", Unit: "mm"}}
	for i := range columns {
		c.X.Values = append(c.X.Values, float64(i))
	}
	for j := range rows {
		c.Y.Values = append(c.Y.Values, float64(j))
	}
	for _, x := range c.X.Values {
		for _, y := range c.Y.Values {
			c.Measure.Values = append(c.Measure.Values, x+2*y)
			v := ChartVerdict{Verdict: toolpath.OK}
			if x+y > bar {
				v = ChartVerdict{toolpath.Stop, "too far out"}
			}
			c.Verdicts = append(c.Verdicts, v)
		}
	}
	return c
}

// TestContoursOfAPlane: the lines of a plane are straight, and at the height they say.
func TestContoursOfAPlane(t *testing.T) {
	c := tilted(13, 9, 14)
	s := c.Sheet()
	f := field{MapChart: c, box: frameOf(s)}
	least, most := c.Measure.bounds()
	levels, _ := ticks(least, most, 14)
	seen := map[float64]bool{}
	for _, l := range lines(s, "contours") {
		for _, p := range []geom.Point{l.From, l.To} {
			height := unscaled(f.X, p.X, f.box.MinX, f.box.MaxX) + 2*unscaled(f.Y, p.Y, f.box.MinY, f.box.MaxY)
			nearest := levels[0]
			for _, v := range levels {
				if math.Abs(v-height) < math.Abs(nearest-height) {
					nearest = v
				}
			}
			assert.InDelta(t, nearest, height, 1e-9)
			seen[nearest] = true
		}
	}
	assert.Equal(t, map[float64]bool{5: true, 10: true, 15: true, 20: true, 25: true}, seen)
}

// frameOf returns the frame of a map, the one rectangle of its layer.
func frameOf(s sheet.Sheet) sheet.Box {
	box := sheet.Box{MinX: math.Inf(1), MinY: math.Inf(1), MaxX: math.Inf(-1), MaxY: math.Inf(-1)}
	for _, l := range lines(s, "frames") {
		box = sheet.Box{MinX: min(box.MinX, l.From.X), MinY: min(box.MinY, l.From.Y), MaxX: max(box.MaxX, l.From.X), MaxY: max(box.MaxY, l.From.Y)}
	}
	return box
}

// unscaled takes a place on the paper back to the value of an axis whose steps are 1.
func unscaled(axis ChartAxis, at, from, to float64) float64 {
	return axis.Values[0] - 0.5 + (at-from)/(to-from)*float64(len(axis.Values))
}

// TestBorderOfTheFeasibleRegion: the border of the half of a chess board under its
// diagonal goes up and along once for every row and column.
func TestBorderOfTheFeasibleRegion(t *testing.T) {
	s := tilted(8, 8, 7).Sheet()
	box := frameOf(s)
	up, along := 0.0, 0.0
	for _, l := range lines(s, "feasible") {
		up += math.Abs(l.To.Y - l.From.Y)
		along += math.Abs(l.To.X - l.From.X)
	}
	assert.InDelta(t, (box.MaxY-box.MinY)*7/8, up, 1e-9)
	assert.InDelta(t, (box.MaxX-box.MinX)*7/8, along, 1e-9)
	assert.Empty(t, lines(tilted(8, 8, 100).Sheet(), "feasible"))
}

// TestSaddle: round a saddle the lines join what the mean of the corners joins.
func TestSaddle(t *testing.T) {
	c := tilted(2, 2, 10)
	for _, row := range []struct {
		corners []float64 // of x 0 with y 0 and 1, then of x 1
		joined  bool      // the low corner at 0, 0 with the one at 1, 1
	}{{[]float64{0, 3, 3, 0}, false}, {[]float64{0, 1.2, 1.2, 0}, true}} {
		c.Measure.Values = row.corners
		f := field{MapChart: c, box: sheet.Box{MaxX: 2, MaxY: 2}}
		pieces := f.across(1, 1, 1)
		require.Len(t, pieces, 2)
		// The pieces cut off the corners that are not joined.
		middle := geom.Point{X: (pieces[0][0].X + pieces[0][1].X) / 2, Y: (pieces[0][0].Y + pieces[0][1].Y) / 2}
		nearLow := math.Min(math.Hypot(middle.X-0.5, middle.Y-0.5), math.Hypot(middle.X-1.5, middle.Y-1.5))
		nearHigh := math.Min(math.Hypot(middle.X-0.5, middle.Y-1.5), math.Hypot(middle.X-1.5, middle.Y-0.5))
		assert.Equal(t, row.joined, nearHigh < nearLow)
	}
}

func TestTicks(t *testing.T) {
	for _, row := range []struct {
		least, most float64
		wanted      int
		want        []float64
		decimals    int
	}{
		{0, 10, 5, []float64{0, 2, 4, 6, 8, 10}, 0},
		{0.13, 0.62, 5, []float64{0.2, 0.3, 0.4, 0.5, 0.6}, 1},
		{-3, 3, 4, []float64{-2, 0, 2}, 0},
		{99.5, 100.5, 10, []float64{99.5, 99.6, 99.7, 99.8, 99.9, 100, 100.1, 100.2, 100.3, 100.4, 100.5}, 1},
		{5, 5, 4, []float64{5}, 3},
	} {
		got, decimals := ticks(row.least, row.most, row.wanted)
		assert.InDeltaSlice(t, row.want, got, 1e-9)
		assert.Equal(t, row.decimals, decimals)
	}
	assert.Equal(t, "0.0", sayTick(-1e-17, 1))
}

// curves is a chart of measures of every kind: smooth, broken, constant and none.
func curves(n int) CurveChart {
	c := CurveChart{Title: "A chart of " + strings.Repeat("many words ", 12), Axes: []ChartAxis{{Name: "fuller[1].depth", Unit: "mm"}, {Name: "bevel.height", Unit: "mm"}}}
	smooth, broken, constant := ChartMeasure{Name: "smooth", Unit: "g", Target: profile.Some(40)}, ChartMeasure{Name: "broken", Unit: "mm"}, ChartMeasure{Name: "constant", Unit: "%"}
	for i := range n {
		x := float64(i) / float64(n)
		c.Along = append(c.Along, x)
		c.Axes[0].Values, c.Axes[1].Values = append(c.Axes[0].Values, 2-x), append(c.Axes[1].Values, 16+1e-3*x)
		smooth.Values, constant.Values = append(smooth.Values, 10*x*x), append(constant.Values, 100)
		v, b := ChartVerdict{Verdict: toolpath.OK}, x
		switch {
		case x > 0.8:
			v, b = ChartVerdict{Obstacle: "no such knife, " + strings.Repeat("for a long reason ", 10)}, math.NaN()
		case x > 0.6:
			v = ChartVerdict{toolpath.Stop, "web, fuller 1"}
		case x > 0.5:
			v = ChartVerdict{Verdict: toolpath.Caution}
		}
		c.Verdicts, broken.Values = append(c.Verdicts, v), append(broken.Values, b)
	}
	c.Measures = []ChartMeasure{smooth, broken, constant}
	c.Marks = []ChartMark{{Along: 0.1, Label: "now"}, {Along: 0.55, Label: "answer", Bold: true}}
	return c
}

func TestChartsAreReadable(t *testing.T) {
	for _, n := range []int{2, 3, 40} {
		assertReadable(t, curves(n).Sheet(), "curves")
	}
	// A measure that is not there leaves a gap and not a line to nowhere.
	c := curves(40)
	for _, l := range lines(c.Sheet(), "curves") {
		assert.Less(t, math.Abs(l.To.X-l.From.X), 10.0)
	}
	for _, m := range []MapChart{tilted(2, 2, 1), tilted(13, 9, 14), tilted(40, 3, 5)} {
		now := geom.Point{X: 1, Y: 1}
		m.Start = &now
		assertReadable(t, m.Sheet(), "map")
	}
	assertReadable(t, TradeOff{Knife: "Tarn", Along: c.Along, Axes: c.Axes, Verdicts: c.Verdicts, Measures: c.Measures, Now: 0.1, Answer: 0.4, Found: true}.Sheet(), "trade-off")
}

// TestChartsWithNothingToMeasure: where no design can be, the chart still shows that, and
// says why in words that are whole.
func TestChartsWithNothingToMeasure(t *testing.T) {
	const why = "fuller[1].depth: two fullers … mm deep go through a blade … mm thick … mm from the guard plane"
	c := curves(5)
	c.Measures = nil
	m := tilted(3, 3, 1)
	for i := range c.Verdicts {
		c.Verdicts[i] = ChartVerdict{Obstacle: why}
	}
	for i := range m.Verdicts {
		m.Verdicts[i], m.Measure.Values[i] = ChartVerdict{Obstacle: why}, math.NaN()
	}
	for name, s := range map[string]sheet.Sheet{"curves": c.Sheet(), "map": m.Sheet()} {
		assertReadable(t, s, name)
		texts, _ := textBoxesOf(s)
		all := ""
		for _, text := range texts {
			all += text.Content + "\n"
		}
		assert.Contains(t, all, why+"\n", name)
		assert.NotContains(t, all, "hardly moves", name)
		shaded := false
		for _, layer := range s.Layers {
			for _, item := range layer.Items {
				path, ok := item.(sheet.Path)
				shaded = shaded || ok && layer.ID == "verdicts" && path.Fill != "" && path.Pieces[0].Length() > 50
			}
		}
		assert.True(t, shaded, "%s shows what cannot be", name)
	}
}

// TestTradeOffSaysAll: title and notes are whole and inside the margins however long they are,
// a measure that the change does not move is named and not drawn, and one that is aimed at is.
func TestTradeOffSaysAll(t *testing.T) {
	c := curves(40)
	long := "a measure of a name so long that it does not go into one line with another as long"
	moving, still := c.Measures[0], c.Measures[2]
	moving.Name, moving.Target = long, profile.Some(0.5)
	aimedStill := still
	still.Name = "what does not move"
	aimedStill.Name, aimedStill.Target = "what is aimed at and does not move", profile.Some(1)
	s := TradeOff{Knife: "Tarn", Along: c.Along, Axes: c.Axes, Verdicts: c.Verdicts, Measures: []ChartMeasure{moving, aimedStill, still}, Now: 0.1, Answer: 0.4, Found: true}.Sheet()
	assertReadable(t, s, "trade-off")
	texts, boxes, err := s.TextBoxes()
	require.NoError(t, err)
	all, frames := "", ""
	for i, text := range texts {
		assert.LessOrEqual(t, boxes[i].MaxX, s.Width-chartMargin+3, text.Content)
		all += text.Content + " "
	}
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			if text, is := item.(sheet.Text); is && layer.ID == "frames" {
				frames += text.Content
			}
		}
	}
	assert.Contains(t, all, long+", what is aimed at and does not move and what it costs")
	assert.Contains(t, all, "Not moved by it: what does not move.")
	one, _, err := TradeOff{Knife: "Tarn", Along: c.Along, Axes: c.Axes, Verdicts: c.Verdicts, Measures: []ChartMeasure{moving, still}, Reached: true}.Sheet().TextBoxes()
	require.NoError(t, err)
	says := ""
	for _, text := range one {
		says += text.Content + " "
	}
	assert.Contains(t, says, "The target is reached where the line of "+long+" meets it and no check stops.")
	assert.NotContains(t, frames, still.Name)
	assert.Contains(t, frames, aimedStill.Name)
}

// TestBandsCoverTheirDesigns: the shaded part of each panel is the part of designs that are
// not ok.
func TestBandsCoverTheirDesigns(t *testing.T) {
	c := curves(41)
	s := c.Sheet()
	shaded := 0.0
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			if p, ok := item.(sheet.Path); ok && layer.ID == "verdicts" && p.Fill != "" && len(p.Pieces) == 4 {
				a, b := p.Pieces[0].Start(), p.Pieces[1].End()
				shaded += (b.X - a.X) * (b.Y - a.Y)
			}
		}
	}
	bad := 0.0
	for i, v := range c.Verdicts {
		if v.Verdict != toolpath.OK {
			bad++
			if i == len(c.Verdicts)-1 {
				bad -= 0.5 // the last design has room on one side only
			}
		}
	}
	panels, area := 0, 0.0
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			if p, ok := item.(sheet.Path); ok && layer.ID == "frames" {
				panels++
				area += (p.Pieces[1].End().X - p.Pieces[0].Start().X) * (p.Pieces[1].End().Y - p.Pieces[0].Start().Y)
			}
		}
	}
	require.Equal(t, len(c.Measures), panels)
	const legend = 3 * 6 * 3 // three looks of 6 by 3 mm
	assert.InEpsilon(t, area*bad/40+legend, shaded, 1e-9)
}

func TestOverlay(t *testing.T) {
	blades := map[string]profile.Blade{}
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		knife, err := profile.Parse(name, data)
		require.NoError(t, err)
		blades[name], err = profile.Build(knife, profile.Measured{})
		require.NoError(t, err)
	}
	for _, name := range templates.Names() {
		s := Overlay(blades["tarn"], blades[name], "tarn", name)
		assertReadable(t, s, "tarn and "+name)
		top := math.Inf(-1)
		for _, l := range lines(s, "sections") {
			if l.From.X != l.To.X || math.Abs(l.From.Y-l.To.Y) < 30 { // not the line that shows where a section is
				top = math.Max(top, math.Max(l.From.Y, l.To.Y))
			}
		}
		texts, boxes, err := s.TextBoxes()
		require.NoError(t, err)
		for i, text := range texts {
			if strings.HasPrefix(text.Content, "mm from the guard plane") {
				assert.Less(t, top, boxes[i].MinY, "the sections of %s lie under the scale", name)
			}
		}
	}
	// The guard planes lie on each other: both outlines touch the same upright line.
	a, b := blades["minnow"], blades["osprey"]
	v := overlayView([2]profile.Blade{a, b}, 180)
	assert.InDelta(t, v.at(geom.Point{}).X, v.origin.X, 1e-12)
	widest := math.Max(a.Outline.Bounds().Max.X, b.Outline.Bounds().Max.X)
	assert.LessOrEqual(t, v.at(geom.Point{X: widest}).X, overlaySheetWidth-chartMargin+1e-9)
	assert.LessOrEqual(t, v.scale, 1.0)
}
