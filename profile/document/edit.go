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
	Group string
	Index int // of a repeated group, from 0
	Key   string
	Kind  Kind
	Value float64 // a length in mm, an angle in radians, or a number
	Text  string  // of a key that holds a text
	Exact bool    // written with all its digits, as a decimal
	Fresh bool    // it owes nothing to the number that was there, and is written with the fewest decimals that hold it
}

// edited is a stretch of the source and what stands there afterwards.
type edited struct {
	from, to int
	text     string
}

// place is where a key's value, or the end of its group's header line, stands.
type place struct{ from, to int }

// Apply returns the source of a file with new values; every other byte stays. A value
// keeps the unit and the style in which it was typed: see restyle. A key that is not
// there is written under the header of its group, and a group that is not there at
// the end. The source must be one that Read takes.
func Apply(data []byte, unit Unit, edits []Edit) []byte {
	values, headers := places(data)
	var changes []edited
	newGroups := map[string][]string{}
	var order []string
	for _, e := range edits {
		group := fmt.Sprintf("%s[%d]", e.Group, e.Index)
		if at, there := values[group+"."+e.Key]; there {
			changes = append(changes, edited{at.from, at.to, restyle(string(data[at.from:at.to]), e, unit)})
			continue
		}
		line := e.Key + " = " + restyle("0.0000", e, unit) // no style: the fewest decimals
		if at, there := headers[group]; there {
			changes = append(changes, edited{at.to, at.to, lineEnd(data) + line})
			continue
		}
		if newGroups[e.Group] == nil {
			order = append(order, e.Group)
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
		out.WriteString(end + "[" + group + "]" + end + strings.Join(newGroups[group], end) + end)
	}
	return out.Bytes()
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
	// styleDecimals is the greatest number of decimals that counts as the author's
	// style; more are digits that were calculated.
	styleDecimals = 3
	// Where the style would lose the value, the fewest decimals of these are written that
	// hold it wholly, or the most.
	calculatedLeast, calculatedMost = 4, 6
	// lost is by how much a written number may miss its value, in its own unit.
	lost = 2e-6
	// exactly is by how much one may miss it to count as holding it wholly: what is
	// calculated from it, as on the way back, must not add up to lost.
	exactly = 1e-9
	// finestFraction is the finest division of an inch rule.
	finestFraction = 64
)

// restyle writes a value as old was written: plain or in quotes, in the same unit, a
// fraction of an inch where the value is one down to 1/64, otherwise with its number of
// decimals where those hold the value to 2e-6 and with four to six where they do not. A value
// with more than three decimals counts as calculated: it goes back to the fewest
// decimals, or in quotes and in inches to a fraction, that hold the new one.
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
	if e.Fresh {
		number = "0.0000"
	}
	value := e.Value
	switch {
	case e.Kind == Angle:
		value *= 180 / math.Pi
	case e.Kind == Length && quote != "":
		value /= inMillimetres(1, strings.ToLower(strings.TrimSpace(suffix)))
	case e.Kind == Length:
		value /= unit.Millimetres()
	}
	var text string
	if e.Exact {
		text = comma(number, strconv.FormatFloat(math.Round(value*1e12)/1e12, 'f', -1, 64))
	} else {
		text = styledNumber(number, value, strings.ToLower(strings.TrimSpace(suffix)))
	}
	if quote == `"` {
		suffix = strings.ReplaceAll(suffix, `"`, `\"`)
	}
	return quote + text + suffix + quote
}

func styledNumber(old string, value float64, suffix string) string {
	fraction := strings.Contains(old, "/")
	decimals := decimalsOf(old)
	calculated := decimals > styleDecimals
	inches := strings.HasPrefix(suffix, "in") || suffix == `"`
	if fraction || calculated && inches {
		text, added := NearestFraction(value*inch, finestFraction)
		if math.Abs(added/inch) <= lost {
			return strings.TrimSuffix(text, " in")
		}
		if fraction {
			return calculatedText(value)
		}
	}
	if calculated {
		decimals = 0
	}
	for ; decimals <= styleDecimals; decimals++ {
		text := strconv.FormatFloat(value, 'f', decimals, 64)
		if back, err := strconv.ParseFloat(text, 64); err == nil && math.Abs(back-value) <= lost {
			return comma(old, text)
		}
		if !calculated {
			break
		}
	}
	return comma(old, calculatedText(value))
}

// calculatedText writes a value that the author's style does not hold.
func calculatedText(value float64) string {
	text := ""
	for decimals := calculatedLeast; decimals <= calculatedMost; decimals++ {
		text = strconv.FormatFloat(value, 'f', decimals, 64)
		if back, err := strconv.ParseFloat(text, 64); err == nil && math.Abs(back-value) <= exactly {
			break
		}
	}
	return text
}

// comma writes a decimal comma where the old number had one.
func comma(old, text string) string {
	if strings.Contains(old, ",") {
		return strings.Replace(text, ".", ",", 1)
	}
	return text
}

func decimalsOf(number string) int {
	i := strings.IndexAny(number, ".,")
	if i < 0 {
		return 0
	}
	return len(number) - i - 1
}
