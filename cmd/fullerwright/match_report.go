package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"fullerwright/profile/document"
	"fullerwright/profile/match"
)

// matchText writes what was found for a person to read.
func matchText(w io.Writer, m match.Measurements, found match.Matched) error {
	out := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fit := found.Fit
	fmt.Fprintf(out, "MATCH OF %s\n", m.File)
	for _, note := range m.Notes {
		sayIn(out, m.Unit, "  %s\n", document.Words(note))
	}
	sayVerdict(out, m, found)
	fmt.Fprintf(out, "\nPATTERNS TRIED\n  pattern\tdeviation but for slips, %s\tparameters\tbehind the best\n", m.Unit)
	for _, c := range found.Candidates {
		if c.Reason != "" {
			fmt.Fprintf(out, "  %s\t-\t-\tleft out: %s\n", c.Family, document.Words(strings.SplitN(c.Reason, "\n", 2)[0]).In(m.Unit))
			continue
		}
		sayIn(out, m.Unit, "  %s\t%.3f\t%d\t%.1f\n", c.Family, dimension(c.Deviation), c.Parameters, c.Behind)
	}
	fmt.Fprintf(out, "\nFOUND\n  parameter\t%s has\tfound\tstandard error\n", fit.Family)
	for _, e := range fit.Parameters {
		note := "\t" + sayQuantity(e.Kind, e.Error, m.Unit)
		if e.AtLimit {
			note = "\tat its limit"
		}
		fmt.Fprintf(out, "  %s\t%s\t%s%s\n", e.Key, sayQuantity(e.Kind, e.Pattern, m.Unit), sayQuantity(e.Kind, e.Value, m.Unit), note)
	}
	fmt.Fprintln(out, "\nNOT FOUND")
	for _, f := range fit.Fixed {
		fmt.Fprintf(out, "  %s\t%s\t%s\n", f.Key, sayQuantity(f.Kind, f.Value, m.Unit), document.Words(f.Why).In(m.Unit))
	}
	fmt.Fprintln(out, "  all else\t\tplays no part in the outline; in proportion to the length and width found")
	sayWrong(out, m, found)
	return out.Flush()
}

// sayVerdict writes whether the knife is reproduced, by which pattern, and if not, why.
func sayVerdict(out io.Writer, m match.Measurements, found match.Matched) {
	fit, v := found.Fit, found.Verdict
	if v.Reproduced {
		fmt.Fprintf(out, "  REPRODUCED by the pattern %s: readings lie %s from its outline (standard deviation), the worst but slips within %s.\n",
			fit.Family, sayLength(fit.Deviation, m.Unit), sayLength(worstButSlips(fit), m.Unit))
	} else {
		fmt.Fprintf(out, "  NO PATTERN FITS. The nearest is %s, with readings %s from its outline (root mean square), the worst %s: %s.\n",
			fit.Family, sayLength(allOfThem(fit), m.Unit), sayLength(math.Abs(v.Worst.Distance), m.Unit), v.Worst.Reading.Name(m.Unit))
		for _, reason := range v.Reasons {
			sayIn(out, m.Unit, "  - %s\n", document.Words(reason))
		}
		fmt.Fprintf(out, "  A knife file of your own may be nearer: --pattern my.toml. With --within you say what is near enough.\n")
	}
	if len(found.Alike) > 0 && v.Reproduced {
		fmt.Fprintf(out, "  %s follow it as well; %s has the nearest proportions. Choose another with --pattern.\n", list(found.Alike), fit.Family)
	}
	if fit.ThicknessDeviation > 0 {
		fmt.Fprintf(out, "  Thicknesses lie %s from its taper (standard deviation).\n", sayLength(fit.ThicknessDeviation, m.Unit))
	}
	if m.Unscaled {
		fmt.Fprintf(out, "  The known length puts the trace to scale; its points came out %+.2f %% from their first guess.\n", 100*(fit.Scale-1))
	}
}

func list(names []string) string {
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// allOfThem returns the root mean square of the distances of all readings of the outline,
// mm: where no pattern fits, none is a slip.
func allOfThem(f match.Fit) float64 {
	sum, n := 0.0, 0
	for _, r := range f.Residuals {
		if r.Reading.Kind != match.Thickness {
			sum += r.Distance * r.Distance
			n++
		}
	}
	return math.Sqrt(sum / math.Max(1, float64(n)))
}

func worstButSlips(f match.Fit) float64 {
	most := 0.0
	for _, r := range f.Residuals {
		if !r.Aside && r.Reading.Kind != match.Thickness {
			most = math.Max(most, math.Abs(r.Distance))
		}
	}
	return most
}

// mostWrong is how many wrong readings are listed.
const mostWrong = 12

// sayWrong lists the readings that do not belong with the others.
func sayWrong(out io.Writer, m match.Measurements, found match.Matched) {
	wrong := found.Fit.Wrong()
	if len(wrong) == 0 {
		fmt.Fprintln(out, "\nNO MEASUREMENT LOOKS WRONG")
		return
	}
	fmt.Fprintln(out, "\nLOOKS WRONG\n  measurement\tmeasured\texpected\toff by")
	for i, r := range wrong {
		if i == mostWrong {
			fmt.Fprintf(out, "  and %d more\n", len(wrong)-mostWrong)
			break
		}
		if r.Reading.Kind == match.Traced {
			fmt.Fprintf(out, "  %s\t\t\t%s\n", r.Reading.Name(m.Unit), sayLength(r.Distance, m.Unit))
			continue
		}
		fmt.Fprintf(out, "  %s\t%s\t%s\t%s\n", r.Reading.Name(m.Unit), sayLength(r.Reading.Value, m.Unit), sayLength(r.Expected, m.Unit), sayLength(r.Distance, m.Unit))
	}
}

// sayQuantity writes a value of a kind with its unit.
func sayQuantity(kind document.Kind, v float64, unit document.Unit) string {
	switch kind {
	case document.Length:
		return sayLength(v, unit)
	case document.Angle:
		return fmt.Sprintf("%.2f deg", v*180/math.Pi)
	}
	return fmt.Sprintf("%.3f", v)
}

func sayLength(mm float64, unit document.Unit) string {
	if unit == document.Inch {
		return fmt.Sprintf("%.4f in", mm/unit.Millimetres())
	}
	return fmt.Sprintf("%.3f mm", mm)
}

// matchReport is a match as data. Lengths are millimetres, angles degrees.
type matchReport struct {
	File       string           `json:"file"`
	Reproduced bool             `json:"reproduced"`
	Pattern    string           `json:"pattern"`
	Alike      []string         `json:"patterns_alike"`
	Within     float64          `json:"within_mm"`
	Deviation  float64          `json:"deviation_mm"`
	Thickness  float64          `json:"thickness_deviation_mm"`
	Reasons    []string         `json:"reasons"`
	Patterns   []matchCandidate `json:"patterns"`
	Parameters []matchParameter `json:"parameters"`
	Kept       []matchKept      `json:"kept"`
	Residuals  []matchResidual  `json:"residuals"`
}

type matchCandidate struct {
	Pattern   string  `json:"pattern"`
	Deviation float64 `json:"deviation_mm"`
	Behind    float64 `json:"behind"`
	LeftOut   string  `json:"left_out"`
}

type matchParameter struct {
	Key     string  `json:"key"`
	Unit    string  `json:"unit"`
	Pattern float64 `json:"pattern"`
	Found   float64 `json:"found"`
	Error   float64 `json:"standard_error"`
	AtLimit bool    `json:"at_limit"`
}

type matchKept struct {
	Key   string  `json:"key"`
	Unit  string  `json:"unit"`
	Value float64 `json:"value"`
	Why   string  `json:"why"`
}

type matchResidual struct {
	Kind     string  `json:"kind"`
	Line     int     `json:"line"`
	X        float64 `json:"x_mm"`
	Y        float64 `json:"y_mm"`
	Distance float64 `json:"distance_mm"`
	Wrong    bool    `json:"wrong"`
}

func matchData(m match.Measurements, found match.Matched) matchReport {
	fit := found.Fit
	out := matchReport{File: m.File, Reproduced: found.Verdict.Reproduced, Pattern: fit.Family, Alike: found.Alike, Within: found.Verdict.Within,
		Deviation: fit.Deviation, Thickness: fit.ThicknessDeviation, Reasons: found.Verdict.Reasons}
	for _, c := range found.Candidates {
		out.Patterns = append(out.Patterns, matchCandidate{c.Family, c.Deviation, c.Behind, c.Reason})
	}
	for _, e := range fit.Parameters {
		unit, one := quantityUnit(e.Kind)
		out.Parameters = append(out.Parameters, matchParameter{e.Key, unit, e.Pattern / one, e.Value / one, e.Error / one, e.AtLimit})
	}
	for _, f := range fit.Fixed {
		unit, one := quantityUnit(f.Kind)
		out.Kept = append(out.Kept, matchKept{f.Key, unit, f.Value / one, f.Why})
	}
	for _, r := range fit.Residuals {
		out.Residuals = append(out.Residuals, matchResidual{r.Reading.Kind.String(), r.Reading.Line, r.Place.X, r.Place.Y, r.Distance, r.Aside})
	}
	return out
}

func quantityUnit(kind document.Kind) (name string, one float64) {
	switch kind {
	case document.Length:
		return "mm", 1
	case document.Angle:
		return "deg", math.Pi / 180
	}
	return "", 1
}
