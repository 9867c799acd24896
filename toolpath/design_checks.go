package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
)

// checkStations is at how many places along a fuller its web and lands are looked at.
const checkStations = 101

// DesignChecks returns the checks on the blade itself that the shop's limits decide:
// web, depth and lands along every fuller, on the finished surface.
func DesignChecks(b profile.Blade, shop Shop) []Check {
	return (&trial{blade: b, shop: shop}).onTrial(designChecks(b, shop))
}

// designChecks is DesignChecks whose checks do not know their ways out.
func designChecks(b profile.Blade, shop Shop) []Check {
	out := make([]Check, 0, 64) // a knife with a few fullers has about so many
	loss := 0.0
	if len(b.Fullers) > 0 {
		loss = TurningFor(Fullers, b, shop).Chosen().WebLoss.Worst()
	}
	for i, f := range b.Fullers {
		sections := alongVisible(b, i)
		out = append(out, webChecks(b, i, sections, loss, shop)...)
		out = append(out, landChecks(b, i, sections, shop)...)
		out = append(out, endChecks(b, i, f)...)
		out = append(out, openEndChecks(b, i, shop)...)
		out = append(out, underGuardChecks(b, i, shop)...)
		out = append(out, readingChecks(b, i, shop)...)
	}
	out = append(out, spacingChecks(b, shop)...)
	out = append(out, xZeroChecks(b, shop)...)
	out = append(out, groundChecks(b, shop)...)
	out = append(out, tangChecks(b, shop)...)
	out = append(out, hiltChecks(b, shop)...)
	out = append(out, holeDesignChecks(b)...)
	return append(append(out, barChecks(b)...), append(shop.parallelCheck(b.Bar), facesCheck(b.Bar)...)...)
}

// visibleRange returns from where to where a fuller is looked at: from the one visible end to
// the other, in front of the guard plane; at an open end as far as its whole width lies on
// the flat.
func visibleRange(f profile.Fuller) (from, to float64) {
	from, to = math.Max(0, f.StartVisible), f.EndVisible
	if f.Size.OpenStart() {
		from = math.Max(0, f.StartFull)
	}
	if f.Size.OpenEnd() {
		to = f.EndFull
	}
	return from, to
}

// alongVisible returns the state of a fuller along its visible range.
func alongVisible(b profile.Blade, index int) []profile.Section {
	from, to := visibleRange(b.Fullers[index])
	out := make([]profile.Section, checkStations)
	for i := range out {
		out[i] = b.SectionAt(index, from+(to-from)*float64(i)/(checkStations-1))
	}
	return out
}

// worstOf returns the section for which a value is least: the first of those that are
// alike but for rounding.
func worstOf(sections []profile.Section, value func(profile.Section) float64) profile.Section {
	worst := sections[0]
	for _, s := range sections[1:] {
		if value(s) < value(worst)-slack {
			worst = s
		}
	}
	return worst
}

// webChecks looks at the web of a fuller, and at what is left of it when the errors of both
// faces take as much as they may.
func webChecks(b profile.Blade, index int, sections []profile.Section, loss float64, shop Shop) []Check {
	number := index + 1
	thin := worstOf(sections, func(s profile.Section) float64 { return s.Web })
	share := worstOf(sections, func(s profile.Section) float64 { return s.Web / s.Thickness })
	deep := worstOf(sections, func(s profile.Section) float64 { return -s.Depth / s.Thickness })
	size := b.Fullers[index].Size
	// A shallower groove fades out over a shorter way and so is as deep as it gets nearer
	// to the point, where the blade is thinner.
	thinnest := worstOf(sections, func(s profile.Section) float64 { return s.Thickness }).Thickness
	if size.OpenEnd() {
		thinnest = math.Min(thinnest, b.Thickness(b.Fullers[index].EndVisible))
	}
	where := func(worst profile.Section) float64 {
		if size.Web.Known {
			return worst.Thickness
		}
		return thinnest
	}
	room := (where(thin) - shop.Limits.Web) / 2
	byShare, byDepth := where(share)*(1-shop.Limits.WebRatio)/2, where(deep)*shop.Limits.DepthRatio
	return []Check{
		least(sayFuller(number, "web less what the errors of both faces may take from it"), thin.Web-loss, shop.Limits.Web, "mm").mild().at("%.0f mm from the guard plane", thin.X).
			from("shop file, limits.web and errors").depthOf(size, index, room-loss/2, where(thin)),
		least(sayFuller(number, "web"), thin.Web, shop.Limits.Web, "mm").at("%.0f mm from the guard plane", thin.X).
			from("shop file, limits.web; "+fromPractice).keepingWeb(b.Fullers[index], thin).depthOf(size, index, room, where(thin)),
		least(sayFuller(number, "web over thickness"), share.Web/share.Thickness, shop.Limits.WebRatio, "").at("%.0f mm from the guard plane", share.X).
			from("shop file, limits.web_ratio; "+fromPractice).depthOf(size, index, byShare, where(share)),
		most(sayFuller(number, "depth over thickness"), deep.Depth/deep.Thickness, shop.Limits.DepthRatio, "").at("%.0f mm from the guard plane", deep.X).
			from("shop file, limits.depth_ratio; "+fromPractice).depthOf(size, index, byDepth, where(deep)),
	}
}

func landChecks(b profile.Blade, index int, sections []profile.Section, shop Shop) []Check {
	number := index + 1
	size := b.Fullers[index].Size
	spineLand := func(s profile.Section) float64 { return s.SpineLand }
	lowerLand := func(s profile.Section) float64 { return s.LowerLand }
	toBack := beforeLeaving(sections, size, spineLand, shop.Limits.SpineLand)
	toBevel := beforeLeaving(sections, size, lowerLand, shop.Limits.BevelLand)
	upper, lower := worstOf(toBack, spineLand), worstOf(toBevel, lowerLand)
	out := []Check{
		least(sayFuller(number, "land to the back"), upper.SpineLand, shop.Limits.SpineLand, "mm").at("%.0f mm from the guard plane", upper.X).
			from("shop file, limits.spine_land; " + fromPractice),
		least(sayFuller(number, "land to the bevel line"), lower.LowerLand, shop.Limits.BevelLand, "mm").at("%.0f mm from the guard plane", lower.X).
			from("shop file, limits.bevel_land; " + fromPractice),
	}
	if tight := worstOf(toBack[:min(len(toBack), len(toBevel))], func(s profile.Section) float64 { return s.SpineLand + s.LowerLand }); tight.SpineLand+tight.LowerLand < shop.Limits.SpineLand+shop.Limits.BevelLand {
		// Where the groove is as wide as it gets moves with its depth: its middle does not.
		thickest := worstOf(sections, func(s profile.Section) float64 { return -s.Thickness }).Thickness
		above := worstOf(toBack, func(s profile.Section) float64 { return s.SpineLand + s.Width/2 })
		below := worstOf(toBevel, func(s profile.Section) float64 { return s.LowerLand + s.Width/2 })
		out[0] = out[0].narrower(size, index, above.SpineLand+above.Width/2-shop.Limits.SpineLand, thickest)
		out[1] = out[1].narrower(size, index, below.LowerLand+below.Width/2-shop.Limits.BevelLand, thickest)
	} else {
		out[0] = out[0].aside(b.Fullers[index], index, toBack, 1, func(s profile.Section) float64 { return shop.Limits.SpineLand - s.SpineLand })
		out[1] = out[1].aside(b.Fullers[index], index, toBevel, -1, func(s profile.Section) float64 { return shop.Limits.BevelLand - s.LowerLand }).
			lowerBevel(b, lower.X, shop.Limits.BevelLand-lower.LowerLand)
	}
	if size.On == profile.OnBevel {
		out[1].Name = sayFuller(number, "land to the edge")
	}
	backLand := func(s profile.Section) float64 { return s.BackBevelLand.Or(math.Inf(1)) }
	out = append(out, falseEdgeChecks(b, number, beforeLeaving(sections, size, backLand, shop.Limits.BevelLand), shop)...)
	return append(out, choilChecks(b, index, shop)...)
}

// falseEdgeChecks looks at the land between a fuller and the false edge or second edge,
// where they lie beside each other.
func falseEdgeChecks(b profile.Blade, number int, sections []profile.Section, shop Shop) []Check {
	land, at := math.Inf(1), 0.0
	for _, s := range sections {
		if s.BackBevelLand.Known && s.BackBevelLand.Value < land {
			land, at = s.BackBevelLand.Value, s.X
		}
	}
	if math.IsInf(land, 1) {
		return nil
	}
	clear := at
	for _, s := range sections {
		if s.BackBevelLand.Known && s.BackBevelLand.Value < shop.Limits.BevelLand {
			break
		}
		clear = s.X
	}
	c := least(sayFuller(number, "land to the false edge"), land, shop.Limits.BevelLand, "mm").at("%.0f mm from the guard plane", at).
		from("shop file, limits.bevel_land; " + fromPractice).orElse("end the fuller before it, or make the false edge lower")
	return []Check{c.endingAt(b.Fullers[number-1], number-1, clear).bySearch("false_edge.height", -1).bySearch("false_edge.length", -1).byDepth(b.Fullers[number-1].Size, number-1)}
}

// choilChecks looks at how near a fuller comes to the choil.
func choilChecks(b profile.Blade, index int, shop Shop) []Check {
	radius := b.Knife.Ricasso.Choil
	if radius == 0 {
		return nil
	}
	_, lower := b.Lips(index, checkStations)
	near := math.Inf(1)
	for _, p := range lower {
		near = math.Min(near, math.Hypot(p.X-b.Knife.Ricasso.Length, p.Y+b.Knife.Blade.Width)-radius)
	}
	if math.IsInf(near, 1) { // no lower lip of it lies on the blade
		return nil
	}
	return []Check{least(sayFuller(index+1, "steel between it and the choil"), near, shop.Limits.BevelLand, "mm").
		from("shop file, limits.bevel_land; "+fromPractice).
		orElse("make the choil smaller, or move the fuller").by("ricasso.choil", under(radius-(shop.Limits.BevelLand-near))).
		bySearch(fullerKey(index, "from_spine"), -1).bySearch(fullerKey(index, "start"), 1)}
}

// endChecks looks at what the ends of a fuller come near: the shoulder and the clip's
// corner.
func endChecks(b profile.Blade, index int, f profile.Fuller) []Check {
	const fromShoulder, fromCorner = 3, 2 // mm; common practice, no source
	number := index + 1
	clear := b.Knife.Tang.CornerRadius + fromShoulder
	corner := math.Abs(f.EndVisible - b.ClipStart().X)
	plunge := math.Abs(f.StartVisible - b.Knife.Ricasso.Length)
	start := clear
	if f.Size.Ends == profile.FullDepthEnds {
		start += f.StartFull - f.StartVisible
	}
	var out []Check
	if !throughShoulder(f) {
		out = append(out,
			least(sayFuller(number, "start in front of the shoulder's corner"), f.StartVisible, clear, "mm").
				from(fromPractice).orElse("start the fuller further from the guard").
				by(fullerKey(index, "start"), over(start)),
			least(sayFuller(number, "start apart from the plunge line"), plunge, fromCorner, "mm").mild().
				from("common practice, no source: a start in line with the plunge reads as a mistake").
				orElse("start the fuller further from the guard").
				by(fullerKey(index, "start"), over(b.Knife.Ricasso.Length+fromCorner+start-clear)))
	}
	if f.Size.OpenEnd() {
		return out
	}
	return append(out,
		least(sayFuller(number, "end apart from the clip's corner"), corner, fromCorner, "mm").mild().
			from("common practice, no source: an end at the corner reads as a mistake").
			orElse("end the fuller before the corner").
			endingAt(f, index, b.ClipStart().X-fromCorner))
}

// spacingChecks looks at the lands between neighbouring fullers.
func spacingChecks(b profile.Blade, shop Shop) []Check {
	var out []Check
	for i := range b.Fullers {
		for j := i + 1; j < len(b.Fullers); j++ {
			from, to := visibleRange(b.Fullers[i])
			otherFrom, otherTo := visibleRange(b.Fullers[j])
			from, to = math.Max(from, otherFrom), math.Min(to, otherTo)
			if from >= to {
				continue
			}
			land, at := math.Inf(1), from
			beside := make([]profile.Section, checkStations) // their lands to each other
			for k := range beside {
				x := from + (to-from)*float64(k)/(checkStations-1)
				beside[k] = profile.Section{X: x, SpineLand: landBetween(b, i, j, x)}
				if beside[k].SpineLand < land-slack {
					land, at = beside[k].SpineLand, x
				}
			}
			further := lowerOf(b, i, j)
			out = append(out, least(fmt.Sprintf("land between fullers %d and %d", i+1, j+1), land, shop.Limits.BevelLand, "mm").
				at("%.0f mm from the guard plane", at).from("shop file, limits.bevel_land; "+fromPractice).
				aside(b.Fullers[further], further, beside, 1, func(s profile.Section) float64 { return shop.Limits.BevelLand - s.SpineLand }))
		}
	}
	return out
}

// landBetween returns the land between two fullers at x; below 0 where they run into each
// other.
func landBetween(b profile.Blade, i, j int, x float64) float64 {
	upper, lower := b.LipsAt(i, x)
	otherUpper, otherLower := b.LipsAt(j, x)
	return math.Max(lower.Y-otherUpper.Y, otherLower.Y-upper.Y)
}

// lowerOf returns which of two fullers lies further from the spine.
func lowerOf(b profile.Blade, i, j int) int {
	if b.Fullers[i].Size.FromSpine > b.Fullers[j].Size.FromSpine {
		return i
	}
	return j
}

// lowerBevel adds a bevel that is lower by a length at x.
func (c Check) lowerBevel(b profile.Blade, x, lower float64) Check {
	k := b.Knife
	if !k.Bevel.Height.Known {
		return c
	}
	if k.Bevel.Constant == profile.ConstantAngle {
		lower *= (k.Blade.Thickness - k.Bevel.EdgeThickness) / (b.Thickness(x) - k.Bevel.EdgeThickness)
	}
	if c.Verdict != OK {
		c.Remedy = c.Remedy.And(", or make the bevel lower")
	}
	return c.by("bevel.height", under(k.Bevel.Height.Value-lower))
}

// barChecks looks at whether the bar holds the blade, and is thick enough everywhere it
// lies.
func barChecks(b profile.Blade) []Check {
	take := b.Knife.Allowance.BothFaces()
	spare, at := math.Inf(1), 0.0
	for i := range checkStations {
		x := b.Knife.Blade.Length * float64(i) / (checkStations - 1)
		if s := b.Bar.Thickness(x) - b.Thickness(x) - take; s < spare {
			spare, at = s, x
		}
	}
	box := b.Outline.Bounds()
	side, where := b.Bar.Top-box.Max.Y, "at the spine"
	for _, other := range []struct {
		spare float64
		where string
	}{{barUnderEdge(b), "at the edge"}, {box.Min.X - b.Bar.Butt, "behind the tang"}, {b.Bar.Front - box.Max.X, "in front of the point"}} {
		if other.spare < side {
			side, where = other.spare, other.where
		}
	}
	remedy := "take a thicker bar, or smaller allowances"
	if b.Bar.TaperedFirst() {
		remedy = "the faces are ground too far there: take smaller allowances"
	}
	return []Check{
		least("bar around the outline", side, 0, "mm").at("%s", where).
			from("geometry: the blade must lie inside the bar").orElse("take a larger bar").larger(b.Knife, where),
		least("bar over the finished thickness and the allowances", spare, 0, "mm").at("%.0f mm from the guard plane", at).
			from("the knife file's allowances").
			orElse("%s", remedy).bySearch("bar.thickness", 1).bySearch("allowance.clean_up", -1).bySearch("blade.thickness", -1),
	}
}

// barUnderEdge returns the least bar between the outline and the bar's edge away from the spine.
func barUnderEdge(b profile.Blade) float64 {
	least := b.Outline.Bounds().Min.Y - b.Bar.Bottom
	if _, varies := b.Bar.EdgesApart(); !varies {
		return least
	}
	for _, piece := range b.Outline.Pieces() {
		steps := int(math.Ceil(piece.Length() / underEdgeStep))
		for i := range steps {
			p := piece.At(float64(i) / float64(steps))
			least = math.Min(least, p.Y-b.Bar.LowEdge(p.X))
		}
	}
	return least
}

// underEdgeStep is how closely an outline is looked along beside the edge of its bar, mm.
const underEdgeStep = 0.5

// larger adds what makes the bar larger on a side of the blade.
func (c Check) larger(k profile.Knife, where string) Check {
	size, allowance := "bar.width", map[string]string{"at the spine": "bar.spine_allowance", "at the edge": "bar.edge_allowance", "behind the tang": "bar.tang_allowance", "in front of the point": "bar.point_allowance"}[where]
	if where == "behind the tang" || where == "in front of the point" {
		size = "bar.length"
	}
	return c.bySearch(allowance, 1).bySearch(size, 1).bySearch(allowance, -1)
}
