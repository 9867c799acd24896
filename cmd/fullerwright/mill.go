package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/profile"
	"fullerwright/toolpath"
)

func millCommand() command {
	return command{
		name: "mill", arguments: "[KNIFE.toml]", summary: "make and prove the programs alone",
		example: "fullerwright mill my-knife.toml --op fuller --face right -o programs",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var in inputs
			in.declare(set)
			operation := set.String("op", string(toolpath.Fullers), "`OPERATION`: "+sayOperations())
			face := set.String("face", "both", "`FACE`: left, right or both")
			cutter := set.String("cutter", "", "`NAME` of the cutter to use (default: the best of the drawer)")
			out := set.StringP("out", "o", "", "`FOLDER` to write; without it one face's program is printed")
			data := set.Bool("json", false, "print the report as data; needs -o")
			fromLevel := set.Int("from-level", 0, "take the program up again at this `LEVEL`, after a broken cutter or a power cut: levels are counted as the program's comments and the setup sheet count them, and one more than there are is the finishing. Programs for corners alone stay whole")
			byTurns := set.Bool("by-turns", false, "fullers: a program for each level, the two faces by turns, so that the bar stays straight")
			touchUp := set.String("touch-up", "", "fullers: finishing lanes alone, sunk by what the file of measured values says is missing; `ZEROS` are \"kept\", as the groove was cut with, or \"new\", all touched again")
			sheet := set.Bool("sheet", false, "write the setup sheet of the programs beside them; needs -o")
			p.declareQuiet(set)
			return func(arguments []string) error {
				return p.mill(&in, arguments, millFlags{*operation, *face, *cutter, *out, *data, *sheet, parting{set.Changed("from-level"), *fromLevel, *byTurns, toolpath.Zeros(*touchUp)}})
			}
		},
	}
}

// sayOperations lists the operations.
func sayOperations() string {
	var names []string
	for _, o := range toolpath.Operations() {
		names = append(names, string(o))
	}
	return strings.Join(names, ", ")
}

// millFlags are the command's own flags.
type millFlags struct {
	operation, face, cutter, out string
	data, sheet                  bool
	parting                      parting
}

func (p *program) mill(in *inputs, arguments []string, f millFlags) error {
	operation, face, cutter, out := f.operation, f.face, f.cutter, f.out
	switch {
	case f.data && out == "":
		return &usageError{"a report beside a printed program needs a folder for the program", "name one with -o"}
	case f.sheet && out == "":
		return &usageError{"a setup sheet beside a printed program needs a folder for both", "name one with -o"}
	case !slices.Contains(toolpath.Operations(), toolpath.Operation(operation)):
		return &usageError{fmt.Sprintf("no operation %q", operation), "the operations are: " + sayOperations()}
	case face != "left" && face != "right" && face != "both":
		return &usageError{fmt.Sprintf("no face %q", face), "the faces are: left, right, both"}
	}
	if err := f.parting.validate(operation, face); err != nil {
		return err
	}
	read, err := in.read(arguments)
	if err != nil {
		return err
	}
	p.speaks(read.knife.Units)
	how := proving{cutter: cutter, out: out, parting: f.parting}
	if face == profile.Left.String() {
		how.face = profile.Left
	}
	if out == "" {
		how.out = filepath.Join(outputFolder, safeName(read.knife.Name))
	}
	wanted := func(s toolpath.Step) bool {
		return string(s.Operation) == operation && (face == "both" || s.Face.String() == face)
	}
	target := folder{path: filepath.Clean(out), command: "mill", files: map[string][]byte{}}
	ready := target.ready
	if out == "" {
		ready = func() error { return oneProgram(read, wanted) }
	}
	if err := ready(); err != nil {
		return err
	}
	w, err := p.proved(read, how, wanted)
	if err != nil {
		return err
	}
	if len(w.byHand) > 0 {
		return &failedError{w.byHand[0].why}
	}
	if milled := operation == string(toolpath.Fullers) && (face != "left" && w.blade.FullersMilled(profile.Right) || face != "right" && w.blade.FullersMilled(profile.Left)); milled && len(w.faces) == 0 {
		return &usageError{"the file of measured values says that the fullers there are milled already", "mill --touch-up sinks one that came out too shallow; else mill the other face"}
	}
	if len(w.faces) == 0 {
		return &usageError{fmt.Sprintf("there is no %s to mill in %s", operation, map[string]string{"left": "the left face", "right": "the right face", "both": "either face"}[face]), "look at the keys of that feature in the knife file: fullerwright help keys"}
	}
	if out == "" {
		return p.printProgram(w)
	}
	for _, f := range w.faces {
		f.addPrograms(target.files)
	}
	if f.sheet {
		sheets, err := setupFiles(w)
		if err != nil {
			return err
		}
		maps.Copy(target.files, sheets)
	}
	done, err := target.publish()
	if err != nil {
		return err
	}
	if f.data {
		_, err := p.stdout.Write(asJSON(newReport(w)))
		return err
	}
	for _, f := range w.faces {
		if how.parting.takenUp && f.part == nil {
			p.say("%s, with a cutter of its own, is written whole: where it has been run already it cuts air\n", programName(f.job))
		}
		p.say("%s proved and written: gouge %.4f mm, leftover %.4f mm, %s\n", filepath.ToSlash(filepath.Join(out, f.sayPrograms())),
			f.proof.Judged.Gouge.Value, f.proof.Judged.Leftover.Value, sayMinutes(f.proof.Seconds))
	}
	p.saySilent(w)
	p.sayRest(done)
	return nil
}

// oneProgram refuses several programs, which cannot all be printed.
func oneProgram(read job, wanted func(toolpath.Step) bool) error {
	w, err := prepare(read)
	if err != nil {
		return err
	}
	if n := w.count(wanted); n > 1 {
		return &usageError{fmt.Sprintf("%d programs need a folder", n), "name one with -o, or one face with --face"}
	}
	return nil
}

// printProgram prints the only program of the work.
func (p *program) printProgram(w *work) error {
	programs := w.faces[0].programs
	switch {
	case len(w.faces) > 1:
		return &usageError{fmt.Sprintf("this takes %d programs, each with a cutter of its own", len(w.faces)), "name a folder for them with -o"}
	case len(programs) > 1:
		return &usageError{fmt.Sprintf("in this dialect the program takes %d files", len(programs)), "name a folder for them with -o"}
	}
	_, err := p.stdout.Write(programs[0].text)
	return err
}
