package cutting

import "math"

// Limit is a figure of a cut against what it may be.
type Limit struct {
	Name         string
	Value, Bound float64
	Unit         string
	Least        bool // the bound is a least one; else a greatest one
	Mild         bool // to be cautious about; else to stop for
}

// rounding is how far a figure may be beyond a bound that it was chosen to meet, as a
// part of the bound.
const rounding = 1e-9

// Met reports whether the figure keeps to its bound.
func (l Limit) Met() bool {
	if l.Least {
		return l.Value >= l.Bound*(1-rounding)
	}
	return l.Value <= l.Bound*(1+rounding)
}

// Check holds a choice, from wherever it comes, against every limit of the cut.
func (w Work) Check(c Choice) []Limit {
	perTooth := ToothFeed(c.Feed, w.Tool.Flutes, c.Speed)
	return append(w.machineLimits(c), append(w.chipLimits(perTooth), w.strengthLimits(perTooth)...)...)
}

// SideShift returns how far the slots lie beside their track, mm, to the left of the feed
// under a spindle that turns clockwise.
func (w Work) SideShift(c Choice) float64 {
	perTooth := ToothFeed(c.Feed, w.Tool.Flutes, c.Speed)
	force := w.over(func(l Level) float64 { return l.SideForce(perTooth, w.Steel) })
	return SideShift(w.Tool.Deflection(force), true)
}

func (w Work) machineLimits(c Choice) []Limit {
	speeds, surface := w.Steel.Speeds(w.Tool.Material), SurfaceSpeed(w.widest(), c.Speed)
	return []Limit{
		{Name: "surface speed at the effective diameter", Value: surface, Bound: speeds.Most, Unit: "m/min"},
		{Name: "surface speed at the effective diameter", Value: surface, Bound: speeds.Least, Unit: "m/min", Least: true, Mild: true},
		{Name: "spindle speed", Value: c.Speed, Bound: w.Spindle.Most, Unit: "rev/min"},
		{Name: "spindle speed", Value: c.Speed, Bound: w.Spindle.Least, Unit: "rev/min", Least: true},
		{Name: "feed", Value: c.Feed, Bound: w.Spindle.FeedMost, Unit: "mm/min"},
		{Name: "power at the motor, with half as much again for what is not known", Value: w.motorPower(c), Bound: w.Spindle.Power, Unit: "W"},
	}
}

func (w Work) chipLimits(perTooth float64) []Limit {
	feed := w.Steel.FeedPerTooth(w.Tool)
	return []Limit{
		{Name: "feed per tooth", Value: perTooth, Bound: feed.Most, Unit: "mm"},
		{Name: "feed per tooth", Value: perTooth, Bound: feed.Least, Unit: "mm", Least: true},
		{Name: "feed of the worst placed tooth", Value: SingleToothChip(perTooth, w.Tool.RunOut, w.Tool.Flutes), Bound: feed.Most, Unit: "mm", Mild: true},
		{Name: "run-out against the feed per tooth", Value: w.Tool.RunOut, Bound: RunOutShare * perTooth, Unit: "mm", Mild: true},
		{Name: "thickest chip against rubbing", Value: w.thinnest(perTooth), Bound: RubbingLimit(w.Tool.Diameter), Unit: "mm", Least: true, Mild: true},
	}
}

func (w Work) strengthLimits(perTooth float64) []Limit {
	force := w.force(perTooth)
	_, depth := w.Steel.LevelDepth(w.Tool)
	return []Limit{
		{Name: "depth of a level", Value: w.deepest(), Bound: depth, Unit: "mm"},
		{Name: "total depth against the flutes", Value: w.over(func(l Level) float64 { return l.Total }), Bound: math.Min(w.Tool.FluteLength, w.Tool.StickOut), Unit: "mm"},
		{Name: "deflection of the cutter in roughing", Value: w.Tool.Deflection(force), Bound: DeflectionMost(w.Tool.Diameter, false), Unit: "mm"},
		{Name: "bending stress in the cutter", Value: w.Tool.Stress(force), Bound: StressMost, Unit: "N/mm²"},
	}
}
