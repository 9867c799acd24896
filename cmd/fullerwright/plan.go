package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/export"
	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
)

// planPaper is the paper of a plan where the shop file does not ask for one.
const planPaper = "A3"

// greatestScaleLoss is the greatest loss in the fire that is taken for meant, percent.
const greatestScaleLoss = 60

// planFlags are what the command line says of the plan.
type planFlags struct {
	paper, lengths, projection, printer, out string
	scaleLoss                                float64
}

func planCommand() command {
	return command{
		name: "plan", arguments: "[KNIFE.toml]", summary: "draw the dimensioned plan, section gauges, fittings and the bar",
		example: "fullerwright plan my-knife.toml --paper A4 --lengths fraction -o paper",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var in inputs
			var f planFlags
			in.declare(set)
			set.StringVar(&f.paper, "paper", "", "`SIZE` of paper: A4, Letter, Legal, A3, Tabloid (default: what the shop file says, or A3)")
			set.StringVar(&f.lengths, "lengths", "", "how lengths are written: mm, in (decimal), fraction (default: the unit of the knife file)")
			set.StringVar(&f.projection, "projection", "third", "first or third angle")
			set.Float64Var(&f.scaleLoss, "scale-loss", 0, "`PERCENT` of a billet's weight that the fire takes, for a forged bar")
			set.StringVar(&f.printer, "printer", "", "`A,B,C,D`, what you measured on the square of an uncorrected template: gauges, fittings and bar are drawn so that they come out true")
			set.StringVarP(&f.out, "out", "o", "", "`FOLDER` to write (default: fullerwright-out/NAME-plan)")
			return func(arguments []string) error { return p.plan(&in, arguments, f) }
		},
	}
}

func (p *program) plan(in *inputs, arguments []string, f planFlags) error {
	read, err := in.read(arguments)
	if err != nil {
		return err
	}
	p.speaks(read.knife.Units)
	w, err := prepare(read)
	if err != nil {
		return err
	}
	options, caution, err := planOptions(w, f)
	if err != nil {
		return err
	}
	out := f.out
	if out == "" {
		out = filepath.Join(outputFolder, safeName(w.knife.Name)+"-plan")
	}
	target := folder{path: filepath.Clean(out), command: "plan"}
	if err := target.ready(); err != nil {
		return err
	}
	target.files, err = planFiles(w, options, true)
	if err != nil {
		return err
	}
	done, err := target.publish()
	if err != nil {
		return err
	}
	p.say("%s written to %s. Print at actual size where a scale of 1:1 is to be trusted.\n",
		plural(done.written, "drawing", "drawings"), filepath.ToSlash(out))
	p.sayRest(done)
	p.sayPrinter("gauges, fittings and bar", options.Printer, f.printer != "", caution)
	return nil
}

// planOptions returns how the plan is drawn, with a caution where the printer asks for one.
func planOptions(w *work, f planFlags) (o export.PlanOptions, caution string, err error) {
	o = export.PlanOptions{Digest: w.digest, Density: w.shop.Density(w.knife.Blade.Steel).Value, Source: w.sources[0]}
	if o.Printer, caution, err = printerFor(w.shop.Paper, f.printer); err != nil {
		return o, "", err
	}
	size := f.paper
	if size == "" && w.shop.Paper.Size != "both" {
		size = w.shop.Paper.Size
	}
	if size == "" {
		size = planPaper
	}
	var known bool
	if o.Paper, known = export.PaperNamed(size); !known {
		return o, "", &usageError{fmt.Sprintf("no paper %q", size), "the sizes are: A4, Letter, Legal, A3, Tabloid"}
	}
	if f.lengths == "" && w.knife.Units == document.Inch {
		f.lengths = "in"
	}
	if f.lengths == "" {
		f.lengths = "mm"
	}
	if o.Lengths, known = export.LengthStyleNamed(f.lengths); !known {
		return o, "", &usageError{fmt.Sprintf("no way %q to write lengths", f.lengths), "the ways are: " + strings.Join(export.LengthStyleNames(), ", ")}
	}
	if !(f.scaleLoss >= 0 && f.scaleLoss <= greatestScaleLoss) {
		return o, "", &usageError{fmt.Sprintf("a scale loss of %g percent", f.scaleLoss), fmt.Sprintf("give what your fire takes, from 0 to %d percent", greatestScaleLoss)}
	}
	o.ScaleLoss = f.scaleLoss / 100
	switch f.projection {
	case "first":
		o.FirstAngle = true
	case "third", "":
	default:
		return o, "", &usageError{fmt.Sprintf("no projection %q", f.projection), "it is first or third"}
	}
	return o, caution, nil
}

// planFiles returns the documents of the plan by name, with every sheet as a drawing and
// as a picture of its own where those are wanted.
func planFiles(w *work, o export.PlanOptions, single bool) (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, kind := range []struct {
		name  string
		blade profile.Blade
		draw  func(profile.Blade, export.PlanOptions) ([]sheet.Sheet, error)
	}{{"plan", w.finished, export.Plan}, {"gauges", w.finished, export.SectionCards}, {"fittings", w.finished, export.FittingsSheet}, {"bar", w.blade, export.BarPlan}} {
		pages, err := kind.draw(kind.blade, o)
		if err != nil {
			return nil, err
		}
		if err := addSheets(files, kind.name, w.knife.Maker, pages, single); err != nil {
			return nil, err
		}
	}
	return files, nil
}

// addSheets adds sheets as one document, and as a drawing and a picture each where those
// are wanted.
func addSheets(files map[string][]byte, name, author string, pages []sheet.Sheet, single bool) error {
	var err error
	if files[name+".pdf"], err = sheet.PDF(sheet.Document{Title: pages[0].Title, Subject: pages[0].Description, Author: author}, pages); err != nil {
		return err
	}
	if !single {
		return nil
	}
	for i, page := range pages {
		each := name
		if len(pages) > 1 {
			each = fmt.Sprintf("%s-%d", name, i+1)
		}
		if files[each+".svg"], err = sheet.SVG(page); err != nil {
			return err
		}
		if files[each+".png"], err = sheet.PNG(page, pictureDPI); err != nil {
			return err
		}
	}
	return nil
}
