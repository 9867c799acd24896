package templates

import (
	_ "embed"
	"strings"
)

//go:embed setup_sheet.txt
var setupSheet string

// SetupTexts returns the sentences of one part of the setup sheet, in order; none where
// there is no such part.
func SetupTexts(part string) []string {
	var out []string
	here := false
	for _, line := range strings.Split(setupSheet, "\n") {
		switch line = strings.TrimSpace(line); {
		case strings.HasPrefix(line, "#"):
			here = strings.TrimSpace(strings.TrimPrefix(line, "#")) == part
		case here && line != "":
			out = append(out, line)
		}
	}
	return out
}
