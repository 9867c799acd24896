package match

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// run is one run of points of a drawing, in the units of its viewBox with y down.
type run struct {
	points []tracedPoint
	closed bool
	line   int
	what   string // the element
}

// tracedPoint is a point of a run with what lies between it and the one before.
type tracedPoint struct {
	geom.Point
	curved bool // it was taken from a curve
}

// svgReader walks a drawing (Scalable Vector Graphics 1.1, second edition, W3C 2011).
type svgReader struct {
	file   string
	runs   []run
	stack  []affine
	hidden int // how deep the definitions lie that it is in, which draw nothing; 0 for none
	scale  float64
	root   bool
	faults document.FieldErrors
}

// affine is the transform x' = a x + c y + e, y' = b x + d y + f of the standard, 7.4.
type affine struct{ a, b, c, d, e, f float64 }

func (m affine) apply(p geom.Point) geom.Point {
	return geom.Point{X: m.a*p.X + m.c*p.Y + m.e, Y: m.b*p.X + m.d*p.Y + m.f}
}

// after returns the transform that applies n first and then m.
func (m affine) after(n affine) affine {
	return affine{m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b, m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d,
		m.a*n.e + m.c*n.f + m.e, m.b*n.e + m.d*n.f + m.f}
}

// readSVG returns every run of points of a drawing, and how long one unit of its viewBox
// is, mm, or 0 where its size is given in no unit of length.
func readSVG(file string, data []byte) ([]run, float64, error) {
	r := &svgReader{file: file, stack: []affine{{a: 1, d: 1}}}
	d := xml.NewDecoder(bytes.NewReader(data))
	d.Strict = true
	for {
		line, column := d.InputPos()
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			r.fault(line, fmt.Sprintf("column %d", column), "", "this is not SVG: "+strings.TrimPrefix(err.Error(), "XML syntax error on "), "save the outline as plain SVG")
			break
		}
		switch t := token.(type) {
		case xml.StartElement:
			line, _ = d.InputPos()
			r.open(t, line)
		case xml.EndElement:
			r.shut()
		}
	}
	if !r.root && len(r.faults) == 0 {
		r.fault(0, "", "", "there is no svg element in it", "save the outline as plain SVG")
	}
	if len(r.faults) > 0 {
		return nil, 0, r.faults
	}
	return r.runs, r.scale, nil
}

func (r *svgReader) fault(line int, field, value, rule, hint string) {
	if len(value) > 60 {
		value = value[:60] + "..."
	}
	r.faults = append(r.faults, document.FieldError{File: r.file, Line: line, Field: field, Value: value, Rule: rule, Hint: hint})
}

func attribute(t xml.StartElement, name string) string {
	for _, a := range t.Attr {
		if a.Name.Local == name {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}

func (r *svgReader) open(t xml.StartElement, line int) {
	top := r.stack[len(r.stack)-1]
	if text := attribute(t, "transform"); text != "" {
		m, err := parseTransform(text)
		if err != nil {
			r.fault(line, t.Name.Local+" transform", text, err.Error(), "flatten the transforms when saving")
		}
		top = top.after(m)
	}
	r.stack = append(r.stack, top)
	switch t.Name.Local {
	case "defs", "clipPath", "mask", "symbol", "marker", "pattern":
		if r.hidden == 0 {
			r.hidden = len(r.stack)
		}
	}
	if r.hidden > 0 {
		return
	}
	switch t.Name.Local {
	case "svg":
		if !r.root {
			r.root = true
			r.size(t, line)
		}
	case "path":
		runs, err := parsePath(attribute(t, "d"))
		if err != nil {
			r.fault(line, "path d", attribute(t, "d"), err.Error(), "save the outline again as a plain path")
		}
		for _, one := range runs {
			r.add(one, top, line, "path")
		}
	case "polyline", "polygon":
		points, err := parsePoints(attribute(t, "points"))
		if err != nil {
			r.fault(line, t.Name.Local+" points", attribute(t, "points"), err.Error(), "save the outline again as a plain path")
		}
		r.add(run{points: points, closed: t.Name.Local == "polygon"}, top, line, t.Name.Local)
	}
}

func (r *svgReader) shut() {
	if len(r.stack) == r.hidden {
		r.hidden = 0
	}
	r.stack = r.stack[:max(1, len(r.stack)-1)]
}

func (r *svgReader) add(one run, m affine, line int, what string) {
	if len(one.points) < 2 {
		return
	}
	for i, p := range one.points {
		one.points[i].Point = m.apply(p.Point)
	}
	one.line, one.what = line, what
	r.runs = append(r.runs, one)
}

// size reads width, height and viewBox of the drawing.
func (r *svgReader) size(t xml.StartElement, line int) {
	box := attribute(t, "viewBox")
	numbers, err := parseNumbers(box)
	if box != "" && (err != nil || len(numbers) != 4 || !(numbers[2] > 0) || !(numbers[3] > 0)) {
		r.fault(line, "svg viewBox", box, "must be four numbers, the last two greater than 0", `as viewBox="0 0 297 210"`)
		return
	}
	width, wide := physical(attribute(t, "width"))
	height, high := physical(attribute(t, "height"))
	switch {
	case !wide || box == "":
		return // pixels: what they mean, the known length says
	case !high:
		r.scale = width / numbers[2]
		return
	}
	along, up := width/numbers[2], height/numbers[3]
	if math.Abs(along/up-1) > 0.005 {
		r.fault(line, "svg width", attribute(t, "width"), fmt.Sprintf("width and height make the units of the viewBox %.4g mm wide and %.4g mm high", along, up),
			"scan and trace with equal scales in both directions")
	}
	r.scale = (along + up) / 2
}

// physical reads a length with a unit that a rule can measure; a pixel has none, since
// programs take it for anything from 1/72 to 1/300 of an inch.
func physical(text string) (mm float64, ok bool) {
	for suffix, unit := range map[string]float64{"mm": 1, "cm": 10, "in": inch, "pt": inch / 72, "pc": inch / 6} {
		if number, found := strings.CutSuffix(text, suffix); found {
			v, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
			return v * unit, err == nil && v > 0 && !math.IsInf(v, 0)
		}
	}
	return 0, false
}
