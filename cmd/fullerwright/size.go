package main

import (
	"fmt"
	"strings"

	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

// What a bar or a scrap may measure, mm, where no knife is named (judgement): the simulation
// looks at all of it.
const longestSize, widestSize, thickestSize = 1500, 200, 50

// parseSize reads a size written as LENGTHxWIDTHxTHICKNESS, each in mm or with its own unit;
// the zero size where none is given. What it is of is named in the error.
func parseSize(text, of string) (toolpath.PlainBar, error) {
	if text == "" {
		return toolpath.PlainBar{}, nil
	}
	wrong := &usageError{fmt.Sprintf("%q is no %s", text, of), fmt.Sprintf("write length, width and thickness in mm as 120x34x5.2, each over 0, and at most %d, %d and %d", longestSize, widestSize, thickestSize)}
	parts := strings.Split(strings.ToLower(text), "x")
	if len(parts) != 3 {
		return toolpath.PlainBar{}, wrong
	}
	var size [3]float64
	for i, part := range parts {
		mm, err := document.ParseLength(strings.TrimSpace(part), document.Millimetre)
		if err != nil || !(mm > 0 && mm <= [3]float64{longestSize, widestSize, thickestSize}[i]) {
			return toolpath.PlainBar{}, wrong
		}
		size[i] = mm
	}
	return toolpath.PlainBar{Length: size[0], Width: size[1], Thickness: size[2]}, nil
}
