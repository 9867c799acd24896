package export

import (
	"fmt"
	"strings"

	"fullerwright/export/sheet"
)

// TradeOff is what it costs to bring measures to their targets: those measures and others
// along the change of one or several parameters, from designs short of the knife as it
// is to designs beyond the answer.
type TradeOff struct {
	Knife    string
	Along    []float64   // of each design, ascending
	Axes     []ChartAxis // each with a value for each design
	Verdicts []ChartVerdict
	Measures []ChartMeasure // those aimed at come first and have their targets
	// Now and Answer lie along the change. The answer is the nearest design that passes
	// its checks where the target is not reached.
	Now, Answer    float64
	Found, Reached bool
}

// Sheet draws the measures under each other, with the places of now and of the answer.
func (t TradeOff) Sheet() sheet.Sheet {
	var names []string
	for _, m := range t.Measures {
		if m.Target.Known {
			names = append(names, m.Name)
		}
	}
	aimed := strings.Join(names, ", ")
	note := fmt.Sprintf("The target is reached where the line of %s meets it and no check stops.", aimed)
	if len(names) > 1 {
		note = "The targets are reached where each line meets its own and no check stops."
	}
	answer := "answer"
	if !t.Reached {
		note, answer = "The target is not reached by any design that passes its checks.", "nearest"
	}
	moved, still := t.moved()
	notes := []string{note}
	if len(still) > 0 {
		notes = append(notes, "Not moved by it: "+strings.Join(still, "; ")+".")
	}
	c := CurveChart{Title: fmt.Sprintf("%s: %s and what it costs", t.Knife, aimed), Notes: notes,
		Along: t.Along, Axes: t.Axes, Verdicts: t.Verdicts, Measures: moved}
	c.Marks = append(c.Marks, ChartMark{Along: t.Now, Label: "now"})
	if t.Found {
		c.Marks = append(c.Marks, ChartMark{Along: t.Answer, Label: answer, Bold: true})
	}
	return c.Sheet()
}

// moved returns the measures that the change moves, or that are aimed at, and the names of the
// others.
func (t TradeOff) moved() (moved []ChartMeasure, still []string) {
	for _, m := range t.Measures {
		if m.Target.Known || !m.hardlyMoves() {
			moved = append(moved, m)
		} else {
			still = append(still, m.Name)
		}
	}
	return moved, still
}
