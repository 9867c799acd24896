package main

import (
	"encoding/json"
	"io"
	"math"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
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
	Refused    []handReport    `json:"cannot_be_milled,omitempty"`
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
	// Ground is given where the faces are ground to the taper before they are milled.
	Ground []groundReport `json:"ground_before_milling,omitempty"`
}

type groundReport struct {
	FromButt  float64 `json:"from_butt_mm"`
	X         float64 `json:"from_guard_plane_mm"`
	Thickness float64 `json:"thickness_mm"`
	OffEach   float64 `json:"off_each_face_mm"`
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
	StartCut     float64         `json:"cut_start_mm"` // where the first of it cuts the finished steel
	EndCut       float64         `json:"cut_end_mm"`   // and the last
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
	// Ways are changes in the knife or shop file each of which does away with it alone.
	Ways []wayReport `json:"ways_out,omitempty"`
}

type wayReport struct {
	File   string        `json:"file"` // knife or shop
	Key    string        `json:"key"`
	Value  *float64      `json:"value,omitempty"`
	Unit   string        `json:"unit,omitempty"`
	Word   string        `json:"word,omitempty"`
	Cutter *cutterReport `json:"cutter,omitempty"`
	Also   []wayReport   `json:"with,omitempty"`
}

func newWayReport(way toolpath.Way) wayReport {
	out := wayReport{File: string(way.File), Key: way.Key, Word: way.Word, Also: newWayReports(way.Also)}
	if c := way.Cutter; c != nil {
		out.Cutter = &cutterReport{nameBought(*c), string(c.End), c.Diameter, c.Flutes, c.FluteLength, c.ShankDiameter, c.StickOut, c.RunOut, c.Material, c.Coated}
		return out
	}
	if way.Word == "" {
		kind := profile.KindOf(way.Key)
		if way.File == toolpath.ShopFile {
			kind = toolpath.KindOf(way.Key)
		}
		value, unit := asWritten(kind, way.Value)
		out.Value, out.Unit = &value, unit
	}
	return out
}

func newWayReports(ways []toolpath.Way) (out []wayReport) {
	for _, way := range ways {
		out = append(out, newWayReport(way))
	}
	return out
}

// cutterReport is a cutter that would do, as a [[cutter]] of a shop file in mm.
type cutterReport struct {
	Name        string  `json:"name"`
	End         string  `json:"end"`
	Diameter    float64 `json:"diameter"`
	Flutes      int     `json:"flutes"`
	FluteLength float64 `json:"flute_length"`
	Shank       float64 `json:"shank_diameter"`
	StickOut    float64 `json:"stick_out"`
	RunOut      float64 `json:"run_out"`
	Material    string  `json:"material"`
	Coated      bool    `json:"coated"`
}

// asWritten returns a value of the knife file in the unit that reports write it in, and the
// name of that.
func asWritten(kind document.Kind, value float64) (float64, string) {
	switch kind {
	case document.Length:
		return round6(value), "mm"
	case document.Angle:
		return round6(value * 180 / math.Pi), "degrees"
	}
	return round6(value), ""
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

// round6 rounds for the report: to a nanometre, so that the same input gives the same
// text on every processor.
func round6(v float64) float64 { return math.Round(v*1e6) / 1e6 }

func placeOf(d proof.Deviation) placeReport {
	return placeReport{round6(d.Value), round6(d.X), round6(-d.Y), d.TextLine}
}

// newReport gathers what is known so far.
func newReport(w *work) report {
	b, k := w.blade, w.blade.Knife
	r := report{Name: k.Name, Parameters: w.digest, Sources: w.sources, Verdict: string(w.verdict())}
	if len(w.findings()) > 0 {
		r.Verdict = string(toolpath.Stop)
	}
	r.Outline = outlineReport{Length: round6(k.Blade.Length), Overall: round6(k.OverallLength()), Width: round6(k.Blade.Width),
		Area: round6(b.Outline.Area()), Around: round6(b.Outline.Length())}
	r.Outline.Centroid.X, r.Outline.Centroid.Y = round6(b.Outline.Centroid().X), round6(b.Outline.Centroid().Y)
	r.Bar = barReport{round6(b.Bar.Length()), round6(b.Bar.Width()), round6(b.Bar.Thickness(0)), w.measured.Any(), nil}
	for _, s := range b.Bar.Ground() {
		r.Bar.Ground = append(r.Bar.Ground, groundReport{round6(s.FromButt), round6(s.X), round6(s.Thickness), round6(s.OffEach)})
	}
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
	for _, refused := range w.refused {
		r.Refused = append(r.Refused, handReport{string(refused.step.Operation), refused.step.Face.String(), refused.why()})
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
		round6(f.StartVisible), round6(f.StartFull), round6(f.EndFull), round6(f.EndVisible),
		round6(f.StartCut), round6(f.EndCut), f.Size.OpenStart(), f.Size.OpenEnd(), nil}
	for _, s := range b.Sections(index, 5) {
		out.Stations = append(out.Stations, newSectionReport(b.InSteelAt(index, s.X)))
	}
	return out
}

func newSectionReport(s profile.Section) sectionReport {
	return sectionReport{X: round6(s.X), Thickness: round6(s.Thickness), Depth: round6(s.Depth), Width: round6(s.Width), Web: round6(s.Web),
		SpineLand: round6(s.SpineLand), LowerLand: round6(s.LowerLand), MilledDepth: round6(s.MilledDepth), BarWidth: round6(s.BarWidth)}
}

func newCheckReport(c toolpath.Check, of string) checkReport {
	out := checkReport{Name: c.Name, Of: of, Limit: round6(c.Limit), Unit: c.Unit, Bound: "most", Source: c.Source.String(),
		Verdict: string(c.Verdict), Place: c.Place.String(), Remedy: c.Remedy.String()}
	if c.Least {
		out.Bound = "least"
	}
	if !math.IsInf(c.Value, 0) && !math.IsNaN(c.Value) {
		value := round6(c.Value)
		out.Value = &value
	}
	out.Ways = newWayReports(c.Ways())
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

// writeLine writes data on one line.
func writeLine(w io.Writer, v any) error {
	return json.NewEncoder(w).Encode(v)
}
