package toolpath

import (
	"math"
	"slices"

	"fullerwright/profile"
	"fullerwright/toolpath/motion"
)

// Bed is a place at which a bar whose faces are not parallel is borne, so that its middle lies
// level: its thickest place flat on the support, the rest packed up.
type Bed struct {
	X         float64 // in the work frame, mm
	Thickness float64 // of the bar there, mm
	// Packing is how thick the shim under the bar is there, mm: half of what the bar is
	// thinner there than at its thickest bed.
	Packing float64
	// Under is how far the face that is up lies there under Z = 0, mm; less than 0 above it.
	//
	//	under = (thickness where Z is touched - thickness) / 2
	Under float64
}

// thinnestShim is the thinnest shim that is worth laying, mm: the thinnest steel foil that is
// sold by the sheet (common practice, no source).
const thinnestShim = 0.01

// Beds returns where and how a bar is borne whose faces are ground to the taper before it
// is milled, or were measured out of parallel by more than two of the thinnest shims, in the
// order of X: at the ends of what bears it, the jaws or, on a plate, the whole bar, and wherever
// the thickness changes between; nothing for parallel faces.
func (j *Job) Beds(vise Vise) []Bed {
	if j.Setup.Blank {
		return nil
	}
	span := j.JawSpan(vise)
	if j.Setup.Plate {
		span = Span{0, j.Setup.Length}
	}
	var out []Bed
	thickest := 0.0
	for _, x := range j.Setup.changes(span) {
		half := j.Setup.bar.Face(j.Setup.bladeX(x))
		out = append(out, Bed{X: x, Thickness: 2 * half, Under: j.Setup.Top - half})
		thickest = math.Max(thickest, 2*half)
	}
	most := 0.0
	for i := range out {
		out[i].Packing = (thickest - out[i].Thickness) / 2
		most = math.Max(most, out[i].Packing)
	}
	if most < thinnestShim && !j.Setup.bar.TaperedFirst() {
		return nil
	}
	return out
}

// unpackedWedge returns by how much each face of a bar that lies with no shims is cut too deep
// between two places, mm, at worst: by half of what the bar is thicker there than where Z is
// touched, but no more than where shims would be laid.
func unpackedWedge(bar profile.Bar, from, to float64) float64 {
	if bar.TaperedFirst() {
		return 0
	}
	thick, _ := bar.Thickest(from, to)
	return math.Min(math.Max(0, thick-bar.Thickness(0))/2, thinnestShim)
}

// facesCheck looks at whether the faces of a bar were measured so far out of parallel that it
// must be packed up.
func facesCheck(bar profile.Bar) []Check {
	if bar.TaperedFirst() || len(bar.MeasuredAt) < 2 {
		return nil
	}
	thin, _ := bar.Thinnest(bar.Butt, bar.Front)
	thick, _ := bar.Thickest(bar.Butt, bar.Front)
	return []Check{most("faces of the bar out of parallel, by the thickness measured", thick-thin, 2*thinnestShim, "mm").mild().
		from("the thinnest shims that are worth laying, one under each end").
		orElse("the programs are for a bar that lies with its middle level: lay in the shims that the setup sheet and the heads of the programs name, or grind the faces parallel and measure again")}
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
