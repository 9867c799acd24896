package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/material"
)

// ordinateCount is how many stations the table of ordinates has about.
const ordinateCount = 25

// ordinates returns the outline and the grinding at even stations, so that curves can
// be laid out without a template.
func ordinates(b profile.Blade, style LengthStyle) block {
	k := b.Knife
	out := block{title: fmt.Sprintf("Ordinates, %s below the spine line", style.Unit()), heads: []string{"at", "back", "edge", "thick", "bevel line", "scribe"},
		widths: []float64{0, 20, 20, 20, 24, 20}}
	step := evenStep(k.Blade.Length / ordinateCount)
	if style != Millimetres {
		step = inchMM / 4 * math.Ceil(k.Blade.Length/ordinateCount/(inchMM/4))
	}
	last := k.Blade.Length - 1e-6
	for x := 0.0; ; x += step {
		x = math.Min(x, last)
		in := math.Max(x, 1e-6)
		c, g := b.CrossSectionAt(in), b.GrindingAt(in)
		line, scribe := "", ""
		if y, ok := c.EdgeBevelLine(); ok {
			line, scribe = style.Thickness(-y), style.Thickness(g.ScribeFromFace)
		}
		at, _ := style.Length(x)
		out.rows = append(out.rows, []string{at, style.Thickness(-b.BackAt(in)), style.Thickness(-b.EdgeAt(in)), style.Thickness(b.Thickness(in)), line, scribe})
		if x == last {
			out.alignDecimals()
			out.rows = append(out.rows, []string{"Thickness before bevels. Scribe: the edge, from each finished face.", "", "", "", "", ""})
			return out
		}
	}
}

// evenStep returns the least of 1, 2 and 5 and their tenfolds that is no less than a
// step, mm.
func evenStep(step float64) float64 {
	for _, s := range []float64{1, 2, 5, 10, 20, 50} {
		if s >= step {
			return s
		}
	}
	return 100
}

// weights returns what the parts weigh and where the knife balances.
func weights(m profile.Measures, style LengthStyle) block {
	out := block{title: "Weights, calculated", heads: []string{"", "g", "oz", "centre " + style.Unit()}, widths: []float64{0, 20, 20, 26}}
	const ounce = 28.349523125 // g, avoirdupois, exact
	add := func(name string, grams, x float64) {
		out.rows = append(out.rows, []string{name, fmt.Sprintf("%.1f", grams), fmt.Sprintf("%.2f", grams/ounce), style.Thickness(x)})
	}
	for _, part := range m.Parts {
		add(part.Name, part.Mass, part.X)
	}
	add("whole knife", m.Whole.Mass, m.Whole.X)
	out.alignDecimals()
	side := "in front of the guard plane"
	if m.Whole.X < 0 {
		side = "behind the guard plane"
	}
	out.rows = append(out.rows, []string{fmt.Sprintf("Balances %s %s %s.", style.Thickness(math.Abs(m.Whole.X)), style.Unit(), side), "", "", ""})
	return out
}

// steelBlock returns what is known of the steel.
func steelBlock(b profile.Blade, m profile.Measures, style LengthStyle) block {
	k := b.Knife
	out := block{title: "Steel and heat treatment", widths: []float64{0, 75}}
	add := func(name, format string, values ...any) {
		out.rows = append(out.rows, []string{name, fmt.Sprintf(format, values...)})
	}
	add("steel", "%s, %.2f g/cm³", k.Blade.Steel, m.Density)
	add("hardness target", "%s", hardness(k.Blade.Steel))
	if s, known := material.SteelNamed(k.Blade.Steel); known {
		add("from", "%s", s.Hardened.Source)
	}
	growth := "none reckoned with"
	if k.Allowance.Growth != 0 {
		growth = fmt.Sprintf("%.4f of each length in the face", k.Allowance.Growth)
	}
	add("growth in hardening", "%s", growth)
	add("edge before hardening", "not under %s %s", style.Thickness(k.Bevel.EdgeThickness+2*(k.Allowance.Finish+k.Allowance.Scale)), style.Unit())
	return out
}

// ladderBlock returns the allowance ladder.
func ladderBlock(b profile.Blade, style LengthStyle) block {
	out := block{title: "Thickness at the ricasso, by stage", heads: []string{"", style.Unit(), "off each face"}, widths: []float64{0, 24, 30}}
	for _, step := range profile.Ladder(b.Knife, b.Bar) {
		out.rows = append(out.rows, []string{string(step.Rung), style.Thickness(step.Thickness), style.Thickness(step.TakenByNext)})
	}
	out.alignDecimals()
	out.rows = append(out.rows, []string{"All other dimensions here are those of the finished knife.", "", ""})
	return out
}

// textBlock returns paragraphs as a block.
func textBlock(r sheet.Ruler, title string, paragraphs ...string) block {
	out := block{title: title}
	for _, text := range paragraphs {
		for _, line := range wrapped(r, text, planLetter, columnLeast-6) {
			out.rows = append(out.rows, []string{line})
		}
	}
	return out
}

// toleranceBlock returns the tolerances. Those of ISO 2768-1, which has them in millimetres,
// are from memory, those of
// the fits common practice, no source.
func toleranceBlock(r sheet.Ruler, style LengthStyle) block {
	return textBlock(r, "Tolerances, where none is given",
		"ISO 2768-m: up to 6 mm ±0.1, to 30 mm ±0.2, to 120 mm ±0.3, to 400 mm ±0.5, to 1000 mm ±0.8.",
		style.say("Depth of opposite fullers alike within 0.05 mm; their centrelines within 0.1 mm."),
		style.say("Both steps of the shoulder in one plane within 0.02 mm. Slot to the tang as measured."),
		"Values in round brackets follow from others and are not for inspection.")
}

// namesBlock tells name and maker in full where the title block has no room for them.
func namesBlock(r sheet.Ruler, k profile.Knife) []block {
	cut := func(text string, field float64) bool {
		return r.Width(sheet.Text{Height: planLetter, Content: text}) > field-fieldEdges
	}
	if !cut(k.Name, nameField) && !cut(k.Maker, makerField) {
		return nil
	}
	names := []string{"Name: " + k.Name}
	if k.Maker != "" {
		names = append(names, "Maker: "+k.Maker)
	}
	return []block{textBlock(r, "In full", names...)}
}

func cautionBlock(r sheet.Ruler) block {
	return textBlock(r, "Cautions",
		"Wear eye, hearing and breathing protection at mill and grinder; extract the dust. No gloves near what turns.",
		"Keep the edge blunt and tape it until the last step. Quench in oil with a lid and an extinguisher at hand.",
		"Measure bar, blade and tang; where they differ from the plan, what is measured counts.",
		"Laws on making, carrying, mailing and selling knives differ by place: look yours up. CAUTIONS.md says more.")
}
