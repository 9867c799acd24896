package toolpath

import (
	"fmt"
	"math"

	"fullerwright/toolpath/cutting"
)

// sideCut is a cut with the side of an upright square or corner-radius end: how deep
// along the axis and how far into the steel beside it, mm.
type sideCut struct{ deep, beside float64 }

// helix is the helix angle of end mills, radians: 30 degrees, common practice, no source.
const helix = 30 * math.Pi / 180

// How finely the turn of a cutter from one tooth to the next, and the depth of its cut,
// are divided to add up the forces on its teeth.
const turnParts, depthParts = 24, 8

// force returns the greatest force on the cutter across its axis, N: the sum, as vectors
// square to each tooth's radius, of what all teeth bear that stand in the steel, the
// chip being f·sin(angle) thick, and each tooth winding about the cutter with the depth.
// The push along the radii, about a third of it, is left out as it is for balls. Derived.
func (s sideCut) force(perTooth float64, c Cutter, data cutting.Data) float64 {
	if s.deep <= 0 || s.beside <= 0 || perTooth <= 0 {
		return 0
	}
	diameter := 2 * c.Radius()
	contact := math.Acos(1 - 2*math.Min(1, s.beside/diameter))
	wound := 2 * math.Tan(helix) / diameter // angle along a millimetre of the axis
	pitch := 2 * math.Pi / float64(max(1, c.Flutes))
	slice := s.deep / depthParts
	most := 0.0
	for turn := range turnParts {
		along, across := 0.0, 0.0
		for part := range depthParts {
			lag := wound * slice * (float64(part) + 0.5)
			angle := math.Mod(pitch*float64(turn)/turnParts-lag, pitch)
			if angle < 0 {
				angle += pitch
			}
			for ; angle < contact; angle += pitch {
				sin, cos := math.Sincos(angle)
				if sin <= 0 {
					continue
				}
				chip := perTooth * sin
				tangential := slice * chip * cutting.SpecificForce(data.KC11, data.MC, chip)
				along, across = along+tangential*cos, across+tangential*sin
			}
		}
		most = math.Max(most, math.Hypot(along, across))
	}
	return most
}

// power returns the power at the motor that a side cut may need, W, with the margin for
// what is not known of the force.
func (s sideCut) power(perTooth, feed float64, c Cutter, data cutting.Data) float64 {
	chip := cutting.GreatestSideChip(perTooth, 2*c.Radius(), s.beside)
	if chip <= 0 {
		return 0
	}
	removal := cutting.RemovalRate(s.deep*math.Min(s.beside, 2*c.Radius()), feed)
	return forceMargin / efficiency * cutting.SlotPower(removal, cutting.SpecificForce(data.KC11, data.MC, chip))
}

// bend returns how far a side cut bends the cutter, mm.
func (s sideCut) bend(perTooth float64, c Cutter, data cutting.Data) float64 {
	return c.tool().Deflection(s.force(perTooth, c, data))
}

const (
	// squareDepth is the depth of a level for a square end over that for a ball: a square
	// end's corner is as strong as its side (makers' slot data give it half a diameter
	// where they give a ball a tenth; judgement: half of that).
	squareDepth = 2.5
	// besideShare is how far into the steel a roughing pass beside a wall goes, as a part
	// of the diameter (judgement).
	besideShare = 0.25
	// lastDeflection is how far the last pass over a wall may bend the cutter, mm (judgement).
	lastDeflection = 0.005
	// efficiency of the way from the motor to the cutter.
	efficiency = cutting.Efficiency
	// forceMargin: published specific forces of one steel differ by up to twice, so
	// that power is known to half and one and a half.
	forceMargin = 1 + cutting.ForceUncertainty
)

// sidePlan is how an upright cutter takes steel off in levels beside a wall.
type sidePlan struct {
	cutter     Cutter
	perTooth   float64
	levels     int
	level      float64 // depth of each, mm
	step       float64 // between passes, mm
	stock      float64 // left at the wall for the finishing pass, mm
	whole      float64 // depth of the finishing pass, mm
	finishFeed float64 // per tooth
	passes     int     // over the wall
	beside     float64 // how far into the steel roughing goes at most, mm; 0 for a slot
}

// rough is the heaviest cut of roughing. The way in beside a wall is a slot as wide as the
// cutter for a step's length.
func (p sidePlan) rough() sideCut {
	if p.beside > 0 {
		return sideCut{p.level, p.beside}
	}
	return sideCut{p.level, 2 * p.cutter.Radius()}
}

// finish is the finishing cut: the stock at full depth.
func (p sidePlan) finish() sideCut { return sideCut{p.whole, p.stock} }

// bendMost returns how far a cutter may bend in roughing, mm.
func (s Shop) bendMost(c Cutter) float64 { return math.Min(s.Limits.CutterBend, 2*c.Radius()/100) }

// slenderest is how deep a cutter may be asked to cut with its side, in diameters, before it
// is not tried (judgement: flutes are no longer than five; it would take hours, if it held).
const slenderest = 8

// tooSlender says that a cutter is too thin to be tried for a depth; empty where it is not.
func tooSlender(c Cutter, depth float64) string {
	if depth <= slenderest*2*c.Radius() {
		return ""
	}
	return fmt.Sprintf("its diameter, %.2f mm, is less than an eighth of the %.2f mm to cut: it would take hours", 2*c.Radius(), depth)
}

// feedFor returns the greatest feed per tooth of a range at which a side cut bends the
// cutter no more than it may: forces go with the feed to the power 1 - mc.
func (s sideCut) feedFor(bend float64, feed cutting.Start, c Cutter, data cutting.Data) float64 {
	perTooth, _ := s.feedBending(bend, feed, c, data)
	return perTooth
}

// feedBending is feedFor, and how far the cutter then bends.
func (s sideCut) feedBending(most float64, feed cutting.Start, c Cutter, data cutting.Data) (perTooth, bend float64) {
	bent := s.bend(feed.Most, c, data)
	perTooth = math.Max(feed.Least, feed.Most*math.Min(1, math.Pow(most/bent, 1/(1-data.MC))))
	return perTooth, bent * math.Pow(perTooth/feed.Most, 1-data.MC)
}

// sidePlanFor chooses the levels and feeds that take the least time for a depth, inside the
// limits on depth, on feed and on how far the cutter bends.
func sidePlanFor(shop Shop, data cutting.Data, c Cutter, depth float64) sidePlan {
	diameter := 2 * c.Radius()
	feed := data.FeedPerTooth(c.tool())
	most := squareDepth * data.DepthRatioMost * diameter * stickOutShare(c)
	least := max(1, int(math.Ceil(depth/most-1e-9)))
	var best sidePlan
	straight := false
	for levels := least; levels <= least+moreLevels || levels < mostLevels && !straight; levels++ {
		p := sidePlan{cutter: c, step: besideShare * diameter, stock: shop.Work.FinishStock, whole: depth, levels: levels, level: depth / float64(levels)}
		perTooth, bend := p.rough().feedBending(shop.bendMost(c), feed, c, data)
		if p.perTooth = perTooth; !straight || p.slowness() < best.slowness()*(1-slack) {
			best, straight = p, bend <= shop.bendMost(c)*(1+slack)
		}
	}
	best.finishFeed = best.finish().feedFor(shop.Limits.CutterBendFinishing, feed, c, data)
	best.lastPass(data)
	return best
}

// slowness is how long a millimetre of roughing takes over all levels, at a speed of one.
func (p sidePlan) slowness() float64 { return float64(p.levels) / p.perTooth }

// lastPass sets how many passes over the wall it takes until the cutter bends no more than
// it may, each taking off what the one before left by bending.
func (p *sidePlan) lastPass(data cutting.Data) {
	for p.passes = 1; p.passes < mostPasses && p.leftBy(p.passes, p.finishFeed, data) > lastDeflection; p.passes++ {
	}
}

// leftBy returns how far the cutter bends in the last of some passes over the wall, mm.
func (p sidePlan) leftBy(passes int, perTooth float64, data cutting.Data) float64 {
	left := p.stock
	for range passes {
		left = sideCut{p.whole, left}.bend(perTooth, p.cutter, data)
	}
	return left
}

// mostPasses is how many passes over a wall there may be.
const mostPasses = 4

// mostLevels is how many levels a cut may be divided into before it is given up.
const mostLevels = 60

// sideSpeeds sets spindle speed and feeds of a job for a side plan.
func (j *Job) sideSpeeds(data cutting.Data, shop Shop, p sidePlan) {
	slow, fast := surfaceRange(data, j.Cutter)
	inside := func(surface float64) float64 {
		return math.Min(math.Max(cutting.SpindleSpeed(surface, 2*j.Cutter.Radius()), shop.Machine.SpindleLeast), shop.Machine.SpindleMost)
	}
	// Where the mill is too weak or too slow the spindle gives way and the chip stays.
	top := inside(fast)
	feedTop := cutting.Feed(p.perTooth, j.Cutter.Flutes, top)
	share := math.Min(1, math.Min(shop.Machine.FeedMost/feedTop, shop.Machine.Power/p.rough().power(p.perTooth, feedTop, j.Cutter, data)))
	j.Spindle = shop.wholeSpeed(math.Max(top*share, math.Min(top, inside(slow))))
	perTooth := p.perTooth
	if power := p.rough().power(perTooth, cutting.Feed(perTooth, j.Cutter.Flutes, j.Spindle), j.Cutter, data); power > shop.Machine.Power {
		perTooth *= math.Pow(shop.Machine.Power/power, 1/(1-data.MC))
	}
	feed := func(perTooth float64) float64 {
		return wholeFeed(math.Min(cutting.Feed(perTooth, j.Cutter.Flutes, j.Spindle), shop.Machine.FeedMost))
	}
	slot := feed(perTooth)
	j.Feeds = Feeds{Finish: feed(p.finishFeed), Plunge: plungeFeed(slot, j.Cutter), Air: shop.airFeed()}.slotted(slot, shop)
}

// sideChecks returns the checks on a job that an upright end cuts with its side.
func (j *Job) sideChecks(shop Shop, data cutting.Data, p sidePlan) []Check {
	c := j.Cutter
	diameter := 2 * c.Radius()
	lo, hi := surfaceRange(data, c)
	speed := cutting.SurfaceSpeed(diameter, j.Spindle)
	teeth := j.Spindle * float64(c.Flutes)
	perTooth, finish := j.Feeds.Slot/teeth, j.Feeds.Finish/teeth
	feed := data.FeedPerTooth(c.tool())
	share := stickOutShare(c)
	depthMost := squareDepth * data.DepthRatioMost * diameter * share
	roughLimit := shop.bendMost(c)
	bend := p.rough().bend(perTooth, c, data)
	bendFinish := p.leftBy(p.passes, finish, data)
	power := p.rough().power(perTooth, j.Feeds.Slot, c, data)
	chip := cutting.GreatestSideChip(finish, diameter, p.finish().beside)
	rub := cutting.RubbingLimit(diameter)
	out := []Check{
		most("depth of a level", p.level, depthMost, "mm").from(fromData).orElse("take a thicker cutter"),
		most("surface speed at the diameter", speed, hi, "m/min").from(fromData).orElse("turn the spindle slower"),
		// What the spindle cannot give is no fault of a small cutter: it lives longer.
		least("surface speed at the diameter", speed, math.Min(lo, under(cutting.SurfaceSpeed(diameter, shop.Machine.SpindleMost-1))), "m/min").mild().from(fromData).
			orElse("%.0f rev/min would do", math.Ceil(cutting.SpindleSpeed(lo, diameter))),
		most("spindle speed", j.Spindle, shop.Machine.SpindleMost, "rev/min").from(fromMachine).orElse("take a thicker cutter"),
		least("spindle speed", j.Spindle, shop.Machine.SpindleLeast, "rev/min").from(fromMachine).orElse("take a thinner cutter"),
		most("feed", j.Feeds.Slot, shop.Machine.FeedMost, "mm/min").from(fromMachine).orElse("turn the spindle slower"),
		most("feed per tooth", perTooth, feed.Most, "mm").from(fromData).orElse("feed it slower"),
		least("feed per tooth", math.Min(perTooth, finish), feed.Least*(1-feedRounding/math.Max(1, j.Feeds.Finish)), "mm").from(fromData).
			orElse("take a mill that turns slower or is stronger, or another cutter"),
		most("run-out against the feed per tooth", c.RunOut, finish, "mm").mild().from("derived: beyond it one tooth does all the work").orElse("a run-out under %.3f mm at the tip", finish),
		most("power at the motor, with half as much again for what is not known", power, shop.Machine.Power, "W").from(fromMachine).orElse("take a stronger mill, or a thinner cutter"),
		most(bentRoughing, bend, roughLimit, "mm").from(fromShop).orElse("let the cutter stand out less, or take a thicker one"),
		most("depth against the flutes", p.whole, c.FluteLength, "mm").from(fromDrawer).orElse("take a cutter with longer flutes"),
		most("depth against the stick-out", p.whole+holderClearance, c.StickOut, "mm").from(fromDrawer).orElse("let the cutter stand out further"),
	}
	if p.passes == 0 {
		return out
	}
	return append(out,
		least("thickest chip of finishing against rubbing", chip, rub, "mm").mild().from("judgement, from edge radii").
			orElse("a finishing stock of %.2f mm would do", over(p.stock*square(rub/math.Max(chip, 1e-9)))),
		most("deflection of the cutter in the last pass", bendFinish, lastDeflection, "mm").mild().from("judgement: what a file takes off").
			orElse("a stick-out of %.2f mm would do", under(c.StickOut*math.Cbrt(lastDeflection/math.Max(bendFinish, 1e-9)))))
}

// bentRoughing names the check on how far a cutter bends in roughing.
const bentRoughing = "deflection of the cutter in roughing"

// feedRounding is what rounding a feed down to whole millimetres a minute may take off.
const feedRounding = 1.0

func square(v float64) float64 { return v * v }
