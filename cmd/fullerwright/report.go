package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
	"fullerwright/toolpath/mismatch"
	"fullerwright/toolpath/proof"
)

// report is everything that is known of a build, as data. Units stand in the keys.
type report struct {
	Name       string          `json:"name"`
	Parameters string          `json:"parameters_digest"`
	Sources    []string        `json:"sources"`
	Verdict    string          `json:"verdict"`
	Outline    outlineReport   `json:"outline"`
	Bar        barReport       `json:"bar"`
	Ladder     []ladderReport  `json:"allowance_ladder"`
	Fullers    []fullerReport  `json:"fullers"`
	Measures   measuresReport  `json:"measures"`
	Checks     []checkReport   `json:"checks"`
	Programs   []programReport `json:"programs,omitempty"`
	ByHand     []handReport    `json:"by_hand,omitempty"`
	LeastWeb   *placeReport    `json:"least_web_as_milled,omitempty"`
	Mismatch   *placeReport    `json:"greatest_mismatch_of_faces,omitempty"`
	Sideways   *placeReport    `json:"greatest_sideways_offset_of_fullers,omitempty"`
}

type outlineReport struct {
	Length   float64 `json:"blade_length_mm"`
	Overall  float64 `json:"overall_length_mm"`
	Width    float64 `json:"width_mm"`
	Area     float64 `json:"area_mm2"`
	Around   float64 `json:"length_of_outline_mm"`
	Centroid struct {
		X float64 `json:"x_mm"`
		Y float64 `json:"y_mm"`
	} `json:"centroid"`
}

type barReport struct {
	Length    float64 `json:"length_mm"`
	Width     float64 `json:"width_mm"`
	Thickness float64 `json:"thickness_at_guard_plane_mm"`
	Measured  bool    `json:"measured"`
}

type ladderReport struct {
	Rung      string  `json:"rung"`
	Thickness float64 `json:"thickness_mm"`
	Length    float64 `json:"blade_length_mm"`
	OffEach   float64 `json:"taken_off_each_face_mm"`
	Why       string  `json:"why"`
}

type fullerReport struct {
	Number       int             `json:"number"`
	Radius       float64         `json:"radius_mm"`
	MilledRadius float64         `json:"milled_radius_mm"`
	StartVisible float64         `json:"visible_start_mm"`
	StartFull    float64         `json:"full_depth_start_mm"`
	EndFull      float64         `json:"full_depth_end_mm"`
	EndVisible   float64         `json:"visible_end_mm"`
	OpenStart    bool            `json:"open_through_the_shoulder"`
	OpenEnd      bool            `json:"open_toward_the_point"`
	Stations     []sectionReport `json:"stations"`
}

type sectionReport struct {
	X           float64 `json:"from_guard_plane_mm"`
	Thickness   float64 `json:"thickness_mm"`
	Depth       float64 `json:"depth_mm"`
	Width       float64 `json:"width_mm"`
	Web         float64 `json:"web_mm"`
	SpineLand   float64 `json:"land_to_back_mm"`
	LowerLand   float64 `json:"land_to_bevel_line_or_edge_mm"`
	MilledDepth float64 `json:"milled_depth_mm"`
	BarWidth    float64 `json:"width_on_bar_mm"`
}

type checkReport struct {
	Name    string   `json:"name"`
	Of      string   `json:"of"`
	Value   *float64 `json:"value"`
	Limit   float64  `json:"limit"`
	Unit    string   `json:"unit"`
	Bound   string   `json:"bound"`
	Source  string   `json:"source"`
	Verdict string   `json:"verdict"`
	Place   string   `json:"place,omitempty"`
	Remedy  string   `json:"remedy,omitempty"`
	// Ways are values of the knife file each of which does away with it alone.
	Ways []wayReport `json:"ways_out,omitempty"`
}

type wayReport struct {
	Key   string  `json:"key"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit,omitempty"`
}

func newWayReport(way toolpath.Way) wayReport {
	switch profile.KindOf(way.Key) {
	case document.Length:
		return wayReport{way.Key, round6(way.Value), "mm"}
	case document.Angle:
		return wayReport{way.Key, round6(way.Value * 180 / math.Pi), "degrees"}
	}
	return wayReport{way.Key, round6(way.Value), ""}
}

type programReport struct {
	File       string            `json:"file"`            // the first of several
	Files      []string          `json:"files,omitempty"` // all, where there are several
	Operation  string            `json:"operation"`
	Face       string            `json:"face"`
	Flip       string            `json:"turned_between_faces"`
	FlipWhy    string            `json:"turned_reason"`
	AboutX     mismatchReport    `json:"predicted_mismatch_turned_about_x"`
	AboutY     mismatchReport    `json:"predicted_mismatch_turned_about_y"`
	EdgeAtJaw  string            `json:"side_at_fixed_jaw"`
	EndAtStop  string            `json:"end_at_stop"`
	Cutter     string            `json:"cutter"`
	Spindle    float64           `json:"spindle_rev_per_min"`
	SlotFeed   float64           `json:"feed_mm_per_min"`
	RampFeed   float64           `json:"ramp_feed_mm_per_min"`
	Path       float64           `json:"path_mm"`
	Levels     int               `json:"levels"`
	Lanes      int               `json:"finishing_passes"`
	Cusp       float64           `json:"ridge_mm"`
	Corner     float64           `json:"corner_left_mm"`
	Candidates []candidateReport `json:"cutters_tried"`
	Ways       []string          `json:"single_changes_that_would_do,omitempty"`
	Time       *timeReport       `json:"time,omitempty"`
	judgedReport
}

// timeReport holds the planned time of a fuller program against the least that the shop's
// limits allow, and where it goes, s.
type timeReport struct {
	Planned      float64 `json:"planned_s"`
	Bound        float64 `json:"lower_bound_s"`
	Ratio        float64 `json:"planned_over_lower_bound"`
	Rough        float64 `json:"roughing_s"`
	Finish       float64 `json:"finishing_s"`
	Ramp         float64 `json:"ramps_s"`
	Link         float64 `json:"ways_between_passes_s"`
	Acceleration float64 `json:"speeding_up_and_slowing_down_s"`
}

func newTimeReport(w *work, j *toolpath.Job) *timeReport {
	if j.Step.Operation != toolpath.Fullers {
		return nil
	}
	bound, s := j.TimeBound(w.blade, w.shop).Seconds(), j.TimeSpent(w.shop.Machine)
	return &timeReport{Planned: round6(j.Seconds), Bound: round6(bound), Ratio: round6(j.Seconds / bound),
		Rough: round6(s.Rough), Finish: round6(s.Finish), Ramp: round6(s.Ramp), Link: round6(s.Link), Acceleration: round6(s.Acceleration)}
}

// mismatchReport is what the second face may lie beside the first for one turning.
type mismatchReport struct {
	Across  budgetReport `json:"across"`
	Along   budgetReport `json:"along"`
	Askew   budgetReport `json:"askew_over_its_length"`
	Depth   budgetReport `json:"depth"`
	WebLoss budgetReport `json:"off_the_web"`
}

type budgetReport struct {
	Worst  float64 `json:"worst_mm"`
	Likely float64 `json:"likely_mm"`
}

func newMismatchReport(m mismatch.Mismatch) mismatchReport {
	of := func(b mismatch.Budget) budgetReport { return budgetReport{round6(b.Worst()), round6(b.Likely())} }
	return mismatchReport{of(m.Across), of(m.Along), of(m.Askew), of(m.Depth), of(m.WebLoss)}
}

// judgedReport is what a proof came to.
type judgedReport struct {
	Seconds  float64         `json:"time_s"`
	Removed  float64         `json:"steel_removed_mm3"`
	Gouge    placeReport     `json:"greatest_gouge"`
	Leftover placeReport     `json:"greatest_leftover"`
	RMS      float64         `json:"rms_deviation_mm"`
	Land     *placeReport    `json:"least_land,omitempty"`
	Deepest  placeReport     `json:"deepest_engagement"`
	Chip     placeReport     `json:"thickest_chip"`
	Grid     float64         `json:"grid_mm"`
	Bound    float64         `json:"grid_bound_mm"`
	Stations []stationReport `json:"stations"`
	Findings []findingReport `json:"findings"`
}

func newJudgedReport(r toolpath.FaceProof) judgedReport {
	j := r.Judged
	out := judgedReport{Seconds: round6(r.Seconds), Removed: round6(j.Removed), Gouge: placeOf(j.Gouge), Leftover: placeOf(j.Leftover),
		RMS: round6(j.RMS), Deepest: placeOf(j.DeepestEngagement), Chip: placeOf(j.ThickestChip), Grid: round6(j.Step), Bound: round6(j.Bound),
		Findings: []findingReport{}}
	if !math.IsInf(j.Land.Value, 1) {
		land := placeOf(j.Land)
		out.Land = &land
	}
	for _, s := range r.Stations {
		out.Stations = append(out.Stations, stationReport{s.Fuller, round6(s.X), round6(s.Depth), round6(s.DesignDepth), round6(s.Width), round6(s.DesignWidth)})
	}
	for _, finding := range j.Findings {
		out.Findings = append(out.Findings, findingReport{finding.Kind, finding.TextLine, finding.Message})
	}
	return out
}

// handReport is a step that no cutter of the drawer can do.
type handReport struct {
	Operation string `json:"operation"`
	Face      string `json:"face"`
	Why       string `json:"why"`
}

type placeReport struct {
	Value float64 `json:"value_mm"`
	X     float64 `json:"from_guard_plane_mm"`
	Y     float64 `json:"from_spine_line_mm"`
	Line  int     `json:"line,omitempty"`
}

type stationReport struct {
	Fuller      int     `json:"fuller"`
	X           float64 `json:"from_guard_plane_mm"`
	Depth       float64 `json:"depth_cut_mm"`
	DesignDepth float64 `json:"depth_designed_mm"`
	Width       float64 `json:"width_cut_mm"`
	DesignWidth float64 `json:"width_designed_mm"`
}

type findingReport struct {
	Kind    string `json:"kind"`
	Line    int    `json:"line,omitempty"`
	Message string `json:"message"`
}

type candidateReport struct {
	Cutter string `json:"cutter"`
	Why    string `json:"why"`
}

// round6 rounds for the report: to a nanometre, so that the same input gives the same
// text on every processor.
func round6(v float64) float64 { return math.Round(v*1e6) / 1e6 }

func placeOf(d proof.Deviation) placeReport {
	return placeReport{round6(d.Value), round6(d.X), round6(-d.Y), d.TextLine}
}

// newReport gathers what is known so far.
func newReport(w *work) report {
	b, k := w.blade, w.blade.Knife
	r := report{Name: k.Name, Parameters: w.digest, Sources: w.sources, Verdict: string(toolpath.Worst(w.allChecks()))}
	if len(w.findings()) > 0 {
		r.Verdict = string(toolpath.Stop)
	}
	r.Outline = outlineReport{Length: round6(k.Blade.Length), Overall: round6(k.OverallLength()), Width: round6(k.Blade.Width),
		Area: round6(b.Outline.Area()), Around: round6(b.Outline.Length())}
	r.Outline.Centroid.X, r.Outline.Centroid.Y = round6(b.Outline.Centroid().X), round6(b.Outline.Centroid().Y)
	r.Bar = barReport{round6(b.Bar.Length()), round6(b.Bar.Width()), round6(b.Bar.Thickness(0)), w.measured.Any()}
	for _, step := range profile.Ladder(w.knife, b.Bar) {
		r.Ladder = append(r.Ladder, ladderReport{string(step.Rung), round6(step.Thickness), round6(step.Length), round6(step.TakenByNext), step.Why})
	}
	for i := range b.Fullers {
		r.Fullers = append(r.Fullers, newFullerReport(b, i))
	}
	r.Measures = newMeasuresReport(w.finished, w.shop)
	for _, c := range w.checks {
		r.Checks = append(r.Checks, newCheckReport(c, "blade"))
	}
	for _, f := range w.faces {
		for _, c := range f.job.Checks {
			r.Checks = append(r.Checks, newCheckReport(c, f.firstProgram()))
		}
		if f.proof.Map != nil {
			r.Programs = append(r.Programs, newProgramReport(w, f))
		}
	}
	for _, h := range w.byHand {
		r.ByHand = append(r.ByHand, handReport{string(h.step.Operation), h.step.Face.String(), h.why})
	}
	if w.bothFaces {
		web, mismatch, sideways := placeOf(w.together.Web), placeOf(w.together.Mismatch), placeOf(w.together.Sideways)
		r.LeastWeb, r.Mismatch, r.Sideways = &web, &mismatch, &sideways
	}
	return r
}

func newFullerReport(b profile.Blade, index int) fullerReport {
	f := b.Fullers[index]
	out := fullerReport{index + 1, round6(f.Finished.Radius), round6(f.Milled.Radius),
		round6(f.StartVisible), round6(f.StartFull), round6(f.EndFull), round6(f.EndVisible), f.Size.OpenStart(), f.Size.OpenEnd(), nil}
	for _, s := range b.Sections(index, 5) {
		out.Stations = append(out.Stations, newSectionReport(s))
	}
	return out
}

func newSectionReport(s profile.Section) sectionReport {
	return sectionReport{X: round6(s.X), Thickness: round6(s.Thickness), Depth: round6(s.Depth), Width: round6(s.Width), Web: round6(s.Web),
		SpineLand: round6(s.SpineLand), LowerLand: round6(s.LowerLand), MilledDepth: round6(s.MilledDepth), BarWidth: round6(s.BarWidth)}
}

func newCheckReport(c toolpath.Check, of string) checkReport {
	out := checkReport{Name: c.Name, Of: of, Limit: round6(c.Limit), Unit: c.Unit, Bound: "most", Source: c.Source,
		Verdict: string(c.Verdict), Place: c.Place, Remedy: c.Remedy}
	if c.Least {
		out.Bound = "least"
	}
	if !math.IsInf(c.Value, 0) && !math.IsNaN(c.Value) {
		value := round6(c.Value)
		out.Value = &value
	}
	for _, way := range c.Ways() {
		out.Ways = append(out.Ways, newWayReport(way))
	}
	return out
}

func newProgramReport(w *work, f faceWork) programReport {
	j := f.job
	out := programReport{File: f.firstProgram(), Files: f.severalPrograms(), Operation: string(j.Step.Operation), Face: j.Step.Face.String(), Flip: string(j.Setup.Flip), FlipWhy: f.turning.Why,
		AboutX: newMismatchReport(f.turning.AboutX), AboutY: newMismatchReport(f.turning.AboutY), EdgeAtJaw: j.Setup.EdgeAtJaw(), EndAtStop: j.Setup.EndAtStop(),
		Cutter: j.Cutter.Name, Spindle: j.Spindle, SlotFeed: j.Feeds.Slot, RampFeed: j.Feeds.Ramp,
		Path: round6(j.Length), Levels: max(len(j.Levels), j.SideLevels), Corner: round6(j.Corner), Cusp: round6(j.Cusp), Ways: f.ways, Time: newTimeReport(w, j), judgedReport: newJudgedReport(f.proof)}
	for _, l := range j.Lanes {
		out.Lanes += l.Count
	}
	for _, c := range f.candidates {
		out.Candidates = append(out.Candidates, candidateReport{c.Cutter.Name, c.Why})
	}
	return out
}

// asJSON writes data for machines.
func asJSON(v any) []byte {
	data, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		panic("impossible: the report cannot be written: " + err.Error())
	}
	return append(data, '\n')
}

// reportText writes the report for a person.
func reportText(w *work, r report) []byte {
	var b strings.Builder
	line := func(format string, values ...any) { fmt.Fprintf(&b, format+"\n", values...) }
	line("%s", r.Name)
	line("parameters %s, from %s", r.Parameters, strings.Join(r.Sources, ", "))
	line("verdict: %s", r.Verdict)
	line("")
	line("BLADE")
	line("  length %s, overall %s, width %s", both(r.Outline.Length), both(r.Outline.Overall), both(r.Outline.Width))
	line("  area of the outline %.1f mm2", r.Outline.Area)
	line("")
	line("ALLOWANCE LADDER (thickness at the ricasso)")
	for _, l := range r.Ladder {
		line("  %-16s %7.3f mm, blade %8.3f mm long: %s", l.Rung, l.Thickness, l.Length, l.Why)
	}
	line("")
	measured := "as ordered"
	if r.Bar.Measured {
		measured = "as measured"
	}
	line("BAR, %s: %.3f x %.3f x %.3f mm", measured, r.Bar.Length, r.Bar.Width, r.Bar.Thickness)
	for _, f := range r.Fullers {
		textFuller(line, f)
	}
	textMeasures(line, r.Measures)
	for _, p := range r.Programs {
		textProgram(line, p)
	}
	for _, h := range r.ByHand {
		line("")
		line("BY HAND: %s, %s face: %s", h.Operation, h.Face, h.Why)
	}
	if r.LeastWeb != nil {
		line("")
		line("BOTH FACES AS MILLED")
		line("  least web %.3f mm, %.1f mm from the guard plane", r.LeastWeb.Value, r.LeastWeb.X)
		line("  the two faces differ by at most %.4f mm in height, their fullers by %.4f mm sideways", r.Mismatch.Value, math.Abs(r.Sideways.Value))
	}
	textChecks(line, "CHECKS ON THE BLADE (limits from the sources named)", w.checks)
	for _, f := range w.faces {
		textChecks(line, fmt.Sprintf("CHECKS ON %s, WITH THE CUTTER %s", f.sayPrograms(), f.job.Cutter.Name), f.job.Checks)
	}
	return []byte(b.String())
}

func textChecks(line func(string, ...any), title string, checks []toolpath.Check) {
	line("")
	line("%s", title)
	for _, c := range checks {
		line("  %s", c)
		line("          %s", c.Source)
	}
}

func textFuller(line func(string, ...any), f fullerReport) {
	line("")
	line("FULLER %d: radius %.3f mm, milled with radius %.3f mm", f.Number, f.Radius, f.MilledRadius)
	line("  seen from %.2f to %.2f mm, full depth from %.2f to %.2f mm from the guard plane", f.StartVisible, f.EndVisible, f.StartFull, f.EndFull)
	if f.OpenStart {
		line("  open through the shoulder: it runs out of the steel there")
	}
	if f.OpenEnd {
		line("  open toward the point: its whole width ends at %.2f mm, the last of it leaves the blade at %.2f mm", f.EndFull, f.EndVisible)
	}
	line("  %8s %10s %8s %8s %8s %11s %11s %14s %13s", "station", "thickness", "depth", "width", "web", "upper land", "lower land", "depth to mill", "width on bar")
	for _, s := range f.Stations {
		line("  %8.2f %10.3f %8.3f %8.3f %8.3f %11.2f %11.2f %14.3f %13.3f", s.X, s.Thickness, s.Depth, s.Width, s.Web, s.SpineLand, s.LowerLand, s.MilledDepth, s.BarWidth)
	}
}

func textProgram(line func(string, ...any), p programReport) {
	line("")
	line("PROGRAM %s", p.File)
	line("  %s side at the fixed jaw, %s at the stop", p.EdgeAtJaw, p.EndAtStop)
	if p.Flip != "" {
		line("  turned %s between the faces: %s", p.Flip, p.FlipWhy)
	}
	line("  cutter %s, %.0f rev/min, %.0f mm/min, on ramps %.0f mm/min", p.Cutter, p.Spindle, p.SlotFeed, p.RampFeed)
	finishing := ""
	if p.Lanes > 0 {
		finishing = plural(p.Lanes, "finishing pass", "finishing passes") + ", "
	}
	line("  %s of roughing, %sabout %s", plural(p.Levels, "level", "levels"), finishing, sayMinutes(p.Seconds))
	if t := p.Time; t != nil {
		line("  of %.0f s planned: roughing %.0f, finishing %.0f, ramps %.0f, ways between passes %.0f, speeding up and slowing down %.0f;", t.Planned, t.Rough, t.Finish, t.Ramp, t.Link, t.Acceleration)
		line("  %.2f times the %.0f s that the shop's limits allow at the least", t.Ratio, t.Bound)
	}
	line("  proof: greatest gouge %.4f mm, greatest leftover %.4f mm (grid %.3f mm, which may hide %.5f mm)", p.Gouge.Value, p.Leftover.Value, p.Grid, p.Bound)
	if p.Land != nil {
		line("  least land left on the bar's face %.3f mm, %.1f mm from the guard plane", p.Land.Value, p.Land.X)
	}
	if len(p.Stations) > 0 {
		line("  %8s %12s %12s %12s %12s", "station", "depth cut", "designed", "width cut", "designed")
	}
	for _, s := range p.Stations {
		line("  %8.2f %12.4f %12.4f %12.4f %12.4f", s.X, s.Depth, s.DesignDepth, s.Width, s.DesignWidth)
	}
	for _, c := range p.Candidates {
		line("  cutter %s: %s", c.Cutter, c.Why)
	}
}

func sayMinutes(seconds float64) string {
	whole := int(math.Round(seconds))
	return fmt.Sprintf("%d min %02d s at the machine", whole/60, whole%60)
}

// both writes a length in millimetres and in the nearest sixty-fourth of an inch.
func both(mm float64) string {
	text, _ := document.NearestFraction(mm, 64)
	return fmt.Sprintf("%.2f mm (about %s)", mm, text)
}

// writeLine writes data on one line.
func writeLine(w io.Writer, v any) error {
	return json.NewEncoder(w).Encode(v)
}
