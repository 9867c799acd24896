package toolpath

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/templates"
)

// resizedPatterns returns every pattern in several sizes, made by resizing, as far as they
// are knives at all.
func resizedPatterns(t *testing.T) map[string]profile.Knife {
	t.Helper()
	out := map[string]profile.Knife{}
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		k, err := profile.Parse(name, data)
		require.NoError(t, err)
		bar := profile.BarOf(k, profile.Measured{})
		for _, share := range [][3]float64{ // of length, width and stock
			{1.6, 1, 1}, {1, 1.4, 1}, {1, 1, 1.5}, {0.6, 1.3, 0.8}, {0.7, 0.75, 1.3}, {1.4, 0.8, 0.75},
		} {
			r := profile.Resizing{Length: math.Round(k.Blade.Length * share[0]), Width: math.Round(k.Blade.Width * share[1]),
				Stock: math.Round(bar.Thickness(0)*share[2]*10) / 10}
			resized, _, err := profile.Resize(name, data, r)
			require.NoError(t, err, name)
			if other, err := profile.Parse(name, resized); err == nil {
				out[fmt.Sprintf("%s at %v", name, share)] = other
			}
		}
	}
	return out
}

// troubled returns knives that have each what the patterns have not.
func troubled() map[string]profile.Knife {
	out := map[string]profile.Knife{}
	with := func(name string, change func(k *profile.Knife)) {
		k := testKnife()
		k.Tang.Thread, k.Tang.ThreadLength = "M6x1", 18
		k.Guard = profile.Guard{Length: 40, Width: 14, Thickness: 6, Material: "brass", Chamfer: 1, Clearance: 0.02}
		k.Handle = profile.Handle{Length: 84, Width: 28, Thickness: 20, Material: "hardwood"}
		k.Pommel = profile.Pommel{Length: 20, Width: 28, Thickness: 20, Material: "brass", HoleDepth: 19}
		change(&k)
		out[name] = k
	}
	f := func(k *profile.Knife) *profile.FullerSize { return &k.Fullers[0] }
	with("start at the shoulder", func(k *profile.Knife) { f(k).Start = profile.Some(11) })
	with("start at the plunge line", func(k *profile.Knife) { f(k).Ends, f(k).Start = profile.VisibleEnds, profile.Some(10.5) })
	with("end at the clip", func(k *profile.Knife) { f(k).Ends, f(k).End = profile.VisibleEnds, profile.Some(110.4) })
	with("end at the clip, by length", func(k *profile.Knife) {
		f(k).Ends, f(k).End, f(k).Length = profile.VisibleEnds, profile.Optional{}, profile.Some(85)
	})
	with("end at the clip, full depth", func(k *profile.Knife) { f(k).End = profile.Some(100) })
	with("under the false edge", func(k *profile.Knife) {
		f(k).End = profile.Some(125)
		k.FalseEdge = profile.FalseEdge{Length: 50, Height: profile.Some(3), Thickness: 1}
	})
	with("leaning up", func(k *profile.Knife) { f(k).FromSpineEnd = profile.Some(6) })
	with("leaning down", func(k *profile.Knife) { f(k).FromSpineEnd = profile.Some(16) })
	with("thin web", func(k *profile.Knife) { f(k).Depth, f(k).Web = profile.Optional{}, profile.Some(1.3) })
	with("two near each other", func(k *profile.Knife) {
		k.Fullers[0].Radius, k.Fullers[0].Depth, k.Fullers[0].FromSpine = 3, profile.Some(0.4), 6
		k.Fullers = append(k.Fullers, k.Fullers[0])
		k.Fullers[1].FromSpine = 9.1
	})
	with("beside the choil", func(k *profile.Knife) {
		k.Fullers[0].Start, k.Fullers[0].FromSpine = profile.Some(22), 15
		k.Ricasso = profile.Ricasso{Length: 20, Choil: 14.5}
	})
	with("hollow", func(k *profile.Knife) { k.Bevel.Kind, k.Bevel.WheelRadius = profile.HollowBevel, profile.Some(12) })
	with("bevel by angle", func(k *profile.Knife) {
		k.Bevel.Height, k.Bevel.Angle = profile.Optional{}, profile.Some(24*float64(geom.Degree))
	})
	with("sharp corner", func(k *profile.Knife) { k.Tang.CornerRadius = 0.3 })
	with("rod too long", func(k *profile.Knife) { k.Tang.ThreadLength = 30 })
	with("rod too short", func(k *profile.Knife) { k.Tang.ThreadLength = 8 })
	with("hole too shallow", func(k *profile.Knife) { k.Pommel.HoleDepth = 6 })
	with("thin pommel", func(k *profile.Knife) { k.Pommel.Thickness = 7 })
	with("no chamfer", func(k *profile.Knife) { k.Guard.Chamfer = 0 })
	with("low step", func(k *profile.Knife) { k.Shoulder.Top = profile.Some(17) })
	with("low step above", func(k *profile.Knife) { k.Tang.CornerRadius, k.Shoulder.Top = 0.6, profile.Some(0.7) })
	with("low step below", func(k *profile.Knife) { k.Tang.CornerRadius, k.Shoulder.Bottom = 0.6, profile.Some(0.7) })
	with("low steps", func(k *profile.Knife) { k.Tang.Width = 32.6 })
	with("no shoulder", func(k *profile.Knife) { k.Tang.Width = 34 })
	with("short tang", func(k *profile.Knife) { k.Tang.Length = 40 })
	with("narrow tang", func(k *profile.Knife) { k.Tang.Width, k.Tang.EndWidth = 10, 8 })
	return out
}

// named returns the check of a name.
func named(checks []Check, name string) (Check, bool) {
	for _, c := range checks {
		if c.Name == name {
			return c, true
		}
	}
	return Check{}, false
}

// TestWaysDo: each way out of each check on the blade, tried alone, does away with it, in
// the built-in shop and in one with narrow limits.
func TestWaysDo(t *testing.T) {
	narrow := builtInShop(t)
	l := &narrow.Limits
	l.Web, l.WebRatio, l.DepthRatio, l.SpineLand, l.BevelLand = 2.9, 0.55, 0.2, 5.5, 3.3
	l.BevelLeast, l.BevelMost = 0.09, 0.15
	l.EdgeBeforeQuench, l.PointThickness, l.TangRatio, l.PommelWall = 0.9, 2, 0.5, 8
	tried := map[string]int{}
	for i, shop := range []Shop{builtInShop(t), narrow} {
		for _, knives := range []map[string]profile.Knife{resizedPatterns(t), troubled()} {
			for label, k := range knives {
				for key, n := range tryWays(t, fmt.Sprintf("%s, shop %d", label, i), k, shop, !strings.Contains(label, " at [") || strings.Contains(label, "[0.6")) {
					tried[key] += n
				}
			}
		}
	}
	for _, key := range []string{"bevel.angle", "bevel.edge_thickness", "bevel.height", "bevel.wheel_radius", "fuller[1].depth", "fuller[1].end",
		"fuller[1].from_spine", "fuller[1].from_spine_end", "fuller[1].length", "fuller[1].ratio", "fuller[1].start", "fuller[1].web",
		"fuller[2].from_spine", "guard.chamfer", "pommel.hole_depth", "pommel.thickness", "ricasso.choil", "shoulder.bottom", "shoulder.top",
		"tang.corner_radius", "tang.length", "tang.thread_length", "tang.width", "taper[2].thickness"} {
		assert.Positive(t, tried[key], "%s is not tried by anything", key)
	}
}

// tryWays tries every way out of the checks on a knife and counts them by their keys.
// Those that are looked for take longer: they are tried on the whole of it alone.
func tryWays(t *testing.T, label string, k profile.Knife, shop Shop, whole bool) map[string]int {
	t.Helper()
	blade, err := profile.Build(k, profile.Measured{})
	if err != nil {
		return nil
	}
	tried := map[string]int{}
	for _, c := range DesignChecks(blade, shop) {
		for _, way := range c.guesses { // they are right by themselves
			after := c.trial.with(way)
			_, there := named(after.checks, c.Name)
			assert.True(t, after.ok && !there, "%s: %s: %+v", label, c, way)
		}
		if !whole {
			continue
		}
		for _, way := range c.Ways() {
			tried[way.Key]++
			if len(way.Also) > 0 {
				continue
			}
			if k.Units == document.Inch && profile.KindOf(way.Key) == document.Length {
				tenths := way.Value / document.Inch.Millimetres() * 1e4
				assert.InDelta(t, math.Round(tenths), tenths, 1e-3, "%s: %s: %+v has more than four decimals", label, c, way)
			}
			mended, err := k.Put(way.Key, way.Value)
			if !assert.NoError(t, err, "%s: %s: %+v", label, c, way) {
				continue
			}
			again, err := profile.Build(mended, profile.Measured{})
			if !assert.NoError(t, err, "%s: %s: %+v", label, c, way) {
				continue
			}
			if is, there := named(DesignChecks(again, shop), c.Name); there {
				assert.Equal(t, OK, is.Verdict, "%s: %s: %+v: %s", label, c, way, is)
			}
			for _, other := range Stops(DesignChecks(again, shop)) {
				assert.True(t, stops(Stops(DesignChecks(blade, shop)), other.Name), "%s: %s: %+v: %s", label, c, way, other)
			}
		}
	}
	return tried
}
