package match

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"fullerwright/profile/document"
)

// noShoulder says why a trace cannot be laid down.
func noShoulder(m Measurements) error {
	return document.FieldErrors{{File: m.File, Rule: "the trace has no shoulders: nowhere does its width step up from tang to blade",
		Hint: "trace the bare blade with its tang, or measure stations instead"}}
}

// noFamily says why no family came into question.
func noFamily(candidates []Candidate) error {
	var faults document.FieldErrors
	for _, c := range candidates {
		faults = append(faults, document.FieldError{Field: c.Family, Rule: "cannot be fitted: " + c.Reason, Hint: "check the unit and the stations, or name a pattern nearer in size with --pattern"})
	}
	if len(faults) == 0 {
		return errors.New("no family was given")
	}
	return faults
}

// Verdict says whether the knife found reproduces the one measured.
type Verdict struct {
	Reproduced bool
	Within     float64  // mm: what was asked
	Reasons    []string // why not
	Worst      Residual // of the outline, the reading that lies farthest off
	Share      float64  // of the readings of the outline that lie aside
}

const (
	// slips is the greatest share of readings that may be slips. More is no slip but
	// another outline.
	slips = 0.15
	// together is how many neighbours on one side of the outline are no slips but a
	// feature that the family does not have.
	together = 4
)

// Usual returns how closely a knife must follow the readings where nothing else is asked,
// mm: a hand-ground outline waves by a few tenths of a millimetre (common practice, no
// source), and a trace adds what a scan loses.
func (m Measurements) Usual() float64 {
	if m.Traced {
		return 0.6
	}
	return 0.25
}

func judge(m Measurements, f Fit, within float64) Verdict {
	if within <= 0 {
		within = m.Usual()
	}
	v := Verdict{Within: within}
	outline, count := 0, 0
	for _, r := range f.Residuals {
		if r.Reading.Kind == Thickness {
			continue
		}
		outline++
		if r.Aside && math.Abs(r.Distance) > within {
			count++
		}
		if math.Abs(r.Distance) > math.Abs(v.Worst.Distance) {
			v.Worst = r
		}
	}
	v.Share = float64(count) / math.Max(1, float64(outline))
	// Two standard deviations hold nineteen of twenty readings.
	if spread := 2 * f.Deviation; spread > within {
		v.Reasons = append(v.Reasons, fmt.Sprintf("one reading in twenty lies over %.2f mm from its outline, where %.2f mm were asked", spread, within))
	}
	if v.Share > slips {
		v.Reasons = append(v.Reasons, fmt.Sprintf("%.0f %% of the readings lie aside of the others, more than can be slips", 100*v.Share))
	}
	for _, run := range runs(f.Residuals, within) {
		first, last := run[0], run[len(run)-1]
		v.Reasons = append(v.Reasons, fmt.Sprintf("%d neighbours from %s to %s lie up to %.2f mm %s: a feature that the family does not have",
			len(run), first.Reading.Name(m.Unit), last.Reading.Name(m.Unit), farthest(run), sideOf(first)))
	}
	v.Reproduced = len(v.Reasons) == 0
	return v
}

func farthest(run []Residual) float64 {
	most := 0.0
	for _, r := range run {
		most = math.Max(most, math.Abs(r.Distance))
	}
	return most
}

func sideOf(r Residual) string {
	switch {
	case r.Reading.Kind == Traced && r.Distance > 0:
		return "outside"
	case r.Reading.Kind == Traced:
		return "inside"
	case r.Distance > 0:
		return "above"
	}
	return "below"
}

// runs returns the runs of neighbours that lie aside on the same side of the outline by
// more than was asked.
func runs(all []Residual, within float64) [][]Residual {
	sorted := make([]Residual, 0, len(all))
	for _, r := range all {
		if r.Reading.Kind != Thickness {
			sorted = append(sorted, r)
		}
	}
	sort.SliceStable(sorted, func(i, j int) bool {
		a, b := sorted[i].Reading, sorted[j].Reading
		if a.Kind != b.Kind {
			return a.Kind < b.Kind
		}
		return a.Kind != Traced && a.X < b.X
	})
	var out [][]Residual
	var run []Residual
	end := func() {
		if len(run) >= together {
			out = append(out, run)
		}
		run = nil
	}
	for _, r := range sorted {
		away := r.Aside && math.Abs(r.Distance) > within
		if len(run) > 0 && (!away || r.Reading.Kind != run[0].Reading.Kind || r.Distance*run[0].Distance < 0) {
			end()
		}
		if away {
			run = append(run, r)
		}
	}
	end()
	return out
}

// Wrong returns the readings that lie aside of the others, the farthest first.
func (f Fit) Wrong() []Residual {
	var out []Residual
	for _, r := range f.Residuals {
		if r.Aside {
			out = append(out, r)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return math.Abs(out[i].Distance) > math.Abs(out[j].Distance) })
	return out
}
