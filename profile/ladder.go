package profile

// Rung is a state of the work between the bar and the finished knife.
type Rung string

// The rungs of the allowance ladder, from the finished knife back to the bar.
const (
	Finished        Rung = "finished"
	BeforeHardening Rung = "before hardening"
	AsMilled        Rung = "as milled"
	BarRung         Rung = "bar"
)

// LadderStep is one rung of the ladder at the ricasso: what the micrometer should
// read across the flats there, and the length from the guard plane to the point.
type LadderStep struct {
	Rung        Rung
	Thickness   float64 // mm
	Length      float64 // mm
	TakenByNext float64 // off each face to reach the rung before, mm
	Why         string
}

// Ladder returns the rungs from the finished knife to the bar. The thickness of each
// is at least that of the one before.
func Ladder(k Knife, bar Bar) []LadderStep {
	a := k.Allowance
	finished := k.Blade.Thickness
	hardening := finished + 2*(a.Finish+a.Scale)
	thickness := bar.Thickness(0)
	bought := bar.Bought().Thickness(0)
	soft := k.Blade.Length / (1 + a.Growth)
	milling, why := "fullers are milled while the bar still has its parallel faces", "the bar that goes into the vise"
	if bar.TaperedFirst() {
		milling, why = "fullers are milled from each face once it is ground to the taper", "the bar as bought, whose faces are ground to the taper first"
	}
	return []LadderStep{
		{Finished, finished, k.Blade.Length, 0, "as the knife file gives it"},
		{BeforeHardening, hardening, soft, a.Finish + a.Scale, "scale, decarburised skin, final grinding, sanding and etching; lengths before they grow"},
		{AsMilled, thickness, soft, (thickness - hardening) / 2, milling},
		{BarRung, bought, soft, (bought - thickness) / 2, why},
	}
}

// BeforeHardening returns the knife with the lengths in the plane of its face as they
// must be before hardening, so that they have grown to their finished size after it:
// each is divided by 1 + growth. Radii, depths and thicknesses stay, since growth
// changes them by less than a micrometre.
func (k Knife) BeforeHardening() Knife {
	if k.Allowance.Growth == 0 {
		return k
	}
	soft := k.copied()
	soft.eachParameter(func(group ParameterGroup, index int, p Parameter) {
		field := p.field(&soft, index)
		if value, known := quantity(field); p.InPlane && known {
			setQuantity(field, value/(1+k.Allowance.Growth))
		}
	})
	return soft
}
