package toolpath

import (
	"fullerwright/profile"
	"fullerwright/toolpath/motion"
)

// Flip says how the bar is turned between the two faces, by the axis it is turned
// about; the trade's words for the two are ambiguous.
type Flip string

// The two flips.
const (
	// AboutY turns the bar end for end: the same long edge lies against the fixed
	// jaw, the other end at the stop.
	AboutY Flip = "about Y"
	// AboutX turns the bar edge over edge: the other long edge lies against the fixed
	// jaw, the same end at the stop.
	AboutX Flip = "about X"
)

// Setup is one clamping of the bar: which face is up, how it came to be, where the
// blade then lies in the work frame and where its zero is touched.
type Setup struct {
	Face      profile.Face
	Flip      Flip // how the left face came up
	Blank     bool // it holds the guard's blank, not the bar
	Plate     bool // the bar is clamped by its ends on a plate, not in the vise
	Placement motion.Placement
	TouchX    float64    // x in the blade frame where the top face is touched for Z = 0
	Top       float64    // height of the face there over the centre-plane
	Length    float64    // of the bar
	Jaws      [2]float64 // x in the blade frame between which the jaws stand; both 0 for all along the bar
	Width     float64
	XZero     profile.XReference // what is touched for X
	// MakesXZero says that what all later programs touch for X is drilled here: X is taken
	// from the butt this once.
	MakesXZero bool
	// ZeroHigh is by how much the zero in Z that the setup has stands too high, mm: what
	// was read of a groove says so. Placement holds it already.
	ZeroHigh float64

	bar profile.Bar // none where a blank is clamped
}

// SetupFor returns the setup of one face. With the right face up the spine lies
// against the fixed jaw and the butt at the stop on the left.
//
// The face is touched for Z = 0 at the guard plane.
func SetupFor(bar profile.Bar, face profile.Face, flip Flip) Setup {
	s := Setup{Face: face, Flip: flip, Top: bar.Face(0), Length: bar.Length(), Width: bar.Width(), XZero: bar.XZero, bar: bar}
	s.Placement = motion.Placement{SignX: 1, SignY: 1, X0: -bar.Butt, Y0: -bar.Top, Z0: -s.Top}
	if face == profile.Right {
		return s
	}
	if flip == AboutX {
		s.Placement.SignY, s.Placement.Y0 = -1, bar.Bottom
		return s
	}
	s.Placement.SignX, s.Placement.X0 = -1, bar.Front
	return s
}

// SetupOf returns the setup of one face for an operation: SetupFor, but where the bar is turned
// edge over edge and its widths were read at several places, Y is reckoned with the width at
// the middle of what the operation mills.
func SetupOf(b profile.Blade, operation Operation, face profile.Face, flip Flip) Setup {
	s := SetupFor(b.Bar, face, flip)
	if s.Placement.SignY < 0 {
		from, to := extentOf(operation, b)
		s.Placement.Y0 = b.Bar.LowEdge((from + to) / 2)
	}
	return s
}

// XZeroAt returns X of what is touched for X, where that is not the end at the stop.
func (s Setup) XZeroAt() float64 { return s.Placement.Work(motion.Vec{X: s.XZero.X}).X }

// EdgeAtJaw names the long edge of the bar against the fixed jaw.
func (s Setup) EdgeAtJaw() string {
	if s.Placement.SignY < 0 {
		return "edge"
	}
	return "spine"
}

// EndAtStop names the end of the bar at the stop, on the left of the operator.
func (s Setup) EndAtStop() string {
	if s.Placement.SignX < 0 {
		return "point end"
	}
	return "tang end"
}

// PointLies says to which side of the operator the point lies.
func (s Setup) PointLies() string {
	if s.Placement.SignX < 0 {
		return "left"
	}
	return "right"
}

// finishDirection is the direction, by the sign of the blade's x, in which finishing
// passes run: toward the point on the right face, back on the left one. So the same
// wall of a groove is cut climb and the cutter is pushed to the same side of the
// blade on both faces, for either flip: a turn about Y reverses the blade's x in the
// work frame, so the machine runs the same way as on the first face; a turn about X
// reverses y, so the machine must run the other way.
func (s Setup) finishDirection() float64 {
	if s.Face == profile.Left {
		return -1
	}
	return 1
}
