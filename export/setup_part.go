package export

import (
	"fmt"
	"strings"

	"fullerwright/profile"
)

// laterPart sets the sheet of a part whose face has had a sheet before, with all that the
// parts share: one page, and the table for a manual mill after it.
func (c *setupContent) laterPart() {
	s, u, j := c.job.Setup, c.units, c.job
	share := fmt.Sprintf("as for program %d", c.first+1)
	c.add(facts{[][2]string{
		{"Up", fmt.Sprintf("%s face, point to your %s", s.Face, s.PointLies())},
		{"Lies", fmt.Sprintf("%s side at the fixed jaw, %s at the stop", s.EdgeAtJaw(), s.EndAtStop())},
		{"Z zero", "on the dashed line; jaws, X and Y zero " + share},
	}})
	since, turned := c.turnedSince()
	title, ticks := "Before you start", []string(nil)
	if turned {
		title = fmt.Sprintf("Turned %s since %s: before you start", s.Flip, since)
		ticks = append(ticks, c.units.texts("turn "+string(s.Flip))...)
	}
	c.add(heading{title}, tickList{append(ticks, c.units.texts("before part")...)})
	c.add(heading{"Cutter, levels and proof"}, facts{[][2]string{
		{"Cutter", fmt.Sprintf("%s, stick-out, coolant and checks %s", j.Cutter.Name, share)},
		{"Spindle, feed", fmt.Sprintf("%.0f rev/min, cutting %s", j.Spindle, u.feedWith(j.Feeds.Slot))},
		{"Levels", c.sayLevels()},
		{"Time", sayTime(c.step.Proof.Seconds) + " with the program"},
		{"Below the design", fmt.Sprintf("%s at most, %s allowed", u.fine(c.step.Proof.Judged.Gouge.Value), u.fine(c.sheet.Shop.Limits.Gouge))},
		{"Above the design", c.sayLeft()},
	}})
	c.after()
	table := c.table()
	c.noTable(table)
	if len(table.Rows) == 0 {
		return
	}
	c.add(heading{"On a manual mill: the passes"})
	for _, shim := range table.Shims {
		c.readoutOf(table, shim)
	}
}

// sayLevels says in a line what a part cuts.
func (c *setupContent) sayLevels() string {
	var out []string
	for _, l := range c.job.Levels {
		if c.step.Part.Holds(l.Number) {
			out = append(out, fmt.Sprintf("fuller %d: %s, %s deeper, %s in all", l.Fuller, plural(l.Passes, "pass", "passes"), c.units.length(l.Depth), c.units.with(l.Total)))
		}
	}
	for _, l := range c.job.Lanes {
		if c.step.Part.Finish {
			out = append(out, fmt.Sprintf("fuller %d: %s", l.Fuller, plural(l.Count, "finishing lane", "finishing lanes")))
		}
	}
	return strings.Join(out, "; ")
}

// turnedSince says since when the bar has been turned over, if it has.
func (c *setupContent) turnedSince() (since string, turned bool) {
	s := c.job.Setup
	switch last, found := c.sheet.before(c.at, func(b SetupStep) bool { return !b.Job.Setup.Blank }); {
	case s.Blank:
		return "", false
	case c.step.Part != nil && found && c.sheet.Steps[last].Job.Setup.Face != s.Face:
		return fmt.Sprintf("program %d", last+1), true
	}
	return "the right face", s.Face == profile.Left
}
