package export

import (
	"fmt"
	"math"
	"strings"

	"fullerwright/profile"
	"fullerwright/toolpath"
	"fullerwright/toolpath/motion"
)

// readout is the table for a mill run by hand, with its shims, run-outs and widths.
func (c *setupContent) readout() {
	u, table := c.units, c.table()
	c.noTable(table)
	if len(table.Rows) == 0 {
		return
	}
	c.add(heading{"On a manual mill: the passes"}, paragraph{fmt.Sprintf("Places of the tip in %s, feeds in %s a minute. Tick what is done. The rules of the first page hold.", u.names(), u.names())})
	if !c.sheet.touchUp(c.at) {
		c.touch()
	}
	for _, s := range table.Shims {
		c.readoutOf(table, s)
	}
}

// noTable tells which fullers cannot be cut by hand.
func (c *setupContent) noTable(table toolpath.Readout) {
	if len(table.Curved) > 0 {
		c.add(heading{"On a manual mill"}, paragraph{fmt.Sprintf("No table for fuller %s: it does not run along X, so that one handwheel alone cannot follow it.", strings.Join(numbersOf(table.Curved), ", "))})
	}
}

// table is what of the readout table this program is, by hand.
func (c *setupContent) table() toolpath.Readout {
	if c.step.Part == nil {
		return c.job.Readout()
	}
	return c.step.Whole.Readout().Of(*c.step.Part)
}

func numbersOf(list []int) []string {
	out := make([]string, len(list))
	for i, n := range list {
		out[i] = fmt.Sprint(n)
	}
	return out
}

// shimLeast is the least slope of a floor that is worth a shim: a hundredth of a
// millimetre over the length of a vise's jaws (judgement).
const shimLeast = 1e-4

// floorStray is how far a floor may stray from the line of its shim and still be cut at
// one Z, mm (judgement: the readout's own step).
const floorStray = 0.005

// readoutOf adds the table of one fuller.
func (c *setupContent) readoutOf(table toolpath.Readout, shim toolpath.Shim) {
	u := c.units
	raised := math.Abs(shim.Slope) >= shimLeast && shim.OffLine <= floorStray
	g := grid{head: []string{"pass", "X from", "X to", "Y", "Z from", "Z to", "feed"}, shares: []float64{32, 22, 22, 22, 22, 22, 14}, texts: 1, tick: true}
	if raised {
		g.head, g.shares = append(g.head, "raised Z"), append(g.shares, 22)
	}
	for _, r := range table.Rows {
		if r.Fuller != shim.Fuller {
			continue
		}
		row := []string{passName(r), u.length(r.XFrom), u.length(r.XTo), u.length(r.Y), u.length(r.ZFrom), u.length(r.ZTo), u.feed(r.Feed)}
		if raised {
			row = append(row, c.raisedZ(r.Raised))
		}
		g.rows = append(g.rows, row)
	}
	if len(g.rows) == 0 {
		return // its levels are in other parts
	}
	c.shimWords(shim, raised)
	c.add(g)
	c.runOuts(table, shim.Fuller, raised)
}

func (c *setupContent) raisedZ(z float64) string {
	if math.IsNaN(z) {
		return "ramp"
	}
	return c.units.length(z)
}

// passName names a row: level and lane of roughing, or lane of finishing.
func passName(r toolpath.ReadoutRow) string {
	switch {
	case r.Purpose == toolpath.Finish:
		return fmt.Sprintf("lane %d", r.Lane)
	case r.Purpose == toolpath.RampIn:
		return fmt.Sprintf("%d.%d in", r.Level, r.Lane)
	case r.Purpose == toolpath.StepOver:
		return fmt.Sprintf("%d.%d from %d.%d", r.Level, r.Lane, r.Level, r.Beside)
	}
	return fmt.Sprintf("%d.%d", r.Level, r.Lane)
}

func (c *setupContent) shimWords(shim toolpath.Shim, raised bool) {
	u := c.units
	name := fmt.Sprintf("Fuller %d", shim.Fuller)
	switch {
	case raised:
		end, span := "left", c.sheet.Shop.Vise.JawLength
		if shim.RaiseRight() {
			end = "right"
		}
		raise := fmt.Sprintf("by %s over supports %s apart (%s for each %s of span)", u.with(shim.Height(span)), u.with(span), u.length(shim.Height(10*u.unit().Millimetres())), "10 "+u.name())
		if len(c.job.Beds(c.sheet.Shop.Vise)) == 0 {
			c.add(facts{[][2]string{{name, fmt.Sprintf("its floor slopes. Raise the %s end %s, and use the column raised Z; or follow Z from and Z to with the bar flat.", end, raise)}}})
			return
		}
		words := fmt.Sprintf("its floor slopes. Raise the %s end %s, besides the shims that lay the middle level, touch Z = 0 again on the face at X %s, and use the column raised Z; or follow Z from and Z to with the middle level.", end, raise, u.length(shim.TouchX))
		if shim.FaceStray <= floorStray {
			words += " The face beside the groove lies level then too, and Z is the depth under it."
		}
		c.add(facts{[][2]string{{name, words}}})
	case shim.OffLine > floorStray:
		c.add(facts{[][2]string{{name, fmt.Sprintf("its floor bends by up to %s: no one shim levels it. Follow Z from and Z to, stretch by stretch.", u.with(shim.OffLine))}}})
	default:
		c.add(facts{[][2]string{{name, "its floor lies level: one Z a pass."}}})
	}
}

// runOuts adds the steps of both ends of every lane, side by side.
func (c *setupContent) runOuts(table toolpath.Readout, fuller int, raised bool) {
	first := true
	for _, end := range table.Ends {
		if end.Fuller != fuller {
			continue
		}
		if first {
			c.add(paragraph{"Steps of the run-outs, of the lanes named at the head of each table:"})
			first = false
		}
		c.add(c.runOut(end, raised))
	}
}

// runOut is the table of one run-out.
func (c *setupContent) runOut(end toolpath.ReadoutEnd, raised bool) grid {
	u := c.units
	g := grid{head: []string{laneNames(end)}, shares: []float64{29}, texts: 1, tick: true}
	for i := range max(len(end.Left), len(end.Right)) {
		g.rows = append(g.rows, []string{fmt.Sprintf("step %d", i+1)})
	}
	for _, side := range []struct {
		name  string
		steps []toolpath.ReadoutStep
	}{{"left Z to", end.Left}, {"right Z to", end.Right}} {
		if side.steps == nil {
			continue
		}
		g.head, g.shares = append(g.head, side.name, "X to"), append(g.shares, 24, 24)
		if raised {
			g.head, g.shares = append(g.head, "raised Z"), append(g.shares, 22)
		}
		for i, s := range side.steps {
			g.rows[i] = append(g.rows[i], u.length(s.Z), u.length(s.X))
			if raised {
				g.rows[i] = append(g.rows[i], u.length(s.Raised))
			}
		}
	}
	return g
}

// laneNames names the lanes of a run-out as the rows of the passes do.
func laneNames(end toolpath.ReadoutEnd) string {
	names := make([]string, len(end.Lanes))
	for i, n := range end.Lanes {
		names[i] = fmt.Sprint(n)
		if end.Level > 0 {
			names[i] = fmt.Sprintf("%d.%d", end.Level, n)
		}
	}
	word := ""
	switch {
	case end.Level == 0 && len(names) == 1:
		word = "lane "
	case end.Level == 0:
		word = "lanes "
	}
	return word + strings.Join(names, ", ")
}

// touch is the check of Z by the width of the first cut.
func (c *setupContent) touch() {
	u := c.units
	like := func(s SetupStep) bool {
		return s.Job.Step.Operation == toolpath.Fullers && s.Job.Cutter.Radius() == c.job.Cutter.Radius()
	}
	if before, found := c.sheet.before(c.at, like); found {
		c.add(facts{[][2]string{{"First touch", fmt.Sprintf("by the groove's width, as for program %d", before+1)}}})
		return
	}
	for _, text := range c.units.texts("touch") {
		c.add(paragraph{text})
	}
	depths := []float64{0.05, 0.1, 0.2, 0.5}
	if u.inch {
		depths = []float64{0.002 * 25.4, 0.005 * 25.4, 0.01 * 25.4, 0.02 * 25.4}
	}
	g := grid{head: []string{"cut this deep"}, shares: []float64{4}, texts: 1, rows: [][]string{{"width must measure"}}}
	for _, d := range depths {
		g.head, g.shares = append(g.head, u.length(d)), append(g.shares, 2)
		g.rows[0] = append(g.rows[0], u.length(toolpath.TouchWidth(c.job.Cutter.Radius(), d)))
	}
	c.add(g)
}

// nearLimit is how much of its limit a check has to spare that is told on the sheet; the
// report has them all.
const nearLimit = 0.25

// checks are those of the program that are near their limit, with their margins, what needs
// care first.
func (c *setupContent) checks() {
	g := grid{head: []string{"check", "is", "may be", "margin"}, shares: []float64{100, 26, 42, 24}, texts: 1}
	var cautions []string
	for _, check := range c.job.Checks {
		if check.Verdict == toolpath.Caution {
			cautions = append(cautions, c.units.check(check))
		}
		if share, known := marginOf(check); check.Verdict == toolpath.OK && !(known && share < nearLimit) {
			continue
		}
		bound := "≤ "
		if check.Least {
			bound = "≥ "
		}
		name := check.Name
		if check.Verdict != toolpath.OK {
			name = strings.ToUpper(string(check.Verdict)) + ": " + name
		}
		value, unit := c.units.unit().Say(check.Value, check.Unit)
		limit, _ := c.units.unit().Say(check.Limit, check.Unit)
		g.rows = append(g.rows, []string{name, sayFigure(value), bound + strings.TrimSpace(sayFigure(limit)+" "+unit), margin100(check)})
	}
	c.add(heading{fmt.Sprintf("Checks: %d of %d are within a quarter of their limit", len(g.rows), len(c.job.Checks))})
	if len(cautions) > 0 {
		c.add(bulletList{cautions})
	}
	if len(g.rows) > 0 {
		c.add(g)
	} else {
		c.add(paragraph{"All have more than a quarter to spare; report.txt lists them."})
	}
}

// sayFigure writes a value with as many digits as its size deserves.
func sayFigure(v float64) string {
	switch a := math.Abs(v); {
	case math.IsInf(v, 0) || math.IsNaN(v):
		return "none"
	case a >= 100:
		return fmt.Sprintf("%.0f", v)
	case a >= 1:
		return fmt.Sprintf("%.2f", v)
	case a >= 0.01 || a == 0:
		return fmt.Sprintf("%.4f", v)
	}
	return fmt.Sprintf("%.5f", v)
}

// slackShare is how far beyond its limit a value may be for rounding, as a part of it.
const slackShare = 1e-6

// marginOf returns how far a value is from its limit, as a part of the limit.
func marginOf(c toolpath.Check) (share float64, known bool) {
	share = (c.Limit - c.Value) / math.Abs(c.Limit)
	if c.Least {
		share = -share
	}
	return share, !math.IsNaN(share) && !math.IsInf(share, 0) && c.Limit != 0
}

// margin100 says the margin in hundredths.
func margin100(c toolpath.Check) string {
	switch share, known := marginOf(c); {
	case !known:
		return "-"
	case share > 9.99:
		return "ample"
	case share < -slackShare:
		return "beyond"
	default:
		return fmt.Sprintf("%.0f %%", math.Floor(100*(math.Max(0, share)+slackShare)))
	}
}

// proof gives the figures of the simulated cut and its map.
func (c *setupContent) proof() {
	p, shop, u := c.step.Proof, c.sheet.Shop, c.units
	j := p.Judged
	v := proofView{c.sheet, c.step}
	blocks := []setupBlock{heading{"Proved on the simulated bar"}, facts{[][2]string{
		{"Below the design", fmt.Sprintf("%s at most, %s allowed", u.fine(j.Gouge.Value), u.fine(shop.Limits.Gouge))},
		{"Above the design", c.sayLeft()},
		{"Besides", fmt.Sprintf("deepest bite %s, taken off %s; grid of %s, which may hide %s", u.with(j.DeepestEngagement.Value), u.volume(j.Removed), u.with(j.Step), u.fine(j.Bound))},
	}}}
	if c.job.Step.Corner == 0 { // a map of corners shows nothing in print: their figures do
		blocks = append(blocks, paragraph{mapWay(c.job)}, figureBox{height: v.height(c.width), about: "Map of the proof", draw: v.draw})
	}
	c.add(blocks...)
}

// sayLeft says what the cut leaves above the design.
func (c *setupContent) sayLeft() string {
	left := c.step.Proof.Judged.Leftover.Value
	if c.step.unfinished() {
		return c.units.fine(left) + " at most, for the parts after this one"
	}
	return fmt.Sprintf("%s at most, %s allowed", c.units.fine(left), c.units.fine(c.job.Cusp+c.sheet.Shop.Limits.Leftover))
}

// mapWay says which way the map lies.
func mapWay(j *toolpath.Job) string {
	switch {
	case j.Setup.Blank:
		return "The guard is seen from its front."
	case j.Setup.Face == profile.Left:
		return "The point is to the right and the spine up, as if seen through the bar."
	}
	return "The point is to the right, the spine is up."
}

// measuredAfter names what is measured of what was cut, but for fullers.
func (c *setupContent) measuredAfter() []string {
	switch s := c.job.Step; {
	case s.Corner > 0 || s.Operation == toolpath.Marks:
		return nil
	case s.Operation == toolpath.Shoulders:
		return []string{"tang's width", "tang's thickness"}
	case s.Operation == toolpath.Holes:
		return []string{"diameter", "from the butt"}
	case s.Bore > 0:
		return []string{"diameter"}
	case s.Operation == toolpath.Slot:
		return []string{"slot's length", "slot's width"}
	}
	return []string{"allowance, spine", "allowance, edge"}
}

// after is what is looked at once the program has run.
func (c *setupContent) after() {
	u := c.units
	if c.step.unfinished() {
		c.add(heading{"When it has run: look, tick"}, tickList{c.units.texts("after part")})
		return
	}
	texts := "after " + string(c.job.Step.Operation)
	switch {
	case c.job.Step.Corner > 0:
		texts = "after corners"
	case c.job.Step.Operation == toolpath.Slot && c.job.Step.Bore > 0:
		texts = "after slot hole"
	}
	c.add(heading{"When it has run: look, measure, tick"}, tickList{c.units.texts(texts)})
	if c.job.Step.Operation != toolpath.Fullers {
		if named := c.measuredAfter(); len(named) > 0 {
			c.add(blanks{named})
		}
		return
	}
	var labels []string
	b := c.sheet.Blade.On(c.job.Setup.Face)
	for i, f := range b.Fullers {
		if !f.Size.Cut(c.job.Setup.Face) {
			continue
		}
		for _, x := range []float64{f.StartFull, (f.StartFull + f.EndFull) / 2, f.EndFull} {
			at, _ := f.Milled.Place(f.Milled.AtX(x))
			w := c.job.Setup.Placement.Work(motion.Vec{X: at.X, Y: at.Y})
			labels = append(labels, fmt.Sprintf("fuller %d, X %s: %s", i+1, u.short(w.X), u.length(b.SectionAt(i, x).BarWidth)))
		}
	}
	c.add(paragraph{fmt.Sprintf("Widths to expect on the bar, %s, and as measured:", u.names())}, blanks{labels})
}
