package document

import (
	"fmt"
	"sort"
	"strings"
	"unicode"
)

// FieldError is one fault of a file: where it stands, what was typed, the rule that
// it breaks and a way out.
type FieldError struct {
	File  string
	Line  int    // 0 where the fault is what is not there
	Field string // as blade.length, or fuller[2].radius counted from 1
	Value string // as typed
	Rule  string
	Hint  string
}

// Error writes the fault in one line.
func (e FieldError) Error() string {
	var b strings.Builder
	if e.File != "" {
		b.WriteString(e.File + ":")
		if e.Line > 0 {
			fmt.Fprintf(&b, "%d:", e.Line)
		}
		b.WriteString(" ")
	}
	if e.Field != "" {
		b.WriteString(e.Field + ": ")
	}
	if e.Value != "" {
		b.WriteString(shortened(e.Value) + ": ")
	}
	b.WriteString(e.Rule)
	if e.Hint != "" {
		b.WriteString("; " + e.Hint)
	}
	return b.String()
}

// longestValue is how many characters of what was typed a fault shows.
const longestValue = 80

// shortened makes of what was typed something that fits a line of a terminal and steers none.
func shortened(text string) string {
	out := []rune(text)
	if len(out) > longestValue {
		out = append(out[:longestValue:longestValue], '…')
	}
	for i, r := range out {
		if !unicode.IsPrint(r) {
			out[i] = unicode.ReplacementChar
		}
	}
	return string(out)
}

// FieldErrors are the faults of one or several files.
type FieldErrors []FieldError

// mostFaults is how many faults are written out; a file of nothing but faults is no
// knife file.
const mostFaults = 50

// Error writes the faults, a line each, in the order of the file.
func (e FieldErrors) Error() string {
	sorted := append(FieldErrors(nil), e...)
	sort.SliceStable(sorted, func(i, j int) bool {
		if sorted[i].File != sorted[j].File {
			return sorted[i].File < sorted[j].File
		}
		return sorted[i].Line < sorted[j].Line
	})
	var lines []string
	for i, fault := range sorted {
		if i == mostFaults {
			lines = append(lines, fmt.Sprintf("and %d more faults", len(sorted)-mostFaults))
			break
		}
		lines = append(lines, fault.Error())
	}
	return strings.Join(lines, "\n")
}

func fieldName(g Group, index int, key string) string {
	name := g.Name
	if g.Repeated {
		name = fmt.Sprintf("%s[%d]", g.Name, index+1)
	}
	switch {
	case name == "":
		return key
	case key == "":
		return name
	}
	return name + "." + key
}
