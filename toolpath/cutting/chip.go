package cutting

import "math"

// TopChip returns the greatest thickness of the chip of a ball-ended cutter in a slot, at
// the top of the contact: feed per tooth times D_eff/D. Derived.
func TopChip(perTooth, diameter, depth float64) float64 {
	return perTooth * EffectiveDiameter(diameter, depth) / diameter
}

// EdgeChip returns the mean chip thickness along a tooth of a ball in a full slot, where
// it is thickest: feed per tooth times depth over the length of the edge in the steel.
// Derived from the exact area of the chip.
func EdgeChip(perTooth, radius, depth float64) float64 {
	if depth <= 0 {
		return 0
	}
	return perTooth * depth / Level{radius, depth, depth}.edge(depth)
}

// EngagementAngle returns the angle over which a cutter that cuts with its side is in the
// steel: acos(1 - 2·width/D).
func EngagementAngle(diameter, width float64) float64 {
	return math.Acos(math.Max(-1, math.Min(1, 1-2*width/diameter)))
}

// GreatestSideChip returns the greatest thickness of the chip of a cutter that cuts with
// its side, a width less than half its diameter: feed per tooth · 2·sqrt(k·(1 - k)) with
// k = width/D, and the feed per tooth from half the diameter on. It is not
// MeanSideChip, though both go by the name of chip thinning: the two differ by half and
// more. Source: feed factors of a milling catalogue (Dormer Pramet 2021-22, p. 114), read there.
func GreatestSideChip(perTooth, diameter, width float64) float64 {
	return perTooth * EffectiveDiameter(diameter, width) / diameter
}

// MeanSideChip returns the mean thickness of the chip of a cutter that cuts with its
// side: feed per tooth · 2·k/acos(1 - 2·k) with k = width/D. Tool makers write
// sqrt(k) for it where k is under 0.3 (Uddeholm, Stellram; read there), 2 % more at 0.1.
func MeanSideChip(perTooth, diameter, width float64) float64 {
	if width <= 0 {
		return 0
	}
	k := math.Min(1, width/diameter)
	return perTooth * 2 * k / EngagementAngle(diameter, width)
}

// FeedForSideChip returns the feed per tooth at which the greatest chip of a cutter that
// cuts with its side is as thick as the chip asked for; width must be positive.
//
// The like of it for a ball, feed per tooth times D/D_eff, is left out on purpose: the
// speed of a ball is chosen at its effective diameter and so has that factor already.
func FeedForSideChip(chip, diameter, width float64) float64 {
	return chip * diameter / EffectiveDiameter(diameter, width)
}

// RubbingLimit returns the chip thickness under which a cutter rubs and does not cut,
// mm. Judgement, from edge radii of 2 to 10 µm and a least chip of 0.2 to 0.4 of them
// (Cheng et al., Int. J. Adv. Manuf. Technol. 97, 2018, for the second range).
func RubbingLimit(diameter float64) float64 {
	if diameter < 2 {
		return 0.0008
	}
	return 0.002
}

// SingleToothChip returns the feed that the worst placed tooth takes where the cutter
// runs out by a total indicator reading: feed per tooth + reading·sin(π/teeth), and no
// more than what all teeth together would take. Of two teeth one does all the work where
// the reading reaches the feed per tooth. Derived: exact for two teeth, an upper bound
// for more.
func SingleToothChip(perTooth, runOut float64, teeth int) float64 {
	n := float64(teeth)
	return math.Min(n*perTooth, perTooth+runOut*math.Sin(math.Pi/n))
}

// RunOutShare is the greatest run-out over the feed per tooth before a cutter is the
// worse for it (judgement).
const RunOutShare = 0.5
