package toolpath

import (
	"math"

	"fullerwright/toolpath/cutting"
)

// sideCut is a cut with the side of an upright square or corner-radius end: how deep
// along the axis and how far into the steel beside it, mm.
type sideCut struct{ deep, beside float64 }

// helix is the helix angle of end mills, radians: 30 degrees, common practice, no source.
const helix = 30 * math.Pi / 180

// thickestChip returns the thickest chip of a side cut, mm: f·2·sqrt(k(1-k)) with
// k = beside/D, and the feed per tooth itself from half the diameter on (Dormer Pramet,
// milling catalogue 2021-22, p. 114, read).
func (s sideCut) thickestChip(perTooth, diameter float64) float64 {
	k := math.Min(0.5, s.beside/diameter)
	return perTooth * 2 * math.Sqrt(k*(1-k))
}

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
	chip := s.thickestChip(perTooth, 2*c.Radius())
	if chip <= 0 {
		return 0
	}
	removal := cutting.RemovalRate(s.deep*math.Min(s.beside, 2*c.Radius()), feed)
	return forceMargin / efficiency * cutting.SlotPower(removal, cutting.SpecificForce(data.KC11, data.MC, chip))
}

// bend returns how far a side cut bends the cutter, mm.
func (s sideCut) bend(perTooth float64, c Cutter, data cutting.Data) float64 {
	return cutting.Deflection(s.force(perTooth, c, data), c.StickOut, 2*c.Radius(), c.Material == "hss")
}

const (
	// squareDepth is the depth of a level for a square end over that for a ball: a square
	// end's corner is as strong as its side (makers' slot data give it half a diameter
	// where they give a ball a tenth; judgement: half of that).
	squareDepth = 2.5
	// besideShare is how far into the steel a roughing pass beside a wall goes, as a part
	// of the diameter (judgement).
	besideShare = 0.25
	// firstDeflection and finishDeflection are how far the first and the last pass over a
	// wall may bend the cutter, mm (judgement).
	firstDeflection, finishDeflection = 0.01, 0.005
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
}

// rough is the heaviest cut of roughing: the way in is a slot as wide as the cutter for
// a step's length.
func (p sidePlan) rough() sideCut { return sideCut{p.level, 2 * p.cutter.Radius()} }

// finish is the finishing cut: the stock at full depth.
func (p sidePlan) finish() sideCut { return sideCut{p.whole, p.stock} }

// sidePlanFor chooses levels, steps and feeds for a depth, inside the limits on depth and
// on how far the cutter bends.
func sidePlanFor(shop Shop, data cutting.Data, c Cutter, depth float64) sidePlan {
	diameter := 2 * c.Radius()
	feed := data.FeedPerTooth(c.tool())
	p := sidePlan{cutter: c, perTooth: feed.Start, step: besideShare * diameter, stock: shop.Work.FinishStock, whole: depth}
	most := squareDepth * data.DepthRatio * diameter * stickOutShare(c)
	limit := math.Min(roughDeflection, deflectionShare*diameter)
	for p.levels = int(math.Ceil(depth/most - 1e-9)); p.levels < mostLevels; p.levels++ {
		p.level = depth / float64(p.levels)
		if p.rough().bend(p.perTooth, c, data) <= limit {
			break
		}
	}
	// A light finish is fed slower until the cutter stands straight enough, but not so
	// slowly that it rubs.
	p.finishFeed = p.perTooth
	for p.finishFeed > feed.Least && p.finish().bend(p.finishFeed, c, data) > firstDeflection {
		p.finishFeed = math.Max(feed.Least, 0.95*p.finishFeed)
	}
	p.lastPass(data)
	return p
}

// lastPass sets how many passes over the wall it takes until the cutter bends no more than
// it may, each taking off what the one before left by bending.
func (p *sidePlan) lastPass(data cutting.Data) {
	for p.passes = 1; p.passes < mostPasses && p.leftBy(p.passes, p.finishFeed, data) > finishDeflection; p.passes++ {
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
	want := cutting.SpindleSpeed(surfaceSpeed(data, j.Cutter), 2*j.Cutter.Radius())
	j.Spindle = math.Floor(math.Min(math.Max(want, shop.Machine.SpindleLeast), shop.Machine.SpindleMost))
	feed := func(perTooth float64) float64 {
		return math.Floor(math.Min(cutting.Feed(perTooth, j.Cutter.Flutes, j.Spindle), shop.Machine.FeedMost))
	}
	j.Feeds = Feeds{Slot: feed(p.perTooth), Finish: feed(p.finishFeed), Ramp: math.Floor(feed(p.perTooth) * shop.Work.RampFeedShare),
		Plunge: math.Floor(feed(p.perTooth) / float64(max(1, j.Cutter.Flutes))),
		Air:    math.Floor(math.Min(shop.Machine.FeedMost, shop.Machine.Rapid))}
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
	roughLimit := math.Min(roughDeflection, deflectionShare*diameter)
	bend := p.rough().bend(perTooth, c, data)
	bendFinish := p.leftBy(p.passes, finish, data)
	power := p.rough().power(perTooth, j.Feeds.Slot, c, data)
	chip := p.finish().thickestChip(finish, diameter)
	rub := cutting.RubbingLimit(diameter)
	out := []Check{
		most("depth of a level", p.level, depthMost, "mm").from(fromData).orElse("%d levels would do", int(math.Ceil(float64(p.levels)*p.level/depthMost))),
		most("surface speed at the diameter", speed, hi, "m/min").from(fromData).orElse("%.0f rev/min would do", math.Floor(cutting.SpindleSpeed(hi, diameter))),
		// What the spindle cannot give is no fault of a small cutter: it lives longer.
		least("surface speed at the diameter", speed, math.Min(lo, under(cutting.SurfaceSpeed(diameter, shop.Machine.SpindleMost-1))), "m/min").mild().from(fromData).
			orElse("%.0f rev/min would do", math.Ceil(cutting.SpindleSpeed(lo, diameter))),
		most("spindle speed", j.Spindle, shop.Machine.SpindleMost, "rev/min").from(fromMachine).orElse("a cutter of %.2f mm would do", over(diameter*j.Spindle/shop.Machine.SpindleMost)),
		least("spindle speed", j.Spindle, shop.Machine.SpindleLeast, "rev/min").from(fromMachine).orElse("a cutter of %.2f mm would do", under(diameter*j.Spindle/shop.Machine.SpindleLeast)),
		most("feed", j.Feeds.Slot, shop.Machine.FeedMost, "mm/min").from(fromMachine).orElse("a spindle speed of %.0f rev/min would do", math.Floor(j.Spindle*shop.Machine.FeedMost/j.Feeds.Slot)),
		most("feed per tooth", perTooth, feed.Most, "mm").from(fromData).orElse("a feed of %.0f mm/min would do", math.Floor(feed.Most*teeth)),
		least("feed per tooth", math.Min(perTooth, finish), feed.Least*(1-feedRounding/math.Max(1, j.Feeds.Finish)), "mm").from(fromData).
			orElse("a spindle speed of %.0f rev/min would do", math.Floor(j.Feeds.Finish/(feed.Least*float64(c.Flutes)))),
		most("run-out against the feed per tooth", c.RunOut, finish, "mm").mild().from("derived: beyond it one tooth does all the work").orElse("a run-out under %.3f mm at the tip", finish),
		most("power at the motor, with half as much again for what is not known", power, shop.Machine.Power, "W").from(fromMachine).
			orElse("a feed of %.0f mm/min would do", math.Floor(j.Feeds.Slot*shop.Machine.Power/math.Max(power, 1))),
		most("deflection of the cutter in roughing", bend, roughLimit, "mm").from("judgement: 0.03 mm and a hundredth of the diameter").
			orElse("a stick-out of %.2f mm would do", under(c.StickOut*math.Cbrt(roughLimit/math.Max(bend, 1e-9)))),
		most("depth against the flutes", p.whole, c.FluteLength, "mm").from(fromDrawer).orElse("a cutter with flutes of %.2f mm would do", over(p.whole)),
		most("depth against the stick-out", p.whole+holderClearance, c.StickOut, "mm").from(fromDrawer).orElse("a stick-out of %.2f mm would do", over(p.whole+holderClearance)),
	}
	if p.passes == 0 {
		return out
	}
	return append(out,
		least("thickest chip of finishing against rubbing", chip, rub, "mm").mild().from("judgement, from edge radii").
			orElse("a finishing stock of %.2f mm would do", over(p.stock*square(rub/math.Max(chip, 1e-9)))),
		most("deflection of the cutter in the last pass", bendFinish, finishDeflection, "mm").mild().from("judgement: what a file takes off").
			orElse("a stick-out of %.2f mm would do", under(c.StickOut*math.Cbrt(finishDeflection/math.Max(bendFinish, 1e-9)))))
}

// feedRounding is what rounding a feed down to whole millimetres a minute may take off.
const feedRounding = 1.0

func square(v float64) float64 { return v * v }
