package export

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/templates"
)

// TestPointOnOutlineIsTheSolids: the silhouette seen from the point is as wide as the
// blade is thick where it is thickest, as high as the outline from the guard plane on, and
// no place of the solid stands out of it.
func TestPointOnOutlineIsTheSolids(t *testing.T) {
	for _, name := range templates.Names() {
		b := pattern(t, name)
		v := newPointOn(b)
		k := b.Knife
		thickest := k.Blade.Thickness
		for _, s := range k.Taper {
			thickest = math.Max(thickest, s.Thickness)
		}
		assert.InDelta(t, thickest, v.width, 1e-9, name)
		// Only the blade, cut off at the guard plane: its tang may not be higher.
		low, high := 0.0, 0.0
		for x := 1e-6; x < k.Blade.Length; x += 0.05 {
			low, high = math.Min(low, b.EdgeAt(x)), math.Max(high, b.BackAt(x))
		}
		assert.InDelta(t, high-low, v.height, 0.01, name)
		chain, err := geom.NewChain(sheet.Polyline(sheet.Pen{}, v.outline).Pieces...)
		require.NoError(t, err)
		require.True(t, chain.Closed())
		box := chain.Bounds()
		assert.InDelta(t, v.width, box.Max.X-box.Min.X, 1e-9, name)
		assert.InDelta(t, v.height, box.Max.Y-box.Min.Y, 1e-9, name)
		for x := 0.37; x < k.Blade.Length; x += 3.1 {
			c := b.CrossSectionAt(x)
			for i := 1; i < 12; i++ {
				y := c.Bottom + (c.Top-c.Bottom)*float64(i)/12
				if half := c.Half(profile.Right, y); half > 0.05 {
					assert.True(t, chain.Contains(geom.Point{X: -half + 0.04, Y: y}) && chain.Contains(geom.Point{X: half - 0.04, Y: y}), "%s: steel at %.1f, %.1f stands out", name, x, y)
				}
			}
		}
	}
}

// reaches reports whether one of several lines passes within 0.02 mm of a place.
func reaches(lines [][]geom.Point, at geom.Point) bool {
	for _, line := range lines {
		for i := 1; i < len(line); i++ {
			if geom.Distance(geom.Line{From: line[i-1], To: line[i]}, at) < 0.02 {
				return true
			}
		}
	}
	return false
}

// TestPointOnLinesByHand: for a plain blade the lines follow from the knife file by plain
// sums: the rims of the edge, 0.5 apart, from the edge up to the point; the bevel line, which
// follows the belly; the ridge of a two-edged blade on its middle; and nothing of what the
// steel in front hides.
func TestPointOnLinesByHand(t *testing.T) {
	v := newPointOn(pattern(t, "tarn")) // 30 wide, 4.8 thick, edge 0.5, point 9 under the spine, bevel 16, fuller 7 under it
	for _, side := range []float64{-1, 1} {
		for _, y := range []float64{-29.5, -20, -9.5} {
			assert.True(t, reaches(v.edges, geom.Point{X: side * 0.25, Y: y}), "rim of the edge at %g", y)
		}
		assert.True(t, reaches(v.edges, geom.Point{X: side * (2.4 - 0.2*14/104), Y: -14}), "bevel line where it leaves the plunge, 14 from the guard plane or a little more")
		assert.False(t, reaches(v.edges, geom.Point{X: side * (2.4 - 0.8), Y: -7}), "floor of the fuller")
	}
	// Both faces have a floor; the least half thickness there is the web's half at its
	// far end: 4.8 less 0.4/104 a millimetre at 97.12, less twice 0.8.
	require.Len(t, v.floors, 2)
	deepest := math.Inf(1)
	for _, line := range v.floors {
		for _, p := range line {
			deepest = math.Min(deepest, math.Abs(p.X))
		}
	}
	assert.InDelta(t, (4.8-0.4*97.12/104-1.6)/2, deepest, 0.005)
	// Shoulder 8 under the spine, tang 13.5 falling to 8, within the blade.
	require.Len(t, v.tang, 2)
	assert.InDelta(t, -8, v.tang[0][2].Y, 0.1)
	assert.InDelta(t, -21.5, v.tang[0][0].Y, 0.1)
	assert.InDelta(t, 8, v.tang[1][2].Y-v.tang[1][0].Y, 0.01)
	for _, line := range v.tang {
		for _, p := range line {
			assert.LessOrEqual(t, math.Abs(p.X), 2.4+1e-9)
		}
	}

	two := newPointOn(pattern(t, "osprey")) // two edges, 28 wide, its point on the middle
	assert.True(t, reaches(two.edges, geom.Point{X: 0.25, Y: -27}) || reaches(two.edges, geom.Point{X: 0.2, Y: -27}), "rim of an edge")
	symmetric := 0
	for _, line := range two.edges {
		for _, p := range line {
			if reaches(two.edges, geom.Point{X: -p.X, Y: p.Y}) {
				symmetric++
			} else {
				t.Errorf("the left face has no line at %v", p)
			}
		}
	}
	assert.Positive(t, symmetric)
}

// TestPointOnHidesWhatIsBehind: every place of every visible line is on the solid's face,
// and no place of the solid in front of it stands as far out, by a search of its own.
func TestPointOnHidesWhatIsBehind(t *testing.T) {
	recurved := pattern(t, "tarn").Knife
	recurved.Edge.Recurve = 3
	drawnIn, err := profile.Build(recurved, profile.Measured{})
	require.NoError(t, err)
	for name, b := range map[string]profile.Blade{"tarn": pattern(t, "tarn"), "kite": pattern(t, "kite"), "osprey": pattern(t, "osprey"), "recurved": drawnIn} {
		s := newSight(b)
		hidden, seen := 0, 0
		for _, line := range edgesOf(b, s, profile.Right) {
			visible := s.stretches(profile.Right, line, true)
			for i := 0; i < len(line); i += 5 {
				e := line[i]
				assert.InDelta(t, b.HalfThickness(profile.Right, e.x, e.at.Y), -e.at.X, 1e-9, name)
				front := 0.0
				for x := e.x + 0.5; x < b.Knife.Blade.Length; x += 0.43 {
					front = math.Max(front, b.HalfThickness(profile.Right, x, e.at.Y))
				}
				switch {
				case front > e.half+0.03:
					hidden++
					assert.False(t, runsThrough(visible, e.at), "%s: %v is hidden by %.3f", name, e, front)
				case front < e.half-0.03:
					seen++
				}
			}
		}
		assert.Positive(t, seen, name)
		if name == "recurved" { // the belly stands before the middle of the edge
			assert.Positive(t, hidden)
		}
	}
}

// runsThrough reports whether a place is one of those of the visible stretches.
func runsThrough(visible [][]geom.Point, at geom.Point) bool {
	for _, run := range visible {
		if slices.Contains(run, at) {
			return true
		}
	}
	return false
}

// TestPointOnProjection: beside the side view, at its scale and height, the view from the
// point stands on the side of the point in third-angle projection and on the other in
// first-angle, with the right face to the left in both. Where it stands apart, an arrow and
// a letter say from where it is seen.
func TestPointOnProjection(t *testing.T) {
	b := pattern(t, "tarn")
	k := b.Knife
	k.Fullers = nil
	plain, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	for _, first := range []bool{false, true} {
		o := planOptions(t, "A3")
		o.FirstAngle = first
		pages, err := Plan(plain, o)
		require.NoError(t, err)
		side := pathOn(t, pages[0], "outline", 500).Bounds()
		end := endOn(t, pages[0], 4.8, 30)
		assert.InDelta(t, side.Max.Y, end.MaxY, 1e-6, "spine level with spine")
		assert.InDelta(t, side.Min.Y, end.MinY, 1e-6)
		if first {
			assert.Less(t, end.MaxX, side.Min.X)
		} else {
			assert.Greater(t, end.MinX, side.Max.X)
		}
		assert.False(t, saidOn(pages...)[pointOnLetter])
	}
	pages, err := Plan(plain, planOptions(t, "A4")) // too small for true size
	require.NoError(t, err)
	said := saidOn(pages[0])
	assert.True(t, said[pointOnLetter], "the letter at the arrow")
	found := false
	for text := range saidOn(pages[1:]...) {
		found = found || text == "P (1:1)" || text == "P (2:1)"
	}
	assert.True(t, found, "the view, with its scale")
}

// endOn returns the box of the closed outline of a page that is as wide and as high as given.
func endOn(t *testing.T, s sheet.Sheet, width, height float64) sheet.Box {
	t.Helper()
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			path, ok := item.(sheet.Path)
			if !ok || layer.ID != "outline" || path.Pen.Width != edgePen.Width {
				continue
			}
			chain, err := geom.NewChain(path.Pieces...)
			require.NoError(t, err)
			if box := boxOf(chain); math.Abs(box.MaxX-box.MinX-width) < 1e-6 && math.Abs(box.MaxY-box.MinY-height) < 1e-6 {
				return box
			}
		}
	}
	t.Fatal("no view from the point")
	return sheet.Box{}
}

// TestPointOnOpenFuller: of a fuller that is open toward the point no floor is drawn where
// there is no blade.
func TestPointOnOpenFuller(t *testing.T) {
	b := pattern(t, "curlew")
	v := newPointOn(b)
	deepest := math.Inf(1)
	for _, line := range append(append([][]geom.Point{}, v.floors...), floorLine(b)) {
		for _, p := range line {
			deepest = math.Min(deepest, math.Abs(p.X))
		}
	}
	least := math.Inf(1)
	for x := b.Fullers[0].StartFull; x <= b.Fullers[0].EndFull; x += 0.5 {
		least = math.Min(least, b.SectionAt(0, x).Web/2)
	}
	assert.InDelta(t, least, deepest, 0.02)
}

// floorLine returns the line of the floor of the first fuller in the right face.
func floorLine(b profile.Blade) (out []geom.Point) {
	for _, e := range floorOf(b, 0, profile.Right) {
		out = append(out, e.at)
	}
	return out
}

// TestPointOnRightFaceIsLeft: a fuller in the right face alone is seen on the left.
func TestPointOnRightFaceIsLeft(t *testing.T) {
	k := pattern(t, "tarn").Knife
	k.Fullers[0].Faces = "right"
	b, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	v := newPointOn(b)
	require.Len(t, v.floors, 1)
	for _, p := range v.floors[0] {
		assert.Negative(t, p.X)
	}
}
