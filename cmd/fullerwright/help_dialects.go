package main

import (
	"fmt"
	"io"
	"strings"

	"fullerwright/toolpath/dialect"
)

// helpDialects writes what a dialect can say, with what each preset says.
func helpDialects(out io.Writer) {
	presets := dialect.Presets()
	fmt.Fprint(out, `A dialect is what the control of your mill takes of the open standard RS274/NGC. Choose a
preset by its name, as dialect in [machine] of the shop file, or describe your own there:

  [machine]
  dialect = "old mill"

  [[dialect]]
  name             = "old mill"
  like             = "short-lines"   # what you leave out is as in this preset
  arcs_zx          = false
  decimals_mm      = 3
  file_blocks_most = 2000            # longer programs are written as several

Every program is read back and proved, whatever its dialect. A program in several files
is run in the order of their names; each one starts and ends over the bar.

The presets:
`)
	for _, d := range presets {
		fmt.Fprintf(out, "  %-14s %s\n", d.Name, d.Meaning)
	}
	fmt.Fprint(out, "\nThe keys, and what the presets have:\n\n")
	row := func(name string, say func(d dialect.Dialect) string) {
		line := fmt.Sprintf("  %-18s", name)
		for _, d := range presets {
			line += fmt.Sprintf(" %-13s", say(d))
		}
		fmt.Fprintln(out, strings.TrimRight(line, " "))
	}
	row("", func(d dialect.Dialect) string { return d.Name })
	for _, e := range dialect.Table() {
		row(e.Name, e.Say)
		fmt.Fprintf(out, "    %s\n", e.Meaning)
	}
	fmt.Fprint(out, "\nfullerwright help shop has the limits of each key.\n")
}
