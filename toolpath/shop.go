package toolpath

import (
	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/dialect"
)

// Shop is what the maker owns and the limits the maker works within, in millimetres
// and radians. The zero value is invalid; ParseShop makes one. Every field stands in
// the shop's table with its meaning, limits and default.
type Shop struct {
	Name      string
	Inch      bool // programs are written in inches
	Machine   Machine
	Dialects  []dialect.Dialect // of the maker's own
	Vise      Vise
	Parallels []Parallel
	Cutters   []Cutter
	Steels    []Steel // of the maker's own
	Metals    []Metal // of guards, of the maker's own
	Stock     []Stock // bars that the maker has or can get
	Limits    Limits
	Work      Work
	Errors    ErrorSources
	Flip      FlipChoice
	Paper     Paper

	anyCutter bool // see AnyCutter
}

// Machine is the mill.
type Machine struct {
	TravelX, TravelY, TravelZ float64 // mm
	SpindleLeast, SpindleMost float64 // rev/min
	Power                     float64 // W at the spindle motor
	FeedMost, Rapid           float64 // mm/min
	Acceleration              float64 // mm/s²
	Dialect                   string  // its name
	Coolant                   string  // "none", "mist" or "flood"
}

// Vise is what holds the bar.
type Vise struct {
	JawLength    float64 // along X
	JawHeight    float64 // above what parallels stand on; 0 where the shop file does not tell
	JawOpening   float64 // greatest width between them
	BarAboveJaws float64 // how far the bar's face is wanted above them
}

// CutterEnd is the form of a cutter's end.
type CutterEnd string

// The forms of a cutter's end.
const (
	BallEnd   CutterEnd = "ball"
	SquareEnd CutterEnd = "square"
	DrillEnd  CutterEnd = "drill"
)

// Cutter is one cutter of the drawer.
type Cutter struct {
	Name          string
	End           CutterEnd
	Diameter      float64
	Measured      profile.Optional // diameter as measured, after a regrind
	RunOut        float64          // total indicator reading at the tip
	Flutes        int
	FluteLength   float64
	CornerRadius  float64    // of a square end; 0 for a sharp corner
	PointAngle    geom.Angle // of a drill, from side to side
	ShankDiameter float64
	StickOut      float64
	HolderRadius  float64
	Material      string // "carbide" or "hss"
	Coated        bool
	Slot          int // in the tool changer; 0 for none
}

// Radius returns the radius that the cutter really has, mm.
func (c Cutter) Radius() float64 { return c.Measured.Or(c.Diameter) / 2 }

// Limits are what the maker does not go beyond.
type Limits struct {
	Web, WebRatio        float64 // least steel between fullers: mm, and part of the local thickness
	SpineLand, BevelLand float64 // least flat beside a fuller
	DepthRatio           float64 // greatest depth of a fuller over the local thickness
	BevelLeast           geom.Angle
	BevelMost            geom.Angle
	EdgeBeforeQuench     float64
	PointThickness       float64 // 10 mm behind the point
	TangRatio            float64
	PommelWall           float64
	Cusp                 float64 // greatest ridge between passes
	Ramp                 geom.Angle
	CutterBend           float64 // how far a cutter may bend in roughing
	CutterBendFinishing  float64
	CutterStress         float64 // N/mm²
	Gouge, Leftover      float64 // tolerances of the proof
}

// Work is how the maker likes to work.
type Work struct {
	FinishStock   float64 // left for the finishing passes, square to the wall
	Clearance     float64 // height of rapid moves over the bar's highest face
	RampFeedShare float64 // feed on a ramp over the feed in a slot
	SpringPass    bool    // finishing passes of fullers are run a second time
	Pace          float64 // 0 from the cutting data's values to start with, 1 to the ends of their ranges
}

// ErrorSources are the errors to reckon with when the bar is turned over.
type ErrorSources struct {
	BarWidth, BarLength, BarThickness float64    // mm
	YZero, Stop, Seating, Readout     float64    // mm
	JawSweep, EdgesNotParallel        geom.Angle // as angles
	SideShift                         float64    // mm
	TouchDowel, TouchLine, TouchFlat  float64    // mm, where X is touched there
}

// FlipChoice says about which axis the bar is turned between the faces.
type FlipChoice struct{ Fuller, Shoulder string }

// Paper is what the printer takes.
type Paper struct {
	Size               string
	PrinterX, PrinterY float64    // measured over true, across and along the feed
	PrinterSkew        geom.Angle // what runs along the feed leans by this to the right
	Feed               Feed
}

// Feed says which side of the paper lies along the direction in which it is fed.
type Feed string

// The sides that can lie along the feed.
const (
	FeedLongSide  Feed = "long side"
	FeedShortSide Feed = "short side"
)
