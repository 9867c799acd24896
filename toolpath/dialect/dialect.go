// Package dialect holds what a control can take of the open standard RS274/NGC (NISTIR
// 6556, The NIST RS274/NGC Interpreter, Version 3, August 2000) as data: a set of
// capabilities, named by what it can do. How a program is then spelled is the business of
// others.
//
// Lengths are millimetres, angles radians, times seconds.
package dialect

import (
	"math"
	"slices"

	"fullerwright/profile/geom"
)

// Dialect is how a program must be written for a control. The zero value is invalid:
// Presets and Table make one.
type Dialect struct {
	Name, Meaning string

	// Arcs are written in the planes XY and ZX, in XY as helices too, in pieces of at most
	// SweepMost, by their centre or by their radius. What a dialect does not have is
	// written as chords.
	ArcsXY, ArcsZX, Helices bool
	ArcForm                 ArcForm
	SweepMost               geom.Angle

	DecimalsMM, DecimalsInch int
	Units                    Units
	UnitWords                UnitWords

	// Words that are in force already are repeated in each block, or left out.
	RepeatMotion, RepeatAxes, RepeatFeed bool

	LineMost     int // characters of the longest line
	LineEnd      LineEnd
	Comments     Comments
	CommentMost  int // characters of the longest comment with its marks
	BlockNumbers BlockNumbers

	Percent       bool // the program stands between lines of %
	ProgramNumber int  // of the first program of a run, after the letter O; 0 for none
	End           string
	WorkOffset    string // "none" or G54 to G59
	PathMode      string // "none", G61 or G61.1

	Tool        ToolWords
	Dwell       DwellWord
	SpindleWait float64 // after the spindle is started, s
	Mist, Flood bool    // whether there are words for them
	DrillCycle  bool    // holes are drilled by the cycle G83, not move by move

	// A file has at most so many lines and bytes; 0 for no limit.
	FileBlocksMost, FileBytesMost int

	// Extensions are what the reader accepts beyond the standard.
	Extensions Extensions
}

// BlockNumbers says how blocks are numbered; a step of 0 leaves them without numbers.
// Past Most they begin again.
type BlockNumbers struct{ Step, Most int }

// ArcForm is how an arc is given beside its end.
type ArcForm string

// The forms of arcs.
const (
	ByCentre ArcForm = "centre" // I, J and K from the arc's start
	ByRadius ArcForm = "radius" // R
)

// Units are the units that a control takes.
type Units string

// The units.
const (
	MillimetreOrInch Units = "mm or in"
	MillimetreOnly   Units = "mm"
	InchOnly         Units = "in"
)

// UnitWords are the words that choose the units.
type UnitWords string

// The words for inches and millimetres.
const (
	G20G21 UnitWords = "G20 G21" // of RS274/NGC
	G70G71 UnitWords = "G70 G71" // of ISO 6983-1, as a public table of its national twin has it
)

// LineEnd is what ends a line.
type LineEnd string

// The ends of lines.
const (
	LF   LineEnd = "LF"
	CRLF LineEnd = "CRLF"
)

// Bytes returns the line end as it stands in a file.
func (e LineEnd) Bytes() string {
	if e == CRLF {
		return "\r\n"
	}
	return "\n"
}

// Comments is how comments are marked.
type Comments string

// The marks of comments.
const (
	Parentheses Comments = "parentheses" // of the standard
	Semicolon   Comments = "semicolon"
	NoComments  Comments = "none"
)

// ToolWords is how a program asks for its cutter.
type ToolWords string

// The ways to ask for a cutter.
const (
	NoToolWords ToolWords = "none"
	ToolStop    ToolWords = "stop"   // M0, with a comment that says which
	ToolChange  ToolWords = "change" // T and M6, by the cutter's slot
)

// DwellWord is how a dwell is given.
type DwellWord string

// The units of the P word with G4.
const (
	NoDwell           DwellWord = "none"
	DwellSeconds      DwellWord = "seconds" // of the standard
	DwellMilliseconds DwellWord = "milliseconds"
)

// Extensions are ways of writing that the standard does not have and that some controls
// take. The reader accepts one only where the dialect it reads by declares it. All as
// common practice has them, no standard read.
type Extensions struct {
	LineComments      bool // from ; to the end of the line is a comment
	ProgramNumber     bool // O and up to five digits name the program, before all other words
	CentreFromArc     bool // G91.1: I, J and K count from the start of the arc, as the standard has it anyway
	PathTolerance     bool // a P word with G64: how far the control may leave the path
	UnitsG70          bool // G70 and G71 choose inches and millimetres
	DwellMilliseconds bool // the P word of G4 counts milliseconds
}

// Needs returns the extensions without which programs of the dialect cannot be read: what
// they use beyond the standard.
func (d Dialect) Needs() Extensions {
	return Extensions{LineComments: d.Comments == Semicolon, ProgramNumber: d.ProgramNumber > 0, UnitsG70: d.UnitWords == G70G71,
		DwellMilliseconds: d.Dwell == DwellMilliseconds}
}

// Accepts returns the extensions that the reader takes for the dialect: those that it
// declares, and those that its own programs use.
func (d Dialect) Accepts() Extensions {
	a, b := d.Extensions, d.Needs()
	return Extensions{a.LineComments || b.LineComments, a.ProgramNumber || b.ProgramNumber, a.CentreFromArc || b.CentreFromArc,
		a.PathTolerance || b.PathTolerance, a.UnitsG70 || b.UnitsG70, a.DwellMilliseconds || b.DwellMilliseconds}
}

// Adapted returns a dialect whose keys that a file does not give follow those that it
// does: without arcs in XY there are no helices, a comment is no longer than a line, and an
// arc by its radius no longer than such arcs may be.
func (d Dialect) Adapted(given func(key string) bool) Dialect {
	if !given("helices") {
		d.Helices = d.Helices && d.ArcsXY
	}
	if !given("comment_most") {
		d.CommentMost = min(d.CommentMost, d.LineMost)
	}
	if !given("sweep_most") && d.ArcForm == ByRadius {
		d.SweepMost = min(d.SweepMost, radiusSweepMost)
	}
	return d
}

// Step returns the step of the last decimal of a coordinate, mm.
func (d Dialect) Step(inch bool) float64 {
	if inch {
		return millimetresPerInch * math.Pow10(-d.DecimalsInch)
	}
	return math.Pow10(-d.DecimalsMM)
}

// millimetresPerInch is exact by definition.
const millimetresPerInch = 25.4

// Split reports whether programs that are too long for a file are written as several.
func (d Dialect) Split() bool { return d.FileBlocksMost > 0 || d.FileBytesMost > 0 }

// usualSweep is the longest arc in one block: near half a turn and a whole one, rounding
// decides where the centre lies (NISTIR 6556, 3.5.3.1 advises 165 degrees for arcs by
// their radius; 170 for all is common practice, no source).
const usualSweep = 170 * geom.Degree

// Presets returns the dialects that come with the program.
func Presets() []Dialect {
	short := Dialect{Name: "short-lines", Meaning: "lines of up to 70 characters, arcs, no block numbers",
		ArcsXY: true, ArcsZX: true, Helices: true, ArcForm: ByCentre, SweepMost: usualSweep,
		DecimalsMM: 4, DecimalsInch: 5, Units: MillimetreOrInch, UnitWords: G20G21, RepeatMotion: true,
		LineMost: 70, LineEnd: LF, Comments: Parentheses, CommentMost: 50, End: "M2", WorkOffset: "G54", PathMode: "none",
		BlockNumbers: BlockNumbers{Most: 9990}, Tool: NoToolWords, Dwell: DwellSeconds, Mist: true, Flood: true}
	full := short
	full.Name, full.Meaning, full.LineMost, full.CommentMost = "full-standard", "all that the standard allows", 252, 100
	numbered := short
	numbered.Name, numbered.Meaning = "numbered", "between lines of %, blocks numbered by tens, ending in M30"
	numbered.BlockNumbers.Step, numbered.Percent, numbered.End = 10, true, "M30"
	lines := short
	lines.Name, lines.Meaning, lines.Comments = "lines-only", "straight moves only, no comments", NoComments
	lines.ArcsXY, lines.ArcsZX, lines.Helices = false, false, false
	short.Extensions = Extensions{LineComments: true, CentreFromArc: true}
	numbered.Extensions = Extensions{ProgramNumber: true, PathTolerance: true}
	return []Dialect{short, full, numbered, lines}
}

// FullStandard returns the dialect of the standard's own text.
func FullStandard() Dialect {
	d, _ := Named("full-standard", nil)
	return d
}

// Named returns the dialect of a name: of the maker's own ones, or a preset.
func Named(name string, own []Dialect) (Dialect, bool) {
	all := append(Presets(), own...)
	i := slices.IndexFunc(all, func(d Dialect) bool { return d.Name == name })
	if i < 0 {
		return Dialect{}, false
	}
	return all[i], true
}

// Names lists the presets and the maker's own dialects.
func Names(own []Dialect) []string {
	var names []string
	for _, d := range append(Presets(), own...) {
		names = append(names, d.Name)
	}
	return names
}
