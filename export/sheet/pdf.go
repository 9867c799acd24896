package sheet

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"

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
	r.SetInfo(d.Title, d.Subject, "", d.Author, "Fullerwright")
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
	return noScaling(noDate(out.Bytes()))
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

// noScaling adds an update to a document whose catalogue asks viewers to print it at
// its own size (ISO 32000-1, 12.2, from memory; 7.5.6 for the update).
func noScaling(data []byte) ([]byte, error) {
	root, size, offset := rootOf.FindSubmatch(data), sizeOf.FindSubmatch(data), offsetOf.FindSubmatch(data)
	if root == nil || size == nil || offset == nil {
		return nil, fmt.Errorf("the document has no trailer of the kind expected")
	}
	start := bytes.Index(data, []byte("\n"+string(root[1])+" 0 obj"))
	if start < 0 {
		return nil, fmt.Errorf("the document has no catalogue")
	}
	end := start + bytes.Index(data[start:], []byte("endobj"))
	object := data[start+1 : end]
	shut := bytes.LastIndex(object, []byte(">>"))
	if shut < 0 {
		return nil, fmt.Errorf("the document's catalogue does not close")
	}
	var out bytes.Buffer
	out.Write(data)
	if !bytes.HasSuffix(data, []byte("\n")) {
		out.WriteByte('\n')
	}
	at := out.Len()
	out.Write(object[:shut])
	out.WriteString("/ViewerPreferences << /PrintScaling /None >> >>\nendobj\n")
	table := out.Len()
	number, err := strconv.Atoi(string(root[1]))
	if err != nil {
		return nil, err
	}
	info := ""
	if m := infoOf.FindSubmatch(data); m != nil {
		info = fmt.Sprintf("/Info %s 0 R ", m[1])
	}
	fmt.Fprintf(&out, "xref\n%d 1\n%010d 00000 n \ntrailer\n<< /Size %s /Root %d 0 R %s/Prev %s >>\nstartxref\n%d\n%%%%EOF\n",
		number, at, size[1], number, info, offset[1], table)
	return out.Bytes(), nil
}
