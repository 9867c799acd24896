package gcode_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/export/gcode"
	"fullerwright/toolpath/motion"
)

// The second evaluator tells what a program does, from the rules of NISTIR 6556 alone
// and in another way than the reader: regular expressions over the line with its
// spaces taken out, maps of words, and arcs solved by complex numbers. It knows no
// expressions, parameters or cycles; the programs made here have none.

// step is one motion as the second evaluator has it.
type step struct {
	line          int
	kind          motion.Kind
	end           [3]float64 // mm
	centre        [3]float64 // of an arc
	sweep, feed   float64
	turning       int
	speed, dwells float64
}

var (
	secondComment = regexp.MustCompile(`\([^()]*\)`)
	secondWord    = regexp.MustCompile(`^([A-Z])([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))`)
)

// groupOf gives the modal group of each code that the second evaluator knows.
var groupOf = map[string]string{
	"G4": "0", "G10": "0", "G53": "0", "G92": "0", "G92.1": "0", "G92.2": "0", "G92.3": "0", "G28": "0", "G30": "0",
	"G0": "1", "G1": "1", "G2": "1", "G3": "1", "G80": "1", "G17": "2", "G18": "2", "G19": "2", "G90": "3", "G91": "3",
	"G93": "5", "G94": "5", "G20": "6", "G21": "6", "G40": "7", "G43": "8", "G49": "8", "G98": "10", "G99": "10",
	"G54": "12", "G55": "12", "G56": "12", "G57": "12", "G58": "12", "G59": "12", "G59.1": "12", "G59.2": "12", "G59.3": "12",
	"G61": "13", "G61.1": "13", "G64": "13",
	"M0": "m4", "M1": "m4", "M2": "m4", "M30": "m4", "M60": "m4", "M6": "m6", "M3": "m7", "M4": "m7", "M5": "m7",
	"M7": "m8", "M8": "m8", "M9": "m8", "M48": "m9", "M49": "m9",
}

type second struct {
	steps             []step
	at                [3]float64
	mode              string
	plane             int // the axis of the normal: 2, 1, 0
	relative, inverse bool
	unit              float64
	feed              float64
	turning           int
	speed             float64
	system            int
	origins           [9][3]float64
	offset            [3]float64
	saved             [3]float64
	ended             bool
}

// evaluate runs a program; the line is that of the first fault, 0 for none.
func evaluate(text string) (steps []step, fault int) {
	s := &second{mode: "G80", plane: 2, unit: 1}
	bracketed, begun := false, false
	lines := strings.Split(strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n"), "\n")
	for i, line := range lines {
		if s.ended {
			break
		}
		trimmed := strings.TrimSpace(line)
		switch {
		case trimmed == "":
			continue
		case trimmed == "%" && !begun:
			begun, bracketed = true, true
			continue
		case trimmed == "%" && bracketed:
			s.ended = true
			continue
		case strings.HasPrefix(trimmed, "%") || len(line) > 253:
			return nil, i + 1
		}
		begun = true
		if !s.block(line, i+1) {
			return nil, i + 1
		}
	}
	if !s.ended {
		return nil, -1
	}
	return s.steps, 0
}

// words takes a line apart; ok is false where it is not legal.
func words(line string) (letters map[string]float64, codes map[string]string, ok bool) {
	letters, codes = map[string]float64{}, map[string]string{}
	// A comment stands between words and not inside one; @ keeps its place.
	if strings.Contains(line, "@") {
		return nil, nil, false
	}
	bare := secondComment.ReplaceAllString(line, "@")
	if strings.ContainsAny(bare, "()") {
		return nil, nil, false
	}
	bare = strings.ToUpper(strings.NewReplacer(" ", "", "\t", "").Replace(bare))
	bare = strings.TrimPrefix(bare, "/")
	if m := regexp.MustCompile(`^N([0-9]{1,5})`).FindString(bare); m != "" {
		bare = bare[len(m):]
		if bare != "" && bare[0] >= '0' && bare[0] <= '9' || strings.HasPrefix(bare, ".") {
			return nil, nil, false
		}
	}
	machine := 0
	for {
		if bare = strings.TrimLeft(bare, "@"); bare == "" {
			return letters, codes, machine <= 4
		}
		m := secondWord.FindStringSubmatch(bare)
		if m == nil || strings.Contains("ENOUVW", m[1]) {
			return nil, nil, false
		}
		bare = bare[len(m[0]):]
		v, err := strconv.ParseFloat(m[2], 64)
		if err != nil {
			return nil, nil, false
		}
		if m[1] == "G" || m[1] == "M" {
			name := m[1] + strconv.FormatFloat(math.Round(v*10)/10+0, 'f', -1, 64) // + 0 takes the sign off a zero
			group, known := groupOf[name]
			_, twice := codes[group]
			if !known || twice || math.Abs(v*10-math.Round(v*10)) > 0.001 {
				return nil, nil, false
			}
			codes[group] = name
			if m[1] == "M" {
				machine++
			}
			continue
		}
		if _, twice := letters[m[1]]; twice {
			return nil, nil, false
		}
		letters[m[1]] = v
	}
}

func has(w map[string]float64, names string) bool {
	for _, n := range names {
		if _, ok := w[string(n)]; ok {
			return true
		}
	}
	return false
}

// legal holds the rules about which words may stand together.
func (s *second) legal(w map[string]float64, c map[string]string) bool {
	axes := has(w, "XYZ")
	nonModal := c["0"]
	taker := c["1"]
	usesAxes := nonModal == "G10" || nonModal == "G28" || nonModal == "G30" || nonModal == "G92"
	if taker == "" && axes && !usesAxes {
		taker = s.mode
	}
	arc := taker == "G2" || taker == "G3"
	relative := s.relative
	if c["3"] != "" {
		relative = c["3"] == "G91"
	}
	for _, rule := range []bool{
		usesAxes && c["1"] != "" && c["1"] != "G80",
		c["1"] == "G80" && axes && !usesAxes,
		taker == "G80" && axes && !usesAxes,
		(c["1"] == "G0" || c["1"] == "G1" || c["1"] == "G2" || c["1"] == "G3") && !axes,
		has(w, "IJKR") && (!arc || usesAxes),
		has(w, "P") && nonModal != "G4" && nonModal != "G10",
		has(w, "L") && nonModal != "G10",
		has(w, "QD"), has(w, "H") != (c["8"] == "G43"),
		nonModal == "G4" && (!has(w, "P") || w["P"] < 0),
		nonModal == "G10" && (w["L"] != 2 || w["P"] < 1 || w["P"] > 9 || w["P"] != math.Round(w["P"])),
		nonModal == "G92" && !has(w, "XYZABC"),
		nonModal == "G53" && (!axes || relative || taker != "G0" && taker != "G1"),
		has(w, "F") && w["F"] < 0, has(w, "S") && w["S"] < 0,
		has(w, "T") && (w["T"] < 0 || w["T"] > 128 || w["T"] != math.Round(w["T"])),
		has(w, "H") && (w["H"] < 0 || w["H"] > 128 || w["H"] != math.Round(w["H"])),
	} {
		if rule {
			return false
		}
	}
	return true
}

// block does one line in the order of the report's table 8.
func (s *second) block(line string, number int) bool {
	w, c, ok := words(line)
	if !ok || !s.legal(w, c) {
		return false
	}
	if c["5"] != "" {
		s.inverse = c["5"] == "G93"
	}
	if f, ok := w["F"]; ok {
		s.feed = f
	}
	if v, ok := w["S"]; ok {
		s.speed = v
	}
	if c["m6"] != "" {
		s.turning = 0
		s.emit(step{line: number, kind: motion.Tool})
	}
	if m := c["m7"]; m != "" {
		s.turning = map[string]int{"M3": 1, "M4": -1, "M5": 0}[m]
	}
	if c["0"] == "G4" {
		s.emit(step{line: number, kind: motion.Dwell, dwells: w["P"]})
	}
	if p := c["2"]; p != "" {
		s.plane = map[string]int{"G17": 2, "G18": 1, "G19": 0}[p]
	}
	if u := c["6"]; u != "" {
		s.unit = map[string]float64{"G20": 25.4, "G21": 1}[u]
	}
	if y := c["12"]; y != "" {
		s.system = map[string]int{"G54": 0, "G55": 1, "G56": 2, "G57": 3, "G58": 4, "G59": 5, "G59.1": 6, "G59.2": 7, "G59.3": 8}[y]
	}
	if d := c["3"]; d != "" {
		s.relative = d == "G91"
	}
	s.preset(w, c["0"], number)
	if !s.motion(w, c, number) {
		return false
	}
	switch c["m4"] {
	case "M2", "M30":
		s.ended = true
	case "M0", "M1", "M60":
		s.emit(step{line: number, kind: motion.Stop})
	}
	return true
}

const axisNames = "XYZ"

func (s *second) preset(w map[string]float64, code string, number int) {
	for i := range 3 {
		v, given := w[axisNames[i:i+1]]
		switch {
		case code == "G10" && given:
			s.origins[int(w["P"])-1][i] = v * s.unit
		case code == "G92" && given:
			s.offset[i] = s.at[i] - s.origins[s.system][i] - v*s.unit
		case code == "G92.1" || code == "G92.2":
			s.offset[i] = 0
		case code == "G92.3":
			s.offset[i] = s.saved[i]
		}
	}
	switch code {
	case "G92":
		s.saved = s.offset
	case "G92.1":
		s.saved = [3]float64{}
	case "G28", "G30":
		s.emit(step{line: number, kind: motion.Rapid, end: s.goal(w, true)})
		s.emit(step{line: number, kind: motion.Rapid})
	}
}

// goal is where the axis words lead; within the offsets or without.
func (s *second) goal(w map[string]float64, offsets bool) [3]float64 {
	out := s.at
	for i := range 3 {
		if v, given := w[axisNames[i:i+1]]; given {
			switch {
			case s.relative:
				out[i] += v * s.unit
			case offsets:
				out[i] = v*s.unit + s.origins[s.system][i] + s.offset[i]
			default:
				out[i] = v * s.unit
			}
		}
	}
	return out
}

func (s *second) motion(w map[string]float64, c map[string]string, number int) bool {
	code := c["0"]
	taken := code == "G10" || code == "G28" || code == "G30" || code == "G92"
	if c["1"] != "" {
		s.mode = c["1"]
	}
	if taken || !has(w, "XYZ") || s.mode == "G80" {
		return true
	}
	out := step{line: number, kind: motion.Rapid, end: s.goal(w, code != "G53")}
	if s.mode != "G0" {
		if s.feed == 0 || s.inverse && !has(w, "F") {
			return false
		}
		out.kind, out.feed = motion.Line, s.feed*s.unit
	}
	length := math.Sqrt(sq(out.end[0]-s.at[0]) + sq(out.end[1]-s.at[1]) + sq(out.end[2]-s.at[2]))
	if s.mode == "G2" || s.mode == "G3" {
		out.kind = motion.Arc
		var ok bool
		if length, ok = s.arc(&out, w); !ok {
			return false
		}
	}
	if s.inverse && s.mode != "G0" {
		out.feed = s.feed * length
	}
	s.emit(out)
	return true
}

func sq(v float64) float64 { return v * v }

// arc solves an arc in the complex plane of its two axes, the real one first.
func (s *second) arc(out *step, w map[string]float64) (length float64, ok bool) {
	real, imaginary := [3]int{1, 2, 0}[s.plane], [3]int{2, 0, 1}[s.plane]
	names := [3]string{"YZ", "ZX", "XY"}[s.plane]
	offsets := "IJK"
	if !has(w, names) || has(w, offsets[s.plane:s.plane+1]) || has(w, "IJK") == has(w, "R") {
		return 0, false
	}
	from, to := complex(s.at[real], s.at[imaginary]), complex(out.end[real], out.end[imaginary])
	clockwise := s.mode == "G2"
	var centre complex128
	if r, byRadius := w["R"]; byRadius {
		r *= s.unit
		chord := to - from
		half := math.Hypot(real2(chord), imag2(chord)) / 2
		if half == 0 || r == 0 || half > math.Abs(r)*(1+1e-12) {
			return 0, false
		}
		away := math.Sqrt(math.Max(0, r*r-half*half))
		left := chord * complex(0, 1/(2*half))
		if clockwise != (r < 0) {
			left = -left
		}
		centre = (from+to)/2 + left*complex(away, 0)
	} else {
		centre = from + complex(w[offsets[real:real+1]]*s.unit, w[offsets[imaginary:imaginary+1]]*s.unit)
		a, b := size(from-centre), size(to-centre)
		if a == 0 || b == 0 || math.Abs(a-b) > map[bool]float64{true: 0.002, false: 0.0002 * 25.4}[s.unit == 1] {
			return 0, false
		}
	}
	// The turn is the angle of the quotient of the two radii, made to go the right way.
	ratio := (to - centre) / (from - centre)
	turn := math.Atan2(imag2(ratio), real2(ratio))
	switch {
	case to == from:
		turn = 2 * math.Pi
		if clockwise {
			turn = -turn
		}
	case clockwise && turn > 0:
		turn -= 2 * math.Pi
	case !clockwise && turn < 0:
		turn += 2 * math.Pi
	}
	out.sweep = turn
	out.centre[real], out.centre[imaginary], out.centre[s.plane] = real2(centre), imag2(centre), s.at[s.plane]
	return math.Hypot(turn*size(from-centre), out.end[s.plane]-s.at[s.plane]), true
}

func real2(c complex128) float64 { return real(c) }
func imag2(c complex128) float64 { return imag(c) }
func size(c complex128) float64  { return math.Hypot(real(c), imag(c)) }

func (s *second) emit(v step) {
	if v.kind == motion.Tool || v.kind == motion.Dwell || v.kind == motion.Stop {
		v.end = s.at
	}
	v.turning, v.speed = s.turning, s.speed
	s.at = v.end
	s.steps = append(s.steps, v)
}

// maker makes random programs.
type maker struct{ *rand.Rand }

func (m maker) one(of ...string) string { return of[m.IntN(len(of))] }

func (m maker) number(span float64) string {
	text := strconv.FormatFloat((m.Float64()*2-1)*span, 'f', m.IntN(5), 64)
	if m.IntN(9) == 0 && len(text) > 2 {
		at := 1 + m.IntN(len(text)-1)
		text = text[:at] + " " + text[at:]
	}
	return text
}

// line makes one line, mostly legal.
func (m maker) line() string {
	var out []string
	add := func(chance int, word string) {
		if m.IntN(chance) == 0 {
			out = append(out, word)
		}
	}
	for _, l := range []string{"X", "Y", "Z"} {
		add(2, l+m.number(40))
	}
	add(6, m.one("G90", "G91"))
	add(9, m.one("G17", "G18", "G19"))
	add(12, m.one("G20", "G21"))
	add(12, m.one("G93 F2", "G94 F300", "F120", "F33.5"))
	add(12, m.one("G54", "G55", "G59.1"))
	add(9, m.one("M3", "M5", "M4", "M7", "M9", "M8 M3", "M48"))
	add(12, "S"+strconv.Itoa(m.IntN(9000)))
	add(15, "T"+strconv.Itoa(m.IntN(20)))
	add(25, m.one("M6", "M0", "M1"))
	add(20, m.one("G61", "G64", "G98", "G43 H2", "G49", "G40"))
	add(14, m.one("G92.1", "G92.2", "G92.3", "G4 P0.5", "G53", "G28", "G80"))
	switch m.IntN(10) {
	case 0, 1:
		out = append(out, "G1")
	case 2:
		out = append(out, "G0")
	case 3:
		out = []string{m.one("G17", "G18", "G19"), m.one("G2", "G3"), "X" + m.number(9), "Y" + m.number(9), "Z" + m.number(9), "R" + m.number(30)}
	case 4:
		r := strconv.FormatFloat(1+m.Float64()*9, 'f', 3, 64)
		out = []string{"G91", m.one("G17 I"+r+" X"+r+" Y"+r, "G18 K"+r+" X"+r+" Z"+r, "G19 J"+r+" Y"+r+" Z"+r, "G17 J-"+r+" X0", "G18 I"+r+" Z0 Y1"), m.one("G2", "G3")}
	case 5:
		out = []string{m.one("G92 X1", "G92 X0 Y2.5", "G10 L2 P1 X3", "G10 L2 P2 Y-4 Z1")}
	}
	m.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	text := strings.Join(out, m.one("", " ", "  ", " (note) "))
	if m.IntN(5) == 0 {
		text = "N" + strconv.Itoa(m.IntN(99999)) + " " + text
	}
	if m.IntN(20) == 0 {
		text = "/" + text
	}
	if m.IntN(3) == 0 {
		text = strings.ToLower(text)
	}
	return text
}

func (m maker) program() string {
	lines := []string{"G21 G90 G94 F100", "G1 X0 Y0 Z0"}
	for range 1 + m.IntN(14) {
		lines = append(lines, m.line())
	}
	return strings.Join(append(lines, m.one("M2", "M30", "M02 (END)")), m.one("\n", "\r\n")) + "\n"
}

// spoil changes one character of a program.
func (m maker) spoil(text string) string {
	at := m.IntN(len(text))
	switch m.IntN(4) {
	case 0:
		return text[:at] + text[at+1:]
	case 1:
		return text[:at] + m.one("X", "G", ".", "-", "5", "(", ")", ";", "%", "M", "R", "\n", "E", "N3") + text[at:]
	case 2:
		return text[:at] + text[at:at+1] + text[at:]
	}
	return text[:at] + m.one("Z", "0", "9", "I", "/", "P", ",") + text[at+1:]
}

// beyondSecond reports whether a spoilt program has something that the second evaluator
// does not know: expressions, parameters, cycles, compensation, probing.
var beyondSecond = regexp.MustCompile(`(?i)#|\[|G\s*0?\s*(8[1-9]|41|42|38)|Q|D`)

// TestSecondEvaluatorAgrees runs thousands of random programs, and as many spoilt ones,
// through the reader and the second evaluator: both take or refuse each program alike,
// at the same line, and give the same motions.
func TestSecondEvaluatorAgrees(t *testing.T) {
	m := maker{rand.New(rand.NewPCG(61, 62))}
	accepted, refused := 0, 0
	for i := range 20000 {
		text := m.program()
		if i%2 == 1 {
			text = m.spoil(text)
		}
		if beyondSecond.MatchString(text) {
			continue
		}
		want, fault := evaluate(text)
		got, err := gcode.Read(strings.NewReader(text))
		if fault != 0 {
			refused++
			var rule *gcode.RuleError
			if !assert.ErrorAs(t, err, &rule, "the reader takes what the second evaluator refuses at line %d:\n%s", fault, text) {
				return
			}
			if fault > 0 {
				require.Equal(t, fault, rule.TextLine, "refused at another line: %v\n%s", err, text)
			}
			continue
		}
		require.NoError(t, err, text)
		accepted++
		require.NoError(t, compare(want, got.Motions), text)
	}
	t.Logf("%d programs taken alike, %d refused alike", accepted, refused)
	assert.Greater(t, accepted, 2000)
	assert.Greater(t, refused, 4000)
}

func compare(want []step, got []motion.Motion) error {
	if len(want) != len(got) {
		return fmt.Errorf("%d motions, the second evaluator has %d", len(got), len(want))
	}
	for i, w := range want {
		g := got[i]
		apart := math.Abs(g.To.X-w.end[0]) + math.Abs(g.To.Y-w.end[1]) + math.Abs(g.To.Z-w.end[2])
		if w.kind == motion.Arc {
			apart += math.Abs(g.Centre.X-w.centre[0]) + math.Abs(g.Centre.Y-w.centre[1]) + math.Abs(g.Centre.Z-w.centre[2])
			apart += math.Abs(g.Sweep - w.sweep)
		}
		if w.kind == motion.Line || w.kind == motion.Arc {
			apart += math.Abs(g.Feed-w.feed) / (1 + w.feed)
		}
		apart += math.Abs(g.Seconds-w.dwells) + math.Abs(g.Speed-w.speed)
		if g.Kind != w.kind || g.TextLine != w.line || int(g.Spindle) != w.turning || apart > 1e-6 {
			return fmt.Errorf("motion %d: %+v, the second evaluator has %+v", i, g, w)
		}
	}
	return nil
}
