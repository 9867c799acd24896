package main

import (
	"fmt"

	"github.com/spf13/pflag"

	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

func checkCommand() command {
	return command{
		name: "check", arguments: "[KNIFE.toml]", summary: "look at every dimension and every cut, and say what stops the work",
		example: "fullerwright check my-knife.toml --shop my-shop.toml",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var in inputs
			in.declare(set)
			data := set.Bool("json", false, "print the checks as data")
			return func(arguments []string) error { return p.check(&in, arguments, *data) }
		},
	}
}

func (p *program) check(in *inputs, arguments []string, data bool) error {
	read, err := in.read(arguments)
	if err != nil {
		return err
	}
	p.speaks(read.knife.Units)
	w, err := prepare(read)
	if err != nil {
		return err
	}
	if err := w.planFor("", func(toolpath.Step) bool { return true }); err != nil && !stopsWork(err) {
		return err
	}
	if data {
		if _, err := p.stdout.Write(asJSON(newReport(w))); err != nil {
			return err
		}
	} else {
		p.printChecks(w)
	}
	if stops := len(toolpath.Stops(w.allChecks())) + len(w.refused); stops > 0 {
		return &failedError{plural(stops, "check stops", "checks stop") + " the work"}
	}
	return nil
}

func (p *program) printChecks(w *work) {
	p.say("%s: %s\n", w.knife.Name, w.verdict())
	group := func(title string, checks []toolpath.Check) {
		p.say("\n%s\n", title)
		for _, c := range checks {
			p.say("  %s\n", c)
			printWays(p.stdout, c, w.knife.Units)
		}
	}
	group("The blade", w.checks)
	for _, f := range w.faces {
		group(fmt.Sprintf("The %s of the %s face, with the cutter %s", f.job.Step.Operation, f.job.Step.Face, f.job.Cutter.Name), f.job.Checks)
		if len(f.ways) > 0 {
			fmt.Fprintln(p.stdout, "  tried for the whole of it:", sayWays(f.ways, w.knife.Units))
		}
	}
	for _, r := range w.refused {
		p.say("\nThe %s of the %s face cannot be milled\n  %s: %s\n", r.step.Operation, r.step.Face, toolpath.Stop, document.Words(r.why()))
	}
	for _, h := range w.byHand {
		p.say("\nThe %s of the %s face, by hand\n  %s\n", h.step.Operation, h.step.Face, document.Words(h.why))
	}
}
