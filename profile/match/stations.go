package match

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"fullerwright/profile/document"
)

// stationTable reads a table of stations.
type stationTable struct {
	file    string
	unit    document.Unit
	unitSet bool // named by the caller or the heading
	// centimetres is true where plain numbers are those; what is found is in millimetres.
	centimetres bool
	columns     []column
	faults      document.FieldErrors
	rows        [][]cell
	count       int // of the rows read
}

// column is one column of the table by its heading.
type column struct {
	kind  Kind
	x     bool // the stations themselves
	known bool
	name  string
}

// cell is one number of the table.
type cell struct {
	mm           float64
	ok           bool // a number is there
	line, column int
	raw          string
}

// heading is a column's name with its unit, if any: x, x_mm, "spine (in)", "edge [mm]".
var heading = regexp.MustCompile(`^([a-z]+)[ _]*[(\[]?(mm|cm|in)?[)\]]?$`)

// ParseStations reads a table of stations in comma-separated values: a heading with x and
// any of spine, edge, width and thickness, then a row a station. Cells may be left empty;
// lines that begin with # are skipped. The unit is that of the heading, as x_mm, or the
// one given, "mm", "cm" or "in"; a cell may carry its own, as "1 3/16 in". Every fault is
// reported at once, as document.FieldErrors.
func ParseStations(file string, data []byte, unit string) (Measurements, error) {
	t := &stationTable{file: file}
	if unit != "" {
		t.setUnit(unit)
	}
	if fault, hint := notText(data); fault != "" {
		return Measurements{}, document.FieldErrors{{File: file, Rule: fault, Hint: hint}}
	}
	if t.read(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))) {
		t.check()
	}
	if len(t.faults) > 0 {
		return Measurements{}, t.faults
	}
	return t.measurements(), nil
}

// measurements returns what stands in the table.
func (t *stationTable) measurements() Measurements {
	m := Measurements{File: t.file, Unit: t.unit}
	if t.centimetres {
		m.Notes = append(m.Notes, "plain numbers are centimetres; what is found is given in millimetres")
	}
	for _, row := range t.rows {
		x, _ := t.station(row)
		for i, c := range row {
			if i < len(t.columns) && c.ok && !t.columns[i].x {
				m.Readings = append(m.Readings, Reading{Kind: t.columns[i].kind, X: x.mm, Value: c.mm, Line: c.line})
			}
		}
	}
	return m
}

// notText says why data is no text, or nothing.
func notText(data []byte) (rule, hint string) {
	switch {
	case len(bytes.TrimSpace(data)) == 0:
		return "the file is empty", "write a heading x, spine, edge, thickness and a row for each station"
	case bytes.IndexByte(data, 0) >= 0 || !utf8.Valid(data):
		return "is not a text file", "save it as comma-separated values or as SVG, in UTF-8"
	}
	return "", ""
}

func (t *stationTable) fault(line int, field, value, rule, hint string) {
	t.faults = append(t.faults, document.FieldError{File: t.file, Line: line, Field: field, Value: value, Rule: rule, Hint: hint})
}

// read reads heading and rows; false where the file cannot be taken apart to its end.
func (t *stationTable) read(data []byte) bool {
	r := csv.NewReader(bytes.NewReader(data))
	r.Comment, r.FieldsPerRecord, r.TrimLeadingSpace = '#', -1, true
	r.Comma = separator(data)
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return true
		}
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			t.fault(broken.Line, fmt.Sprintf("column %d", broken.Column), "", "this is not comma-separated: "+broken.Err.Error(),
				`double the quotes inside a quoted cell, as "1 3/16"" "`)
			return false
		}
		if err != nil {
			t.fault(0, "", "", "cannot be read: "+err.Error(), "save it again as comma-separated values")
			return false
		}
		line, _ := r.FieldPos(0)
		if t.columns == nil {
			t.head(record, line)
			continue
		}
		if t.count++; t.count > mostStations {
			t.fault(line, "", "", fmt.Sprintf("there are more than %d stations", mostStations), "a knife is measured at 25 or so, closer toward the point; leave some out")
			return false
		}
		t.row(record, line)
	}
}

// mostStations is how many stations a table may have (judgement): more say no more of a knife,
// and the fit takes as much longer.
const mostStations = 500

// separator returns what parts the cells of the first line that is no comment: a comma,
// or a semicolon or tab where there is no comma.
func separator(data []byte) rune {
	for line := range bytes.Lines(data) {
		if trimmed := bytes.TrimSpace(line); len(trimmed) == 0 || trimmed[0] == '#' {
			continue
		}
		for _, s := range []rune{',', ';', '\t'} {
			if bytes.ContainsRune(line, s) {
				return s
			}
		}
		break
	}
	return ','
}

// head reads the heading.
func (t *stationTable) head(record []string, line int) {
	seen := map[string]bool{}
	for i, name := range record {
		c := column{name: strings.TrimSpace(name)}
		m := heading.FindStringSubmatch(strings.ToLower(c.name))
		field := fmt.Sprintf("column %d", i+1)
		if m == nil || !c.named(m[1]) {
			t.fault(line, field, c.name, "is no column of a table of stations", "the columns are x, spine, edge, width and thickness, each with or without its unit, as x_mm")
			t.columns = append(t.columns, c)
			continue
		}
		if seen[m[1]] {
			t.fault(line, field, c.name, "this column stands twice", "keep one of them")
		}
		seen[m[1]] = true
		t.headUnit(m[2], line, field, c.name)
		t.columns = append(t.columns, c)
	}
	if !seen["x"] {
		t.fault(line, "", strings.Join(record, ","), "there is no column x of stations", "give the distance of each station from the guard plane, behind it negative")
	}
	if !seen["edge"] && !seen["width"] {
		t.fault(line, "", strings.Join(record, ","), "nothing says how high the blade is", "give the columns spine and edge, or width")
	}
	if !t.unitSet {
		t.fault(line, "", strings.Join(record, ","), "no unit is named", "write x_mm, x_cm or x_in in the heading, or give --units mm, cm or in")
	}
}

// named sets what the column holds by its name.
func (c *column) named(name string) bool {
	c.known = true
	switch name {
	case "x":
		c.x = true
	case Spine.String():
		c.kind = Spine
	case Edge.String():
		c.kind = Edge
	case Width.String():
		c.kind = Width
	case Thickness.String():
		c.kind = Thickness
	default:
		c.known = false
	}
	return c.known
}

func (t *stationTable) headUnit(unit string, line int, field, name string) {
	if unit == "" {
		return
	}
	if t.unitSet && unit != t.unitName() {
		t.fault(line, field, name, fmt.Sprintf("the unit %s is at odds with the %s of the others", unit, t.unitName()), "write all plain numbers in one unit; a single cell may carry its own, as 4.8 mm")
	}
	t.setUnit(unit)
}

// Centimetre is the one unit of a table that a knife file does not have.
const Centimetre = "cm"

// Units returns the units that plain numbers of a table can be in.
func Units() []string {
	return []string{document.Millimetre.String(), Centimetre, document.Inch.String()}
}

// setUnit takes the unit of plain numbers by its name.
func (t *stationTable) setUnit(name string) {
	t.unitSet, t.unit, t.centimetres = true, document.Millimetre, name == Centimetre
	if name == document.Inch.String() {
		t.unit = document.Inch
	}
}

func (t *stationTable) unitName() string {
	if t.centimetres {
		return Centimetre
	}
	return t.unit.String()
}

func (t *stationTable) row(record []string, line int) {
	var cells []cell
	for i, text := range record {
		text = strings.TrimSpace(text)
		c := cell{line: line, column: i + 1, raw: text}
		switch {
		case i >= len(t.columns):
			if text != "" {
				t.fault(line, fmt.Sprintf("column %d", i+1), text, "has no heading", "a decimal comma parts a number in two here: write 12.5, or part the cells by semicolons")
			}
			continue
		case text != "" && t.columns[i].known:
			c = t.number(c, t.columns[i])
		}
		cells = append(cells, c)
	}
	t.rows = append(t.rows, cells)
}

// number reads one cell.
func (t *stationTable) number(c cell, col column) cell {
	text := c.raw
	if _, err := strconv.ParseFloat(text, 64); err == nil && t.centimetres {
		text += " " + Centimetre
	}
	mm, err := document.ParseLength(text, t.unit)
	field := fmt.Sprintf("column %d, %s", c.column, col.name)
	switch {
	case err != nil:
		t.fault(c.line, field, c.raw, "must be a length: a number, or one with its unit", "write it as 12.5, 4.8 mm or 1 3/16 in, and leave the cell empty where nothing was measured")
	case math.IsNaN(mm) || math.IsInf(mm, 0) || math.Abs(mm) > 1e5:
		t.fault(c.line, field, c.raw, "must be a finite length that a knife can have", "correct it, or leave the cell empty")
	case mm < 0 && !col.x && (col.kind == Width || col.kind == Thickness):
		t.fault(c.line, field, c.raw, "must not be negative", "write what the caliper reads, without a sign")
	default:
		c.mm, c.ok = mm, true
	}
	return c
}

// station returns the station of a row.
func (t *stationTable) station(row []cell) (cell, bool) {
	for i, c := range row {
		if i < len(t.columns) && t.columns[i].x {
			return c, c.ok
		}
	}
	return cell{}, false
}
