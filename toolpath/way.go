package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
)

// Way is a way out of a check: a value of one key of the knife file that does away with
// it by itself, while the rest stays. A length is in mm, an angle in radians.
type Way struct {
	Key   string // as fuller[1].depth
	Value float64
}

// Ways returns the ways out of the check that one number of the knife file gives, the one
// that changes least of the look first. There are none where all is well, and none where
// it takes another machine, cutter or limit.
func (c Check) Ways() []Way {
	if c.search != nil {
		return c.search()
	}
	return c.ways
}

// by adds a way out, kept only where the check is not well and the value can be.
func (c Check) by(key string, value float64) Check {
	if c.Verdict != OK && value > 0 {
		c.ways = append(c.ways[:len(c.ways):len(c.ways)], Way{key, value})
	}
	return c
}

// bySearch adds ways out that are looked for when they are asked for.
func (c Check) bySearch(search func() []Way) Check {
	if c.Verdict != OK {
		c.search = search
	}
	return c
}

// fullerKey names a key of a fuller.
func fullerKey(index int, name string) string { return fmt.Sprintf("fuller[%d].%s", index+1, name) }

// depthOf says and adds the depth that a fuller may have where the blade is of a
// thickness, by the law that the knife file gives.
func (c Check) depthOf(size profile.FullerSize, index int, depth, thickness float64) Check {
	if c.Verdict == OK {
		return c
	}
	if c.Remedy != "" {
		return c // something nearer at hand
	}
	if depth = under(depth); depth <= 0 {
		return c.orElse("no fuller leaves it where the blade is %.2f mm thick: end it before that, or leave it out", thickness)
	}
	c = c.orElse("a depth of %.2f mm where the blade is %.2f mm thick would do", depth, thickness)
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
		return c.orElse("the flat is %.2f mm too narrow for any fuller there", over(-half))
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
		return c.orElse("from_spine of %.2f mm would do", near).by(fullerKey(index, "from_spine"), near)
	case math.Min(start, end) > far*both:
		return c.orElse("from_spine of %.2f mm and from_spine_end of %.2f mm would do", near, to(f.Size.FromSpineEnd.Value, both))
	case start < end:
		near = to(f.Size.FromSpine, turning*start)
		return c.orElse("from_spine of %.2f mm would do", near).by(fullerKey(index, "from_spine"), near)
	}
	near := to(f.Size.FromSpineEnd.Value, turning*end)
	return c.orElse("from_spine_end of %.2f mm would do", near).by(fullerKey(index, "from_spine_end"), near)
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

// stepsOfSearch is the step of a value that is looked for, mm: what a caliper reads.
const stepsOfSearch = 0.01

// searchWay returns the value of a key nearest to what it is, on the way to a bound, with
// which a check is well; ok is false where it is not well even there.
func searchWay(b profile.Blade, key string, now, bound float64, check func(profile.Blade) Check) (way Way, ok bool) {
	well := func(value float64) bool {
		k, err := b.Knife.Put(key, value)
		if err != nil {
			return false
		}
		made, err := profile.Build(k, profile.Measured{})
		return err == nil && check(made).Verdict == OK
	}
	steps := int(math.Abs(bound-now) / stepsOfSearch)
	first := math.Round(now/stepsOfSearch) * stepsOfSearch
	at := func(i int) float64 {
		return math.Round((first+math.Copysign(float64(i)*stepsOfSearch, bound-now))*1e6) / 1e6
	}
	if steps < 1 || !well(at(steps)) {
		return Way{}, false
	}
	low, high := 0, steps
	for high-low > 1 {
		if middle := (low + high) / 2; well(at(middle)) {
			high = middle
		} else {
			low = middle
		}
	}
	return Way{key, at(high)}, true
}
