package main

import (
	"fmt"

	"github.com/spf13/pflag"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/material"
)

func measureCommand() command {
	return command{
		name: "measure", arguments: "[KNIFE.toml]", summary: "weigh the finished knife: balance, stiffness, sections, bevels, shoulder and stack-up",
		example: "fullerwright measure my-knife.toml --at 104",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var in inputs
			in.declare(set)
			at := set.String("at", "", "one `STATION`, from the guard plane, as 104 or \"4 in\"; behind it negative")
			data := set.Bool("json", false, "print the measures as data")
			return func(arguments []string) error { return p.measure(&in, arguments, *at, *data) }
		},
	}
}

func (p *program) measure(in *inputs, arguments []string, at string, data bool) error {
	read, err := in.read(arguments)
	if err != nil {
		return err
	}
	p.speaks(read.knife.Units)
	blade, err := profile.Build(read.knife, read.measured)
	if err != nil {
		return err
	}
	if at != "" {
		return p.measureAt(blade, at, data)
	}
	r := newMeasuresReport(blade, read.shop)
	if data {
		_, err := p.stdout.Write(asJSON(r))
		return err
	}
	p.say("%s, %s\n", read.knife.Name, read.knife.Blade.Steel)
	textMeasures(func(format string, values ...any) { p.say(format+"\n", values...) }, r)
	return nil
}

// measureAt prints one section.
func (p *program) measureAt(b profile.Blade, at string, data bool) error {
	x, err := document.ParseLength(at, b.Knife.Units)
	if err != nil {
		return &usageError{fmt.Sprintf("%q is no station: %v", at, err), "write it as 104, \"104 mm\" or \"4 1/8 in\""}
	}
	if x < -b.Knife.Tang.Length || x > b.Knife.Blade.Length {
		return &usageError{fmt.Sprintf("there is no steel %.2f mm from the guard plane", x),
			fmt.Sprintf("the tang ends at %.2f mm, the point is at %.2f mm", -b.Knife.Tang.Length, b.Knife.Blade.Length)}
	}
	s := b.MeasureAt(x)
	r := struct {
		stationMeasure
		Grinding *grindingReport `json:"grinding,omitempty"`
		Fullers  []sectionReport `json:"fullers,omitempty"`
	}{stationMeasure: newStationMeasure(s)}
	if x >= b.Knife.Ricasso.Length {
		g := newGrindingReport(b.GrindingAt(x))
		r.Grinding = &g
	}
	for i, f := range b.Fullers {
		if x >= f.StartCut && x <= f.EndCut {
			r.Fullers = append(r.Fullers, newSectionReport(b.InSteelAt(i, x)))
		}
	}
	if data {
		_, err := p.stdout.Write(asJSON(r))
		return err
	}
	p.say("%s, %.2f mm from the guard plane\n", b.Knife.Name, x)
	what := "thickness between the bevels"
	if x < b.Knife.Ricasso.Length {
		what = "thickness"
	}
	p.say("  width %.3f mm, %s %.3f mm, area %.3f mm2\n", r.Width, what, r.Thickness, r.Area)
	p.say("  centroid %.3f mm under the spine line\n", r.Y)
	p.say("  second moments %.2f mm4 sideways, %.1f mm4 edgewise; stiffness %.3f and %.2f N m2\n", r.Flat, r.Edge, r.Sideways, r.Edgewise)
	if g := r.Grinding; g != nil {
		p.say("  bevel %.2f mm high at %.2f degrees, %.2f degrees square to the edge\n", g.Height, g.Angle, g.EdgeAngle)
		p.say("  edge scribe %.3f mm from each finished face, %.3f mm from each face of the bar\n", g.Scribe, g.ScribeOnBar)
	}
	for _, f := range r.Fullers {
		p.say("  fuller %.3f mm deep, %.3f mm wide, web %.3f mm\n", f.Depth, f.Width, f.Web)
	}
	return nil
}

func steelsCommand() command {
	return command{
		name: "steels", summary: "list the blade steels with their figures and where those come from", example: "fullerwright steels",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var in inputs
			in.declare(set)
			data := set.Bool("json", false, "print the list as data")
			return func(arguments []string) error {
				if len(arguments) > 0 {
					return &usageError{"steels takes no arguments", "try: fullerwright steels"}
				}
				return p.steels(&in, *data)
			}
		},
	}
}

// steelReport is one steel as data.
type steelReport struct {
	Name      string  `json:"name"`
	Group     string  `json:"group,omitempty"`
	Density   float64 `json:"density_g_per_cm3"`
	DensityIs string  `json:"density_source"`
	Annealed  string  `json:"annealed_HB,omitempty"`
	Hardened  string  `json:"hardened_HRC,omitempty"`
	Speed     float64 `json:"surface_speed_coated_carbide_m_per_min"`
	HSS       float64 `json:"surface_speed_hss_m_per_min"`
	KC11      float64 `json:"specific_force_kc11_N_per_mm2"`
	MC        float64 `json:"mc"`
	Depth     float64 `json:"level_over_diameter_most"`
}

func (p *program) steels(in *inputs, data bool) error {
	var read job
	shop, err := in.readShop(&read)
	if err != nil {
		return err
	}
	var all []steelReport
	add := func(r steelReport) {
		if d, known := shop.CuttingData(r.Name); known {
			r.Speed, r.HSS, r.KC11, r.MC, r.Depth = round6(d.Coated), round6(d.HSS), d.KC11, d.MC, d.DepthRatioMost
		}
		density := shop.Density(r.Name)
		r.Density, r.DensityIs = density.Value, fmt.Sprintf("%s: %s", density.Mark, density.Source)
		all = append(all, r)
	}
	for _, s := range shop.Steels {
		add(steelReport{Name: s.Name, Group: "as " + s.CutsLike})
	}
	for _, s := range material.Steels() {
		add(steelReport{Name: s.Name, Group: s.Group, Annealed: sayRange(s.Annealed), Hardened: sayRange(s.Hardened)})
	}
	if data {
		_, err := p.stdout.Write(asJSON(all))
		return err
	}
	p.say("%-10s %-8s %8s  %-16s %-14s %12s %8s %10s\n", "steel", "group", "g/cm3", "annealed HB", "knives HRC", "carbide m/min", "hss", "kc1.1")
	for _, r := range all {
		p.say("%-10s %-8s %8.2f  %-16s %-14s %12.0f %8.0f %10.0f\n", r.Name, r.Group, r.Density, r.Annealed, r.Hardened, r.Speed, r.HSS, r.KC11)
	}
	fmt.Fprint(p.stdout, `
The letter says how sure a range is: r read in the source, m from memory of it, j judgement.
--json names each source. Groups are those of ISO 513 with the numbers of VDI 3323. Surface
speeds are where to start in a slot in annealed steel; specific forces are good to half as
much again. Densities and hardnesses are for weighing and choosing, not for acceptance.
`)
	return nil
}

func sayRange(r material.Range) string {
	mark := map[material.Mark]string{material.Read: "r", material.Memory: "m", material.Judgement: "j", material.Given: "g"}[r.Mark]
	return fmt.Sprintf("%.0f to %.0f %s", r.Least, r.Most, mark)
}
