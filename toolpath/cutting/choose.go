package cutting

import (
	"math"
	"slices"
)

// Spindle is what a mill gives a cutter: revolutions and feed a minute, and the motor's
// power in W.
type Spindle struct {
	Least, Most float64
	FeedMost    float64
	Power       float64
}

// Strength is how far a cutter may be bent and stressed, mm and N/mm². No cutter may bend
// by more than a hundredth of its diameter besides.
type Strength struct{ Rough, Finish, Stress float64 }

// DefaultStrength returns the limits of judgement (DeflectionMost, StressMost).
func DefaultStrength() Strength { return Strength{roughDeflection, finishDeflection, StressMost} }

// bendMost returns how far a cutter may bend, mm.
func (s Strength) bendMost(diameter float64, finishing bool) float64 {
	if finishing {
		return math.Min(s.Finish, deflectionShare*diameter)
	}
	return math.Min(s.Rough, deflectionShare*diameter)
}

// Work is what a ball is to do in one steel on one mill: the levels of its roughing and
// those of its finishing, of which there must be one at least.
type Work struct {
	Tool     Tool
	Steel    Data
	Spindle  Spindle
	Strength Strength
	Rough    []Level
	Finish   []Level
	Widest   float64 // effective diameter of a wider contact than that of the levels, mm; 0 where there is none

	means map[Level]float64 // mean chips for a feed per tooth of 1 mm, which are dear
}

// withMeans returns the work with the mean chips of its levels.
func (w Work) withMeans() Work {
	if w.means == nil {
		w.means = map[Level]float64{}
		for _, l := range slices.Concat(w.Rough, w.Finish) {
			w.means[l] = l.MeanChip(1)
		}
	}
	return w
}

// Choice is a spindle speed in rev/min, and feeds in mm/min: of each level of roughing, and
// of finishing, 0 where there is none.
type Choice struct {
	Speed  float64
	Rough  []float64
	Finish float64
}

// slowness is how long a millimetre of every level takes, min.
func (c Choice) slowness() float64 {
	sum := 0.0
	for _, feed := range c.Rough {
		sum += 1 / feed
	}
	if c.Finish > 0 {
		sum += 1 / c.Finish
	}
	return sum
}

// Choose returns the spindle speed and the feeds that take the least time inside every
// limit that speed and feed can meet; Check says which they cannot. The error is a *Refusal
// where the tool is not to cut the steel at all.
//
// The surface speed is that at the widest effective diameter met, and a chip thinned by the
// ball is no reason to feed beyond the range of the feed per tooth, since the speed has
// that factor already. Each level is fed as fast as its own engagement lets the cutter
// bear. Where the mill is too weak or too slow for that, the spindle turns slower if that
// saves time or costs none, since thick chips take less power.
func (w Work) Choose() (Choice, error) {
	if err := w.Steel.Refuses(w.Tool); err != nil {
		return Choice{}, err
	}
	w = w.withMeans()
	speeds := w.Steel.Speeds(w.Tool.Material)
	inside := func(speed float64) float64 { return math.Max(w.Spindle.Least, math.Min(w.Spindle.Most, speed)) }
	top := inside(SpindleSpeed(speeds.Most, w.widest()))
	floor := math.Min(top, inside(SpindleSpeed(speeds.Least, w.widest())))
	candidates := []float64{top}
	for _, l := range slices.Concat(w.Rough, w.Finish) {
		strong := w.strong(l, slices.Contains(w.Finish, l))
		feed := Feed(strong, w.Tool.Flutes, top)
		share := math.Min(w.Spindle.FeedMost/feed, w.Spindle.Power/w.motorPower(l, strong, feed))
		candidates = append(candidates, math.Max(floor, top*math.Min(1, share)))
	}
	slices.Sort(candidates)
	best := w.at(candidates[0])
	for _, speed := range candidates[1:] {
		if c := w.at(speed); c.slowness() < best.slowness()*(1-rounding) {
			best = c
		}
	}
	return best, nil
}

// at returns the fastest feeds at a spindle speed.
func (w Work) at(speed float64) Choice {
	c := Choice{Speed: speed}
	for _, l := range w.Rough {
		c.Rough = append(c.Rough, w.feed(l, speed, false))
	}
	for _, l := range w.Finish {
		feed := w.feed(l, speed, true)
		if c.Finish == 0 || feed < c.Finish {
			c.Finish = feed
		}
	}
	return c
}

// feed returns the fastest feed of a level at a spindle speed.
func (w Work) feed(l Level, speed float64, finishing bool) float64 {
	perTooth := w.strong(l, finishing)
	share := w.forceShare(w.Spindle.Power / w.motorPower(l, perTooth, Feed(perTooth, w.Tool.Flutes, speed)))
	perTooth = math.Max(perTooth*math.Min(1, share), w.Steel.FeedPerTooth(w.Tool).Least)
	return math.Min(w.Spindle.FeedMost, Feed(perTooth, w.Tool.Flutes, speed))
}

// strong returns the greatest feed per tooth that lies in the range, that the tool is
// strong enough for, and with which the worst placed tooth of one that runs out stays in
// the range, too; this last goes no lower than the value to start with, and nothing lower
// than the range.
func (w Work) strong(l Level, finishing bool) float64 {
	feed := w.Steel.FeedPerTooth(w.Tool)
	outer := w.Tool.RunOut * math.Sin(math.Pi/float64(w.Tool.Flutes))
	perTooth := math.Max(math.Min(feed.Start, feed.Most), feed.Most-outer)
	force := l.PeakForce(perTooth, w.Steel)
	bend := w.Strength.bendMost(w.Tool.Diameter, finishing)
	room := math.Min(bend/w.Tool.Deflection(force), w.Strength.Stress/w.Tool.Stress(force))
	return math.Max(feed.Least, perTooth*math.Min(1, w.forceShare(room)))
}

// forceShare returns the share of a feed per tooth that makes forces the given share of
// what they were: forces go with the feed to the power 1 - mc.
func (w Work) forceShare(share float64) float64 { return math.Pow(share, 1/(1-w.Steel.MC)) }

// widest returns the widest effective diameter of all levels, mm.
func (w Work) widest() float64 {
	widest := w.Widest
	for _, l := range slices.Concat(w.Rough, w.Finish) {
		widest = math.Max(widest, l.EffectiveDiameter())
	}
	return widest
}

// motorPower returns the power that the motor may have to give in a level, W.
func (w Work) motorPower(l Level, perTooth, feed float64) float64 {
	return MotorPower(l.powerAt(w.means[l]*perTooth, feed, w.Steel).Most(), Efficiency)
}
