package export

import (
	"fmt"
	"strings"

	"fullerwright/toolpath"
)

// depths are the levels of roughing and the finishing lanes, and where each begins in the
// text of the program.
func (c *setupContent) depths() {
	switch j := c.job; {
	case j.Step.Bore > 0:
		return
	case len(j.Stages) > 0:
		c.stageLevels()
	case j.Step.Operation == toolpath.Marks:
		c.add(heading{"Levels"}, facts{[][2]string{{"Down", fmt.Sprintf("%s of %s a stroke, %s in all", plural(j.RoughLevels(), "level", "levels"), c.units.length(j.SideLevel), c.units.with(j.Deepest))}}})
	case len(j.Levels)+len(j.Lanes) > 0:
		c.fullerLevels()
	}
}

// listedLevels is how many levels of a stage are told one by one; of more the first and the
// last are, and the program's own comments tell the rest.
const listedLevels = 8

// stageLevels is the table of what is cut with the side of the cutter, stage by stage. The
// levels of all stages are counted on, as the program counts them.
func (c *setupContent) stageLevels() {
	j, u := c.job, c.units
	c.add(heading{"Levels, as the program and --from-level count them"})
	if j.Step.Corner > 0 {
		c.add(facts{[][2]string{{"Corners", fmt.Sprintf("one after the other, from a radius of %s to %s", u.with(j.CornerFrom), u.with(j.Corner))}}})
	}
	g := grid{head: []string{"cut", "levels", "down to Z", c.linesHead()}, shares: []float64{22, 16, 44, 44}, texts: 4}
	marks := j.LevelMarks()
	for _, stage := range j.Stages {
		var depths, lines []string
		for _, m := range marks {
			if m.What != stage.Name {
				continue
			}
			name := ""
			if m.Number == 0 {
				name = "wall "
			}
			depths, lines = append(depths, name+u.length(m.Z)), append(lines, c.lineOf(m))
		}
		if len(depths) == 0 {
			continue // it is in another part
		}
		g.rows = append(g.rows, []string{stage.Name, levelRange(stage), few(depths), few(lines)})
	}
	c.add(g)
}

func levelRange(s toolpath.Stage) string {
	if s.From == s.To {
		return fmt.Sprint(s.From)
	}
	return fmt.Sprintf("%d to %d", s.From, s.To)
}

// few lists what are few; of many the first and the last.
func few(list []string) string {
	if len(list) > listedLevels+1 {
		return list[0] + ", " + list[1] + " … " + list[len(list)-1]
	}
	return strings.TrimSuffix(strings.TrimSpace(strings.Join(list, ", ")), ",")
}

// linesHead heads the column of lines.
func (c *setupContent) linesHead() string {
	for _, l := range c.step.Levels {
		if l.Block > 0 {
			return "at block"
		}
	}
	return "at line"
}

// lineOf returns the line, or the block, at which a level begins in the program; empty where
// its text is not known.
func (c *setupContent) lineOf(m toolpath.LevelMark) string {
	for _, l := range c.step.Levels {
		if l.Says() != m.Says() {
			continue
		}
		line := fmt.Sprint(l.Line)
		if l.Block > 0 {
			line = fmt.Sprintf("N%d", l.Block)
		}
		if l.File > 0 {
			line = fmt.Sprintf("%d: %s", l.File, line)
		}
		return line
	}
	return ""
}

// fullerLevels is the table of the levels of fullers, and their finishing lanes.
func (c *setupContent) fullerLevels() {
	j, u := c.job, c.units
	c.add(heading{"Levels and lanes, as the program and --from-level count them"})
	levels := grid{head: []string{"fuller, level", "passes", "deeper by", "in all", "cuts " + u.names() + " wide", "feed", c.linesHead()}, shares: []float64{38, 19, 26, 22, 34, 16, 24}, texts: 1}
	for _, l := range j.Levels {
		if c.step.Part != nil && !c.step.Part.Holds(l.Number) {
			continue
		}
		levels.rows = append(levels.rows, []string{fmt.Sprintf("fuller %d, level %d", l.Fuller, l.Number), fmt.Sprint(l.Passes), u.length(l.Depth), u.length(l.Total), u.length(l.Engaged.EffectiveDiameter()), u.feed(l.Feed), c.fullerLine(l.Fuller, l.Number)})
	}
	if len(levels.rows) > 0 {
		c.add(levels)
	}
	var rows [][2]string
	for _, l := range j.Lanes {
		if c.step.unfinished() {
			break
		}
		text := plural(l.Count, "finishing lane", "finishing lanes")
		if l.Cusp > 0 {
			text += fmt.Sprintf(", ridges of %s between them", u.fine(l.Cusp))
		}
		if l.Spring {
			text += ", all run a second time"
		}
		if line := c.fullerLine(l.Fuller, 0); line != "" {
			text += fmt.Sprintf("; %s %s", c.linesHead(), line)
		}
		rows = append(rows, [2]string{fmt.Sprintf("Fuller %d", l.Fuller), text})
	}
	if len(rows) > 0 {
		c.add(facts{rows})
	}
}

// fullerLine returns where a level of a fuller begins, or its finishing.
func (c *setupContent) fullerLine(fuller, level int) string {
	for _, m := range c.job.LevelMarks() {
		if m.What == fmt.Sprintf("fuller %d", fuller) && m.Number == level {
			return c.lineOf(m)
		}
	}
	return ""
}
