package toolpath

import (
	"math"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
)

// TimeBound is the least time that the fullers of a face can take with a cutter, s: no
// program inside the shop's limits is faster. It comes from the grooves and the limits
// alone, never from what a plan chose.
//
// Roughing takes the steel of each level at the greatest rate that the limits allow for a
// slot of that level's depth, each level at a spindle speed of its own; the number of
// levels is the one that makes the sum least. Finishing goes once along every pass that the
// greatest ridge asks for, at its greatest feed. Besides there is one way down and one up,
// at the rapid rate. Ramps, ways between passes and all speeding up and slowing down are
// left out.
type TimeBound struct{ Rough, Finish, Approach float64 }

// Seconds returns the whole bound.
func (t TimeBound) Seconds() float64 { return t.Rough + t.Finish + t.Approach }

// TimeBound returns the bound for a planned job on the fullers of a face.
func (j *Job) TimeBound(b profile.Blade, shop Shop) TimeBound {
	data, err := shop.steelData(b)
	if err != nil {
		panic("impossible: a job was planned in a steel without data")
	}
	var bound TimeBound
	deepest := 0.0
	for _, f := range b.Fullers {
		if !f.Size.Cut(j.Setup.Face) {
			continue
		}
		cut := newFullerCut(b, f, math.Min(j.Cutter.Radius(), f.Milled.Radius), shop.Work.FinishStock)
		work := shop.ballWork(data, j.Cutter)
		bound.Rough += cut.roughBound(work, data)
		bound.Finish += cut.finishBound(work, shop.Limits.Cusp)
		deepest = math.Max(deepest, cut.deepest)
	}
	bound.Approach = 60 * 2 * (shop.Work.Clearance + deepest) / shop.Machine.Rapid
	return bound
}

// roughBound returns the least time of roughing a fuller, s.
func (c fullerCut) roughBound(work cutting.Work, data cutting.Data) float64 {
	depth := c.roughDepth()
	if depth <= 0 {
		return 0
	}
	least := c.leastLevels(data, work.Tool)
	shortest := math.Inf(1)
	for n := least; n <= least+moreLevels; n++ {
		sum, before := 0.0, 0.0
		for i := 1; i <= n; i++ {
			step := depth / float64(n)
			level := cutting.Level{Radius: c.cutter, Depth: step, Total: step * float64(i)}
			volume := c.roughVolume(step * float64(n-i))
			sum += 60 * (volume - before) / (level.Area() * fastest(work, level, false))
			before = volume
		}
		shortest = math.Min(shortest, sum)
	}
	return shortest
}

// fastest returns the greatest feed of a level by itself, mm/min.
func fastest(work cutting.Work, level cutting.Level, finishing bool) float64 {
	if finishing {
		work.Finish = []cutting.Level{level}
	} else {
		work.Rough = []cutting.Level{level}
	}
	choice, err := work.Choose()
	if err != nil {
		panic("impossible: a job was planned with a cutter that the steel refuses: " + err.Error())
	}
	if finishing {
		return choice.Finish
	}
	return choice.Rough[0]
}

// volumeParts is into how many parts a groove is divided to add up its volume.
const volumeParts = 400

// roughVolume returns the volume of what roughing takes off down to a height over its last
// level, mm³.
func (c fullerCut) roughVolume(up float64) float64 {
	floor := c.inBar(c.track(c.groove.Radius - c.stock))
	part := (floor.end() - floor.start()) / volumeParts
	sum := 0.0
	for i := range volumeParts {
		s := floor.start() + part*(float64(i)+0.5)
		deep := c.face(s) - floor.height(s)
		if c.reach() < c.stock {
			sum += cutting.SegmentArea(c.cutter, deep-up)
			continue
		}
		rough := c.groove.Radius - c.stock
		sum += math.Max(0, cutting.SegmentArea(rough, deep)-cutting.SegmentArea(rough, up))
	}
	return sum * part
}

// finishBound returns the least time of finishing a fuller, s.
func (c fullerCut) finishBound(work cutting.Work, cusp float64) float64 {
	lanes, _ := c.lanes(cusp)
	length := 0.0
	for _, l := range lanes {
		length += c.inBar(l.tip).length()
	}
	work.Widest = c.finishWidest()
	return 60 * length / fastest(work, c.finishEngaged(), true)
}

// length returns the length of a track.
func (t track) length() float64 {
	sum := 0.0
	for _, p := range t.pieces {
		if p.radius > 0 {
			sum += p.radius * math.Abs(math.Asin(clampUnit((p.s1-p.cs)/p.radius))-math.Asin(clampUnit((p.s0-p.cs)/p.radius)))
			continue
		}
		sum += math.Hypot(p.s1-p.s0, p.h1-p.h0)
	}
	return sum
}

// TimeSpent is where the time of a job goes, s: on its cuts and ramps at their feeds, on the
// ways between them, and on speeding up and slowing down.
type TimeSpent struct{ Rough, Finish, Ramp, Link, Acceleration float64 }

// TimeSpent adds up where the time of a job goes.
func (j *Job) TimeSpent(machine Machine) TimeSpent {
	var t TimeSpent
	if len(j.Moves) == 0 {
		return t
	}
	sum := 0.0
	for i, m := range motionsOf(j.Moves, j.Moves[0].To) {
		seconds := 60 * machine.minutes(m)
		sum += seconds
		switch j.Moves[i].Purpose {
		case Rough:
			t.Rough += seconds
		case Finish:
			t.Finish += seconds
		case RampIn, StepOver:
			t.Ramp += seconds
		default:
			t.Link += seconds
		}
	}
	t.Acceleration = j.Seconds - sum
	return t
}
