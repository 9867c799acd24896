package cutting

import "math"

// SurfaceSpeed returns the speed of a cutter's edge, m/min: π·D·n/1000.
func SurfaceSpeed(diameter, spindle float64) float64 { return math.Pi * diameter * spindle / 1000 }

// SpindleSpeed returns the spindle speed for a surface speed: 1000·v/(π·D).
func SpindleSpeed(surface, diameter float64) float64 { return 1000 * surface / (math.Pi * diameter) }

// Feed returns the feed of a cutter: feed per tooth times teeth times revolutions.
func Feed(perTooth float64, teeth int, spindle float64) float64 {
	return perTooth * float64(teeth) * spindle
}

// ToothFeed returns the feed per tooth, mm, at a feed: the inverse of Feed.
func ToothFeed(feed float64, teeth int, spindle float64) float64 {
	return feed / (float64(teeth) * spindle)
}

// RemovalRate returns the steel removed, cm³/min, by a cross-section in mm².
func RemovalRate(area, feed float64) float64 { return area * feed / 1000 }
