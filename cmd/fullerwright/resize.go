package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"github.com/spf13/pflag"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/templates"
	"fullerwright/toolpath"
)

// resizeFlags are the flags of the command resize, as typed.
type resizeFlags struct {
	inputs
	length, width, overall, stock string
	scale                         float64
	keep, follow                  []string
	out                           string
}

func resizeCommand() command {
	return command{
		name: "resize", arguments: "[KNIFE.toml]", summary: "write the same pattern longer, wider, thicker or to a scale",
		example: "fullerwright resize my-knife.toml --length 190 -o longer.toml",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var f resizeFlags
			set.StringVar(&f.shopPath, "shop", "", "shop `FILE`: your machine, cutters and limits (default: the built-in shop)")
			set.StringVar(&f.length, "length", "", "`LENGTH` of the blade, as 190 or \"7 1/2 in\"")
			set.StringVar(&f.width, "width", "", "`WIDTH` of the blade")
			set.StringVar(&f.overall, "overall", "", "`LENGTH` of blade and tang, without a thread")
			set.StringVar(&f.stock, "stock", "", "`THICKNESS` of the bar")
			set.Float64Var(&f.scale, "scale", 0, "`FACTOR` for every length, unrounded; stands alone")
			set.StringArrayVar(&f.keep, "keep", nil, "`KEY` to leave as it is, as clip.length; may be repeated")
			set.StringArrayVar(&f.follow, "follow", nil, "`KEY=CLASS`: along, across, through or fixed; may be repeated")
			set.StringVarP(&f.out, "out", "o", "", "`FILE` to write (default: standard output)")
			return func(arguments []string) error {
				return p.resize(f, arguments, set.Changed("scale"))
			}
		},
	}
}

func (p *program) resize(f resizeFlags, arguments []string, scaled bool) error {
	if scaled && f.scale <= 0 {
		return &usageError{fmt.Sprintf("scale must be greater than 0, not %g", f.scale), "1.1 makes everything a tenth longer"}
	}
	if f.out != "" {
		if _, err := os.Lstat(f.out); err == nil {
			return &usageError{fmt.Sprintf("%s is there already and is left as it is", f.out), "choose another file with -o"}
		}
	}
	old, err := f.read(arguments)
	if err != nil {
		return err
	}
	file, data, err := knifeSource(arguments)
	if err != nil {
		return err
	}
	wanted, err := f.resizing(old.knife.Units)
	if err != nil {
		return err
	}
	fresh, changes, err := profile.Resize(file, data, wanted)
	if err != nil {
		return &usageError{err.Error(), "try: fullerwright resize --help"}
	}
	knife, err := profile.Parse("the resized knife", fresh)
	if err != nil {
		return err
	}
	now := job{knife: knife, shop: old.shop}
	if _, err := prepare(now); err != nil {
		return err
	}
	if f.out == "" {
		if _, err := p.stdout.Write(fresh); err != nil {
			return err
		}
	} else if err := writeFileWhole(f.out, fresh); err != nil {
		return err
	}
	p.sayChanges(changes, knife.Units)
	if f.out != "" {
		fmt.Fprintf(p.stderr, "%s written\n", filepath.ToSlash(f.out))
	}
	if err := p.sayMeasures(old, now); err != nil {
		return err
	}
	return p.sayWorse(job{knife: old.knife, shop: old.shop}, now)
}

// knifeSource returns the text of the knife file, or of the default pattern.
func knifeSource(arguments []string) (file string, data []byte, err error) {
	if len(arguments) == 0 {
		data, _ = templates.Pattern(templates.Default)
		return templates.Default + ".toml", data, nil
	}
	data, err = os.ReadFile(arguments[0])
	return arguments[0], data, err
}

// resizing reads the targets, in the units of the knife file where none are typed.
func (f resizeFlags) resizing(unit document.Unit) (profile.Resizing, error) {
	r := profile.Resizing{Scale: f.scale, Keep: f.keep, Follow: map[string]profile.ResizeClass{}}
	for _, target := range []struct {
		flag, text string
		to         *float64
	}{{"length", f.length, &r.Length}, {"width", f.width, &r.Width}, {"overall", f.overall, &r.Overall}, {"stock", f.stock, &r.Stock}} {
		if target.text == "" {
			continue
		}
		mm, err := document.ParseLength(target.text, unit)
		if err != nil || !(mm > 0) {
			return r, &usageError{fmt.Sprintf("--%s %q is no length greater than 0", target.flag, target.text), "write it as 190, \"190 mm\" or \"7 1/2 in\""}
		}
		*target.to = mm
	}
	for _, pair := range f.follow {
		key, class, found := strings.Cut(pair, "=")
		if !found {
			return r, &usageError{fmt.Sprintf("--follow %q names no class", pair), "write it as KEY=along, across, through or fixed"}
		}
		r.Follow[key] = profile.ResizeClass(class)
	}
	return r, nil
}

// sayChanges prints the table of what moved.
func (p *program) sayChanges(changes []profile.Change, unit document.Unit) {
	table := tabwriter.NewWriter(p.stderr, 0, 0, 2, ' ', 0)
	fmt.Fprintf(table, "parameter\twas, %s\tis, %s\tclass\twhy\n", unit, unit)
	for _, c := range changes {
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\t%s\n", c.Key, document.FormatLength(c.Was, unit), document.FormatLength(c.Is, unit), c.Class, c.Why)
	}
	table.Flush()
}

// sayMeasures prints what the change does to the finished knife.
func (p *program) sayMeasures(old, now job) error {
	var both [2]profile.Measures
	var webs [2]float64
	for i, in := range []job{old, now} {
		blade, err := profile.Build(in.knife, profile.Measured{})
		if err != nil {
			return err
		}
		both[i] = blade.Measure(in.shop.Density(in.knife.Blade.Steel).Value)
		webs[i] = leastWeb(blade)
	}
	table := tabwriter.NewWriter(p.stderr, 0, 0, 2, ' ', 0)
	fmt.Fprintf(table, "\nmeasure\twas\tis\n")
	row := func(name, unit string, was, is float64) {
		fmt.Fprintf(table, "%s, %s\t%.2f\t%.2f\n", name, unit, was, is)
	}
	row("whole knife", "g", both[0].Whole.Mass, both[1].Whole.Mass)
	row("balance in front of the guard plane", "mm", both[0].Whole.X, both[1].Whole.X)
	row("point sideways under 10 N", "mm", both[0].Bends.Sideways, both[1].Bends.Sideways)
	if !math.IsInf(webs[0], 1) {
		row("least web", "mm", webs[0], webs[1])
	}
	fmt.Fprintln(table)
	return table.Flush()
}

// leastWeb returns the least web of all fullers, +Inf where there is none.
func leastWeb(b profile.Blade) float64 {
	least := math.Inf(1)
	for i := range b.Fullers {
		for _, s := range b.Sections(i, 41) {
			least = math.Min(least, s.Web)
		}
		leaving, _ := b.WebLeaving(i)
		least = math.Min(least, leaving)
	}
	return least
}

// sayWorse runs every check on both knives and prints first what got worse.
func (p *program) sayWorse(old, now job) error {
	before, err := checksOf(old)
	if err != nil {
		return fmt.Errorf("the knife before: %w", err)
	}
	after, err := checksOf(now)
	if err != nil {
		return err
	}
	worst := map[string][]toolpath.Check{}
	for _, c := range before {
		worst[c.Name] = append(worst[c.Name], c)
	}
	var worsened, rest []toolpath.Check
	for _, c := range after {
		was := toolpath.Worst(worst[c.Name])
		if toolpath.Worst([]toolpath.Check{{Verdict: was}, c}) != was {
			worsened = append(worsened, c)
		} else if c.Verdict != toolpath.OK {
			rest = append(rest, c)
		}
	}
	p.sayGroup("got worse", worsened)
	p.sayGroup("as they were, not ok", rest)
	fmt.Fprintf(p.stderr, "the new knife: %s\n", toolpath.Worst(after))
	if stops := toolpath.Stops(after); len(stops) > 0 {
		return &failedError{plural(len(stops), "check stops", "checks stop") + " the work on the resized knife"}
	}
	return nil
}

func (p *program) sayGroup(title string, checks []toolpath.Check) {
	if len(checks) > 0 {
		fmt.Fprintf(p.stderr, "%s:\n", title)
	}
	for _, c := range checks {
		fmt.Fprintln(p.stderr, " ", c)
	}
}

// checksOf runs every check that check runs.
func checksOf(in job) ([]toolpath.Check, error) {
	w, err := prepare(in)
	if err != nil {
		return nil, err
	}
	if err := w.plan("", func(toolpath.Step) bool { return true }); err != nil {
		return nil, err
	}
	return w.allChecks(), nil
}
