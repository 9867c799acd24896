package cutting

import (
	"fmt"
	"math"
)

// Limit is a figure of a cut against what it may be.
type Limit struct {
	Name         string
	Value, Bound float64
	Unit         string
	Least        bool   // the bound is a least one; else a greatest one
	Mild         bool   // to be cautious about; else to stop for
	Source       string // of the bound
	Remedy       string // what would do where the figure does not keep to its bound
}

// Where limits come from.
const (
	fromDrawer   = "the cutter in the shop file"
	fromMachine  = "the machine in the shop file"
	fromLimits   = "the limits in the shop file"
	fromData     = "suggested cutting data for the steel: judgement inside published ranges"
	fromGeometry = "derived: beyond it one tooth does all the work"
)

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

// figures are the heaviest figures of a choice, over all levels.
type figures struct {
	feed             float64 // mm/min
	thick, thin      float64 // feed per tooth, mm
	power            float64 // at the motor, W
	bend, bendFinish float64 // mm
	stress           float64 // N/mm²
	chip             float64 // least among the levels' thickest, mm
	deepest, total   float64 // mm
}

// figures adds up what the levels of a choice come to.
func (w Work) figures(c Choice) figures {
	w = w.withMeans()
	f := figures{thin: math.Inf(1), chip: math.Inf(1)}
	look := func(l Level, feed float64, bend *float64) {
		perTooth := ToothFeed(feed, w.Tool.Flutes, c.Speed)
		force := l.PeakForce(perTooth, w.Steel)
		*bend = math.Max(*bend, w.Tool.Deflection(force))
		f.feed, f.thick, f.thin = math.Max(f.feed, feed), math.Max(f.thick, perTooth), math.Min(f.thin, perTooth)
		f.power = math.Max(f.power, w.motorPower(l, perTooth, feed))
		f.stress = math.Max(f.stress, w.Tool.Stress(force))
		f.chip = math.Min(f.chip, l.ThickestChip(perTooth))
		f.deepest, f.total = math.Max(f.deepest, l.Depth), math.Max(f.total, l.Total)
	}
	for i, l := range w.Rough {
		look(l, c.Rough[i], &f.bend)
	}
	for _, l := range w.Finish {
		look(l, c.Finish, &f.bendFinish)
	}
	return f
}

// Check holds a choice, from wherever it comes, against every limit of the cut.
func (w Work) Check(c Choice) []Limit {
	f := w.figures(c)
	return append(w.machineLimits(c, f), append(w.chipLimits(c, f), w.strengthLimits(f)...)...)
}

// SideShift returns how far the slots of roughing lie beside their track, mm, to the left
// of the feed under a spindle that turns clockwise.
func (w Work) SideShift(c Choice) float64 {
	force := 0.0
	for i, l := range w.Rough {
		force = math.Max(force, l.SideForce(ToothFeed(c.Rough[i], w.Tool.Flutes, c.Speed), w.Steel))
	}
	return SideShift(w.Tool.Deflection(force), true)
}

func (w Work) machineLimits(c Choice, f figures) []Limit {
	speeds, widest := w.Steel.Speeds(w.Tool.Material), w.widest()
	surface := SurfaceSpeed(widest, c.Speed)
	const speed = "surface speed at the effective diameter"
	return []Limit{
		{Name: speed, Value: surface, Bound: speeds.Most, Unit: "m/min", Source: fromData,
			Remedy: "turn the spindle slower"},
		{Name: speed, Value: surface, Bound: speeds.Least, Unit: "m/min", Least: true, Mild: true, Source: fromData,
			Remedy: "the spindle gives no more; the cutter lives, the face is rougher"},
		{Name: "spindle speed", Value: c.Speed, Bound: w.Spindle.Most, Unit: "rev/min", Source: fromMachine,
			Remedy: "take a larger ball"},
		{Name: "spindle speed", Value: c.Speed, Bound: w.Spindle.Least, Unit: "rev/min", Least: true, Source: fromMachine,
			Remedy: "take a smaller ball"},
		{Name: "feed", Value: f.feed, Bound: w.Spindle.FeedMost, Unit: "mm/min", Source: fromMachine,
			Remedy: "turn the spindle slower"},
		{Name: "power at the motor, with half as much again for what is not known", Value: f.power, Bound: w.Spindle.Power, Unit: "W", Source: fromMachine,
			Remedy: "take a stronger mill, or a smaller ball"},
	}
}

func (w Work) chipLimits(c Choice, f figures) []Limit {
	feed, rub := w.Steel.FeedPerTooth(w.Tool), RubbingLimit(w.Tool.Diameter)
	return []Limit{
		{Name: "feed per tooth", Value: f.thick, Bound: feed.Most, Unit: "mm", Source: fromData,
			Remedy: "feed it slower"},
		{Name: "feed per tooth", Value: f.thin, Bound: feed.Least, Unit: "mm", Least: true, Source: fromData,
			Remedy: "take a mill that turns slower or is stronger, or another ball"},
		{Name: "feed of the worst placed tooth", Value: SingleToothChip(f.thick, w.Tool.RunOut, w.Tool.Flutes), Bound: feed.Most, Unit: "mm", Mild: true,
			Source: fromData, Remedy: fmt.Sprintf("a run-out under %.3f mm at the tip", math.Max(0, feed.Most-f.thick))},
		{Name: "run-out against the feed per tooth", Value: w.Tool.RunOut, Bound: RunOutShare * f.thin, Unit: "mm", Mild: true, Source: fromGeometry,
			Remedy: fmt.Sprintf("a run-out under %.3f mm at the tip", RunOutShare*f.thin)},
		{Name: "thickest chip against rubbing", Value: f.chip, Bound: rub, Unit: "mm", Least: true, Mild: true, Source: "judgement, from edge radii",
			Remedy: fmt.Sprintf("a feed per tooth of %.4f mm would do", f.thin*rub/f.chip)},
	}
}

func (w Work) strengthLimits(f figures) []Limit {
	_, depth := w.Steel.LevelDepth(w.Tool)
	limits := []Limit{
		{Name: "depth of a level", Value: f.deepest, Bound: depth, Unit: "mm", Source: fromData,
			Remedy: "take a larger ball"},
		{Name: "depth against the flutes", Value: f.total, Bound: math.Min(w.Tool.FluteLength, w.Tool.StickOut), Unit: "mm", Source: fromDrawer,
			Remedy: "take a ball with longer flutes, or make the fuller less deep"},
		{Name: "bending stress in the cutter", Value: f.stress, Bound: w.Strength.Stress, Unit: "N/mm²", Source: fromLimits,
			Remedy: "take a larger ball, or make the fuller less deep"},
	}
	for _, bent := range []struct {
		name      string
		value     float64
		finishing bool
	}{{"deflection of the cutter in roughing", f.bend, false}, {"deflection of the cutter in finishing", f.bendFinish, true}} {
		bound := w.Strength.bendMost(w.Tool.Diameter, bent.finishing)
		limits = append(limits, Limit{Name: bent.name, Value: bent.value, Bound: bound, Unit: "mm", Source: fromLimits,
			Remedy: "let the cutter stand out less, or take a larger ball"})
	}
	return limits
}
