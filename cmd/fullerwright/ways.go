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

// sayBought says a cutter that would do as the keys of a [[cutter]] of the shop file, with
// lengths that hold in either unit.
func sayBought(c toolpath.Cutter) string {
	coated := ""
	if c.Coated {
		coated = ", coated = true"
	}
	mm := func(value float64) string {
		return strconv.Quote(sayValue(document.Length, value, document.Millimetre))
	}
	return fmt.Sprintf("one [[cutter]] more in the shop file, name = %q, end = %q, diameter = %s, flutes = %d, flute_length = %s, shank_diameter = %s, stick_out = %s, run_out = %s, material = %q%s",
		nameBought(c), c.End, mm(c.Diameter), c.Flutes, mm(c.FluteLength), mm(c.ShankDiameter), mm(c.StickOut), mm(c.RunOut), c.Material, coated)
}

// nameBought is what a cutter that is to be bought may be called once it is there.
func nameBought(c toolpath.Cutter) string {
	return fmt.Sprintf("new %s %g", c.End, c.Diameter)
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
