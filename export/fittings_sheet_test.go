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
	"fullerwright/profile/strength"
	"fullerwright/templates"
)

func TestFittingsTextsAreClear(t *testing.T) {
	for _, name := range templates.Names() {
		for _, paper := range Papers() {
			o := planOptions(t, paper.Name)
			o.Lengths = DecimalInch
			pages, err := FittingsSheet(pattern(t, name), o)
			require.NoError(t, err, "%s on %s", name, paper.Name)
			for n, s := range pages {
				requireClear(t, s, shopLetter, planFrame-0.5, fmt.Sprintf("%s fittings on %s, page %d", name, paper.Name, n+1))
			}
		}
	}
}

// TestFittingsSayTheSlot: slot, drill and thread follow from tang, clearance and the
// thread's published sizes; a measured tang overrides the drawn one.
func TestFittingsSayTheSlot(t *testing.T) {
	b := pattern(t, "tarn") // tang 13.5 by 4.8, clearance 0.02, M6 with a hole 17 deep
	pages, err := FittingsSheet(b, planOptions(t, "A3"))
	require.NoError(t, err)
	said := saidOn(pages...)
	for _, want := range []string{"13.54", "4.84", "46", "14", "slot 13.54 x 4.84", "tang as drawn: measure it", "17", "tap M6x1, drill 5.0 mm", "front rim 0.8 x 45°", "Tang in slot (100:1)"} {
		assert.True(t, said[want], want)
	}
	measured := b.Knife
	real, err := profile.Build(measured, profile.Measured{TangWidth: profile.Some(13.4), TangThickness: profile.Some(4.71)})
	require.NoError(t, err)
	pages, err = FittingsSheet(real, planOptions(t, "A3"))
	require.NoError(t, err)
	said = saidOn(pages...)
	for _, want := range []string{"slot 13.44 x 4.75", "tang 13.4 x 4.71", "tang as measured"} {
		assert.True(t, said[want], want)
	}
}

// TestOutlineOfOval: the cubics of an oval lie within 0.03 % of its half axes of the
// ellipse, and hold its area within a thousandth.
func TestOutlineOfOval(t *testing.T) {
	pieces := outlineOf(profile.Oval, 30, 70)
	for _, piece := range pieces {
		for i := range 33 {
			p := piece.At(float64(i) / 32)
			assert.InDelta(t, 1, math.Hypot(p.X/15, p.Y/35), 3e-4)
		}
	}
	chain, err := geom.NewChain(pieces...)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Pi*15*35, chain.Area(), 1e-3)
}

func TestDetailScale(t *testing.T) {
	assert.Equal(t, 100.0, detailScale(0.02, 1.5))
	assert.Equal(t, 50.0, detailScale(0.03, 1.5))
	assert.Equal(t, 1.0, detailScale(2, 1.5))
	assert.Equal(t, 2000.0, detailScale(0.001, 1.5))
}

// TestDrillRow: the holes of a row lie within the slot, a file's stroke from its ends,
// and do not run into each other.
func TestDrillRow(t *testing.T) {
	for _, c := range []struct{ drill, length float64 }{{4.5, 13.54}, {2.1, 22.3}, {6, 6.2}, {3, 7}} {
		s := sheet.Sheet{Title: "x", Width: 100, Height: 100}
		pencil{sheet: &s}.drillRow(geom.Point{X: 50, Y: 50}, 1, strength.Slot{Drill: c.drill, Length: c.length})
		var places []float64
		for _, l := range s.Layers {
			for _, item := range l.Items {
				places = append(places, item.(sheet.Path).Pieces[0].(geom.Arc).Centre.Y-50)
			}
		}
		for i, y := range places {
			assert.LessOrEqual(t, math.Abs(y)+c.drill/2, c.length/2-0.25+1e-9)
			if i > 0 {
				assert.GreaterOrEqual(t, y-places[i-1], c.drill+0.3-1e-9)
			}
		}
		if room := c.length - 0.5 - c.drill; room > 0 {
			assert.NotEmpty(t, places)
		}
	}
}
