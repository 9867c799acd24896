package main

import (
	"fmt"
	"strings"

	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

// longestSize is the longest that a bar or a scrap may be, mm: as for bar.length.
const longestSize = 5000

// parseSize reads a size written as LENGTHxWIDTHxTHICKNESS, each in mm or with its own unit;
// the zero size where none is given. What it is of is named in the error.
func parseSize(text, of string) (toolpath.PlainBar, error) {
	if text == "" {
		return toolpath.PlainBar{}, nil
	}
	wrong := &usageError{fmt.Sprintf("%q is no %s", text, of), "write length, width and thickness in mm as 120x34x5.2, each over 0 and under 5000"}
	parts := strings.Split(strings.ToLower(text), "x")
	if len(parts) != 3 {
		return toolpath.PlainBar{}, wrong
	}
	var size [3]float64
	for i, part := range parts {
		mm, err := document.ParseLength(strings.TrimSpace(part), document.Millimetre)
		if err != nil || !(mm > 0 && mm < longestSize) {
			return toolpath.PlainBar{}, wrong
		}
		size[i] = mm
	}
	return toolpath.PlainBar{Length: size[0], Width: size[1], Thickness: size[2]}, nil
}
