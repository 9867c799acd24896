package toolpath

import (
	"math"

	"fullerwright/toolpath/cutting"
)

// engaged returns how a level of roughing meets the steel, taken as a slot along its own
// track: passes beside it find less.
func (l level) engaged(radius float64) cutting.Level {
	return cutting.Level{Radius: radius, Depth: l.depth, Total: l.total}
}

// finishEngaged returns how the heaviest finishing pass meets the steel: it takes the
// finishing stock, and what ridges roughing left between its passes where it has many, off
// a wall that leans on it as far up as ball and rough groove overlap. With the groove's
// radius R, the ball's r and the stock s that is s·(2R + s)/(2·(R + s - r)) over the tip;
// where roughing had the ball's own radius it is the whole depth. Derived.
func (c fullerCut) finishEngaged() cutting.Level {
	if c.reach() < c.stock {
		return cutting.Level{Radius: c.cutter, Depth: math.Min(c.stock, c.deepest), Total: c.deepest}
	}
	taken, rough := math.Min(2*c.stock, c.deepest), c.groove.Radius-c.stock
	leans := taken * (2*rough + taken) / (2 * (rough + taken - c.cutter))
	return cutting.Level{Radius: c.cutter, Depth: taken, Total: math.Max(taken, math.Min(c.deepest, leans))}
}

// finishWidest returns the widest diameter at which finishing passes meet the steel, mm: as
// far out from their own place on the wall as ball and rough groove overlap, and no higher
// than the face.
func (c fullerCut) finishWidest() float64 {
	half := cutting.HalfAngle(c.groove.Radius, c.deepest)
	overlap := cutting.HalfAngle(c.cutter, c.finishEngaged().Total)
	widest := 0.0
	for i := range widestParts + 1 {
		angle := half * float64(i) / widestParts
		sunk := c.deepest - c.reach()*(1-math.Cos(angle))
		met := math.Min(math.Sin(math.Min(math.Pi/2, angle+overlap))*2*c.cutter, cutting.EffectiveDiameter(2*c.cutter, sunk))
		widest = math.Max(widest, met)
	}
	return widest
}

// widestParts is into how many parts the half of a groove is divided to find the widest
// contact.
const widestParts = 64

// ballWork returns the work of a cutter before its levels are known.
func (s Shop) ballWork(data cutting.Data, cutter Cutter) cutting.Work {
	return cutting.Work{
		Tool: cutter.tool(), Steel: data,
		Spindle:  cutting.Spindle{Least: s.Machine.SpindleLeast, Most: s.Machine.SpindleMost, FeedMost: s.Machine.FeedMost, Power: s.Machine.Power},
		Strength: cutting.Strength{Rough: s.Limits.CutterBend, Finish: s.Limits.CutterBendFinishing, Stress: s.Limits.CutterStress},
	}
}

// fullerWork returns the work of a job whose levels are noted.
func (j *Job) fullerWork(shop Shop, data cutting.Data, cuts []fullerCut) cutting.Work {
	work := shop.ballWork(data, j.Cutter)
	for _, l := range j.Levels {
		work.Rough = append(work.Rough, l.Engaged)
	}
	for _, c := range cuts {
		work.Finish = append(work.Finish, c.finishEngaged())
		work.Widest = math.Max(work.Widest, c.finishWidest())
	}
	return work
}

// choice returns the spindle speed and feeds of a job as they are.
func (j *Job) choice() cutting.Choice {
	c := cutting.Choice{Speed: j.Spindle, Finish: j.Feeds.Finish}
	for _, l := range j.Levels {
		c.Rough = append(c.Rough, l.Feed)
	}
	return c
}

// moreLevels is how many levels beyond the least possible are tried, and worseInARow after
// how many that took longer in a row no more are.
const moreLevels, worseInARow = 8, 2

// leastLevels returns the least number of levels that are none too deep.
func (c fullerCut) leastLevels(data cutting.Data, tool cutting.Tool) int {
	_, most := data.LevelDepth(tool)
	return max(1, int(math.Ceil(c.roughDepth()/most-1e-9)))
}

// bestLevels returns the levels that take the least time among those that keep to every
// limit: few deep ones must be fed slowly where the cutter bends, many shallow ones go over
// the groove often.
func (c fullerCut) bestLevels(shop Shop, data cutting.Data, cutter Cutter, over *course) []level {
	least := c.leastLevels(data, cutter.tool())
	finishing := shop.ballWork(data, cutter)
	finishing.Finish, finishing.Widest = []cutting.Level{c.finishEngaged()}, c.finishWidest()
	best, shortest, worse := c.levels(least), math.Inf(1), 0
	for n := least; n <= least+moreLevels && len(best) > 0 && (worse < worseInARow || shortest >= stopTime); n++ {
		levels := c.levels(n)
		work := finishing
		for _, l := range levels {
			work.Rough = append(work.Rough, l.engaged(c.cutter))
		}
		choice, err := work.Choose()
		if err != nil {
			return best
		}
		if time := c.roughTime(levels, choice, shop, cutter, *over) + stopTime*float64(stopsOf(work.Check(choice))); time < shortest {
			best, shortest, worse = levels, time, 0
		} else {
			worse++
		}
	}
	return best
}

// stopTime makes a way that is stopped worse than any that is not, min.
const stopTime = 1e9

func stopsOf(limits []cutting.Limit) int {
	stops := 0
	for _, l := range limits {
		if !l.Met() && !l.Mild {
			stops++
		}
	}
	return stops
}

// roughTime is how long roughing takes at the feeds of its moves, min, without speeding up
// and slowing down; over is a course without moves.
func (c fullerCut) roughTime(levels []level, choice cutting.Choice, shop Shop, cutter Cutter, over course) float64 {
	c.rough(&over, levels, func(l level) Feeds {
		return Feeds{Air: shop.airFeed(), Plunge: plungeFeed(choice.Rough[l.number-1], cutter)}.slotted(choice.Rough[l.number-1], shop)
	}, shop.ramp())
	sum := 0.0
	for i, m := range motionsOf(over.moves, over.at) {
		if i > 0 { // the way to the first is not known
			sum += shop.Machine.minutes(m)
		}
	}
	return sum
}

// slotted returns feeds with those of a slot and of the ways into it.
func (f Feeds) slotted(slot float64, shop Shop) Feeds {
	f.Slot, f.Ramp = slot, wholeFeed(slot*shop.Work.RampFeedShare)
	return f
}

// plungeFeed is the feed straight down of a cutter with a feed in a slot, mm/min: each of its
// teeth advances no more than it does along.
func plungeFeed(slot float64, cutter Cutter) float64 {
	return wholeFeed(slot / float64(max(1, cutter.Flutes)))
}

// airFeed is the feed through air, mm/min: the greatest that is no faster than the rapid rate.
func (s Shop) airFeed() float64 { return math.Floor(math.Min(s.Machine.FeedMost, s.Machine.Rapid)) }

// speeds sets the spindle speed and the feeds that take the least time inside all limits.
func (j *Job) speeds(shop Shop, work cutting.Work) {
	choice, err := work.Choose()
	if err != nil {
		panic("impossible: a cutter that the steel refuses was not left out: " + err.Error())
	}
	j.Spindle = math.Max(1, math.Floor(choice.Speed))
	share := j.Spindle / choice.Speed // the chip stays as chosen
	least := cutting.Feed(work.Steel.FeedPerTooth(work.Tool).Least, work.Tool.Flutes, j.Spindle)
	slot := math.Inf(1)
	for i, feed := range choice.Rough {
		j.Levels[i].Feed = roundedFeed(feed*share, least)
		slot = math.Min(slot, j.Levels[i].Feed)
	}
	j.Feeds.Finish = roundedFeed(choice.Finish*share, least)
	j.Feeds.Slot = slot
	if len(choice.Rough) == 0 {
		j.Feeds.Slot = j.Feeds.Finish
	}
	j.Feeds = j.Feeds.slotted(j.Feeds.Slot, shop)
	j.Feeds.Plunge, j.Feeds.Air = plungeFeed(j.Feeds.Slot, j.Cutter), shop.airFeed()
}

// roundedFeed rounds a feed down, but no feed that was not under the least to under it.
func roundedFeed(feed, least float64) float64 {
	if whole := wholeFeed(feed); whole >= least || feed < least*(1-slack) {
		return whole
	}
	return math.Ceil(10*least) / 10
}

// wholeFeed rounds a feed down to whole millimetres a minute, and one under a hundred to
// tenths.
func wholeFeed(feed float64) float64 {
	if feed < 100 {
		return math.Floor(feed*10+1e-9) / 10
	}
	return math.Floor(feed + 1e-9)
}

// levelFeeds returns the feeds of the levels of one fuller, given how many levels others
// have before it.
func (j *Job) levelFeeds(shop Shop, before int) func(l level) Feeds {
	return func(l level) Feeds {
		return j.Feeds.slotted(j.Levels[before+l.number-1].Feed, shop)
	}
}
