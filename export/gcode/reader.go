package gcode

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"

	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// Program is what a program makes a machine do.
type Program struct {
	Motions  []motion.Motion
	Comments []Comment
	Notes    []Note // things legal but worth a person's eye, the first thousand
	Inch     bool   // the units in force at the first move
	Ended    string // "M2", "M30" or "%"
	Lines    int    // read, up to the end of the program
}

// Comment is a comment of the program.
type Comment struct {
	TextLine int
	Text     string
}

// Note is a remark about a line that is legal.
type Note struct {
	TextLine int
	Text     string
}

// RuleError says that a program breaks a rule of the standard.
type RuleError struct {
	TextLine, Column int // counted from 1
	Words            string
	Rule             string
	Section          string // of NISTIR 6556
}

// Error says where, what and which rule.
func (e *RuleError) Error() string {
	if e.Words == "" {
		return fmt.Sprintf("line %d, column %d: %s (NISTIR 6556, %s)", e.TextLine, e.Column, e.Rule, e.Section)
	}
	return fmt.Sprintf("line %d, column %d: %q: %s (NISTIR 6556, %s)", e.TextLine, e.Column, e.Words, e.Rule, e.Section)
}

// UnsupportedError says that a legal program uses something that this reader does not
// follow.
type UnsupportedError struct {
	TextLine, Column int
	Words, What      string
}

// Error says where and what.
func (e *UnsupportedError) Error() string {
	return fmt.Sprintf("line %d, column %d: %q: %s is legal, but not supported here", e.TextLine, e.Column, e.Words, e.What)
}

// longestLine is the most characters a line may have; the report says 256, its own
// interpreter takes 253.
const longestLine = 253

// Read reads a whole program by the standard alone. The error is a *RuleError, an
// *UnsupportedError or one of reading; the program is zero when there is one.
func Read(r io.Reader) (Program, error) { return ReadWith(r, dialect.Extensions{}) }

// Scan reads a program by the standard alone and hands over its motions one by one. It
// keeps neither them nor the comments, so that its memory does not grow with the
// program.
func Scan(r io.Reader, visit func(motion.Motion) error) (Program, error) {
	return ScanWith(r, dialect.Extensions{}, visit)
}

func (m *machine) scan(r io.Reader) (Program, error) {
	lines := lineReader{from: bufio.NewReaderSize(r, 1<<16)}
	for !m.ended {
		line, more, err := lines.next()
		if err != nil {
			var tooLong *RuleError
			if errors.As(err, &tooLong) {
				tooLong.TextLine = m.line + 1
			}
			return Program{}, err
		}
		if !more {
			break
		}
		m.line++
		if err := m.text(line); err != nil {
			return Program{}, err
		}
	}
	if !m.ended {
		m.present = nil
		return Program{}, m.rule(1, "", "the program does not end: M2 or M30 is missing, or the closing %", "3.1")
	}
	m.program.Lines = m.line
	return m.program, nil
}

// lineReader takes a text apart into lines.
type lineReader struct {
	from *bufio.Reader
	line [longestLine]byte
}

// next returns the next line without its end, which is LF, CR or both; it is good until
// the next call. A line beyond the longest is an error, found without reading all of it.
func (r *lineReader) next() (line []byte, more bool, err error) {
	line = r.line[:0]
	for {
		b, err := r.from.ReadByte()
		if err == io.EOF {
			return line, len(line) > 0, nil
		}
		if err != nil {
			return nil, false, err
		}
		switch b {
		case '\n':
			return line, true, nil
		case '\r':
			if next, err := r.from.Peek(1); err == nil && next[0] == '\n' {
				continue
			}
			return line, true, nil
		}
		if len(line) == longestLine {
			return nil, false, &RuleError{Column: longestLine + 1, Words: string(line[:20]) + "...",
				Rule: fmt.Sprintf("a line has at most %d characters", longestLine), Section: "3.3"}
		}
		line = append(line, b)
	}
}

// text takes one line.
func (m *machine) text(line []byte) error {
	m.present = line
	trimmed := bytes.Trim(line, " \t")
	if len(trimmed) > 0 && trimmed[0] == '%' {
		return m.percent(trimmed)
	}
	if len(trimmed) == 0 {
		return nil
	}
	m.begun, m.fromLine = true, 0
	b, err := m.lex(line)
	if err != nil {
		return err
	}
	if err := m.check(b); err != nil {
		return err
	}
	return m.execute(b)
}

// percent takes a line that begins with %.
func (m *machine) percent(line []byte) error {
	switch {
	case len(line) > 1:
		return m.rule(2, string(line), "a line of % must hold nothing else", "3.1")
	case !m.begun:
		m.begun, m.bracketed = true, true
		return nil
	case !m.bracketed:
		return m.rule(1, "%", "a closing % belongs to an opening one", "3.1")
	}
	m.end("%")
	return nil
}

func (m *machine) rule(column int, words, rule, section string) error {
	return &RuleError{TextLine: m.line, Column: column, Words: m.or(words), Rule: rule, Section: section}
}

func (m *machine) unsupported(column int, words, what string) error {
	return &UnsupportedError{TextLine: m.line, Column: column, Words: m.or(words), What: what}
}

// or returns the words that are wrong, or the beginning of their line where the line as
// a whole is.
func (m *machine) or(words string) string {
	const most = 40
	if words != "" {
		return words
	}
	line := bytes.Trim(m.present, " \t")
	if len(line) > most {
		return string(line[:most]) + "..."
	}
	return string(line)
}
