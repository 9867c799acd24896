package sheet

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/geom"
)

func sample() Sheet {
	s := Sheet{Title: `A <sheet> & "more"`, Description: "for tests", Width: 120, Height: 80}
	s.Add("lines", "lines", Rectangle(Pen{Width: 0.2}, 10, 10, 100, 60), Line(Pen{Width: 0.2, Dash: []float64{4, 2}}, 10, 40, 110, 40),
		Circle(Pen{Width: 0.2}, geom.Point{X: 60, Y: 40}, 20), Filled("#3f76b5", Box{20, 20, 30, 30}), Hatch(Pen{Width: 0.1}, Box{20, 20, 30, 30}, 1))
	s.Add("words", "words", Text{At: geom.Point{X: 60, Y: 5}, Height: 3, Anchor: Middle, Content: "5 < 6 & Ø"}, Text{At: geom.Point{X: 8, Y: 40}, Height: 3, Upright: true, Content: "up"})
	return s
}

// TestSVGIsWellFormed: any XML reader reads it, and finds title, layers and words.
func TestSVGIsWellFormed(t *testing.T) {
	data, err := SVG(sample())
	require.NoError(t, err)
	decoder := xml.NewDecoder(bytes.NewReader(data))
	text := ""
	groups := 0
	for {
		token, err := decoder.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		switch v := token.(type) {
		case xml.StartElement:
			if v.Name.Local == "g" {
				groups++
			}
		case xml.CharData:
			text += string(v)
		}
	}
	assert.Equal(t, 2, groups)
	assert.Contains(t, text, `A <sheet> & "more"`)
	assert.Contains(t, text, "5 < 6 & Ø")
	assert.Contains(t, string(data), `width="120mm" height="80mm" viewBox="0 0 120 80"`)
	assert.Contains(t, string(data), `stroke-dasharray="4 2"`)
}

// TestPNG: opaque, as large as its dots an inch say, and they are recorded.
func TestPNG(t *testing.T) {
	data, err := PNG(sample(), 254)
	require.NoError(t, err)
	picture, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	assert.InDelta(t, 1200, picture.Bounds().Dx(), 1)
	assert.InDelta(t, 800, picture.Bounds().Dy(), 1)
	_, _, _, alpha := picture.At(2, 2).RGBA()
	assert.Equal(t, uint32(0xffff), alpha)
	at := bytes.Index(data, []byte("pHYs"))
	require.Positive(t, at)
	assert.Equal(t, uint32(10000), binary.BigEndian.Uint32(data[at+4:]), "254 dots an inch are 10000 a metre")
	// The left side of the rectangle, 10 mm in.
	dark := 0
	for x := 90; x < 110; x++ {
		if r, _, _, _ := picture.At(x, 300).RGBA(); r < 0x8000 {
			dark++
			assert.InDelta(t, 100, x, 2)
		}
	}
	assert.Positive(t, dark)
}

// TestDashesAreMillimetres: the dashes of a line in the picture are as long as asked,
// also where it is made of many short pieces that turn a little.
func TestDashesAreMillimetres(t *testing.T) {
	pen := Pen{Width: 0.5, Dash: []float64{4, 2}}
	var many []geom.Point
	for i := range 193 {
		many = append(many, geom.Point{X: 5 + float64(i)/4, Y: 5 + 0.001*float64(i%2)})
	}
	// The two halves of a path that was cut hang together in no way.
	cut := Line(pen, 5, 5, 29, 5)
	cut.Pieces = append(cut.Pieces, geom.Arc{Centre: geom.Point{X: 41, Y: 1e5 + 5}, Radius: 1e5, From: -90*geom.Degree - 12e-5, Sweep: 24e-5})
	for name, path := range map[string]Path{"a line and an arc": cut, "one piece": Line(pen, 5, 5, 53, 5), "many pieces": Polyline(pen, many)} {
		s := Sheet{Title: "dashes", Width: 60, Height: 10}
		s.Add("a", "a", path)
		data, err := PNG(s, 254)
		require.NoError(t, err)
		picture, err := png.Decode(bytes.NewReader(data))
		require.NoError(t, err)
		strokes, dark := 0, false
		for x := range picture.Bounds().Dx() {
			r, _, _, _ := picture.At(x, 50).RGBA()
			if now := r < 0x8000; now != dark {
				if now {
					strokes++
				}
				dark = now
			}
		}
		assert.Equal(t, 8, strokes, "%s: 48 mm of 4 on and 2 off", name)
	}
}

// TestLineThroughItsBeginning: a run of pieces that comes back to where it began, as one
// does that begins with a piece of no length to speak of, goes on from there.
func TestLineThroughItsBeginning(t *testing.T) {
	s := Sheet{Title: "begin", Width: 40, Height: 40}
	at := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	s.Add("a", "a", Polyline(Pen{Width: 0.5}, []geom.Point{at(20, 20), at(20, math.Nextafter(20, 21)), at(30, 20), at(30, 35)}))
	data, err := PNG(s, 254)
	require.NoError(t, err)
	picture, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	dark := func(x, y float64) bool {
		r, _, _, _ := picture.At(int(10*x), int(10*(s.Height-y))).RGBA()
		return r < 0x8000
	}
	assert.True(t, dark(25, 20) && dark(30, 30))
	for _, p := range []geom.Point{at(10, 10), at(15, 10), at(5, 5)} {
		assert.False(t, dark(p.X, p.Y), "%v", p)
	}
	for x := 0.5; x < 19; x += 0.5 {
		for y := 0.5; y < 40; y += 0.5 {
			assert.False(t, dark(x, y), "%g %g", x, y)
		}
	}
}

func TestPDFIsStable(t *testing.T) {
	pages := []Sheet{sample(), sample()}
	one, err := PDF(Document{Title: "T"}, pages)
	require.NoError(t, err)
	two, err := PDF(Document{Title: "T"}, pages)
	require.NoError(t, err)
	assert.Equal(t, one, two)
	assert.NotContains(t, string(one), "CreationDate")
	assert.Equal(t, 1, strings.Count(string(one), "%%EOF"))
	_, err = PDF(Document{}, nil)
	assert.Error(t, err)
}

// TestPDFNamesItself asks Poppler who made a document and what it is: letters beyond
// ASCII, those whose second byte is a line's end (č is 010D), backslashes and brackets
// come back as they were, and there is no author where none is given.
func TestPDFNamesItself(t *testing.T) {
	pdfinfo, err := exec.LookPath("pdfinfo")
	if err != nil {
		t.Skip("SKIPPED: pdfinfo is not on this machine; the package poppler-utils has it")
	}
	said := func(d Document) string {
		data, err := PDF(d, []Sheet{sample()})
		require.NoError(t, err)
		path := filepath.Join(t.TempDir(), "named.pdf")
		require.NoError(t, os.WriteFile(path, data, 0o644))
		out, err := exec.Command(pdfinfo, "-enc", "UTF-8", path).CombinedOutput()
		require.NoError(t, err, string(out))
		assert.NotContains(t, string(out), "rror")
		return string(out)
	}
	out := said(Document{Title: "Plan: Čáp", Subject: "a (b) \\ c", Author: "Dvořáček 王"})
	for _, want := range []string{"Plan: Čáp\n", "a (b) \\ c\n", "Dvořáček 王\n"} {
		assert.Contains(t, out, want)
	}
	assert.NotContains(t, said(Document{Title: "T"}), "Author")
}

// TestHatchStaysInside its rectangle, at the distance asked.
func TestHatchStaysInside(t *testing.T) {
	box := Box{3, 4, 17, 9}
	hatch := Hatch(Pen{Width: 0.1}, box, 0.7)
	require.NotEmpty(t, hatch.Pieces)
	for _, piece := range hatch.Pieces {
		for _, p := range []geom.Point{piece.Start(), piece.End()} {
			assert.True(t, p.X >= box.MinX-1e-9 && p.X <= box.MaxX+1e-9 && p.Y >= box.MinY-1e-9 && p.Y <= box.MaxY+1e-9, "%v", p)
		}
	}
}

// TestTextBox: the box of a word holds the ink that the renderer puts down, and is not
// much larger.
func TestTextBox(t *testing.T) {
	s := Sheet{Title: "ink", Width: 80, Height: 30}
	s.Add("a", "a", Text{At: geom.Point{X: 40, Y: 12}, Height: 8, Anchor: Middle, Content: "HgjQ"})
	_, boxes, err := s.TextBoxes()
	require.NoError(t, err)
	data, err := PNG(s, 254)
	require.NoError(t, err)
	picture, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	ink := Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for y := range picture.Bounds().Dy() {
		for x := range picture.Bounds().Dx() {
			if r, _, _, _ := picture.At(x, y).RGBA(); r < 0x8000 {
				mmX, mmY := float64(x)/10, s.Height-float64(y)/10
				ink = Box{math.Min(ink.MinX, mmX), math.Min(ink.MinY, mmY), math.Max(ink.MaxX, mmX), math.Max(ink.MaxY, mmY)}
			}
		}
	}
	box := boxes[0]
	assert.GreaterOrEqual(t, ink.MinX, box.MinX-0.2)
	assert.LessOrEqual(t, ink.MaxX, box.MaxX+0.2)
	assert.GreaterOrEqual(t, ink.MinY, box.MinY-0.2)
	assert.LessOrEqual(t, ink.MaxY, box.MaxY+0.3)
	assert.InDelta(t, box.MaxX-box.MinX, ink.MaxX-ink.MinX, 2.5)
}

func TestSheetsThatCannotBe(t *testing.T) {
	bad := sample()
	bad.Add("x", "x", Line(Pen{Width: 1}, 0, 0, math.NaN(), 1))
	for name, s := range map[string]Sheet{"no size": {}, "not a number": bad, "endless": {Width: math.Inf(1), Height: 1}} {
		_, err := SVG(s)
		assert.Error(t, err, name)
		_, err = PNG(s, 100)
		assert.Error(t, err, name)
		_, err = PDF(Document{}, []Sheet{s})
		assert.Error(t, err, name)
	}
}
