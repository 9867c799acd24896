package main

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

// measuresReport is what is known of the finished knife, as data.
type measuresReport struct {
	Density    float64      `json:"density_g_per_cm3"`
	DensityIs  string       `json:"density_source"`
	Mass       float64      `json:"mass_g"`
	Balance    float64      `json:"balance_from_guard_plane_mm"`
	BladeMass  float64      `json:"mass_of_blade_and_tang_g"`
	BladeX     float64      `json:"centre_of_gravity_of_blade_and_tang_mm"`
	Parts      []partReport `json:"parts"`
	Deflection struct {
		Force    float64 `json:"force_at_point_N"`
		Sideways float64 `json:"sideways_mm"`
		Edgewise float64 `json:"edgewise_mm"`
	} `json:"deflection_held_at_guard_plane"`
	Buy struct {
		Grams    float64 `json:"lighter_g"`
		Shift    float64 `json:"balance_moves_mm"`
		Sideways float64 `json:"sideways_stiffness_kept"`
		Edgewise float64 `json:"edgewise_stiffness_kept"`
		Section  float64 `json:"least_sideways_stiffness_kept_in_a_section"`
	} `json:"fullers_buy"`
	Stations []stationMeasure `json:"sections"`
	Grinding []grindingReport `json:"grinding"`
	Edge     sharpenedReport  `json:"final_edge"`
	Shoulder shoulderReport   `json:"shoulder"`
	Stack    stackReport      `json:"stack_up"`
}

type partReport struct {
	Name    string  `json:"part"`
	Density float64 `json:"density_g_per_cm3"`
	Mass    float64 `json:"mass_g"`
	X       float64 `json:"centre_from_guard_plane_mm"`
}

type stationMeasure struct {
	X         float64 `json:"from_guard_plane_mm"`
	Width     float64 `json:"width_mm"`
	Thickness float64 `json:"thickness_mm"`
	Area      float64 `json:"area_mm2"`
	Y         float64 `json:"centroid_from_spine_line_mm"`
	Flat      float64 `json:"second_moment_sideways_mm4"`
	Edge      float64 `json:"second_moment_edgewise_mm4"`
	Sideways  float64 `json:"stiffness_sideways_N_m2"`
	Edgewise  float64 `json:"stiffness_edgewise_N_m2"`
	Kept      float64 `json:"sideways_kept_with_fullers"`
}

type grindingReport struct {
	X           float64  `json:"from_guard_plane_mm"`
	Thickness   float64  `json:"thickness_mm"`
	PerFace     float64  `json:"off_each_face_of_bar_mm"`
	Height      float64  `json:"bevel_height_mm"`
	Angle       float64  `json:"bevel_angle_deg"`
	EdgeAngle   float64  `json:"angle_square_to_edge_deg"`
	OtherHeight float64  `json:"height_at_constant_angle_mm"`
	Scribe      float64  `json:"edge_scribe_from_finished_face_mm"`
	ScribeOnBar float64  `json:"edge_scribe_from_face_of_bar_mm"`
	OverBack    bool     `json:"bevel_reaches_the_back"`
	Ceiling     *float64 `json:"hollow_ceiling_mm,omitempty"`
	Least       *float64 `json:"least_thickness_in_hollow_mm,omitempty"`
}

type sharpenedReport struct {
	Thickness float64 `json:"thickness_before_sharpening_mm"`
	Angle     float64 `json:"angle_each_side_deg"`
	Height    float64 `json:"height_mm"`
	Width     float64 `json:"width_along_slope_mm"`
}

type shoulderReport struct {
	Lever         float64  `json:"lever_to_end_of_hilt_mm"`
	Nominal       float64  `json:"plain_stress_N_per_mm2_for_each_N"`
	Concentration *float64 `json:"concentration_at_corner,omitempty"`
	Outside       string   `json:"no_concentration_because,omitempty"`
	Sharper       *float64 `json:"concentration_at_half_the_radius,omitempty"`
	StandOff      float64  `json:"guard_stands_off_mm"`
	Chamfer       float64  `json:"chamfer_needed_mm"`
	Hidden        bool     `json:"step_hides_chamfer"`
	SlotLength    float64  `json:"slot_length_mm"`
	SlotWidth     float64  `json:"slot_width_mm"`
	SlotMeasured  bool     `json:"slot_from_tang_as_measured"`
	Drill         float64  `json:"slot_drill_mm"`
	Mill          float64  `json:"slot_mill_to_width_mm"`
	BearingAbove  float64  `json:"guard_bears_above_mm2"`
	BearingBelow  float64  `json:"guard_bears_below_mm2"`
	Root          *float64 `json:"thread_stress_area_over_tang_end,omitempty"`
}

type stackReport struct {
	Guard      float64  `json:"guard_ends_mm"`
	Spacers    float64  `json:"spacers_end_mm"`
	Handle     float64  `json:"handle_ends_mm"`
	Pommel     float64  `json:"pommel_ends_mm"`
	Tang       float64  `json:"tang_ends_mm"`
	Rod        float64  `json:"thread_ends_mm"`
	Thread     string   `json:"thread,omitempty"`
	Drill      string   `json:"tap_drill,omitempty"`
	Engagement *float64 `json:"thread_engagement_mm,omitempty"`
	Wanted     *float64 `json:"engagement_wanted_mm,omitempty"`
	Wall       *float64 `json:"wall_left_in_pommel_mm,omitempty"`
	Bottoms    *float64 `json:"rod_too_long_by_mm,omitempty"`
}

func known(v float64) *float64 {
	if v == 0 {
		return nil
	}
	v = round6(v)
	return &v
}

func optional(v profile.Optional) *float64 {
	if !v.Known {
		return nil
	}
	value := round6(v.Value)
	return &value
}

// grindingStations is how many stations the grinding table has.
const grindingStations = 7

func newMeasuresReport(b profile.Blade, shop toolpath.Shop) measuresReport {
	density := shop.Density(b.Knife.Blade.Steel)
	m := b.Measure(density.Value)
	r := measuresReport{Density: density.Value, DensityIs: fmt.Sprintf("%s: %s", density.Mark, density.Source),
		Mass: round6(m.Whole.Mass), Balance: round6(m.Whole.X), BladeMass: round6(m.Blade.Mass), BladeX: round6(m.Blade.X)}
	for _, p := range m.Parts {
		r.Parts = append(r.Parts, partReport{p.Name, p.Density, round6(p.Mass), round6(p.X)})
	}
	r.Deflection.Force, r.Deflection.Sideways, r.Deflection.Edgewise = m.Force, round6(m.Bends.Sideways), round6(m.Bends.Edgewise)
	r.Buy.Grams, r.Buy.Shift, r.Buy.Sideways, r.Buy.Edgewise, r.Buy.Section =
		round6(m.Buy.Grams), round6(m.Buy.BalanceShift), round6(m.Buy.SidewaysKept), round6(m.Buy.EdgewiseKept), round6(m.Buy.LeastSidewaysSection)
	for _, s := range m.Stations {
		r.Stations = append(r.Stations, newStationMeasure(s))
	}
	for _, g := range b.GrindingTable(grindingStations) {
		r.Grinding = append(r.Grinding, newGrindingReport(g))
	}
	bevel := b.Knife.Bevel
	final := profile.Sharpening(bevel.EdgeThickness, bevel.EdgeAngle)
	r.Edge = sharpenedReport{round6(bevel.EdgeThickness), round6(bevel.EdgeAngle.Degrees()), round6(final.Height), round6(final.Width)}
	r.Shoulder, r.Stack = newShoulderReport(m.Shoulder), newStackReport(m.Stack)
	return r
}

func newStationMeasure(s profile.StationMeasures) stationMeasure {
	const perSquareMetre = 1e-6 // N·mm² to N·m²
	return stationMeasure{X: round6(s.X), Width: round6(s.Width), Thickness: round6(s.Thickness), Area: round6(s.Area), Y: round6(-s.Y),
		Flat: round6(s.Flat), Edge: round6(s.Edge), Sideways: round6(s.Stiffness.Sideways * perSquareMetre), Edgewise: round6(s.Stiffness.Edgewise * perSquareMetre),
		Kept: round6(s.Flat / s.Plain.Flat)}
}

func newGrindingReport(g profile.GrindingStation) grindingReport {
	const degrees = 180 / math.Pi
	return grindingReport{X: round6(g.X), Thickness: round6(g.Thickness), PerFace: round6(g.PerFace), Height: round6(g.Height), Angle: round6(g.Angle * degrees),
		EdgeAngle: round6(g.EdgeAngle * degrees), OtherHeight: round6(g.ConstantAngleAt), Scribe: round6(g.ScribeFromFace), ScribeOnBar: round6(g.ScribeOnBar),
		OverBack: g.OverBack, Ceiling: optional(g.HollowCeiling), Least: optional(g.HollowLeast)}
}

func newShoulderReport(s profile.ShoulderMeasures) shoulderReport {
	return shoulderReport{Lever: round6(s.Lever), Nominal: round6(s.Nominal), Concentration: known(s.Concentration), Outside: s.Outside, Sharper: known(s.Sharper),
		StandOff: round6(s.StandOff), Chamfer: round6(s.ChamferNeeded), Hidden: s.Hidden, SlotLength: round6(s.Slot.Length), SlotWidth: round6(s.Slot.Width), SlotMeasured: s.SlotMeasured,
		Drill: round6(s.Slot.Drill), Mill: round6(s.Slot.Mill), BearingAbove: round6(s.Bearing[0]), BearingBelow: round6(s.Bearing[1]), Root: known(s.RootUnderTang)}
}

func newStackReport(s profile.StackMeasures) stackReport {
	r := stackReport{Guard: round6(s.Guard), Spacers: round6(s.Spacers), Handle: round6(s.Handle), Pommel: round6(s.Pommel), Tang: round6(s.Tang), Rod: round6(s.Rod)}
	if s.Threaded {
		engagement, wanted, wall := round6(s.Engagement), round6(s.Wanted), round6(s.WallLeft)
		r.Thread, r.Drill = s.Thread.Name, s.Thread.DrillName
		r.Engagement, r.Wanted, r.Wall, r.Bottoms = &engagement, &wanted, &wall, known(s.Bottoms)
	}
	return r
}

// sayBalance says where a knife balances.
func sayBalance(x float64) document.Sentence {
	if x < 0 {
		return document.Say("%.1f mm behind the guard plane", -x)
	}
	return document.Say("%.1f mm in front of the guard plane", x)
}

// textMeasures writes the measures for a person.
func textMeasures(line func(string, ...any), r measuresReport) {
	line("")
	line("WEIGHT AND BALANCE (steel %.2f g/cm3, %s)", r.Density, r.DensityIs)
	for _, p := range r.Parts {
		line("  %-20s %7.1f g, centre %7.1f mm, %.2f g/cm3", p.Name, p.Mass, p.X, p.Density)
	}
	line("  %-20s %7.1f g, balance %s", "whole knife", r.Mass, sayBalance(r.Balance))
	line("  the handle is taken as a prism of its mean size; weigh what you make")
	line("")
	line("STIFFNESS (held at the guard plane, %.0f N at the point)", r.Deflection.Force)
	line("  the point moves %.2f mm sideways; pressed edgewise a thirtieth of the length behind it, the blade moves %.3f mm", r.Deflection.Sideways, r.Deflection.Edgewise)
	line("  %8s %7s %9s %9s %10s %14s %14s %6s", "station", "width", "thickness", document.Say("area %s", document.UnitName("mm2")), "centroid", "sideways N m2", "edgewise N m2", "kept")
	for _, s := range r.Stations {
		line("  %8.1f %7.2f %9.3f %9.2f %10.2f %14.3f %14.2f %5.1f%%", dimension(s.X), dimension(s.Width), dimension(s.Thickness), area(s.Area), dimension(s.Y), s.Sideways, s.Edgewise, 100*s.Kept)
	}
	line("")
	line("WHAT THE FULLERS BUY")
	if r.Buy.Grams == 0 {
		line("  this knife has none")
	} else {
		line("  %.1f g lighter; balance moves %.1f mm %s", r.Buy.Grams, math.Abs(r.Buy.Shift), sayWhither(r.Buy.Shift))
		line("  stiffness kept: %.1f %% sideways (%.1f %% in the section that loses most), %.1f %% edgewise", 100*r.Buy.Sideways, 100*r.Buy.Section, 100*r.Buy.Edgewise)
	}
	textGrinding(line, r)
	textShoulder(line, r.Shoulder)
	textStack(line, r.Stack)
}

func sayWhither(shift float64) string {
	if shift < 0 {
		return "toward the handle"
	}
	return "toward the point"
}

func textGrinding(line func(string, ...any), r measuresReport) {
	line("")
	line("GRINDING (heights square to the spine line; angles of one side to the centre-plane)")
	line("  %8s %9s %9s %7s %7s %8s %12s %12s %12s", "station", "thickness", "off each", "height", "angle", "at edge", "height if", "edge scribe", "edge scribe")
	line("  %8s %9s %9s %7s %7s %8s %12s %12s %12s", "", "finished", "bar face", "", "deg", "deg", "angle kept", "finished", "on the bar*")
	for _, g := range r.Grinding {
		line("  %8.1f %9.3f %9.3f %7.2f %7.2f %8.2f %12.2f %12.3f %12.3f", dimension(g.X), dimension(g.Thickness), dimension(g.PerFace), dimension(g.Height), g.Angle, g.EdgeAngle,
			dimension(g.OtherHeight), dimension(g.Scribe), dimension(g.ScribeOnBar))
	}
	line("  * from each face of the bar to the edge as it must be before hardening, with what scale and finishing take")
	for _, g := range r.Grinding {
		if g.OverBack {
			line("  %8.1f the bevel reaches the back here, before its full height", dimension(g.X))
			break
		}
	}
	for _, g := range r.Grinding {
		if g.Ceiling != nil && g.Least != nil {
			line("  %8.1f hollow: thinnest %.3f mm; this wheel grinds up to %.2f mm high before it undercuts", dimension(g.X), *g.Least, *g.Ceiling)
		}
	}
	line("  final edge: %.2f mm sharpened at %.0f degrees each side is %.2f mm high, %.2f mm wide along the slope", r.Edge.Thickness, r.Edge.Angle, r.Edge.Height, r.Edge.Width)
}

func textShoulder(line func(string, ...any), s shoulderReport) {
	line("")
	line("SHOULDER AND TANG")
	line("  a push of 1 N across the end of the hilt, %.0f mm away, makes %.3f N/mm2 at the tang's edge", s.Lever, s.Nominal)
	switch {
	case s.Concentration != nil && s.Sharper != nil:
		line("  the inside corner makes that %.2f times as much; with half the radius it would be %.2f times", *s.Concentration, *s.Sharper)
	case s.Concentration != nil:
		line("  the inside corner makes that %.2f times as much; with half the radius it would be beyond what the formula covers", *s.Concentration)
	default:
		line("  the corner's share is not known: %s", s.Outside)
	}
	if s.StandOff > 0 {
		line("  a slot with a sharp rim stands %.2f mm off the shoulder: chamfer its front rim %.2f mm; %s", s.StandOff, s.Chamfer, sayHidden(s.Hidden))
	} else {
		line("  the guard closes on the shoulder without a chamfer")
	}
	source := "the tang as drawn; measure it and put it in the file of measured values"
	if s.SlotMeasured {
		source = "the tang as measured"
	}
	line("  slot %.2f x %.2f mm, for %s", s.SlotLength, s.SlotWidth, source)
	line("  drill a row %.1f mm, mill to %.2f mm, file to fit", s.Drill, s.Mill)
	line("  the guard bears on %.1f mm2 above the tang and %.1f mm2 below", s.BearingAbove, s.BearingBelow)
	if s.Root != nil {
		line("  the thread's stress area is %.0f %% of the end of the tang", 100**s.Root)
	}
}

func sayHidden(hidden bool) string {
	if hidden {
		return "the steps hide it"
	}
	return "the lower step is too low to hide it"
}

func textStack(line func(string, ...any), s stackReport) {
	line("")
	line("STACK-UP (behind the guard plane)")
	var ends document.Sentence
	before := 0.0
	for _, part := range []struct {
		name string
		end  float64
	}{{"guard", s.Guard}, {"spacers", s.Spacers}, {"handle", s.Handle}, {"pommel", s.Pommel}} {
		if part.end > before {
			ends = ends.And("%s to %.2f, ", part.name, dimension(part.end))
		}
		before = part.end
	}
	if ends.Empty() {
		ends = document.Say("no guard, handle or pommel in the file, ")
	}
	ends = ends.And("tang to %.2f", dimension(s.Tang))
	if s.Rod > s.Tang {
		ends = ends.And(", thread to %.2f", dimension(s.Rod))
	}
	line("  %s %s", ends, document.UnitName("mm"))
	if s.Engagement == nil {
		return
	}
	line("  thread %s, tap drill %s: %.1f mm engaged of %.1f mm wanted, wall left %.1f mm", s.Thread, s.Drill, *s.Engagement, *s.Wanted, *s.Wall)
	if s.Bottoms != nil {
		line("  the rod is %.2f mm too long for the hole and would bottom before it clamps", *s.Bottoms)
	}
}
