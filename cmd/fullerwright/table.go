package main

import (
	"context"
	"math"
	"regexp"
	"runtime"

	"fullerwright/export"
	"fullerwright/profile/document"
	"fullerwright/profile/search"
	"fullerwright/toolpath"
)

// tabling is what is asked of many designs.
type tabling struct {
	places   [][]float64
	measures []quantity
	programs bool // run the checks on the programs too
	done     func(int)
}

// row is one design of a table.
type row struct {
	at       []float64
	measures []float64        // as asked; NaN where the design has none
	verdict  toolpath.Verdict // empty where there is no such knife
	obstacle string           // the check that stops it, or why it cannot be
	remedy   string
}

// table looks at many designs on all processors.
func (m *designer) table(ctx context.Context, t tabling) ([]row, error) {
	rows, err := search.Table(ctx, t.places, runtime.GOMAXPROCS(0), func(at []float64) row { return m.row(t, at) }, t.done)
	if err != nil {
		return nil, &failedError{"interrupted; nothing was written"}
	}
	return rows, nil
}

func (m *designer) row(t tabling, at []float64) row {
	r := row{at: at}
	d, err := m.at(at)
	for _, q := range t.measures {
		value := math.NaN()
		if err == nil {
			value = q.of(d)
		}
		r.measures = append(r.measures, value)
	}
	var checks []toolpath.Check
	switch {
	case err != nil:
	case t.programs:
		checks, err = m.checks(at)
	default:
		checks, err = d.designChecks()
	}
	if err != nil {
		r.obstacle = document.Words(firstFault(err)).In(m.in.knife.Units)
		return r
	}
	r.verdict = toolpath.Worst(checks)
	if stops := toolpath.Stops(checks); len(stops) > 0 {
		r.obstacle, r.remedy = stops[0].Name, stops[0].Remedy.In(m.in.knife.Units)
		if way, found := stops[0].FirstWay(); found && !t.programs { // it takes long with programs
			r.remedy = sayWay(way, m.in.knife.Units) + " would do"
		}
	}
	return r
}

// chartVerdict leaves the numbers out of what stands in the way, so that designs with the
// same obstacle are drawn as one.
func (r row) chartVerdict() export.ChartVerdict {
	obstacle := r.obstacle
	if r.verdict == "" {
		obstacle = figures.ReplaceAllString(obstacle, "…")
	}
	return export.ChartVerdict{Verdict: r.verdict, Obstacle: obstacle}
}

// figures are the numbers of a fault, but for those of a key.
var figures = regexp.MustCompile(`-?\b\d+\.\d+`)

// chartMeasure takes the measure of an index out of all rows, in the reader's unit.
func chartMeasure(q quantity, index int, rows []row, unit document.Unit) export.ChartMeasure {
	m := export.ChartMeasure{Name: q.title}
	m.Finest, m.Unit = unit.Say(q.tolerance, q.unit)
	for _, r := range rows {
		value, _ := unit.Say(r.measures[index], q.unit)
		m.Values = append(m.Values, value)
	}
	return m
}

func allNone(values []float64) bool {
	for _, v := range values {
		if !math.IsNaN(v) {
			return false
		}
	}
	return true
}
