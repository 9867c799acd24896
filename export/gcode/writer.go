package gcode

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// Write returns the text of a checked job in a dialect, in one file however long: the same
// job, the same bytes. Heading lines become comments before the first block, where the
// dialect has any.
func Write(checked toolpath.CheckedJob, d dialect.Dialect, inch bool, heading []string) ([]byte, error) {
	job := checked.Job()
	if job == nil {
		return nil, errUnchecked
	}
	w := writer{dialect: d, inch: inch, name: d.ProgramNumber}
	return w.program(job, heading, spell(job, d))
}

var errUnchecked = errors.New("only a checked job can be written")

// writer spells one program.
type writer struct {
	dialect dialect.Dialect
	inch    bool
	name    int  // number of the program, where the dialect has one
	later   bool // another file of the same job comes before it
	out     bytes.Buffer
	lines   int
	number  int       // of the block
	at      [3]string // the coordinates last written
	from    motion.Vec
	begun   bool
	plane   string
	mode    string // the word of motion in force
	feed    string
	fault   error
	levels  []LevelLine
}

// program writes a whole program.
func (w *writer) program(job *toolpath.Job, heading []string, moves []spelled) ([]byte, error) {
	w.start(job, heading)
	for _, m := range moves {
		if m.mark != nil {
			w.mark(*m.mark)
		}
		w.move(m)
	}
	w.end(job)
	if w.fault != nil {
		return nil, w.fault
	}
	return w.out.Bytes(), nil
}

// block writes one line. A feed that does not fit it stands in a block before it.
func (w *writer) block(words ...string) {
	last := len(words) - 1
	if last > 0 && words[last][0] == 'F' && len(w.numbered(words)) > w.dialect.LineMost {
		w.block(words[last])
		words = words[:last]
	}
	line := w.numbered(words)
	w.number = w.next()
	w.raw(line)
}

// next returns the number of the next block; 0 where blocks have none.
func (w *writer) next() int {
	numbers := w.dialect.BlockNumbers
	if n := w.number + numbers.Step; n <= numbers.Most {
		return n
	}
	return numbers.Step
}

func (w *writer) numbered(words []string) string {
	line := strings.Join(words, " ")
	if w.dialect.BlockNumbers.Step > 0 {
		line = "N" + strconv.Itoa(w.next()) + " " + line
	}
	return line
}

func (w *writer) raw(line string) {
	if len(line) > w.dialect.LineMost && w.fault == nil {
		w.fault = fmt.Errorf("a line of %d characters is longer than the dialect's %d: %q", len(line), w.dialect.LineMost, line)
	}
	w.out.WriteString(line)
	w.out.WriteString(w.dialect.LineEnd.Bytes())
	w.lines++
}

// comment writes a line of comment in the characters that every control takes.
func (w *writer) comment(text string) {
	open, shut := "(", ")"
	switch w.dialect.Comments {
	case dialect.NoComments:
		return
	case dialect.Semicolon:
		open, shut = "; ", ""
	}
	clean := plainText(text)
	limit := min(w.dialect.CommentMost, w.dialect.LineMost) - len(open) - len(shut)
	for len(clean) > limit {
		cut := strings.LastIndexByte(clean[:limit+1], ' ')
		if cut <= 0 {
			cut = limit
		}
		w.raw(open + clean[:cut] + shut)
		clean = strings.TrimSpace(clean[cut:])
	}
	w.raw(open + clean + shut)
}

// start writes what stands before the first move: who and what, modes, cutter, spindle
// and coolant, each word in a block of its own.
func (w *writer) start(job *toolpath.Job, heading []string) {
	d := w.dialect
	if d.Percent {
		w.raw("%")
	}
	if d.ProgramNumber > 0 {
		w.raw(fmt.Sprintf("O%04d", w.name))
	}
	for _, line := range heading {
		w.comment(line)
	}
	w.block("G17")
	w.block(w.unitWord())
	w.block("G90")
	w.block("G94")
	for _, word := range []string{d.WorkOffset, d.PathMode} {
		if word != "none" {
			w.block(word)
		}
	}
	if d.DrillCycle && job.Step.Bore > 0 {
		w.block("G98")
	}
	switch d.Tool {
	case dialect.ToolStop:
		ask := "Put in the cutter " + job.Cutter.Name + ", set Z zero, start"
		if w.later {
			ask = "Cutter " + job.Cutter.Name + " as in the file before, same zero, start"
		}
		w.comment(ask)
		w.block("M0")
	case dialect.ToolChange:
		w.block("T" + strconv.Itoa(job.Cutter.Slot))
		w.block("M6")
	}
	w.block("S" + strconv.Itoa(int(math.Round(job.Spindle))))
	w.block("M3")
	switch job.Coolant {
	case "mist":
		w.block("M7")
	case "flood":
		w.block("M8")
	}
	w.wait()
}

func (w *writer) unitWord() string {
	inch, millimetre, _ := strings.Cut(string(w.dialect.UnitWords), " ")
	if w.inch {
		return inch
	}
	return millimetre
}

// wait lets the spindle come to its speed. Nothing else waits: a drill that dwells at the
// foot of its hole only rubs, and hardens steel that work-hardens (common practice, no
// source).
func (w *writer) wait() {
	d := w.dialect
	switch {
	case d.SpindleWait <= 0:
	case d.Dwell == dialect.DwellMilliseconds:
		w.block("G4", "P"+strconv.Itoa(int(math.Ceil(d.SpindleWait*1000))))
	case d.Dwell == dialect.DwellSeconds:
		w.block("G4", "P"+strconv.FormatFloat(math.Ceil(d.SpindleWait*100)/100, 'f', 2, 64))
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
