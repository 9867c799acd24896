package toolpath

import (
	"math"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// Where limits come from.
const (
	fromDrawer  = "the cutter in the shop file"
	fromMachine = "the machine in the shop file"
	fromData    = "suggested cutting data for the steel: judgement inside published ranges"
	fromShop    = "the limits in the shop file"
)

// fullerChecks returns the checks on a fuller job: cutter, depth, speed, feed, chip,
// entry, reach and travel.
func (j *Job) fullerChecks(b profile.Blade, shop Shop, data cutting.Data, cuts []fullerCut) []Check {
	var out []Check
	out = append(out, j.radiusChecks(b)...)
	out = append(out, stockChecks(b)...)
	out = append(out, j.depthChecks(data, cuts)...)
	out = append(out, j.speedChecks(shop, data, cuts)...)
	out = append(out, j.chipChecks(data, cuts)...)
	out = append(out, j.loadChecks(shop, data)...)
	out = append(out, j.reachChecks(cuts)...)
	out = append(out, j.rampCheck(shop))
	out = append(out, most("ridge between passes", j.Cusp, shop.Limits.Cusp, "mm").from(fromShop).
		orElse("a limit of %.4f mm would let it pass", j.Cusp))
	return append(out, j.travelChecks(shop)...)
}

// stockChecks cautions about a bar that is harder than the steel's data are meant for and
// has a skin.
func stockChecks(b profile.Blade) []Check {
	advice := stockOf(b).Advice()
	if advice == "" {
		return nil
	}
	return []Check{most("hardness of a normalised bar, which is milled slower", cutting.NormalisedHB, cutting.AnnealedHB, "HB").mild().
		from("slot data for annealed carbon steel are published up to that").orElse("%s", advice)}
}

func (j *Job) radiusChecks(b profile.Blade) []Check {
	var out []Check
	for i, f := range b.Fullers {
		if !f.Size.Cut(j.Setup.Face) {
			continue
		}
		c := most(sayFuller(i+1, "cutter radius against the groove"), j.Cutter.Radius(), f.Milled.Radius+radiusSlack, "mm").
			from("geometry: a larger ball cannot leave a smaller groove")
		out = append(out, c.orElse("a ball of %.3f mm diameter or less would do", 2*f.Milled.Radius))
	}
	return out
}

// depthChecks looks at the depth of a level: the whole of it where nothing is left
// for finishing but the finishing stock.
func (j *Job) depthChecks(data cutting.Data, cuts []fullerCut) []Check {
	limit := data.DepthRatioMost * j.Cutter.Diameter * stickOutShare(j.Cutter)
	deepest := 0.0
	for _, l := range j.Levels {
		deepest = math.Max(deepest, l.Depth)
	}
	for _, c := range cuts {
		deepest = math.Max(deepest, math.Min(c.stock, c.deepest))
	}
	return []Check{most("depth of a level", deepest, limit, "mm").from(fromData).
		orElse("%d levels would do", int(math.Ceil(float64(len(j.Levels))*deepest/limit)))}
}

func (j *Job) speedChecks(shop Shop, data cutting.Data, cuts []fullerCut) []Check {
	slowest, fastest := math.Inf(1), 0.0
	for _, c := range cuts {
		at := cutting.EffectiveDiameter(2*c.cutter, c.deepest)
		fastest = math.Max(fastest, at)
		slowest = math.Min(slowest, at)
	}
	lo, hi := surfaceRange(data, j.Cutter)
	speed := cutting.SurfaceSpeed(fastest, j.Spindle)
	out := []Check{
		most("surface speed at the effective diameter", speed, hi, "m/min").from(fromData).
			orElse("%.0f rev/min would do", math.Floor(cutting.SpindleSpeed(hi, fastest))),
		least("surface speed where the groove is shallowest", cutting.SurfaceSpeed(slowest, j.Spindle), lo, "m/min").mild().from(fromData).
			orElse("the spindle gives no more; the cutter lives, the face is rougher"),
		most("spindle speed", j.Spindle, shop.Machine.SpindleMost, "rev/min").from(fromMachine).
			orElse("a cutter of %.2f mm would do", over(j.Cutter.Diameter*j.Spindle/shop.Machine.SpindleMost)),
		least("spindle speed", j.Spindle, shop.Machine.SpindleLeast, "rev/min").from(fromMachine).
			orElse("a cutter of %.2f mm would do", under(j.Cutter.Diameter*j.Spindle/shop.Machine.SpindleLeast)),
		most("feed", j.Feeds.Slot, shop.Machine.FeedMost, "mm/min").from(fromMachine).
			orElse("a spindle speed of %.0f rev/min would do", math.Floor(j.Spindle*shop.Machine.FeedMost/j.Feeds.Slot)),
	}
	return out
}

func (j *Job) chipChecks(data cutting.Data, cuts []fullerCut) []Check {
	perTooth := j.Feeds.Slot / (j.Spindle * float64(j.Cutter.Flutes))
	feed := data.FeedPerTooth(j.Cutter.tool())
	thinnest := math.Inf(1)
	for _, c := range cuts {
		thinnest = math.Min(thinnest, cutting.TopChip(perTooth, j.Cutter.Diameter, math.Min(c.deepest, math.Max(c.stock, j.firstLevel()))))
	}
	rub := cutting.RubbingLimit(j.Cutter.Diameter)
	return []Check{
		most("feed per tooth", perTooth, feed.Most, "mm").from(fromData).orElse("a feed of %.0f mm/min would do", math.Floor(feed.Most*j.Spindle*float64(j.Cutter.Flutes))),
		least("feed per tooth", perTooth, feed.Least, "mm").from(fromData).
			orElse("a spindle speed of %.0f rev/min would do", math.Floor(j.Feeds.Slot/(feed.Least*float64(j.Cutter.Flutes)))),
		least("thickest chip against rubbing", thinnest, rub, "mm").mild().from("judgement, from edge radii").
			orElse("a feed per tooth of %.4f mm would do", perTooth*rub/thinnest),
		most("run-out against the feed per tooth", j.Cutter.RunOut, perTooth, "mm").mild().from("derived: beyond it one tooth does all the work").
			orElse("a run-out under %.3f mm at the tip", perTooth),
	}
}

const (
	// efficiency of the way from the motor to the cutter: 0.7 to 0.8 by tool makers
	// (Mitsubishi, Kyocera; read there).
	efficiency = cutting.Efficiency
	// forceMargin: published specific forces of one steel differ by up to twice, so
	// that power is known to half and one and a half.
	forceMargin = 1 + cutting.ForceUncertainty
	// Greatest deflection in roughing, mm and as a part of the diameter (judgement).
	roughDeflection, deflectionShare = 0.03, 0.01
)

// loadChecks looks at power, deflection and stress in the heaviest level of roughing, each
// level taken as cut along one track: passes beside it find less.
func (j *Job) loadChecks(shop Shop, data cutting.Data) []Check {
	perTooth := cutting.ToothFeed(j.Feeds.Slot, j.Cutter.Flutes, j.Spindle)
	power, force, tool := 0.0, 0.0, j.Cutter.tool()
	for _, l := range j.Levels {
		level := cutting.Level{Radius: j.Cutter.Radius(), Depth: l.Depth, Total: l.Total}
		power = math.Max(power, level.Power(perTooth, j.Feeds.Slot, data).Most())
		force = math.Max(force, level.PeakForce(perTooth, data))
	}
	needed, bend, stress := cutting.MotorPower(power, efficiency), tool.Deflection(force), tool.Stress(force)
	limit := cutting.DeflectionMost(tool.Diameter, false)
	shallower := func(share float64) float64 { return under(j.firstLevel() * share) }
	return []Check{
		most("power at the motor, with half as much again for what is not known", needed, shop.Machine.Power, "W").from(fromMachine).
			orElse("a feed of %.0f mm/min would do", math.Floor(j.Feeds.Slot*shop.Machine.Power/math.Max(needed, 1))),
		most("deflection of the cutter in roughing", bend, limit, "mm").from("judgement: 0.03 mm and a hundredth of the diameter").
			orElse("levels of %.2f mm would do", shallower(limit/math.Max(bend, 1e-9))),
		most("bending stress in the cutter in roughing", stress, cutting.StressMost, "N/mm²").from("judgement: a quarter of what breaks carbide").
			orElse("levels of %.2f mm would do", shallower(cutting.StressMost/math.Max(stress, 1e-9))),
	}
}

// firstLevel returns the depth of a level of roughing, 0 where there is none.
func (j *Job) firstLevel() float64 {
	if len(j.Levels) == 0 {
		return 0
	}
	return j.Levels[0].Depth
}

// holderClearance is what the holder needs over the bar's face, mm (common practice, no
// source).
const holderClearance = 2

func (j *Job) reachChecks(cuts []fullerCut) []Check {
	depth := 0.0
	for _, c := range cuts {
		depth = math.Max(depth, c.deepest)
	}
	return []Check{
		most("depth against the flutes", depth, j.Cutter.FluteLength, "mm").from(fromDrawer).orElse("a cutter with flutes of %.2f mm would do", over(depth)),
		most("depth against the stick-out", depth+holderClearance, j.Cutter.StickOut, "mm").from(fromDrawer).
			orElse("a stick-out of %.2f mm would do", over(depth+holderClearance)),
		most("depth against half the bar", depth, j.Setup.Top, "mm").from("geometry: the fullers would meet").
			orElse("a bar of %.2f mm would do", over(2*depth)),
	}
}

// rampCheck looks at the steepest way into solid steel that the moves take.
func (j *Job) rampCheck(shop Shop) Check {
	steepest := 0.0
	var at motion.Vec
	for _, m := range j.Moves {
		if m.Purpose == RampIn && m.To.Z < at.Z {
			steepest = math.Max(steepest, math.Atan2(at.Z-m.To.Z, math.Hypot(m.To.X-at.X, m.To.Y-at.Y)))
		}
		at = m.To
	}
	degrees := steepest * 180 / math.Pi
	return most("steepest ramp", degrees, shop.Limits.Ramp.Degrees()+1e-6, "degrees").from(fromShop).
		orElse("a limit of %.2f degrees would let it pass", over(degrees))
}

func (j *Job) travelChecks(shop Shop) []Check {
	lo, hi := j.Moves[0].To, j.Moves[0].To
	for _, m := range j.Moves {
		lo = motion.Vec{X: math.Min(lo.X, m.To.X), Y: math.Min(lo.Y, m.To.Y), Z: math.Min(lo.Z, m.To.Z)}
		hi = motion.Vec{X: math.Max(hi.X, m.To.X), Y: math.Max(hi.Y, m.To.Y), Z: math.Max(hi.Z, m.To.Z)}
	}
	var out []Check
	for _, axis := range []struct {
		name         string
		span, travel float64
	}{
		{"X", hi.X - lo.X, shop.Machine.TravelX},
		{"Y", hi.Y - lo.Y, shop.Machine.TravelY},
		{"Z", hi.Z - lo.Z, shop.Machine.TravelZ},
	} {
		out = append(out, most("travel in "+axis.name, axis.span, axis.travel, "mm").from(fromMachine).
			orElse("a machine with %.2f mm of travel would do", over(axis.span)))
	}
	return out
}
