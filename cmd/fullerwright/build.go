package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/export"
	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
)

// outputFolder is where builds go when no folder is named.
const outputFolder = "fullerwright-out"

func buildCommand() command {
	return command{
		name: "build", arguments: "[KNIFE.toml]",
		summary: "make everything: proved programs, template, plan, setup sheets and report, in one folder",
		example: "fullerwright build my-knife.toml --shop my-shop.toml -o my-knife",
		flags: func(p *program, set *pflag.FlagSet) func([]string) error {
			var in inputs
			in.declare(set)
			out := set.StringP("out", "o", "", "`FOLDER` to write (default: fullerwright-out/NAME)")
			cutter := set.String("cutter", "", "`NAME` of the cutter to use (default: the best of the drawer)")
			data := set.Bool("json", false, "print the report as data")
			p.declareQuiet(set)
			return func(arguments []string) error { return p.build(&in, arguments, *out, *cutter, *data) }
		},
	}
}

func (p *program) build(in *inputs, arguments []string, out, cutter string, data bool) error {
	read, err := in.read(arguments)
	if err != nil {
		return err
	}
	p.speaks(read.knife.Units)
	if out == "" {
		out = filepath.Join(outputFolder, safeName(read.knife.Name))
	}
	target := folder{path: filepath.Clean(out), command: "build"}
	if err := target.ready(); err != nil {
		return err
	}
	w, err := p.proved(read, proving{cutter: cutter, out: out, drawings: true}, func(toolpath.Step) bool { return true })
	if err != nil {
		return err
	}
	r := newReport(w)
	target.files, err = p.buildFiles(w, r)
	if err != nil {
		return err
	}
	if p.ctx.Err() != nil {
		return interrupted()
	}
	done, err := target.publish()
	if err != nil {
		return err
	}
	if data {
		_, err := p.stdout.Write(asJSON(r))
		return err
	}
	p.summarise(w, r, out, done)
	return nil
}

// proving is how programs are to be made: with which cutter, empty for the best, for
// which folder, and whether drawings are made after them.
type proving struct {
	cutter, out string
	drawings    bool
	parting     parting
	face        profile.Face // of a touch-up
}

// steps returns how many steps the work has: the planning, the proof of each program, and
// with drawings one of each proof, the template, the plan and the setup sheet.
func (h proving) steps(programs int) int {
	if h.drawings {
		return 1 + programs + programs + 3
	}
	return 1 + programs
}

// proved plans the steps that are wanted, checks them and proves them, or says what
// stands in the way.
func (p *program) proved(read job, how proving, wanted func(toolpath.Step) bool) (*work, error) {
	w, err := prepare(read)
	if err != nil {
		return nil, err
	}
	p.progress.expect(how.steps(w.count(wanted)))
	planning := func() error { return w.planFor(how.cutter, wanted) }
	if how.parting.touchUp != "" {
		planning = func() error { return w.planTouchUp(how) }
	}
	if err := p.step("planning", planning); err != nil {
		return nil, err
	}
	if err := how.parting.part(w); err != nil {
		return nil, err
	}
	p.progress.expectAll(how.steps(len(w.faces)))
	if w.verdict() == toolpath.Stop {
		err := p.stopped(w)
		if exists(filepath.Join(filepath.Clean(how.out), manifestName)) {
			p.say("%s is as it was: what is in it is of an earlier run, not of this design\n", filepath.ToSlash(how.out))
		}
		return nil, err
	}
	if err := w.prove(p); err != nil {
		return nil, err
	}
	if p.ctx.Err() != nil {
		return nil, interrupted()
	}
	if len(w.findings()) > 0 {
		return nil, p.unproved(w, how.out)
	}
	return w, nil
}

// buildFiles returns the files of a build by name.
func (p *program) buildFiles(w *work, r report) (map[string][]byte, error) {
	files := map[string][]byte{
		"knife.toml":  profile.Resolved(w.knife),
		"report.json": asJSON(r),
		"report.txt":  reportText(w, r),
	}
	for _, f := range w.faces {
		f.addPrograms(files)
		if err := p.step("drawing the proof of "+programName(f.job), func() error { return addProofPicture(files, w, f) }); err != nil {
			return nil, err
		}
	}
	err := p.step("drawing the template", func() error {
		drawings, err := templateFiles(w, export.PrinterOf(w.shop.Paper))
		maps.Copy(files, drawings)
		return err
	})
	if err != nil {
		return nil, err
	}
	err = p.step("drawing the plan", func() error {
		options, _, err := planOptions(w, planFlags{})
		if err != nil {
			return err
		}
		drawings, err := planFiles(w, options, false)
		maps.Copy(files, drawings)
		return err
	})
	if err != nil {
		return nil, err
	}
	err = p.step("setting the setup sheet", func() error {
		sheets, err := setupFiles(w)
		maps.Copy(files, sheets)
		return err
	})
	if err != nil {
		return nil, err
	}
	return files, nil
}

// pictureDPI is the resolution of pictures for the screen.
const pictureDPI = 144

// addProofPicture adds the picture of the proof of a face that was planned here.
func addProofPicture(files map[string][]byte, w *work, f faceWork) error {
	return addPicture(files, w, f.proof, f.job.Cusp)
}

// addPicture adds the picture of a proof with the ridge that is allowed.
func addPicture(files map[string][]byte, w *work, result toolpath.FaceProof, cusp float64) error {
	picture := export.ProofPicture(w.blade, w.shop, result, cusp)
	name := "proof-" + result.Step.String()
	svg, err := sheet.SVG(picture)
	if err != nil {
		return err
	}
	png, err := sheet.PNG(picture, pictureDPI)
	if err != nil {
		return err
	}
	files[name+".svg"], files[name+".png"] = svg, png
	return nil
}

// safeName makes a folder's name of a knife's name.
func safeName(name string) string {
	clean := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r == '-':
			return r
		case r >= 'A' && r <= 'Z':
			return r - 'A' + 'a'
		}
		return '-'
	}, name)
	if clean = strings.Trim(clean, "-"); clean == "" {
		return "knife"
	}
	return clean
}

// summarise prints what was made, the verdict, the numbers that matter most, and where
// to look first.
func (p *program) summarise(w *work, r report, out string, done published) {
	p.say("%s: %s\n\n", w.knife.Name, w.verdict())
	for _, f := range w.faces {
		j := f.job
		p.say("%s: %s, %.0f rev/min, %s\n", f.sayPrograms(), j.Cutter.Name, j.Spindle, sayMinutes(f.proof.Seconds))
		p.say("  proved on the simulated bar: gouge %.4f mm, leftover %.4f mm\n", f.proof.Judged.Gouge.Value, f.proof.Judged.Leftover.Value)
	}
	fmt.Fprintln(p.stdout)
	if w.bothFaces {
		p.say("least web as milled       %7.3f mm, %.0f mm from the guard plane\n", w.together.Web.Value, w.together.Web.X)
		p.say("faces differ by           %7.4f mm; turned %s; %s\n", w.together.Mismatch.Value, w.faces[0].job.Setup.Flip, document.Words(w.faces[0].turning.Why))
	}
	for _, h := range w.byHand {
		p.say("%s, %s face, by hand: %s\n", h.step.Operation, h.step.Face, document.Words(h.why))
	}
	for i := range w.blade.Fullers {
		first, last := w.blade.SectionAt(i, w.blade.Fullers[i].StartFull), w.blade.SectionAt(i, w.blade.Fullers[i].EndFull)
		p.say("fuller %d, depth to mill   %7.3f mm at its start, %.3f mm at its end, for %.3f mm finished\n", i+1, first.MilledDepth, last.MilledDepth, first.Depth)
	}
	p.say("finished knife            %7.1f g, balance %s\n", r.Measures.Mass, sayBalance(r.Measures.Balance))
	p.cautions(w)
	p.say("\nWritten to %s. Look first at report.txt, print template.pdf at actual size and measure\nits check lines, and read CAUTIONS.md before you cut steel.\n", filepath.ToSlash(out))
	p.saySilent(w)
	p.sayRest(done)
}

// saySilent says of programs without comments what tells them apart.
func (p *program) saySilent(w *work) {
	d, known := w.shop.Dialect(w.shop.Machine.Dialect)
	if known && d.Comments == dialect.NoComments && len(w.faces) > 0 {
		p.say("The dialect %q has no comments: the names of the files alone tell face, operation and cutter.\n", d.Name)
	}
}

// sayRest prints what became of the files in a folder that are not of this run.
func (p *program) sayRest(done published) {
	for _, name := range done.removed {
		p.say("removed, not part of this run: %s\n", name)
	}
	for _, name := range done.kept {
		p.say("left as it was: %s\n", name)
	}
}

func (p *program) cautions(w *work) {
	for _, c := range w.allChecks() {
		if c.Verdict == toolpath.Caution {
			p.say("%s\n", c)
		}
	}
}
