package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/pflag"

	"fullerwright/export"
)

func templateCommand() command {
	return command{
		name: "template", arguments: "[KNIFE.toml]", summary: "draw the true-size grinding template alone",
		example: "fullerwright template my-knife.toml --paper A4 -o paper",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var in inputs
			in.declare(set)
			paper := set.String("paper", "", "`SIZE` of paper: A4, Letter, Legal, A3, Tabloid (default: what the shop file says)")
			out := set.StringP("out", "o", "", "`FOLDER` to write (default: fullerwright-out/NAME-template)")
			return func(arguments []string) error { return p.template(&in, arguments, *paper, *out) }
		},
	}
}

func (p *program) template(in *inputs, arguments []string, paper, out string) error {
	read, err := in.read(arguments)
	if err != nil {
		return err
	}
	if paper != "" {
		if _, known := export.PaperNamed(paper); !known {
			return &usageError{fmt.Sprintf("no paper %q", paper), "the sizes are: A4, Letter, Legal, A3, Tabloid"}
		}
		read.shop.Paper.Size = paper
	}
	w, err := prepare(read)
	if err != nil {
		return err
	}
	files, err := templateFiles(w)
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
	fmt.Fprintf(p.stdout, "%s written to %s. Print at actual size and measure the check lines before you trust it.\n",
		plural(done.written, "drawing", "drawings"), filepath.ToSlash(out))
	p.sayRest(done)
	return nil
}
