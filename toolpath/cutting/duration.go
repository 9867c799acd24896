package cutting

import "math"

// Stretch is a move whose speed along its path rises, holds and falls at one
// acceleration: its length in mm, its feed and the feeds at which it begins and ends in
// mm/min, and the acceleration in mm/s². Ends faster than the feed are taken at the
// feed; of two ends that the length cannot join the faster one is taken as fast as it
// can be joined.
type Stretch struct {
	Length, Feed, Begin, End float64
	Acceleration             float64
}

// speeds returns the speeds of both ends and the feed, mm/s.
func (s Stretch) speeds() (begin, end, cruise float64) {
	cruise = s.Feed / 60
	begin, end = math.Min(s.Begin/60, cruise), math.Min(s.End/60, cruise)
	joined := math.Sqrt(math.Pow(math.Min(begin, end), 2) + 2*s.Acceleration*s.Length)
	return math.Min(begin, joined), math.Min(end, joined), cruise
}

// Peak returns the greatest speed of the move, mm/s: the feed, or
// sqrt((2·a·L + v0² + v1²)/2) where it is too short to reach that.
func (s Stretch) Peak() float64 {
	begin, end, cruise := s.speeds()
	return math.Min(cruise, math.Sqrt((2*s.Acceleration*s.Length+begin*begin+end*end)/2))
}

// Reach returns the greatest feed at which the move can end where it begins at one, or
// begin where it ends at one, mm/min, whatever its own feed: sqrt(v² + 2·a·L).
func (s Stretch) Reach(feed float64) float64 {
	return 60 * math.Sqrt(feed*feed/3600+2*s.Acceleration*s.Length)
}

// Seconds returns the time that the move takes, with the peak vp and the feed v:
// (2·vp - v0 - v1)/a, and the rest of the length at v where that is reached. Kinematics;
// Collins, "How to calculate velocity from triangular and trapezoidal move profiles",
// Linear Motion Tips, read there.
func (s Stretch) Seconds() float64 {
	if s.Length <= 0 {
		return 0
	}
	begin, end, cruise := s.speeds()
	peak := s.Peak()
	seconds := (2*peak - begin - end) / s.Acceleration
	if peak < cruise {
		return seconds
	}
	return seconds + (s.Length-(2*peak*peak-begin*begin-end*end)/(2*s.Acceleration))/cruise
}

// MoveSeconds returns the time of a straight move from rest to rest with the given
// feed in mm/min and acceleration in mm/s²: L/v + v/a where the feed is reached,
// 2·sqrt(L/a) where it is not.
func MoveSeconds(length, feed, acceleration float64) float64 {
	return Stretch{Length: length, Feed: feed, Acceleration: acceleration}.Seconds()
}
