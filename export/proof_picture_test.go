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
	"fullerwright/toolpath/proof"
)

// lies is a face of bar or blank given by its height.
type lies func(x, y float64) float64

func (l lies) Height(x, y float64) float64 { return l(x, y) }

// longName is as long as a maker may want it, with letters outside ASCII.
const longName = "Großer Jagdnicker für Åse Østergård, Ausführung mit Hohlkehle"

func builtInShop(t testing.TB) toolpath.Shop {
	shop, err := toolpath.ParseShop("shop.toml", templates.Shop())
	require.NoError(t, err)
	return shop
}

// drilledBlank is the proof of a slot in a blank in whose middle a hole of 4 mm went right
// through before, 2 mm below its underside, as a drill does.
func drilledBlank(t testing.TB, b profile.Blade, step toolpath.Step) toolpath.FaceProof {
	slot, has := b.GuardSlot(0.8)
	require.True(t, has)
	half := geom.Point{X: slot.BlankLength / 2, Y: slot.BlankWidth / 2}
	grid := proof.GridOver(proof.Box{MinX: -half.X, MinY: -half.Y, MaxX: half.X, MaxY: half.Y}, 0.2)
	m := proof.NewMap(grid, lies(func(x, y float64) float64 {
		if math.Hypot(x, y) < 2 {
			return -slot.Thickness/2 - 2
		}
		return slot.Thickness / 2
	}))
	for row := range grid.Rows {
		for column := range grid.Columns {
			if math.IsInf(slot.Low(grid.X(column), grid.Y(row)), -1) {
				m.Height[row*grid.Columns+column] = min(m.At(column, row), -slot.Thickness/2-0.5)
			}
		}
	}
	return toolpath.FaceProof{Step: step, Map: m, Target: proof.Exactly(lies(slot.Low))}
}

// TestProofPictureOfADrilledBlank: the sections of a slot stay in their frames where a
// hole was drilled before, and are as deep as the blank is thick.
func TestProofPictureOfADrilledBlank(t *testing.T) {
	b := built(t, []byte(everyOperation), "")
	p := drilledBlank(t, b, toolpath.Step{Operation: toolpath.Slot})
	s := ProofPicture(b, builtInShop(t), p, 0)
	requireSectionsInFrames(t, s, 3)
	texts, _ := textBoxesOf(s)
	deep := 0
	for _, text := range texts {
		if text.Content == "depth 6.000 mm" {
			deep++
		}
	}
	assert.Equal(t, 3, deep, "the guard is 6 mm thick")
}

// requireSectionsInFrames asserts that no line of the sections leaves the frames, which
// are as many as said.
func requireSectionsInFrames(t *testing.T, s sheet.Sheet, frames int) {
	t.Helper()
	var boxes []sheet.Box
	var lines []geom.Piece
	for _, layer := range s.Layers {
		if layer.ID != "sections" {
			continue
		}
		for _, item := range layer.Items {
			path, ok := item.(sheet.Path)
			if !ok || path.Fill != "" {
				continue
			}
			if path.Pen.Width == sectionFrame.Width {
				box := sheet.Box{MinX: path.Pieces[0].Start().X, MinY: path.Pieces[0].Start().Y, MaxX: path.Pieces[1].End().X, MaxY: path.Pieces[1].End().Y}
				boxes = append(boxes, box)
				continue
			}
			lines = append(lines, path.Pieces...)
		}
	}
	require.Len(t, boxes, frames)
	require.NotEmpty(t, lines)
	for _, line := range lines {
		in := false
		for _, box := range boxes {
			of := line.Bounds()
			in = in || of.Min.X > box.MinX-1e-9 && of.Max.X < box.MaxX+1e-9 && of.Min.Y > box.MinY && of.Max.Y < box.MaxY
		}
		require.True(t, in, "%+v", line)
	}
}

// TestProofPictureLooksWhereItIsCut: of a shoulder's corners, whose cut is a few
// millimetres of the bar, the sections run through what was cut and the map shows what
// lies around it.
func TestProofPictureLooksWhereItIsCut(t *testing.T) {
	b := built(t, []byte(everyOperation), "")
	face := b.Bar.Face(0)
	grid := proof.GridOver(proof.Box{MinX: -40, MinY: -30, MaxX: 40, MaxY: 3}, 0.2)
	m := proof.NewMap(grid, lies(func(x, y float64) float64 { return face }))
	inCorner := func(x, y float64) bool {
		return x > -2 && x < 0 && (math.Abs(y+7) < 1 || math.Abs(y+20) < 0.5)
	}
	design := lies(func(x, y float64) float64 {
		if inCorner(x, y) {
			return -face
		}
		return face
	})
	for row := range grid.Rows {
		for column := range grid.Columns {
			m.Height[row*grid.Columns+column] = design(grid.X(column), grid.Y(row))
		}
	}
	p := toolpath.FaceProof{Step: toolpath.Step{Operation: toolpath.Shoulders, Face: profile.Right, Corner: 1}, Map: m, Target: proof.Exactly(design)}
	row, columns, ok := mostCut(m)
	require.True(t, ok)
	assert.True(t, inCorner(grid.X(columns[0]), grid.Y(row)) && inCorner(grid.X(columns[1]), grid.Y(row)))
	d := newDeviation(p, 0.005, 0.005, 273, 60)
	for _, to := range []struct{ want, is float64 }{{-2 - aroundMilled, grid.X(d.columns[0])}, {aroundMilled, grid.X(d.columns[1])}, {-20.5 - aroundMilled, grid.Y(d.rows[0])}} {
		assert.InDelta(t, to.want, to.is, 3*grid.Step)
	}
	s := ProofPicture(b, builtInShop(t), p, 0)
	requireSectionsInFrames(t, s, 3)
	for _, layer := range s.Layers {
		for _, item := range layer.Items {
			if text, ok := item.(sheet.Text); ok {
				assert.NotContains(t, text.Content, "-0 ", "no negative zero")
			}
		}
	}
}

// TestProofPictureOfALongName: words keep clear of each other and of the edge of the page.
func TestProofPictureOfALongName(t *testing.T) {
	b := built(t, []byte(strings.Replace(everyOperation, "Everything that a bench mill can be asked for, in one knife", longName, 1)), "")
	for _, step := range []toolpath.Step{{Operation: toolpath.Slot}, {Operation: toolpath.Slot, Corner: 1}} {
		s := ProofPicture(b, builtInShop(t), drilledBlank(t, b, step), 0)
		requireClear(t, s, 2.2, pictureMargin-4, step.String())
		texts, _ := textBoxesOf(s)
		assert.Contains(t, texts[0].Content, "Hohlkehle", "the whole name")
	}
}
