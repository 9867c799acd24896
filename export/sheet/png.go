package sheet

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/rasterizer"
)

// PNG returns a sheet as an opaque picture with the given dots an inch, which it
// records (PNG specification, chunk pHYs, in dots a metre).
func PNG(s Sheet, dpi float64) ([]byte, error) {
	f, err := newFonts()
	if err != nil {
		return nil, err
	}
	c, err := drawSheet(s, f, outlined)
	if err != nil {
		return nil, err
	}
	drawn := rasterizer.Draw(c, canvas.DPI(dpi), canvas.DefaultColorSpace)
	opaque := image.NewRGBA(drawn.Bounds())
	draw.Draw(opaque, opaque.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.Draw(opaque, opaque.Bounds(), drawn, drawn.Bounds().Min, draw.Over)
	var out bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestSpeed} // two parts in a hundred larger, a third sooner
	if err := encoder.Encode(&out, opaque); err != nil {
		return nil, fmt.Errorf("the picture cannot be written: %w", err)
	}
	return withResolution(out.Bytes(), dpi), nil
}

// headerEnd is where the first chunk of a PNG, its header, ends: 8 bytes of signature,
// and 4 of length, 4 of name, 13 of content and 4 of check sum.
const headerEnd = 8 + 4 + 4 + 13 + 4

// withResolution puts the chunk that records the resolution after a picture's header.
func withResolution(data []byte, dpi float64) []byte {
	perMetre := uint32(math.Round(dpi / 0.0254))
	chunk := binary.BigEndian.AppendUint32([]byte("pHYs"), perMetre)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = append(chunk, 1) // the unit is the metre
	out := append([]byte(nil), data[:headerEnd]...)
	out = binary.BigEndian.AppendUint32(out, uint32(len(chunk)-4))
	out = append(out, chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	return append(out, data[headerEnd:]...)
}
