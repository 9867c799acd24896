package cutting

import "math"

// RampLength returns the length over which a straight ramp at an angle sinks a cutter by
// depth: depth/tan(angle). Source: a tool maker's guide (Kyocera), read there.
func RampLength(depth, angle float64) float64 { return depth / math.Tan(angle) }

// ArcEntryAngle returns the angle at which an arc of the given radius, tangent to the
// floor at depth, enters the face: acos(1 - depth/radius). It is the steepest along the
// arc. Derived.
func ArcEntryAngle(radius, depth float64) float64 { return HalfAngle(radius, depth) }

// ArcEntryDepth returns how deep one level along such an arc may be for it to enter at no
// more than an angle: radius·(1 - cos(angle)), the inverse of ArcEntryAngle.
func ArcEntryDepth(radius, angle float64) float64 { return radius * (1 - math.Cos(angle)) }

// PlungeFeed returns the feed of a cutter with a cutting centre straight down: the feed
// per tooth read as a feed per revolution (Dormer, read there).
func PlungeFeed(perTooth, spindle float64) float64 { return perTooth * spindle }
