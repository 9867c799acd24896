// Package mismatch predicts how far what is milled on the second face of a bar lies
// beside what was milled on the first, by how the bar was turned in between and by the
// errors of the shop.
//
// The bar lies along X with a long edge against the fixed jaw and an end at the stop.
// Turned about X, edge over edge, its other edge comes to the jaw and the same end to the
// stop; turned about Y, end for end, the same edge and the other end. Lengths are
// millimetres, angles radians. All of it is derived from how the bar lies;
// TestAgainstTwoSetups plays the setups through.
package mismatch

import "math"

// Errors are the errors of a shop, each as the greatest that is to be reckoned with.
type Errors struct {
	BarWidth         float64 // of the bar against what is set
	BarLength        float64
	BarThickness     float64
	YZero            float64 // zero set at the fixed jaw
	Stop             float64 // zero set at the stop
	Seating          float64 // how the bar seats against jaw and stop, each time it is clamped
	Readout          float64 // step of the display, each time a zero is set
	JawSweep         float64 // angle of the fixed jaw to the travel in X
	EdgesNotParallel float64 // angle of the long edges to each other
	SideShift        float64 // by which a cut lies beside its track
	// XTouched says that X is not taken from the end at the stop but touched, each time
	// the bar is clamped, at one and the same place of the bar: so neither the bar's
	// length nor how its end seats counts, but how well the place is touched, XTouch. Stop
	// is what that touch is off each time alike.
	XTouched bool
	XTouch   float64
}

// Feature is what is milled on both faces. Angles show by how far it reaches from where
// they do nothing: that is the middle of the bar where the bar is turned about Y; where it is
// turned about X, where the zero at the jaw is touched for the sweep of the jaw, and for edges
// that are not parallel where the width is taken.
type Feature struct {
	Length     float64 // along X
	FromMiddle float64 // its greatest distance along X from the middle of the bar
	FromTouch  float64 // its greatest distance along X from the touch at the jaw
	FromWidth  float64 // its greatest distance along X from where the width is taken
	FloorSlope float64 // of its floor along X, as a ratio
	// Opposed says that the side-shifts fall toward opposite sides of the blade: the
	// finishing passes run the same machine way on both faces though the bar was turned
	// about X, or opposite ways though it was turned about Y.
	Opposed bool
	// Wedge is by how much each face is cut too deep at worst because the bar lies on a face
	// that is not parallel to the one that is cut.
	Wedge float64
	// OnParallels says that the second face's zero is taken from the parallels by the
	// bar's thickness, and not touched on the face.
	OnParallels bool
}

// Part is what one error adds: at worst, and as a part of a root of a sum of squares.
type Part struct {
	Source        string
	Worst, Likely float64
}

// Budget is a list of parts. Parts that add nothing are left out.
type Budget []Part

// Worst returns the sum of all parts: all errors at their greatest and to the same side.
func (b Budget) Worst() float64 {
	sum := 0.0
	for _, p := range b {
		sum += p.Worst
	}
	return sum
}

// Likely returns the root of the sum of squares of all parts.
func (b Budget) Likely() float64 {
	sum := 0.0
	for _, p := range b {
		sum += p.Likely * p.Likely
	}
	return math.Sqrt(sum)
}

// with adds a part that an error makes once, so many times over.
func (b Budget) with(source string, err, times float64) Budget {
	worst := math.Abs(err) * times
	if worst == 0 {
		return b
	}
	return append(b, Part{source, worst, worst})
}

// withBoth adds a part that an error makes anew on each of the two faces: twice at
// worst, and √2 times by squares.
func (b Budget) withBoth(source string, err float64) Budget {
	if err == 0 {
		return b
	}
	return append(b, Part{source, 2 * math.Abs(err), math.Sqrt2 * math.Abs(err)})
}

// Mismatch is what the second face has against the first: across the blade where it is
// greatest, along the blade, askew over the feature's length, and in depth; and what both
// together may take from the web. What angles do along the blade, across its width, is
// for ShoulderOf.
type Mismatch struct{ Across, Along, Askew, Depth, WebLoss Budget }

// AboutX returns the mismatch of a bar turned about X, edge over edge. The other edge
// lies at the jaw, so that the bar's width and the zero there go into it.
func AboutX(e Errors, f Feature) Mismatch {
	edges := Budget{}.with("edges not parallel", e.EdgesNotParallel, 1)
	across := append(jawAngle(e).over(f.FromTouch), edges.over(f.FromWidth)...).with("width of the bar", e.BarWidth, 1).with("zero at the jaw", e.YZero, 2)
	return together(e, f, Mismatch{Across: across, Askew: append(jawAngle(e), edges...).over(f.Length)})
}

// AboutY returns the mismatch of a bar turned about Y, end for end. The other end lies at
// the stop, so that the bar's length and the zero there go into it.
func AboutY(e Errors, f Feature) Mismatch {
	along := Budget{}.with("length of the bar", e.BarLength, 1).with("zero at the stop", e.Stop, 2)
	if e.XTouched {
		along = Budget{}.with("touch in X, alike each time", e.Stop, 2)
	}
	return together(e, f, Mismatch{Across: jawAngle(e).over(f.FromMiddle), Along: along, Askew: jawAngle(e).over(f.Length)})
}

// jawAngle is the jaw's sweep: it shows doubled however the bar is turned.
func jawAngle(e Errors) Budget { return Budget{}.with("sweep of the jaw", e.JawSweep, 2) }

// over returns what angles come to over a distance.
func (b Budget) over(distance float64) Budget {
	var out Budget
	for _, p := range b {
		out = out.with(p.Source, p.Worst, math.Abs(distance))
	}
	return out
}

// together adds to what the turn alone does all that is alike for both.
func together(e Errors, f Feature, m Mismatch) Mismatch {
	if f.Opposed {
		m.Across = m.Across.with("side-shift of the cut", e.SideShift, 2)
	}
	m.Across, m.Along = anew(e, m.Across), anewAlong(e, m.Along)
	m.Depth, m.WebLoss = depths(e, f, m.Along)
	return m
}

// anew adds what every clamping and every setting of a zero does to a place.
func anew(e Errors, b Budget) Budget {
	return b.withBoth("seating", e.Seating).withBoth("step of the readout", e.Readout)
}

// anewAlong is the same along the blade, where the bar may be touched instead of seated.
func anewAlong(e Errors, b Budget) Budget {
	if !e.XTouched {
		return anew(e, b)
	}
	return b.withBoth("touch in X, each time", e.XTouch).withBoth("step of the readout", e.Readout)
}

// depths returns the difference in depth of the two faces and what may be taken from the
// web. A face that is touched has its depth right, and an error of the bar's thickness
// goes into the web; one whose zero comes from the parallels leaves the web right, and
// the error goes into its depth. A floor that slopes and lies too far along is too deep.
func depths(e Errors, f Feature, along Budget) (depth, web Budget) {
	depth = depth.withBoth("setting of the zero in Z", e.Readout)
	for _, p := range along {
		if slope := math.Abs(f.FloorSlope); slope > 0 {
			depth = append(depth, Part{p.Source + ", by the slope of the floor", p.Worst * slope, p.Likely * slope})
		}
	}
	web = append(web, depth...).with("faces of the bar not parallel", f.Wedge, 2)
	if f.OnParallels {
		return depth.with("thickness of the bar", e.BarThickness, 1), web
	}
	return depth, web.with("thickness of the bar", e.BarThickness, 1)
}
