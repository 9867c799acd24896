package toolpath

import (
	"math"
	"slices"

	"fullerwright/toolpath/motion"
)

// Bed is a place at which a bar with tapered faces is borne, so that its middle lies level:
// the ricasso flat on the support, the taper packed up under it.
type Bed struct {
	X         float64 // in the work frame, mm
	Thickness float64 // of the bar there, mm
	// Packing is how thick the shim under the bar is there, mm, and how far the face that is
	// up lies under Z = 0: half of what the bar has lost to the taper.
	//
	//	packing = (thickness where Z is touched - thickness) / 2
	Packing float64
}

// Beds returns where and how a bar is borne whose faces are ground to the taper before it
// is milled, in the order of X: at the ends of what bears it, the jaws or, on a plate, the
// whole bar, and wherever the taper changes between; nothing for parallel faces.
func (j *Job) Beds(vise Vise) []Bed {
	if !j.Setup.bar.TaperedFirst() {
		return nil
	}
	span := j.JawSpan(vise)
	if j.Setup.Plate {
		span = Span{0, j.Setup.Length}
	}
	var out []Bed
	for _, x := range j.Setup.changes(span) {
		half := j.Setup.bar.Face(j.Setup.bladeX(x))
		out = append(out, Bed{x, 2 * half, j.Setup.Top - half})
	}
	return out
}

// thinnest returns the least thickness of the bar, or of a blank, between the jaws, mm.
func (j *Job) thinnest(vise Vise) float64 {
	if j.Setup.Blank {
		return 2 * j.Setup.Top
	}
	least := math.Inf(1)
	for _, x := range j.Setup.changes(j.JawSpan(vise)) {
		least = math.Min(least, j.Setup.bar.Thickness(j.Setup.bladeX(x)))
	}
	return least
}

// bladeX returns x in the blade frame of a place in the work frame.
func (s Setup) bladeX(x float64) float64 { return s.Placement.Face(motion.Vec{X: x}).X }

// faceZ returns Z of the bar's face at a place in the work frame.
func (s Setup) faceZ(x float64) float64 {
	return s.Placement.Work(motion.Vec{Z: s.bar.Face(s.bladeX(x))}).Z
}

// changes returns the ends of a stretch and, between them, where the bar's thickness
// changes, in the order of X of the work frame.
func (s Setup) changes(along Span) []float64 {
	out := []float64{along.From, along.To}
	for _, at := range s.bar.Stations() {
		if x := s.Placement.Work(motion.Vec{X: at}).X; x > along.From && x < along.To {
			out = append(out, x)
		}
	}
	slices.Sort(out)
	return out
}
