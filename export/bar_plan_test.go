package export

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
)

// barred returns the default pattern cut from a bar of the given size.
func barred(t *testing.T, length, width, thickness float64, measured profile.Measured) profile.Blade {
	k := pattern(t, "tarn").Knife
	k.Bar.Length, k.Bar.Width, k.Bar.Thickness = profile.Some(length), profile.Some(width), profile.Some(thickness)
	b, err := profile.Build(k, measured)
	require.NoError(t, err)
	return b
}

// TestBarWeights: bars of published weight. A flat of 1 1/2 by 1/4 inch weighs 1.275
// pounds a foot (trade table, 0.2833 pounds a cubic inch, rounded); 300 by 40 by 6 mm at
// 7.85 g/cm³ is 565.2 g by hand.
func TestBarWeights(t *testing.T) {
	const foot, pound, tableDensity = 304.8, 453.59237, 0.2833 * 453.59237 / 16.387064
	b := barred(t, foot, 1.5*25.4, 0.25*25.4, profile.Measured{})
	assert.InDelta(t, 1.275, barVolume(b.Bar)/1000*tableDensity/pound, 0.0005)
	assert.InDelta(t, 565.2, barVolume(barred(t, 300, 40, 6, profile.Measured{}).Bar)/1000*7.85, 1e-9)
}

// TestBarAsMeasured: a bar that is 6 mm thick at one end and 5 at the other, even
// outside the readings, has the volume of its trapezoid.
func TestBarAsMeasured(t *testing.T) {
	b := barred(t, 300, 40, 6, profile.Measured{Thickness: []profile.MeasuredStation{{FromButt: 50, Value: 6}, {FromButt: 250, Value: 5.5}}})
	assert.InDelta(t, 40*(50*6+200*5.75+50*5.5), barVolume(b.Bar), 1e-6)
	pages, err := BarPlan(b, planOptions(t, "A4"))
	require.NoError(t, err)
	assert.True(t, saidOn(pages...)["300 x 40 x 5.5 to 6 mm, as measured"], "%v", saidOn(pages...))
}

// TestBarGroundFirst: what is bought is told with parallel faces, as ordered, also once the
// ground bar is measured, and under it to what the faces are ground.
func TestBarGroundFirst(t *testing.T) {
	b := barred(t, 300, 40, 6, profile.Measured{Thickness: []profile.MeasuredStation{{FromButt: 100, Value: 5.25}}})
	k := b.Knife
	k.Bar.Tapered = profile.TaperedBefore
	k.Allowance = profile.Allowance{CleanUp: 0.1}
	b, err := b.With(k)
	require.NoError(t, err)
	assert.InDelta(t, 300*40*6, barVolume(b.Bar.Bought()), 1e-6)
	pages, err := BarPlan(b, planOptions(t, "A4"))
	require.NoError(t, err)
	said := saidOn(pages...)
	assert.True(t, said["300 x 40 x 6 mm, as ordered, or the least that will do; measure it"], "%v", said)
	// The ricasso of 4.8 mm keeps 0.1 mm a face; it measures 0.25 mm more, as the taper does.
	assert.True(t, said["0 mm from the butt: 5.25 thick, 0.38 off each face"], "%v", said)
}

// TestBillet: what the fire leaves of the billet is the bar.
func TestBillet(t *testing.T) {
	o := planOptions(t, "A4")
	o.ScaleLoss = 0.2
	pages, err := BarPlan(barred(t, 300, 40, 6, profile.Measured{}), o)
	require.NoError(t, err)
	said := saidOn(pages...)
	assert.True(t, said["90.0 cm³, 706 g (24.9 oz), for a scale loss of 20.0 %"], "72 cm³ over 0.8: %v", said)
	assert.True(t, said["or 375 mm of the bar's own section; dross and crop ends come on top"], "%v", said)
}

// TestClampZones: clamps keep clear of every place of either face that is milled, and of
// a knife without fullers may stand all along.
func TestClampZones(t *testing.T) {
	for _, name := range templates.Names() {
		b := pattern(t, name)
		zones := clampZones(b)
		require.NotEmpty(t, zones)
		if len(b.Fullers) == 0 {
			assert.Equal(t, []interval{{b.Bar.Butt, b.Bar.Front}}, zones)
		}
		for _, z := range zones {
			for i := range 61 {
				x := z.least - 9 + (z.most-z.least+18)*float64(i)/60
				for y := b.Bar.Bottom; y <= b.Bar.Top; y += 0.5 {
					for _, face := range profile.Faces() {
						if b.FullerSurface(face).Height(x, y) != b.Stock().Height(x, y) {
							t.Errorf("%s at %.1f: milled within 9 mm of a clamp", name, x)
						}
					}
				}
			}
		}
	}
}

func TestBarTextsAreClear(t *testing.T) {
	for _, name := range templates.Names() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b := pattern(t, name)
			for _, paper := range Papers() {
				if paper.Name != "A4" && name != templates.Default {
					continue
				}
				o := planOptions(t, paper.Name)
				o.Lengths, o.ScaleLoss = ShopFraction, 0.07
				pages, err := BarPlan(b, o)
				require.NoError(t, err)
				for n, s := range pages {
					requireClear(t, s, shopLetter, planFrame-0.5, fmt.Sprintf("%s bar on %s, page %d", name, paper.Name, n+1))
				}
			}
		})
	}
}
