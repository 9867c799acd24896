package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/search"
)

// mostDesigns is how many designs a range may ask for: some minutes of work.
const mostDesigns = 200_000

// rangeFlags are the flags of the command range, as typed.
type rangeFlags struct {
	inputs
	vary                   []string
	programs, data         bool
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
			f.declare(set)
			p.declareQuiet(set)
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
	p.speaks(in.knife.Units)
	maker, axes, err := f.axes(in)
	if err != nil {
		return err
	}
	p.sayBar(in)
	t := tabling{places: search.Grid(axes...), measures: quantities(), programs: f.programs}
	p.progress.expect(1)
	t.done = func(n int) { p.progress.part(n, len(t.places)) }
	var rows []row
	if err := p.step(fmt.Sprintf("trying %s", plural(len(t.places), "design", "designs")), func() (err error) {
		rows, err = maker.table(p.ctx, t)
		return err
	}); err != nil {
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
	say := func(value float64) string { return sayValue(v.Kind, value, unit) }
	switch {
	case axis.From > axis.To:
		return axis, fmt.Sprintf("it runs backward; write it from %s to %s", say(axis.To), say(axis.From))
	case axis.From == axis.To:
		return axis, "from and to are the same; give a stretch"
	case !(axis.Step > 0):
		return axis, "the step must be greater than 0"
	case axis.Step > (axis.To-axis.From)*(1+1e-9):
		return axis, fmt.Sprintf("the step is longer than the stretch of %s", say(axis.To-axis.From))
	case axis.From < v.Least || axis.To > v.Most || v.AboveMin && axis.From == v.Least:
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
