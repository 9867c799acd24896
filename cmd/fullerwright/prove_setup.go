package main

import (
	"regexp"
	"strings"

	"fullerwright/export/gcode"
	"fullerwright/toolpath"
)

var (
	endAtStop = regexp.MustCompile(`(TANG END|POINT END) AT THE STOP`)
	pointLies = regexp.MustCompile(`POINT TO THE (LEFT|RIGHT)`)
	edgeAtJaw = regexp.MustCompile(`(SPINE|EDGE) SIDE AT THE FIXED JAW`)
)

// setupClaimsOf reads from the heading of one of our programs how the bar must lie.
func setupClaimsOf(comments []gcode.Comment) toolpath.SetupClaims {
	// A long line of the heading may go on in the next comment.
	var text strings.Builder
	var starts []int
	for _, c := range comments {
		starts = append(starts, text.Len())
		text.WriteString(c.Text + " ")
	}
	claim := func(pattern *regexp.Regexp) toolpath.Claim {
		m := pattern.FindStringSubmatchIndex(text.String())
		if m == nil {
			return toolpath.Claim{}
		}
		line := 0
		for i, start := range starts {
			if start <= m[0] {
				line = comments[i].TextLine
			}
		}
		return toolpath.Claim{Text: text.String()[m[2]:m[3]], TextLine: line}
	}
	return toolpath.SetupClaims{EndAtStop: claim(endAtStop), PointLies: claim(pointLies), EdgeAtJaw: claim(edgeAtJaw)}
}
