package dialect

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"fullerwright/profile/geom"
)

// Fault is one rule between the fields of a dialect that is broken.
type Fault struct{ Key, Rule, Hint string }

// Use is what the programs of a shop ask of a dialect.
type Use struct {
	Inch  bool    // they are in inches
	Reach float64 // greatest coordinate, mm
}

const (
	// radiusSweepMost is the longest arc that is given by its radius. With the decimals
	// rounded its centre moves by up to 1/cos(sweep/2) roundings: twice at 120 degrees, and
	// without bound at half a turn (derived; NISTIR 6556, 3.5.3.1 warns of it).
	radiusSweepMost = 120 * geom.Degree
	// leastFileBlocks and leastFileBytes leave room for the heading, the safe start and the
	// safe end of a file, and as much again for cutting.
	leastFileBlocks, leastFileBytes = 100, 5000
	// leastRound is how many blocks there must be before their numbers begin again.
	leastRound = 9
)

// Check returns every rule that a dialect breaks between its fields. The limits of each
// single field are those of Table:
//
//   - a helix is an arc in XY;
//   - arcs by radius sweep no more than 120 degrees;
//   - a comment is no longer than a line, and a stop for the cutter has one;
//   - the longest block fits a line: an arc where there are any, else a straight move,
//     with its block number, without the feed, which may stand in a block before it;
//   - block numbers do not begin again before nine blocks;
//   - a wait for the spindle has a word;
//   - a file has room for its start and its end;
//   - the units of the programs are taken.
func Check(d Dialect, use Use) []Fault {
	var out []Fault
	fault := func(broken bool, key, rule, hint string) {
		if broken {
			out = append(out, Fault{key, rule, hint})
		}
	}
	fault(d.Helices && !d.ArcsXY, "helices", "a helix is an arc in the plane XY, and arcs_xy is false", "make arcs_xy true, or helices false")
	fault(d.ArcForm == ByRadius && (d.ArcsXY || d.ArcsZX) && d.SweepMost > radiusSweepMost+1e-9, "sweep_most",
		fmt.Sprintf("an arc by its radius must sweep at most %.0f degrees, since the rounding of its ends moves a longer one too far", radiusSweepMost.Degrees()), "120 would do")
	fault(d.Comments != NoComments && d.CommentMost > d.LineMost, "comment_most", fmt.Sprintf("must not be over line_most, %d", d.LineMost), fmt.Sprintf("%d would do", d.LineMost))
	fault(d.Tool == ToolStop && d.Comments == NoComments, "tool", "a stop needs a comment that says which cutter, and the dialect has no comments", `choose comments, or tool = "none"`)
	longest := d.LongestBlock(use)
	fault(longest > d.LineMost, "line_most", fmt.Sprintf("must be at least %d, the longest block with these decimals and travels", longest), fmt.Sprintf("%d would do", longest))
	least := d.BlockNumbers.Step * leastRound
	fault(least > d.BlockNumbers.Most, "block_number_most", fmt.Sprintf("must be at least %d times the step, %d", leastRound, least), fmt.Sprintf("%d would do, or a smaller step", least))
	fault(d.SpindleWait > 0 && d.Dwell == NoDwell, "spindle_wait", "there is no word for a dwell", "say what the P word of G4 counts: dwell = \"seconds\"")
	fault(d.FileBlocksMost > 0 && d.FileBlocksMost < leastFileBlocks, "file_blocks_most", fmt.Sprintf("must be 0 or at least %d: each file has its own heading, start and end", leastFileBlocks), fmt.Sprintf("%d would do", leastFileBlocks))
	fault(d.FileBytesMost > 0 && d.FileBytesMost < leastFileBytes, "file_bytes_most", fmt.Sprintf("must be 0 or at least %d: each file has its own heading, start and end", leastFileBytes), fmt.Sprintf("%d would do", leastFileBytes))
	fault(use.Inch && d.Units == MillimetreOnly, "units", "the machine's program_units are inches", `make it "mm or in", or the program_units "mm"`)
	fault(!use.Inch && d.Units == InchOnly, "units", "the machine's program_units are millimetres", `make it "mm or in", or the program_units "in"`)
	return out
}

// LongestBlock returns how many characters the longest block may take, its feed left out:
// that may stand in a block before it.
func (d Dialect) LongestBlock(use Use) int {
	reach, decimals := use.Reach, d.DecimalsMM
	if use.Inch {
		reach, decimals = reach/millimetresPerInch, d.DecimalsInch
	}
	// A blank, the letter, a sign, the digits, the point and the decimals.
	word := 4 + len(strconv.Itoa(int(math.Ceil(reach)))) + decimals
	longest := len("G1") + 3*word
	if d.ArcsXY || d.ArcsZX {
		words := 4 // two axes and the centre
		if d.ArcForm == ByRadius {
			words = 3
		}
		if d.Helices || d.RepeatAxes {
			words++
		}
		longest = len("G3") + max(3, words)*word
	}
	if d.DrillCycle {
		longest = len("G83") + 5*word
	}
	if d.BlockNumbers.Step > 0 {
		longest += len("N ") + len(strconv.Itoa(d.BlockNumbers.Most))
	}
	return longest
}

// Nameable says what is wrong with the name of a dialect of the maker's own, or nothing.
func Nameable(name string, before []Dialect) (rule, hint string) {
	switch i := slices.Index(Names(before), name); {
	case name == "":
		return "must not be empty", "give it a name that says what the control can do"
	case i >= 0 && i < len(Presets()):
		return "is the name of a preset", "give it another, and say like = \"" + name + "\""
	case i >= 0:
		return "is the name of another dialect", "give each a name of its own"
	}
	return "", ""
}
