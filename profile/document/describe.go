package document

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
)

// Describe returns every key of a schema for a person to read: its meaning, kind,
// limits and default. What more adds to a key, if anything, stands behind those.
func Describe(schema Schema, more func(group, key string) string) []byte {
	var b bytes.Buffer
	for _, group := range schema.Groups {
		switch {
		case group.Repeated:
			fmt.Fprintf(&b, "\n[[%s]]  %s\n", group.Name, group.Meaning)
		case group.Name != "":
			fmt.Fprintf(&b, "\n[%s]  %s\n", group.Name, group.Meaning)
		}
		for _, key := range group.Keys {
			parts := key.describe()
			if extra := more(group.Name, key.Name); extra != "" {
				parts = append(parts, extra)
			}
			fmt.Fprintf(&b, "  %-17s %s\n  %-17s (%s)\n", key.Name, key.Meaning, "", strings.Join(parts, "; "))
		}
	}
	return b.Bytes()
}

// describe names the kind, limits and default of a key.
func (k Key) describe() []string {
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	span := number(k.Min) + " to " + number(k.Max)
	var parts []string
	switch k.Kind {
	case Length:
		parts = append(parts, "length, "+span+" mm")
	case Angle:
		parts = append(parts, "angle, "+span+" degrees")
	case Number:
		parts = append(parts, "number, "+span)
	case Count:
		parts = append(parts, "whole number, "+span)
	case Choice:
		parts = append(parts, "one of "+strings.Join(k.Choices, ", "))
	case Flag:
		parts = append(parts, "true or false")
	default:
		parts = append(parts, "text")
	}
	switch {
	case k.Required:
		parts = append(parts, "needed")
	case k.Default != "":
		parts = append(parts, "default "+k.Default)
	}
	return parts
}
