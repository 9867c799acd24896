package match

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"fullerwright/profile/geom"
)

// curvePoints is how many points are taken of one curve of a path.
const curvePoints = 24

var (
	pathToken   = regexp.MustCompile(`[A-Za-z]|[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?|[^\s,]`)
	numberToken = regexp.MustCompile(`[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?`)
	transform   = regexp.MustCompile(`([a-zA-Z]+)\s*\(([^)]*)\)`)
)

// parseNumbers reads numbers parted by spaces or commas.
func parseNumbers(text string) ([]float64, error) {
	rest := strings.FieldsFunc(numberToken.ReplaceAllString(text, " "), func(r rune) bool { return strings.ContainsRune(" ,\t\r\n", r) })
	if len(rest) > 0 {
		return nil, fmt.Errorf("%q is no number", rest[0])
	}
	var out []float64
	for _, token := range numberToken.FindAllString(text, -1) {
		v, err := strconv.ParseFloat(token, 64)
		if err != nil || math.Abs(v) > 1e9 {
			return nil, fmt.Errorf("%q is no number that a drawing can have", token)
		}
		out = append(out, v)
	}
	return out, nil
}

// parsePoints reads the points of a polyline.
func parsePoints(text string) ([]tracedPoint, error) {
	numbers, err := parseNumbers(text)
	if err != nil {
		return nil, err
	}
	if len(numbers)%2 != 0 {
		return nil, errors.New("the last point has no y")
	}
	var out []tracedPoint
	for i := 0; i < len(numbers); i += 2 {
		out = append(out, tracedPoint{Point: geom.Point{X: numbers[i], Y: numbers[i+1]}})
	}
	return out, nil
}

// parseTransform reads a list of transforms (the standard, 7.6).
func parseTransform(text string) (affine, error) {
	out := affine{a: 1, d: 1}
	if strings.Trim(transform.ReplaceAllString(text, ""), " ,\t\r\n") != "" {
		return out, errors.New("is no list of transforms")
	}
	for _, m := range transform.FindAllStringSubmatch(text, -1) {
		v, err := parseNumbers(m[2])
		if err != nil {
			return out, err
		}
		one, ok := oneTransform(m[1], v)
		if !ok {
			return out, fmt.Errorf("%s cannot be used here", m[0])
		}
		out = out.after(one)
	}
	return out, nil
}

func oneTransform(name string, v []float64) (affine, bool) {
	at := func(i int, other float64) float64 {
		if i < len(v) {
			return v[i]
		}
		return other
	}
	switch {
	case name == "matrix" && len(v) == 6:
		return affine{v[0], v[1], v[2], v[3], v[4], v[5]}, true
	case name == "translate" && (len(v) == 1 || len(v) == 2):
		return affine{1, 0, 0, 1, v[0], at(1, 0)}, true
	case name == "scale" && (len(v) == 1 || len(v) == 2):
		return affine{v[0], 0, 0, at(1, v[0]), 0, 0}, true
	case name == "rotate" && (len(v) == 1 || len(v) == 3):
		sin, cos := math.Sincos(v[0] * math.Pi / 180)
		x, y := at(1, 0), at(2, 0)
		return affine{cos, sin, -sin, cos, x - cos*x + sin*y, y - sin*x - cos*y}, true
	case name == "skewX" && len(v) == 1:
		return affine{1, 0, math.Tan(v[0] * math.Pi / 180), 1, 0, 0}, true
	case name == "skewY" && len(v) == 1:
		return affine{1, math.Tan(v[0] * math.Pi / 180), 0, 1, 0, 0}, true
	}
	return affine{}, false
}

// pathReader draws the commands of a path (the standard, 8.3).
type pathReader struct {
	tokens    []string
	runs      []run
	at, start geom.Point
	control   geom.Point // the last control point, for a smooth curve after it
	smooth    byte       // the command before, in capitals
}

// counts is how many numbers each command takes.
var counts = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}

// parsePath reads the data of a path as runs of points.
func parsePath(text string) ([]run, error) {
	p := &pathReader{tokens: pathToken.FindAllString(text, -1)}
	command := byte(0)
	for len(p.tokens) > 0 {
		token := p.tokens[0]
		if c := token[0]; len(token) == 1 && (c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z') {
			command = c
			p.tokens = p.tokens[1:]
		} else if command == 0 || command == 'Z' || command == 'z' {
			return p.runs, fmt.Errorf("%q stands where a command must", token)
		}
		n, known := counts[command&^0x20]
		if !known {
			return p.runs, fmt.Errorf("%q is no command of a path", string(command))
		}
		v, err := p.numbers(n, command)
		if err != nil {
			return p.runs, err
		}
		if len(p.runs) == 0 && command&^0x20 != 'M' {
			return p.runs, errors.New("a path begins with M")
		}
		p.draw(command, v)
		if command == 'M' || command == 'm' {
			command-- // further pairs are lines: 'L' and 'l' stand just before in the alphabet
		}
	}
	return p.runs, nil
}

func (p *pathReader) numbers(n int, command byte) ([]float64, error) {
	out := make([]float64, n)
	for i := range n {
		if len(p.tokens) == 0 {
			return nil, fmt.Errorf("%s takes %d numbers, and there are %d", string(command), n, i)
		}
		token := p.tokens[0]
		if command&^0x20 == 'A' && (i == 3 || i == 4) && len(token) > 1 && (token[0] == '0' || token[0] == '1') {
			token = token[:1] // flags may stand without a space
			p.tokens[0] = p.tokens[0][1:]
		} else {
			p.tokens = p.tokens[1:]
		}
		v, err := strconv.ParseFloat(token, 64)
		if err != nil || math.Abs(v) > 1e9 {
			return nil, fmt.Errorf("%q is no number that a drawing can have", token)
		}
		out[i] = v
	}
	return out, nil
}

func (p *pathReader) draw(command byte, v []float64) {
	capital := command &^ 0x20
	from := geom.Point{}
	if command != capital {
		from = p.at
	}
	point := func(i int) geom.Point { return geom.Point{X: from.X + v[i], Y: from.Y + v[i+1]} }
	mirrored := func(after string) geom.Point {
		if strings.IndexByte(after, p.smooth) < 0 {
			return p.at
		}
		return geom.Point{X: 2*p.at.X - p.control.X, Y: 2*p.at.Y - p.control.Y}
	}
	switch capital {
	case 'M':
		p.at = point(0)
		p.start = p.at
		p.runs = append(p.runs, run{points: []tracedPoint{{Point: p.at}}})
	case 'Z':
		p.runs[len(p.runs)-1].closed = true
		p.at = p.start
	case 'L':
		p.line(point(0))
	case 'H':
		p.line(geom.Point{X: from.X + v[0], Y: p.at.Y})
	case 'V':
		p.line(geom.Point{X: p.at.X, Y: from.Y + v[0]})
	case 'C':
		p.cubic(point(0), point(2), point(4))
	case 'S':
		p.cubic(mirrored("CS"), point(0), point(2))
	case 'Q':
		p.quadratic(point(0), point(2))
	case 'T':
		p.quadratic(mirrored("QT"), point(0))
	case 'A':
		p.arc(v, point(5))
	}
	p.smooth = capital
}

// add goes on to a point; after a run was closed a new one begins where that began.
func (p *pathReader) add(q geom.Point, curved bool) {
	last := &p.runs[len(p.runs)-1]
	if last.closed {
		p.runs = append(p.runs, run{points: []tracedPoint{{Point: p.start}}})
		last = &p.runs[len(p.runs)-1]
	}
	last.points = append(last.points, tracedPoint{q, curved})
	p.at = q
}

func (p *pathReader) line(to geom.Point) { p.add(to, false) }

func (p *pathReader) cubic(b, c, to geom.Point) {
	curve := geom.Cubic{P0: p.at, P1: b, P2: c, P3: to}
	for i := 1; i <= curvePoints; i++ {
		p.add(curve.At(float64(i)/curvePoints), true)
	}
	p.control = c
}

func (p *pathReader) quadratic(b, to geom.Point) {
	curve := geom.QuadraticAsCubic(p.at, b, to)
	for i := 1; i <= curvePoints; i++ {
		p.add(curve.At(float64(i)/curvePoints), true)
	}
	p.control = b
}

// arc draws an elliptical arc by the standard's notes on implementation, F.6.5.
func (p *pathReader) arc(v []float64, to geom.Point) {
	rx, ry := math.Abs(v[0]), math.Abs(v[1])
	from := p.at
	if rx == 0 || ry == 0 || from == to {
		p.line(to)
		return
	}
	sin, cos := math.Sincos(v[2] * math.Pi / 180)
	dx, dy := (from.X-to.X)/2, (from.Y-to.Y)/2
	x, y := cos*dx+sin*dy, -sin*dx+cos*dy
	if size := x*x/(rx*rx) + y*y/(ry*ry); size > 1 {
		rx, ry = rx*math.Sqrt(size), ry*math.Sqrt(size)
	}
	root := math.Sqrt(math.Max(0, (rx*rx*ry*ry-rx*rx*y*y-ry*ry*x*x)/(rx*rx*y*y+ry*ry*x*x)))
	if (v[3] != 0) == (v[4] != 0) {
		root = -root
	}
	cx, cy := root*rx*y/ry, -root*ry*x/rx
	begin := math.Atan2((y-cy)/ry, (x-cx)/rx)
	turn := math.Atan2((-y-cy)/ry, (-x-cx)/rx) - begin
	if v[4] != 0 && turn < 0 {
		turn += 2 * math.Pi
	}
	if v[4] == 0 && turn > 0 {
		turn -= 2 * math.Pi
	}
	for i := 1; i <= curvePoints; i++ {
		if i == curvePoints {
			p.add(to, true)
			break
		}
		s, c := math.Sincos(begin + turn*float64(i)/curvePoints)
		ex, ey := rx*c+cx, ry*s+cy
		p.add(geom.Point{X: cos*ex - sin*ey + (from.X+to.X)/2, Y: sin*ex + cos*ey + (from.Y+to.Y)/2}, true)
	}
}
