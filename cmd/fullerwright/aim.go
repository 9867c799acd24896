package main

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/search"
	"fullerwright/toolpath"
)

// aimFlags are the flags of the command aim, as typed.
type aimFlags struct {
	inputs
	targets        map[string]*[]string // as given, each to be given once
	by, tolerances []string
	out, chart     string
}

func aimCommand() command {
	return command{
		name: "aim", arguments: "[KNIFE.toml]", summary: "change one or several numbers until weight, balance, web or stiffness come to their targets",
		example: "fullerwright aim my-knife.toml --balance 5mm --weight 240g --by pommel.length,bevel.height -o balanced.toml",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			f := aimFlags{targets: map[string]*[]string{}}
			for _, q := range quantities() {
				f.targets[q.name] = set.StringArray(q.name, nil, fmt.Sprintf("`TARGET` for the %s; reached within %g %s", q.meaning, q.tolerance, q.unit))
			}
			set.StringSliceVar(&f.by, "by", nil, "`KEY[,KEY]` to change, as fuller.depth or pommel.length; with several, the least change of all")
			set.StringArrayVar(&f.tolerances, "tolerance", nil, "`TARGET=TOLERANCE` within which a target counts as reached, as weight=1g; the defaults stand beside the targets")
			f.declare(set)
			set.StringVarP(&f.out, "out", "o", "", "`FILE` to write (default: standard output)")
			set.StringVar(&f.chart, "chart", "", "`FILE`.svg or .png to draw what the change costs in")
			return func(arguments []string) error { return p.aim(f, arguments, set) }
		},
	}
}

func (p *program) aim(f aimFlags, arguments []string, set *pflag.FlagSet) error {
	asked := slices.DeleteFunc(quantities(), func(q quantity) bool { return !set.Changed(q.name) })
	switch {
	case len(asked) == 0:
		return &usageError{"nothing to aim at", "give a target, as --balance 5mm or --weight 210g"}
	case len(f.by) == 0:
		return &usageError{"no number to change", "name one with --by, as --by fuller.depth; fullerwright help keys lists them"}
	case len(f.by) < len(asked):
		return &usageError{fmt.Sprintf("%s cannot be met by changing %s", plural(len(asked), "target", "targets"), plural(len(f.by), "number", "numbers")),
			"name at least as many numbers with --by as there are targets, or aim at one, then at the other from the file it wrote"}
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
	goals, err := f.goals(asked, in.knife.Units)
	if err != nil {
		return err
	}
	_, data, err := knifeSource(arguments)
	if err != nil {
		return err
	}
	maker, err := newDesigner(in, f.by)
	if err != nil {
		return &usageError{err.Error(), "name numbers that the file gives"}
	}
	return p.finishAim(f, aiming{designer: maker, goals: goals, data: data})
}

// goal is a quantity with what it is to come to.
type goal struct {
	quantity
	target float64
}

// goals reads the targets and their tolerances. All faults are told at once.
func (f aimFlags) goals(asked []quantity, unit document.Unit) ([]goal, error) {
	var out []goal
	var faults []error
	for _, q := range asked {
		texts := *f.targets[q.name]
		if len(texts) > 1 {
			faults = append(faults, &usageError{fmt.Sprintf("--%s is given %d times: %s", q.name, len(texts), strings.Join(texts, ", ")), "give it once"})
			continue
		}
		q, target, err := q.target(texts[0], unit)
		if err != nil {
			faults = append(faults, err)
		}
		out = append(out, goal{q, target})
	}
	for _, text := range f.tolerances {
		name, value, _ := strings.Cut(text, "=")
		i := slices.IndexFunc(out, func(g goal) bool { return g.name == strings.TrimSpace(name) })
		if i < 0 {
			faults = append(faults, &usageError{fmt.Sprintf("--tolerance %q names no target that is asked for", text), "write it as --tolerance weight=1g beside --weight 210g"})
			continue
		}
		_, tolerance, err := out[i].quantity.target(value, unit)
		if err != nil || !(tolerance > 0) {
			faults = append(faults, &usageError{fmt.Sprintf("--tolerance %q is no tolerance greater than 0", text), fmt.Sprintf("write it as %s=%g%s, the default", out[i].name, out[i].tolerance, out[i].unit)})
			continue
		}
		out[i].tolerance = tolerance
	}
	return out, errors.Join(faults...)
}

// aiming is one question of the command aim.
type aiming struct {
	*designer
	goals []goal
	data  []byte
}

// sayTolerance writes how near counts as reached.
func (g goal) sayTolerance(unit document.Unit) string {
	if unit == document.Inch {
		return g.say(g.tolerance, unit)
	}
	return fmt.Sprintf("%g %s", g.tolerance, g.unit)
}

// values returns what a design comes to of each goal; NaN where there is none.
func (a aiming) values(at []float64) []float64 {
	out := make([]float64, len(a.goals))
	d, err := a.at(at)
	for i, g := range a.goals {
		out[i] = math.NaN()
		if err == nil {
			out[i] = g.of(d)
		}
	}
	return out
}

// solve looks for the answer.
func (a aiming) solve() search.Answer {
	var parameters []search.Parameter
	for _, v := range a.Variables {
		least := v.Least
		if v.AboveMin {
			least = math.Nextafter(least, math.Inf(1))
		}
		parameters = append(parameters, search.Parameter{Name: v.Key, Start: v.Value, Least: least, Most: v.Most, Scale: scaleOf(v)})
	}
	if len(parameters) == 1 {
		g := a.goals[0]
		return search.Solve(search.Problem{Parameter: parameters[0], Goal: search.Goal{Target: g.target, Tolerance: g.tolerance},
			Value:  func(at float64) float64 { return a.values([]float64{at})[0] },
			Check:  func(at float64) search.Obstacle { return a.obstacle([]float64{at}) },
			Neater: func(at float64) []float64 { return slices.Concat(a.neater([]float64{at})...) }})
	}
	problem := search.Together{Parameters: parameters, Values: a.values, Check: a.obstacle, Neater: a.neater}
	for _, g := range a.goals {
		problem.Goals = append(problem.Goals, search.Goal{Target: g.target, Tolerance: g.tolerance})
	}
	return search.SolveTogether(problem)
}

// scaleOf returns the change of a variable that counts as one: its own value, or a tenth
// of its limits where it is next to nothing.
func scaleOf(v profile.Variable) float64 {
	return max(math.Abs(v.Value), (v.Most-v.Least)/1000)
}

// obstacle says what stands in the way of a design, and how it may be helped.
func (a aiming) obstacle(at []float64) (o search.Obstacle) {
	stops, err := a.stops(at)
	if err != nil {
		return search.Obstacle{Name: document.Words(firstFault(err)).In(a.in.knife.Units), Excess: 1}
	}
	for _, c := range stops {
		o.Excess += math.Abs(c.Value-c.Limit) / max(1e-6, math.Abs(c.Limit))
	}
	if len(stops) > 0 {
		o.Name, o.Remedy = stops[0].Name, strings.TrimSpace(strings.TrimPrefix(stops[0].In(a.in.knife.Units), string(toolpath.Stop)))
	}
	return o
}

// neater returns the values with few decimals, in the file's units, beside a solution.
func (a aiming) neater(at []float64) [][]float64 {
	var out [][]float64
	for decimals := 2; decimals <= 5; decimals++ {
		place := make([]float64, len(at))
		for i, v := range a.Variables {
			unit := 1.0
			switch v.Kind {
			case document.Length:
				unit = a.in.knife.Units.Millimetres()
			case document.Angle:
				unit = math.Pi / 180
			}
			step := math.Pow(10, float64(-decimals))
			place[i] = min(max(math.Round(at[i]/unit/step)*step*unit, v.Least), v.Most)
		}
		out = append(out, place)
	}
	return out
}

// finishAim solves, writes the new file, and says what it did or why it could not.
func (p *program) finishAim(f aimFlags, a aiming) error {
	for _, g := range a.goals {
		if math.IsNaN(g.of(a.asIs)) {
			return &usageError{fmt.Sprintf("this knife has no %s", g.title), "aim at something that it has"}
		}
	}
	p.sayBar(a.in)
	answer := a.solve()
	if !answer.Reached {
		if err := p.drawTradeOff(f.chart, a, answer); err != nil {
			return err
		}
		return p.sayUnreached(a, answer)
	}
	fresh := a.in.knife.Rewrite(a.data, a.Changes(answer.At))
	knife, err := profile.Parse("the knife aimed at", fresh)
	if err != nil {
		return err
	}
	before := job{knife: a.in.knife, shop: a.in.shop, measured: a.in.measured}
	after := job{knife: knife, shop: a.in.shop, measured: a.in.measured}
	reached, err := a.verified(after)
	if err != nil {
		return err
	}
	if f.out == "" {
		if _, err := p.stdout.Write(fresh); err != nil {
			return err
		}
	} else if err := writeFileWhole(f.out, fresh); err != nil {
		return err
	}
	p.sayReached(a, answer, reached)
	p.sayVaried(a, answer.At)
	if f.out != "" {
		p.tell("%s written\n", filepath.ToSlash(f.out))
	}
	if err := p.drawTradeOff(f.chart, a, answer); err != nil {
		return err
	}
	c, err := compareJobs([2]job{before, after}, [2]string{"the knife before", "the new knife"})
	if err != nil {
		return err
	}
	p.sayMeasures(c)
	p.sayWorse(c, after)
	return p.sayOtherwise(c)
}

// verified evaluates the knife as it was written, from its text, with every check.
func (a aiming) verified(after job) ([]float64, error) {
	blade, err := profile.Build(after.knife, after.measured)
	if err != nil {
		return nil, err
	}
	checks, err := checksOf(after)
	if err != nil {
		return nil, err
	}
	if stops := toolpath.Stops(checks); len(stops) > 0 {
		return nil, fmt.Errorf("the answer as written fails its own check: %s; nothing was written", stops[0].In(a.in.knife.Units))
	}
	var reached []float64
	for _, g := range a.goals {
		value := g.of(&design{finished: blade, maker: a.designer})
		if math.Abs(value-g.target) > 1.01*g.tolerance {
			return nil, fmt.Errorf("the answer as written comes to %s, not to %s; nothing was written", g.say(value, a.in.knife.Units), g.say(g.target, a.in.knife.Units))
		}
		reached = append(reached, value)
	}
	return reached, nil
}
