package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/export/gcode"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

func readCommand() command {
	return command{
		name: "read", arguments: "PROGRAM", summary: "check a program against the open standard RS274/NGC and print its motions",
		example: "fullerwright read fuller-right.nc",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			name := set.String("dialect", dialect.FullStandard().Name, "`NAME` of the dialect whose extensions are accepted: "+dialectNames(toolpath.Shop{})+", or one of your own from --shop")
			shop := set.String("shop", "", "shop `FILE` that has the dialect")
			data := set.Bool("json", false, "print the motions as data, one to a line")
			return func(arguments []string) error { return p.readProgram(arguments, *name, *shop, *data) }
		},
	}
}

// dialectNames lists the dialects.
func dialectNames(shop toolpath.Shop) string {
	return strings.Join(dialect.Names(shop.Dialects), ", ")
}

// extensionsOf returns what programs of a dialect may use beyond the standard.
func extensionsOf(shop toolpath.Shop, name string) (dialect.Extensions, error) {
	d, known := shop.Dialect(name)
	if !known {
		return dialect.Extensions{}, &usageError{fmt.Sprintf("no dialect %q", name), "the dialects are: " + dialectNames(shop)}
	}
	return d.Accepts(), nil
}

func (p *program) readProgram(arguments []string, name, shopPath string, data bool) error {
	if len(arguments) != 1 {
		return &usageError{"read takes one program", "try: fullerwright read fuller-right.nc"}
	}
	var shop toolpath.Shop
	if shopPath != "" {
		var err error
		if shop, err = toolpath.ParseShopFile(shopPath); err != nil {
			return err
		}
	}
	extensions, err := extensionsOf(shop, name)
	if err != nil {
		return err
	}
	file, err := openProgram(arguments[0])
	if err != nil {
		return err
	}
	defer file.Close()
	p.speaks(unitOfProgram(file, extensions))
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return err
	}
	show := p.printMotion
	if data {
		show = p.dataMotion
	}
	program, err := gcode.ScanWith(file, extensions, show)
	if err != nil {
		return programError(arguments[0], err)
	}
	p.sayNotes(program.Notes)
	return nil
}

// unitOfProgram returns the unit of a program, as far as it can be read.
func unitOfProgram(file io.Reader, extensions dialect.Extensions) document.Unit {
	nothing := func(motion.Motion) error { return nil }
	if program, _ := gcode.ScanWith(file, extensions, nothing); program.Inch { // its faults are told when it is printed
		return document.Inch
	}
	return document.Millimetre
}

// sayNotes says what in a program is legal but worth a person's eye.
func (p *program) sayNotes(notes []gcode.Note) {
	for _, note := range notes {
		p.tell("fullerwright: note: line %d: %s\n", note.TextLine, note.Text)
	}
}

func openProgram(path string) (*os.File, error) {
	fault := func(rule, hint string) error {
		return document.FieldErrors{{File: path, Rule: rule, Hint: hint}}
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fault("there is no such program", "check the name and the folder")
	case err != nil:
		return nil, fault("cannot be looked at: "+withoutPath(err).Error(), "check the name and your rights to the folder")
	case info.IsDir():
		return nil, fault("is a folder", "name the program in it")
	case !info.Mode().IsRegular():
		return nil, fault("is no ordinary file", "name a program")
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, fault("cannot be opened: "+withoutPath(err).Error(), "check your rights to the file")
	}
	return file, nil
}

// programError says what is wrong with a program: not legal, or legal but not
// supported here.
func programError(path string, err error) error {
	var rule *gcode.RuleError
	var unsupported *gcode.UnsupportedError
	switch {
	case errors.As(err, &rule):
		return &failedError{fmt.Sprintf("%s is not legal: %v", path, rule)}
	case errors.As(err, &unsupported):
		return fmt.Errorf("%s: %w", path, unsupported)
	}
	return fmt.Errorf("%s cannot be read: %w", path, err)
}

var kindNames = map[motion.Kind]string{motion.Rapid: "rapid", motion.Line: "line", motion.Arc: "arc", motion.Dwell: "dwell",
	motion.Stop: "stop", motion.Tool: "tool"}

func (p *program) printMotion(m motion.Motion) error {
	if err := p.ctx.Err(); err != nil {
		return err
	}
	says := document.Say("%6d %-6s X%.4f Y%.4f Z%.4f", m.TextLine, kindNames[m.Kind], dimension(m.To.X), dimension(m.To.Y), dimension(m.To.Z))
	if m.Kind == motion.Arc {
		says = says.And(" centre X%.4f Y%.4f Z%.4f sweep %.4f rad", dimension(m.Centre.X), dimension(m.Centre.Y), dimension(m.Centre.Z), m.Sweep)
	}
	if m.Feed > 0 {
		says = says.And(" feed %.1f mm/min", m.Feed)
	}
	if m.Kind == motion.Dwell {
		says = says.And(" %.2f s", m.Seconds)
	}
	_, err := fmt.Fprintln(p.stdout, says.In(p.unit))
	return err
}

// motionReport is a motion as data.
type motionReport struct {
	Line    int         `json:"line"`
	Kind    string      `json:"kind"`
	From    [3]float64  `json:"from_mm"`
	To      [3]float64  `json:"to_mm"`
	Centre  *[3]float64 `json:"centre_mm,omitempty"`
	Sweep   float64     `json:"sweep_rad,omitempty"`
	Feed    float64     `json:"feed_mm_per_min,omitempty"`
	Spindle int         `json:"spindle"`
	Speed   float64     `json:"speed_rev_per_min"`
	Seconds float64     `json:"dwell_s,omitempty"`
}

func (p *program) dataMotion(m motion.Motion) error {
	if err := p.ctx.Err(); err != nil {
		return err
	}
	three := func(v motion.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
	out := motionReport{Line: m.TextLine, Kind: kindNames[m.Kind], From: three(m.From), To: three(m.To), Feed: m.Feed,
		Spindle: int(m.Spindle), Speed: m.Speed, Seconds: m.Seconds}
	if m.Kind == motion.Arc {
		centre := three(m.Centre)
		out.Centre, out.Sweep = &centre, m.Sweep
	}
	return writeLine(p.stdout, out)
}
