package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/export"
	"fullerwright/profile/document"
	"fullerwright/profile/match"
	"fullerwright/templates"
)

// matchFlags are the flags of the command match, as typed.
type matchFlags struct {
	pattern, units, overall, within, face string
	out, picture                          string
	data                                  bool
}

// mostTraceBytes is the size beyond which a table of stations or a trace is not read: a
// trace with a point every tenth of a millimetre is a tenth of it.
const mostTraceBytes = 4 << 20

func matchCommand() command {
	return command{
		name: "match", arguments: "POINTS.csv|TRACE.svg", summary: "find the parameters of a knife in the hand, measured or traced",
		example: "fullerwright match points.csv -o found.toml --picture found",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var f matchFlags
			set.StringVar(&f.pattern, "pattern", "", "the `PATTERN` it belongs to, or a knife file of yours (default: the one that follows best)")
			set.StringVar(&f.units, "units", "", "`UNIT` of plain numbers in the table, mm, cm or in (default: as its heading says)")
			set.StringVar(&f.overall, "overall", "", "known `LENGTH` from the end of the tang to the point, as \"290 mm\"; it puts a trace to scale")
			set.StringVar(&f.within, "within", "", "how closely the knife must follow, as a `LENGTH` (default: 0.25 mm for stations, 0.6 mm for a trace)")
			set.StringVar(&f.face, "face", "right", "the `FACE` that a trace shows, right or left")
			set.StringVarP(&f.out, "out", "o", "", "knife `FILE` to write (default: none)")
			set.StringVar(&f.picture, "picture", "", "`FOLDER` to put a drawing of the match in")
			set.BoolVar(&f.data, "json", false, "print the report as data")
			return func(arguments []string) error { return p.match(f, arguments) }
		},
	}
}

func (p *program) match(f matchFlags, arguments []string) error {
	if len(arguments) != 1 {
		return &usageError{"match takes one table of stations or one trace", "try: fullerwright match points.csv, or fullerwright match --help"}
	}
	options, overall, err := f.options()
	if err != nil {
		return err
	}
	families, err := f.families()
	if err != nil {
		return err
	}
	measured, err := f.measurements(arguments[0], overall)
	if err != nil {
		return err
	}
	p.speaks(measured.Unit)
	matched, err := match.Match(measured, families, options)
	if err != nil {
		return err
	}
	if matched.BetterMirrored {
		return mirrored(arguments[0], measured.Traced, options.Left)
	}
	// The knife is made before anything is written, so that a report never speaks of a
	// file that could not be.
	var knife []byte
	if matched.Verdict.Reproduced && f.out != "" {
		if knife, err = matched.Fit.File(familyNamed(families, matched.Fit.Family), measured); err != nil {
			return err
		}
	}
	if f.picture != "" {
		if err := p.matchPicture(f.picture, measured, matched); err != nil {
			return err
		}
	}
	if knife != nil {
		if err := writeFileWhole(f.out, knife); err != nil {
			return err
		}
	}
	if f.data {
		if _, err := p.stdout.Write(asJSON(matchData(measured, matched))); err != nil {
			return err
		}
	} else if err := matchText(p.stdout, measured, matched); err != nil {
		return err
	}
	if !matched.Verdict.Reproduced {
		return &failedError{"no pattern reproduces it" + map[bool]string{true: "; no knife file was written"}[f.out != ""]}
	}
	if knife != nil {
		name := filepath.ToSlash(f.out)
		p.tell("%s written; look at it with: fullerwright check %s\n", name, name)
	}
	return nil
}

// mirrored says that a trace shows the other face, or that a table was drawn edge up.
func mirrored(file string, traced, left bool) error {
	if !traced {
		return document.FieldErrors{{File: file, Rule: "the heights are those of a knife held edge up: as they stand no pattern reproduces them, and turned over one does",
			Hint: "exchange the headings spine and edge, and change the sign of every height"}}
	}
	given, other := "right", "left"
	if left {
		given, other = other, given
	}
	return document.FieldErrors{{File: file, Rule: fmt.Sprintf("the trace is mirrored: laid down as the %s face, with the spine up, no pattern reproduces it, and the other way round one does", given),
		Hint: fmt.Sprintf("if the %s face was traced, or the scan was turned over, give --face %[1]s", other)}}
}

// options reads the flags that steer the search.
func (f matchFlags) options() (options match.Options, overall float64, err error) {
	if err := mustBeNew(f.out); err != nil {
		return options, 0, err
	}
	if f.units != "" && !slices.Contains(match.Units(), f.units) {
		return options, 0, &usageError{fmt.Sprintf("no unit %q", f.units), "the units are: " + strings.Join(match.Units(), ", ")}
	}
	if f.face != "right" && f.face != "left" {
		return options, 0, &usageError{fmt.Sprintf("no face %q", f.face), "the faces are: right, left"}
	}
	options.Left = f.face == "left"
	unit := document.Millimetre
	if f.units == document.Inch.String() {
		unit = document.Inch
	}
	for _, target := range []struct {
		flag, text string
		to         *float64
	}{{"overall", f.overall, &overall}, {"within", f.within, &options.Within}} {
		if target.text == "" {
			continue
		}
		text := target.text
		if _, err := strconv.ParseFloat(text, 64); err == nil && f.units == match.Centimetre {
			text += " " + match.Centimetre
		}
		mm, err := document.ParseLength(text, unit)
		if err != nil || !(mm > 0) || mm > 1e5 {
			return options, 0, &usageError{fmt.Sprintf("--%s %q is no length greater than 0", target.flag, target.text), "write it as 290, \"290 mm\" or \"11 1/2 in\""}
		}
		*target.to = mm
	}
	return options, overall, nil
}

// families returns the patterns to try.
func (f matchFlags) families() ([]match.Family, error) {
	if f.pattern == "" {
		var all []match.Family
		for _, name := range templates.Names() {
			data, _ := templates.Pattern(name)
			all = append(all, match.Family{Name: name, Data: data})
		}
		return all, nil
	}
	if data, found := templates.Pattern(f.pattern); found {
		return []match.Family{{Name: f.pattern, Data: data}}, nil
	}
	if !strings.HasSuffix(f.pattern, ".toml") {
		return nil, &usageError{fmt.Sprintf("no pattern %q", f.pattern), "fullerwright patterns lists them; a knife file of yours ends in .toml"}
	}
	data, err := document.ReadBytes(f.pattern, mostTraceBytes)
	if err != nil {
		return nil, err
	}
	return []match.Family{{Name: strings.TrimSuffix(f.pattern, ".toml"), Data: data}}, nil
}

func familyNamed(all []match.Family, name string) match.Family {
	for _, f := range all {
		if f.Name == name {
			return f
		}
	}
	return match.Family{}
}

// measurements reads the table or the trace, told apart by the name of the file.
func (f matchFlags) measurements(path string, overall float64) (match.Measurements, error) {
	trace := strings.EqualFold(filepath.Ext(path), ".svg")
	if !trace && !strings.EqualFold(filepath.Ext(path), ".csv") {
		return match.Measurements{}, &usageError{fmt.Sprintf("%s is neither a table of stations nor a trace by its name", path), "stations are a .csv file, a traced outline is a .svg file"}
	}
	data, err := document.ReadBytes(path, mostTraceBytes)
	if err != nil {
		return match.Measurements{}, err
	}
	if trace {
		return match.ParseTrace(path, data, overall)
	}
	m, err := match.ParseStations(path, data, f.units)
	if least, most := match.OverallLimits(); err == nil && overall != 0 && (overall < least || overall > most) {
		err = &usageError{fmt.Sprintf("--overall %q: blade and tang together are from %s to %s", f.overall, sayLength(least, m.Unit), sayLength(most, m.Unit)), "measure from the end of the tang to the point"}
	}
	m.Overall = overall
	return m, err
}

// matchPicture draws the match in a folder of its own.
func (p *program) matchPicture(out string, measured match.Measurements, matched match.Matched) error {
	drawing := export.MatchPicture(measured, matched)
	return p.drawnIn(out, "match", drawing, p.stderr)
}
