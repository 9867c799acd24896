package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/templates"
	"fullerwright/toolpath"
)

// inputs are the files that most commands take.
type inputs struct {
	shopPath     string
	measuredPath string
}

func (in *inputs) declare(set *pflag.FlagSet) {
	set.StringVar(&in.shopPath, "shop", "", "shop `FILE`: your machine, cutters and limits (default: the built-in shop)")
	set.StringVar(&in.measuredPath, "measured", "", "`FILE` of what you measured on the bar (default: KNIFE.measured.toml beside the knife file, if there is one)")
}

// job is what the files say.
type job struct {
	knife    profile.Knife
	measured profile.Measured
	shop     toolpath.Shop
	sources  []string // the files read, for the report
}

// sayBar says where the bar of the designs is the one that was measured.
func (p *program) sayBar(in job) {
	if in.measured.Any() {
		p.tell("with the bar as measured, from %s\n", in.sources[len(in.sources)-1])
	}
}

// read reads the knife file, the shop file and the measured values. Faults of all of
// them are reported at once.
func (in *inputs) read(arguments []string) (job, error) {
	if len(arguments) > 1 {
		return job{}, &usageError{fmt.Sprintf("one knife file at a time, not %d", len(arguments)), "name the others in runs of their own"}
	}
	var faults document.FieldErrors
	var out job
	knife, err := readKnife(arguments, &out)
	faults, other := split(faults, err)
	shop, shopErr := in.readShop(&out)
	faults, otherShop := split(faults, shopErr)
	measured, measuredErr := in.readMeasured(arguments, knife, err == nil, &out)
	faults, otherMeasured := split(faults, measuredErr)
	rest := errors.Join(other, otherShop, otherMeasured)
	switch {
	case len(faults) > 0 && rest != nil:
		return job{}, errors.Join(faults, rest)
	case len(faults) > 0:
		return job{}, faults
	case rest != nil:
		return job{}, rest
	}
	out.knife, out.shop, out.measured = knife, shop, measured
	return out, nil
}

// readFor reads the files for a knife named by a flag: a file, the name of a pattern,
// or nothing for the default pattern.
func (in *inputs) readFor(knife string) (job, error) {
	if _, found := templates.Pattern(knife); knife == "" || found {
		pattern := knife
		if pattern == "" {
			pattern = templates.Default
		}
		data, _ := templates.Pattern(pattern)
		parsed, err := profile.Parse(pattern+".toml", data)
		if err != nil {
			return job{}, err
		}
		out := job{knife: parsed, sources: []string{"built-in pattern " + pattern}}
		out.shop, err = in.readShop(&out)
		if err != nil {
			return job{}, err
		}
		out.measured, err = in.readMeasured(nil, parsed, true, &out)
		return out, err
	}
	return in.read([]string{knife})
}

// split adds the faults in err to faults, and returns err where it is something else.
func split(faults document.FieldErrors, err error) (document.FieldErrors, error) {
	var more document.FieldErrors
	if errors.As(err, &more) {
		return append(faults, more...), nil
	}
	return faults, err
}

func readKnife(arguments []string, out *job) (profile.Knife, error) {
	if len(arguments) == 0 {
		out.sources = append(out.sources, "built-in pattern "+templates.Default)
		data, _ := templates.Pattern(templates.Default)
		return profile.Parse(templates.Default+".toml", data)
	}
	out.sources = append(out.sources, filepath.Base(arguments[0]))
	if _, err := os.Stat(arguments[0]); errors.Is(err, fs.ErrNotExist) {
		if pattern, near := document.Nearest(strings.TrimSuffix(arguments[0], ".toml"), templates.Names()); near {
			return profile.Knife{}, document.FieldErrors{{File: arguments[0], Rule: "there is no such file",
				Hint: fmt.Sprintf("%s is a pattern: fullerwright new %s writes it to %s.toml; or check the name and the folder", pattern, pattern, pattern)}}
		}
	}
	return profile.ParseFile(arguments[0])
}

func (in *inputs) readShop(out *job) (toolpath.Shop, error) {
	if in.shopPath == "" {
		out.sources = append(out.sources, "built-in shop")
		return toolpath.ParseShop("shop.toml", templates.Shop())
	}
	out.sources = append(out.sources, filepath.Base(in.shopPath))
	return toolpath.ParseShopFile(in.shopPath)
}

func (in *inputs) readMeasured(arguments []string, knife profile.Knife, usable bool, out *job) (profile.Measured, error) {
	path := in.measuredPath
	if path == "" && len(arguments) == 1 && usable {
		beside := strings.TrimSuffix(arguments[0], ".toml") + ".measured.toml"
		_, err := os.Stat(beside)
		switch {
		case err == nil:
			path = beside
		case !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, fs.ErrInvalid):
			return profile.Measured{}, fmt.Errorf("%s cannot be looked at: %w", beside, err)
		}
	}
	if path == "" || !usable {
		return profile.Measured{}, nil
	}
	out.sources = append(out.sources, filepath.Base(path))
	return profile.ParseMeasuredFile(path, knife)
}
