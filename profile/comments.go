package profile

import (
	"fmt"
	"regexp"
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
