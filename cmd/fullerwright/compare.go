package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"text/tabwriter"

	"github.com/spf13/pflag"

	"fullerwright/export"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

func compareCommand() command {
	return command{
		name: "compare", arguments: "A B", summary: "lay two knives side by side: parameters, measures, checks, and a drawing of both on each other",
		example: "fullerwright compare my-knife.toml longer.toml --overlay both.svg",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var in inputs
			set.StringVar(&in.shopPath, "shop", "", "shop `FILE`: your machine, cutters and limits (default: the built-in shop)")
			overlay := set.String("overlay", "", "`FILE`.svg or .png to draw both on each other")
			data := set.Bool("json", false, "print the comparison as data")
			return func(arguments []string) error { return p.compare(&in, arguments, *overlay, *data) }
		},
	}
}

// comparison is two knives as data.
type comparison struct {
	A          string              `json:"a"`
	B          string              `json:"b"`
	Parameters []comparedParameter `json:"parameters_that_differ"`
	Same       int                 `json:"parameters_alike"`
	Measures   []comparedMeasure   `json:"measures"`
	Checks     []comparedCheck     `json:"checks_that_differ_or_are_not_ok"`
	Verdicts   [2]toolpath.Verdict `json:"verdicts"`
	first      *design
	blades     [2]profile.Blade
	checks     [2][]toolpath.Check
}

type comparedParameter struct {
	Key     string `json:"key"`
	A       string `json:"a"`
	B       string `json:"b"`
	Meaning string `json:"meaning"`
}

type comparedMeasure struct {
	Name string   `json:"name"`
	Unit string   `json:"unit"`
	A    *float64 `json:"a,omitempty"`
	B    *float64 `json:"b,omitempty"`
	q    quantity
}

// worse reports whether the second knife is worse by the measure, beyond rounding.
func (m comparedMeasure) worse() bool {
	return m.A != nil && m.B != nil && float64(m.q.better)*(*m.B-*m.A) < -m.q.tolerance
}

type comparedCheck struct {
	Name  string           `json:"name"`
	A     toolpath.Verdict `json:"a,omitempty"`
	B     toolpath.Verdict `json:"b,omitempty"`
	Says  string           `json:"says,omitempty"`
	says  toolpath.Check
	way   toolpath.Way // out of it, where helps is true
	helps bool
}

func (p *program) compare(in *inputs, arguments []string, overlay string, data bool) error {
	if len(arguments) != 2 {
		return &usageError{fmt.Sprintf("compare takes two knives, not %d", len(arguments)), "name two knife files or patterns, as: fullerwright compare tarn my-knife.toml"}
	}
	if err := mustBeNew(overlay); err != nil {
		return err
	}
	if err := chartFormat(overlay); err != nil {
		return err
	}
	c, err := newComparison(in, arguments)
	if err != nil {
		return err
	}
	p.speaks(c.first.maker.in.knife.Units)
	if overlay != "" {
		if err := p.writeDrawing(overlay, export.Overlay(c.blades[0], c.blades[1], c.A, c.B)); err != nil {
			return err
		}
	}
	if data {
		_, err := p.stdout.Write(asJSON(c))
		return err
	}
	return p.sayComparison(c)
}

// newComparison reads and works out both knives. Faults of both are told at once.
func newComparison(in *inputs, arguments []string) (comparison, error) {
	var jobs [2]job
	var faults []error
	for i, name := range arguments {
		read, err := in.readFor(name)
		if err != nil {
			faults = append(faults, err)
		}
		jobs[i] = job{knife: read.knife, shop: read.shop}
	}
	if err := errors.Join(faults...); err != nil {
		return comparison{}, err
	}
	names := [2]string{jobs[0].knife.Name, jobs[1].knife.Name}
	if names[0] == names[1] {
		names = [2]string{arguments[0], arguments[1]}
	}
	return compareJobs(jobs, names)
}

// compareJobs works out two knives that have been read.
func compareJobs(jobs [2]job, names [2]string) (comparison, error) {
	c := comparison{A: names[0], B: names[1]}
	for i, in := range jobs {
		if err := c.add(i, in); err != nil {
			return c, fmt.Errorf("%s: %w", names[i], err)
		}
	}
	c.compareParameters(jobs[0].knife, jobs[1].knife)
	c.compareChecks(c.checks)
	return c, nil
}

// add works out one of the two knives.
func (c *comparison) add(index int, in job) error {
	w, err := planned(in)
	if err != nil {
		return err
	}
	d := &design{finished: w.finished, maker: &designer{in: in}}
	if index == 0 {
		c.first = d
	}
	d.maker.asIs = c.first // stiffness is that of the first
	c.blades[index], c.checks[index], c.Verdicts[index] = w.finished, w.allChecks(), w.verdict()
	for _, q := range comparedQuantities(w) {
		if index == 0 {
			c.Measures = append(c.Measures, comparedMeasure{Name: q.title, Unit: q.unit, A: numberOrNil(q.of(d)), q: q})
			continue
		}
		for i := range c.Measures {
			if c.Measures[i].Name == q.title {
				c.Measures[i].B = numberOrNil(q.of(d))
			}
		}
	}
	return nil
}

// comparedQuantities returns what knives are compared by: what a knife can be measured by,
// the least land beside its fullers, and the time of its programs.
func comparedQuantities(w *work) []quantity {
	all := quantities()
	for i := range all {
		if all[i].name == "stiffness" {
			all[i].title = "stiffness sideways, of the first"
		}
	}
	return append(all,
		quantity{title: "least land beside a fuller", unit: "mm", decimals: 2, tolerance: 0.01, better: 1,
			of: func(d *design) float64 { return finiteOr(leastLand(d.finished), math.NaN()) }},
		quantity{title: "time at the mill", unit: "min", decimals: 1, tolerance: 0.1, better: -1,
			of: func(*design) float64 { return w.minutes() }},
	)
}

// minutes returns how long the programs take, all of them together.
func (w *work) minutes() float64 {
	seconds := 0.0
	for _, f := range w.faces {
		seconds += f.job.Seconds
	}
	return seconds / 60
}

// leastLand returns the least flat beside all fullers, +Inf where there is none.
func leastLand(b profile.Blade) float64 {
	least := math.Inf(1)
	for i := range b.Fullers {
		for _, s := range b.Sections(i, 41) {
			least = math.Min(least, math.Min(s.SpineLand, s.LowerLand))
		}
	}
	return least
}

func numberOrNil(v float64) *float64 {
	if math.IsNaN(v) {
		return nil
	}
	v = round6(v)
	return &v
}

// compareParameters lists what differs, each in the units of its own file.
func (c *comparison) compareParameters(a, b profile.Knife) {
	for _, row := range profile.Differences(a, b) {
		c.Parameters = append(c.Parameters, comparedParameter{row.Key, row.A, row.B, row.Meaning})
	}
	c.Same = profile.Alike(a, b)
}

// compareChecks lists the checks that are not well on both knives.
func (c *comparison) compareChecks(checks [2][]toolpath.Check) {
	var names []string
	worst := [2]map[string]toolpath.Check{{}, {}}
	for i, list := range checks {
		for _, check := range list {
			if !slices.Contains(names, check.Name) {
				names = append(names, check.Name)
			}
			before, known := worst[i][check.Name]
			if !known || toolpath.Worst([]toolpath.Check{before, check}) != before.Verdict {
				worst[i][check.Name] = check
			}
		}
	}
	for _, name := range names {
		a, inA := worst[0][name]
		b, inB := worst[1][name]
		if a.Verdict == b.Verdict && a.Verdict == toolpath.OK || !inA && b.Verdict == toolpath.OK || !inB && a.Verdict == toolpath.OK {
			continue
		}
		says := b
		if !inB || b.Verdict == toolpath.OK {
			says = a
		}
		row := comparedCheck{Name: name, A: a.Verdict, B: b.Verdict, says: says}
		row.way, row.helps = says.FirstWay()
		row.Says = row.in(document.Millimetre)
		c.Checks = append(c.Checks, row)
	}
}

func (p *program) sayComparison(c comparison) error {
	table := tabwriter.NewWriter(p.stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintf(table, "PARAMETERS, %d alike\n\t%s\t%s\n", c.Same, c.A, c.B)
	for _, row := range c.Parameters {
		fmt.Fprintf(table, "  %s\t%s\t%s\n", row.Key, firstOf(row.A, "-"), firstOf(row.B, "-"))
	}
	fmt.Fprintf(table, "\nMEASURES\n\t%s\t%s\tdifference\n", c.A, c.B)
	for _, m := range c.Measures {
		difference := ""
		if m.A != nil && m.B != nil {
			more, _ := p.unit.Say(*m.B-*m.A, m.q.unit)
			difference = fmt.Sprintf("%+.*f", p.unit.Decimals(m.q.decimals, m.q.unit), more)
		}
		fmt.Fprintf(table, "  %s, %s\t%s\t%s\t%s\n", m.Name, document.UnitName(m.Unit).In(p.unit), m.value(m.A, p.unit), m.value(m.B, p.unit), difference)
	}
	fmt.Fprintf(table, "\nCHECKS\n\t%s\t%s\n  all of them\t%s\t%s\n", c.A, c.B, c.Verdicts[0], c.Verdicts[1])
	for _, row := range c.Checks {
		fmt.Fprintf(table, "  %s\t%s\t%s\n", row.Name, firstOf(string(row.A), "-"), firstOf(string(row.B), "-"))
	}
	if err := table.Flush(); err != nil {
		return err
	}
	for _, row := range c.Checks {
		p.say("  %s\n", row.in(p.unit))
	}
	return nil
}

// in says the check, and its first way out, in a unit.
func (c comparedCheck) in(unit document.Unit) string {
	text := c.says.In(unit)
	if c.helps {
		text += ": " + sayWay(c.way, unit) + " would do"
	}
	return text
}

func (m comparedMeasure) value(v *float64, unit document.Unit) string {
	if v == nil {
		return "none"
	}
	said, _ := unit.Say(*v, m.q.unit)
	return fmt.Sprintf("%.*f", unit.Decimals(m.q.decimals, m.q.unit), said)
}
