package toolpath

import (
	"math"

	"fullerwright/profile"
	"fullerwright/profile/document"
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
	out = append(out, limitChecks(j.fullerWork(shop, data, cuts).Check(j.choice()))...)
	out = append(out, j.reachChecks(cuts)...)
	out = append(out, j.rampCheck(shop))
	out = append(out, most("ridge between passes", j.Cusp, shop.Limits.Cusp, "mm").from(fromShop).
		orElse("take a larger ball"))
	out = append(out, j.holdingChecks(b, shop)...)
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
		out = append(out, c.orElse("take a smaller ball").by(fullerKey(i, "radius"), over(f.Size.Radius+j.Cutter.Radius()-f.Milled.Radius)))
	}
	return out
}

// limitChecks returns the checks that the limits of a cut come to.
func limitChecks(limits []cutting.Limit) []Check {
	var out []Check
	for _, l := range limits {
		check := most
		if l.Least {
			check = least
		}
		c := check(l.Name, l.Value, l.Bound, l.Unit).from(l.Source)
		if l.Mild {
			c = c.mild()
		}
		out = append(out, c.orElse("%s", document.Words(l.Remedy)))
	}
	return out
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
		most("depth against the stick-out", depth+holderClearance, j.Cutter.StickOut, "mm").from(fromDrawer).
			orElse("let the cutter stand out further"),
		most("depth against half the bar", depth, j.Setup.Top, "mm").from("geometry: the fullers would meet").
			orElse("make the fullers less deep, or take a thicker bar"),
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
		orElse("make what the cutter ramps into less deep, or longer")
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
			orElse("take a mill with more travel"))
	}
	return out
}
