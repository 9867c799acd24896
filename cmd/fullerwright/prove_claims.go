package main

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fullerwright/export/gcode"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/toolpath"
)

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
