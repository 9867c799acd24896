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
// sheet. It asks viewers not to scale it when printing, and carries no date, so that
// the same sheets give the same bytes on any day.
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
		c, err := drawSheet(s, f)
		if err != nil {
			return nil, err
		}
		c.RenderTo(r)
	}
	if err := r.Close(); err != nil {
		return nil, fmt.Errorf("the document cannot be closed: %w", err)
	}
	return updated(noDate(out.Bytes()), d)
}

var creationDate = regexp.MustCompile(`/CreationDate\s*\(D:[^)]*\)`)

// noDate takes the date out of a document, keeping its length so that the table of
// offsets stays right.
func noDate(data []byte) []byte {
	return creationDate.ReplaceAllFunc(data, func(found []byte) []byte { return bytes.Repeat([]byte(" "), len(found)) })
}

var (
	rootOf   = regexp.MustCompile(`/Root (\d+) 0 R`)
	sizeOf   = regexp.MustCompile(`/Size (\d+)`)
	infoOf   = regexp.MustCompile(`/Info (\d+) 0 R`)
	offsetOf = regexp.MustCompile(`startxref\s+(\d+)\s+%%EOF\s*$`)
)

// updated adds an update to a document (ISO 32000-1, 7.5.6, from memory): a catalogue
// that asks viewers to print it at its own size (12.2), and what names the document
// (14.3.3). The library's own words for that are not used: in them a letter with the
// byte 0D, as č has it, is read back as another one.
func updated(data []byte, d Document) ([]byte, error) {
	root, size, info, offset := rootOf.FindSubmatch(data), sizeOf.FindSubmatch(data), infoOf.FindSubmatch(data), offsetOf.FindSubmatch(data)
	if root == nil || size == nil || info == nil || offset == nil {
		return nil, fmt.Errorf("the document has no trailer of the kind expected")
	}
	start := bytes.Index(data, []byte("\n"+string(root[1])+" 0 obj"))
	if start < 0 {
		return nil, fmt.Errorf("the document has no catalogue")
	}
	object, _, closed := bytes.Cut(data[start+1:], []byte("endobj"))
	shut := bytes.LastIndex(object, []byte(">>"))
	if !closed || shut < 0 {
		return nil, fmt.Errorf("the document's catalogue does not close")
	}
	var out bytes.Buffer
	out.Write(data)
	if !bytes.HasSuffix(data, []byte("\n")) {
		out.WriteByte('\n')
	}
	catalogue := out.Len()
	out.Write(object[:shut])
	out.WriteString("/ViewerPreferences << /PrintScaling /None >> >>\nendobj\n")
	names := out.Len()
	fmt.Fprintf(&out, "%s 0 obj\n<< %s>>\nendobj\n", info[1], d.entries())
	table := out.Len()
	fmt.Fprintf(&out, "xref\n%s 1\n%010d 00000 n \n%s 1\n%010d 00000 n \n", root[1], catalogue, info[1], names)
	fmt.Fprintf(&out, "trailer\n<< /Size %s /Root %s 0 R /Info %s 0 R /Prev %s >>\nstartxref\n%d\n%%%%EOF\n", size[1], root[1], info[1], offset[1], table)
	return out.Bytes(), nil
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
