package main

import (
	"fmt"
	"io"

	"fullerwright/profile/document"
)

// dimension is a length, mm, that stands in a table.
type dimension = document.Dimension

// area is an area, mm2, that stands in a table.
type area = document.Area

// speaks sets the unit in which the run speaks from here on: that of the knife file. Data
// (--json) and what belongs to a program, its comments and sheets, have units of their own.
func (p *program) speaks(unit document.Unit) { p.unit = unit }

// say prints a sentence that is written in millimetres in the unit of the run.
func (p *program) say(format string, values ...any) { sayIn(p.stdout, p.unit, format, values...) }

// tell is say for what is beside the output.
func (p *program) tell(format string, values ...any) { sayIn(p.stderr, p.unit, format, values...) }

// sayIn prints a sentence that is written in millimetres in a unit.
func sayIn(to io.Writer, unit document.Unit, format string, values ...any) {
	fmt.Fprint(to, document.Say(format, values...).In(unit))
}
