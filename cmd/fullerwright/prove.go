package main

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"path/filepath"

	"github.com/spf13/pflag"

	"fullerwright/export/gcode"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// proveFlags are what the text of a program may not carry.
type proveFlags struct {
	in         inputs
	knife      string
	face, flip string
	operation  string
	end        string
	diameter   float64
	corner     float64 // mm
	point      float64 // degrees
	bar        string
	dialect    string
	picture    string
	data       bool
}

func proveCommand() command {
	return command{
		name: "prove", arguments: "PROGRAM...", summary: "cut a simulated bar with any program and compare it with a knife",
		example: "fullerwright prove fuller-right.nc fuller-left.nc --knife my-knife.toml --shop my-shop.toml",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var f proveFlags
			f.in.declare(set)
			set.StringVar(&f.knife, "knife", "", "knife `FILE` to compare with, or the name of a pattern; without one the cut is only described")
			set.StringVar(&f.face, "face", "", "`FACE` that is up, left or right (default: what the program's comments say)")
			set.StringVar(&f.flip, "flip", "", "how the bar was turned for the left face, \"`about Y`\" or \"about X\" (default: what the comments say)")
			set.Float64Var(&f.diameter, "diameter", 0, "`MM` of the cutter's diameter (default: what the comments say)")
			set.StringVar(&f.end, "end", "", "`FORM` of the cutter's end: ball, square or drill (default: what the comments say, else ball)")
			set.Float64Var(&f.corner, "corner-radius", 0, "`MM` of the corner of a square end (default: what the comments say)")
			set.Float64Var(&f.point, "point-angle", 0, "`DEGREES` of a drill's point (default: what the comments say, else 118)")
			set.StringVar(&f.operation, "op", "", "`OPERATION` that the program is to do: "+sayOperations()+" (default: what the comments say, else fuller)")
			set.StringVar(&f.dialect, "dialect", "", "`NAME` of the dialect whose extensions are accepted, of the shop file or a preset (default: the machine's)")
			set.StringVar(&f.bar, "bar", "", "`LENGTHxWIDTHxTHICKNESS` of the bar in mm, where no knife is named (default: what the comments say)")
			set.StringVar(&f.picture, "picture", "", "`FOLDER` to put a picture of each face's proof in; needs a knife")
			set.BoolVar(&f.data, "json", false, "print the result as data")
			p.declareQuiet(set)
			return func(arguments []string) error { return p.prove(&f, arguments) }
		},
	}
}

// steps returns how many steps the work has: each program is read, cuts the bar, and
// may be drawn.
func (f *proveFlags) steps(programs int) int {
	if f.picture != "" {
		return 3 * programs
	}
	return 2 * programs
}

func (p *program) prove(f *proveFlags, arguments []string) error {
	if len(arguments) == 0 {
		return &usageError{"prove takes one program or more", "try: fullerwright prove fuller-right.nc --knife my-knife.toml"}
	}
	if err := programsThere(arguments); err != nil {
		return err
	}
	read, err := f.in.readFor(f.knife)
	if err != nil {
		return err
	}
	var w *work
	if f.knife != "" {
		p.speaks(read.knife.Units)
		if w, err = prepare(read); err != nil {
			return err
		}
	}
	if f.picture != "" && w == nil {
		return &usageError{"a picture compares a cut with a knife", "name the knife with --knife"}
	}
	var state *toolpath.BarState
	faces := map[toolpath.Step]bool{}
	pictures := map[string][]byte{}
	failed := 0
	p.progress.expect(f.steps(len(arguments)))
	extensions, err := extensionsOf(read.shop, cmp.Or(f.dialect, read.shop.Machine.Dialect))
	if err != nil {
		return err
	}
	for i, path := range arguments {
		one, err := p.proveOne(f, read.shop, w, &state, toProve{path, extensions, i == len(arguments)-1})
		if err != nil {
			return err
		}
		failed += len(one.Judged.Findings)
		faces[one.Step] = true
		if f.picture != "" {
			err := p.step("drawing the proof of "+filepath.Base(path), func() error { return addPicture(pictures, w, one, w.shop.Limits.Cusp) })
			if err != nil {
				return err
			}
		}
	}
	if f.picture != "" {
		done, err := folder{path: filepath.Clean(f.picture), command: "prove", files: pictures}.publish()
		if err != nil {
			return err
		}
		if !f.data {
			p.sayRest(done)
		}
	}
	if fullered(faces) && state != nil {
		together := state.JudgeFaces()
		failed += len(together.Findings)
		for _, finding := range together.Findings {
			p.tell("both faces: %s: %s\n", finding.Kind, document.Words(finding.Message))
		}
		if !f.data {
			p.say("both faces: least web %.3f mm, %.1f mm from the guard plane; they differ by at most %.4f mm in height\n",
				together.Web.Value, together.Web.X, together.Mismatch.Value)
		}
	}
	if failed > 0 {
		return &failedError{"the proof failed: " + plural(failed, "finding", "findings")}
	}
	return nil
}

// programsThere tells of all programs that cannot be opened, before the first is proved.
func programsThere(paths []string) error {
	var faults []error
	for _, path := range paths {
		file, err := openProgram(path)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		file.Close()
	}
	return errors.Join(faults...)
}

// fullered reports whether the fullers of both faces are among the steps.
func fullered(steps map[toolpath.Step]bool) bool {
	return steps[toolpath.Step{Operation: toolpath.Fullers, Face: profile.Right}] && steps[toolpath.Step{Operation: toolpath.Fullers, Face: profile.Left}]
}

// toProve is a program that is to be proved.
type toProve struct {
	path       string
	extensions dialect.Extensions
	last       bool // of those named
}

// goesOn reports whether another program goes on with a program's step: its comments say
// so, or it has none, and the flags are for all programs alike.
func (t toProve) goesOn(program gcode.Program, c claims) bool {
	return c.goesOn || len(program.Comments) == 0 && !t.last
}

// proveOne proves one program. The bar goes on from one program to the next.
func (p *program) proveOne(f *proveFlags, shop toolpath.Shop, w *work, state **toolpath.BarState, t toProve) (toolpath.FaceProof, error) {
	path := t.path
	file, err := openProgram(path)
	if err != nil {
		return toolpath.FaceProof{}, err
	}
	defer file.Close()
	var program gcode.Program
	err = p.step("reading "+filepath.Base(path), func() (err error) { program, err = gcode.ReadWith(file, t.extensions); return err })
	var stopped *failedError
	switch {
	case errors.As(err, &stopped):
		return toolpath.FaceProof{}, err
	case err != nil:
		return toolpath.FaceProof{}, programError(path, err)
	}
	if w == nil && program.Inch {
		p.speaks(document.Inch)
	}
	p.sayNotes(program.Notes)
	c, err := claimsOf(program).settle(f)
	if err != nil {
		return toolpath.FaceProof{}, err
	}
	face := profile.Right
	if c.face == "left" {
		face = profile.Left
	}
	var result toolpath.FaceProof
	cut := func() (err error) { result, err = describe(shop, c, face, program.Motions); return err }
	switch {
	case w == nil:
	case c.scrap:
		if cut, err = scrapProof(w, c, t, program.Motions, &result); err != nil {
			return toolpath.FaceProof{}, err
		}
	default:
		setup, blade := toolpath.SetupOf(w.blade, toolpath.Operation(c.operation), face, toolpath.Flip(c.flip)), w.blade
		if c.touchUp != "" {
			if setup, blade, err = toolpath.TouchUpSetup(w.blade, setup, c.touchUp); err != nil {
				return toolpath.FaceProof{}, err
			}
		}
		if *state == nil {
			*state = toolpath.NewBarState(blade, w.shop, c.cutter().Radius())
			(*state).Watch(p.progress.part)
		}
		ridge := w.shop.Limits.Cusp
		if c.unfinished {
			ridge = math.Inf(1)
		}
		cut = func() error {
			if t.goesOn(program, c) {
				result = (*state).ProvePart(c.step(face), setup, c.cutter(), program.Motions)
				return nil
			}
			result = (*state).Prove(c.step(face), setup, c.cutter(), ridge, program.Motions)
			return nil
		}
	}
	if err := p.step("cutting the bar with "+filepath.Base(path), cut); err != nil {
		return toolpath.FaceProof{}, err
	}
	result.Judged.Findings = append(toolpath.Contradictions(face, toolpath.Flip(c.flip), setupClaimsOf(program.Comments)), result.Judged.Findings...)
	if f.data {
		return result, p.dataProof(path, c, result)
	}
	p.printProof(path, c, result, w != nil)
	return result, nil
}

// describe cuts a plain bar with a program, where there is no knife to compare with.
func describe(shop toolpath.Shop, c claims, face profile.Face, motions []motion.Motion) (toolpath.FaceProof, error) {
	if c.bar.Length <= 0 || c.bar.Width <= 0 || c.bar.Thickness <= 0 {
		return toolpath.FaceProof{}, &usageError{"the program does not say what bar it is for", "name it with --bar 300x34x5.2, or a knife with --knife"}
	}
	if c.bar.Length > longestSize || c.bar.Width > widestSize || c.bar.Thickness > thickestSize {
		return toolpath.FaceProof{}, &usageError{fmt.Sprintf("the program says that its bar is %.5g x %.5g x %.5g mm; at most %d x %d x %d are looked at", c.bar.Length, c.bar.Width, c.bar.Thickness, longestSize, widestSize, thickestSize), "name a shorter one with --bar, or a knife with --knife"}
	}
	return toolpath.DescribeCut(shop, c.bar, face, c.cutter(), motions), nil
}
