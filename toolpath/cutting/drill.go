package cutting

import "math"

// A twist drill has two lips. Each takes half the feed of a turn over the drill's radius, so
// that its chip is half that feed times the sine of half the point angle thick, and presses
// against the turning with its chip's area times the specific force, a quarter of the
// diameter from the axis on the mean. Derived; drill makers write the same (power over
// feed, speed, diameter and specific force: f·v·D·kc/240000 kW, from memory). The chisel
// edge pushes and hardly turns, and is left out.

// DrillChip returns the thickness of the chips of a drill, mm, for its feed of a turn, mm,
// and its point angle, radians.
func DrillChip(turn, point float64) float64 { return turn / 2 * math.Sin(point/2) }

// DrillPower returns the power at a drill, W: the steel removed at its specific force. Good
// to ForceUncertainty.
func DrillPower(diameter, turn, spindle, specific float64) Estimate {
	removed := math.Pi / 4 * diameter * diameter * turn * spindle / 1000 // cm³/min
	return forceEstimate(SlotPower(removed, specific))
}
