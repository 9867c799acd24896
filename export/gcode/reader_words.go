package gcode

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// word is a letter and its value.
type word struct {
	value  float64
	given  bool
	column int
}

// block is a line taken apart.
type block struct {
	words    [26]word // every letter but G and M
	g        [groupCount]int
	gColumn  [groupCount]int
	m        [groupCount]int
	mColumn  [groupCount]int
	mWords   int
	comment  []byte    // the last of the line; good as long as the line is
	settings []setting // of parameters, to take effect after the line is read
}

func (b *block) word(letter byte) word { return b.words[letter-'A'] }
func (b *block) has(letter byte) bool  { return b.words[letter-'A'].given }
func (b *block) value(l byte) float64  { return b.words[l-'A'].value }
func (b *block) hasAny(ls string) bool {
	for i := range len(ls) {
		if b.has(ls[i]) {
			return true
		}
	}
	return false
}

// lexer walks a line. Spaces and tabs count for nothing outside comments, even
// inside a number.
type lexer struct {
	m    *machine
	line []byte
	at   int
	item int // where the word, comment or setting at hand begins
}

func (l *lexer) skip() {
	for l.at < len(l.line) && (l.line[l.at] == ' ' || l.line[l.at] == '\t') {
		l.at++
	}
}

// peek returns the next character in capitals, 0 at the end of the line. A character 0
// may also stand in a line: only where l.at is past it does the line end.
func (l *lexer) peek() byte {
	l.skip()
	if l.at == len(l.line) {
		return 0
	}
	c := l.line[l.at]
	if c >= 'a' && c <= 'z' {
		c -= 'a' - 'A'
	}
	return c
}

// fail names a fault at the present place; its words are those from the beginning of the
// item at hand to there, or some that follow where there are none.
func (l *lexer) fail(rule, section string) error {
	end := l.at + 1
	if l.at == l.item {
		end = l.at + 12
	}
	return l.m.rule(l.at+1, string(bytes.TrimSpace(l.line[l.item:min(len(l.line), end)])), rule, section)
}

// lex takes a line apart.
func (m *machine) lex(line []byte) (*block, error) {
	b := &m.scratch
	b.reset()
	l := &lexer{m: m, line: line}
	if l.peek() == '/' { // a block that may be skipped; the switch stands off
		l.at++
		m.note("a line that begins with / is skipped where the block delete switch is on; here it counts")
	}
	if l.peek() == 'N' {
		l.item = l.at
		l.at++
		if err := l.blockNumber(); err != nil {
			return nil, err
		}
	}
	for {
		c := l.peek()
		l.item = l.at
		switch {
		case c == 0 && l.at == len(l.line):
			return b, nil
		case c == '(':
			if err := l.comment(b); err != nil {
				return nil, err
			}
		case c == '#':
			if err := l.setting(b); err != nil {
				return nil, err
			}
		case c == ';' && m.extensions.LineComments:
			l.lineComment(b)
		case c == 'O' && m.extensions.ProgramNumber:
			if err := l.programNumber(); err != nil {
				return nil, err
			}
		case c >= 'A' && c <= 'Z' && !strings.ContainsRune("ENOUVW", rune(c)):
			if err := l.word(b, c); err != nil {
				return nil, err
			}
		default:
			return nil, l.fail("no word begins so", "3.3")
		}
	}
}

func (b *block) reset() {
	*b = block{settings: b.settings[:0]}
	for i := range b.g {
		b.g[i], b.m[i] = -1, -1
	}
}

// blockNumber takes the number after N, up to five digits.
func (l *lexer) blockNumber() error {
	digits := 0
	for c := l.peek(); c >= '0' && c <= '9'; c = l.peek() {
		if digits++; digits > 5 {
			return l.fail("a block number has at most five digits", "3.3.1")
		}
		l.at++
	}
	if digits == 0 {
		return l.fail("a block number needs digits", "3.3.1")
	}
	return nil
}

func (l *lexer) comment(b *block) error {
	shut := bytes.IndexByte(l.line[l.at:], ')')
	if shut < 0 {
		return l.fail("a comment must close on its line", "3.3.4")
	}
	text := l.line[l.at+1 : l.at+shut]
	if bytes.IndexByte(text, '(') >= 0 {
		return l.fail("comments must not stand inside each other", "3.3.4")
	}
	b.comment = text
	if l.m.keepComments {
		l.m.program.Comments = append(l.m.program.Comments, Comment{l.m.line, string(text)})
	}
	l.at += shut + 1
	return nil
}

// message returns the text of a comment that is a message to the operator: one that
// begins with MSG and a comma, capitals and spaces aside (3.3.4).
func message(comment []byte) (text string, is bool) {
	head, text, comma := strings.Cut(string(comment), ",")
	if !comma {
		return "", false
	}
	head = strings.NewReplacer(" ", "", "\t", "").Replace(head)
	return text, strings.EqualFold(head, "MSG")
}

// word takes one word.
func (l *lexer) word(b *block, letter byte) error {
	column := l.at + 1
	l.at++
	l.m.worded = true
	v, err := l.realValue()
	if err != nil {
		return err
	}
	words := bytes.TrimSpace(l.line[column-1 : l.at])
	switch letter {
	case 'G':
		return l.gWord(b, v, column, words)
	case 'M':
		return l.mWord(b, v, column, words)
	}
	w := &b.words[letter-'A']
	if w.given {
		return l.m.rule(column, string(words), fmt.Sprintf("a line has at most one %c word", letter), "3.3.5")
	}
	*w = word{value: v, given: true, column: column}
	return nil
}

// whole returns the whole number that a value stands for, within the report's
// 0.0001.
func whole(v float64) (int, bool) {
	n := math.Round(v)
	return int(n), math.Abs(v-n) < 0.0001 && math.Abs(n) < 1e9
}

func (l *lexer) gWord(b *block, v float64, column int, words []byte) error {
	// A code within 0.0001 counts as it; that is 0.001 of a tenth.
	ten := int(math.Round(math.Max(-1e6, math.Min(1e6, v*10))))
	if math.Abs(v*10-float64(ten)) > 0.001 {
		return l.m.rule(column, string(words), "a G code has at most one decimal", "3.3.2.1")
	}
	if ten == arcCentreWord && l.m.extensions.CentreFromArc {
		return nil
	}
	ten = l.m.unitWord(ten)
	group, known := gGroup(ten)
	if !known {
		return l.m.rule(column, string(words), "there is no such G code", "3.5")
	}
	if b.g[group] >= 0 {
		return l.m.rule(column, string(words), fmt.Sprintf("another G code of the same group stands on the line (group %s)", groupNames[group]), "3.4")
	}
	b.g[group], b.gColumn[group] = ten, column
	return nil
}

func (l *lexer) mWord(b *block, v float64, column int, words []byte) error {
	n, ok := whole(v)
	if !ok {
		return l.m.rule(column, string(words), "an M code is a whole number", "3.3.2.1")
	}
	group, known := mGroup(n)
	if !known {
		return l.m.rule(column, string(words), "there is no such M code", "3.6")
	}
	if b.m[group] >= 0 {
		return l.m.rule(column, string(words), fmt.Sprintf("another M code of the same group stands on the line (group %s)", groupNames[group]), "3.4")
	}
	if b.mWords++; b.mWords > 4 {
		return l.m.rule(column, string(words), "a line has at most four M codes", "3.3.5")
	}
	b.m[group], b.mColumn[group] = n, column
	return nil
}

// realValue takes a number, a parameter, an expression or a function.
func (l *lexer) realValue() (float64, error) {
	switch c := l.peek(); {
	case c == '[':
		return l.expression(0)
	case c == '#':
		return l.parameter()
	case c == '+' || c == '-' || c == '.' || c >= '0' && c <= '9':
		return l.number()
	case c >= 'A' && c <= 'Z':
		return l.unary()
	}
	return 0, l.fail("a number is missing here", "3.3.2.1")
}

// number takes an optional sign, digits, and an optional point with digits. There is
// no exponent form.
func (l *lexer) number() (float64, error) {
	var text [longestLine]byte
	n, digits, points := 0, 0, 0
	for c := l.peek(); ; c = l.peek() {
		switch {
		case (c == '+' || c == '-') && n == 0:
		case c == '.' && points == 0:
			points++
		case c >= '0' && c <= '9':
			digits++
		default:
			if digits == 0 {
				return 0, l.fail("a number needs a digit", "3.3.2.1")
			}
			v, err := strconv.ParseFloat(string(text[:n]), 64)
			if err != nil {
				return 0, l.fail("not a number", "3.3.2.1")
			}
			return v, nil
		}
		text[n] = c
		n++
		l.at++
	}
}
