package main

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"fullerwright/export/gcode"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/proof"
)

// faceWork is all that was made and proved for one face.
type faceWork struct {
	job        *toolpath.Job
	part       *toolpath.Part  // of the whole; nil for all of it
	whole      *toolpath.Job   // what it is a part of
	before     []toolpath.Move // what must have been done
	turning    toolpath.Turning
	candidates []toolpath.Candidate
	named      string         // the cutter asked for
	ways       []toolpath.Way // single changes that would let all of it be done, where several checks stop it
	programs   []programFile  // one, or several to be run in order
	proof      toolpath.FaceProof
}

// work is all that was made from one knife file.
type work struct {
	job
	blade     profile.Blade // before hardening: what is milled and ground
	finished  profile.Blade
	digest    string
	checks    []toolpath.Check // on the blade
	faces     []faceWork
	byHand    []handWork
	refused   []*refusal
	state     *toolpath.BarState // the simulated bar after the programs proved so far
	together  proof.FacesJudgement
	bothFaces bool
}

// handWork is a step for which the drawer holds no cutter.
type handWork struct {
	step toolpath.Step
	why  string
}

// prepare resolves the knife and checks the blade.
func prepare(in job) (*work, error) {
	blade, err := profile.Build(in.knife.BeforeHardening(), in.measured)
	if err != nil {
		return nil, err
	}
	finished := blade
	if in.knife.Allowance.Growth != 0 {
		if finished, err = profile.Build(in.knife, in.measured); err != nil {
			return nil, err
		}
	}
	w := &work{job: in, blade: blade, finished: finished, digest: parametersDigest(in)}
	w.checks = toolpath.DesignChecks(blade, in.shop)
	return w, nil
}

// parametersDigest names a set of parameters, so that paper and programs can be
// matched. Paper, printer and the maker's name are left out: the same knife on other
// paper or by another hand is the same.
func parametersDigest(in job) string {
	in.shop.Paper, in.knife.Maker = toolpath.Paper{}, ""
	all := string(profile.Resolved(in.knife)) + fmt.Sprintf("%+v", in.shop) + fmt.Sprintf("%+v", in.measured.Numbers())
	return digest([]byte(all))[:8]
}

// count returns how many steps of the sequence are wanted.
func (w *work) count(wanted func(toolpath.Step) bool) int {
	n := 0
	for _, step := range toolpath.Sequence(w.blade, w.shop) {
		if wanted(step) {
			n++
		}
	}
	return n
}

// plan plans the programs of the steps of the sequence that are wanted. A named cutter
// is for the steps that ask for one of its kind.
func (w *work) plan(cutter string, wanted func(toolpath.Step) bool) error {
	err := w.planSteps(cutter, wanted)
	w.planCorners()
	return err
}

// planCorners adds the programs that mill the inside corners which others leave. They never
// stop the work.
func (w *work) planCorners() {
	var all []faceWork
	for _, f := range w.faces {
		corners := toolpath.PlanCorners(w.blade, w.shop, f.job)
		all = append(all, f)
		for _, c := range corners {
			all = append(all, faceWork{job: c.Job, turning: f.turning, candidates: c.Candidates})
		}
	}
	w.faces = all
}

// planSteps plans a program for each step that is wanted. It goes on past those that cannot be
// planned, so that they are told together.
func (w *work) planSteps(cutter string, wanted func(toolpath.Step) bool) error {
	for _, step := range toolpath.Sequence(w.blade, w.shop) {
		if !wanted(step) {
			continue
		}
		turning := toolpath.TurningFor(step.Operation, w.blade, w.shop)
		setup := toolpath.SetupOf(w.blade, step.Operation, step.Face, turning.Flip)
		named := cutter
		if step.Operation != toolpath.Fullers && len(w.faces) > 0 {
			named = ""
		}
		planned, candidates, err := toolpath.Plan(w.blade, w.shop, step, setup, named)
		var none *toolpath.NoCutterError
		if errors.As(err, &none) && step.Operation != toolpath.Fullers {
			w.byHand = append(w.byHand, handWork{step, err.Error()})
			continue
		}
		if err != nil {
			w.refused = append(w.refused, &refusal{err, "", step, setup, named})
			continue
		}
		w.faces = append(w.faces, faceWork{job: planned, turning: turning, candidates: candidates, named: named})
	}
	if len(w.refused) > 0 {
		return &refusedError{w.refused}
	}
	return nil
}

// planFor is plan for somebody who reads what it says: where a step cannot be done it looks
// for single changes that would let it be, which takes a while.
func (w *work) planFor(cutter string, wanted func(toolpath.Step) bool) error {
	err := w.plan(cutter, wanted)
	tried := map[string]string{} // by what is in the way
	for _, r := range w.refused {
		if said, done := tried[r.Error()]; !done {
			if ways := toolpath.WaysOut(w.blade, w.shop, r.step, r.setup, r.named); len(ways) > 0 {
				said = sayWays(ways, w.knife.Units)
			}
			tried[r.Error()] = said
		}
		r.tried = tried[r.Error()]
	}
	for i := range w.faces {
		if f := &w.faces[i]; len(toolpath.Stops(f.job.Checks)) > 1 {
			f.ways = toolpath.WaysOut(w.blade, w.shop, f.job.Step, f.job.Setup, f.named)
		}
	}
	for i, h := range w.byHand {
		setup := toolpath.SetupOf(w.blade, h.step.Operation, h.step.Face, toolpath.TurningFor(h.step.Operation, w.blade, w.shop).Flip)
		if ways := toolpath.WaysOut(w.blade, w.shop, h.step, setup, ""); len(ways) > 0 {
			w.byHand[i].why += "; tried: " + sayWays(ways, w.knife.Units)
		}
	}
	return err
}

// verdict returns the worst that was found.
func (w *work) verdict() toolpath.Verdict {
	if len(w.refused) > 0 {
		return toolpath.Stop
	}
	return toolpath.Worst(w.allChecks())
}

// allChecks returns the checks on the blade and on every program.
func (w *work) allChecks() []toolpath.Check {
	all := append([]toolpath.Check(nil), w.checks...)
	for _, f := range w.faces {
		all = append(all, f.job.Checks...)
	}
	return all
}

// prove writes each program, reads it back from its text, and cuts the simulated bar
// with what was read. It may be called only when no check stops the work.
func (w *work) prove(p *program) error {
	spelling, known := w.shop.Dialect(w.shop.Machine.Dialect)
	if !known {
		return fmt.Errorf("there is no dialect %q", w.shop.Machine.Dialect)
	}
	if len(w.faces) == 0 {
		return nil
	}
	w.state = toolpath.NewBarState(w.blade, w.shop, w.smallestCutter())
	w.state.Watch(p.progress.part)
	number := spelling.ProgramNumber
	for i := range w.faces {
		f := &w.faces[i]
		if err := p.step("proving "+programName(f.job), func() error { return w.proveFace(f, spelling, number) }); err != nil {
			return err
		}
		number += len(f.programs)
	}
	w.join()
	return nil
}

// proveFace proves the programs of one step, each on the bar as the ones before have left
// it. The first has the number given, where the dialect numbers programs.
func (w *work) proveFace(f *faceWork, d dialect.Dialect, number int) error {
	checked, err := f.job.Checked()
	if err != nil {
		return err
	}
	files, err := gcode.WriteMarked(checked, d, gcode.Text{Inch: w.shop.Inch, Heading: append(heading(w, f.job), f.partHeading()...), Number: number})
	if err != nil {
		return fmt.Errorf("the program for the %s face cannot be written: %w", f.job.Step.Face, err)
	}
	w.state.Assume(f.job, f.before)
	ridge := f.job.Cusp
	if f.part != nil && !f.part.Finish {
		ridge = math.Inf(1) // what is left is for the parts after it
	}
	var proofs []toolpath.FaceProof
	for i, file := range files {
		read, err := gcode.ReadWith(bytes.NewReader(file.Text), d.Needs())
		if err != nil {
			return fmt.Errorf("the program for the %s face does not read back: %w", f.job.Step.Face, err)
		}
		var one toolpath.FaceProof
		if i < len(files)-1 {
			one = w.state.ProvePart(f.job.Step, f.job.Setup, f.job.Cutter, read.Motions)
		} else {
			one = w.state.Prove(f.job.Step, f.job.Setup, f.job.Cutter, ridge, read.Motions)
		}
		proofs = append(proofs, one)
		f.programs = append(f.programs, programFile{fileName(f.job, i+1, len(files)), file.Text, file.Levels, one.Judged.Findings})
	}
	last := len(proofs) - 1
	f.proof = proofs[last].After(proofs[:last]...)
	return nil
}

// fullers returns the work on the fullers.
func (w *work) fullers() []faceWork {
	var out []faceWork
	for _, f := range w.faces {
		if f.job.Step.Operation == toolpath.Fullers {
			out = append(out, f)
		}
	}
	return out
}

// smallestCutter returns the smallest radius that mills a fuller of either face: both are
// looked at on the grid that it asks for.
func (w *work) smallestCutter() float64 {
	smallest := w.faces[0].job.Cutter.Radius()
	for i, f := range w.fullers() {
		if i == 0 || f.job.Cutter.Radius() < smallest {
			smallest = f.job.Cutter.Radius()
		}
	}
	return smallest
}

// join lays the fullers of the two faces on each other.
func (w *work) join() {
	finished := map[profile.Face]bool{}
	for _, f := range w.fullers() {
		if f.part == nil || f.part.Finish && len(f.before) == 0 {
			finished[f.job.Step.Face] = true
		}
	}
	for _, face := range profile.Faces() {
		finished[face] = finished[face] || w.blade.FullersMilled(face)
	}
	if len(w.fullers()) == 0 || !finished[profile.Right] || !finished[profile.Left] {
		return
	}
	w.bothFaces = true
	w.together = w.state.JudgeFaces()
}

// findings returns what the proofs found, a line each.
func (w *work) findings() []string {
	var out []string
	for _, f := range w.faces {
		for _, program := range f.programs {
			for _, finding := range program.findings {
				line := ""
				if finding.TextLine > 0 {
					line = fmt.Sprintf("line %d, ", finding.TextLine)
				}
				out = append(out, fmt.Sprintf("%s: %s%s: %s", program.name, line, finding.Kind, w.says(finding)))
			}
		}
	}
	for _, finding := range w.together.Findings {
		out = append(out, fmt.Sprintf("both faces: %s: %s", finding.Kind, w.says(finding)))
	}
	return out
}

// says says what a proof found in the unit of the knife file.
func (w *work) says(f proof.Finding) string { return document.Words(f.Message).In(w.knife.Units) }

// stopped prints the checks that stop the work, with what was found to let it be done, and returns the error for them.
func (p *program) stopped(w *work) error {
	checks := w.allChecks()
	for _, c := range toolpath.Stops(checks) {
		p.say("%s\n", c)
		p.say("          limit from %s\n", c.Source)
		printWays(p.stdout, c, w.knife.Units)
	}
	for _, f := range w.faces {
		if len(f.ways) > 0 {
			p.say("tried for the whole of %s: %s\n", f.job.Step, sayWays(f.ways, w.knife.Units))
		}
	}
	n := len(toolpath.Stops(checks))
	return &failedError{fmt.Sprintf("%s the work; no program was written", plural(n, "check stops", "checks stop"))}
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// unproved prints what the proofs found, leaves pictures of them beside the folder that
// was to be made, and returns the error for it.
func (p *program) unproved(w *work, out string) error {
	findings := w.findings()
	fmt.Fprintln(p.stdout, strings.Join(findings, "\n"))
	files := map[string][]byte{"findings.txt": []byte(strings.Join(findings, "\n") + "\n")}
	for _, f := range w.faces {
		if err := addProofPicture(files, w, f); err != nil {
			return err
		}
	}
	failed := filepath.Clean(out) + "-failed-proof"
	if _, err := (folder{path: failed, command: "failed proof", files: files}).publish(); err != nil {
		return err
	}
	p.say("pictures of the failed proof are in %s\n", filepath.ToSlash(failed))
	return &failedError{fmt.Sprintf("the proof failed: %s; no program was written", plural(len(findings), "finding", "findings"))}
}
