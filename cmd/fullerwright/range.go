package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/export"
	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/profile/search"
)

// mostDesigns is how many designs a range may ask for: some minutes of work.
const mostDesigns = 200_000

// rangeFlags are the flags of the command range, as typed.
type rangeFlags struct {
	inputs
	vary                   []string
	programs, data, quiet  bool
	out, chart, chartShows string
}

func rangeCommand() command {
	return command{
		name: "range", arguments: "[KNIFE.toml]", summary: "table measures and verdicts over one or two numbers, and draw what is feasible",
		example: "fullerwright range my-knife.toml --vary fuller.depth=0.4..1.6:0.05 --vary bevel.height=12..20:0.5 --chart depth.svg",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var f rangeFlags
			set.StringArrayVar(&f.vary, "vary", nil, "`KEY=FROM..TO:STEP`, in the units of the knife file; once or twice")
			set.BoolVar(&f.programs, "programs", false, "run the checks on the programs too, which takes some ten times as long")
			set.BoolVar(&f.data, "json", false, "write the table as JSON instead of CSV")
			set.StringVarP(&f.out, "out", "o", "", "`FILE` for the table (default: standard output)")
			set.StringVar(&f.chart, "chart", "", "`FILE`.svg or .png to draw")
			set.StringVar(&f.chartShows, "lines", "weight", "`MEASURE` whose lines a chart of two numbers shows: "+quantityNames())
			set.StringVar(&f.shopPath, "shop", "", "shop `FILE`: your machine, cutters and limits (default: the built-in shop)")
			set.BoolVar(&f.quiet, "quiet", false, "tell no progress")
			return func(arguments []string) error { return p.rangeOver(f, arguments) }
		},
	}
}

func quantityNames() string {
	var names []string
	for _, q := range quantities() {
		names = append(names, q.name)
	}
	return strings.Join(names, ", ")
}

func (p *program) rangeOver(f rangeFlags, arguments []string) error {
	shown := slices.IndexFunc(quantities(), func(q quantity) bool { return q.name == f.chartShows })
	switch {
	case len(f.vary) == 0:
		return &usageError{"nothing to vary", "name a number, as --vary fuller.depth=0.4..1.6:0.1"}
	case len(f.vary) > 2:
		return &usageError{fmt.Sprintf("at most two numbers at a time, not %d", len(f.vary)), "fix one of them in the knife file"}
	case shown < 0:
		return &usageError{fmt.Sprintf("there is no measure %q", f.chartShows), "the measures are " + quantityNames()}
	}
	if err := mustBeNew(f.out, f.chart); err != nil {
		return err
	}
	if err := chartFormat(f.chart); err != nil {
		return err
	}
	in, err := f.read(arguments)
	if err != nil {
		return err
	}
	maker, axes, err := f.axes(in)
	if err != nil {
		return err
	}
	t := tabling{places: search.Grid(axes...), measures: quantities(), checks: maker.designChecks}
	if f.programs {
		t.checks = maker.checks
	}
	end := func() {}
	if !f.quiet {
		t.done, end = progress(p.stderr, len(t.places))
	}
	rows, err := maker.table(p.ctx, t)
	end()
	if err != nil {
		return err
	}
	return p.writeRange(f, maker, rows, shown)
}

func (p *program) writeRange(f rangeFlags, maker *designer, rows []row, shown int) error {
	table := rangeCSV(maker, rows)
	if f.data {
		table = asJSON(newRangeReport(maker, rows, f.programs))
	}
	if f.chart != "" {
		if err := p.writeDrawing(f.chart, rangeChart(maker, rows, shown)); err != nil {
			return err
		}
	}
	if f.out != "" {
		return writeFileWhole(f.out, table)
	}
	_, err := p.stdout.Write(table)
	return err
}

// axes reads what is to be varied. All faults are told at once.
func (f rangeFlags) axes(in job) (*designer, []search.Axis, error) {
	var keys, faults []string
	var spans []string
	for _, text := range f.vary {
		key, span, found := strings.Cut(text, "=")
		if !found {
			faults = append(faults, fmt.Sprintf("--vary %q names no range", text))
			continue
		}
		keys, spans = append(keys, strings.TrimSpace(key)), append(spans, span)
	}
	const hint = "write it as fuller.depth=0.4..1.6:0.1: from, to and step, in the units of the knife file"
	if len(faults) > 0 {
		return nil, nil, &usageError{strings.Join(faults, "\n"), hint}
	}
	maker, err := newDesigner(in, keys)
	if err != nil {
		return nil, nil, &usageError{err.Error(), "name numbers that the file gives"}
	}
	var axes []search.Axis
	total := 1.0
	for i, v := range maker.Variables {
		axis, fault := readAxis(v, spans[i], in.knife.Units)
		if fault != "" {
			faults = append(faults, fmt.Sprintf("--vary %s: %s", f.vary[i], fault))
			continue
		}
		axes = append(axes, axis)
		total *= 1 + math.Floor((axis.To-axis.From)/axis.Step+1e-6)
	}
	if len(faults) > 0 {
		return nil, nil, &usageError{strings.Join(faults, "\n"), hint}
	}
	if total > mostDesigns {
		return nil, nil, &usageError{fmt.Sprintf("that is %.0f designs, more than %d", total, mostDesigns), "take larger steps"}
	}
	return maker, axes, nil
}

// readAxis reads FROM..TO:STEP for a variable, or says what is wrong with it.
func readAxis(v profile.Variable, text string, unit document.Unit) (axis search.Axis, fault string) {
	span, step, hasStep := strings.Cut(text, ":")
	from, to, hasTo := strings.Cut(span, "..")
	if !hasStep || !hasTo {
		return axis, "it has no from, to and step"
	}
	for _, part := range []struct {
		what, text string
		to         *float64
	}{{"from", from, &axis.From}, {"to", to, &axis.To}, {"step", step, &axis.Step}} {
		value, err := readVariable(v, strings.TrimSpace(part.text), unit)
		if err != nil {
			return axis, fmt.Sprintf("%s %q is no number: %v", part.what, part.text, err)
		}
		*part.to = value
	}
	say := func(value float64) string { return sayValue(v, value, unit) }
	switch {
	case axis.From > axis.To:
		return axis, fmt.Sprintf("it runs backward; write it from %s to %s", say(axis.To), say(axis.From))
	case axis.From == axis.To:
		return axis, "from and to are the same; give a stretch"
	case !(axis.Step > 0):
		return axis, "the step must be greater than 0"
	case axis.Step > axis.To-axis.From:
		return axis, fmt.Sprintf("the step is longer than the stretch of %s", say(axis.To-axis.From))
	case axis.From < v.Least || axis.To > v.Most || v.Exclusive && axis.From == v.Least:
		return axis, fmt.Sprintf("it leaves the limits of %s, %s to %s", v.Key, say(v.Least), say(v.Most))
	}
	return axis, ""
}

func readVariable(v profile.Variable, text string, unit document.Unit) (float64, error) {
	value, err := strconv.ParseFloat(text, 64)
	if v.Kind == document.Length {
		value, err = document.ParseLength(text, unit)
	}
	if err == nil && (math.IsNaN(value) || math.IsInf(value, 0)) {
		err = fmt.Errorf("it must be finite")
	}
	if v.Kind == document.Angle {
		value *= math.Pi / 180
	}
	return value, err
}

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
		head = append(head, q.column())
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
				cell = strconv.FormatFloat(r.measures[i], 'f', q.decimals+2, 64)
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
	r := rangeReport{Knife: maker.in.knife.Name, Checks: "of the blade", Designs: []rangeDesignData{}}
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
			if m := chartMeasure(q, i, rows); !allNone(m.Values) && slices.Contains([]string{"weight", "balance", "stiffness", "deflection", "web"}, q.name) {
				c.Measures = append(c.Measures, m)
			}
		}
		if now := printed(maker.Variables[0], maker.Variables[0].Value, unit); now >= c.Along[0] && now <= c.Along[len(c.Along)-1] {
			c.Marks = append(c.Marks, export.ChartMark{Along: now, Label: "now"})
		}
		return c.Sheet()
	}
	m := export.MapChart{Title: title, X: axis(0), Y: axis(1), Verdicts: verdicts, Measure: chartMeasure(quantities()[shown], shown, rows)}
	now := geom.Point{X: printed(maker.Variables[0], maker.Variables[0].Value, unit), Y: printed(maker.Variables[1], maker.Variables[1].Value, unit)}
	if within(now.X, m.X.Values) && within(now.Y, m.Y.Values) {
		m.Start = &now
	}
	return m.Sheet()
}

func within(v float64, values []float64) bool {
	return v >= values[0] && v <= values[len(values)-1]
}

// progress returns what tells how far the work is, on a terminal and nowhere else, and
// what clears that away.
func progress(stderr io.Writer, total int) (done func(int), end func()) {
	file, ok := stderr.(*os.File)
	if !ok {
		return nil, func() {}
	}
	info, err := file.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return nil, func() {}
	}
	return progressBar(stderr, total)
}
