package export

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"fullerwright/export/sheet"
	"fullerwright/toolpath"
	"fullerwright/toolpath/motion"
)

// setupContent makes the blocks of one step.
type setupContent struct {
	sheet SetupSheet
	step  SetupStep
	first int // the place of the sheet that has what all parts of this work share
	at    int
	job   *toolpath.Job
	units units
	width float64 // of the page between its margins, mm
	ruler sheet.Ruler
	out   []setupBlock
}

// content returns the blocks of one step, in the order in which they are used; those that
// stand before all programs for frontPage.
func (s SetupSheet) content(step int, width float64, ruler sheet.Ruler) []setupBlock {
	c := &setupContent{sheet: s, at: step, units: units{s.Shop.Inch}, width: width, ruler: ruler}
	if step == frontPage {
		c.front()
		return c.out
	}
	c.step, c.first, c.job = s.Steps[step], s.firstOfFace(step), s.Steps[step].Job
	if !c.goesOn() {
		c.picture()
	}
	if c.first < c.at {
		c.laterPart()
		return c.out
	}
	c.clamping()
	c.sweep()
	c.before()
	c.turning()
	c.tool()
	c.depths()
	c.byHand()
	c.proof()
	c.checks()
	c.after()
	return c.out
}

// goesOn reports whether nothing is moved since the program before.
func (c *setupContent) goesOn() bool { return c.job.Step.Corner > 0 || c.sheet.goesOn(c.at) }

func (c *setupContent) add(b ...setupBlock) { c.out = append(c.out, b...) }

func (c *setupContent) picture() {
	v := topView{sheet: c.sheet, job: c.job, units: c.units, ruler: func(text string) float64 {
		return c.ruler.Width(sheet.Text{Height: setupLetter, Content: text})
	}}
	about := "The bar in the vise, seen from above"
	switch {
	case c.job.Setup.Plate:
		about = "The bar on its plate, seen from above"
	case c.job.Setup.Blank:
		about = "The guard's blank in the vise, seen from above"
	}
	c.add(heading{about}, figureBox{height: v.height(c.width), about: about, draw: v.draw})
}

// clamping says how the bar is held and where zero is.
func (c *setupContent) clamping() {
	s, u := c.job.Setup, c.units
	if c.goesOn() {
		c.sameClamping()
		return
	}
	rows := [][2]string{{"Up", fmt.Sprintf("%s face, point to your %s", s.Face, s.PointLies())}}
	piece := "bar"
	if s.Blank {
		piece, rows = "blank", [][2]string{{"Up", "front of the guard"}}
	}
	jaws := c.job.JawSpan(c.sheet.Shop.Vise)
	switch {
	case s.Plate:
		rows = append(rows, [2]string{"Held", "on a plate, clamped by both ends, no vise; " + s.EdgeAtJaw() + " side away from you"})
	case s.Blank:
		rows = append(rows, [2]string{"Lies", "one long side at the fixed jaw, one end at the stop; nothing but air under the slot"})
	default:
		rows = append(rows, [2]string{"Lies", fmt.Sprintf("%s side at the fixed jaw, %s at the stop", s.EdgeAtJaw(), s.EndAtStop())})
	}
	if !s.Plate {
		rows = append(rows, [2]string{"Jaws", fmt.Sprintf("X %s to %s; the %s stands out %s on the left, %s on the right", u.short(jaws.From), u.short(jaws.To),
			piece, u.short(jaws.From), u.short(s.Length-jaws.To))}, [2]string{"Parallels", c.sayParallels(piece)})
	}
	if depth := c.job.OverStop(); depth > 0 {
		rows = append(rows, [2]string{"Stop", fmt.Sprintf("its top more than %s below the top of the bar: the cutter runs out over it", u.with(depth))})
	}
	if c.job.Step.Operation == toolpath.Holes {
		rows = append(rows, [2]string{"Under the holes", "nothing but air"})
	}
	back := "fixed jaw"
	if s.Plate {
		back = "back edge of the bar"
	}
	x := c.sayXZero(piece)
	rows = append(rows, [2]string{"X and Y zero", fmt.Sprintf("%s; Y: %s, the %s lies at minus Y", x, back, piece)})
	if s.Blank {
		rows = append(rows, [2]string{"Z zero", "top of the blank"})
	} else {
		x := s.Placement.Work(motion.Vec{X: s.TouchX}).X
		rows = append(rows, [2]string{"Z zero", fmt.Sprintf("top of the bar at X %s, on the dashed line", u.length(x))})
	}
	if s.ZeroHigh != 0 {
		rows = append(rows, [2]string{"Touch-up", fmt.Sprintf("bar and zeros as this face was cut with: touch nothing again. Every Z is sunk by %s, which is missing", u.with(s.ZeroHigh))})
	}
	c.add(facts{rows})
	c.beds()
}

// beds says how a bar whose faces are not parallel is packed up.
func (c *setupContent) beds() {
	u, beds := c.units, c.job.Beds(c.sheet.Shop.Vise)
	if len(beds) == 0 {
		return
	}
	g := grid{head: []string{"X", "bar thick", "shim under it", "top face"}, shares: []float64{2, 2, 2, 3}}
	for _, bed := range beds {
		top := u.length(bed.Under) + " under Z zero"
		switch {
		case math.Abs(bed.Under) < 0.0005:
			top = "at Z zero"
		case bed.Under < 0:
			top = u.length(-bed.Under) + " above Z zero"
		}
		g.rows = append(g.rows, []string{u.short(bed.X), u.length(bed.Thickness), u.length(bed.Packing), top})
	}
	if c.sheet.Blade.Bar.TaperedFirst() {
		c.add(heading{"How the tapered bar lies"}, bulletList{c.units.texts("tapered")}, g)
		return
	}
	c.add(heading{"How the uneven bar lies"}, bulletList{c.units.texts("uneven")}, g)
}

// before is what is measured and ticked before the spindle turns.
func (c *setupContent) before() {
	c.measures()
	c.add(heading{"Before you start"})
	if c.step.TakenUp {
		c.add(paragraph{fmt.Sprintf("All levels before level %d must be cut.", c.step.Part.From)}, tickList{c.units.texts("taken up")})
	}
	c.add(tickList{c.units.texts(c.beforeList())})
	special := c.units.texts("cautions " + string(c.job.Step.Operation))
	if c.job.Step.Corner > 0 {
		special = c.units.texts("cautions corners")
	}
	head := "Cautions of this program; those of the first page hold too"
	if c.job.Step.Corner > 0 {
		head = "Cautions; those of the last program and the first page hold too"
	}
	c.add(heading{head}, bulletList{special})
}

// measures is what is measured of the bar before the first program of a face.
func (c *setupContent) measures() {
	s, u := c.job.Setup, c.units
	if c.goesOn() {
		c.add(blanks{[]string{"cutter, planned " + u.length(2*c.job.Cutter.Radius()), "run-out " + u.fine(c.job.Cutter.RunOut)}})
		return
	}
	c.add(heading{fmt.Sprintf("Measure first and write it down (planned, %s)", u.names())})
	switch {
	case s.Blank && c.measuredBefore():
		c.add(blanks{[]string{"cutter " + u.length(2*c.job.Cutter.Radius())}})
	case s.Blank:
		c.add(blanks{[]string{"length " + u.length(s.Length), "width " + u.length(s.Width), "thickness " + u.length(2*s.Top),
			"tang's width", "tang's thickness", "cutter " + u.length(2*c.job.Cutter.Radius())}})
	case c.measuredBefore():
		at := s.Placement.Work(motion.Vec{X: s.TouchX}).X
		c.add(blanks{[]string{"thick at X " + u.short(at) + ": " + u.length(2*s.Top), "cutter " + u.length(2*c.job.Cutter.Radius())}})
	default:
		planned := func(what string, mm float64) string { return what + " " + u.length(mm) }
		labels := []string{planned("length", s.Length)}
		bar := c.sheet.Blade.Bar
		for _, place := range []struct {
			name string
			x    float64
		}{{"tang end", bar.Butt}, {"middle", (bar.Butt + bar.Front) / 2}, {"point end", bar.Front}} {
			labels = append(labels, planned("width, "+place.name, bar.Top-bar.LowEdge(place.x)))
		}
		for _, x := range c.thicknessStations() {
			at := s.Placement.Work(motion.Vec{X: x}).X
			labels = append(labels, planned("thick at X "+u.short(at)+":", c.sheet.Blade.Bar.Thickness(x)))
		}
		labels = append(labels, planned("cutter", 2*c.job.Cutter.Radius()))
		c.add(blanks{labels})
		c.add(paragraph{c.measuredWords()})
	}
}

// beforeList names the list to tick before the start.
func (c *setupContent) beforeList() string {
	switch j := c.job; {
	case j.Step.Corner > 0:
		return "before corners"
	case c.goesOn():
		return "before next cutter"
	case j.Setup.ZeroHigh != 0:
		return "before kept"
	case j.Setup.Plate:
		return "before plate"
	case j.Setup.Blank:
		return "before blank"
	}
	return "before"
}

// measuredBefore reports whether an earlier program has the bar, or the blank, measured.
func (c *setupContent) measuredBefore() bool {
	_, found := c.sheet.before(c.at, func(b SetupStep) bool { return b.Job.Setup.Blank == c.job.Setup.Blank })
	return found
}

// thicknessStations returns five places along the bar, x in the blade frame, in the order
// of X as it lies; one of them is where Z is touched.
func (c *setupContent) thicknessStations() []float64 {
	bar := c.sheet.Blade.Bar
	at := []float64{bar.Butt + 10, (bar.Butt + c.job.Setup.TouchX) / 2, c.job.Setup.TouchX, (c.job.Setup.TouchX + bar.Front) / 2, bar.Front - 10}
	sort.Slice(at, func(i, j int) bool { return (at[i] < at[j]) == (c.job.Setup.Placement.SignX > 0) })
	return at
}

func (c *setupContent) measuredWords() string {
	bar := c.sheet.Blade.Bar
	switch {
	case bar.MeasuredWidth && len(bar.MeasuredAt) > 0:
		return "Planned with the width and thickness as measured. Where the bar now reads otherwise, put the figures into the file of measured values and build again."
	case bar.MeasuredWidth || len(bar.MeasuredAt) > 0:
		return "Planned with a part of the bar as measured. Put these figures into the file of measured values and build again."
	}
	if bar.TaperedFirst() {
		return "Planned with the taper as it should be ground, not as measured. Put these figures into the file of measured values and build again before you cut."
	}
	return "Planned with the bar as ordered, not as measured. Put these figures into the file of measured values and build again before you cut."
}

// tool says the cutter, its speeds and the time.
func (c *setupContent) tool() {
	j, u := c.job, c.units
	end := string(j.Cutter.End) + " end"
	switch {
	case j.Cutter.End == toolpath.DrillEnd:
		end = fmt.Sprintf("drill, point %.0f degrees", j.Cutter.PointAngle.Degrees())
	case j.Cutter.CornerRadius > 0:
		end += ", corner radius " + u.with(j.Cutter.CornerRadius)
	}
	material := j.Cutter.Material
	if j.Cutter.Coated {
		material += ", coated"
	}
	feeds := []string{"cutting " + u.feedWith(j.Feeds.Slot)}
	for _, f := range []struct {
		name string
		feed float64
	}{{"finishing", j.Feeds.Finish}, {"ramp", j.Feeds.Ramp}, {"plunge", j.Feeds.Plunge}} {
		if f.feed > 0 {
			feeds = append(feeds, fmt.Sprintf("%s %s", f.name, u.feed(f.feed)))
		}
	}
	c.add(heading{"Cutter, speeds and time"}, facts{[][2]string{
		{"Cutter", fmt.Sprintf("%s: %s, diameter %s, %d flutes, %s, stick-out %s", j.Cutter.Name, end, u.with(2*j.Cutter.Radius()), j.Cutter.Flutes, material, u.with(j.Cutter.StickOut))},
		{"Spindle, feeds", fmt.Sprintf("%.0f rev/min, %s", j.Spindle, strings.Join(feeds, ", "))},
		{"Material, time", fmt.Sprintf("%s, coolant %s; %s with the program", j.Steel, j.Coolant, sayTime(c.step.Proof.Seconds))},
	}})
}

func sayTime(seconds float64) string {
	whole := int(math.Round(seconds))
	return fmt.Sprintf("%d min %02d s", whole/60, whole%60)
}
