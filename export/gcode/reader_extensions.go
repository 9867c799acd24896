package gcode

import (
	"bytes"
	"io"

	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// ReadWith reads a whole program by the standard and the extensions given. What else a
// dialect limits, such as the length of lines, is for the writer; the reader takes what
// the standard takes. Errors are those of the function Read.
func ReadWith(r io.Reader, extensions dialect.Extensions) (Program, error) {
	var motions []motion.Motion
	m := newMachine(func(v motion.Motion) error { motions = append(motions, v); return nil })
	m.keepComments, m.extensions = true, extensions
	program, err := m.scan(r)
	if err != nil {
		return Program{}, err
	}
	program.Motions = motions
	return program, nil
}

// ScanWith is ReadWith, but hands over the motions one by one, as the function Scan does.
func ScanWith(r io.Reader, extensions dialect.Extensions, visit func(motion.Motion) error) (Program, error) {
	m := newMachine(visit)
	m.extensions = extensions
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

// Ten times the codes G70 and G71, and G20 and G21 that they stand for.
const (
	isoInch, isoMillimetre           = 700, 710
	standardInch, standardMillimetre = 200, 210
)

// unitWord returns the code of the standard for one of G70 and G71, where the dialect
// has them.
func (m *machine) unitWord(ten int) int {
	switch {
	case ten == isoInch && m.extensions.UnitsG70:
		return standardInch
	case ten == isoMillimetre && m.extensions.UnitsG70:
		return standardMillimetre
	}
	return ten
}

// seconds returns how long a dwell of a P word is.
func (m *machine) seconds(p float64) float64 {
	if m.extensions.DwellMilliseconds {
		return p / 1000
	}
	return p
}

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
