package sheet

import (
	"bytes"
	"fmt"
	"regexp"
	"unicode/utf16"

	"github.com/tdewolff/canvas/renderers/pdf"
)

// Document names a PDF.
type Document struct{ Title, Subject, Author string }

// PDF returns sheets as the pages of one document, each page exactly as large as its
// sheet, its words as text in the fonts it carries. It asks viewers not to scale it when
// printing, and carries no date, so that the same sheets give the same bytes on any day.
func PDF(d Document, pages []Sheet) ([]byte, error) {
	if len(pages) == 0 {
		return nil, fmt.Errorf("a document needs a page")
	}
	f, err := newFonts()
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	r := pdf.New(&out, pages[0].Width, pages[0].Height, nil)
	for i, s := range pages {
		if i > 0 {
			r.NewPage(s.Width, s.Height)
		}
		c, err := drawSheet(s, f, asText)
		if err != nil {
			return nil, err
		}
		c.RenderTo(r)
	}
	if err := r.Close(); err != nil {
		return nil, fmt.Errorf("the document cannot be closed: %w", err)
	}
	return settled(out.Bytes(), d)
}

var fontFile = regexp.MustCompile(`/FontFile2 (\d+) 0 R`)

// settled takes out of a document when it was made, also out of its fonts, asks viewers
// in its catalogue to print it at its own size (ISO 32000-1, 12.2, from memory), and puts
// in what names it (14.3.3). The library's own words for that are not used: in them a
// letter with the byte 0D, as č has it, is read back as another one.
func settled(data []byte, d Document) ([]byte, error) {
	f, err := openPDF(data)
	if err != nil {
		return nil, err
	}
	info, err := f.named("Info")
	if err != nil {
		return nil, err
	}
	f.objects[info] = []byte(fmt.Sprintf("%d 0 obj\n<< %s>>\nendobj\n", info+1, d.entries()))
	root, err := f.named("Root")
	if err != nil {
		return nil, err
	}
	shut := bytes.LastIndex(f.objects[root], []byte(">>"))
	if shut < 0 {
		return nil, errPDF
	}
	catalogue := append([]byte(nil), f.objects[root][:shut]...)
	catalogue = append(catalogue, "/ViewerPreferences<</PrintScaling /None>>"...)
	f.objects[root] = append(catalogue, f.objects[root][shut:]...)
	if err := f.settleFonts(); err != nil {
		return nil, err
	}
	return f.bytes(), nil
}

// settleFonts takes the time out of every font.
func (f *pdfFile) settleFonts() error {
	for _, object := range f.objects {
		if !fontFile.Match(object) || bytes.Contains(object, streamBegin) {
			continue
		}
		i, err := f.reference(object, "FontFile2")
		if err != nil {
			return err
		}
		font, err := inflated(f.objects[i])
		if err != nil {
			return err
		}
		if err := withoutTime(font); err != nil {
			return err
		}
		f.objects[i] = deflated(i+1, font)
	}
	return nil
}

// entries returns what a document says of itself, without what is empty.
func (d Document) entries() string {
	out := ""
	for _, entry := range []struct{ key, words string }{{"Title", d.Title}, {"Subject", d.Subject}, {"Author", d.Author}, {"Creator", "Fullerwright"}} {
		if entry.words != "" {
			out += fmt.Sprintf("/%s %s ", entry.key, textString(entry.words))
		}
	}
	return out
}

// textString writes words as a text string (ISO 32000-1, 7.9.2.2, from memory): UTF-16,
// the high byte first, in hexadecimal, so that no letter needs to be escaped.
func textString(words string) string {
	out := "<FEFF"
	for _, unit := range utf16.Encode([]rune(words)) {
		out += fmt.Sprintf("%04X", unit)
	}
	return out + ">"
}
