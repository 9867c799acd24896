package main

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/export/gcode"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
)

func scrapCommand() command {
	return command{
		name: "scrap", arguments: "[KNIFE.toml]", summary: "test grooves in a scrap, and what their widths say of cutter and zero",
		example: "fullerwright scrap my-knife.toml -o scrap    then    fullerwright scrap my-knife.toml --width 0.55=4.98 --width 2.77=10.12",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var in inputs
			in.declare(set)
			var f scrapFlags
			set.StringVar(&f.cutter, "cutter", "", "`NAME` of the cutter to try (default: the one that the fullers are milled with)")
			set.StringVar(&f.size, "size", "", "`LENGTHxWIDTHxTHICKNESS` of the scrap in mm (default: as long as needed, as wide and thick as the bar)")
			set.StringVarP(&f.out, "out", "o", "", "`FOLDER` to write (default: fullerwright-out/NAME-scrap)")
			set.StringArrayVar(&f.widths, "width", nil, "`DEPTH=WIDTH` of a groove as programmed and as measured, in the unit of the shop's programs; two or more")
			p.declareQuiet(set)
			return func(arguments []string) error { return p.scrap(&in, arguments, f) }
		},
	}
}

// scrapFlags are the command's own flags.
type scrapFlags struct {
	cutter, size, out string
	widths            []string
}

func (p *program) scrap(in *inputs, arguments []string, f scrapFlags) error {
	size, err := parseSize(f.size, "scrap")
	if err != nil {
		return err
	}
	read, err := in.read(arguments)
	if err != nil {
		return err
	}
	unit := scrapUnit{document.Millimetre, 3}
	if read.shop.Inch {
		unit = scrapUnit{document.Inch, 5}
	}
	p.speaks(unit.Unit)
	w, err := prepare(read)
	if err != nil {
		return err
	}
	job, scrap, err := toolpath.PlanScrap(w.blade, w.shop, size, f.cutter)
	if err != nil {
		return err
	}
	if len(f.widths) > 0 {
		return p.solveScrap(job, unit, f.widths)
	}
	if stops := toolpath.Stops(job.Checks); len(stops) > 0 {
		return p.stopped(&work{checks: job.Checks})
	}
	return p.writeScrap(w, job, scrap, unit, f.out)
}

// scrapUnit writes lengths in the unit of the shop's programs.
type scrapUnit struct {
	document.Unit
	places int
}

func (u scrapUnit) say(mm float64) string {
	return fmt.Sprintf("%.*f", u.places, mm/u.Millimetres())
}

func (p *program) writeScrap(w *work, job *toolpath.Job, scrap toolpath.Scrap, unit scrapUnit, out string) error {
	spelling, known := w.shop.Dialect(w.shop.Machine.Dialect)
	if !known {
		return fmt.Errorf("there is no dialect %q", w.shop.Machine.Dialect)
	}
	checked, err := job.Checked()
	if err != nil {
		return err
	}
	texts, err := gcode.WriteFiles(checked, spelling, gcode.Text{Inch: w.shop.Inch, Heading: scrapHeading(w, job, scrap, unit), Number: spelling.ProgramNumber})
	if err != nil {
		return fmt.Errorf("the program for the scrap cannot be written: %w", err)
	}
	files := map[string][]byte{}
	var cut [][]motion.Motion
	for i, text := range texts {
		program, err := gcode.ReadWith(bytes.NewReader(text), spelling.Needs())
		if err != nil {
			return fmt.Errorf("the program for the scrap does not read back: %w", err)
		}
		cut = append(cut, program.Motions)
		files[fileName(job, i+1, len(texts))] = text
	}
	proved := scrap.Prove(job, w.shop, cut...)
	for _, finding := range proved.Judged.Findings {
		p.say("%s: line %d, %s: %s\n", programName(job), finding.TextLine, finding.Kind, document.Words(finding.Message))
	}
	if n := len(proved.Judged.Findings); n > 0 {
		return &failedError{fmt.Sprintf("the proof failed: %s; no program was written", plural(n, "finding", "findings"))}
	}
	if out == "" {
		out = filepath.Join(outputFolder, safeName(w.knife.Name)+"-scrap")
	}
	page := scrapSheet(w, job, scrap, unit)
	files["scrap-groove.txt"] = []byte(page)
	done, err := folder{path: filepath.Clean(out), command: "scrap", files: files}.publish()
	if err != nil {
		return err
	}
	p.say("%s\n%s proved and written: gouge %.4f mm, leftover %.4f mm, %s\n", page, filepath.ToSlash(filepath.Join(out, sayFiles(job, len(texts)))),
		proved.Judged.Gouge.Value, proved.Judged.Leftover.Value, sayMinutes(proved.Seconds))
	p.sayRest(done)
	return nil
}

// scrapHeading is what the operator must know, with the width that each groove must have.
func scrapHeading(w *work, job *toolpath.Job, scrap toolpath.Scrap, unit scrapUnit) []string {
	size := scrap.Size
	lines := []string{
		"Fullerwright test grooves in a scrap",
		fmt.Sprintf("Knife %s, steel %s", job.Name, job.Steel),
		"Parameters " + w.digest,
		fmt.Sprintf("Scrap %s x %s x %s %s", unit.say(size.Length), unit.say(size.Width), unit.say(size.Thickness), unit),
		"One long side at the fixed jaw, one end at the stop",
		"X zero at the stop, left end of the scrap",
		"Y zero at the fixed jaw, scrap at minus Y",
		"Z zero on top of the scrap, touched as for the bar",
	}
	for i, g := range scrap.Grooves {
		lines = append(lines, fmt.Sprintf("Groove %d, depth %s, must measure %s", i+1, unit.say(g.Depth), unit.say(g.Width)))
	}
	return append(lines, cutterHeading(job, unit.Unit, unit.say)...)
}

// scrapSheet is the page to take to the mill.
func scrapSheet(w *work, job *toolpath.Job, scrap toolpath.Scrap, unit scrapUnit) string {
	var out strings.Builder
	line := func(format string, values ...any) { fmt.Fprintf(&out, format+"\n", values...) }
	line("TEST GROOVES IN A SCRAP, %s, lengths in %s, parameters %s", job.Name, unit, w.digest)
	line("")
	line("Scrap of the bar's own steel, %s, %s x %s x %s, faces ground or milled clean.", job.Steel, unit.say(scrap.Size.Length), unit.say(scrap.Size.Width), unit.say(scrap.Size.Thickness))
	line("One long side at the fixed jaw, one end at the stop, on parallels. X zero: left end. Y zero: fixed jaw.")
	line("Z zero: top of the scrap, touched just as you will touch the bar.")
	line("Cutter %s, diameter %s, stick-out %s, %.0f rev/min, feed %.1f %s/min.", job.Cutter.Name, unit.say(2*job.Cutter.Radius()), unit.say(job.Cutter.StickOut), job.Spindle, job.Feeds.Slot/unit.Millimetres(), unit)
	line("")
	line("groove   X from     X to    depth   must measure   measured")
	for i, g := range scrap.Grooves {
		line("%-6d %8s %8s %8s %14s   ________", i+1, unit.say(g.From), unit.say(g.To), unit.say(g.Depth), unit.say(g.Width))
	}
	line("")
	line("Deburr the lips, wipe, and measure each width from lip to lip in the middle of its length.")
	line("")
	line("One groove whose depth d you trust:   R = (w*w + 4*d*d) / (8*d)")
	line("Two widths, depths as programmed:     K = ((w2*w2 - w1*w1)/4 / (D2 - D1) + D1 + D2) / 2")
	line("                                      R = sqrt((K - D1)*(K - D1) + w1*w1/4)")
	line("                                      and the tip went R - K deeper than Z says")
	var widths strings.Builder
	for _, g := range scrap.Grooves {
		fmt.Fprintf(&widths, " --width %s=...", unit.say(g.Depth))
	}
	line("Or: fullerwright scrap, the same files%s", widths.String())
	line("")
	line("First run above the work. Spindle still before you measure or brush. Eye protection; no gloves")
	line("near a turning spindle. Clamp the scrap; never hold it. Lips are sharp. Read CAUTIONS.md.")
	return out.String()
}

// caliperError is what a caliper across two lips is off by, as a standard error, mm
// (judgement).
const caliperError = 0.02

// solveScrap says what the widths of the grooves tell of the cutter and the zero.
func (p *program) solveScrap(job *toolpath.Job, unit scrapUnit, texts []string) error {
	var widths []cutting.GrooveWidth
	for _, text := range texts {
		depth, width, ok := strings.Cut(text, "=")
		d, err := strconv.ParseFloat(depth, 64)
		v, err2 := strconv.ParseFloat(width, 64)
		if !ok || err != nil || err2 != nil || !(d > 0 && v > 0 && d < 100 && v < 100) {
			return &usageError{fmt.Sprintf("%q is no depth and width", text), "write --width 0.55=4.98: the depth as programmed, and what the caliper read"}
		}
		widths = append(widths, cutting.GrooveWidth{Depth: d * unit.Millimetres(), Width: v * unit.Millimetres()})
	}
	fit, err := cutting.FitBall(widths, caliperError)
	if err != nil {
		return &usageError{err.Error(), "measure the grooves of the scrap again"}
	}
	c := job.Cutter
	p.say("%s, from %s; a caliper is taken to be %s %s off\n\n", c.Name, plural(len(widths), "width", "widths"), unit.say(caliperError), unit)
	for i, g := range widths {
		again := ""
		if math.Abs(fit.Rest[i]) > 3*caliperError {
			again = ": measure it again"
		}
		p.say("depth %s: %s wide, %s off what the rest of it says%s\n", unit.say(g.Depth), unit.say(g.Width), unit.say(math.Abs(fit.Rest[i])), again)
	}
	p.say("true radius %s %s, give or take %s; the shop file says %s\n", unit.say(fit.Radius), unit, unit.say(fit.RadiusError), unit.say(c.Radius()))
	way, cure := "deeper", "higher"
	sunk := fit.Sunk
	if sunk < 0 {
		way, cure, sunk = "less deep", "lower", -sunk
	}
	if fit.ZeroTaken {
		p.say("Z zero is taken to be true: the width of a groove of another depth would tell how far it is off\n\n")
	} else {
		p.say("the tip goes %s %s %s than Z says, give or take %s: set Z zero %s %s\n\n", unit.say(sunk), unit, way, unit.say(fit.SunkError), unit.say(sunk), cure)
	}
	if off := fit.Radius/(c.Diameter/2) - 1; off > 0.1 || off < -0.1 {
		return &failedError{"the radius is more than a tenth off the nominal one: measure again, or is it another cutter?"}
	}
	p.say("For your shop file, which nothing is written into, under this cutter:\n\n[[cutter]]\nname              = %q\nmeasured_diameter = \"%s %s\"\n", c.Name, unit.say(2*fit.Radius), unit)
	return nil
}
