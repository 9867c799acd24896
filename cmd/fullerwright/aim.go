package main

import (
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
	targets    map[string]*string
	by         []string
	out, chart string
}

func aimCommand() command {
	return command{
		name: "aim", arguments: "[KNIFE.toml]", summary: "change one or several numbers until weight, balance, web or stiffness come to a target",
		example: "fullerwright aim my-knife.toml --balance 5mm --by pommel.length -o balanced.toml",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			f := aimFlags{targets: map[string]*string{}}
			for _, q := range quantities() {
				f.targets[q.name] = set.String(q.name, "", fmt.Sprintf("`TARGET` for the %s; reached within %g %s", q.meaning, q.tolerance, q.unit))
			}
			set.StringSliceVar(&f.by, "by", nil, "`KEY[,KEY]` to change, as fuller.depth or pommel.length; with several, the least change of all")
			set.StringVar(&f.shopPath, "shop", "", "shop `FILE`: your machine, cutters and limits (default: the built-in shop)")
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
		return &usageError{"nothing to aim at", "give one target, as --balance 5mm or --weight 210g"}
	case len(asked) > 1:
		return &usageError{fmt.Sprintf("one target at a time, not --%s and --%s", asked[0].name, asked[1].name), "aim at one, then at the other from the file it wrote"}
	case len(f.by) == 0:
		return &usageError{"no number to change", "name one with --by, as --by fuller.depth; fullerwright help keys lists them"}
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
	q, target, err := asked[0].target(*f.targets[asked[0].name], in.knife.Units)
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
	a := aiming{designer: maker, quantity: q, target: target, data: data}
	return p.finishAim(f, a)
}

// aiming is one question of the command aim.
type aiming struct {
	*designer
	quantity
	target float64
	data   []byte
}

// solve looks for the answer.
func (a aiming) solve() search.Answer {
	problem := search.Problem{Target: a.target, Tolerance: a.tolerance, Neater: a.neater,
		Value: func(at []float64) float64 { return a.value(a.quantity, at) },
		Check: func(at []float64) search.Obstacle { o, _ := a.obstacle(at); return o }}
	for _, v := range a.Variables {
		least := v.Least
		if v.Exclusive {
			least = math.Nextafter(least, math.Inf(1))
		}
		problem.Parameters = append(problem.Parameters, search.Parameter{Name: v.Key, Start: v.Value, Least: least, Most: v.Most, Scale: scaleOf(v)})
	}
	return search.Solve(problem)
}

// scaleOf returns the change of a variable that counts as one: its own value, or a tenth
// of its limits where it is next to nothing.
func scaleOf(v profile.Variable) float64 {
	return max(math.Abs(v.Value), (v.Most-v.Least)/1000)
}

// obstacle says what stands in the way of a design, and how it may be helped.
func (a aiming) obstacle(at []float64) (o search.Obstacle, remedy string) {
	checks, err := a.checks(at)
	if err != nil {
		return search.Obstacle{Name: firstFault(err), Excess: 1}, ""
	}
	stops := toolpath.Stops(checks)
	for _, c := range stops {
		o.Excess += math.Abs(c.Value-c.Limit) / max(1e-6, math.Abs(c.Limit))
	}
	if len(stops) > 0 {
		o.Name, remedy = stops[0].Name, strings.TrimSpace(strings.TrimPrefix(stops[0].String(), string(toolpath.Stop)))
	}
	return o, remedy
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
	now := a.of(a.asIs)
	if math.IsNaN(now) {
		return &usageError{fmt.Sprintf("this knife has no %s", a.title), "aim at something that it has"}
	}
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
	after := job{knife: knife, shop: a.in.shop}
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
	fmt.Fprintf(p.stderr, "%s: %s, was %s, aimed at %s within %g %s\n\n", a.title, a.say(reached), a.say(now), a.say(a.target), a.tolerance, a.unit)
	p.sayVaried(a, answer.At)
	if f.out != "" {
		fmt.Fprintf(p.stderr, "%s written\n", filepath.ToSlash(f.out))
	}
	if err := p.drawTradeOff(f.chart, a, answer); err != nil {
		return err
	}
	if err := p.sayMeasures(job{knife: a.in.knife, shop: a.in.shop}, after); err != nil {
		return err
	}
	return p.sayWorse(job{knife: a.in.knife, shop: a.in.shop}, after)
}

// verified evaluates the knife as it was written, from its text, with every check.
func (a aiming) verified(after job) (float64, error) {
	blade, err := profile.Build(after.knife, profile.Measured{})
	if err != nil {
		return 0, err
	}
	reached := a.of(&design{finished: blade, maker: a.designer})
	checks, err := checksOf(after)
	switch {
	case err != nil:
		return 0, err
	case len(toolpath.Stops(checks)) > 0:
		return 0, fmt.Errorf("the answer as written fails its own check: %s; nothing was written", toolpath.Stops(checks)[0])
	case math.Abs(reached-a.target) > 1.01*a.tolerance:
		return 0, fmt.Errorf("the answer as written comes to %s, not to %s; nothing was written", a.say(reached), a.say(a.target))
	}
	return reached, nil
}
