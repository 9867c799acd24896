package cutting

import "math"

// Equivalent diameter of a fluted cutter over its nominal one for bending: about 0.8
// for two and four flutes (Kops and Vo, CIRP Annals 1990; abstract read).
const bendingDiameter = 0.8

// Young's moduli, N/mm², from memory of makers' data: tungsten carbide 550 000 to
// 650 000, high-speed steel 200 000 to 220 000.
const (
	carbideModulus = 600000
	hssModulus     = 210000
)

func modulusOf(hss bool) float64 {
	if hss {
		return hssModulus
	}
	return carbideModulus
}

// inertia returns the second moment of area of a round rod, mm⁴.
func inertia(diameter float64) float64 { return math.Pi * math.Pow(diameter, 4) / 64 }

// Deflection returns how far the tip of a cutter that is fluted as far as the holder
// bends aside under a force at the tip, mm: F·L³/(3·E·I) with I of 0.8 of the diameter.
// The holder and the machine give way as well: it is a lower bound.
func Deflection(force, stickOut, diameter float64, hss bool) float64 {
	return force * math.Pow(stickOut, 3) / (3 * modulusOf(hss) * inertia(bendingDiameter*diameter))
}

// Deflection returns how far the tip of a cutter bends aside under a force at the tip,
// mm, with 0.8 of the diameter along the flutes (Lf) and the whole shank above them to
// the holder (L): F/(3·E)·(Lf³/If + (L³ - Lf³)/Is). The holder and the machine give way
// as well: it is a lower bound.
func (t Tool) Deflection(force float64) float64 {
	fluted, whole := math.Pow(t.fluted(), 3), math.Pow(t.StickOut, 3)
	return force / (3 * modulusOf(t.Material == HighSpeedSteel)) *
		(fluted/inertia(bendingDiameter*t.Diameter) + (whole-fluted)/inertia(t.ShankDiameter))
}

func (t Tool) fluted() float64 { return math.Min(t.FluteLength, t.StickOut) }

// Stress returns the greatest bending stress in a cutter under a force at the tip,
// N/mm²: 32·F·L/(π·d³), at the upper end of the flutes with 0.8 of the diameter or at
// the holder with the shank.
func (t Tool) Stress(force float64) float64 {
	at := func(arm, diameter float64) float64 { return 32 * force * arm / (math.Pi * math.Pow(diameter, 3)) }
	flutes := at(t.fluted(), bendingDiameter*t.Diameter)
	if t.StickOut <= t.FluteLength {
		return flutes
	}
	return math.Max(flutes, at(t.StickOut, t.ShankDiameter))
}

// StressMost is the greatest bending stress in a cutter that cuts by fits and starts,
// N/mm²: from memory, the rupture strength of carbide is 3000 to 4000, of which 800 to
// 1000 are allowed (judgement). High-speed steel is as strong and tougher; it is held to
// the same.
const StressMost = 800

// How far a cutter may bend aside in roughing and in finishing, mm, and in either as a
// part of its diameter (judgement).
const roughDeflection, finishDeflection, deflectionShare = 0.03, 0.01, 0.01

// DeflectionMost returns how far a cutter may bend aside where the shop says nothing else,
// mm: 0.03 in roughing, 0.01 in finishing, and no more than a hundredth of the diameter.
func DeflectionMost(diameter float64, finishing bool) float64 {
	return DefaultStrength().bendMost(diameter, finishing)
}

// SideShift returns how far a slot lies beside the programmed track, mm: positive to the
// left of the feed, seen from above. The tooth straight ahead moves to the right under a
// spindle that turns clockwise, so that the steel pushes the cutter to the left, by its
// deflection; a spindle that turns the other way is pushed to the right. A slot cut back
// the other way is shifted the other way, so that passes to and fro widen it by twice
// this. Derived. It is an upper bound: teeth that finish the walls carry less than the
// one ahead.
func SideShift(deflection float64, clockwise bool) float64 {
	if clockwise {
		return deflection
	}
	return -deflection
}
