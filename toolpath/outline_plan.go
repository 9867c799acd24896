package toolpath

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// outlineSteps returns the program for the rough profile, if the knife file asks for one:
// the last work on the bar.
func outlineSteps(b profile.Blade) []Step {
	if h := b.Knife.Outline.Hold; h == profile.Tabs || h == profile.Skin {
		return []Step{{Operation: Outline}}
	}
	return nil
}

// PlanOutline plans the rough profile with the cutter of the given name, or, where name is
// empty, with the best of the drawer.
func PlanOutline(b profile.Blade, shop Shop, setup Setup, name string) (*Job, []Candidate, error) {
	best, candidates := shop.choose(name, func(c Cutter) (*Job, string) { return planOutlineWith(b, shop, setup, c) })
	if best == nil {
		return nil, candidates, shop.unfitError(name, candidates, "the outline",
			fmt.Sprintf("a square end mill with flutes of %.2f mm would; or saw it out", over(2*highestFace(b.Bar)+breakThrough)))
	}
	return best, candidates, nil
}

func planOutlineWith(b profile.Blade, shop Shop, setup Setup, c Cutter) (*Job, string) {
	if c.End != SquareEnd {
		return nil, "its end is not square"
	}
	cut, err := b.OutlineCut(c.Radius(), c.CornerRadius)
	if err != nil {
		return nil, err.Error()
	}
	data, _ := shop.steelData(b)
	if err := data.Refuses(c.tool()); err != nil {
		return nil, err.Error()
	}
	top := highestFace(b.Bar)
	bottom, below := cut.Bottom()
	if below {
		bottom -= breakThrough + c.CornerRadius
	}
	if why := tooSlender(c, top-bottom); why != "" {
		return nil, why
	}
	p := sidePlanFor(shop, data, c, top-bottom)
	p.passes, p.finishFeed = 0, p.perTooth // the grinder finishes it
	setup.Plate, setup.Jaws, setup.Flip = true, [2]float64{}, ""
	job := &Job{Step: Step{Operation: Outline}, Name: b.Knife.Name, Steel: b.Knife.Blade.Steel, Setup: setup, Cutter: c, Coolant: shop.Machine.Coolant,
		Stages: []Stage{{"round the blade", 1, p.levels}}, SideLevel: p.level, Deepest: top - bottom}
	job.sideSpeeds(data, shop, p)
	m := outlineMill{cut: cut, side: p, feeds: job.Feeds, ramp: shop.ramp(),
		course: &course{setup: setup, clearance: top + shop.Work.Clearance}}
	m.mill(top, bottom)
	job.Moves = m.course.moves
	job.Clearance = setup.Placement.Work(motion.Vec{Z: m.course.clearance}).Z
	job.measure(shop.Machine)
	job.Checks = job.outlineChecks(b, shop, data, outlinePlanned{cut, p, m.tabReach()})
	return job, ""
}

// outlineMill lays the moves of a rough profile.
type outlineMill struct {
	cut    profile.OutlineCut
	side   sidePlan
	feeds  Feeds
	ramp   float64
	course *course
	around loop
	tabs   []float64 // their middles, as lengths along the loop
}

// tabLength returns how long a tab is along the path with the slopes on both sides.
func tabLength(cut profile.OutlineCut, ramp, bottom float64) float64 {
	return cut.Hold.TabWidth + 2*cut.Radius + 2*(cut.TabTop()-bottom)/ramp
}

func (m outlineMill) tabReach() float64 {
	bottom, _ := m.cut.Bottom()
	return tabLength(m.cut, m.ramp, bottom-breakThrough-m.side.cutter.CornerRadius)
}

// mill goes round the blade level by level without lifting: each lap begins with a ramp
// from the level before and ends by taking off what the ramp left. Over the tabs it rises
// and sinks by ramps. The steel lies to the right of the way.
func (m *outlineMill) mill(top, bottom float64) {
	path := m.cut.Path // counterclockwise: the steel to the left
	if !m.course.setup.turned() {
		path = path.Reverse()
	}
	m.around = loopOf(path.Pieces())
	for _, t := range m.cut.Tabs {
		place, _ := path.Nearest(t)
		m.tabs = append(m.tabs, m.around.starts[place.Piece]+place.T*m.around.pieces[place.Piece].Length())
	}
	// It goes in half way between the tabs, where there is room for the ramp.
	at := 0.0
	if len(m.tabs) > 0 {
		at = m.tabs[0] + m.around.wrap(m.tabs[len(m.tabs)-1]-m.tabs[0])/2
	}
	first := m.around.at(at)
	m.course.over(first)
	m.course.sink(first, top, m.feeds)
	for level := 1; level <= m.side.levels; level++ {
		m.course.level = level
		from := top + (bottom-top)*float64(level-1)/float64(m.side.levels)
		to := top + (bottom-top)*float64(level)/float64(m.side.levels)
		length := (from - to) / m.ramp
		m.run(at, at+length, func(s float64) float64 { return from + (to-from)*(s-at)/length }, m.feeds.Ramp, RampIn)
		m.run(at+length, at+length+m.around.length, func(float64) float64 { return to }, m.feeds.Slot, Rough)
		at += length
	}
	m.course.level = 0
	m.course.retract()
}

// run follows the loop from one length to another at a height that is straight between
// places where a slope of a tab begins or ends.
func (m *outlineMill) run(from, to float64, height func(s float64) float64, feed float64, purpose Purpose) {
	half := m.cut.Hold.TabWidth/2 + m.cut.Radius
	tabTop := m.cut.TabTop()
	over := func(s float64) float64 {
		h := height(s)
		for _, t := range m.tabs {
			away := math.Abs(m.around.wrap(s-t+m.around.length/2) - m.around.length/2)
			h = math.Max(h, math.Min(tabTop, tabTop-(away-half)*m.ramp))
		}
		return h
	}
	stops := []float64{from, to}
	low := math.Min(height(from), height(to))
	for _, t := range m.tabs {
		for _, edge := range []float64{half, half + math.Max(0, tabTop-low)/m.ramp} {
			for _, side := range []float64{-edge, edge} {
				for s := from + m.around.wrap(t+side-from); s < to; s += m.around.length {
					stops = append(stops, s)
				}
			}
		}
	}
	slices.Sort(stops)
	for i := 1; i < len(stops); i++ {
		a, b := stops[i-1], stops[i]
		if b-a < 1e-9 {
			continue
		}
		m.course.slope(m.around.between(a, b), over(a), over(b), feed, purpose)
	}
}

// outlinePlanned is what the checks on an outline look at.
type outlinePlanned struct {
	cut  profile.OutlineCut
	side sidePlan
	tab  float64
}

// Least bar to clamp at each end, mm; and most steel left in an inside corner, mm (common
// practice, no source).
const clampLeast, cornerLeft = 12.0, 2.0

func (j *Job) outlineChecks(b profile.Blade, shop Shop, data cutting.Data, p outlinePlanned) []Check {
	out := append(stockChecks(b), j.sideChecks(shop, data, p.side)...)
	box := p.cut.Path.Bounds()
	r := p.cut.Radius
	left, where := p.cut.Unreached()
	out = append(out,
		least("bar to clamp behind the tang", box.Min.X-r-b.Bar.Butt, clampLeast, "mm").from(fromPractice).
			orElse("leave more of the bar behind the tang").
			by("bar.tang_allowance", over(b.Knife.Bar.TangAllowance+clampLeast-(box.Min.X-r-b.Bar.Butt))),
		least("bar to clamp in front of the point", b.Bar.Front-box.Max.X-r, clampLeast, "mm").from(fromPractice).
			orElse("leave more of the bar in front of the point").
			by("bar.point_allowance", over(b.Knife.Bar.PointAllowance+clampLeast-(b.Bar.Front-box.Max.X-r))),
		most("steel left in the inside corners of the rough line", left, cornerLeft, "mm").mild().at("%.0f mm from the guard plane", where.X).
			from(fromPractice).orElse("a smaller cutter, or grind it"),
		j.rampCheck(shop))
	if p.cut.Hold.Hold == profile.Tabs {
		out = append(out, most("tabs with their slopes along the rough line", float64(len(p.cut.Tabs))*p.tab, p.cut.Path.Length()/3, "mm").
			from(fromPractice).orElse("make the tabs thinner"))
	}
	return append(out, j.travelChecks(shop)...)
}
