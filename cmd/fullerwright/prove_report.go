package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

// alikeFindings is how many findings of one kind are printed.
const alikeFindings = 4

func (p *program) printProof(path string, c claims, r toolpath.FaceProof, compared bool) {
	j := r.Judged
	p.say("%s: %s face, %s end of %.3f mm\n", path, c.face, c.end, c.diameter)
	if len(c.used) > 0 {
		p.say("  taken from the program's own comments: %s\n", document.Words(strings.Join(c.used, ", ")))
	}
	p.say("  %s, takes off %.0f mm3, at most %.3f mm deep at once (line %d)\n", sayMinutes(r.Seconds), j.Removed, j.DeepestEngagement.Value, j.DeepestEngagement.TextLine)
	if compared {
		p.say("  greatest gouge %.4f mm, greatest leftover %.4f mm, rms %.4f mm; grid %.3f mm, which may hide %.5f mm\n",
			j.Gouge.Value, j.Leftover.Value, j.RMS, j.Step, j.Bound)
		for _, s := range r.Stations {
			p.say("  fuller %d at %7.2f mm: depth %.4f of %.4f mm, width %.4f of %.4f mm\n", s.Fuller, s.X, s.Depth, s.DesignDepth, s.Width, s.DesignWidth)
		}
	}
	said := map[string]int{}
	for _, finding := range j.Findings {
		switch said[finding.Kind]++; {
		case said[finding.Kind] > alikeFindings:
		case finding.TextLine > 0:
			p.say("  line %d: %s: %s\n", finding.TextLine, finding.Kind, document.Words(finding.Message))
		default:
			p.say("  %s: %s\n", finding.Kind, document.Words(finding.Message))
		}
	}
	for _, kind := range slices.Sorted(maps.Keys(said)) {
		if more := said[kind] - alikeFindings; more > 0 {
			p.say("  %s: at %d lines more; --json lists them all\n", kind, more)
		}
	}
	if len(j.Findings) == 0 {
		fmt.Fprintln(p.stdout, "  nothing found")
	}
}

// proofReport is the proof of a program as data.
type proofReport struct {
	File     string   `json:"file"`
	Face     string   `json:"face"`
	Diameter float64  `json:"cutter_diameter_mm"`
	Taken    []string `json:"taken_from_comments"`
	judgedReport
}

func (p *program) dataProof(path string, c claims, r toolpath.FaceProof) error {
	return writeLine(p.stdout, proofReport{path, c.face, c.diameter, c.used, newJudgedReport(r)})
}
