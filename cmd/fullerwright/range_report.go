package main

import (
	"bytes"
	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"strings"

	"fullerwright/export"
	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// rangeCSV writes a row for each design (RFC 4180); what a design has not is left empty.
func rangeCSV(maker *designer, rows []row) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = false
	var head []string
	for _, v := range maker.Variables {
		head = append(head, columnName(v, maker.in.knife.Units))
	}
	for _, q := range quantities() {
		head = append(head, q.columnIn(maker.in.knife.Units))
	}
	_ = w.Write(append(head, "verdict", "obstacle", "remedy")) // a buffer takes everything
	for _, r := range rows {
		var cells []string
		for i, v := range maker.Variables {
			cells = append(cells, strconv.FormatFloat(round6(printed(v, r.at[i], maker.in.knife.Units)), 'f', -1, 64))
		}
		for i, q := range quantities() {
			cell := ""
			if !math.IsNaN(r.measures[i]) {
				said, _ := maker.in.knife.Units.Say(r.measures[i], q.unit)
				cell = strconv.FormatFloat(said, 'f', maker.in.knife.Units.Decimals(q.decimals, q.unit)+2, 64)
			}
			cells = append(cells, cell)
		}
		_ = w.Write(append(cells, r.verdictWord(), r.obstacle, r.remedy))
	}
	w.Flush()
	return b.Bytes()
}

// verdictWord is the verdict, or impossible where there is no such knife.
func (r row) verdictWord() string {
	if r.verdict == "" {
		return "impossible"
	}
	return string(r.verdict)
}

// columnIn names a quantity with its unit, which is the reader's.
func (q quantity) columnIn(unit document.Unit) string {
	_, q.unit = unit.Say(0, q.unit)
	return q.column()
}

// column names a quantity with its unit, as data has it.
func (q quantity) column() string {
	unit := map[string]string{"%": "percent"}[q.unit]
	if unit == "" {
		unit = q.unit
	}
	return strings.ReplaceAll(q.name, "-", "_") + "_" + unit
}

// columnName names a variable with its unit.
func columnName(v profile.Variable, unit document.Unit) string {
	axis := chartAxis(v, nil, unit)
	if axis.Unit == "" {
		return v.Key
	}
	return v.Key + "_" + axis.Unit
}

// printed takes a value to the unit that is printed.
func printed(v profile.Variable, value float64, unit document.Unit) float64 {
	return chartAxis(v, []float64{value}, unit).Values[0]
}

// rangeReport is a range as data.
type rangeReport struct {
	Knife      string            `json:"knife"`
	Parameters []string          `json:"parameters"`
	Checks     string            `json:"checks"`
	Bar        string            `json:"bar"`
	Designs    []rangeDesignData `json:"designs"`
}

type rangeDesignData struct {
	Values   []float64           `json:"values"`
	Measures map[string]*float64 `json:"measures"`
	Verdict  string              `json:"verdict"`
	Obstacle string              `json:"obstacle,omitempty"`
	Remedy   string              `json:"remedy,omitempty"`
}

func newRangeReport(maker *designer, rows []row, programs bool) rangeReport {
	r := rangeReport{Knife: maker.in.knife.Name, Checks: "of the blade", Bar: "as ordered", Designs: []rangeDesignData{}}
	if maker.in.measured.Any() {
		r.Bar = "as measured"
	}
	if programs {
		r.Checks = "of the blade and of every program"
	}
	for _, v := range maker.Variables {
		r.Parameters = append(r.Parameters, columnName(v, maker.in.knife.Units))
	}
	for _, row := range rows {
		d := rangeDesignData{Measures: map[string]*float64{}, Verdict: row.verdictWord(), Obstacle: row.obstacle, Remedy: row.remedy}
		for i, v := range maker.Variables {
			d.Values = append(d.Values, round6(printed(v, row.at[i], maker.in.knife.Units)))
		}
		for i, q := range quantities() {
			if value := round6(row.measures[i]); !math.IsNaN(value) {
				d.Measures[q.column()] = &value
			}
		}
		r.Designs = append(r.Designs, d)
	}
	return r
}

// rangeChart draws all measures over one number, or one of them over two.
func rangeChart(maker *designer, rows []row, shown int) sheet.Sheet {
	unit := maker.in.knife.Units
	var verdicts []export.ChartVerdict
	for _, r := range rows {
		verdicts = append(verdicts, r.chartVerdict())
	}
	title := maker.in.knife.Name + ": measures and verdicts"
	axis := func(i int) export.ChartAxis {
		var values []float64
		for _, r := range rows {
			if !slices.Contains(values, r.at[i]) {
				values = append(values, r.at[i])
			}
		}
		return chartAxis(maker.Variables[i], values, unit)
	}
	if len(maker.Variables) == 1 {
		c := export.CurveChart{Title: title, Along: axis(0).Values, Axes: []export.ChartAxis{axis(0)}, Verdicts: verdicts}
		for i, q := range quantities() {
			if m := chartMeasure(q, i, rows, unit); !allNone(m.Values) && slices.Contains([]string{"weight", "balance", "stiffness", "deflection", "web"}, q.name) {
				c.Measures = append(c.Measures, m)
			}
		}
		if now := printed(maker.Variables[0], maker.Variables[0].Value, unit); now >= c.Along[0] && now <= c.Along[len(c.Along)-1] {
			c.Marks = append(c.Marks, export.ChartMark{Along: now, Label: "now"})
		}
		return c.Sheet()
	}
	m := export.MapChart{Title: title, X: axis(0), Y: axis(1), Verdicts: verdicts, Measure: chartMeasure(quantities()[shown], shown, rows, unit)}
	now := geom.Point{X: printed(maker.Variables[0], maker.Variables[0].Value, unit), Y: printed(maker.Variables[1], maker.Variables[1].Value, unit)}
	if within(now.X, m.X.Values) && within(now.Y, m.Y.Values) {
		m.Start = &now
	}
	return m.Sheet()
}

func within(v float64, values []float64) bool {
	return v >= values[0] && v <= values[len(values)-1]
}
