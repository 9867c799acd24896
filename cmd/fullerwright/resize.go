package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/pflag"

	"fullerwright/export"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/templates"
)

// resizeFlags are the flags of the command resize, as typed.
type resizeFlags struct {
	inputs
	length, width, overall, stock string
	scale                         float64
	keep, follow                  []string
	unsnapped, data               bool
	out, overlay                  string
	drawings                      []string // files to draw the overlay in
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
			set.Float64Var(&f.scale, "scale", 0, "`FACTOR` for every length, unrounded and unsnapped; stands alone")
			set.StringArrayVar(&f.keep, "keep", nil, "`KEY` to leave as it is, as clip.length; may be repeated")
			set.StringArrayVar(&f.follow, "follow", nil, "`KEY=CLASS`: along, across, through or fixed; may be repeated; tang.thread takes the nearest standard thread")
			set.BoolVar(&f.unsnapped, "unsnapped", false, "leave stock, bar and cutters' radii as they come out, not as the shop has them")
			set.StringVarP(&f.out, "out", "o", "", "`FILE` to write (default: standard output)")
			set.StringVar(&f.overlay, "overlay", "", "`FILE`.svg or .png to draw old and new on each other (default: both, beside the file to write, named as it is; '' for none)")
			mayBeEmpty(set, "overlay")
			set.BoolVar(&f.data, "json", false, "print what moved, what it comes to and what got worse as data; needs --out")
			return func(arguments []string) error {
				f.drawings = f.drawn(set.Changed("overlay"))
				return p.resize(f, arguments, set.Changed("scale"))
			}
		},
	}
}

// greatestScale bounds how much larger, or smaller, a knife can be made: the limits of the keys
// leave less.
const greatestScale = 100.0

func (p *program) resize(f resizeFlags, arguments []string, scaled bool) error {
	if scaled && !(f.scale >= 1/greatestScale && f.scale <= greatestScale) {
		return &usageError{fmt.Sprintf("--scale %g: it must be from %g to %g", f.scale, 1/greatestScale, greatestScale), "1.1 makes everything a tenth longer"}
	}
	if f.data && f.out == "" {
		return &usageError{"--json and the new knife cannot both go to standard output", "name a file for the new knife with --out"}
	}
	if err := mustBeNew(append([]string{f.out}, f.drawings...)...); err != nil {
		return err
	}
	for _, drawing := range f.drawings {
		if err := chartFormat(drawing); err != nil {
			return err
		}
	}
	old, err := f.read(arguments)
	if err != nil {
		return err
	}
	p.speaks(old.knife.Units)
	file, data, err := knifeSource(arguments)
	if err != nil {
		return err
	}
	wanted, err := f.resizing(old)
	if err != nil {
		return err
	}
	fresh, changes, err := profile.Resize(file, data, wanted)
	if err != nil {
		return &usageError{err.Error(), "try: fullerwright resize --help"}
	}
	knife, err := profile.Parse("the resized knife", fresh)
	if err != nil {
		return followed(err, old.knife, wanted)
	}
	before, now := job{knife: old.knife, shop: old.shop}, job{knife: knife, shop: old.shop}
	if _, err := prepare(now); err != nil {
		return followed(err, old.knife, wanted)
	}
	if err := p.writeResized(f, fresh, before.knife, knife); err != nil {
		return err
	}
	c, err := compareJobs([2]job{before, now}, [2]string{"the knife before", "the resized knife"})
	if err != nil {
		p.sayChanges(changes, knife.Units)
		return err
	}
	if f.data {
		if _, err := p.stdout.Write(asJSON(newResizeReport(f, c, now, changes))); err != nil {
			return err
		}
		return c.stopped()
	}
	p.sayWorse(c, now)
	p.sayMeasures(c)
	p.saySnapped(changes, old)
	p.sayChanges(changes, knife.Units)
	return p.sayOtherwise(c)
}

// followed returns the faults of a resized knife, which is not written and so has no lines,
// with what would let a length that stays as it is change with the blade.
func followed(err error, k profile.Knife, wanted profile.Resizing) error {
	var faults document.FieldErrors
	if !errors.As(err, &faults) {
		return err
	}
	out := slices.Clone(faults)
	for i := range out {
		out[i].Line = 0
		for _, q := range k.Quantities() {
			_, follows := wanted.Follow[q.Key]
			if q.Key == out[i].Field && q.Kind == document.Length && q.Resize == profile.Fixed && !follows {
				out[i].Hint += fmt.Sprintf("; or let it change as the width does, with --follow %s=across", q.Key)
			}
		}
	}
	return out
}

// drawn returns the files to draw the overlay in.
func (f resizeFlags) drawn(asked bool) []string {
	beside := strings.TrimSuffix(f.out, filepath.Ext(f.out))
	switch {
	case f.overlay != "":
		return []string{f.overlay}
	case asked || f.out == "":
		return nil
	}
	return []string{beside + "-overlay.svg", beside + "-overlay.png"}
}

// writeResized writes the new file and draws old and new on each other beside it. What
// cannot be drawn is found out before anything is written.
func (p *program) writeResized(f resizeFlags, fresh []byte, before, now profile.Knife) error {
	var blades [2]profile.Blade
	for i, k := range []profile.Knife{before, now} {
		var err error
		if blades[i], err = profile.Build(k, profile.Measured{}); err != nil {
			return err
		}
	}
	overlay := export.Overlay(blades[0], blades[1], before.Name+" before", now.Name+" resized")
	for _, drawing := range f.drawings {
		if _, err := drawn(drawing, overlay); err != nil {
			return err
		}
	}
	if f.out == "" {
		if _, err := p.stdout.Write(fresh); err != nil {
			return err
		}
	} else {
		if err := writeFileWhole(f.out, fresh); err != nil {
			return err
		}
		p.tell("%s written\n", filepath.ToSlash(f.out))
	}
	for _, drawing := range f.drawings {
		if err := p.writeDrawing(drawing, overlay); err != nil {
			return err
		}
	}
	return nil
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
func (f resizeFlags) resizing(old job) (profile.Resizing, error) {
	unit := old.knife.Units
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
	if !f.unsnapped && f.scale == 0 {
		stores := old.shop.Stores(old.knife.Blade.Steel, unit, r.Stock)
		r.Stores = &stores
	}
	return r, nil
}

// saySnapped says what was taken from the shop in place of what came out, and why.
func (p *program) saySnapped(changes []profile.Change, in job) {
	first := true
	for _, c := range changes {
		if !c.Snapped {
			continue
		}
		if first {
			p.tell("snapped to what comes in steps (--unsnapped leaves it):\n")
		}
		first = false
		whose := ""
		if c.Key == "bar.thickness" || c.Key == "bar.width" {
			whose = "; a size of the shop file"
			if len(in.shop.Stock) == 0 {
				whose = "; the shop file names no stock, this is a size that bars usually come in"
			}
		}
		p.tell("  %s %s: %s%s\n", c.Key, sayNew(c, in.knife.Units), document.Words(c.Why), whose)
	}
	if !first {
		fmt.Fprintln(p.stderr)
	}
}

// sayNew writes what a parameter has become.
func sayNew(c profile.Change, unit document.Unit) string {
	if c.Kind == document.Text {
		return c.IsText
	}
	return sayValue(c.Kind, c.Is, unit)
}

// sayChanges prints the table of what moved.
func (p *program) sayChanges(changes []profile.Change, unit document.Unit) {
	table := tabwriter.NewWriter(p.stderr, 0, 0, 2, ' ', 0)
	fmt.Fprintf(table, "parameter\twas, %s\tis, %s\tclass\twhy\n", unit, unit)
	for _, c := range changes {
		was, is := document.FormatLength(c.Was, unit), document.FormatLength(c.Is, unit)
		switch {
		case c.Kind == document.Text:
			was, is = c.WasText, c.IsText
		case c.Kind != document.Length:
			was, is = sayValue(c.Kind, c.Was, unit), sayValue(c.Kind, c.Is, unit)
		}
		why := document.Words(c.Why).In(unit)
		if c.LeftOut {
			why += " (not in the file)"
		}
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\t%s\n", c.Key, was, is, c.Class, why)
	}
	fmt.Fprintln(table)
	table.Flush()
}
