package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

// sayWay says a way out: the key, the value that it must have, and which file it is in
// where that is not the knife's.
func sayWay(way toolpath.Way, unit document.Unit) string {
	says := way.Key + " "
	switch {
	case way.Cutter != nil:
		says = sayBought(*way.Cutter)
	case way.File == toolpath.ShopFile && way.Key == "parallels":
		says = "one [[parallels]] more in the shop file, height = " + strconv.Quote(sayValue(document.Length, way.Value, unit))
	case way.Word != "":
		says += strconv.Quote(way.Word)
	case way.File == toolpath.ShopFile:
		says += sayValue(toolpath.KindOf(way.Key), way.Value, unit) + " in the shop file"
	default:
		says += sayValue(profile.KindOf(way.Key), way.Value, unit)
	}
	for _, also := range way.Also {
		says += " with " + sayWay(also, unit)
	}
	return says
}

// sayBought says a cutter that would do as the keys of a [[cutter]] of the shop file.
func sayBought(c toolpath.Cutter) string {
	coated := ""
	if c.Coated {
		coated = ", coated = true"
	}
	return fmt.Sprintf("one [[cutter]] more in the shop file, end = %q, diameter = %g, flutes = %d, flute_length = %g, shank_diameter = %g, stick_out = %g, run_out = %g, material = %q%s (mm)",
		c.End, c.Diameter, c.Flutes, c.FluteLength, c.ShankDiameter, c.StickOut, c.RunOut, c.Material, coated)
}

// printWays prints the ways out of a check that stops the work, a line each, or that there
// is none.
func printWays(to io.Writer, c toolpath.Check, unit document.Unit) {
	if c.Verdict != toolpath.Stop {
		return
	}
	ways := c.Ways()
	for _, way := range ways {
		fmt.Fprintf(to, "          tried: %s would do\n", sayWay(way, unit))
	}
	if len(ways) == 0 && c.Tried() {
		fmt.Fprintln(to, "          tried: no single change was found that would do")
	}
}

// sayWays says single changes in one sentence.
func sayWays(ways []toolpath.Way, unit document.Unit) string {
	says := make([]string, len(ways))
	for i, way := range ways {
		says[i] = sayWay(way, unit)
	}
	if len(ways) == 1 {
		return "this alone would do: " + says[0]
	}
	return "each of these alone would do: " + strings.Join(says, "; ")
}
