package toolpath

import (
	"math"
	"slices"

	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

// measure adds up path and time.
func (j *Job) measure(machine Machine) {
	j.Length, j.Seconds = 0, 0
	if len(j.Moves) == 0 {
		return
	}
	for _, s := range stretches(motionsOf(j.Moves, j.Moves[0].To), machine) {
		j.Length += s.Length
		j.Seconds += s.Seconds()
	}
}

// motionsOf returns moves as the machine makes them from where it stands.
func motionsOf(moves []Move, at motion.Vec) []motion.Motion {
	out := make([]motion.Motion, len(moves))
	for i, m := range moves {
		out[i] = motion.Motion{Kind: m.Kind, From: at, To: m.To, Plane: m.Plane, Centre: m.Centre, Sweep: m.Sweep, Feed: m.Feed}
		at = m.To
	}
	return out
}

// minutes returns how long a motion takes at its feed, min, without speeding up and slowing
// down.
func (m Machine) minutes(v motion.Motion) float64 {
	if v.Kind == motion.Rapid {
		return v.Length() / m.Rapid
	}
	return v.Length() / v.Feed
}

// secondsOf returns the time that the motions of a program take, without the way to the
// first point, which is not known.
func secondsOf(motions []motion.Motion, machine Machine) float64 {
	seconds := 0.0
	for _, v := range motions {
		if v.Kind == motion.Dwell {
			seconds += v.Seconds
		}
	}
	first := slices.IndexFunc(motions, func(v motion.Motion) bool { return v.Kind <= motion.Arc })
	for _, s := range stretches(motions[first+1:], machine) {
		seconds += s.Seconds()
	}
	return seconds
}

// smoothTurn is the turn between two motions up to which the machine goes on without
// stopping, radians: the chords that stand for a curve turn by less, and a true corner by
// more (judgement).
const smoothTurn = 3 * math.Pi / 180

// stretches returns motions with the feeds at which each begins and ends, on a machine that
// looks as far ahead as it must: it stands still before the first, after the last, at
// corners, for all that is no motion and between feed and rapid; it goes on through smooth
// joints at the slower of the two feeds, and is never faster than it can stop again.
func stretches(motions []motion.Motion, machine Machine) []cutting.Stretch {
	out := make([]cutting.Stretch, 0, len(motions))
	var before motion.Motion
	for _, m := range motions {
		s := cutting.Stretch{Length: m.Length(), Feed: m.Feed, Acceleration: machine.Acceleration}
		if m.Kind == motion.Rapid {
			s.Feed = machine.Rapid
		}
		if s.Feed <= 0 {
			before = motion.Motion{}
			continue
		}
		if goesOn(before, m) {
			s.Begin = math.Min(s.Feed, out[len(out)-1].Feed)
		}
		out, before = append(out, s), m
	}
	for i := 1; i < len(out); i++ {
		out[i].Begin = math.Min(out[i].Begin, out[i-1].Reach(out[i-1].Begin))
	}
	for i := len(out) - 2; i >= 0; i-- {
		out[i].End = out[i+1].Begin
		out[i].Begin = math.Min(out[i].Begin, out[i].Reach(out[i].End))
	}
	return out
}

// goesOn reports whether a motion follows another without a stop.
func goesOn(before, m motion.Motion) bool {
	if before.Kind == motion.None || (before.Kind == motion.Rapid) != (m.Kind == motion.Rapid) {
		return false
	}
	_, arrives := before.Directions()
	sets, _ := m.Directions()
	return arrives.Angle(sets) <= smoothTurn
}
