package profile

import (
	"bytes"
	"fmt"
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

// DescribeTable returns every key that a knife file may hold, for a person to read:
// meaning, kind, limits, default, and what it does when the pattern is resized.
func DescribeTable() []byte {
	var b bytes.Buffer
	for _, group := range Table() {
		switch {
		case group.Repeated:
			fmt.Fprintf(&b, "\n[[%s]]  %s\n", group.Name, group.Meaning)
		case group.Name != "":
			fmt.Fprintf(&b, "\n[%s]  %s\n", group.Name, group.Meaning)
		}
		for _, p := range group.Parameters {
			fmt.Fprintf(&b, "  %-15s %s\n", p.Name, p.Meaning)
			fmt.Fprintf(&b, "  %-15s %s\n", "", describeLimits(p))
		}
	}
	return b.Bytes()
}

func describeLimits(p Parameter) string {
	var parts []string
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	span := number(p.Min) + " to " + number(p.Max)
	switch p.Kind {
	case document.Length:
		parts = append(parts, "length, "+span+" mm")
	case document.Angle:
		parts = append(parts, "angle, "+span+" degrees")
	case document.Number:
		parts = append(parts, "number, "+span)
	case document.Choice:
		parts = append(parts, "one of "+strings.Join(p.Choices, ", "))
	default:
		parts = append(parts, "text")
	}
	switch {
	case p.Required:
		parts = append(parts, "needed")
	case p.Default != "":
		parts = append(parts, "default "+p.Default)
	}
	if p.Resize != Verbal {
		parts = append(parts, "resized: "+string(p.Resize))
	}
	return "(" + strings.Join(parts, "; ") + ")"
}
