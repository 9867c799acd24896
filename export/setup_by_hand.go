package export

import (
	"fmt"
	"math"
	"strings"

	"fullerwright/toolpath"
)

// byHand says how a mill run by its handwheels does what the program does, or that it
// cannot.
func (c *setupContent) byHand() {
	j := c.job
	switch {
	case j.Step.Bore > 0:
		c.holesByHand()
	case j.Step.Corner > 0:
		return // its cautions say so
	case j.Step.Operation == toolpath.Fullers:
		c.readout()
	case j.Step.Operation == toolpath.Shoulders, j.Step.Operation == toolpath.Slot:
		c.sideByHand()
	default:
		c.notByHand(string(j.Step.Operation))
	}
}

// notByHand says what is done instead of a work that handwheels cannot follow.
func (c *setupContent) notByHand(what string) {
	c.add(heading{"On a manual mill"})
	for _, text := range c.units.texts("by hand " + what) {
		c.add(paragraph{text})
	}
}

// holesByHand is the table of a drill.
func (c *setupContent) holesByHand() {
	u, rows := c.units, c.whole().HoleReadout()
	c.add(heading{"On a manual mill: the holes"}, bulletList{c.units.texts("by hand holes")})
	g := grid{head: []string{"hole", "X", "Y", "tip's Z to", "full to Z", "bites", "feed"}, shares: []float64{20, 24, 24, 24, 24, 28, 14}, texts: 1, tick: true}
	for _, r := range rows {
		name := "slot"
		if r.Number > 0 {
			name = fmt.Sprint(r.Number)
		}
		full := u.length(r.Full)
		if r.Through {
			full = "through"
		}
		g.rows = append(g.rows, []string{name, u.length(r.X), u.length(r.Y), u.length(r.Z), full, fmt.Sprintf("%d of %s", r.Bites, u.length(r.Bite)), u.feed(c.job.Feeds.Plunge)})
	}
	c.add(g)
}

// whole is the job of which this program is a part, or itself.
func (c *setupContent) whole() *toolpath.Job {
	if c.step.Whole != nil {
		return c.step.Whole
	}
	return c.job
}

// sideByHand is the table of a shoulder or a slot.
func (c *setupContent) sideByHand() {
	j := c.whole()
	table := j.SideReadout()
	c.add(heading{"On a manual mill: the passes"}, paragraph{"The rules of the first page hold."}, bulletList{c.units.texts("by hand " + string(j.Step.Operation))})
	c.sideTouches(table)
	for i, stage := range j.Stages {
		c.stagePasses(table, i, stage)
	}
}

// stagePasses is the table of one stage: its depths, its straight passes in a row each, and
// the legs of the others.
func (c *setupContent) stagePasses(table toolpath.SideReadout, number int, stage toolpath.Stage) {
	straight := grid{head: []string{"pass", "at X", "Y from", "Y to", "X to", "Y out to", "feed"}, shares: []float64{22, 24, 22, 22, 24, 22, 14}, texts: 1, tick: true}
	legs := grid{head: []string{"pass", "at X", "Y from", "Y to", "then X to"}, shares: []float64{30, 30, 30, 30, 30}, texts: 1, tick: true}
	for _, p := range table.Passes {
		switch {
		case p.Stage != number:
		case c.straightRow(p, number) != nil:
			straight.rows = append(straight.rows, c.straightRow(p, number))
		default:
			legs.rows = append(legs.rows, c.legRows(p, number)...)
		}
	}
	c.add(facts{[][2]string{{upperFirst(stage.Name), c.stageWords(table, number)}}})
	for _, g := range []grid{straight, legs} {
		if len(g.rows) > 0 {
			c.add(g)
		}
	}
}

// stageWords says at which depths the passes of a stage are run, and what steps leave.
func (c *setupContent) stageWords(table toolpath.SideReadout, number int) string {
	u := c.units
	words := []string{fmt.Sprintf("roughing at Z %s, feed %s", c.depthsOf(table, number), u.feed(c.job.Feeds.Slot))}
	left := 0.0
	for _, p := range table.Passes {
		if p.Stage != number {
			continue
		}
		if p.Purpose == toolpath.Finish {
			words = append(words, fmt.Sprintf("the wall at Z %s%s, feed %s", u.length(p.Levels[0].Z), times(p.Times), u.feed(p.Feed)))
		}
		if p.Down > 0 {
			words = append(words, fmt.Sprintf("pass %s to and fro from the level before, down by %s at each end until its Z is reached, and once more level", sidePassName(p, number), u.length(p.Down)))
		}
		left = math.Max(left, p.Left)
	}
	if left > 0 {
		words = append(words, fmt.Sprintf("steps leave ridges of %s for the file", u.with(left)))
	}
	return strings.Join(words, "; ")
}

// straightRow is a pass across the bar, or in, along and out again, in one row; nil for all
// others.
func (c *setupContent) straightRow(p toolpath.SidePass, stage int) []string {
	u, at := c.units, p.Places
	along := func(a, b toolpath.SidePlace) bool { return u.length(a.X) == u.length(b.X) }
	switch {
	case len(at) == 2 && along(at[0], at[1]):
		return []string{sidePassName(p, stage), u.length(at[0].X), u.length(at[0].Y), u.length(at[1].Y), "", "", u.feed(p.Feed)}
	case len(at) == 4 && along(at[0], at[1]) && along(at[2], at[3]):
		return []string{sidePassName(p, stage), u.length(at[0].X), u.length(at[0].Y), u.length(at[1].Y), u.length(at[2].X), u.length(at[3].Y), u.feed(p.Feed)}
	}
	return nil
}

// depthsOf lists the depths at which a stage is roughed.
func (c *setupContent) depthsOf(table toolpath.SideReadout, number int) string {
	var out []string
	for _, p := range table.Passes {
		if p.Stage != number || p.Purpose == toolpath.Finish {
			continue
		}
		for _, l := range p.Levels {
			out = append(out, fmt.Sprintf("%s (level %d)", c.units.length(l.Z), l.Number))
		}
		break // all passes of a stage go to the same levels
	}
	return strings.Join(out, ", ")
}

// legRows are the legs of a pass, one along Y and the one along X that follows it in a row.
func (c *setupContent) legRows(p toolpath.SidePass, stage int) (rows [][]string) {
	u, last := c.units, len(p.Places)-1
	alongX := func(i int) bool {
		return i < last && math.Abs(p.Places[i+1].X-p.Places[i].X) > math.Abs(p.Places[i+1].Y-p.Places[i].Y)
	}
	for i := 0; i < last; i++ {
		from, to := p.Places[i], p.Places[i]
		if !alongX(i) {
			i++
			to = p.Places[i]
		}
		row := []string{sidePassName(p, stage), u.length(from.X), u.length(from.Y), u.length(to.Y), ""}
		if alongX(i) {
			row[4] = u.length(p.Places[i+1].X)
		} else {
			i--
		}
		rows = append(rows, row)
	}
	return rows
}

// sidePassName names a pass by stage and lane.
func sidePassName(p toolpath.SidePass, stage int) string {
	if p.Purpose == toolpath.Finish {
		return "wall"
	}
	return fmt.Sprintf("%d.%d", stage+1, max(1, p.Lane))
}

func times(n int) string {
	switch n {
	case 1:
		return ""
	case 2:
		return ", twice"
	}
	return fmt.Sprintf(", %d times", n)
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// sideTouches is what is measured after the first level.
func (c *setupContent) sideTouches(table toolpath.SideReadout) {
	u, j := c.units, c.whole()
	g := grid{head: []string{"measure after the first level", "rough", "finished", ""}, shares: []float64{62, 24, 24, 22}, texts: 1}
	for _, t := range table.Touches {
		name, rough, finished := c.sayTouch(j, t)
		g.rows = append(g.rows, []string{name, u.length(rough), u.length(finished), ""})
	}
	c.add(g)
}

// sayTouch says from where to where a touch is measured, and how long that is.
func (c *setupContent) sayTouch(j *toolpath.Job, t toolpath.SideTouch) (name string, rough, finished float64) {
	stage := ""
	if t.Stage < len(j.Stages) {
		stage = j.Stages[t.Stage].Name
	}
	fromX, x := "left end of the bar", 0.0
	if j.Setup.XZero.Touched() {
		fromX, x = string(j.Setup.XZero.Kind), j.Setup.XZeroAt()
	}
	switch t.What {
	case toolpath.TouchedShoulder:
		return fmt.Sprintf("%s: from the %s to the shoulder", stage, fromX), math.Abs(t.Rough - x), math.Abs(t.Finished - x)
	case toolpath.TouchedTang:
		return fmt.Sprintf("%s: from the edge at the fixed jaw to the tang, at X %s", stage, c.units.length(t.At)), -t.Rough, -t.Finished
	case toolpath.TouchedWidth:
		return "width of the slot", t.Rough, t.Finished
	case toolpath.TouchedLength:
		return "length of the slot", t.Rough, t.Finished
	case toolpath.TouchedSide:
		return "from the side at the fixed jaw to the slot", -t.Rough, -t.Finished
	}
	return "from the left end to the slot", t.Rough, t.Finished
}
