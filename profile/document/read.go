package document

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	toml "github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// mostBytes is the size beyond which a file is not read: a knife file is a few
// kilobytes.
const mostBytes = 1 << 20

// ReadFile reads a file on disk. A file that is missing, too large, no text, or not to
// be read is a fault like any other.
func ReadFile(path string, schema Schema) (Document, error) {
	data, err := FileBytes(path)
	if err != nil {
		return Document{}, err
	}
	return Read(path, data, schema)
}

// FileBytes returns what a file that Read may read holds. Faults are FieldErrors.
func FileBytes(path string) ([]byte, error) { return ReadBytes(path, mostBytes) }

// ReadBytes returns what a file of at most so many bytes holds. Faults are FieldErrors.
func ReadBytes(path string, most int64) ([]byte, error) {
	fault := func(rule, hint string) ([]byte, error) {
		return nil, FieldErrors{{File: path, Rule: rule, Hint: hint}}
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return fault("there is no such file", "check the name and the folder")
	case err != nil:
		return fault("cannot be looked at: "+plainError(err), "check the name and your rights to the folder")
	case info.IsDir():
		return fault("is a folder", "name the file in it")
	case !info.Mode().IsRegular():
		return fault("is no ordinary file", "name a text file")
	case info.Size() > most:
		return fault(fmt.Sprintf("is %d kB; a file of this kind is never over %d kB", info.Size()/1024, most/1024), "check that this is the file you mean")
	}
	file, err := os.Open(path)
	if err != nil {
		return fault("cannot be opened: "+plainError(err), "check your rights to the file")
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, most+1))
	if err != nil {
		return fault("cannot be read: "+plainError(err), "")
	}
	return data, nil
}

// plainError takes the path out of an error of the operating system, since the fault
// names it already.
func plainError(err error) string {
	var path *os.PathError
	if errors.As(err, &path) {
		return path.Err.Error()
	}
	return err.Error()
}

// Read reads the text of a file against a schema. The error is FieldErrors with every
// fault; the document is zero when there are any.
func Read(file string, data []byte, schema Schema) (Document, error) {
	doc, faults := ReadPartly(file, data, schema)
	if len(faults) > 0 {
		return Document{}, faults
	}
	return doc, nil
}

// ReadPartly is Read for rules between keys, which are to be told together with faults of
// single ones: it returns what of the file is right beside its faults. A value that is wrong
// is not Given.
func ReadPartly(file string, data []byte, schema Schema) (Document, FieldErrors) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if rule, hint := unreadable(data); rule != "" {
		return Document{}, FieldErrors{{File: file, Rule: rule, Hint: hint}}
	}
	r := &reader{data: data, doc: Document{file: file, schema: schema, groups: map[string][]instance{}}}
	r.walk()
	r.settle()
	if len(r.faults) > 0 {
		return r.doc, append(r.unitHint(), r.faults...)
	}
	return r.doc, nil
}

// unitHint returns the fault that several others have in common where the file names no
// unit and its lengths are no millimetres.
func (r *reader) unitHint() FieldErrors {
	const several = 3
	out := 0
	for _, f := range r.faults {
		if strings.HasPrefix(f.Rule, "must be ") && strings.HasSuffix(f.Rule, " mm") {
			out++
		}
	}
	if out < several || r.doc.Value("", 0, "units").Given {
		return nil
	}
	return FieldErrors{{File: r.doc.file, Field: "units",
		Rule: fmt.Sprintf("no unit is named, so plain numbers are millimetres, and %d of them cannot be", out),
		Hint: `if they are inches, begin the file with units = "in"`}}
}

// unreadable says why data cannot be a file of ours at all.
func unreadable(data []byte) (rule, hint string) {
	switch {
	case len(data) > mostBytes:
		return fmt.Sprintf("is over %d kB", mostBytes/1024), "check that this is the file you mean"
	case len(bytes.TrimSpace(data)) == 0:
		return "the file is empty", "fullerwright new writes a knife file to start from"
	case bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")):
		return "is in UTF-16, which some editors call Unicode", "save it again as UTF-8"
	case bytes.IndexByte(data, 0) >= 0:
		return "is not a text file", "check that this is the file you mean; it must be TOML in UTF-8"
	case !utf8.Valid(data):
		return fmt.Sprintf("is not in UTF-8: line %d has a letter of another encoding", 1+bytes.Count(data[:firstInvalid(data)], []byte("\n"))), "save it again as UTF-8, or check that this is the file you mean"
	case !bytes.Contains(data, []byte("\n")) && bytes.IndexByte(data, '\r') >= 0:
		return "has lines that end in a carriage return alone, which TOML does not know", "save it again with the line ends of Windows or Unix"
	}
	return "", ""
}

// firstInvalid returns where the first bytes that are no UTF-8 stand.
func firstInvalid(data []byte) int {
	at := 0
	for {
		r, size := utf8.DecodeRune(data[at:])
		if r == utf8.RuneError && size <= 1 {
			return at
		}
		at += size
	}
}

// reader walks a file once.
type reader struct {
	data   []byte
	doc    Document
	faults FieldErrors
	group  Group // where keys go now
	index  int
	lost   bool // in a group that is not known: its keys are not looked at
	broken bool // off before its end: what is missing may come after it
	typed  []typedValue
}

// typedValue is a value whose meaning waits until the file's units are known.
type typedValue struct {
	group Group
	index int
	key   Key
	kind  unstable.Kind
	data  string
	raw   string
	line  int
}

func (r *reader) fault(line int, field, value, rule, hint string) {
	r.faults = append(r.faults, FieldError{File: r.doc.file, Line: line, Field: field, Value: value, Rule: rule, Hint: hint})
}

func (r *reader) walk() {
	r.group, _ = r.doc.schema.group("")
	r.doc.groups[""] = []instance{{values: map[string]Value{}}}
	var p unstable.Parser
	p.Reset(r.data)
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			r.enter(e)
		case unstable.KeyValue:
			r.keyValue(&p, e)
		}
	}
	if err := p.Error(); err != nil {
		r.syntax(err)
		return
	}
	if len(r.faults) == 0 {
		var whole map[string]any
		if err := toml.Unmarshal(r.data, &whole); err != nil {
			r.syntax(err)
		}
	}
}

// syntax reports text that is no TOML. The parser knows the place only when it
// decodes, so that is done for the position alone.
func (r *reader) syntax(err error) {
	var whole map[string]any
	var where *toml.DecodeError
	line, column := 0, 0
	if again := toml.Unmarshal(r.data, &whole); errors.As(again, &where) {
		line, column = where.Position()
	}
	message := strings.TrimPrefix(err.Error(), "toml: ")
	rule := "this is not TOML: " + message
	if column > 0 {
		rule = fmt.Sprintf("this is not TOML, at column %d: %s", column, message)
	}
	r.broken = true
	r.fault(line, "", r.lineText(line), rule, `a key is written as: length = 178, or name = "Tarn"; what comes after it was not looked at`)
}

func (r *reader) lineText(line int) string {
	lines := bytes.Split(r.data, []byte("\n"))
	if line < 1 || line > len(lines) {
		return ""
	}
	return strings.TrimSpace(string(lines[line-1]))
}

func (r *reader) lineOf(offset uint32) int {
	return 1 + bytes.Count(r.data[:min(int(offset), len(r.data))], []byte("\n"))
}

// keyParts returns the parts of a dotted key and the line it stands in.
func (r *reader) keyParts(it unstable.Iterator) (parts []string, line int) {
	for it.Next() {
		n := it.Node()
		if line == 0 {
			line = r.lineOf(n.Raw.Offset)
		}
		parts = append(parts, string(n.Data))
	}
	return parts, line
}

func (r *reader) enter(e *unstable.Node) {
	parts, line := r.keyParts(e.Key())
	name := strings.Join(parts, ".")
	g, known := r.doc.schema.group(name)
	r.lost = !known || name == ""
	if r.lost {
		r.fault(line, name, "", "there is no such group", r.nearestGroup(name))
		return
	}
	repeated := e.Kind == unstable.ArrayTable
	switch {
	case repeated && !g.Repeated:
		r.fault(line, name, "", "this group stands once only", fmt.Sprintf("write it as [%s]", name))
	case !repeated && g.Repeated:
		r.fault(line, name, "", "this group may stand any number of times", fmt.Sprintf("write it as [[%s]]", name))
	case !repeated && len(r.doc.groups[name]) > 0:
		r.fault(line, name, "", fmt.Sprintf("this group stands already in line %d", r.doc.groups[name][0].line), "put its keys together there")
	}
	r.group, r.index = g, len(r.doc.groups[name])
	r.doc.groups[name] = append(r.doc.groups[name], instance{line: line, values: map[string]Value{}})
}

func (r *reader) keyValue(p *unstable.Parser, e *unstable.Node) {
	parts, line := r.keyParts(e.Key())
	if r.lost {
		return
	}
	name := strings.Join(parts, ".")
	field := fieldName(r.group, r.index, name)
	k, known := r.group.key(name)
	if !known {
		r.unknownKey(parts, field, line)
		return
	}
	values := r.doc.groups[r.group.Name][r.index].values
	if before, twice := values[name]; twice {
		r.fault(line, field, "", fmt.Sprintf("this key stands already in line %d", before.Line), "delete one of them")
		return
	}
	v := e.Value()
	t := typedValue{group: r.group, index: r.index, key: k, kind: v.Kind, data: string(v.Data), raw: string(v.Data), line: line}
	if v.Kind == unstable.String {
		t.raw = fmt.Sprintf("%q", t.data)
	}
	values[name] = Value{Line: line, Raw: t.raw}
	r.typed = append(r.typed, t)
}

// unknownKey tells of a key that is not there; one that says its group in another way than
// by a heading is told how.
func (r *reader) unknownKey(parts []string, field string, line int) {
	name := strings.Join(parts, ".")
	group, is := r.doc.schema.group(parts[0])
	if r.group.Name != "" || !is || parts[0] == "" {
		r.fault(line, field, "", "there is no such key", r.nearestKey(name))
		return
	}
	heading := "[" + group.Name + "]"
	if group.Repeated {
		heading = "[[" + group.Name + "]]"
	}
	if len(parts) > 1 {
		r.fault(line, name, "", "a key of a group stands under its heading, not behind a dot", fmt.Sprintf("write %s on a line of its own and %s under it", heading, strings.Join(parts[1:], ".")))
		return
	}
	r.fault(line, name, "", "a group stands under its heading, not in braces or brackets", fmt.Sprintf("write %s on a line of its own and its keys under it, one a line", heading))
}

// settle gives every value its meaning once the units are known, and looks for what
// is missing.
func (r *reader) settle() {
	for _, t := range r.typed {
		if t.group.Name == "" && t.key.Name == "units" && t.data == "in" {
			r.doc.units = Inch
		}
	}
	for _, t := range r.typed {
		r.store(t)
	}
	if r.broken || r.lost && len(r.typed) == 0 {
		return
	}
	for _, g := range r.doc.schema.Groups {
		list := r.doc.groups[g.Name]
		if len(list) == 0 && g.Required {
			r.fault(0, g.Name, "", "this group is missing", r.groupHint(g))
		}
		for i, in := range list {
			r.missing(g, i, in)
		}
	}
}

func (r *reader) groupHint(g Group) string {
	var keys []string
	for _, k := range g.Keys {
		if k.Required {
			keys = append(keys, k.Name)
		}
	}
	open, shut := "[", "]"
	if g.Repeated {
		open, shut = "[[", "]]"
	}
	return fmt.Sprintf("write %s%s%s and under it %s", open, g.Name, shut, strings.Join(keys, ", "))
}

func (r *reader) missing(g Group, index int, in instance) {
	for _, k := range g.Keys {
		if _, ok := in.values[k.Name]; !ok && k.Required {
			r.fault(in.line, fieldName(g, index, k.Name), "", "this key is missing: "+k.Meaning, "give it "+k.limits(r.doc.units))
		}
	}
}

func (r *reader) store(t typedValue) {
	field := fieldName(t.group, t.index, t.key.Name)
	v, rule := t.key.fromTyped(t, r.doc.units)
	if rule == "" {
		rule = t.key.outside(v, r.doc.units)
	}
	if rule != "" {
		r.fault(t.line, field, t.raw, rule, t.key.hint())
		return
	}
	v.Given, v.Known, v.Line, v.Raw = true, true, t.line, t.raw
	r.doc.groups[t.group.Name][t.index].values[t.key.Name] = v
}
