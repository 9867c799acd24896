package document

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Sentence is words with figures in them that keep their numbers until somebody reads it:
// it is written in millimetres and said in the reader's unit. A length is a verb or a plain
// figure before "mm", as in "a depth of %.2f mm would do", several of one unit, as in
// "%.2f to %.2f mm", or a value of type Dimension or Area anywhere. What stands in double
// quotes, and a value that is a text, is as somebody wrote it and stays; a value that can be said In a unit
// is. The zero Sentence is
// empty.
type Sentence struct {
	format string
	values []any
}

// Dimension is a length in millimetres whose unit is named elsewhere, as in a table.
type Dimension float64

// Area is an area in square millimetres whose unit is named elsewhere.
type Area float64

// UnitName is the name of a unit of millimetres or metres, as mm2, that is said in the reader's.
type UnitName string

// In names the unit in the reader's.
func (n UnitName) In(u Unit) string { return u.measured(string(n)).name }

// Say makes a sentence; its format is that of fmt, one value for each verb.
func Say(format string, values ...any) Sentence {
	if false {
		_ = fmt.Sprintf(format, values...) // never run: vet takes Say for a printf by it, and holds verbs against values
	}
	return Sentence{format, values}
}

// Words makes a sentence of a text that has its figures already.
func Words(text string) Sentence { return Sentence{format: strings.ReplaceAll(text, "%", "%%")} }

// Empty reports whether there are no words.
func (s Sentence) Empty() bool { return s.format == "" }

// And returns the sentence with more words after it.
func (s Sentence) And(format string, values ...any) Sentence {
	return Sentence{s.format + format, append(s.values[:len(s.values):len(s.values)], values...)}
}

// String says the sentence in millimetres.
func (s Sentence) String() string { return s.In(Millimetre) }

// In says the sentence in a unit.
func (s Sentence) In(u Unit) string {
	if u == Millimetre {
		return fmt.Sprintf(s.format, s.values...)
	}
	r := rendering{unit: u, values: s.values}
	rest := s.format
	for rest != "" {
		at := figureRun.FindStringIndex(rest)
		if at == nil {
			break
		}
		r.plain(rest[:at[0]])
		run := rest[at[0]:at[1]]
		rest = rest[at[1]:]
		r.run(run, strings.HasPrefix(rest, " in "))
	}
	r.plain(rest)
	return r.out.String()
}

const (
	// verbPattern is a verb of fmt.
	verbPattern = `%[-+ #0]*\d*(?:\.\d+)?[a-zA-Z%]`
	// figurePattern is a verb of a number, or a plain one.
	figurePattern = `(?:%[-+ #0]*\d*(?:\.\d+)?[fgd]|\d+(?:\.\d+)?)`
	// unitPattern is what follows a figure that another unit may take the place of.
	unitPattern = `(?:mm/min|mm²|mm³|mm2\b|mm3\b|mm4\b|mm\b|m/min)`
)

var (
	verb   = regexp.MustCompile(verbPattern)
	figure = regexp.MustCompile(figurePattern)
	// figureRun is something in quotes, or figures with the unit that they share.
	figureRun = regexp.MustCompile(`"[^"]*"|` + figurePattern + `(?: (?:to|and|x|×|of|or) ` + figurePattern + `)* ` + unitPattern)
	unitAtEnd = regexp.MustCompile(unitPattern + `$`)
)

// rendering is a sentence being said.
type rendering struct {
	unit   Unit
	values []any // not yet said
	out    strings.Builder
}

// run says what figureRun found; where the word "in" follows it inches are called so.
func (r *rendering) run(text string, beforeIn bool) {
	if text[0] == '"' {
		r.plain(text)
		return
	}
	named := unitAtEnd.FindString(text)
	said := r.unit.measured(named)
	text = strings.TrimSuffix(text, named)
	for _, at := range figure.FindAllStringIndex(text, -1) {
		r.figure(text[at[0]:at[1]], said)
		next := len(text)
		if more := figure.FindStringIndex(text[at[1]:]); more != nil {
			next = at[1] + more[0]
		}
		r.out.WriteString(text[at[1]:next])
	}
	if beforeIn && said.name == "in" {
		said.name = "inches"
	}
	r.out.WriteString(said.name)
}

// figure says one number, a verb with its value or a plain one.
func (r *rendering) figure(text string, in measure) {
	if text[0] == '%' {
		fmt.Fprintf(&r.out, in.verb(text), in.number(r.next()))
		return
	}
	r.out.WriteString(in.plain(text))
}

// plain says words in which no unit is named; there may be verbs in them.
func (r *rendering) plain(text string) {
	for text != "" {
		at := verb.FindStringIndex(text)
		if at == nil {
			break
		}
		r.out.WriteString(text[:at[0]])
		if r.verb(text[at[0]:at[1]]); text[at[1]-1] == '%' {
			r.out.WriteByte('%')
		}
		text = text[at[1]:]
	}
	r.out.WriteString(text)
}

// verb says a value whose unit is not named beside it.
func (r *rendering) verb(text string) {
	if strings.HasSuffix(text, "%") {
		return
	}
	switch value := r.next().(type) {
	case Dimension:
		in := r.unit.measured("mm")
		fmt.Fprintf(&r.out, in.verb(text), in.number(float64(value)))
	case Area:
		in := r.unit.measured("mm2")
		fmt.Fprintf(&r.out, in.verb(text), in.number(float64(value)))
	case interface{ In(Unit) string }:
		fmt.Fprintf(&r.out, text, value.In(r.unit))
	default:
		fmt.Fprintf(&r.out, text, value)
	}
}

// next takes the next value.
func (r *rendering) next() any {
	if len(r.values) == 0 {
		panic("impossible: a sentence with more verbs than values")
	}
	value := r.values[0]
	r.values = r.values[1:]
	return value
}

// measure is a unit in which something is said.
type measure struct {
	name   string
	divide float64 // what was in millimetres by this
	more   [2]int  // decimals more than in millimetres: of two or fewer, of more
}

// foot is the length of a foot, m (exact: 12 inches of 25.4 mm).
const foot = 0.3048

// measured returns what a unit in millimetres or metres is said in. Decimals are as many as
// tell as much: a tenth of an inch for a millimetre, at most a ten-thousandth for a hundredth.
func (u Unit) measured(unit string) measure {
	same := measure{name: unit, divide: 1}
	if u != Inch {
		return same
	}
	switch unit {
	case "mm":
		return measure{"in", inch, [2]int{2, 1}}
	case "mm/min":
		return measure{"in/min", inch, [2]int{1, 1}}
	case "m/min":
		return measure{"ft/min", foot, [2]int{}}
	case "mm2", "mm²":
		return measure{strings.Replace(unit, "mm", "in", 1), inch * inch, [2]int{3, 3}}
	case "mm3", "mm³":
		return measure{strings.Replace(unit, "mm", "in", 1), inch * inch * inch, [2]int{4, 4}}
	case "mm4":
		return measure{"in4", inch * inch * inch * inch, [2]int{5, 5}}
	}
	return same
}

// Say takes a value in a unit of millimetres or metres, as mm or m/min, to the reader's and
// names that; what is measured in something else stays.
func (u Unit) Say(value float64, unit string) (said float64, name string) {
	m := u.measured(unit)
	return value / m.divide, m.name
}

// Decimals returns how many decimals stand for as much in the reader's unit as some do in
// one of millimetres or metres.
func (u Unit) Decimals(decimals int, unit string) int {
	return u.measured(unit).decimals(decimals)
}

func (m measure) decimals(n int) int {
	if n > 2 {
		return n + m.more[1]
	}
	return n + m.more[0]
}

// number takes a value to the unit; what is no float64 is none to be taken.
func (m measure) number(value any) any {
	switch v := value.(type) {
	case float64:
		return v / m.divide
	case Dimension:
		return float64(v) / m.divide
	case int:
		return float64(v) / m.divide
	}
	panic(fmt.Sprintf("impossible: a length of type %T in a sentence", value))
}

// verb gives a verb the decimals of the unit.
func (m measure) verb(text string) string {
	kind := text[len(text)-1]
	head, decimals, precise := strings.Cut(text[:len(text)-1], ".")
	if kind == 'g' {
		return head + ".5g"
	}
	n, err := strconv.Atoi(decimals)
	if precise && err != nil {
		panic("impossible: the pattern found no decimals: " + err.Error())
	}
	return fmt.Sprintf("%s.%df", head, m.decimals(n))
}

// plain writes a figure of a text in the unit.
func (m measure) plain(text string) string {
	value, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic("impossible: the pattern found no number: " + err.Error())
	}
	_, decimals, _ := strings.Cut(text, ".")
	return strconv.FormatFloat(value/m.divide, 'f', m.decimals(len(decimals)), 64)
}
