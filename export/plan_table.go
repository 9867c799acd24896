package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
)

// planTables returns the tables of a plan.
func planTables(b profile.Blade, m profile.Measures, r sheet.Ruler, o PlanOptions) []block {
	out := []block{}
	for _, group := range dimensionGroups(b) {
		out = append(out, group.block(o.Lengths))
	}
	for _, c := range curvesOf(b) {
		out = append(out, c.block(b.Knife.Blade.Length, o.Lengths))
	}
	out = append(out, ordinates(b, o.Lengths), weights(m, o.Lengths), steelBlock(b, m, o.Lengths), ladderBlock(b, o.Lengths), toleranceBlock(r, o.Lengths), cautionBlock(r))
	return append(out, namesBlock(r, b.Knife)...)
}

// dimensionGroup is a group of named dimensions.
type dimensionGroup struct {
	title string
	rows  []dimensionRow
}

// dimensionRow is one named dimension: a length in mm, or what its words say.
type dimensionRow struct {
	name  string
	mm    float64
	words string // instead of a length
	fine  bool   // measured with a caliper or a micrometer: not in fractions
}

// block returns the table of a group: every length in mm, in inches, and as the nearest
// shop fraction with what that adds.
func (g dimensionGroup) block(style LengthStyle) block {
	out := block{title: g.title, heads: []string{"", "mm", "in", "1/64 in", "adds in"}, widths: []float64{0, 17, 18, 20, 16}}
	for _, row := range g.rows {
		if row.words != "" {
			out.rows = append(out.rows, []string{row.name, row.words, "", "", ""})
			continue
		}
		fraction, added := "", ""
		if !row.fine {
			fraction, added = ShopFraction.Length(row.mm)
			if added == "" {
				added = "0"
			}
		}
		out.rows = append(out.rows, []string{row.name, fmt.Sprintf("%.2f", row.mm), DecimalInch.Thickness(row.mm), fraction, added})
	}
	return out
}

// dimensionGroups returns the critical dimensions of a knife by its parts, each
// measurable on the finished knife. Stations count from the guard plane.
func dimensionGroups(b profile.Blade) []dimensionGroup {
	groups := []dimensionGroup{bladeGroup(b), bevelGroup(b), tangGroup(b)}
	for i := range b.Fullers {
		groups = append(groups, fullerGroup(b, i))
	}
	return append(append(groups, holeGroups(b)...), hiltGroup(b))
}

func lengthRow(name string, mm float64) dimensionRow { return dimensionRow{name: name, mm: mm} }
func fineRow(name string, mm float64) dimensionRow {
	return dimensionRow{name: name, mm: mm, fine: true}
}
func wordRow(name, format string, values ...any) dimensionRow {
	return dimensionRow{name: name, words: fmt.Sprintf(format, values...)}
}

// inFileUnit writes a station in the unit of the knife file.
func inFileUnit(k profile.Knife, mm float64) string {
	style := Millimetres
	if k.Units == document.Inch {
		style = DecimalInch
	}
	return style.Thickness(mm) + " " + style.Unit()
}

func bladeGroup(b profile.Blade) dimensionGroup {
	k := b.Knife
	g := dimensionGroup{title: "Blade"}
	g.rows = append(g.rows, lengthRow("blade, guard plane to point", k.Blade.Length), lengthRow("blade and tang", k.OverallLength()),
		lengthRow("width, spine line to edge", k.Blade.Width), lengthRow("width of the ricasso", k.RicassoWidth()),
		lengthRow("ricasso, to the plunge line", k.Ricasso.Length))
	if k.Ricasso.Choil > 0 {
		g.rows = append(g.rows, fineRow("radius of the choil", k.Ricasso.Choil))
	}
	g.rows = append(g.rows, fineRow("thickness at the ricasso", k.Blade.Thickness))
	for _, s := range k.Taper {
		g.rows = append(g.rows, fineRow("thickness before bevels at "+inFileUnit(k, s.At), s.Thickness))
	}
	if b.ClipStart().Y > 0.005 || b.ClipStart().Y < -0.005 {
		g.rows = append(g.rows, lengthRow("rise of the spine to the clip", b.ClipStart().Y))
	}
	g.rows = append(g.rows, lengthRow("clip, from the point", k.Clip.Length))
	if k.Clip.Drop < 0 {
		g.rows = append(g.rows, lengthRow("point above the spine line", -k.Clip.Drop))
	} else {
		g.rows = append(g.rows, lengthRow("point below the spine line", k.Clip.Drop))
	}
	switch {
	case k.Clip.Sag > 0.005:
		chord := math.Hypot(k.Clip.Length, b.ClipStart().Y+k.Clip.Drop)
		g.rows = append(g.rows, fineRow("clip hollow under its chord", k.Clip.Sag), lengthRow("radius of the clip", chord*chord/8/k.Clip.Sag+k.Clip.Sag/2))
	case k.Clip.Sag < -0.005:
		g.rows = append(g.rows, fineRow("clip swells over its chord", -k.Clip.Sag))
	}
	if k.Edge.BellyLength > 0 {
		g.rows = append(g.rows, lengthRow("belly, from the point", k.Edge.BellyLength), wordRow("edge at the point, to the spine line", "%.1f°", k.Edge.PointAngle.Degrees()))
	}
	return g
}

func bevelGroup(b profile.Blade) dimensionGroup {
	k := b.Knife
	g := dimensionGroup{title: "Bevels: " + string(k.Bevel.Kind)}
	g.rows = append(g.rows, lengthRow("height at the plunge line", k.BevelHeight()), wordRow("angle of a side there", "%.2f°", k.BevelAngle()*180/math.Pi),
		wordRow("kept along the blade", "%s", k.Bevel.Constant))
	if k.Bevel.WheelRadius.Known && k.Bevel.Kind == profile.HollowBevel {
		g.rows = append(g.rows, lengthRow("radius of the wheel", k.Bevel.WheelRadius.Value))
	}
	g.rows = append(g.rows, fineRow("edge before sharpening", k.Bevel.EdgeThickness), wordRow("final edge, a side", "%.0f°", k.Bevel.EdgeAngle.Degrees()),
		fineRow("radius of the plunge", k.Plunge.Radius))
	if k.FalseEdge.Length > 0 {
		g.rows = append(g.rows, lengthRow("false edge, from the point", k.FalseEdge.Length), lengthRow("height of the false edge", k.FalseEdgeHeight()), fineRow("its rim", k.FalseEdge.Thickness))
	}
	if k.SecondEdge.Length > 0 {
		g.rows = append(g.rows, lengthRow("second edge, from the point", k.SecondEdge.Length), lengthRow("height of the second edge", k.SecondEdgeHeight()), fineRow("its edge before sharpening", k.SecondEdge.EdgeThickness))
	}
	return g
}

func tangGroup(b profile.Blade) dimensionGroup {
	k := b.Knife
	g := dimensionGroup{title: "Tang and shoulder"}
	g.rows = append(g.rows, fineRow("step at the spine", k.ShoulderTop()), fineRow("step at the edge", k.ShoulderBottom()))
	if k.Shoulder.FaceStep > 0 {
		g.rows = append(g.rows, fineRow("step on each face", k.Shoulder.FaceStep))
	}
	g.rows = append(g.rows, fineRow("inside corners, radius", k.Tang.CornerRadius), lengthRow("tang, from the guard plane", k.Tang.Length),
		fineRow("width at the shoulder", k.Tang.Width), fineRow("width at its end", k.Tang.EndWidth),
		fineRow("thickness at the shoulder", 2*b.CrossSectionAt(-1e-6).Flat), fineRow("thickness at its end", 2*b.CrossSectionAt(-k.Tang.Length+1e-6).Flat))
	if k.Tang.EdgeBreak > 0 {
		g.rows = append(g.rows, fineRow("long edges broken at 45°", k.Tang.EdgeBreak))
	}
	if k.Tang.Thread != "" {
		g.rows = append(g.rows, wordRow("thread", "%s", k.Tang.Thread), lengthRow("length of the thread", k.Tang.ThreadLength))
	}
	return g
}

func fullerGroup(b profile.Blade, index int) dimensionGroup {
	f := b.Fullers[index]
	g := dimensionGroup{title: "Fuller"}
	if len(b.Fullers) > 1 {
		g.title = fmt.Sprintf("Fuller %d", index+1)
	}
	if f.Size.Faces == "both" {
		g.title += ", both faces alike"
	} else {
		g.title += ", " + f.Size.Faces + " face"
	}
	start, end := b.InSteelAt(index, f.StartFull), b.InSteelAt(index, f.EndFull)
	g.rows = append(g.rows, fineRow("radius", f.Size.Radius), fineRow("centreline below spine, near end", -onCentreline(f, f.StartFull).Y),
		fineRow("centreline below spine, far end", -onCentreline(f, f.EndFull).Y),
	)
	g.rows = append(g.rows, nearEndRows(f)...)
	g.rows = append(g.rows, farEndRows(f)...)
	g.rows = append(g.rows, fineRow("depth at the near end", start.Depth), fineRow("depth at the far end", end.Depth), fineRow("width at the near end", start.Width), fineRow("width at the far end", end.Width),
		fineRow("(web at the near end)", start.Web), fineRow("(web at the far end)", end.Web))
	return g
}

func nearEndRows(f profile.Fuller) []dimensionRow {
	if f.Size.OpenStart() {
		return []dimensionRow{wordRow("near end", "open: out through the shoulder")}
	}
	return []dimensionRow{lengthRow("seen from", f.StartVisible), lengthRow("full depth from", f.StartFull)}
}

func farEndRows(f profile.Fuller) []dimensionRow {
	if f.Size.OpenEnd() {
		return []dimensionRow{wordRow("far end", "open: out of the blade"), lengthRow("whole width to", f.EndFull), lengthRow("leaves the blade at", f.EndVisible)}
	}
	return []dimensionRow{lengthRow("full depth to", f.EndFull), lengthRow("seen to", f.EndVisible)}
}

func hiltGroup(b profile.Blade) dimensionGroup {
	k := b.Knife
	g := dimensionGroup{title: "Hilt, behind the guard plane"}
	for _, part := range hiltParts(k) {
		g.rows = append(g.rows, lengthRow(part.name+" ends", part.to), lengthRow(part.name+", width", part.width), lengthRow(part.name+", thickness", part.thickness))
	}
	slot := b.ShoulderMeasures().Slot
	if k.Guard.Thickness > 0 {
		g.rows = append(g.rows, fineRow("slot, along the width", slot.Length), fineRow("slot, across", slot.Width))
	}
	g.rows = append(g.rows, lengthRow("overall length of the knife", behindGuard(k)+k.Blade.Length))
	return g
}
