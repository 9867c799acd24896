package toolpath

import (
	"math"
	"slices"
	"strings"

	"fullerwright/profile"
)

// WaysOut returns single changes each of which alone lets a step of the work be done where
// checks stop it or it cannot be planned: a smaller depth, a cutter set otherwise, another
// cutter, another condition of the steel. Each was tried: with it, planning ends without a
// stop, and the blade's own checks are no worse. There may be none. What is asked for by
// name is the cutter, where any is.
func WaysOut(b profile.Blade, shop Shop, step Step, setup Setup, cutter string) []Way {
	t := trialOf(b, shop, step, setup, cutter)
	all := Check{Name: "the whole", Verdict: Stop}
	now := t.with(Way{})
	for _, c := range Stops(now.checks) {
		all.guesses, all.looked = append(all.guesses, c.guesses...), append(all.looked, c.looked...)
		all.levers = append(all.levers, c.levers...)
	}
	if !now.ok {
		all = t.openTo(all, step)
	}
	return t.wholes(t.those(all, waysMost, t.letsDo))
}

// trialOf returns the trial of a step of the work.
func trialOf(b profile.Blade, shop Shop, step Step, setup Setup, cutter string) *trial {
	return &trial{blade: b, shop: shop, tried: map[string]tried{}, plan: func(b profile.Blade, s Shop, bought string) (*Job, error) {
		setup, cutter := setup, cutter
		if cutter != "" && bought != "" {
			cutter = bought
		}
		if step.Operation != Slot {
			setup = SetupOf(b, step.Operation, setup.Face, setup.Flip)
		}
		job, _, err := planStep(b, s, step, setup, cutter)
		if job != nil && err == nil {
			job.opened(&trial{blade: b, shop: s}, step)
		}
		return job, err
	}}
}

// findsWays lets the checks of a job find their ways out.
func (j *Job) findsWays(t *trial, step Step) {
	j.opened(t, step)
	j.Checks = t.onTrial(j.Checks)
}

// opened adds to the checks that stop a job the keys in which ways out may lie.
func (j *Job) opened(t *trial, step Step) {
	for i := range j.Checks {
		if c := &j.Checks[i]; c.Verdict == Stop {
			*c = j.keysOf(t, *c, step)
		}
	}
}

// keysOf adds the keys in which ways out of one check of a job may lie, those of the knife
// first, then how things are set up, then what must be bought.
func (j *Job) keysOf(t *trial, c Check, step Step) Check {
	is := func(names ...string) bool {
		return slices.ContainsFunc(names, func(name string) bool { return strings.HasPrefix(c.Name, name) })
	}
	switch {
	case is("travel in X", "travel in Y"):
		axis := strings.ToLower(c.Name[len("travel in "):])
		for i, f := range t.blade.Knife.Fullers {
			if step.Operation == Fullers && f.Cut(j.Setup.Face) {
				c = c.byEnd(f, i)
			}
		}
		return c.byShop("machine.travel_"+axis, 1)
	case is("travel in Z"):
		return c.byShop("work.clearance", -1).byShop("machine.travel_z", 1)
	case is("edges of the bar below", "face above the top", "air under the cutter", "cutter to the jaws"):
		return t.byParallels(c, j).byShop("vise.bar_above_jaws", -1).byShop("vise.bar_above_jaws", 1)
	case is("width against the opening"):
		return c.bySearch("bar.edge_allowance", -1).bySearch("bar.width", -1).byShop("vise.jaw_opening", 1)
	case is("bar held in the jaws"):
		return c.bySearch("bar.point_allowance", 1).bySearch("shoulder.milled_length", -1).byShop("vise.jaw_length", 1).byShop("vise.jaw_length", -1)
	case is("depth against half the bar"):
		return t.less(c, step, j.Setup.Face).bySearch("bar.thickness", 1)
	case is("flat around the mark", "fuller under the mark"):
		for _, key := range []string{"mark.at", "mark.from_spine"} {
			c = c.bySearch(key, 1).bySearch(key, -1)
		}
		return c.bySearch("mark.height", -1)
	case is("tabs with their slopes"):
		return c.bySearch("outline.tab_height", -1).bySearch("outline.tab_width", -1)
	case is("bar to clamp", "wall of the guard", "guard beyond"):
		return c // worked out
	}
	c = t.less(c, step, j.Setup.Face)
	switch {
	case is("depth against the stick-out"):
		c = t.byStickOut(c, j.Cutter, 1)
	case is("deflection", "bending stress", "feed per tooth"):
		c = t.byStickOut(c, j.Cutter, -1)
	}
	if is("power at the motor", "power of the motor", "feed per tooth", "feed", "depth of a level") {
		c = c.byShop("machine.power", 1)
	}
	if is("feed") {
		c = c.byShop("machine.feed_most", 1)
	}
	if is("surface speed", "spindle speed", "feed") {
		c = c.byShop("machine.spindle_least", -1).byShop("machine.spindle_most", -1).byShop("machine.spindle_most", 1)
	}
	return t.otherwise(c, step)
}

// byParallels adds a pair of parallels more: as low as may be, as high, and as high as it
// takes for what comes through.
func (t *trial) byParallels(c Check, j *Job) Check {
	if t.shop.Vise.JawHeight == 0 {
		return c
	}
	from, to := t.shop.parallelsFor(2 * j.Setup.Top)
	for _, height := range []float64{-j.lowestZ() - 2*j.Setup.Top + airLeast, from, to} {
		if height = over(height); height <= to {
			way := Way{File: ShopFile, Key: parallelsKey, Value: height}
			c.guesses = append(c.guesses, way)
			// Another pair may lie nearer to where the bar is wanted.
			way.Also = []Way{{File: ShopFile, Key: "vise.bar_above_jaws", Value: height + 2*j.Setup.Top - t.shop.Vise.JawHeight}}
			c.guesses = append(c.guesses, way)
		}
	}
	return c
}

// openTo adds the keys in which ways to plan a step at all may lie.
func (t *trial) openTo(c Check, step Step) Check {
	c = t.less(c, step, step.Face)
	return t.otherwise(c, step)
}

// less adds the keys by which there is less to mill.
func (t *trial) less(c Check, step Step, face profile.Face) Check {
	k := t.blade.Knife
	switch step.Operation {
	case Fullers:
		var all []int
		for i, f := range k.Fullers {
			if f.Cut(face) {
				c = c.byDepth(f, i)
				all = append(all, i)
			}
		}
		if len(all) > 1 {
			c.levers = append(c.levers, t.allShallower(all))
		}
	case Shoulders:
		c = c.bySearch("shoulder.face_step", -1).bySearch("bar.thickness", -1).bySearch("shoulder.milled_length", -1)
	case Outline:
		c = c.bySearch("bar.thickness", -1)
	case Slot:
		c = c.bySearch("guard.thickness", -1)
	case Marks:
		c = c.bySearch("mark.depth", -1).bySearch("bar.thickness", -1)
	case Holes:
		for i := range k.Holes {
			c = c.bySearch(holeKey(i, "depth"), -1)
		}
		c = c.bySearch("bar.thickness", -1)
	}
	return c
}

// allShallower makes several fullers less deep by the same part of a hundred.
func (t *trial) allShallower(all []int) lever {
	return func(n int) (Way, bool) {
		var ways []Way
		for _, i := range all {
			f := t.blade.Knife.Fullers[i]
			share := 1 - float64(n)/100
			switch {
			case n >= 100:
				return Way{}, false
			case f.Depth.Known:
				ways = append(ways, Way{File: KnifeFile, Key: fullerKey(i, "depth"), Value: under(f.Depth.Value * share)})
			case f.Web.Known:
				ways = append(ways, Way{File: KnifeFile, Key: fullerKey(i, "web"), Value: over(f.Web.Value * (1 + float64(n)/100))})
			default:
				ways = append(ways, Way{File: KnifeFile, Key: fullerKey(i, "ratio"), Value: math.Floor(f.Ratio.Value*share*1000) / 1000})
			}
		}
		ways[0].Also = ways[1:]
		return ways[0], true
	}
}

// byShop adds a key of the shop file whose value is looked for.
func (c Check) byShop(key string, sign float64) Check {
	if c.Verdict != OK {
		c.looked = append(c.looked[:len(c.looked):len(c.looked)], direction{ShopFile, key, sign})
	}
	return c
}

// otherwise adds what it takes to do the step with other means: steel that is annealed, or
// another cutter.
func (t *trial) otherwise(c Check, step Step) Check {
	if condition := t.blade.Knife.Bar.Condition; condition != "" && condition != "annealed" && step.Operation != Slot {
		c.levers = append(c.levers, once(Way{File: KnifeFile, Key: "bar.condition", Word: "annealed"}))
	}
	c.levers = append(c.levers, t.buying(step))
	return c
}

// once is a lever with a single value.
func once(way Way) lever {
	return func(n int) (Way, bool) { return way, n == 1 }
}

// byHole adds the keys of a hole: where it is, and how large.
func (c Check) byHole(index int, h profile.Hole) Check {
	if h.Diameter.Known {
		c = c.bySearch(holeKey(index, "diameter"), -1)
	}
	for _, name := range []string{"at", "from_spine"} {
		c = c.bySearch(holeKey(index, name), 1).bySearch(holeKey(index, name), -1)
	}
	return c
}
