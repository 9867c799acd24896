package cutting

import "math"

// Estimate is a figure that is known only to a share of itself.
type Estimate struct{ Value, Share float64 }

// Least returns the least that the figure may be.
func (e Estimate) Least() float64 { return e.Value * (1 - e.Share) }

// Most returns the greatest that the figure may be.
func (e Estimate) Most() float64 { return e.Value * (1 + e.Share) }

// ForceUncertainty is the share to which cutting forces and powers are known: published
// specific forces of one steel differ by up to twice, and those of thin chips are
// extrapolated.
const ForceUncertainty = 0.5

func forceEstimate(v float64) Estimate { return Estimate{v, ForceUncertainty} }

// SpecificForce returns the specific cutting force at a chip thickness, N/mm²:
// kc1.1·h^(-mc) (Kienzle). Under 0.05 mm the fit is an extrapolation; results are
// good to half and one and a half.
func SpecificForce(kc11, mc, chip float64) float64 { return kc11 * math.Pow(chip, -mc) }

// SpecificForce is SpecificForce with the constants of a steel.
func (d Data) SpecificForce(chip float64) float64 { return SpecificForce(d.KC11, d.MC, chip) }

// SlotPower returns the power at the cutter, W, for a removal rate in cm³/min at a
// specific force: Q·kc/60. Good to ForceUncertainty.
func SlotPower(removal, specific float64) float64 { return removal * specific / 60 }

// Efficiency is the part of the motor's power that comes to the cutter: 0.7 to 0.8 by
// tool makers (Mitsubishi 0.8, Kyocera 0.7 to 0.8, Dormer usually 0.75; read there).
const Efficiency = 0.75

// MotorPower returns the power at the motor for a power at the cutter.
func MotorPower(power, efficiency float64) float64 { return power / efficiency }

// Torque returns the torque on the spindle, N·m, of a power in W at the cutter:
// 30·P/(π·n).
func Torque(power, spindle float64) float64 { return 30 * power / (math.Pi * spindle) }

// PeakForce returns the greatest force on a tooth of a ball in a slot, N: the chip's
// area, feed per tooth times depth, times the specific force. Derived.
func PeakForce(perTooth, depth, specific float64) float64 { return perTooth * depth * specific }
