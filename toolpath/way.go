package toolpath

import (
	"math"

	"fullerwright/profile"
)

// File is one of the maker's files.
type File string

// The files in which a way out may lie.
const (
	KnifeFile File = "knife"
	ShopFile  File = "shop"
)

// Way is a way out of a check: a value of one key that does away with it by itself, while
// the rest stays. A length is in mm, an angle in radians.
type Way struct {
	File   File
	Key    string // as fuller[1].depth; cutter for one more in the drawer, parallels for a pair more
	Value  float64
	Word   string  // of a key whose value is a word
	Cutter *Cutter // to be put into the drawer besides the others
	Also   []Way   // further keys, where it takes more than one
}

// lever is where a way out may lie: values one after the other, the nearest first; ok is
// false beyond the last.
type lever func(n int) (way Way, ok bool)

// Ways returns the ways out of the check that were tried: each does away with it, and no
// other check stops the work for it. They are tried when they are asked for. There are none
// where all is well.
func (c Check) Ways() []Way {
	if c.Verdict == OK || c.trial == nil {
		return nil
	}
	return c.trial.waysOut(c, waysMost)
}

// Tried reports whether ways out of the check were looked for.
func (c Check) Tried() bool { return c.Verdict != OK && c.trial != nil }

// FirstWay returns the first of the ways out, which is found sooner than all of them.
func (c Check) FirstWay() (way Way, found bool) {
	if c.Verdict == OK || c.trial == nil {
		return Way{}, false
	}
	ways := c.trial.waysOut(c, 1)
	if len(ways) == 0 {
		return Way{}, false
	}
	return ways[0], true
}

// by adds a way out in the knife file that was worked out, and what is further on the same
// way should it not do; kept only where the check is not well and the value can be.
func (c Check) by(key string, value float64) Check {
	if c.Verdict != OK && value > 0 {
		c.guesses = append(c.guesses[:len(c.guesses):len(c.guesses)], Way{File: KnifeFile, Key: key, Value: value})
	}
	return c
}

// byBoth is by for two keys together.
func (c Check) byBoth(one, other Way) Check {
	if c.Verdict != OK {
		one.Also = []Way{other}
		c.guesses = append(c.guesses[:len(c.guesses):len(c.guesses)], one)
	}
	return c
}

// bySearch adds a key of the knife file whose value is looked for, up or down from what it
// is.
func (c Check) bySearch(key string, sign float64) Check {
	if c.Verdict != OK {
		c.looked = append(c.looked[:len(c.looked):len(c.looked)], direction{KnifeFile, key, sign})
	}
	return c
}

// byDepth adds the keys that make a fuller less deep.
func (c Check) byDepth(size profile.FullerSize, index int) Check {
	switch {
	case size.Depth.Known:
		return c.bySearch(fullerKey(index, "depth"), -1)
	case size.Web.Known:
		return c.bySearch(fullerKey(index, "web"), 1)
	}
	return c.bySearch(fullerKey(index, "ratio"), -1)
}

// depthOf says and adds the depth that a fuller may have where the blade is of a
// thickness, by the law that the knife file gives.
func (c Check) depthOf(size profile.FullerSize, index int, depth, thickness float64) Check {
	if c.Verdict == OK {
		return c
	}
	if !c.Remedy.Empty() {
		return c // something nearer at hand
	}
	if depth = under(depth); depth <= 0 {
		return c.orElse("no fuller leaves it where the blade is thinnest: end it before that, or leave it out").byEnd(size, index)
	}
	c = c.orElse("make the fuller less deep")
	switch {
	case size.Depth.Known:
		return c.by(fullerKey(index, "depth"), depth)
	case size.Web.Known:
		return c.by(fullerKey(index, "web"), over(thickness-2*depth))
	}
	return c.by(fullerKey(index, "ratio"), math.Floor(depth/thickness*1e4)/1e4)
}

// keepingWeb says what web would be left if the second face kept it, where the first came
// out deeper than designed.
func (c Check) keepingWeb(f profile.Fuller, thin profile.Section) Check {
	if sunk := f.ShiftIn(profile.Left).Sunk; f.ShiftIn(profile.Right).Sunk == sunk && sunk > 0 {
		return c.orElse("second_face = %q would leave %.2f mm", profile.KeepWeb, thin.Web+2*sunk)
	}
	return c
}

// narrower says and adds the depth at which a fuller whose flat is too narrow for it is no
// wider than twice a half, where the blade is thickest; its middle stays.
func (c Check) narrower(size profile.FullerSize, index int, half, thickest float64) Check {
	if half <= 0 {
		return c.orElse("the flat is too narrow for any fuller there")
	}
	return c.depthOf(size, index, size.Radius-math.Sqrt(square(size.Radius)-square(half)), thickest)
}

// aside says and adds a place for a fuller that lies further from the spine, or nearer to
// it where sign is -1, by what is lacking along it; where it leans, the end of it that has
// the less to move, and both where moving one would turn it far.
func (c Check) aside(f profile.Fuller, index int, sections []profile.Section, sign float64, lack func(profile.Section) float64) Check {
	if c.Verdict == OK {
		return c
	}
	const turning = 1.02 // a groove that leans more is a little wider across
	const far = 3        // times what lacks: one end alone would turn the fuller
	first, last := f.StartVisible, f.EndVisible
	if f.Size.Ends == profile.FullDepthEnds {
		first, last = f.StartFull, f.EndFull
	}
	both, start, end := 0.0, 0.0, 0.0
	for _, s := range sections {
		less := math.Max(0, lack(s))
		share := (s.X - first) / (last - first)
		both = math.Max(both, less)
		start = math.Max(start, less/math.Max(1-share, slack))
		end = math.Max(end, less/math.Max(share, slack))
	}
	to := func(from, by float64) float64 {
		if sign < 0 {
			return under(from - by)
		}
		return over(from + by)
	}
	switch near := to(f.Size.FromSpine, both); {
	case !f.Size.FromSpineEnd.Known:
		return c.orElse(moveIt).by(fullerKey(index, "from_spine"), near)
	case math.Min(start, end) > far*both:
		return c.orElse(moveIt).byBoth(Way{File: KnifeFile, Key: fullerKey(index, "from_spine"), Value: near},
			Way{File: KnifeFile, Key: fullerKey(index, "from_spine_end"), Value: to(f.Size.FromSpineEnd.Value, both)})
	case start < end:
		near = to(f.Size.FromSpine, turning*start)
		return c.orElse(moveIt).by(fullerKey(index, "from_spine"), near)
	}
	near := to(f.Size.FromSpineEnd.Value, turning*end)
	return c.orElse(moveIt).by(fullerKey(index, "from_spine_end"), near)
}

// moveIt is said of a fuller that comes too near to something.
const moveIt = "move the fuller"

// byEnd adds an end of a fuller that is looked for nearer to the guard.
func (c Check) byEnd(size profile.FullerSize, index int) Check {
	if size.End.Known {
		return c.bySearch(fullerKey(index, "end"), -1)
	}
	return c.bySearch(fullerKey(index, "length"), -1)
}

// endingAt adds an end of a fuller seen at x.
func (c Check) endingAt(f profile.Fuller, index int, x float64) Check {
	if c.Verdict == OK {
		return c
	}
	if f.Size.Ends == profile.FullDepthEnds {
		x += f.EndFull - f.EndVisible
	}
	switch {
	case f.Size.End.Known:
		return c.by(fullerKey(index, "end"), under(x))
	case f.Size.Length.Known && f.Size.Start.Known:
		return c.by(fullerKey(index, "length"), under(x-f.Size.Start.Value))
	}
	return c
}
