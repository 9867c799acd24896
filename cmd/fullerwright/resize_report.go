package main

import (
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

// resizeReport is what a resizing did, as data: what got worse first.
type resizeReport struct {
	File       string            `json:"file"`
	Overlays   []string          `json:"overlays,omitempty"`
	Before     toolpath.Verdict  `json:"verdict_before"`
	Now        toolpath.Verdict  `json:"verdict"`
	Worse      []worsened        `json:"got_worse"`
	Measures   []comparedMeasure `json:"measures"`
	Parameters []changeReport    `json:"parameters"`
	AsTheyWere []checkReport     `json:"as_they_were_not_ok"`
	OwnStock   bool              `json:"stock_is_named_in_the_shop_file"`
}

// changeReport is one parameter that moved, lengths in mm and angles in degrees.
type changeReport struct {
	Key     string  `json:"key"`
	Was     float64 `json:"was"`
	Is      float64 `json:"is"`
	WasText string  `json:"was_text,omitempty"`
	IsText  string  `json:"is_text,omitempty"`
	Unit    string  `json:"unit,omitempty"`
	Class   string  `json:"class"`
	Why     string  `json:"why"`
	Snapped bool    `json:"snapped,omitempty"`
	LeftOut bool    `json:"not_in_the_file,omitempty"`
}

// worsened is a check that got worse, and what came of its ways out when they were tried.
type worsened struct {
	checkReport
	Tried []string `json:"tried,omitempty"`
	check toolpath.Check
}

// worsened returns the checks that got worse, with the ways out that were tried on the new
// knife.
func (c comparison) worsened(now job) []worsened {
	checks, _ := c.judged()
	out := []worsened{}
	for _, check := range checks {
		w := worsened{checkReport: newCheckReport(check, "the new knife"), check: check}
		for _, way := range check.Ways() {
			if says := now.tried(check, way); says != "" {
				w.Tried = append(w.Tried, says)
			}
		}
		out = append(out, w)
	}
	return out
}

func newResizeReport(f resizeFlags, c comparison, now job, changes []profile.Change) resizeReport {
	out := resizeReport{File: f.out, Overlays: f.drawings, Before: c.Verdicts[0], Now: c.Verdicts[1], Worse: c.worsened(now), Measures: c.Measures,
		Parameters: []changeReport{}, AsTheyWere: []checkReport{}, OwnStock: len(now.shop.Stock) > 0}
	for _, change := range changes {
		out.Parameters = append(out.Parameters, newChangeReport(change))
	}
	_, rest := c.judged()
	for _, check := range rest {
		out.AsTheyWere = append(out.AsTheyWere, newCheckReport(check, "the new knife"))
	}
	return out
}

func newChangeReport(c profile.Change) changeReport {
	out := changeReport{Key: c.Key, WasText: c.WasText, IsText: c.IsText, Class: string(c.Class), Why: c.Why, Snapped: c.Snapped, LeftOut: c.LeftOut}
	out.Was, _ = asWritten(c.Kind, c.Was)
	out.Is, out.Unit = asWritten(c.Kind, c.Is)
	if c.Kind == document.Text { // a thread, by its major diameter
		out.Unit = "mm"
	}
	return out
}
