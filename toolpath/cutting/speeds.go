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

// RemovalRate returns the steel removed, cm³/min, by a cross-section in mm².
func RemovalRate(area, feed float64) float64 { return area * feed / 1000 }

// TopChip returns the greatest thickness of the chip of a ball-ended cutter, at the top
// of the contact: feed per tooth times D_eff/D. Derived.
func TopChip(perTooth, diameter, depth float64) float64 {
	return perTooth * EffectiveDiameter(diameter, depth) / diameter
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

// SpecificForce returns the specific cutting force at a chip thickness, N/mm²:
// kc1.1·h^(-mc) (Kienzle). Under 0.05 mm the fit is an extrapolation; results are
// good to half and one and a half.
func SpecificForce(kc11, mc, chip float64) float64 { return kc11 * math.Pow(chip, -mc) }

// EdgeChip returns the mean chip thickness along a tooth of a ball in a full slot, where
// it is thickest: feed per tooth times depth over the length of the edge in the steel.
// Derived from the exact area of the chip.
func EdgeChip(perTooth, radius, depth float64) float64 {
	if depth <= 0 {
		return 0
	}
	// Beyond the radius the edge goes straight up.
	edge := radius*math.Acos(math.Max(0, 1-depth/radius)) + math.Max(0, depth-radius)
	return perTooth * depth / edge
}

// SlotPower returns the power at the cutter, W, for a removal rate in cm³/min at a
// specific force: Q·kc/60. Good to ±50 %.
func SlotPower(removal, specific float64) float64 { return removal * specific / 60 }

// PeakForce returns the greatest force on a tooth of a ball in a slot, N: the chip's
// area, feed per tooth times depth, times the specific force. Derived.
func PeakForce(perTooth, depth, specific float64) float64 { return perTooth * depth * specific }

// Equivalent diameter of a fluted cutter over its nominal one for bending: about 0.8
// for two and four flutes (Kops and Vo, CIRP Annals 1990; abstract read).
const bendingDiameter = 0.8

// Young's moduli, N/mm², from memory of makers' data: tungsten carbide 550 000 to
// 650 000, high-speed steel 200 000 to 220 000.
const (
	carbideModulus = 600000
	hssModulus     = 210000
)

// Deflection returns how far the tip of a cutter bends aside under a force at the
// tip, mm: F·L³/(3·E·I) with I of 0.8 of the diameter. The machine gives way as well:
// it is a lower bound.
func Deflection(force, stickOut, diameter float64, hss bool) float64 {
	modulus := float64(carbideModulus)
	if hss {
		modulus = hssModulus
	}
	inertia := math.Pi * math.Pow(bendingDiameter*diameter, 4) / 64
	return force * math.Pow(stickOut, 3) / (3 * modulus * inertia)
}

// MoveSeconds returns the time of a straight move from rest to rest with the given
// feed in mm/min and acceleration in mm/s²: L/v + v/a where the feed is reached,
// 2·sqrt(L/a) where it is not.
func MoveSeconds(length, feed, acceleration float64) float64 {
	v := feed / 60
	if length >= v*v/acceleration {
		return length/v + v/acceleration
	}
	return 2 * math.Sqrt(length/acceleration)
}
