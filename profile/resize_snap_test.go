package profile_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
)

// ownStores is a rack and a drawer of our own invention.
func ownStores() *profile.Stores {
	return &profile.Stores{
		Bars:  []profile.StockSize{{Thickness: 4, Width: 30}, {Thickness: 5, Width: 30}, {Thickness: 5, Width: 40}, {Thickness: 6, Width: 50}, {Thickness: 8}},
		Balls: []float64{2, 3, 5, 6, 6.5},
	}
}

// snapped returns the changes that were snapped, by their keys.
func snapped(changes []profile.Change) map[string]profile.Change {
	out := map[string]profile.Change{}
	for _, c := range changes {
		if c.Snapped {
			out[c.Key] = c
		}
	}
	return out
}

func tarn(t *testing.T, more string) []byte {
	t.Helper()
	data, ok := templates.Pattern("tarn")
	require.True(t, ok)
	return append(data[:len(data):len(data)], more...)
}

// TestStockIsSnapped: the nearest bar, the thicker of two as near, none where it is far,
// and the knife that comes of it needs that very bar.
func TestStockIsSnapped(t *testing.T) {
	for asked, want := range map[float64]float64{4.2: 4, 4.5: 5, 5.4: 5, 5: 5, 5.6: 6, 6.9: 6, 7.1: 8, 3: 3, 3.3: 3.3, 10: 10} {
		out, changes, err := profile.Resize("tarn", tarn(t, ""), profile.Resizing{Stock: asked, Stores: ownStores()})
		require.NoError(t, err)
		k, err := profile.Parse("tarn", out)
		require.NoError(t, err)
		assert.InDelta(t, want, profile.BarOf(k, profile.Measured{}).Thickness(0), 1e-5, "asked for %g", asked)
		c, was := snapped(changes)["bar.thickness"]
		assert.Equal(t, want != asked, was, "asked for %g", asked)
		if was {
			assert.Contains(t, c.Why, fmt.Sprintf("%.3f mm asked for", asked))
		}
	}
}

// TestBarIsSnappedWhereItNoLongerHolds: a bar that the file gives and that has become too
// narrow gives way to the next one of the rack; one that still holds the blade stays.
func TestBarIsSnappedWhereItNoLongerHolds(t *testing.T) {
	given := tarn(t, "\n[bar]\nwidth = 34\nthickness = 5.2 # as bought\n")
	resized := func(r profile.Resizing) (profile.Knife, []profile.Change) {
		r.Stores = ownStores()
		out, changes, err := profile.Resize("tarn", given, r)
		require.NoError(t, err)
		k, err := profile.Parse("tarn", out)
		require.NoError(t, err)
		assert.Contains(t, string(out), "# as bought")
		return k, changes
	}
	k, changes := resized(profile.Resizing{Width: 33}) // needs 37 x 5.2: the 5 is too thin
	assert.InDelta(t, 50, k.Bar.Width.Value, 1e-9)
	assert.InDelta(t, 5.2, k.Bar.Thickness.Value, 1e-9)
	assert.Contains(t, snapped(changes)["bar.width"].Why, "37.000 mm")
	k, changes = resized(profile.Resizing{Width: 29})
	assert.InDelta(t, 34, k.Bar.Width.Value, 1e-9, "what is on the rack stays")
	assert.Empty(t, snapped(changes))
	k, _ = resized(profile.Resizing{Length: 300, Width: 60}) // only the sheet is that wide
	assert.InDelta(t, 64, k.Bar.Width.Value, 1e-9)
	k, changes = resized(profile.Resizing{Width: 33, Follow: map[string]profile.ResizeClass{"blade.thickness": profile.Across}})
	assert.InDelta(t, 6, k.Bar.Thickness.Value, 1e-9)
	assert.Contains(t, snapped(changes), "bar.thickness")
	_, _, err := profile.Resize("tarn", given, profile.Resizing{Width: 33, Keep: []string{"bar.width"}, Stores: ownStores()})
	require.NoError(t, err)
}

// TestBarIsLengthened where it has become too short, to the next whole millimetre or
// sixteenth of an inch, unless it is to be kept; one that still holds the blade stays, on the
// way back too.
func TestBarIsLengthened(t *testing.T) {
	knife := tarn(t, "\n[bar]\nlength = 302 # of the rack\n")
	lengthened := func(data []byte, r profile.Resizing) (profile.Change, bool, []byte) {
		r.Stores = ownStores()
		out, changes, err := profile.Resize("tarn", data, r)
		require.NoError(t, err)
		c, was := snapped(changes)["bar.length"]
		return c, was, out
	}
	_, was, _ := lengthened(knife, profile.Resizing{Length: 180})
	assert.False(t, was, "290 mm of piece grow to 292, and 302 mm hold that with 5 mm at each end")
	c, was, out := lengthened(knife, profile.Resizing{Length: 190.25})
	assert.True(t, was)
	assert.Equal(t, 302.0, c.Was)
	assert.Equal(t, 313.0, c.Is, "302.25 mm of piece and twice 5 mm")
	assert.Contains(t, string(out), "length = 313 # of the rack")
	k, err := profile.Parse("tarn", out)
	require.NoError(t, err)
	assert.InDelta(t, 313, profile.BarOf(k, profile.Measured{}).Length(), 1e-9)
	_, was, out = lengthened(out, profile.Resizing{Length: 178})
	assert.False(t, was)
	assert.Contains(t, string(out), "length = 313 # of the rack")

	minnow, _ := templates.Pattern("minnow")
	inches := append(minnow[:len(minnow):len(minnow)], "\n[bar]\nlength = \"6 1/2 in\"\n"...)
	c, was, _ = lengthened(inches, profile.Resizing{Length: 3.5 * 25.4})
	assert.True(t, was)
	assert.InDelta(t, 6.6875*25.4, c.Is, 1e-9, "3 1/2 and 2 3/4 in and twice 5 mm: 6.644 in")

	out, _, err = profile.Resize("tarn", knife, profile.Resizing{Length: 190.25, Stores: ownStores(), Keep: []string{"bar.length"}})
	require.NoError(t, err)
	_, err = profile.Parse("tarn", out)
	assert.ErrorContains(t, err, "the blade with its allowances needs 312.250 mm, 10.250 mm more")
}

// TestBarThatIsLeftOut: which bar holds the blade is told, and nothing is written.
func TestBarThatIsLeftOut(t *testing.T) {
	out, changes, err := profile.Resize("tarn", tarn(t, ""), profile.Resizing{Width: 36, Stores: ownStores()})
	require.NoError(t, err)
	assert.NotContains(t, string(out), "[bar]")
	last := changes[len(changes)-1]
	assert.Equal(t, "bar.width", last.Key)
	assert.True(t, last.LeftOut)
	assert.False(t, last.Snapped)
	assert.InDelta(t, 40, last.Is, 1e-9)
	assert.Contains(t, last.Why, "50.000 mm")
	_, changes, err = profile.Resize("tarn", tarn(t, ""), profile.Resizing{Width: 29, Stock: 5, Stores: &profile.Stores{
		Bars: []profile.StockSize{{Thickness: 5, Width: 60}, {Thickness: 5, Width: 35}, {Thickness: 5, Width: 40}}}})
	require.NoError(t, err)
	var whys []string
	for _, c := range changes {
		whys = append(whys, c.Why)
	}
	assert.Contains(t, strings.Join(whys, "\n"), "35.000 mm holds it", "the narrowest that does")
}

// TestRadiusIsSnapped: only where it follows a class, only down, only a little, and with
// what sanding takes added to the ball.
func TestRadiusIsSnapped(t *testing.T) {
	across := map[string]profile.ResizeClass{"fuller.radius": profile.Across}
	for _, row := range []struct {
		width  float64
		follow map[string]profile.ResizeClass
		more   string
		want   float64 // radius of the groove
		snap   bool
	}{
		{34, nil, "", 6, false},
		{34, across, "", 6.5, true},                               // 6.8
		{31, across, "", 6, true},                                 // 6.2, no larger cutter
		{30, across, "", 6, false},                                // as it was
		{40, across, "", 8, false},                                // the next ball is far
		{34, across, "\n[allowance]\nsanding = 0.1\n", 6.6, true}, // 6.5 and what sanding takes
		{32.4, across, "\n[allowance]\nsanding = 0.1\n", 6.1, true},
	} {
		out, changes, err := profile.Resize("tarn", tarn(t, row.more), profile.Resizing{Width: row.width, Follow: row.follow, Stores: ownStores()})
		require.NoError(t, err)
		k, err := profile.Parse("tarn", out)
		require.NoError(t, err)
		assert.InDelta(t, row.want, k.Fullers[0].Radius, 1e-6, "%+v", row)
		assert.Equal(t, row.snap, snapped(changes)["fuller[1].radius"].Snapped, "%+v", row)
		f := k.Fullers[0]
		assert.InDelta(t, profile.GrooveWidth(f.Radius, f.Depth.Value), f.Width.Value, 0.05, "half a unit of the digit that the file writes")
	}
}

// TestThreadFollows: to the nearest standard thread of its own system, written in place.
func TestThreadFollows(t *testing.T) {
	follow := map[string]profile.ResizeClass{"tang.thread": profile.Across}
	for _, row := range []struct {
		thread string
		width  float64 // from 30
		want   string
		snap   bool
	}{
		{"M6x1", 30 * 8.0 / 6, "M8x1.25", false},
		{"M6x1", 33, "M6x1", true},         // 6.6
		{"M6", 33, "M6", true},             // its own name for it stays
		{"M6x1", 24, "M5x0.8", true},       // 4.8
		{"1/4-20", 24, "10-24", true},      // 5.08 mm; as coarse
		{"1/4-28", 24, "10-32", true},      // as fine
		{"1/4-20", 37.5, "5/16-18", false}, // five sixteenths
	} {
		data := []byte(strings.Replace(string(tarn(t, "")), `"M6x1"`, `"`+row.thread+`"`, 1))
		out, changes, err := profile.Resize("tarn", data, profile.Resizing{Width: row.width, Follow: follow})
		require.NoError(t, err)
		assert.Contains(t, string(out), `thread        = "`+row.want+`"`, "%+v", row)
		assert.Equal(t, row.snap, snapped(changes)["tang.thread"].Snapped, "%+v", row)
	}
	out, _, err := profile.Resize("tarn", tarn(t, ""), profile.Resizing{Width: 40, Stores: ownStores()})
	require.NoError(t, err)
	assert.Contains(t, string(out), `"M6x1"`, "unasked it stays")
}

// TestScaleIsNotSnapped: a scale is a similarity whatever the shop has.
func TestScaleIsNotSnapped(t *testing.T) {
	given := tarn(t, "\n[bar]\nwidth = 34\nthickness = 5.2\n")
	with, changes, err := profile.Resize("tarn", given, profile.Resizing{Scale: 1.13, Stores: ownStores()})
	require.NoError(t, err)
	without, _, err := profile.Resize("tarn", given, profile.Resizing{Scale: 1.13})
	require.NoError(t, err)
	assert.Equal(t, string(without), string(with))
	assert.Empty(t, snapped(changes))
}

// TestThereAndBackBesideStores: where nothing is snapped, the stores change no byte. A
// width that follows from radius and depth comes back as those make it: within half a unit
// of the digit that the file wrote.
func TestThereAndBackBesideStores(t *testing.T) {
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		k, err := profile.Parse(name, data)
		require.NoError(t, err)
		there, changes, err := profile.Resize(name, data, profile.Resizing{Length: k.Blade.Length * 1.25, Width: k.Blade.Width * 1.1, Stores: ownStores()})
		require.NoError(t, err)
		require.Empty(t, snapped(changes), name)
		back, _, err := profile.Resize(name, there, profile.Resizing{Length: k.Blade.Length, Width: k.Blade.Width, Stores: ownStores()})
		require.NoError(t, err)
		if len(k.Fullers) > 0 && k.Fullers[0].Width.Known {
			again, err := profile.Parse(name, back)
			require.NoError(t, err)
			assert.InDelta(t, k.Fullers[0].Width.Value, again.Fullers[0].Width.Value, 0.05, name)
			continue
		}
		assert.Equal(t, string(data), string(back), name)
	}
}
