package sheet

import (
	"bytes"
	"encoding/binary"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"

	"fullerwright/profile/geom"
)

// TestFontsCarryNoTime: the fonts in a document say that they were changed when they were
// made, and their sums are right: all words of a font add up to B1B0AFBA (OpenType
// specification, table head).
func TestFontsCarryNoTime(t *testing.T) {
	s := sample()
	s.Add("words", "words", Text{At: geom.Point{X: 8, Y: 20}, Height: 3, Bold: true, Content: "bold"})
	data, err := PDF(Document{Title: "T"}, []Sheet{s})
	require.NoError(t, err)
	f, err := openPDF(data)
	require.NoError(t, err)
	assert.Equal(t, data, f.bytes(), "taken apart and put together it is the same")
	fonts := 0
	for _, object := range f.objects {
		if !fontFile.Match(object) || bytes.Contains(object, streamBegin) {
			continue
		}
		i, err := f.reference(object, "FontFile2")
		require.NoError(t, err)
		font, err := inflated(f.objects[i])
		require.NoError(t, err)
		fonts++
		assert.Equal(t, uint32(0xB1B0AFBA), sum32(font))
		head := tableOfFont(font, "head")
		assert.Equal(t, head[20:28], head[28:36], "created and modified")
	}
	assert.Equal(t, 2, fonts)
}

func tableOfFont(font []byte, name string) []byte {
	for i := range int(binary.BigEndian.Uint16(font[4:])) {
		if at := 12 + 16*i; string(font[at:at+4]) == name {
			return font[binary.BigEndian.Uint32(font[at+8:]):]
		}
	}
	return nil
}

// TestSum32: the sum that a font carries of itself is right by ours; bytes over are
// filled up with zeros.
func TestSum32(t *testing.T) {
	assert.Equal(t, uint32(0xB1B0AFBA), sum32(gobold.TTF))
	assert.Equal(t, uint32(0x01020304+0x05000000), sum32([]byte{1, 2, 3, 4, 5}))
	assert.Error(t, withoutTime([]byte("no font")))
	assert.Error(t, withoutTime(make([]byte, 40)))
}

// TestPDFOffsets: every entry of the table of offsets is where its object begins.
func TestPDFOffsets(t *testing.T) {
	data, err := PDF(Document{Title: "T (a) /CreationDate"}, []Sheet{sample(), sample()})
	require.NoError(t, err)
	table := data[bytes.LastIndex(data, []byte("xref\n0 ")):]
	entries := regexp.MustCompile(`(?m)^(\d{10}) 00000 n $`).FindAllSubmatch(table, -1)
	require.Greater(t, len(entries), 6)
	for i, entry := range entries {
		at, err := strconv.Atoi(string(entry[1]))
		require.NoError(t, err)
		assert.True(t, bytes.HasPrefix(data[at:], []byte(strconv.Itoa(i+1)+" 0 obj\n")), "object %d", i+1)
	}
	for name, broken := range map[string][]byte{"nothing": nil, "no table": []byte("%PDF-1.7\n"), "cut off": data[:len(data)-40], "table elsewhere": bytes.Replace(data, []byte("startxref\n"), []byte("startxref\n9"), 1)} {
		_, err := settled(broken, Document{})
		assert.Error(t, err, name)
	}
}

// TestPDFTextIsFound: an independent reader (Poppler) finds the words of a sheet, upright
// ones too, where they stand: their boxes are as wide as we measured.
func TestPDFTextIsFound(t *testing.T) {
	pdftotext, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("SKIPPED: pdftotext is not on this machine; the package poppler-utils has it")
	}
	s := Sheet{Title: "words", Width: 120, Height: 80}
	texts := []Text{
		{At: geom.Point{X: 60, Y: 10}, Height: 4, Anchor: Middle, Content: "AVAToToWAVE≤Ø"},
		{At: geom.Point{X: 110, Y: 30}, Height: 3.5, Anchor: End, Bold: true, Content: "a-word-that-is-long-0123456789"},
		{At: geom.Point{X: 20, Y: 20}, Height: 5, Upright: true, Content: "upright"},
	}
	for _, text := range texts {
		s.Add("words", "words", text)
	}
	data, err := PDF(Document{Title: "T"}, []Sheet{s})
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "t.pdf")
	require.NoError(t, os.WriteFile(path, data, 0o644))
	out, err := exec.Command(pdftotext, "-bbox", path, "-").CombinedOutput()
	require.NoError(t, err, string(out))
	_, boxes, err := s.TextBoxes()
	require.NoError(t, err)
	words := regexp.MustCompile(`<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)<`).FindAllStringSubmatch(string(out), -1)
	require.Len(t, words, len(texts), string(out))
	for _, word := range words {
		found := false
		for i, text := range texts {
			if found = text.Content == strings.TrimSpace(word[5]); !found {
				continue
			}
			var at [4]float64
			for k := range at {
				v, err := strconv.ParseFloat(word[k+1], 64)
				require.NoError(t, err)
				at[k] = v / pointsPerMM
			}
			least, most := boxes[i].MinX, boxes[i].MaxX
			if text.Upright {
				least, most = s.Height-boxes[i].MaxY, s.Height-boxes[i].MinY
				at[0], at[2] = at[1], at[3]
			}
			assert.InDelta(t, least, at[0], 0.1, text.Content)
			assert.InDelta(t, most, at[2], 0.1, text.Content)
			break
		}
		assert.True(t, found, "%q is none of ours", word[5])
	}
}
