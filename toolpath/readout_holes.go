package toolpath

import (
	"math"

	"fullerwright/toolpath/motion"
)

// HoleRow is one hole for a mill that is run by its handwheels: places of the drill's tip in
// the work frame, mm.
type HoleRow struct {
	Number  int // in the knife file; 0 for the one in a guard's slot
	X, Y    float64
	Z       float64 // of the tip at the foot of the hole
	Full    float64 // Z down to which the hole has its full width: the tip less its point
	Bites   int     // after each the drill is drawn out
	Bite    float64 // how deep each goes, mm
	Through bool
}

// HoleReadout returns the table of a program that drills, from the planned moves alone; it
// is empty for all others.
func (j *Job) HoleReadout() []HoleRow {
	if j.Step.Bore == 0 {
		return nil
	}
	rows := map[int]*HoleRow{}
	var order []int
	for _, m := range j.Moves {
		if m.Purpose != Rough || m.Kind != motion.Line {
			continue
		}
		row, begun := rows[m.Lane]
		if !begun {
			row = &HoleRow{X: m.To.X, Y: m.To.Y}
			if m.Lane <= len(j.Holes) {
				row.Number = j.Holes[m.Lane-1] + 1
			}
			rows[m.Lane], order = row, append(order, m.Lane)
		}
		row.Z, row.Bites = math.Min(row.Z, m.To.Z), row.Bites+1
	}
	var out []HoleRow
	for _, lane := range order {
		row := *rows[lane]
		face := j.faceAt(row.X)
		row.Full = row.Z + j.Cutter.pointHeight()
		row.Bite = (face - row.Z) / float64(row.Bites)
		row.Through = row.Full < -2*j.Setup.Top-face
		out = append(out, row)
	}
	return out
}

// faceAt returns Z of the face that is up at a place in the work frame.
func (j *Job) faceAt(x float64) float64 {
	if j.Setup.Blank {
		return 0
	}
	return j.Setup.faceZ(x)
}
