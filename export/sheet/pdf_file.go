package sheet

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"regexp"
	"sort"
	"strconv"
)

// pdfFile is a document taken apart at its objects (ISO 32000-1, 7.5), so that some of
// them can be written anew.
type pdfFile struct {
	head    []byte
	objects [][]byte // by number, less one, each from its number to its end
	order   []int    // of their places in the file, by number, less one
	trailer []byte
}

var errPDF = errors.New("the document is not of the kind expected")

// xrefLine is the length of an entry of the table of offsets.
const xrefLine = 20

var tableOf = regexp.MustCompile(`startxref\s+(\d+)\s+%%EOF\s*$`)

// openPDF takes a document with one table of offsets apart.
func openPDF(data []byte) (*pdfFile, error) {
	m := tableOf.FindSubmatch(data)
	if m == nil {
		return nil, errPDF
	}
	table, err := strconv.Atoi(string(m[1]))
	if err != nil || table > len(data) {
		return nil, errPDF
	}
	rest := data[table:]
	var count int
	if _, err := fmt.Fscanf(bytes.NewReader(rest), "xref\n0 %d\n", &count); err != nil {
		return nil, fmt.Errorf("%w: %w", errPDF, err)
	}
	trailer := bytes.Index(rest, []byte("trailer"))
	if count < 2 || trailer < count*xrefLine {
		return nil, errPDF
	}
	f := &pdfFile{objects: make([][]byte, count-1), trailer: rest[trailer:bytes.LastIndex(rest, []byte("startxref"))]}
	offsets := make([]int, count-1)
	entries := rest[trailer-(count-1)*xrefLine : trailer]
	for i := range offsets {
		if offsets[i], err = strconv.Atoi(string(entries[i*xrefLine : i*xrefLine+10])); err != nil || offsets[i] > table {
			return nil, errPDF
		}
		f.order = append(f.order, i)
	}
	sort.Slice(f.order, func(a, b int) bool { return offsets[f.order[a]] < offsets[f.order[b]] })
	f.head = data[:offsets[f.order[0]]]
	for k, i := range f.order {
		end := table
		if k+1 < len(f.order) {
			end = offsets[f.order[k+1]]
		}
		f.objects[i] = data[offsets[i]:end]
	}
	return f, nil
}

// bytes returns the document with a new table of offsets.
func (f *pdfFile) bytes() []byte {
	var out bytes.Buffer
	out.Write(f.head)
	offsets := make([]int, len(f.objects))
	for _, i := range f.order {
		offsets[i] = out.Len()
		out.Write(f.objects[i])
	}
	table := out.Len()
	fmt.Fprintf(&out, "xref\n0 %d\n0000000000 65535 f \n", len(offsets)+1)
	for _, at := range offsets {
		fmt.Fprintf(&out, "%010d 00000 n \n", at)
	}
	out.Write(f.trailer)
	fmt.Fprintf(&out, "startxref\n%d\n%%%%EOF\n", table)
	return out.Bytes()
}

// named returns the place of the object that the trailer calls by a name.
func (f *pdfFile) named(name string) (int, error) {
	return f.reference(f.trailer, name)
}

// reference returns the place of the object that a dictionary calls by a name.
func (f *pdfFile) reference(dictionary []byte, name string) (int, error) {
	m := regexp.MustCompile(`/` + name + ` (\d+) 0 R`).FindSubmatch(dictionary)
	if m == nil {
		return 0, fmt.Errorf("%w: it has no %s", errPDF, name)
	}
	number, err := strconv.Atoi(string(m[1]))
	if err != nil || number < 1 || number > len(f.objects) {
		return 0, errPDF
	}
	return number - 1, nil
}

// streamBegin ends the dictionary of a stream.
var streamBegin = []byte("stream\n")

// inflated returns the content of a compressed stream.
func inflated(object []byte) ([]byte, error) {
	_, packed, found := bytes.Cut(object, streamBegin)
	if !found {
		return nil, errPDF
	}
	r, err := zlib.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, fmt.Errorf("a stream cannot be read: %w", err)
	}
	return io.ReadAll(r)
}

// deflated returns the object of the given number as a compressed stream.
func deflated(number int, content []byte) []byte {
	var packed, out bytes.Buffer
	w := zlib.NewWriter(&packed)
	// A buffer takes all that it is given.
	_, _ = w.Write(content)
	_ = w.Close()
	fmt.Fprintf(&out, "%d 0 obj\n<</Filter/FlateDecode/Length %d>>%s", number, packed.Len(), streamBegin)
	out.Write(packed.Bytes())
	out.WriteString("\nendstream\n\nendobj\n")
	return out.Bytes()
}
