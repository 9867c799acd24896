package gcode

import (
	"bytes"
	"io"

	"fullerwright/toolpath/motion"
)

// Extensions are ways of writing that the standard does not have and that some controls
// take. The reader accepts one only where the dialect it reads by declares it; the
// writer uses none. All as common practice has them, no standard read.
type Extensions struct {
	LineComments  bool // from ; to the end of the line is a comment
	ProgramNumber bool // O and up to five digits name the program, before all other words
	CentreFromArc bool // G91.1: I, J and K count from the start of the arc, as the standard has it anyway
	PathTolerance bool // a P word with G64: how far the control may leave the path
}

// Read reads a whole program by the standard and the extensions that the dialect
// declares. What else the dialect limits, such as the length of lines, is for the
// writer; the reader takes what the standard takes. Errors are those of the function
// Read.
func (d Dialect) Read(r io.Reader) (Program, error) {
	var motions []motion.Motion
	m := newMachine(func(v motion.Motion) error { motions = append(motions, v); return nil })
	m.keepComments, m.extensions = true, d.Extensions
	program, err := m.scan(r)
	if err != nil {
		return Program{}, err
	}
	program.Motions = motions
	return program, nil
}

// Scan is Read, but hands over the motions one by one, as the function Scan does.
func (d Dialect) Scan(r io.Reader, visit func(motion.Motion) error) (Program, error) {
	m := newMachine(visit)
	m.extensions = d.Extensions
	return m.scan(r)
}

// lineComment takes the rest of a line as a comment.
func (l *lexer) lineComment(b *block) {
	b.comment = bytes.TrimSpace(l.line[l.at+1:])
	if l.m.keepComments {
		l.m.program.Comments = append(l.m.program.Comments, Comment{l.m.line, string(b.comment)})
	}
	l.at = len(l.line)
}

// programNumber takes the number that names a program.
func (l *lexer) programNumber() error {
	if l.m.worded {
		return l.fail("a program number stands once, before all other words", "3.3")
	}
	l.m.worded = true
	l.at++
	digits := 0
	for c := l.peek(); c >= '0' && c <= '9'; c = l.peek() {
		if digits++; digits > 5 {
			return l.fail("a program number has at most five digits", "3.3")
		}
		l.at++
	}
	if digits == 0 {
		return l.fail("a program number needs digits", "3.3")
	}
	return nil
}

// arcCentreWord is ten times the code G91.1.
const arcCentreWord = 911

// checkPathTolerance refuses a tolerance below 0 and says what a good one means.
func (m *machine) checkPathTolerance(b *block) error {
	if !m.extensions.PathTolerance || b.g[pathGroup] != 640 || !b.has('P') {
		return nil
	}
	if b.value('P') < 0 {
		return m.rule(b.word('P').column, "P", "how far the control may leave the path must not be negative", "3.5.14")
	}
	m.note("G64 with P lets the control leave the path by that much; the motions here follow it exactly")
	return nil
}
