package toolpath

import (
	"fmt"
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
		steepBevel(b, most("bevel, square to the edge", steep.EdgeAngle*degrees, shop.Limits.BevelMost.Degrees(), "degrees").at("%.0f mm from the guard plane", steep.X).
			from("shop file, limits.bevel_most; "+fromPractice), steep, shop.Limits.BevelMost.Radians()),
		shallowBevel(b, least("bevel", shallow.Angle*degrees, shop.Limits.BevelLeast.Degrees(), "degrees").at("%.0f mm from the guard plane", shallow.X).
			from("shop file, limits.bevel_least; "+fromPractice), shallow, shop.Limits.BevelLeast.Radians()),
		least("edge before hardening", edge, shop.Limits.EdgeBeforeQuench, "mm").at("along the edge").
			from("shop file, limits.edge_before_quench; "+fromPractice+": a thinner edge warps and cracks in the quench").
			orElse("leave the edge thicker").
			by("bevel.edge_thickness", over(k.Bevel.EdgeThickness+shop.Limits.EdgeBeforeQuench-edge)),
	}
	out = append(out, hollowChecks(b, table, k.Bevel.WheelRadius.Value)...)
	return append(append(out, taperCheck(k)...), pointCheck(b, shop))
}

// taperCheck looks at whether a blade with a taper grows thicker anywhere on the way to the point.
func taperCheck(k profile.Knife) []Check {
	if len(k.Taper) == 0 {
		return nil
	}
	thinnest, rise, at, key := k.Blade.Thickness, 0.0, 0.0, ""
	for i, s := range k.Taper {
		if grown := s.Thickness - thinnest; grown > rise {
			rise, at, key = grown, s.At, fmt.Sprintf("taper[%d].thickness", i+1)
		}
		thinnest = math.Min(thinnest, s.Thickness)
	}
	c := most("growth of the thickness toward the point", rise, 0, "mm").mild().from(fromPractice + ": a distal taper falls all the way")
	if rise > 0 {
		c = c.at("%.0f mm from the guard plane", at).orElse("make the blade no thicker there than behind it").bySearch(key, -1)
	}
	return []Check{c}
}

// steepBevel says and adds what makes a bevel no steeper than an angle, square to the edge.
func steepBevel(b profile.Blade, c Check, at profile.GrindingStation, angle float64) Check {
	if c.Verdict == OK {
		return c
	}
	less := math.Tan(angle) / math.Tan(at.EdgeAngle)
	if high := over(b.Knife.BevelHeight() / less); high <= highestBevel(b) {
		return c.orElse("make the bevel higher").bevelBy(b, high, at.Angle*less)
	}
	c = c.orElse("the blade is too narrow for its thickness").bySearch("blade.thickness", -1).bySearch("bevel.edge_thickness", 1)
	for i := range b.Knife.Taper {
		c = c.bySearch(fmt.Sprintf("taper[%d].thickness", i+1), -1)
	}
	return c
}

// highestBevel returns how high a bevel may be, up to the spine or the lowest fuller on the
// flat, mm.
func highestBevel(b profile.Blade) float64 {
	high := b.Knife.Blade.Width
	for i, f := range b.Fullers {
		if f.Size.On == profile.OnBevel {
			continue
		}
		_, lower := b.Lips(i, checkStations)
		for _, p := range lower {
			high = math.Min(high, b.Knife.Blade.Width+p.Y)
		}
	}
	return high
}

// shallowBevel says and adds what makes a bevel no shallower than an angle.
func shallowBevel(b profile.Blade, c Check, at profile.GrindingStation, angle float64) Check {
	if c.Verdict == OK {
		return c
	}
	const thinnest = 0.05 // mm, the least that the knife file may give
	k := b.Knife
	high := under(k.BevelHeight() * math.Tan(at.Angle) / math.Tan(angle))
	edge := at.Thickness - 2*k.BevelHeight()*math.Tan(angle)
	if k.Bevel.Constant == profile.ConstantAngle {
		edge = k.Blade.Thickness - 2*k.BevelHeight()*math.Tan(angle)
	}
	c = c.bevelBy(b, high, angle)
	if thin := under(edge); thin >= thinnest {
		return c.orElse("make the bevel lower, or the edge thinner").by("bevel.edge_thickness", thin)
	}
	return c.orElse("make the bevel lower")
}

// bevelBy adds the height or the angle of the bevel, whichever the knife file gives.
func (c Check) bevelBy(b profile.Blade, height, angle float64) Check {
	if b.Knife.Bevel.Height.Known {
		return c.by("bevel.height", height)
	}
	return c.by("bevel.angle", angle)
}

// hollowChecks looks for the station where a hollow bevel comes nearest to being
// thinner over the edge than at it.
func hollowChecks(b profile.Blade, table []profile.GrindingStation, wheel float64) []Check {
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
	lower, larger := under(worst.HollowCeiling.Value), math.Ceil(wheel*math.Pow(worst.Height/worst.HollowCeiling.Value, 2)*1.01)
	c := most("height of the hollow bevel", worst.Height, worst.HollowCeiling.Value, "mm").at("%.0f mm from the guard plane", worst.X).
		from("geometry: a higher one leaves the blade thinner over the edge than at it").
		orElse("make the bevel lower, or take a larger wheel")
	if b.Knife.Bevel.Height.Known {
		c = c.by("bevel.height", lower)
	}
	return []Check{c.by("bevel.wheel_radius", larger)}
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
	check := least("thickness behind the point", thickest, shop.Limits.PointThickness, "mm").at("%.0f mm from the guard plane", x).
		from("shop file, limits.point_thickness; " + fromPractice).
		orElse("a thicker last taper station, or lower bevels")
	return check.lastTaper(b).bySearch("bevel.height", -1)
}

// tangChecks looks at the tang, its inside corners and what seats on the shoulder.
func tangChecks(b profile.Blade, shop Shop) []Check {
	k := b.Knife
	s := b.ShoulderMeasures()
	ricasso := k.RicassoWidth()
	const seat = 1.0                                  // mm
	step := math.Max(seat, k.Tang.CornerRadius)       // the inside corner must fit
	seated := under(ricasso - k.ShoulderTop() - step) // below the spine's step, if the file gives one
	if !k.Shoulder.Top.Known {
		seated = under(ricasso - 2*step)
	}
	out := []Check{
		least("higher step of the shoulder, for the guard to seat on", math.Max(k.ShoulderTop(), k.ShoulderBottom()), seat, "mm").at("at the guard plane").
			from(fromPractice).orElse("make the tang narrower").by("tang.width", seated),
		least("width of the tang over that of the ricasso", k.Tang.Width/ricasso, shop.Limits.TangRatio, "").at("at the guard plane").
			from("shop file, limits.tang_ratio; "+fromPractice).orElse("make the tang wider").by("tang.width", over(shop.Limits.TangRatio*ricasso)),
	}
	lower := math.Min(k.ShoulderTop(), k.ShoulderBottom())
	if s.Outside != "" && lower > k.Tang.CornerRadius {
		out = append(out, most("height of the shoulder's step over the inside corner's radius", lower/k.Tang.CornerRadius, strength.MostRatio, "").at("at the guard plane").mild().
			from("Roark's Formulas for Stress and Strain, table 17.1: a sharper corner is beyond what is known").
			orElse("make the corner rounder").by("tang.corner_radius", over(lower/strength.MostRatio)))
	}
	if s.Concentration > 0 {
		const tolerable = 3 // times; common practice has radii that come to 2 to 3
		out = append(out, most("stress at the inside corner over the plain one", s.Concentration, tolerable, "times").at("at the guard plane").mild().
			from("Roark's Formulas for Stress and Strain, table 17.1; the limit is judgement").
			orElse("make the corner rounder").
			by("tang.corner_radius", over(k.Tang.CornerRadius*math.Pow(s.Concentration/tolerable, 2))))
	}
	if k.Guard.Thickness > 0 {
		out = append(out, least("chamfer of the guard's slot over the inside corners", k.Guard.Chamfer, s.ChamferNeeded, "mm").at("at the guard plane").mild().
			from("geometry: a sharp rim stands off by r - sqrt(2rc - c²)").
			orElse("chamfer the slot's rim so that the guard closes; as it is a gap of %.2f mm is left", s.StandOff).
			by("guard.chamfer", over(s.ChamferNeeded)))
		if needed := s.ChamferNeeded; needed > 0 {
			out = append(out, least("lower step of the shoulder over that chamfer", lower, needed+strength.CoverMargin, "mm").at("at the guard plane").mild().
				from(fromPractice+": the chamfer must not show").orElse("make the step higher, to hide it").stepOf(k, over(needed+strength.CoverMargin)))
		}
	}
	return out
}

// stepOf adds what makes the lower step of the shoulder as high as given.
func (c Check) stepOf(k profile.Knife, step float64) Check {
	switch {
	case k.Shoulder.Bottom.Known && k.ShoulderBottom() < k.ShoulderTop():
		return c.by("shoulder.bottom", step)
	case k.Shoulder.Top.Known && k.ShoulderTop() < k.ShoulderBottom():
		return c.by("shoulder.top", step)
	case k.Shoulder.Top.Known:
		return c.by("tang.width", under(k.RicassoWidth()-k.ShoulderTop()-step))
	}
	return c.by("tang.width", under(k.RicassoWidth()-2*step))
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
			from(fromPractice).orElse("make the tang longer").by("tang.length", over(s.Spacers+share*length)))
	}
	if !s.Threaded {
		return out
	}
	if near := s.Thread.Nearest(); !s.Thread.Standard() {
		out = append(out, most("thread off one that taps and dies come in", math.Abs(s.Thread.Major-near.Major), 0, "mm").mild().at("on the tang").from(fromPractice).
			orElse("a thread of %.2f mm diameter comes in taps and dies: "+near.Name, near.Major))
	}
	if !math.IsInf(s.Behind, 1) { // the hole does not go right through
		out = append(out, least("pommel behind its threaded hole", s.Behind, pommelEnd, "mm").mild().at("in the pommel").from(fromPractice).
			orElse("make the hole less deep, or the pommel longer").by("pommel.hole_depth", under(b.Knife.Pommel.Length-pommelEnd)).by("pommel.length", over(b.Knife.Pommel.HoleDepth+pommelEnd)))
	}
	return append(out,
		longerThread(b.Knife, s, least("thread engaged in the pommel", s.Engagement, s.Wanted, "mm").at("in the pommel").from(fromPractice+": one and a half diameters")),
		least("wall of the pommel beside its thread", s.WallLeft, shop.Limits.PommelWall, "mm").at("in the pommel").
			from("shop file, limits.pommel_wall; "+fromPractice).orElse("make the pommel wider").
			widerPommel(b.Knife.Pommel, over(s.Thread.Major+2*shop.Limits.PommelWall)),
		most("rod out of the end of the pommel", s.StandsOut, 0, "mm").mild().at("in the pommel").from("geometry").
			orElse("make the thread shorter, or file it flush").bySearch("tang.thread_length", -1).bySearch("pommel.length", 1).bySearch("handle.length", 1),
		most("rod longer than the pommel's hole", s.Bottoms, 0, "mm").at("in the pommel").
			from("geometry: it bottoms before it clamps").orElse("make the thread shorter, or the hole deeper").
			by("tang.thread_length", under(b.Knife.Tang.ThreadLength-s.Bottoms)).by("pommel.hole_depth", over(b.Knife.Pommel.HoleDepth+s.Bottoms)),
	)
}

// pommelEnd is the least of a pommel that stays behind its threaded hole, mm (common practice,
// no source).
const pommelEnd = 1.0

// longerThread says and adds what makes the thread reach far enough into the pommel, where
// the thread, the hole or the pommel is too short.
func longerThread(k profile.Knife, s profile.StackMeasures, c Check) Check {
	if c.Verdict == OK {
		return c
	}
	thread := over(s.Wanted + math.Max(s.Tang, s.Handle) - s.Tang)
	var keys []string
	var values []float64
	add := func(key string, value, now float64) {
		if now < value-slack {
			keys, values = append(keys, key), append(values, value)
		}
	}
	add("tang.thread_length", thread, k.Tang.ThreadLength)
	add("pommel.length", over(s.Wanted), k.Pommel.Length)
	if k.Pommel.HoleDepth > 0 {
		add("pommel.hole_depth", over(s.Wanted), k.Pommel.HoleDepth)
	}
	c = c.orElse("let the thread reach further into the pommel")
	if len(keys) == 0 {
		return c
	}
	way := Way{File: KnifeFile, Key: keys[0], Value: values[0]}
	for i := 1; i < len(keys); i++ {
		way.Also = append(way.Also, Way{File: KnifeFile, Key: keys[i], Value: values[i]})
	}
	c.guesses = append(c.guesses, way)
	return c.bySearch("handle.length", -1)
}

// widerPommel adds what makes both sides of a pommel at least as wide as given.
func (c Check) widerPommel(p profile.Pommel, wide float64) Check {
	width, thickness := Way{File: KnifeFile, Key: "pommel.width", Value: wide}, Way{File: KnifeFile, Key: "pommel.thickness", Value: wide}
	switch {
	case p.Width >= wide:
		return c.by(thickness.Key, wide)
	case p.Thickness >= wide:
		return c.by(width.Key, wide)
	}
	return c.byBoth(width, thickness)
}
