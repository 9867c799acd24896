package export

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/toolpath"
	"fullerwright/toolpath/mismatch"
)

// turning tells how the bar was turned since the right face, and what mismatch to expect.
func (c *setupContent) turning() {
	s := c.job.Setup
	since, turned := c.turnedSince()
	if !turned {
		return
	}
	c.add(heading{fmt.Sprintf("Turned %s since %s", s.Flip, since)},
		bulletList{append(append([]string(nil), c.units.texts("turn "+string(s.Flip))...), c.units.texts("turn")...)})
	if s.Face != profile.Left {
		return
	}
	c.mismatch(toolpath.TurningFor(c.job.Step.Operation, c.sheet.Blade, c.sheet.Shop))
	c.secondFace()
}

// mismatch sets the predicted mismatch of both ways to turn the bar side by side.
func (c *setupContent) mismatch(t toolpath.Turning) {
	u := c.units
	named := func(flip toolpath.Flip) string {
		if flip == c.job.Setup.Flip {
			return string(flip) + ", here"
		}
		return string(flip)
	}
	g := grid{head: []string{"the faces may differ, " + u.names(), named(toolpath.AboutY), "at worst", named(toolpath.AboutX), "at worst"}, shares: []float64{42, 30, 20, 30, 20}, texts: 1}
	for _, row := range []struct {
		name string
		y, x mismatch.Budget
	}{
		{"across the blade", t.AboutY.Across, t.AboutX.Across},
		{"along the blade", t.AboutY.Along, t.AboutX.Along},
		{"askew, over its length", t.AboutY.Askew, t.AboutX.Askew},
		{"in depth", t.AboutY.Depth, t.AboutX.Depth},
		{"lost of the web", t.AboutY.WebLoss, t.AboutX.WebLoss},
	} {
		if c.job.Step.Operation != toolpath.Fullers && row.name == "lost of the web" {
			continue
		}
		g.rows = append(g.rows, []string{row.name, u.length(row.y.Likely()), u.length(row.y.Worst()), u.length(row.x.Likely()), u.length(row.x.Worst())})
	}
	c.add(paragraph{"Mismatch to expect from the errors in the shop file, likely (root of the sum of squares) and at worst:"}, g)
}

// sweep says how true the fixed jaw must be: what the prediction reckons with, and what
// keeps the shoulders of one setup square and those of two in one plane.
func (c *setupContent) sweep() {
	j, u := c.job, c.units
	if j.Setup.Plate || j.Setup.Blank || j.Step.Corner > 0 {
		return
	}
	over := 100.0
	if u.inch {
		over = 4 * u.unit().Millimetres()
	}
	text := fmt.Sprintf("swept to %s over %s, as the errors in the shop file reckon", u.fine(c.sheet.Shop.Errors.JawSweep.Radians()*over), u.with(over))
	k := c.sheet.Blade.Knife
	switch allowance := k.Shoulder.FileStock; {
	case j.Step.Operation != toolpath.Shoulders:
	case allowance > 0:
		reading := mismatch.SweepFor(allowance, k.RicassoWidth(), over)
		text += fmt.Sprintf("; up to %s the shoulder stays square, and up to %s those of two setups meet, within the %s for the file", u.fine(reading.ForSkew), u.fine(reading.ForGap), u.with(allowance))
	default:
		text += "; nothing is left for the file, so that any sweep stays in the shoulder"
	}
	c.add(facts{[][2]string{{"Fixed jaw", text}}})
}

// secondFace gives the depths of the second face from the thickness as measured.
func (c *setupContent) secondFace() {
	if c.job.Step.Operation != toolpath.Fullers {
		return
	}
	u, planned := c.units, 2*c.job.Setup.Top
	lowest := 0.0
	job := c.job
	if c.step.Whole != nil {
		job = c.step.Whole
	}
	for _, m := range job.Moves {
		lowest = math.Min(lowest, m.To.Z)
	}
	c.add(paragraph{fmt.Sprintf("The thickness at the dashed line was planned as %s. Where it measures otherwise, half of the difference goes to this face, so that both grooves lie alike about the middle: build again with the measured thickness, or by hand add to every Z:", u.with(planned))})
	g := grid{head: []string{"thickness measured", "add to every Z", "deepest Z then"}, shares: []float64{1, 1, 1}}
	step := 0.05
	if u.inch {
		step = 0.002 * u.unit().Millimetres()
	}
	for i := -2; i <= 2; i++ {
		measured := planned + float64(i)*step
		g.rows = append(g.rows, []string{u.length(measured), u.length(toolpath.SecondFaceZ(0, planned, measured)), u.length(toolpath.SecondFaceZ(lowest, planned, measured))})
	}
	c.add(g)
}
