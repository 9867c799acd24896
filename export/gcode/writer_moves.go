package gcode

import (
	"math"
	"strconv"
	"strings"

	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// coordinate spells a length: fixed decimals, a digit on either side of the point, no
// negative zero.
func (w *writer) coordinate(mm float64) string {
	decimals := w.dialect.DecimalsMM
	if w.inch {
		mm /= millimetresPerInch
		decimals = w.dialect.DecimalsInch
	}
	text := strconv.FormatFloat(mm, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return text
}

// written returns a length as its text has it, mm.
func (w *writer) written(mm float64) float64 {
	v, err := strconv.ParseFloat(w.coordinate(mm), 64)
	if err != nil {
		panic("impossible: a coordinate is no number: " + err.Error())
	}
	if w.inch {
		v *= millimetresPerInch
	}
	return v
}

// axes returns the words of the coordinates that change, and remembers them; of all three
// where any changes and the dialect repeats them.
func (w *writer) axes(to motion.Vec) []string {
	var words []string
	texts := [3]string{w.coordinate(to.X), w.coordinate(to.Y), w.coordinate(to.Z)}
	if texts == w.at {
		return nil
	}
	for i, text := range texts {
		if w.at[i] != text || w.dialect.RepeatAxes {
			words = append(words, string("XYZ"[i])+text)
		}
	}
	w.at = texts
	return words
}

// moved writes a block that moves, with its word of motion where that is not in force.
func (w *writer) moved(mode string, words ...string) {
	if mode != w.mode || w.dialect.RepeatMotion {
		words = append([]string{mode}, words...)
	}
	w.mode = mode
	w.block(words...)
}

// feedWord writes a feed rounded down, so that it is never beyond what was checked.
func (w *writer) feedWord(feed float64) []string {
	const rounding = 1e-9
	text := strconv.Itoa(int(math.Floor(feed + rounding)))
	if w.inch {
		text = strconv.FormatFloat(math.Floor(feed/millimetresPerInch*100+rounding)/100, 'f', 2, 64)
	}
	if text == w.feed && !w.dialect.RepeatFeed {
		return nil
	}
	w.feed = text
	return []string{"F" + text}
}

func (w *writer) move(m spelled) {
	switch {
	case m.hole != nil:
		w.drill(*m.hole)
	case m.Kind == motion.Rapid:
		w.rapid(m.To)
	case m.Kind == motion.Line:
		w.straight(m.To, m.Feed)
	default:
		w.arc(m.Move)
	}
	w.from, w.begun = m.To, true
}

// rapid moves Z alone and the table alone, up first and down last, since some
// machines do not run a slanting rapid straight.
func (w *writer) rapid(to motion.Vec) {
	level := motion.Vec{X: w.from.X, Y: w.from.Y, Z: to.Z}
	flat := motion.Vec{X: to.X, Y: to.Y, Z: w.from.Z}
	if !w.begun {
		w.at[2] = w.coordinate(to.Z)
		w.moved("G0", "Z"+w.at[2])
		w.moved("G0", w.axes(to)...)
		return
	}
	steps := []motion.Vec{level, to}
	if to.Z < w.from.Z {
		steps = []motion.Vec{flat, to}
	}
	for _, step := range steps {
		if words := w.axes(step); len(words) > 0 {
			w.moved("G0", words...)
		}
	}
}

func (w *writer) straight(to motion.Vec, feed float64) {
	words := w.axes(to)
	if len(words) == 0 {
		return
	}
	w.moved("G1", append(words, w.feedWord(feed)...)...)
}

// arc writes an arc in its plane. Both axes of the plane stand in the block, and both
// centre offsets, since the standard takes a missing offset for zero.
func (w *writer) arc(m toolpath.Move) {
	x, y, z := w.coordinate(m.To.X), w.coordinate(m.To.Y), w.coordinate(m.To.Z)
	if x == w.at[0] && y == w.at[1] && z == w.at[2] && math.Abs(m.Sweep) < math.Pi {
		return
	}
	word := "G3"
	if m.Sweep < 0 {
		word = "G2"
	}
	words := []string{"X" + x}
	if m.Plane == motion.PlaneXY || w.dialect.RepeatAxes {
		words = append(words, "Y"+y)
	}
	if m.Plane == motion.PlaneZX || z != w.at[2] || w.dialect.RepeatAxes {
		words = append(words, "Z"+z)
	}
	words = append(words, w.centre(m)...)
	plane := "G18"
	if m.Plane == motion.PlaneXY {
		plane = "G17"
	}
	w.setPlane(plane)
	w.at = [3]string{x, y, z}
	w.moved(word, append(words, w.feedWord(m.Feed)...)...)
}

// centre returns the words of an arc's centre, or of its radius. The centre lies on the
// perpendicular bisector of the chord as it is written, so that with few decimals too both
// ends are as far from it as the standard wants them.
func (w *writer) centre(m toolpath.Move) []string {
	a0, b0, _ := m.Plane.Split(motion.Vec{X: w.written(w.from.X), Y: w.written(w.from.Y), Z: w.written(w.from.Z)})
	a1, b1, _ := m.Plane.Split(motion.Vec{X: w.written(m.To.X), Y: w.written(m.To.Y), Z: w.written(m.To.Z)})
	ca, cb, n := m.Plane.Split(m.Centre)
	if chord := math.Hypot(a1-a0, b1-b0); chord > samePoint {
		u, v := (a1-a0)/chord, (b1-b0)/chord
		off := (ca-(a0+a1)/2)*u + (cb-(b0+b1)/2)*v
		ca, cb = ca-off*u, cb-off*v
	}
	if w.dialect.ArcForm == dialect.ByRadius {
		return []string{"R" + w.coordinate(math.Hypot(ca-a0, cb-b0))}
	}
	offset := m.Plane.Join(ca-a0, cb-b0, n)
	if m.Plane == motion.PlaneXY {
		return []string{"I" + w.coordinate(offset.X), "J" + w.coordinate(offset.Y)}
	}
	return []string{"I" + w.coordinate(offset.X), "K" + w.coordinate(offset.Z)}
}

// peckRounding is added to a peck so that the rounding of the text leaves no sliver for
// one peck more, mm.
const peckRounding = 0.005

// drill writes a hole by the cycle: from over its place down to where the feed begins,
// down in pecks, and back up over its place, since the cycle returns to the height it came
// from (G98, from the start of the program).
func (w *writer) drill(h hole) {
	w.setPlane("G17")
	bottom := w.coordinate(h.bottom)
	words := []string{"X" + w.at[0], "Y" + w.at[1], "Z" + bottom, "R" + w.coordinate(h.over), "Q" + w.coordinate(h.peck+peckRounding)}
	w.moved("G83", append(words, w.feedWord(h.feed)...)...)
	w.block("G80")
	w.mode = ""
}
