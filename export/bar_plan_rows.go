package export

import (
	"fmt"

	"fullerwright/profile"
)

// barRows returns what the sheet of a bar says besides its figure.
func barRows(b profile.Blade, m profile.Measures, o PlanOptions) [][2]string {
	const grams = 1e-3 // of a mm³ at 1 g/cm³
	bar, style := b.Bar.Bought(), o.Lengths
	thin, _ := bar.Thinnest(bar.Butt, bar.Front)
	thickness := style.Thickness(thin)
	if thick := thickestOf(bar); thick-thin > 0.005 {
		thickness += " to " + style.Thickness(thick)
	}
	source := "as ordered, or the least that will do; measure it"
	if bar.MeasuredWidth || len(bar.MeasuredAt) > 0 {
		source = "as measured"
	}
	volume := barVolume(bar)
	whole := volume * m.Density * grams
	rows := [][2]string{
		{"bar", fmt.Sprintf("%s x %s x %s %s, %s", say(style, bar.Length()), style.Thickness(bar.Width()), thickness, style.Unit(), source)},
		{"cut off", style.say("one saw kerf more for each cut: bandsaw 0.9 to 1.3 mm, hacksaw about 1 mm")},
		{"bar weighs", fmt.Sprintf("%s (%.1f cm³ of %s, %.2f g/cm³)", sayWeight(whole), volume/1000, b.Knife.Blade.Steel, m.Density)},
		{"blade and tang", sayWeight(m.Blade.Mass-rodMass(m)) + " finished"},
		{"chips and dust", fmt.Sprintf("%s, %.0f %% of the bar; the fullers alone %.1f g", sayWeight(whole-m.Blade.Mass+rodMass(m)), 100*(1-(m.Blade.Mass-rodMass(m))/whole), m.Buy.Grams)},
	}
	rows = append(rows, groundRows(b.Bar, style)...)
	return append(rows, billetRows(bar, volume, m.Density, o)...)
}

// groundRows returns to what the faces are ground before they are milled.
func groundRows(bar profile.Bar, style LengthStyle) (rows [][2]string) {
	name := "ground first"
	for _, s := range bar.Ground() {
		rows = append(rows, [2]string{name, fmt.Sprintf("%s %s from the butt: %s thick, %s off each face", say(style, s.FromButt), style.Unit(), style.Thickness(s.Thickness), style.Thickness(s.OffEach))})
		name = ""
	}
	return rows
}

// billetRows returns what a forged bar takes: the bar's volume over what the fire
// leaves of a billet.
func billetRows(bar profile.Bar, volume, density float64, o PlanOptions) [][2]string {
	if o.ScaleLoss <= 0 {
		return [][2]string{{"forged", "give --scale-loss, in percent of weight, as your fire takes it, for the billet"}}
	}
	billet := volume / (1 - o.ScaleLoss)
	return [][2]string{{"billet", fmt.Sprintf("%.1f cm³, %s, for a scale loss of %.1f %%", billet/1000, sayWeight(billet*density*1e-3), 100*o.ScaleLoss)},
		{"", fmt.Sprintf("or %s %s of the bar's own section; dross and crop ends come on top", say(o.Lengths, bar.Length()/(1-o.ScaleLoss)), o.Lengths.Unit())}}
}

// rodMass returns the mass of the threaded extension, which is not cut from the bar.
func rodMass(m profile.Measures) float64 {
	for _, part := range m.Parts {
		if part.Name == "threaded extension" {
			return part.Mass
		}
	}
	return 0
}

// thickestOf returns the greatest thickness of a bar, mm.
func thickestOf(bar profile.Bar) float64 {
	most := max(bar.Thickness(bar.Butt), bar.Thickness(bar.Front))
	for _, x := range bar.Stations() {
		most = max(most, bar.Thickness(x))
	}
	return most
}

func sayWeight(grams float64) string {
	const ounce = 28.349523125
	return fmt.Sprintf("%.0f g (%.1f oz)", grams, grams/ounce)
}
