package toolpath

import (
	"math"

	"fullerwright/toolpath/cutting"
)

// Feed of a drill for a turn over its diameter: what is chosen, and the range (judgement,
// within 0.002 to 0.004 in for an eighth to a quarter of an inch in steel, from memory of
// handbook tables).
const drillFeed, drillFeedLeast, drillFeedMost = 0.012, 0.006, 0.024

// drillSpeeds sets the spindle speed and feed of a drill. Where the mill is too weak or too
// slow for those to start with, it turns slower, down to the low end of the speeds, and is
// then fed less, down to the low end of the feeds.
func (j *Job) drillSpeeds(data cutting.Data, shop Shop) {
	diameter := 2 * j.Cutter.Radius()
	lo, _ := surfaceRange(data, j.Cutter)
	inside := func(speed float64) float64 {
		return math.Min(math.Max(speed, shop.Machine.SpindleLeast), shop.Machine.SpindleMost)
	}
	speed := inside(cutting.SpindleSpeed(surfaceSpeed(data, j.Cutter), diameter))
	turn := drillFeed * diameter
	share := math.Min(shop.Machine.FeedMost/(turn*speed), shop.Machine.Power/j.drillPower(turn, speed, data))
	speed = shop.wholeSpeed(math.Max(speed*math.Min(1, share), inside(cutting.SpindleSpeed(lo, diameter))))
	room := math.Pow(shop.Machine.Power/j.drillPower(turn, speed, data), 1/(1-data.MC))
	turn = math.Max(turn*math.Min(1, room), drillFeedLeast*diameter)
	feed := wholeFeed(math.Min(turn*speed, shop.Machine.FeedMost))
	j.Spindle = speed
	j.Feeds = Feeds{Slot: feed, Ramp: feed, Plunge: feed, Finish: feed, Air: shop.airFeed()}
}

// drillPower returns the power that the motor may have to give for a drill, W, fed a turn,
// mm, at a spindle speed.
func (j *Job) drillPower(turn, speed float64, data cutting.Data) float64 {
	specific := data.SpecificForce(cutting.DrillChip(turn, j.Cutter.PointAngle.Radians()))
	return cutting.MotorPower(cutting.DrillPower(2*j.Cutter.Radius(), turn, speed, specific).Most(), cutting.Efficiency)
}

// deepStickOut is the stick-out over the diameter beyond which a drill wants a spot to
// begin in (common practice, no source).
const deepStickOut = 6

// drillChecks returns the checks on a drill: speed, feed, power and reach.
func (j *Job) drillChecks(shop Shop, data cutting.Data) []Check {
	c := j.Cutter
	diameter := 2 * c.Radius()
	lo, hi := surfaceRange(data, c)
	speed, turn := cutting.SurfaceSpeed(diameter, j.Spindle), j.Feeds.Plunge/j.Spindle
	out := []Check{
		most("surface speed at the diameter", speed, hi, "m/min").from(fromData).orElse("turn the spindle slower"),
		least("surface speed at the diameter", speed, lo, "m/min").mild().from(fromData).orElse("the spindle gives no more; the drill lives"),
		most("spindle speed", j.Spindle, shop.Machine.SpindleMost, "rev/min").from(fromMachine).orElse("take a larger drill"),
		least("spindle speed", j.Spindle, shop.Machine.SpindleLeast, "rev/min").from(fromMachine).orElse("take a smaller drill"),
		most("feed for a turn over the diameter", turn/diameter, drillFeedMost, "").from("judgement, from memory of handbook tables").
			orElse("feed it slower"),
		least("feed for a turn over the diameter", turn/diameter, drillFeedLeast*(1-feedRounding/math.Max(1, j.Feeds.Plunge)), "").mild().from("judgement, from memory of handbook tables").
			orElse("take a mill that is stronger, or turns slower"),
		most("feed", j.Feeds.Plunge, shop.Machine.FeedMost, "mm/min").from(fromMachine).
			orElse("take a mill that turns slower"),
		most("power at the motor, with half as much again for what is not known", j.drillPower(turn, j.Spindle, data), shop.Machine.Power, "W").from(fromMachine).
			orElse("drill it on a drill press, or in steps of diameter"),
		most("depth against the flutes", j.Deepest, c.FluteLength, "mm").from(fromDrawer).orElse("take a drill with longer flutes"),
		most("depth against the stick-out", j.Deepest+holderClearance, c.StickOut, "mm").from(fromDrawer).orElse("let the drill stand out further"),
		most("stick-out over the diameter", c.StickOut/diameter, deepStickOut, "").mild().from(fromPractice).
			orElse("spot the holes first, or let the drill stand out %.1f mm", deepStickOut*diameter),
	}
	return append(append(out, j.standChecks(shop)...), j.travelChecks(shop)...)
}
