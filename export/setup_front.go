package export

import (
	"fmt"

	"fullerwright/toolpath"
)

// frontPage stands for a step where what all programs share is meant: it is said once,
// before them.
const frontPage = -1

// front lists the programs and says what holds for all of them.
func (c *setupContent) front() {
	g := grid{head: []string{"", "program", "cutter", "how it lies", "time"}, shares: []float64{7, 70, 28, 48, 26}, texts: 4, tick: true}
	byHand := false
	for i, s := range c.sheet.Steps {
		g.rows = append(g.rows, []string{fmt.Sprint(i + 1), c.units.sentence(sayStep(s.Job.Step)), s.Job.Cutter.Name, c.lies(s.Job), sayTime(s.Proof.Seconds)})
		byHand = byHand || s.Job.Step.Corner == 0 && s.Job.Step.Operation != toolpath.Marks && s.Job.Step.Operation != toolpath.Outline
	}
	c.add(heading{"The programs, in the order of work"}, g)
	c.add(heading{"Cautions for every program"}, bulletList{c.units.texts("cautions")})
	c.add(heading{"How to read the sheets"}, bulletList{c.units.texts("reading")})
	if byHand {
		c.add(heading{"On a manual mill: rules for every table"}, bulletList{c.units.texts("by hand")})
	}
}

// lies says in a few words how the work of a job is held.
func (c *setupContent) lies(j *toolpath.Job) string {
	s := j.Setup
	switch {
	case s.Blank:
		return "guard's blank"
	case s.Plate:
		return "on a plate"
	}
	return fmt.Sprintf("%s face up", s.Face)
}

// sameClamping says of a program that goes on with another cutter that nothing is moved.
func (c *setupContent) sameClamping() {
	rows := [][2]string{{"Clamping", "that of the program before, nothing moved; zeros in X and Y as they were"}}
	if before, found := c.sheet.before(c.at, func(b SetupStep) bool { return b.Job.Step.Operation == c.job.Step.Operation && b.Job.Step.Corner == 0 }); found {
		for c.sheet.goesOn(before) {
			before--
		}
		rows[0][1] = fmt.Sprintf("that of program %d, nothing moved; zeros in X and Y as they were", before+1)
	}
	cut := c.job.Cut()
	rows = append(rows, [2]string{"Z zero", "touched again with this cutter, at the same place"},
		[2]string{"Cut", fmt.Sprintf("tip from X %s to %s", c.units.length(cut.From), c.units.length(cut.To))})
	c.add(heading{"How it lies"}, facts{rows})
}
