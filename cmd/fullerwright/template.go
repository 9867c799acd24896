package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/export"
	"fullerwright/export/sheet"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

func templateCommand() command {
	return command{
		name: "template", arguments: "[KNIFE.toml]", summary: "draw the true-size grinding template alone",
		example: "fullerwright template my-knife.toml --paper A4 -o paper",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var in inputs
			in.declare(set)
			paper := set.String("paper", "", "`SIZE` of paper: A4, Letter, Legal, A3, Tabloid (default: what the shop file says)")
			printer := set.String("printer", "", "`A,B,C,D`, what you measured on the square of an uncorrected sheet: the pages are drawn so that they come out true")
			out := set.StringP("out", "o", "", "`FOLDER` to write (default: fullerwright-out/NAME-template)")
			return func(arguments []string) error { return p.template(&in, arguments, *paper, *printer, *out) }
		},
	}
}

func (p *program) template(in *inputs, arguments []string, paper, readings, out string) error {
	read, err := in.read(arguments)
	if err != nil {
		return err
	}
	p.speaks(read.knife.Units)
	if paper != "" {
		if _, known := export.PaperNamed(paper); !known {
			return &usageError{fmt.Sprintf("no paper %q", paper), "the sizes are: A4, Letter, Legal, A3, Tabloid"}
		}
		read.shop.Paper.Size = paper
	}
	printer, caution, err := printerFor(read.shop.Paper, readings)
	if err != nil {
		return err
	}
	w, err := prepare(read)
	if err != nil {
		return err
	}
	files, err := templateFiles(w, printer)
	if err != nil {
		return err
	}
	if out == "" {
		out = filepath.Join(outputFolder, safeName(w.knife.Name)+"-template")
	}
	done, err := folder{path: filepath.Clean(out), command: "template", files: files}.publish()
	if err != nil {
		return err
	}
	p.say("%s written to %s. Print at actual size and measure the square and the rules before you trust it.\n",
		plural(done.written, "drawing", "drawings"), filepath.ToSlash(out))
	p.sayRest(done)
	p.sayPrinter("pages", printer, readings != "", caution)
	return nil
}

// printerFor returns the printer of a shop, or as it was measured where there are readings,
// and a caution where those ask for one.
func printerFor(paper toolpath.Paper, readings string) (printer export.Printer, caution string, err error) {
	known := export.PrinterOf(paper)
	if readings == "" {
		return known, "", nil
	}
	return printerFrom(readings, known)
}

// printerFrom works out the printer from what was measured on its square.
func printerFrom(readings string, known export.Printer) (export.Printer, string, error) {
	if known.Corrects() {
		return export.Printer{}, "", &usageError{"the shop file corrects the printer already; readings on top of it would correct twice",
			"take printer_x, printer_y and printer_skew out of the shop file, print the template, and measure the square on that sheet"}
	}
	var values []float64
	var faults []error
	for _, field := range strings.Split(readings, ",") {
		v, err := document.ParseLength(strings.TrimSpace(field), document.Millimetre)
		if err != nil {
			faults = append(faults, fmt.Errorf("%q: %w", field, err))
		}
		values = append(values, v)
	}
	const hint = "give the four lengths by their letters on the first page of the template, as 99.2,99.8,140.5,141.0"
	if err := errors.Join(faults...); err != nil {
		return export.Printer{}, "", &usageError{"--printer " + readings + ": " + err.Error(), hint}
	}
	if len(values) != 4 {
		return export.Printer{}, "", &usageError{fmt.Sprintf("--printer %s has %s, not 4", readings, plural(len(values), "length", "lengths")), hint}
	}
	printer, caution, err := export.SquareReadings{A: values[0], B: values[1], C: values[2], D: values[3]}.Printer(known.ShortSideFeed)
	if err != nil {
		return export.Printer{}, "", &usageError{"--printer: " + err.Error(), hint}
	}
	return printer, caution, nil
}

// sayPrinter says which sheets were corrected, and how to keep that.
func (p *program) sayPrinter(what string, printer export.Printer, measured bool, caution string) {
	if caution != "" {
		p.say("caution: %s\n", caution)
	}
	switch {
	case measured && printer.Corrects():
		p.say("The %s are corrected. Print them, and their lines must measure true. To keep the\ncorrection, put these lines into your shop file; nothing was written there:\n\n%s", what, printer.ShopLines())
	case measured:
		fmt.Fprintln(p.stdout, "The square is true: nothing needs to be corrected.")
	case printer.Corrects():
		fmt.Fprintln(p.stdout, "The "+what+" are corrected for the printer of the shop file.")
	}
}

// templateFiles returns the drawings of the template by name.
func templateFiles(w *work, printer export.Printer) (map[string][]byte, error) {
	drawn, err := export.NewTemplate(w.blade, export.Stamp{File: w.sources[0], Digest: w.digest})
	if err != nil {
		return nil, err
	}
	svg, err := sheet.SVG(drawn.Sheet())
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{"template.svg": svg}
	for name, size := range templatePapers(w.shop.Paper) {
		paper, known := export.PaperNamed(size)
		if !known {
			return nil, fmt.Errorf("there is no paper %q", size)
		}
		if files[name], err = drawn.PDF(paper, printer); err != nil {
			return nil, err
		}
	}
	return files, nil
}

// templatePapers returns the names of the documents and the paper of each.
func templatePapers(p toolpath.Paper) map[string]string {
	if p.Size == "both" {
		return map[string]string{"template.pdf": "A4", "template-letter.pdf": "Letter"}
	}
	return map[string]string{"template.pdf": p.Size}
}
