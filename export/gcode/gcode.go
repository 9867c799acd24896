// Package gcode writes and reads programs in the open standard RS274/NGC, as the
// report NISTIR 6556 (The NIST RS274/NGC Interpreter, Version 3, August 2000) defines
// it.
//
// The writer spells a checked job in a portable subset; the reader takes any legal
// program, ours or not, and returns what it makes a machine do. The two share no code:
// the reader is there to judge the writer.
package gcode

// Dialect is a set of capabilities of a control: how a program must be spelled for
// it. It is data, and named by what it can do.
type Dialect struct {
	Name, Meaning string

	MaxLine      int    // longest line, characters
	LineEnd      string // "\n" or "\r\n"
	Comments     bool
	CommentMax   int // longest comment with its parentheses
	BlockNumbers BlockNumbers
	Percent      bool   // the program stands between lines of %
	End          string // M2 or M30
	DecimalsMM   int
	DecimalsInch int
	ArcsXY       bool // arcs in the plane XY (G17), and helices about Z
	ArcsZX       bool // arcs in the plane ZX (G18)

	// Extensions are what the reader accepts beyond the standard.
	Extensions Extensions
}

// BlockNumbers says how blocks are numbered; a step of 0 leaves them without numbers.
type BlockNumbers struct{ Step, Max int }

// Presets returns the dialects that come with the program.
func Presets() []Dialect {
	short := Dialect{Name: "short-lines", Meaning: "lines of up to 70 characters, arcs, no block numbers",
		MaxLine: 70, LineEnd: "\n", Comments: true, CommentMax: 50, End: "M2", DecimalsMM: 4, DecimalsInch: 5, ArcsXY: true, ArcsZX: true}
	full := short
	full.Name, full.Meaning, full.MaxLine, full.CommentMax = "full-standard", "all that the standard allows", 252, 100
	numbered := short
	numbered.Name, numbered.Meaning = "numbered", "between lines of %, blocks numbered by tens, ending in M30"
	numbered.BlockNumbers, numbered.Percent, numbered.End = BlockNumbers{Step: 10, Max: 9990}, true, "M30"
	lines := short
	lines.Name, lines.Meaning, lines.Comments, lines.ArcsXY, lines.ArcsZX = "lines-only", "straight moves only, no comments", false, false, false
	short.Extensions = Extensions{LineComments: true, CentreFromArc: true}
	numbered.Extensions = Extensions{ProgramNumber: true, PathTolerance: true}
	return []Dialect{short, full, numbered, lines}
}

// FullStandard returns the dialect of the standard's own text.
func FullStandard() Dialect {
	d, _ := DialectNamed("full-standard")
	return d
}

// DialectNamed returns the preset of a name.
func DialectNamed(name string) (Dialect, bool) {
	for _, d := range Presets() {
		if d.Name == name {
			return d, true
		}
	}
	return Dialect{}, false
}
