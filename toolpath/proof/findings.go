package proof

import (
	"fmt"
	"math"

	"fullerwright/toolpath/motion"
)

// touch is the least height taken off that counts as cutting, mm: a cutter that
// slides along a surface it has cut already takes off the rounding of the text.
const touch = 3e-4

// lookThrough looks at what each block did and how.
func lookThrough(blocks []Block, l Limits, c Cutter) []Finding {
	var out []Finding
	find := func(kind string, b Block, format string, values ...any) {
		out = append(out, Finding{kind, b.Motion.TextLine, fmt.Sprintf(format, values...)})
	}
	cut, stopped := false, true
	for i, b := range blocks {
		v := b.Motion
		cutting := b.Deepest > touch
		cut = cut || cutting
		fed := v.Kind == motion.Line || v.Kind == motion.Arc
		switch v.Kind {
		case motion.Stop:
			stopped = true
		case motion.Tool:
			if !stopped {
				find("tool change", b, "the tool is changed in the middle of the program without a stop for the operator")
			}
		case motion.Rapid, motion.Line, motion.Arc:
			stopped = stopped && !cutting
		}
		switch {
		case cutting && v.Kind == motion.Rapid:
			find("rapid through steel", b, "a rapid move takes off %.3f mm of steel %.2f mm from the guard plane", b.Deepest, b.X)
		case cutting && v.Spindle == motion.SpindleOff:
			find("spindle off", b, "the cutter takes off %.3f mm with the spindle off", b.Deepest)
		case cutting && v.Spindle == motion.SpindleCounterclockwise:
			find("spindle reversed", b, "the cutter takes off %.3f mm turning backward (M4)", b.Deepest)
		}
		if fed && v.Feed > l.Feed*(1+1e-9) {
			find("feed", b, "a feed of %.0f mm/min is beyond the machine's %.0f", v.Feed, l.Feed)
		}
		if f := b.perTooth(c); l.FeedPerTooth > 0 && f > l.FeedPerTooth*(1+1e-9) {
			find("chip", b, "a feed of %.3f mm per tooth in steel is beyond the cutter's %.3f", f, l.FeedPerTooth)
		}
		if cutting && fed && b.Steepest > l.RampSlope*(1+1e-6) && b.Deepest > l.SteepCut {
			find("plunge", b, "the cutter goes down into %.3f mm of solid steel steeper than the ramp allowed", b.Deepest)
		}
		if l.Engagement > 0 && b.Deepest > l.Engagement {
			find("engagement", b, "the block takes off %.3f mm at once; %.3f mm is allowed", b.Deepest, l.Engagement)
		}
		if i > 0 && v.Kind == motion.Rapid {
			out = append(out, slantingRapid(b, l)...)
		}
		out = append(out, whereItMustNot(b, l, c)...)
	}
	if !cut {
		out = append(out, Finding{"air", 0, "the program cuts nothing of this bar: look at the face, the flip, the units and the zero"})
	}
	return out
}

// slantingRapid looks at a rapid that moves up or down and across at once over the
// bar: machines that do not run it straight may take the corner.
func slantingRapid(b Block, l Limits) []Finding {
	v := b.Motion
	level := math.Hypot(v.To.X-v.From.X, v.To.Y-v.From.Y)
	if level == 0 || v.To.Z == v.From.Z || math.Min(v.To.Z, v.From.Z) > l.BarTop {
		return nil
	}
	return []Finding{{"slanting rapid", v.TextLine, "a rapid move goes down or up and across at once below the face of the bar; not every machine runs that straight"}}
}

// whereItMustNot looks at jaws, holder, flutes and the ends of the bar.
func whereItMustNot(b Block, l Limits, c Cutter) []Finding {
	v := b.Motion
	if v.Kind != motion.Rapid && v.Kind != motion.Line && v.Kind != motion.Arc {
		return nil
	}
	var out []Finding
	x0, x1, y0, y1, low, high := extent(v)
	if v.Kind != motion.Rapid && l.HighestTip > 0 && high > l.HighestTip+1e-3 {
		out = append(out, Finding{"astray", v.TextLine, fmt.Sprintf("a fed move rises %.2f mm over the height of rapid moves", high-l.HighestTip)})
	}
	if low < l.JawTop && (y1+c.Radius > l.FixedJaw || y0-c.Radius < l.MovingJaw) {
		out = append(out, Finding{"jaw", v.TextLine, fmt.Sprintf("the tip goes %.2f mm below the top of the jaws while the cutter reaches over one", l.JawTop-low)})
	}
	if low < l.BarTop && (x0+c.Radius < l.LeastX || x1-c.Radius > l.MostX || y0-c.Radius > l.FixedJaw || y1+c.Radius < l.MovingJaw) {
		out = append(out, Finding{"outside the bar", v.TextLine, "a move goes below the face outside the bar"})
	}
	if reach := low + c.StickOut; c.StickOut > 0 && reach < l.BarTop {
		out = append(out, Finding{"holder", v.TextLine, fmt.Sprintf("the holder comes %.2f mm below the face of the bar", l.BarTop-reach)})
	}
	if b.Deepest > touch && c.FluteLength > 0 && low+c.FluteLength < l.BarTop {
		out = append(out, Finding{"shank", v.TextLine, fmt.Sprintf("the flutes end %.2f mm below the face of the bar", l.BarTop-low-c.FluteLength)})
	}
	return out
}

// extent returns what a motion's tip passes: exactly for straight moves, by the circle
// for arcs.
func extent(v motion.Motion) (x0, x1, y0, y1, low, high float64) {
	if v.Kind == motion.Arc {
		return arcBounds(v, 0)
	}
	return math.Min(v.From.X, v.To.X), math.Max(v.From.X, v.To.X), math.Min(v.From.Y, v.To.Y), math.Max(v.From.Y, v.To.Y),
		math.Min(v.From.Z, v.To.Z), math.Max(v.From.Z, v.To.Z)
}
