package toolpath

import (
	"math"

	"fullerwright/profile"
	"fullerwright/profile/strength"
)

const fromPractice = "common practice, no source"

// pointBack is how far behind the point its thickness is looked at, mm.
const pointBack = 10

// groundChecks looks at what the grinder makes: the angle of the bevel along the edge,
// the edge before hardening, the hollow, and the point.
func groundChecks(b profile.Blade, shop Shop) []Check {
	table := b.GrindingTable(checkStations)
	steep, shallow := table[0], table[0]
	for _, s := range table {
		if s.EdgeAngle > steep.EdgeAngle {
			steep = s
		}
		if s.Angle < shallow.Angle {
			shallow = s
		}
	}
	const degrees = 180 / math.Pi
	k := b.Knife
	edge := k.Bevel.EdgeThickness + 2*(k.Allowance.Finish+k.Allowance.Scale)
	out := []Check{
		most("bevel, square to the edge", steep.EdgeAngle*degrees, shop.Limits.BevelMost.Degrees(), "degrees").at("%.0f mm from the guard plane", steep.X).
			from("shop file, limits.bevel_most; "+fromPractice).
			orElse("a bevel %.2f mm high would do", over(steep.Height*math.Tan(steep.EdgeAngle)/math.Tan(shop.Limits.BevelMost.Radians()))),
		least("bevel", shallow.Angle*degrees, shop.Limits.BevelLeast.Degrees(), "degrees").at("%.0f mm from the guard plane", shallow.X).
			from("shop file, limits.bevel_least; "+fromPractice).
			orElse("a bevel %.2f mm high would do, or an edge %.2f mm thick", under((shallow.Thickness-k.Bevel.EdgeThickness)/2/math.Tan(shop.Limits.BevelLeast.Radians())),
				math.Max(0.05, under(shallow.Thickness-2*shallow.Height*math.Tan(shop.Limits.BevelLeast.Radians())))),
		least("edge before hardening", edge, shop.Limits.EdgeBeforeQuench, "mm").at("along the edge").
			from("shop file, limits.edge_before_quench; "+fromPractice+": a thinner edge warps and cracks in the quench").
			orElse("bevel.edge_thickness of %.2f mm would do", over(k.Bevel.EdgeThickness+shop.Limits.EdgeBeforeQuench-edge)),
	}
	out = append(out, hollowChecks(table, k.Bevel.WheelRadius.Value)...)
	return append(out, pointCheck(b, shop))
}

// hollowChecks looks for the station where a hollow bevel comes nearest to being
// thinner over the edge than at it.
func hollowChecks(table []profile.GrindingStation, wheel float64) []Check {
	worst, found := profile.GrindingStation{}, false
	spare := func(s profile.GrindingStation) float64 { return s.HollowCeiling.Value - s.Height }
	for _, s := range table {
		if s.HollowCeiling.Known && (!found || spare(s) < spare(worst)) {
			worst, found = s, true
		}
	}
	if !found {
		return nil
	}
	return []Check{most("height of the hollow bevel", worst.Height, worst.HollowCeiling.Value, "mm").at("%.0f mm from the guard plane", worst.X).
		from("geometry: a higher one leaves the blade thinner over the edge than at it").
		orElse("a bevel %.2f mm high would do, or a wheel of %.0f mm radius", under(worst.HollowCeiling.Value), math.Ceil(wheel*math.Pow(worst.Height/worst.HollowCeiling.Value, 2)*1.01))}
}

// pointCheck looks at the thickest place shortly behind the point.
func pointCheck(b profile.Blade, shop Shop) Check {
	x := b.Knife.Blade.Length - pointBack
	c := b.CrossSectionAt(x)
	thickest := 0.0
	for i := range checkStations {
		y := math.Min(c.Top, c.Bottom+(c.Top-c.Bottom)*float64(i)/(checkStations-1)) // by a rounding it would be off the blade
		thickest = math.Max(thickest, c.Half(profile.Right, y)+c.Half(profile.Left, y))
	}
	return least("thickness behind the point", thickest, shop.Limits.PointThickness, "mm").at("%.0f mm from the guard plane", x).
		from("shop file, limits.point_thickness; "+fromPractice).
		orElse("the thickness there must grow by %.2f mm: a thicker last taper station, or lower bevels", over(shop.Limits.PointThickness-thickest))
}

// tangChecks looks at the tang, its inside corners and what seats on the shoulder.
func tangChecks(b profile.Blade, shop Shop) []Check {
	k := b.Knife
	s := b.ShoulderMeasures()
	ricasso := k.RicassoWidth()
	const seat = 1.0 // mm
	out := []Check{
		least("higher step of the shoulder, for the guard to seat on", math.Max(k.ShoulderTop(), k.ShoulderBottom()), seat, "mm").at("at the guard plane").
			from(fromPractice).orElse("a tang of %.2f mm would leave it", under(ricasso-seat)),
		least("width of the tang over that of the ricasso", k.Tang.Width/ricasso, shop.Limits.TangRatio, "").at("at the guard plane").
			from("shop file, limits.tang_ratio; "+fromPractice).orElse("a tang of %.2f mm would do", over(shop.Limits.TangRatio*ricasso)),
	}
	lower := math.Min(k.ShoulderTop(), k.ShoulderBottom())
	if s.Outside != "" && lower > k.Tang.CornerRadius {
		out = append(out, most("height of the shoulder's step over the inside corner's radius", lower/k.Tang.CornerRadius, strength.MostRatio, "").at("at the guard plane").mild().
			from("Roark's Formulas for Stress and Strain, table 17.1: a sharper corner is beyond what is known").
			orElse("a corner of %.2f mm would do", over(lower/strength.MostRatio)))
	}
	if s.Concentration > 0 {
		const tolerable = 3 // times; common practice has radii that come to 2 to 3
		out = append(out, most("stress at the inside corner over the plain one", s.Concentration, tolerable, "times").at("at the guard plane").mild().
			from("Roark's Formulas for Stress and Strain, table 17.1; the limit is judgement").
			orElse("a corner of %.2f mm would do", over(k.Tang.CornerRadius*math.Pow(s.Concentration/tolerable, 2))))
	}
	if k.Guard.Thickness > 0 {
		out = append(out, least("chamfer of the guard's slot over the inside corners", k.Guard.Chamfer, s.ChamferNeeded, "mm").at("at the guard plane").mild().
			from("geometry: a sharp rim stands off by r - sqrt(2rc - c²)").
			orElse("a chamfer of %.2f mm would let the guard close; without it a gap of %.2f mm is left", s.ChamferNeeded, s.StandOff))
		if needed := s.ChamferNeeded; needed > 0 {
			out = append(out, least("lower step of the shoulder over that chamfer", lower, needed+strength.CoverMargin, "mm").at("at the guard plane").mild().
				from(fromPractice+": the chamfer must not show").orElse("a step of %.2f mm would hide it", needed+strength.CoverMargin))
		}
	}
	return out
}

// hiltChecks looks at how the parts of the hilt stack up on the tang.
func hiltChecks(b profile.Blade, shop Shop) []Check {
	s := b.Knife.StackMeasures()
	var out []Check
	if s.Handle > s.Spacers {
		const share = 2.0 / 3
		length := s.Handle - s.Spacers
		inside := math.Max(0, math.Min(s.Tang, s.Handle)-s.Spacers)
		out = append(out, least("tang inside the handle over the handle's length", inside/length, share, "").at("in the handle").
			from(fromPractice).orElse("a tang of %.2f mm would do", over(s.Spacers+share*length)))
	}
	if !s.Threaded {
		return out
	}
	return append(out,
		least("thread engaged in the pommel", s.Engagement, s.Wanted, "mm").at("in the pommel").from(fromPractice+": one and a half diameters").
			orElse("a thread %.2f mm longer would do, if the pommel's hole is as deep", over(s.Wanted-s.Engagement)),
		least("wall of the pommel beside its thread", s.WallLeft, shop.Limits.PommelWall, "mm").at("in the pommel").
			from("shop file, limits.pommel_wall; "+fromPractice).orElse("a pommel %.2f mm wider would do", over(2*(shop.Limits.PommelWall-s.WallLeft))),
		most("rod longer than the pommel's hole", s.Bottoms, 0, "mm").at("in the pommel").
			from("geometry: it bottoms before it clamps").orElse("a thread %.2f mm shorter would do", over(s.Bottoms)),
	)
}
