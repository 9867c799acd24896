package profile

import (
	"fmt"
	"math"
	"slices"
)

// derived is a dimension that a file gives besides those it follows from.
type derived struct {
	group, key string
	index      int
	value      float64
	why        string
}

// name returns the key of a derived dimension as changes have it.
func (d derived) name() string {
	if d.group == "fuller" {
		return fmt.Sprintf("fuller[%d].%s", d.index+1, d.key)
	}
	return d.group + "." + d.key
}

// redundant returns the dimensions of a knife that its file gives twice, as they must be
// to agree with the others.
func (k Knife) redundant() []derived {
	var out []derived
	add := func(group string, index int, key string, given Optional, value float64, why string) {
		if given.Known && !math.IsNaN(value) {
			out = append(out, derived{group, key, index, value, why})
		}
	}
	for i, f := range k.Fullers {
		if f.Depth.Known || f.Web.Known || f.Ratio.Known {
			add("fuller", i, "width", f.Width, GrooveWidth(f.Radius, f.depthAt(k.Thickness(k.nearEnd(f)))), "follows from its radius and depth")
		}
		if f.End.Known {
			add("fuller", i, "length", f.Length, f.End.Value-f.Start.Value, "follows from its ends")
		}
	}
	if k.Bevel.Height.Known {
		add("bevel", 0, "angle", k.Bevel.Angle, k.BevelAngle(), "follows from its height and the thickness")
	}
	slope := func(length, rim, height float64) float64 {
		return math.Atan2(k.Thickness(k.Blade.Length-length)-rim, 2*height)
	}
	if f := k.FalseEdge; f.Height.Known {
		add("false_edge", 0, "angle", f.Angle, slope(f.Length, f.Thickness, f.Height.Value), "follows from its height and the thickness")
	}
	if e := k.SecondEdge; e.Height.Known {
		add("second_edge", 0, "angle", e.Angle, slope(e.Length, e.EdgeThickness, e.Height.Value), "follows from its height and the thickness")
	}
	if k.Shoulder.Top.Known {
		add("shoulder", 0, "bottom", k.Shoulder.Bottom, k.RicassoWidth()-k.Tang.Width-k.Shoulder.Top.Value, "what tang and upper step leave")
	}
	return out
}

// with returns the knife with the changed values.
func (k Knife) with(changes []Change) Knife {
	to := map[string]float64{}
	for _, c := range changes {
		to[c.Key] = c.Is
	}
	moved := k.copied()
	moved.eachParameter(func(group ParameterGroup, index int, p Parameter) {
		if value, changed := to[changeKey(group, index, p)]; changed {
			setQuantity(p.field(&moved, index), value)
		}
	})
	return moved
}

// agreed puts the dimensions that follow from others in place of what the changes made of
// them, and of what no longer agrees.
func (k Knife) agreed(changes []Change) []Change {
	return k.following(changes, func(was, _, now float64, changed bool) float64 {
		if !changed && math.Abs(was-now) <= agreement {
			return was
		}
		return now
	})
}

// followed moves the dimensions that follow from others by as much as those move them, in
// place of what their own class made of them: what the author's rounding left between the two
// stays, so that the way back finds it again.
func (k Knife) followed(changes []Change) []Change {
	return k.following(changes, func(was, before, now float64, _ bool) float64 {
		if math.Abs(now-before) <= resolution {
			return was
		}
		return was + now - before
	})
}

// following gives the dimensions that follow from others what becomes of them by what they
// are in the file, what the others made them before, and what they make them now.
func (k Knife) following(changes []Change, becomes func(was, before, now float64, changed bool) float64) []Change {
	before, now := k.redundant(), k.with(changes).redundant()
	k.eachParameter(func(group ParameterGroup, index int, p Parameter) {
		key := changeKey(group, index, p)
		same := func(d derived) bool { return d.name() == key }
		then, at := slices.IndexFunc(before, same), slices.IndexFunc(now, same)
		if at < 0 || then < 0 {
			return
		}
		i := slices.IndexFunc(changes, func(c Change) bool { return c.Key == key })
		was, _ := quantity(p.field(&k, index))
		is := becomes(was, before[then].value, now[at].value, i >= 0)
		switch {
		case i >= 0 && is == was && changes[i].Is != was:
			changes = slices.Delete(changes, i, i+1)
		case i >= 0:
			changes[i].Is, changes[i].Why = is, now[at].why
		case is != was:
			changes = append(changes, Change{Key: key, Kind: p.Kind, Was: was, Is: is, Class: p.Resize, Why: now[at].why})
		}
	})
	return changes
}
