package main

import (
	"math"

	"fullerwright/toolpath"
	"fullerwright/toolpath/mismatch"
)

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
	CornerFrom float64           `json:"corner_before_mm,omitempty"` // of a program that mills the corners alone
	Candidates []candidateReport `json:"cutters_tried"`
	Ways       []wayReport       `json:"single_changes_that_would_do,omitempty"`
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

func newProgramReport(w *work, f faceWork) programReport {
	j := f.job
	out := programReport{File: f.firstProgram(), Files: f.severalPrograms(), Operation: string(j.Step.Operation), Face: j.Step.Face.String(), Flip: string(j.Setup.Flip), FlipWhy: f.turning.Why,
		AboutX: newMismatchReport(f.turning.AboutX), AboutY: newMismatchReport(f.turning.AboutY), EdgeAtJaw: j.Setup.EdgeAtJaw(), EndAtStop: j.Setup.EndAtStop(),
		Cutter: j.Cutter.Name, Spindle: j.Spindle, SlotFeed: j.Feeds.Slot, RampFeed: j.Feeds.Ramp,
		Path: round6(j.Length), Levels: levelsOf(j), Corner: round6(j.Corner), CornerFrom: round6(j.CornerFrom), Cusp: round6(j.Cusp), Ways: newWayReports(f.ways), Time: newTimeReport(w, j), judgedReport: newJudgedReport(f.proof)}
	for _, l := range j.Lanes {
		out.Lanes += l.Count
	}
	for _, c := range f.candidates {
		out.Candidates = append(out.Candidates, candidateReport{c.Cutter.Name, c.Why})
	}
	return out
}

// levelsOf returns how many levels a program has, as its comments, its sheet and
// --from-level count them: none where it drills.
func levelsOf(j *toolpath.Job) int {
	if j.Step.Bore > 0 {
		return 0
	}
	return j.RoughLevels()
}
