package export_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export"
	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/match"
	"fullerwright/templates"
)

// matchedTarn is the default pattern at a length, measured at 29 stations, two of them
// wrong.
func matchedTarn(t *testing.T, length float64) (match.Measurements, match.Matched) {
	t.Helper()
	data, _ := templates.Pattern(templates.Default)
	data, _, err := profile.Resize("tarn", data, profile.Resizing{Length: length})
	require.NoError(t, err)
	k, err := profile.Parse("tarn", data)
	require.NoError(t, err)
	blade, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	var table strings.Builder
	table.WriteString("x_mm,spine,edge,thickness\n")
	for i := range 29 {
		x := -80 + 0.5 + (length+74)/28*float64(i)
		wrong := map[int]float64{12: 2, 20: -1.5}[i]
		wave := 0.05 * math.Sin(float64(17*i))
		thickness := k.TangThickness(x)
		if x >= 0 {
			thickness = k.Thickness(x)
		}
		fmt.Fprintf(&table, "%g,%.3f,%.3f,%.3f\n", x, blade.BackAt(x)+wave+wrong, blade.EdgeAt(x)-wave, thickness+wave)
	}
	m, err := match.ParseStations("points.csv", []byte(table.String()), "")
	require.NoError(t, err)
	found, err := match.Match(m, []match.Family{{Name: "tarn", Data: data}}, match.Options{})
	require.NoError(t, err)
	return m, found
}

// TestMatchPicture: every reading is drawn, those that are wrong are ringed and listed, no
// writing runs over another or off the sheet, and the same match is the same drawing.
func TestMatchPicture(t *testing.T) {
	m, found := matchedTarn(t, 178)
	s := export.MatchPicture(m, found)
	count := map[string]int{}
	for _, layer := range s.Layers {
		count[layer.ID] = len(layer.Items)
	}
	assert.Equal(t, 2*29, count["readings"])
	assert.Equal(t, 2*29, count["distances"])
	assert.Equal(t, 2*2*2, count["wrong"], "two readings, a ring and a number each, at the outline and in the chart")
	assertLegible(t, s)
	first, err := sheet.SVG(s)
	require.NoError(t, err)
	second, err := sheet.SVG(export.MatchPicture(m, found))
	require.NoError(t, err)
	assert.Equal(t, string(first), string(second))
	assert.Contains(t, string(first), "(line 14): off by +")
}

// TestMatchPictureListsEveryRing: with more wrong readings and more parameters than usual,
// each number at a ring is explained, on the sheet.
func TestMatchPictureListsEveryRing(t *testing.T) {
	m, found := matchedTarn(t, 178)
	for i := range found.Fit.Residuals {
		if i%5 == 0 {
			found.Fit.Residuals[i].Aside, found.Fit.Residuals[i].Distance = true, 2
		}
	}
	require.Greater(t, len(found.Fit.Wrong()), 8)
	for len(found.Fit.Parameters) < 28 {
		found.Fit.Parameters = append(found.Fit.Parameters, found.Fit.Parameters[0])
	}
	s := export.MatchPicture(m, found)
	texts, boxes, err := s.TextBoxes()
	require.NoError(t, err)
	ringed, listed := map[string]bool{}, map[string]bool{}
	for i, text := range texts {
		assert.True(t, boxes[i].MinY >= 2 && boxes[i].MaxX <= s.Width-2, "%q runs off the sheet", text.Content)
		if number, _, is := strings.Cut(text.Content, "  "); is && strings.Contains(text.Content, "off by") {
			listed[number] = true
		}
		if text.Bold && len(text.Content) == 1 {
			ringed[text.Content] = true
		}
	}
	assert.Len(t, ringed, 8)
	assert.Equal(t, ringed, listed)
}

// TestMatchPictureOfASword: nor does it on a blade of a sword's length, or a short one.
func TestMatchPictureOfASword(t *testing.T) {
	for _, length := range []float64{120, 850} {
		assertLegible(t, export.MatchPicture(matchedTarn(t, length)))
	}
}

func assertLegible(t *testing.T, s sheet.Sheet) {
	t.Helper()
	texts, boxes, err := s.TextBoxes()
	require.NoError(t, err)
	for i, box := range boxes {
		assert.True(t, box.MinX >= 2 && box.MinY >= 2 && box.MaxX <= s.Width-2 && box.MaxY <= s.Height-2, "%q runs off the sheet", texts[i].Content)
		for j := range i {
			assert.False(t, box.Overlaps(boxes[j]), "%q runs over %q", texts[i].Content, texts[j].Content)
		}
	}
}
