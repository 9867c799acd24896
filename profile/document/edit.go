package document

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"sort"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Edit is a new number, or a new text, for one key of a file.
type Edit struct {
	Group   string
	Index   int // of a repeated group, from 0
	Key     string
	Kind    Kind
	Value   float64 // a length in mm, an angle in radians, or a number
	Text    string  // of a key that holds a text
	Exact   bool    // written with all its digits, as a decimal
	Fresh   bool    // it owes nothing to the number that was there, and is written with the fewest decimals that hold it
	Follows bool    // it follows from several others, as the width of a fuller
	Noted   bool    // where the key is not there, a comment marks it as a default that was resized
	Usual   bool    // it is the default of the key again: a line so marked is taken out
}

// edited is a stretch of the source and what stands there afterwards.
type edited struct {
	from, to int
	text     string
}

// place is where a key's value, or the end of its group's header line, stands.
type place struct{ from, to int }

// Written returns the length that a key has once Apply has written it, mm: as near as the
// decimals hold it.
func Written(data []byte, unit Unit, e Edit) float64 {
	values, _ := places(data)
	at, there := values[fmt.Sprintf("%s[%d].%s", e.Group, e.Index, e.Key)]
	if !there {
		return e.Value
	}
	text := restyle(string(data[at.from:at.to]), e, unit)
	mm, err := ParseLength(strings.ReplaceAll(strings.Trim(text, `"'`), `\"`, `"`), unit)
	if err != nil {
		return e.Value
	}
	return mm
}

// resizedDefault is the comment beside a key, or a header, that stands for a default.
const resizedDefault = "  # the default, resized"

// Apply returns the source of a file with new values; every other byte stays. A value
// keeps the unit and the style in which it was typed: see restyle. A key that is not
// there is written under the header of its group, and a group that is not there at
// the end. Where the edit asks for it a comment beside it says that it is a default that was
// resized; by that Apply knows the line again when the key comes back to its default, and
// takes it out. The source must be one that Read takes.
func Apply(data []byte, unit Unit, edits []Edit) []byte {
	values, headers := places(data)
	var changes []edited
	newGroups := map[string][]string{}
	var order []string
	for _, e := range edits {
		group := fmt.Sprintf("%s[%d]", e.Group, e.Index)
		if at, there := values[group+"."+e.Key]; there {
			changes = append(changes, replacing(data, at, e, unit))
			continue
		}
		e.Fresh = true
		note := ""
		if e.Noted {
			note = resizedDefault
		}
		line := e.Key + " = " + restyle("0", e, unit) + note
		if at, there := headers[group]; there {
			changes = append(changes, edited{at.to, at.to, lineEnd(data) + line})
			continue
		}
		if newGroups[e.Group] == nil {
			order = append(order, e.Group)
			newGroups[e.Group] = []string{"[" + e.Group + "]" + note}
		}
		newGroups[e.Group] = append(newGroups[e.Group], line)
	}
	sort.SliceStable(changes, func(i, j int) bool { return changes[i].from < changes[j].from })
	var out bytes.Buffer
	done := 0
	for _, c := range changes {
		out.Write(data[done:c.from])
		out.WriteString(c.text)
		done = c.to
	}
	out.Write(data[done:])
	if len(order) > 0 && !bytes.HasSuffix(data, []byte("\n")) {
		out.WriteString(lineEnd(data))
	}
	for _, group := range order {
		end := lineEnd(data)
		out.WriteString(end + strings.Join(newGroups[group], end) + end)
	}
	return withoutEmptied(out.Bytes())
}

// emptied is a header so marked under which nothing is left, with the empty line before it.
var emptied = regexp.MustCompile(`\r?\n\[[a-z_]+\]` + resizedDefault + `\r?\n(\r?\n\[|$)`)

func withoutEmptied(data []byte) []byte {
	for {
		less := emptied.ReplaceAll(data, []byte("$1"))
		if len(less) == len(data) {
			return data
		}
		data = less
	}
}

// replacing returns what becomes of a key that is there.
func replacing(data []byte, at place, e Edit, unit Unit) edited {
	end := endOfLine(data, at.to)
	if e.Usual && string(data[at.to:end]) == resizedDefault {
		from := bytes.LastIndexByte(data[:at.from], '\n') + 1
		return edited{from, end + len(lineEnd(data)), ""}
	}
	return edited{at.from, at.to, restyle(string(data[at.from:at.to]), e, unit)}
}

func lineEnd(data []byte) string {
	if bytes.Contains(data, []byte("\r\n")) {
		return "\r\n"
	}
	return "\n"
}

// places finds every value and the end of every header line.
func places(data []byte) (values, headers map[string]place) {
	values, headers = map[string]place{}, map[string]place{}
	count := map[string]int{}
	mark := bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	shift := len(data) - len(mark)
	group := "[0]"
	var p unstable.Parser
	p.Reset(mark)
	for p.NextExpression() {
		e := p.Expression()
		var parts []string
		last := 0
		for it := e.Key(); it.Next(); {
			parts = append(parts, string(it.Node().Data))
			last = int(it.Node().Raw.Offset) + shift
		}
		name := strings.Join(parts, ".")
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			group = fmt.Sprintf("%s[%d]", name, count[name])
			count[name]++
			headers[group] = place{last, endOfLine(data, last)}
		case unstable.KeyValue:
			raw := e.Value().Raw
			from := int(raw.Offset) + shift
			values[group+"."+name] = place{from, from + int(raw.Length)}
		}
	}
	return values, headers
}

// endOfLine returns where the line of an offset ends, before its line end.
func endOfLine(data []byte, from int) int {
	end := len(data)
	if i := bytes.IndexByte(data[from:], '\n'); i >= 0 {
		end = from + i
	}
	if end > from && data[end-1] == '\r' {
		end--
	}
	return end
}

// unitText takes a text apart into its number and its unit with the space before it.
var unitText = regexp.MustCompile(`^(.*?)(\s*[A-Za-z"]*)$`)

const (
	// calculatedLeast is the number of decimals, over those of the author's style, from which
	// on a number counts as calculated: one of d decimals that the style does not hold is
	// written with 6 + d, or where it must be exact with 12 + d, so that the way back finds
	// the author's style again: the remainder by 6.
	calculatedLeast = 6
	// lost is by how much a number in the author's style may miss a value that is worked out
	// from a calculated one of no decimals in its style, in its own unit: ten times what the
	// last of its six digits leaves, for a way back that stretches. It shrinks with every
	// decimal of the style.
	lost = 5e-6
	// lostFollowing is the same of a value that follows from several others, in the unit of
	// the file or in degrees, whatever its style: the width of a groove moves with its depth,
	// five times as far.
	lostFollowing = 2e-6
	// fresh is by how much a value that owes nothing to the number before may be missed, in its
	// own unit.
	fresh = 2e-6
	// exactly is by how much one may miss it otherwise, in its own unit: what is worked out
	// from it, as on the way back, must not add up to lost.
	exactly = 1e-9
	// similar is by which part of it a value that must be exact may be missed on the way back:
	// what a factor of ten digits leaves.
	similar = 1e-10
	// finestDecimals is the greatest number of decimals of an exact value: of a hundredth of a
	// millimetre in inches they leave no more than similar.
	finestDecimals = 15
	// finestFraction is the finest division of an inch rule.
	finestFraction = 64
)

// restyle writes a value as old was written: plain or in quotes, in the same unit, a
// fraction of an inch where the value is one down to 1/64, otherwise with its number of
// decimals. Where those do not hold the value it gets six more, or twelve where it must be
// exact; a number with so many goes back to the style it had before.
func restyle(old string, e Edit, unit Unit) string {
	if e.Kind == Text {
		return strconv.Quote(e.Text)
	}
	quote := ""
	if old[0] == '"' || old[0] == '\'' {
		quote = old[:1]
		old = strings.ReplaceAll(strings.Trim(old, quote), `\"`, `"`)
	}
	m := unitText.FindStringSubmatch(old)
	number, suffix := m[1], m[2]
	own, value := 1.0, e.Value // own is the unit of the number, mm
	switch {
	case e.Kind == Angle:
		value *= 180 / math.Pi
	case e.Kind == Length && quote != "":
		own = inMillimetres(1, strings.ToLower(strings.TrimSpace(suffix)))
		value /= own
	case e.Kind == Length:
		own = unit.Millimetres()
		value /= own
	}
	style := numberStyle{old: number, inches: e.Kind == Length && own == inch, plain: quote == "", exact: e.Exact}
	style.within = lost * math.Pow10(-decimalsOf(number)%calculatedLeast)
	switch {
	case e.Follows && e.Kind == Length:
		style.within = lostFollowing * unit.Millimetres() / own
	case e.Follows:
		style.within = lostFollowing
	}
	text := ""
	switch {
	case e.Fresh && e.Exact:
		text = fewestDecimals(value, similar*math.Abs(value), finestDecimals)
	case e.Fresh:
		text = fewestDecimals(value, fresh, calculatedLeast)
	default:
		text = style.write(value)
	}
	if hyphened.MatchString(number) && !e.Fresh {
		text = hyphen(text)
	}
	if strings.Contains(number, ",") {
		text = strings.Replace(text, ".", ",", 1)
	}
	if strings.HasPrefix(number, ".") {
		text = strings.TrimPrefix(text, "0")
	}
	if quote == `"` {
		suffix = strings.ReplaceAll(suffix, `"`, `\"`)
	}
	return quote + text + suffix + quote
}

// hyphened is a number with a hyphen between whole and fraction, as 1-3/16, or one that hyphen
// has written.
var hyphened = regexp.MustCompile(`^-?\d+-\d+/|^\+`)

// hyphen writes a number as one who puts a hyphen between whole and fraction. Where there is
// none of both a plus sign keeps that in mind for the way back.
func hyphen(text string) string {
	if whole, fraction, mixed := strings.Cut(text, " "); mixed {
		return whole + "-" + fraction
	}
	if strings.HasPrefix(text, "-") {
		return text
	}
	return "+" + text
}

// numberStyle is how a number was written, and how near a new one must come.
type numberStyle struct {
	old           string
	inches, plain bool    // whether it is in inches; without quotes
	within        float64 // lost, in its own unit
	exact         bool
}

// write writes a value in the style.
func (s numberStyle) write(value float64) string {
	decimals, within := decimalsOf(s.old), s.within
	calculated, authored := decimals >= calculatedLeast, decimals%calculatedLeast
	switch {
	case s.exact:
		within = similar * math.Abs(value)
	case !calculated:
		within = exactly
	}
	if text, holds := s.fraction(value, within, authored == 0 && (calculated || !s.plain)); holds {
		return text
	}
	if text := strconv.FormatFloat(value, 'f', authored, 64); !strings.Contains(s.old, "/") && misses(text, value) <= within {
		return text
	}
	text := strconv.FormatFloat(value, 'f', calculatedLeast+authored, 64)
	if s.exact && misses(text, value) > 1e-14*math.Abs(value) {
		text = strconv.FormatFloat(value, 'f', 2*calculatedLeast+authored, 64)
	}
	return text
}

// fraction writes a value as a fraction of an inch where it is one and the old number was
// one or may have been, which is maybe. A number without quotes, which cannot have a stroke,
// is written as the decimals of one.
func (s numberStyle) fraction(value, within float64, maybe bool) (text string, holds bool) {
	if !strings.Contains(s.old, "/") && !(maybe && s.inches) {
		return "", false
	}
	text, added := NearestFraction(value*inch, finestFraction)
	holds = math.Abs(added/inch) <= within
	if s.plain {
		text = strconv.FormatFloat(value+added/inch, 'f', -1, 64)
		decimals := decimalsOf(text)
		return text, holds && decimals%calculatedLeast == 0
	}
	return strings.TrimSuffix(text, " in"), holds
}

// fewestDecimals writes a value with the fewest decimals that hold it, or with the most.
func fewestDecimals(value, within float64, most int) string {
	text := ""
	for decimals := 0; decimals <= most; decimals++ {
		text = strconv.FormatFloat(value, 'f', decimals, 64)
		if misses(text, value) <= within {
			break
		}
	}
	return text
}

// misses returns by how much a number as written misses a value.
func misses(text string, value float64) float64 {
	written, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.Inf(1)
	}
	return math.Abs(written - value)
}

func decimalsOf(number string) int {
	i := strings.IndexAny(number, ".,")
	if i < 0 {
		return 0
	}
	return len(number) - i - 1
}
