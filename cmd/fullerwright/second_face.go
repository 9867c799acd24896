package main

import (
	"fmt"
	"math"
	"strings"

	"fullerwright/profile"
	"fullerwright/toolpath"
)

// planTouchUp plans the touch-up of the fullers of one face. The bar that it is proved on
// has the face as it was read.
func (w *work) planTouchUp(how proving) error {
	turning := toolpath.TurningFor(toolpath.Fullers, w.blade, w.shop)
	setup := toolpath.SetupOf(w.blade, toolpath.Fullers, how.face, turning.Flip)
	planned, touched, err := toolpath.PlanTouchUp(w.blade, w.shop, setup, how.cutter, how.parting.touchUp)
	if err != nil {
		return err
	}
	w.blade = touched
	w.faces = append(w.faces, faceWork{job: planned, turning: turning})
	return nil
}

// readHeading says in a program's heading what the readings of the fullers make of it.
func (w *work) readHeading(j *toolpath.Job, say func(float64) string) []string {
	if j.Step.Operation != toolpath.Fullers {
		return nil
	}
	if w.blade.FullersMilled(j.Step.Face) {
		return touchUpHeading(j, say)
	}
	var lines []string
	for i, f := range w.blade.Fullers {
		first := profile.Right
		if j.Step.Face == profile.Right {
			first = profile.Left
		}
		came, read := f.Came(first)
		if !read || !f.Size.Cut(j.Step.Face) {
			continue
		}
		s := f.ShiftIn(j.Step.Face)
		what := "as deep as"
		if came.Second == profile.KeepWeb {
			what = "keeps the web against"
		}
		lines = append(lines, fmt.Sprintf("Fuller %d %s the %s face as read", i+1, what, first),
			fmt.Sprintf("Against the design %s, %s, %s", sayOff(s.Sunk, "deeper", "shallower", say), sayOff(s.Aside, "to the spine", "to the edge", say), sayOff(s.Along, "to the point", "to the tang", say)))
	}
	return lines
}

// sayOff says a distance that may lie either way.
func sayOff(by float64, one, other string, say func(float64) string) string {
	if by < 0 {
		one = other
	}
	return say(math.Abs(by)) + " " + one
}

// touchUpSaid returns of which zeros a program's comments say that it is a touch-up, as
// touchUpHeading writes them; nothing where they do not.
func touchUpSaid(comments string) toolpath.Zeros {
	switch {
	case !strings.Contains(comments, "TOUCH-UP"):
		return ""
	case strings.Contains(comments, "ZEROS KEPT"):
		return toolpath.ZerosKept
	}
	return toolpath.ZerosNew
}

func touchUpHeading(j *toolpath.Job, say func(float64) string) []string {
	lines := []string{"Part of the work: touch-up, finishing lanes alone"}
	if j.Setup.ZeroHigh != 0 {
		return append(lines, "Zeros kept: touch nothing again", fmt.Sprintf("Sunk by %s, which is missing", say(j.Setup.ZeroHigh)))
	}
	return append(lines, "All zeros touched anew")
}
