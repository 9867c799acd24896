package cutting

import "math"

// Spindle is what a mill gives a cutter: revolutions and feed a minute, and the motor's
// power in W.
type Spindle struct {
	Least, Most float64
	FeedMost    float64
	Power       float64
}

// Work is what a tool is to do in one steel on one mill: the levels of its slots, at
// least one.
type Work struct {
	Tool    Tool
	Steel   Data
	Spindle Spindle
	Levels  []Level
}

// Choice is a spindle speed in rev/min and a feed in mm/min.
type Choice struct{ Speed, Feed float64 }

// Choose returns the spindle speed and feed nearest to the steel's starting values that
// lie inside every limit that speed and feed can meet; Check says which they cannot. The
// error is a *Refusal where the tool is not to cut the steel at all.
//
// The surface speed is that at the widest effective diameter met. A chip thinned by the
// ball is no reason to feed faster, since the speed has that factor already; the feed per
// tooth is raised only where the cutter would rub, and never beyond its range. Where the
// tool is too weak the feed per tooth gives way; where the machine is, the speed does,
// and the feed per tooth only when the spindle turns as slowly as it can.
func (w Work) Choose() (Choice, error) {
	if err := w.Steel.Refuses(w.Tool); err != nil {
		return Choice{}, err
	}
	perTooth := w.toothFeed()
	speed := SpindleSpeed(w.Steel.Speeds(w.Tool.Material).Start, w.widest())
	speed = math.Max(w.Spindle.Least, math.Min(w.Spindle.Most, speed))
	// Feed and power grow with the speed.
	atSpeed := w.at(perTooth, speed)
	share := math.Min(1, math.Min(w.Spindle.FeedMost/atSpeed.Feed, w.Spindle.Power/w.motorPower(atSpeed)))
	speed = math.Max(w.Spindle.Least, speed*share)
	// What a spindle at its slowest leaves over, the feed per tooth takes up.
	slowest := w.at(perTooth, speed)
	perTooth *= math.Min(1, math.Min(w.Spindle.FeedMost/slowest.Feed, w.forceShare(w.Spindle.Power/w.motorPower(slowest))))
	return w.at(perTooth, speed), nil
}

func (w Work) at(perTooth, speed float64) Choice {
	return Choice{speed, Feed(perTooth, w.Tool.Flutes, speed)}
}

// toothFeed returns the feed per tooth that the tool is strong enough for and that does
// not rub, as near to the starting value as may be.
func (w Work) toothFeed() float64 {
	feed := w.Steel.FeedPerTooth(w.Tool)
	perTooth := feed.Start
	if chip := w.thinnest(perTooth); chip < RubbingLimit(w.Tool.Diameter) {
		perTooth = math.Min(feed.Most, perTooth*RubbingLimit(w.Tool.Diameter)/chip)
	}
	force := w.force(perTooth)
	room := math.Min(DeflectionMost(w.Tool.Diameter, false)/w.Tool.Deflection(force), StressMost/w.Tool.Stress(force))
	return perTooth * math.Min(1, w.forceShare(room))
}

// forceShare returns the share of a feed per tooth that makes forces the given share of
// what they were: forces go with the feed to the power 1 - mc.
func (w Work) forceShare(share float64) float64 { return math.Pow(share, 1/(1-w.Steel.MC)) }

// over returns the greatest of a figure over the levels.
func (w Work) over(figure func(l Level) float64) float64 {
	greatest := 0.0
	for _, l := range w.Levels {
		greatest = math.Max(greatest, figure(l))
	}
	return greatest
}

func (w Work) widest() float64 { return w.over(Level.EffectiveDiameter) }

func (w Work) deepest() float64 { return w.over(func(l Level) float64 { return l.Depth }) }

// force returns the greatest force on a tooth, N.
func (w Work) force(perTooth float64) float64 {
	return w.over(func(l Level) float64 { return l.PeakForce(perTooth, w.Steel) })
}

// thinnest returns the least among the levels' thickest chips, mm.
func (w Work) thinnest(perTooth float64) float64 {
	least := math.Inf(1)
	for _, l := range w.Levels {
		least = math.Min(least, l.ThickestChip(perTooth))
	}
	return least
}

// motorPower returns the greatest power that the motor may have to give, W.
func (w Work) motorPower(c Choice) float64 {
	perTooth := ToothFeed(c.Feed, w.Tool.Flutes, c.Speed)
	return MotorPower(w.over(func(l Level) float64 { return l.Power(perTooth, c.Feed, w.Steel).Most() }), Efficiency)
}
