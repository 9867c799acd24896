package cutting

import "fmt"

// Condition is how the steel of a bar was left by heat.
type Condition string

// The conditions of a bar.
const (
	Annealed   Condition = "annealed"
	Normalised Condition = "normalised" // or as hot-rolled
	Hardened   Condition = "hardened"
)

// Hardnesses of a bar by its condition.
const (
	// NormalisedHB is that of normalised 1080 and 1095 (ASM Metals Handbook, from memory),
	// and normalisedHRC the same after ASTM E140, from memory.
	NormalisedHB, normalisedHRC = 293, 31
	// AnnealedHB is the hardness up to which makers publish slot data for annealed carbon
	// steel (Kyocera SGS, read there).
	AnnealedHB = 225
)

// Stock is the steel of a bar: its condition and, where it is hardened, its hardness.
// The zero value is annealed.
type Stock struct {
	Condition Condition
	HRC       float64
}

// DefaultHardestHRC is the hardness beyond which steel counts as hardened (group H of
// ISO 513) and is refused unless the shop's own data reach further.
const DefaultHardestHRC = 45

// Advice returns what the maker is to do before milling the stock, or nothing.
func (s Stock) Advice() string {
	if s.Condition == Normalised {
		return "grind the scale and the skin under it off first: they destroy small cutters"
	}
	return ""
}

// For returns the data for a bar in a condition. A normalised or hot-rolled bar takes 0.6
// of the surface speed, and a bar hardened to no more than DefaultHardestHRC the share of
// its hardness. Beyond that the data must be the shop's own, which say how hard the steel
// may be; else the error is a *Refusal.
func (d Data) For(s Stock) (Data, error) {
	switch {
	case s.Condition == Normalised:
		return d.Faster(hardnessShare(normalisedHRC)), nil
	case s.Condition != Hardened:
		return d, nil
	case s.HRC <= 0:
		return Data{}, &Refusal{"the bar is hardened and its hardness is not given", "measure it, or anneal the bar and mill it soft"}
	case s.HRC <= DefaultHardestHRC:
		return d.Faster(hardnessShare(s.HRC)), nil
	case s.HRC > d.HardestHRC:
		return Data{}, &Refusal{fmt.Sprintf("the bar is hardened to %g HRC, and the data hold up to %g HRC", s.HRC, max(d.HardestHRC, DefaultHardestHRC)),
			"mill it annealed and harden it afterwards, or give the shop file a steel with data of its own for that hardness"}
	}
	return d.hardened(s.HRC), nil
}

// hardnessShare returns the surface speed over that in annealed steel by hardness up to
// 45 HRC. Source: speeds for milling 1055 to 1095 with high-speed steel as reproduced
// from Machinery's Handbook, read there: 75, 60, 45, 30 and 15 feet a minute at 175-225,
// 225-275, 275-325, 325-375 and 375-425 HB; HRC for HB after ASTM E140, from memory.
func hardnessShare(hrc float64) float64 {
	switch {
	case hrc <= 20:
		return 1
	case hrc <= 28:
		return 0.8
	case hrc <= 34:
		return 0.6
	case hrc <= 40:
		return 0.4
	}
	return 0.2
}

// hardened returns the shop's own data, whose speeds hold as they stand, with what is
// published for hardened steel: specific forces of groups 38 and 39 (ISCAR, read there;
// that table has no exponent, and the one of tool steel is taken), and levels of at most
// 0.05 of the diameter, 0.02 from 58 HRC on (judgement inside makers' tables).
func (d Data) hardened(hrc float64) Data {
	d.hard = true
	d.KC11, d.MC = 4600, .23
	depth := .05
	if hrc >= 58 {
		d.KC11, depth = 4700, .02
	}
	d.DepthRatioMost = min(d.DepthRatioMost, depth)
	d.DepthRatio = min(d.DepthRatio, depth)
	return d
}
