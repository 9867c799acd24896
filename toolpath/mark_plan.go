package toolpath

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// markSteps returns the programs that the maker's mark needs.
func markSteps(b profile.Blade) []Step {
	var out []Step
	for _, face := range profile.Faces() {
		if b.Knife.MarkedOn(face) {
			out = append(out, Step{Operation: Marks, Face: face})
		}
	}
	return out
}

// PlanMark plans the mark on one face with the cutter of the given name, or, where name is
// empty, with the best of the drawer.
func PlanMark(b profile.Blade, shop Shop, setup Setup, name string) (*Job, []Candidate, error) {
	data, err := shop.steelData(b)
	if err != nil {
		return nil, nil, err
	}
	cut, err := b.MarkCut(setup.Face)
	if err != nil {
		return nil, nil, &PlanError{err.Error(), "change the mark in the knife file"}
	}
	best, candidates := shop.choose(name, func(c Cutter) (*Job, string) {
		switch {
		case c.End != BallEnd:
			return nil, "its end is not a ball"
		case math.Abs(c.Radius()-cut.Radius) > radiusSlack:
			return nil, fmt.Sprintf("its radius is %.3f mm", c.Radius())
		}
		if err := data.Refuses(c.tool()); err != nil {
			return nil, err.Error()
		}
		return planMarkWith(b, shop, setup, c, cut), ""
	})
	if best == nil {
		return nil, candidates, shop.unfitError(name, candidates, fmt.Sprintf("a mark with lines of radius %.3f mm", cut.Radius),
			fmt.Sprintf("put a ball of %.2f mm diameter into the drawer, or stamp or etch the mark", 2*cut.Radius))
	}
	return best, candidates, nil
}

// Greatest depth of a level of engraving over the diameter (Kyocera SGS, micro tools with 3
// to 8 diameters of reach: 0.07 to 0.15, read there), and the feed straight down over the
// feed along (judgement: half).
const markLevelMost, markPlunge = 0.15, 0.5

func planMarkWith(b profile.Blade, shop Shop, setup Setup, c Cutter, cut profile.MarkCut) *Job {
	data, _ := shop.steelData(b)
	depth := cut.Depth()
	work, choice := shop.engraving(data, c, depth)
	levels := len(work.Rough)
	job := &Job{Step: Step{Operation: Marks, Face: setup.Face}, Name: b.Knife.Name, Steel: b.Knife.Blade.Steel, Setup: setup, Cutter: c, Coolant: shop.Machine.Coolant,
		SideLevel: depth / float64(levels), Deepest: depth}
	job.Spindle = math.Max(1, math.Floor(choice.Speed))
	least := cutting.Feed(data.FeedPerTooth(c.tool()).Least, c.Flutes, job.Spindle)
	feed := roundedFeed(slices.Min(choice.Rough)*job.Spindle/choice.Speed, least)
	job.Feeds = Feeds{Finish: feed, Plunge: wholeFeed(feed * markPlunge), Air: shop.airFeed()}.slotted(feed, shop)
	course := &course{setup: setup, clearance: highestFace(b.Bar) + shop.Work.Clearance}
	for i, stroke := range cut.Strokes {
		course.lane = i + 1
		course.engrave(stroke.Pieces(), engraving{top: cut.Floor() + depth, floor: cut.Floor(), levels: levels, slope: shop.ramp()}, job.Feeds)
	}
	course.retract()
	job.Moves = course.moves
	job.Clearance = setup.Placement.Work(motion.Vec{Z: course.clearance}).Z
	job.measure(shop.Machine)
	job.Checks = job.markChecks(b, shop, work, cut)
	return job
}

// engraving returns the levels of a mark, each a slot, as few as may be, and the fastest speeds
// inside all limits.
func (s Shop) engraving(data cutting.Data, c Cutter, depth float64) (cutting.Work, cutting.Choice) {
	_, most := data.LevelDepth(c.tool())
	levels := max(1, int(math.Ceil(depth/math.Min(most, markLevelMost*2*c.Radius())-1e-9)))
	work := s.ballWork(data, c)
	for i := 1; i <= levels; i++ {
		step := depth / float64(levels)
		work.Rough = append(work.Rough, cutting.Level{Radius: c.Radius(), Depth: step, Total: step * float64(i)})
	}
	choice, err := work.Choose()
	if err != nil {
		panic("impossible: a cutter that the steel refuses was not left out: " + err.Error())
	}
	return work, choice
}

// engraving is a line cut in levels, entered by ramps of a slope.
type engraving struct {
	top, floor float64
	levels     int
	slope      float64
}

// overMark is how far over what is cut a small ball is fed down slowly, mm.
const overMark = 0.2

// engrave cuts a stroke level by level, to and fro, each level begun by a ramp along the
// stroke, out and back. A dot is a ring and has room for one as well.
func (c *course) engrave(pieces []geom.Piece, e engraving, feeds Feeds) {
	c.over(pieces[0].Start())
	c.sink(pieces[0].Start(), e.top+overMark, feeds)
	way := pieces
	for level := 1; level <= e.levels; level++ {
		c.level = level
		from := e.top + (e.floor-e.top)*float64(level-1)/float64(e.levels)
		to := e.top + (e.floor-e.top)*float64(level)/float64(e.levels)
		c.add(Move{Kind: motion.Line, To: c.place(way[0].Start(), from), Feed: feeds.Plunge, Purpose: Approach})
		c.outAndBack(loopOf(way), from, to, e.slope, feeds.Ramp)
		c.follow(way, to, feeds.Slot, Rough)
		way = reversed(way)
	}
	c.level = 0
}

// outAndBack takes the tip down along a stroke from its start at one height to its start at
// another, in as many legs out and back as its length asks for.
func (c *course) outAndBack(stroke loop, from, to, slope, feed float64) {
	length := (from - to) / slope
	legs := 2 * int(math.Ceil(length/2/stroke.length-1e-9))
	leg := stroke.between(0, length/float64(legs))
	for i := 1; i <= legs; i++ {
		start := from + (to-from)*float64(i-1)/float64(legs)
		c.slope(leg, start, start+(to-from)/float64(legs), feed, RampIn)
		leg = reversed(leg)
	}
}

// markChecks holds a mark against all limits of its cut that stop it, and what the ball and
// the place of the mark ask for. What is only to be cautious about with larger balls, as
// rubbing, is what engraving with ones this small is like.
func (j *Job) markChecks(b profile.Blade, shop Shop, work cutting.Work, cut profile.MarkCut) []Check {
	c := j.Cutter
	diameter := 2 * c.Radius()
	choice := cutting.Choice{Speed: j.Spindle, Rough: slices.Repeat([]float64{j.Feeds.Slot}, len(work.Rough))}
	limits := slices.DeleteFunc(work.Check(choice), func(l cutting.Limit) bool { return l.Mild })
	out := []Check{
		most("depth of an engraved level", j.SideLevel, markLevelMost*diameter, "mm").from("Kyocera SGS, micro tools (read)").orElse("make the mark less deep"),
		most("depth of the mark on the bar over the ball's diameter", j.Deepest/diameter, 1, "").from(fromPractice).
			orElse("take a thinner bar, or a larger ball, or mark it after the faces are ground").bySearch("mark.radius", 1).bySearch("allowance.clean_up", -1),
		most("run-out against five thousandths", c.RunOut, 0.005, "mm").mild().from("judgement: small balls break beyond 3 to 5 thousandths of a millimetre").orElse("a collet that runs to 0.005 mm"),
	}
	out = append(limitChecks(limits), out...)
	out = append(out, markPlaceChecks(b, j.Setup.Face, cut)...)
	out = append(out, j.standChecks(shop)...)
	return append(out, j.travelChecks(shop)...)
}

// markEdge is the least flat around a mark, mm (common practice, no source).
const markEdge = 1.0

// markPlaceChecks looks at whether the mark lies on a flat: inside the finished outline,
// clear of the guard, of the bevel and of the fullers.
func markPlaceChecks(b profile.Blade, face profile.Face, cut profile.MarkCut) []Check {
	around, fuller := math.Inf(1), 0.0
	surface := b.FullerSurface(face)
	for _, stroke := range cut.Strokes {
		for _, p := range stroke.Sample(markSample) {
			around = math.Min(around, flatAround(b, p)-cut.Radius)
			fuller = math.Max(fuller, b.Bar.Face(p.X)-surface.Height(p.X, p.Y))
		}
	}
	return []Check{
		least("flat around the mark", around, markEdge, "mm").from(fromPractice).orElse("move it, or make its letters smaller"),
		most("fuller under the mark", fuller, 0, "mm").from("geometry: the mark would be cut into a fuller").orElse("move the mark"),
	}
}

// markSample is how finely the strokes of a mark are looked along, mm.
const markSample = 0.05

// flatAround returns how far a place of the face lies from what bounds the flat: guard,
// back, edge, and beyond the plunge the bevel line; and from the plunge itself for what
// lies beside the bevel.
func flatAround(b profile.Blade, p geom.Point) float64 {
	plunge := b.Knife.Ricasso.Length
	if p.X <= 0 || p.X >= b.Knife.Blade.Length {
		return math.Min(p.X, b.Knife.Blade.Length-p.X)
	}
	low := b.EdgeAt(p.X)
	if p.X >= plunge {
		low = b.BevelLineAt(p.X)
	}
	around := math.Min(p.X, math.Min(b.BackAt(p.X)-p.Y, p.Y-low))
	if p.X < plunge && p.Y < b.BevelLineAt(plunge) {
		around = math.Min(around, plunge-p.X)
	}
	return around
}
