package gcode

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"fullerwright/toolpath"
	"fullerwright/toolpath/motion"
)

// writerChordError bounds how far chords lie from an arc that a dialect cannot
// write, mm. They lie on the side of the arc away from the finished steel: above the
// dipping arcs of a fuller, and outside an arc that runs round the steel. They leave
// that much and never gouge.
const writerChordError = 0.0005

// Write returns the text of a checked job in a dialect: the same job, the same bytes.
// Heading lines become comments before the first block, where the dialect has any.
func Write(checked toolpath.CheckedJob, d Dialect, inch bool, heading []string) ([]byte, error) {
	job := checked.Job()
	if job == nil {
		return nil, fmt.Errorf("only a checked job can be written")
	}
	w := &writer{dialect: d, inch: inch}
	w.start(job, heading)
	for _, m := range job.Moves {
		w.move(m)
	}
	w.end(job)
	if w.fault != nil {
		return nil, w.fault
	}
	return w.out.Bytes(), nil
}

// writer spells one program.
type writer struct {
	dialect Dialect
	inch    bool
	out     bytes.Buffer
	number  int
	at      [3]string // the coordinates last written
	from    motion.Vec
	begun   bool
	plane   string
	feed    string
	fault   error
}

// block writes one line.
func (w *writer) block(words ...string) {
	line := strings.Join(words, " ")
	if step := w.dialect.BlockNumbers.Step; step > 0 {
		w.number += step
		if w.number > w.dialect.BlockNumbers.Max {
			w.number = step
		}
		line = "N" + strconv.Itoa(w.number) + " " + line
	}
	w.raw(line)
}

func (w *writer) raw(line string) {
	if len(line) > w.dialect.MaxLine && w.fault == nil {
		w.fault = fmt.Errorf("a line of %d characters is longer than the dialect's %d: %q", len(line), w.dialect.MaxLine, line)
	}
	w.out.WriteString(line)
	w.out.WriteString(w.dialect.LineEnd)
}

// comment writes a line of comment in the characters that every control takes.
func (w *writer) comment(text string) {
	if !w.dialect.Comments {
		return
	}
	clean := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z':
			return r - 'a' + 'A'
		case r >= 'A' && r <= 'Z', r >= '0' && r <= '9', strings.ContainsRune(" .,+-=/", r):
			return r
		}
		return ' '
	}, text)
	clean = strings.Join(strings.Fields(clean), " ")
	limit := w.dialect.CommentMax - 2
	for len(clean) > limit {
		cut := strings.LastIndexByte(clean[:limit+1], ' ')
		if cut <= 0 {
			cut = limit
		}
		w.raw("(" + clean[:cut] + ")")
		clean = strings.TrimSpace(clean[cut:])
	}
	w.raw("(" + clean + ")")
}

func (w *writer) start(job *toolpath.Job, heading []string) {
	if w.dialect.Percent {
		w.raw("%")
	}
	for _, line := range heading {
		w.comment(line)
	}
	w.block("G17")
	if w.inch {
		w.block("G20")
	} else {
		w.block("G21")
	}
	w.block("G90")
	w.block("G94")
	w.block("G54")
	w.block("S" + strconv.Itoa(int(math.Round(job.Spindle))))
	w.block("M3")
	switch job.Coolant {
	case "mist":
		w.block("M7")
	case "flood":
		w.block("M8")
	}
}

func (w *writer) end(job *toolpath.Job) {
	w.setPlane("G17")
	w.block("M5")
	if job.Coolant != "none" && job.Coolant != "" {
		w.block("M9")
	}
	w.block(w.dialect.End)
	if w.dialect.Percent {
		w.raw("%")
	}
}

func (w *writer) setPlane(plane string) {
	if w.plane == "" {
		w.plane = "G17"
	}
	if plane != w.plane {
		w.block(plane)
		w.plane = plane
	}
}

// coordinate spells a length: fixed decimals, a digit on either side of the point, no
// negative zero.
func (w *writer) coordinate(mm float64) string {
	decimals := w.dialect.DecimalsMM
	if w.inch {
		mm /= 25.4
		decimals = w.dialect.DecimalsInch
	}
	text := strconv.FormatFloat(mm, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return text
}

// axes returns the words of the coordinates that change, and remembers them.
func (w *writer) axes(to motion.Vec) []string {
	var words []string
	for i, v := range []float64{to.X, to.Y, to.Z} {
		text := w.coordinate(v)
		if w.at[i] != text {
			words = append(words, string("XYZ"[i])+text)
			w.at[i] = text
		}
	}
	return words
}

// feedWord writes a feed rounded down, so that it is never beyond what was checked.
func (w *writer) feedWord(feed float64) []string {
	const rounding = 1e-9
	text := strconv.Itoa(int(math.Floor(feed + rounding)))
	if w.inch {
		text = strconv.FormatFloat(math.Floor(feed/25.4*100+rounding)/100, 'f', 2, 64)
	}
	if text == w.feed {
		return nil
	}
	w.feed = text
	return []string{"F" + text}
}

func (w *writer) move(m toolpath.Move) {
	switch m.Kind {
	case motion.Rapid:
		w.rapid(m.To)
	case motion.Line:
		w.straight(m.To, m.Feed)
	case motion.Arc:
		if m.Plane == motion.PlaneZX && w.dialect.ArcsZX || m.Plane == motion.PlaneXY && w.dialect.ArcsXY {
			w.arc(m)
		} else {
			w.chords(m)
		}
	default:
		panic(fmt.Sprintf("impossible: a planned move of kind %d", m.Kind))
	}
	w.from, w.begun = m.To, true
}

// rapid moves Z alone and the table alone, up first and down last, since some
// machines do not run a slanting rapid straight.
func (w *writer) rapid(to motion.Vec) {
	level := motion.Vec{X: w.from.X, Y: w.from.Y, Z: to.Z}
	flat := motion.Vec{X: to.X, Y: to.Y, Z: w.from.Z}
	if !w.begun {
		w.block("G0", "Z"+w.coordinate(to.Z))
		w.at[2] = w.coordinate(to.Z)
		w.block(append([]string{"G0"}, w.axes(to)...)...)
		return
	}
	steps := []motion.Vec{level, to}
	if to.Z < w.from.Z {
		steps = []motion.Vec{flat, to}
	}
	for _, step := range steps {
		if words := w.axes(step); len(words) > 0 {
			w.block(append([]string{"G0"}, words...)...)
		}
	}
}

func (w *writer) straight(to motion.Vec, feed float64) {
	words := w.axes(to)
	if len(words) == 0 {
		return
	}
	w.block(append(append([]string{"G1"}, words...), w.feedWord(feed)...)...)
}

// arc writes an arc in its plane. Both axes of the plane and both centre offsets stand
// in the block, since the standard takes a missing offset for zero.
func (w *writer) arc(m toolpath.Move) {
	x, y, z := w.coordinate(m.To.X), w.coordinate(m.To.Y), w.coordinate(m.To.Z)
	if x == w.at[0] && y == w.at[1] && z == w.at[2] && math.Abs(m.Sweep) < math.Pi {
		return
	}
	word := "G3"
	if m.Sweep < 0 {
		word = "G2"
	}
	i, j, k := w.coordinate(m.Centre.X-w.from.X), w.coordinate(m.Centre.Y-w.from.Y), w.coordinate(m.Centre.Z-w.from.Z)
	words := []string{word, "X" + x, "Z" + z, "I" + i, "K" + k}
	plane := "G18"
	if m.Plane == motion.PlaneXY {
		plane, words = "G17", []string{word, "X" + x, "Y" + y}
		if z != w.at[2] {
			words = append(words, "Z"+z)
		}
		words = append(words, "I"+i, "J"+j)
	}
	w.setPlane(plane)
	w.at = [3]string{x, y, z}
	w.block(append(words, w.feedWord(m.Feed)...)...)
}

// chords follows an arc by straight moves: between points on it, or, where they must
// lie outside it, along its tangents.
func (w *writer) chords(m toolpath.Move) {
	arc := motion.Motion{Kind: motion.Arc, From: w.from, To: m.To, Plane: m.Plane, Centre: m.Centre, Sweep: m.Sweep}
	radius := arc.Radius()
	step := 2 * math.Acos(1-math.Min(1, writerChordError/radius))
	if m.Outside {
		step = 2 * math.Acos(radius/(radius+writerChordError))
	}
	n := max(1, int(math.Ceil(math.Abs(m.Sweep)/step)))
	if !m.Outside {
		for i := 1; i <= n; i++ {
			w.straight(arc.At(float64(i)/float64(n)), m.Feed)
		}
		return
	}
	// The corners of the tangents stand half way between the places where they touch.
	out := 1 / math.Cos(math.Abs(m.Sweep)/float64(2*n))
	for i := range n {
		p := arc.At((float64(i) + 0.5) / float64(n))
		w.straight(motion.Vec{X: m.Centre.X + (p.X-m.Centre.X)*out, Y: m.Centre.Y + (p.Y-m.Centre.Y)*out, Z: p.Z}, m.Feed)
	}
	w.straight(m.To, m.Feed)
}
