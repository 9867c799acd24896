package profile

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"fullerwright/profile/document"
)

var (
	groupLine = regexp.MustCompile(`^\[+([a-z_]+)\]+`)
	keyLine   = regexp.MustCompile(`^([a-z_]+)\s*=`)
)

// WithMeanings returns a knife file with the meaning of every key beside it, from the
// parameter table; lines that carry a comment already are left as they are.
func WithMeanings(data []byte) []byte {
	meanings := map[string]string{}
	for _, group := range Table() {
		for _, p := range group.Parameters {
			meanings[group.Name+"."+p.Name] = p.Meaning
		}
	}
	lines := strings.Split(string(data), "\n")
	widest := 0
	for _, line := range lines {
		if keyLine.MatchString(line) && !strings.Contains(line, "#") {
			widest = max(widest, len(line))
		}
	}
	group := ""
	for i, line := range lines {
		if m := groupLine.FindStringSubmatch(line); m != nil {
			group = m[1]
		}
		m := keyLine.FindStringSubmatch(line)
		if m == nil || strings.Contains(line, "#") {
			continue
		}
		if meaning, known := meanings[group+"."+m[1]]; known {
			lines[i] = fmt.Sprintf("%-*s  # %s", widest, line, meaning)
		}
	}
	return []byte(strings.Join(lines, "\n"))
}

var (
	unitsLine  = regexp.MustCompile(`^units\s*=\s*"(mm|in)"`)
	numberLine = regexp.MustCompile(`^([a-z_]+)(\s*=\s*)(-?[0-9.]+)`)
)

// InUnits returns a starter file with its plain lengths in another unit, to a ten
// thousandth of a millimetre or a hundred thousandth of an inch; lengths that carry
// their own unit stay as they are. It is for files with one key on a line, as the
// patterns have them.
func InUnits(data []byte, unit document.Unit) []byte {
	lengths := map[string]bool{}
	for _, group := range Table() {
		for _, p := range group.Parameters {
			lengths[group.Name+"."+p.Name] = p.Kind == document.Length
		}
	}
	lines := strings.Split(string(data), "\n")
	group, factor := "", 1.0
	for i, line := range lines {
		if m := groupLine.FindStringSubmatch(line); m != nil {
			group = m[1]
		}
		if m := unitsLine.FindStringSubmatch(line); m != nil {
			from := document.Millimetre
			if m[1] == document.Inch.String() {
				from = document.Inch
			}
			factor = from.Millimetres() / unit.Millimetres()
			lines[i] = strings.Replace(line, `"`+m[1]+`"`, `"`+unit.String()+`"`, 1)
			continue
		}
		m := numberLine.FindStringSubmatch(line)
		if m == nil || !lengths[group+"."+m[1]] || factor == 1 {
			continue
		}
		value, err := strconv.ParseFloat(m[3], 64)
		if err != nil {
			continue // the parser will say so
		}
		fine := map[document.Unit]float64{document.Inch: 1e5, document.Millimetre: 1e4}[unit]
		lines[i] = m[1] + m[2] + spellNumber(math.Round(value*factor*fine)/fine) + line[len(m[0]):]
	}
	return []byte(strings.Join(lines, "\n"))
}

// DescribeTable returns every key that a knife file may hold, for a person to read:
// meaning, kind, limits, default, and what it does when the pattern is resized.
func DescribeTable() []byte {
	classes := map[string]ResizeClass{}
	for _, group := range Table() {
		for _, p := range group.Parameters {
			classes[group.Name+"."+p.Name] = p.Resize
		}
	}
	return document.Describe(Schema(), func(group, key string) string {
		if class := classes[group+"."+key]; class != Verbal {
			return "resized: " + string(class)
		}
		return ""
	})
}
