package main

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/export/gcode"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
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

// claims are what a program's comments say of the job.
type claims struct {
	face, flip string
	operation  string
	end        toolpath.CutterEnd
	diameter   float64
	corner     float64
	unfinished bool           // a part of the work: what it leaves is for the parts after it
	goesOn     bool           // in another file
	laterFile  bool           // goes on with one before it
	touchUp    toolpath.Zeros // of a touch-up; empty for none
	corners    int            // which change of the cutter for corners alone; 0 for none
	point      geom.Angle
	flutes     int
	bar        toolpath.PlainBar
	scrap      bool     // test grooves in a scrap, which is then the bar
	used       []string // what was taken from the comments, to be said
}

var (
	claimFace     = regexp.MustCompile(`UP (RIGHT|LEFT) FACE`)
	claimFlip     = regexp.MustCompile(`TURNED ABOUT (X|Y)`)
	claimWork     = regexp.MustCompile(`FULLERWRIGHT ([A-Z]+)(?:,? (?:RIGHT|LEFT) FACE| OF THE GUARD)`)
	claimEnd      = regexp.MustCompile(`(BALL|SQUARE|DRILL) END`)
	claimCorner   = regexp.MustCompile(`CORNER RADIUS ([0-9.]+) (MM|IN)`)
	claimPoint    = regexp.MustCompile(`POINT ([0-9.]+) DEGREES`)
	claimCorners  = regexp.MustCompile(`CORNERS ALONE,? CHANGE ([0-9]+)`)
	claimPart     = regexp.MustCompile(`PART OF THE WORK,? (.*?)(?: ALL LEVELS|$)`)
	claimFile     = regexp.MustCompile(`FILE ([0-9]+) OF ([0-9]+)`)
	claimFlutes   = regexp.MustCompile(`([0-9]+) FLUTES`)
	claimDiameter = regexp.MustCompile(`DIAMETER ([0-9]+(?:\.[0-9]+)?) (MM|IN)`)
	claimBar      = regexp.MustCompile(`(BAR|SCRAP) ([0-9.]+) X ([0-9.]+) X ([0-9.]+) (MM|IN)`)
)

// claimsOf reads the heading of one of our programs.
func claimsOf(program gcode.Program) claims {
	var all []string
	for _, c := range program.Comments {
		all = append(all, c.Text)
	}
	text := strings.Join(all, " ")
	out := claims{operation: string(toolpath.Fullers), end: toolpath.BallEnd, flutes: 2}
	if m := claimFace.FindStringSubmatch(text); m != nil {
		out.face = strings.ToLower(m[1])
	}
	if m := claimFlip.FindStringSubmatch(text); m != nil {
		out.flip = "about " + m[1]
	}
	number := func(s string) float64 { v, err := strconv.ParseFloat(s, 64); return v * boolFactor(err == nil) }
	if m := claimWork.FindStringSubmatch(text); m != nil && slices.Contains(toolpath.Operations(), toolpath.Operation(strings.ToLower(m[1]))) {
		out.operation = strings.ToLower(m[1])
	}
	if m := claimEnd.FindStringSubmatch(text); m != nil {
		out.end = toolpath.CutterEnd(strings.ToLower(m[1]))
	}
	if m := claimCorner.FindStringSubmatch(text); m != nil {
		out.corner = number(m[1]) * unitOf(m[2])
	}
	if m := claimPoint.FindStringSubmatch(text); m != nil {
		out.point = geom.Angle(number(m[1])) * geom.Degree
	}
	if m := claimCorners.FindStringSubmatch(text); m != nil {
		out.corners = int(number(m[1]))
	}
	if m := claimPart.FindStringSubmatch(text); m != nil {
		out.unfinished = !strings.Contains(m[1], "FINISHING")
	}
	if m := claimFile.FindStringSubmatch(text); m != nil {
		out.goesOn, out.laterFile = number(m[1]) < number(m[2]), number(m[1]) > 1
	}
	out.touchUp = touchUpSaid(text)
	if m := claimFlutes.FindStringSubmatch(text); m != nil {
		out.flutes = int(number(m[1]))
	}
	if m := claimDiameter.FindStringSubmatch(text); m != nil {
		out.diameter = number(m[1]) * unitOf(m[2])
	}
	if m := claimBar.FindStringSubmatch(text); m != nil {
		long := unitOf(m[5])
		out.bar = toolpath.PlainBar{Length: number(m[2]) * long, Width: number(m[3]) * long, Thickness: number(m[4]) * long}
		out.scrap = m[1] == "SCRAP"
	}
	return out
}

// unitOf returns how long the unit of a heading's figure is, mm.
func unitOf(name string) float64 {
	if name == "IN" {
		return document.Inch.Millimetres()
	}
	return document.Millimetre.Millimetres()
}

func boolFactor(ok bool) float64 {
	if ok {
		return 1
	}
	return 0
}

// settle lets the flags overrule the comments, and notes what was taken from those.
func (c claims) settle(f *proveFlags) (claims, error) {
	take := func(flag string, claim *string, what string) {
		switch {
		case flag != "":
			*claim = flag
		case *claim != "":
			c.used = append(c.used, what+" "+*claim)
		}
	}
	take(f.face, &c.face, "face")
	take(f.flip, &c.flip, "turned")
	switch {
	case f.diameter != 0 && !(f.diameter >= leastDiameter && f.diameter <= greatestDiameter):
		return c, &usageError{fmt.Sprintf("--diameter %g: a cutter has from %g to %g mm", f.diameter, leastDiameter, greatestDiameter), "give the diameter in mm, as --diameter 12"}
	case f.diameter > 0:
		c.diameter = f.diameter
	case c.diameter > 0:
		c.used = append(c.used, document.Say("cutter %.3f mm", c.diameter).String())
	}
	if f.bar != "" {
		size, err := parseSize(f.bar, "bar")
		if err != nil {
			return c, err
		}
		c.bar = size
	}
	if err := c.settleCutter(f); err != nil {
		return c, err
	}
	if c.operation == string(toolpath.Slot) || c.scrap {
		c.face = profile.Right.String()
	}
	switch {
	case c.face != "left" && c.face != "right":
		return c, &usageError{"the program does not say which face is up", "name it with --face left or --face right"}
	case c.diameter > 0 && !(c.diameter >= leastDiameter && c.diameter <= greatestDiameter):
		return c, &usageError{fmt.Sprintf("the program says that its cutter has a diameter of %g mm", c.diameter), "name the true one with --diameter"}
	case c.diameter <= 0:
		return c, &usageError{"the program does not say which cutter it is for", "name its diameter with --diameter, and with --end what its end is, if it is no ball"}
	case c.face == "left" && c.flip != string(toolpath.AboutX) && c.flip != string(toolpath.AboutY):
		return c, &usageError{"the program does not say how the bar was turned", "name it with --flip \"about Y\" or --flip \"about X\""}
	}
	return c, nil
}

// Between what the diameter of a cutter lies, mm (judgement).
const leastDiameter, greatestDiameter = 0.1, 100.0

// usualPoint is the angle of the usual drill's point, from side to side.
const usualPoint = 118 * geom.Degree

// settleCutter lets the flags for the operation and the cutter's end overrule the
// comments.
func (c *claims) settleCutter(f *proveFlags) error {
	ends := []string{string(toolpath.BallEnd), string(toolpath.SquareEnd), string(toolpath.DrillEnd)}
	switch {
	case f.operation != "" && !slices.Contains(toolpath.Operations(), toolpath.Operation(f.operation)):
		return &usageError{fmt.Sprintf("no operation %q", f.operation), "the operations are: " + sayOperations()}
	case f.end != "" && !slices.Contains(ends, f.end):
		return &usageError{fmt.Sprintf("no end of a cutter is called %q", f.end), "the ends are: " + strings.Join(ends, ", ")}
	case !(f.corner >= 0 && f.corner <= greatestDiameter/2) || !(f.point >= 0 && f.point < 180):
		return &usageError{"a corner radius is over 0, and a drill's point between 0 and 180 degrees", "measure the cutter"}
	}
	if f.operation != "" {
		c.operation = f.operation
	}
	if f.end != "" {
		c.end = toolpath.CutterEnd(f.end)
	}
	if f.corner > 0 {
		c.corner = f.corner
	}
	if f.point > 0 {
		c.point = geom.Angle(f.point) * geom.Degree
	}
	if c.end == toolpath.DrillEnd && c.point == 0 {
		c.point = usualPoint
	}
	return nil
}

// step returns the step of the sequence that a program says it is.
func (c claims) step(face profile.Face) toolpath.Step {
	s := toolpath.Step{Operation: toolpath.Operation(c.operation), Face: face, Corner: c.corners}
	if s.Operation == toolpath.Holes || s.Operation == toolpath.Slot && c.end == toolpath.DrillEnd {
		s.Bore = c.diameter
	}
	return s
}

func (c claims) cutter() toolpath.Cutter {
	return toolpath.Cutter{Name: fmt.Sprintf("%s %.3f", c.end, c.diameter), End: c.end, Diameter: c.diameter, CornerRadius: c.corner, PointAngle: c.point, Flutes: c.flutes}
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

// alikeFindings is how many findings of one kind are printed.
const alikeFindings = 4

func (p *program) printProof(path string, c claims, r toolpath.FaceProof, compared bool) {
	j := r.Judged
	p.say("%s: %s face, %s end of %.3f mm\n", path, c.face, c.end, c.diameter)
	if len(c.used) > 0 {
		p.say("  taken from the program's own comments: %s\n", document.Words(strings.Join(c.used, ", ")))
	}
	p.say("  %s, takes off %.0f mm3, at most %.3f mm deep at once (line %d)\n", sayMinutes(r.Seconds), j.Removed, j.DeepestEngagement.Value, j.DeepestEngagement.TextLine)
	if compared {
		p.say("  greatest gouge %.4f mm, greatest leftover %.4f mm, rms %.4f mm; grid %.3f mm, which may hide %.5f mm\n",
			j.Gouge.Value, j.Leftover.Value, j.RMS, j.Step, j.Bound)
		for _, s := range r.Stations {
			p.say("  fuller %d at %7.2f mm: depth %.4f of %.4f mm, width %.4f of %.4f mm\n", s.Fuller, s.X, s.Depth, s.DesignDepth, s.Width, s.DesignWidth)
		}
	}
	said := map[string]int{}
	for _, finding := range j.Findings {
		switch said[finding.Kind]++; {
		case said[finding.Kind] > alikeFindings:
		case finding.TextLine > 0:
			p.say("  line %d: %s: %s\n", finding.TextLine, finding.Kind, document.Words(finding.Message))
		default:
			p.say("  %s: %s\n", finding.Kind, document.Words(finding.Message))
		}
	}
	for _, kind := range slices.Sorted(maps.Keys(said)) {
		if more := said[kind] - alikeFindings; more > 0 {
			p.say("  %s: at %d lines more; --json lists them all\n", kind, more)
		}
	}
	if len(j.Findings) == 0 {
		fmt.Fprintln(p.stdout, "  nothing found")
	}
}

// proofReport is the proof of a program as data.
type proofReport struct {
	File     string   `json:"file"`
	Face     string   `json:"face"`
	Diameter float64  `json:"cutter_diameter_mm"`
	Taken    []string `json:"taken_from_comments"`
	judgedReport
}

func (p *program) dataProof(path string, c claims, r toolpath.FaceProof) error {
	return writeLine(p.stdout, proofReport{path, c.face, c.diameter, c.used, newJudgedReport(r)})
}
