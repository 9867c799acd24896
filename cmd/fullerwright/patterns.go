package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/pflag"

	"fullerwright/export"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/templates"
)

func patternsCommand() command {
	return command{
		name: "patterns", summary: "list the starter patterns", example: "fullerwright patterns",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			data := set.Bool("json", false, "print the list as data")
			picture := set.String("picture", "", "`FOLDER` to put a drawing of all of them in")
			return func(arguments []string) error {
				if len(arguments) > 0 {
					return &usageError{"patterns takes no arguments", "try: fullerwright patterns"}
				}
				if *picture != "" {
					return p.patternPicture(*picture)
				}
				if *data {
					return p.patternData()
				}
				for _, name := range templates.Names() {
					mark := " "
					if name == templates.Default {
						mark = "*"
					}
					p.say("%s %-8s %s\n", mark, name, templates.Summary(name))
				}
				fmt.Fprintln(p.stdout, "\n* is taken where no knife file is named.")
				return nil
			}
		},
	}
}

// patternData prints the patterns as data.
func (p *program) patternData() error {
	type pattern struct {
		Name    string `json:"name"`
		Summary string `json:"summary"`
		Default bool   `json:"default"`
	}
	var all []pattern
	for _, name := range templates.Names() {
		all = append(all, pattern{name, templates.Summary(name), name == templates.Default})
	}
	_, err := p.stdout.Write(asJSON(all))
	return err
}

// patternPicture draws all patterns to one scale.
func (p *program) patternPicture(out string) error {
	const scale = 0.5
	var blades []profile.Blade
	for _, name := range templates.Names() {
		data, _ := templates.Pattern(name)
		knife, err := profile.Parse(name, data)
		if err != nil {
			return err
		}
		blade, err := profile.Build(knife, profile.Measured{})
		if err != nil {
			return err
		}
		blades = append(blades, blade)
	}
	drawing := export.ContactSheet(blades, scale)
	return p.drawnIn(out, "patterns", drawing, p.stdout)
}

func newCommand() command {
	return command{
		name: "new", arguments: "PATTERN", summary: "write a knife file to start from", example: "fullerwright new tarn -o my-knife.toml",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			out := set.StringP("out", "o", "", "`FILE` to write (default: PATTERN.toml here)")
			units := set.String("units", "", "write its lengths in `UNIT`, mm or in (default: as the pattern has them)")
			return func(arguments []string) error { return p.newKnife(arguments, *out, *units) }
		},
	}
}

func (p *program) newKnife(arguments []string, out, units string) error {
	if len(arguments) != 1 {
		return &usageError{"new takes the name of one pattern", "fullerwright patterns lists them"}
	}
	data, found := templates.Pattern(arguments[0])
	if !found {
		return &usageError{fmt.Sprintf("no pattern %q", arguments[0]), "fullerwright patterns lists them"}
	}
	switch units {
	case "":
	case "mm":
		data = profile.InUnits(data, document.Millimetre)
	case "in":
		data = profile.InUnits(data, document.Inch)
	default:
		return &usageError{fmt.Sprintf("no unit %q", units), "the units are: mm, in"}
	}
	if out == "" {
		out = arguments[0] + ".toml"
	}
	if err := mustBeNew(out); err != nil {
		return err
	}
	if err := writeFileWhole(out, profile.WithMeanings(data)); err != nil {
		return err
	}
	p.say("%s written. Change it, then: fullerwright build %s\n", out, filepath.ToSlash(out))
	return nil
}
