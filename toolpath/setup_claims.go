package toolpath

import (
	"fmt"
	"strings"

	"fullerwright/profile"
	"fullerwright/toolpath/motion"
	"fullerwright/toolpath/proof"
)

// Claim is what a program says of its setup, and the line that says it; empty where it
// says nothing.
type Claim struct {
	Text     string
	TextLine int
}

// SetupClaims are what a program says of how the bar must lie, in the words of
// Setup.EndAtStop, PointLies and EdgeAtJaw.
type SetupClaims struct{ EndAtStop, PointLies, EdgeAtJaw Claim }

// Contradictions returns a finding for each thing that a program says of the way the
// bar must lie and that is not so with a face up after a flip, which counts for the left
// face only. Whoever clamps the bar by the program's words would cut it the wrong way
// round.
func Contradictions(face profile.Face, flip Flip, said SetupClaims) []proof.Finding {
	s := Setup{Face: face, Flip: flip, Placement: motion.Placement{SignX: 1, SignY: 1}}
	switch {
	case face == profile.Right:
	case flip == AboutX:
		s.Placement.SignY = -1
	default:
		s.Placement.SignX = -1
	}
	var out []proof.Finding
	find := func(kind string, claim Claim, is, format string) {
		if claim.Text != "" && !strings.EqualFold(claim.Text, is) {
			out = append(out, proof.Finding{Kind: kind, TextLine: claim.TextLine,
				Message: fmt.Sprintf("the program says that "+format+", but "+s.arrived()+" "+format, strings.ToLower(claim.Text), is)})
		}
	}
	find("wrong end at the stop", said.EndAtStop, s.EndAtStop(), "the %s lies at the stop")
	find("wrong end at the stop", said.PointLies, s.PointLies(), "the point lies to the %s")
	find("wrong side at the fixed jaw", said.EdgeAtJaw, s.EdgeAtJaw(), "the %s side lies at the fixed jaw")
	return out
}

// arrived says how the face came up.
func (s Setup) arrived() string {
	up := fmt.Sprintf("with the %s face up", s.Face)
	if s.Face == profile.Left {
		up += fmt.Sprintf(" after a turn %s", s.Flip)
	}
	return up
}
