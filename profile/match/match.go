// Package match finds the parameters of a knife file that reproduce a knife in the hand,
// from stations measured by caliper or from a traced outline.
//
// Lengths are millimetres and angles radians, in the blade frame of package profile. The
// fit is robust least squares: a slip of the caliper or a burr on the trace is told from
// the rest and hardly moves it. Every parameter found comes with its standard error, and
// what the measurements cannot see stays as the pattern has it and is named.
//
// The package knows no starter patterns: families are handed to it. It reads no files and
// writes none.
package match

import (
	"fmt"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// Kind says what one reading measures.
type Kind uint8

// The kinds of reading.
const (
	Spine     Kind = iota // height of the spine side at a station
	Edge                  // height of the edge side at a station
	Width                 // from the edge side to the spine side at a station
	Thickness             // of the flat, or of the back, at a station
	Traced                // a point of a traced outline
)

// String names the kind as a column of a table of stations does.
func (k Kind) String() string {
	switch k {
	case Spine:
		return "spine"
	case Edge:
		return "edge"
	case Width:
		return "width"
	case Thickness:
		return "thickness"
	}
	return "trace"
}

// Reading is one measurement, mm. Heights are over a line along the knife, up toward the
// spine; where that line lies is found with the rest.
type Reading struct {
	Kind  Kind
	X     float64    // the station: distance from the guard plane, behind it negative
	Value float64    // what was measured there
	At    geom.Point // of a traced point, in the frame of the trace with y up
	Line  int        // of the file
}

// Measurements are the readings of one knife. The zero value holds none; ParseStations
// and ParseTrace make them.
type Measurements struct {
	File     string
	Unit     document.Unit
	Readings []Reading
	Overall  float64 // known length from the end of the tang to the point, mm; 0 where not known
	Traced   bool
	// Unscaled is true for a trace without units: its points are put to scale by Overall.
	Unscaled bool
	Notes    []string // what reading the file left out or mended
}

// Accuracy is what is taken for the standard deviation of one reading where it cannot be
// told from the readings themselves, mm: a hundredth of a millimetre on a good caliper is
// lost in where and how square it is held (common practice, no source), and a scan of
// 200 dots an inch has dots of 0.127 mm.
func (m Measurements) Accuracy() float64 {
	if m.Traced {
		return 0.2
	}
	return 0.05
}

// of returns the readings of outline or of thickness.
func (m Measurements) of(wanted func(Kind) bool) []Reading {
	var out []Reading
	for _, r := range m.Readings {
		if wanted(r.Kind) {
			out = append(out, r)
		}
	}
	return out
}

func ofOutline(k Kind) bool   { return k != Thickness }
func ofThickness(k Kind) bool { return k == Thickness }

// has reports whether there is a reading of a kind.
func (m Measurements) has(kinds ...Kind) bool {
	return len(m.of(func(k Kind) bool {
		for _, wanted := range kinds {
			if k == wanted {
				return true
			}
		}
		return false
	})) > 0
}

// Name says which reading it is, its station in the unit of the table: inches are named,
// millimetres are not. Points of a trace are in millimetres.
func (r Reading) Name(unit document.Unit) string {
	if r.Kind == Traced {
		return fmt.Sprintf("point %.1f, %.1f of the trace (line %d)", r.At.X, r.At.Y, r.Line)
	}
	if unit == document.Inch {
		return fmt.Sprintf("%s at %.4f in (line %d)", r.Kind, r.X/unit.Millimetres(), r.Line)
	}
	return fmt.Sprintf("%s at %.1f (line %d)", r.Kind, r.X, r.Line)
}
