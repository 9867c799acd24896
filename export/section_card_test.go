package export

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/templates"
)

// cutPaths returns the outlines that a sheet of gauges is cut to.
func cutPaths(pages []sheet.Sheet) []sheet.Path {
	var out []sheet.Path
	for _, s := range pages {
		for _, l := range s.Layers {
			for _, item := range l.Items {
				if p, ok := item.(sheet.Path); ok && l.ID == "cut" {
					out = append(out, p)
				}
			}
		}
	}
	return out
}

// TestCardsFitTheSections: for every pattern, every gauge as drawn on paper lies on the
// face of its section within 0.01 mm, from edge to back, and leaves the steel free.
func TestCardsFitTheSections(t *testing.T) {
	for _, name := range templates.Names() {
		b := pattern(t, name)
		o := planOptions(t, "A4")
		pages, err := SectionCards(b, o)
		require.NoError(t, err)
		ruler, err := sheet.NewRuler()
		require.NoError(t, err)
		all := cards(b, pencil{nil, ruler, o.Lengths, cardText}, o.Digest)
		paths := cutPaths(pages)
		require.Len(t, paths, len(all))
		require.NotEmpty(t, all)
		for i, c := range all {
			chain, err := geom.NewChain(paths[i].Pieces...)
			require.NoError(t, err)
			require.True(t, chain.Closed())
			assert.Empty(t, chain.SelfCrossings())
			box := chain.Bounds()
			origin := geom.Point{X: box.Min.X + cardReach, Y: box.Max.Y - cardHook}
			section := b.CrossSectionAt(c.station.X)
			const n = 97
			for j := 1; j < n; j++ {
				y := section.Bottom + (section.Top-section.Bottom)*float64(j)/n
				half := section.Half(c.face, y)
				at := geom.Point{X: origin.X + half, Y: origin.Y + y - section.Top}
				assert.False(t, chain.Contains(geom.Point{X: at.X - 0.01, Y: at.Y}), "%s %s: card in the steel at %.2f", name, c.station.Name, y)
				assert.True(t, chain.Contains(geom.Point{X: at.X + 0.01, Y: at.Y}), "%s %s: card off the steel at %.2f", name, c.station.Name, y)
			}
		}
	}
}

// TestCardByClosedForms: at the middle of a shallow fuller over a flat bevel the gauge is
// a line and an arc that a pocket calculator gives.
func TestCardByClosedForms(t *testing.T) {
	b := pattern(t, "tarn")
	for _, s := range PlanStations(b) {
		if s.Name != "middle of the fuller" {
			continue
		}
		c := card{station: s, section: b.CrossSectionAt(s.X), face: profile.Right, width: 40}
		_, face, err := c.outline()
		require.NoError(t, err)
		thick := b.Thickness(s.X)
		xAt := func(y float64) float64 {
			points := face.Sample(1e-4)
			for i, p := range points {
				if before := points[max(0, i-1)]; p.Y >= y && i > 0 {
					return before.X + (p.X-before.X)*(y-before.Y)/(p.Y-before.Y)
				}
			}
			return math.NaN()
		}
		bevel := func(over float64) float64 { return 0.25 + over*(thick-0.5)/2/16 } // edge 0.5 thick, bevel 16 high
		groove := func(aside float64) float64 { return thick/2 - 0.8 + 6 - math.Sqrt(36-aside*aside) }
		assert.InDelta(t, bevel(4), xAt(-26), 0.01)
		assert.InDelta(t, bevel(12), xAt(-18), 0.01)
		assert.InDelta(t, thick/2, xAt(-12), 0.01)
		assert.InDelta(t, groove(0), xAt(-7), 0.01)
		assert.InDelta(t, groove(2), xAt(-9), 0.01)
		assert.InDelta(t, thick/2, xAt(-2), 0.01)
	}
}

func TestCardTextsAreClear(t *testing.T) {
	for _, name := range templates.Names() {
		for _, paper := range Papers() {
			o := planOptions(t, paper.Name)
			o.Lengths = ShopFraction
			pages, err := SectionCards(pattern(t, name), o)
			require.NoError(t, err)
			for n, s := range pages {
				requireClear(t, s, shopLetter, planFrame, fmt.Sprintf("%s gauges on %s, page %d", name, paper.Name, n+1))
			}
		}
	}
}
