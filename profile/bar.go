package profile

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// Bar is the bar a blade is cut from and where the blade lies in it, in the blade
// frame, when it is milled: as measured where somebody measured it, as the knife file has
// it elsewhere. It is taken as symmetric about the centre-plane.
type Bar struct {
	Butt, Front   float64  // x of its ends: behind the tang, in front of the point
	Top, Bottom   float64  // y of its long edges: at the spine, at the edge
	thickness     stations // as it is milled
	bought        stations // as it is bought, before its faces are ground to a taper
	Tapered       TaperOrder
	widths        stations // as they were measured; none where nobody did
	MeasuredWidth bool     // the width is one that was measured
	MeasuredAt    []float64
	XZero         XReference
}

// LowEdge returns the y of the edge of the bar away from the spine at a station, straight
// between the places where the width was measured.
func (b Bar) LowEdge(x float64) float64 {
	if len(b.widths) == 0 {
		return b.Bottom
	}
	return b.Top - b.widths.value(x)
}

// EdgesApart returns by how much the long edges run apart over their length, by the straight
// line that lies nearest to the widths that were measured, and whether there were two or more.
func (b Bar) EdgesApart() (slope float64, known bool) {
	if len(b.widths) < 2 {
		return 0, false
	}
	at, width := make([]float64, len(b.widths)), make([]float64, len(b.widths))
	for i, w := range b.widths {
		at[i], width[i] = w.at, w.value
	}
	_, slope = stat.LinearRegression(at, width, nil, false)
	return math.Abs(slope), true
}

// Length returns the length of the bar, mm.
func (b Bar) Length() float64 { return b.Front - b.Butt }

// Width returns the width of the bar, mm.
func (b Bar) Width() float64 { return b.Top - b.Bottom }

// Thickness returns the thickness of the bar at x, mm.
func (b Bar) Thickness(x float64) float64 { return b.thickness.value(x) }

// Face returns the height of the bar's face over the centre-plane at x, mm.
func (b Bar) Face(x float64) float64 { return b.thickness.value(x) / 2 }

// Thinnest returns the least thickness of the bar between two stations and where.
func (b Bar) Thinnest(from, to float64) (thickness, at float64) { return b.thickness.least(from, to) }

// Thickest returns the greatest thickness of the bar between two stations and where.
func (b Bar) Thickest(from, to float64) (thickness, at float64) { return b.thickness.most(from, to) }

// Stations returns the distances at which the thickness of the bar is known, in
// ascending order; between them it is straight.
func (b Bar) Stations() []float64 {
	at := make([]float64, len(b.thickness))
	for i, s := range b.thickness {
		at[i] = s.at
	}
	return at
}

// GroundStation is what a bar must measure at a place before it is milled, once its faces
// are ground to the distal taper, mm; between two of them the faces are flat.
type GroundStation struct {
	X, FromButt float64
	Thickness   float64
	OffEach     float64 // to grind off each face of the bar as bought
}

// Ground returns to what the faces are ground before anything is milled, from the butt to
// the front end; nothing where the fullers are milled into parallel faces.
func (b Bar) Ground() []GroundStation {
	if !b.TaperedFirst() {
		return nil
	}
	bought := b.Bought()
	var out []GroundStation
	for _, s := range b.thickness.over(b.Butt, b.Front) {
		out = append(out, GroundStation{s.at, s.at - b.Butt, s.value, bought.Face(s.at) - s.value/2})
	}
	return out
}

// BarOf returns the bar of a knife, as measured where measured says so.
func BarOf(k Knife, measured Measured) Bar {
	b := Bar{
		Butt: -k.Tang.Length - k.Bar.TangAllowance,
		Top:  k.spineTop() + k.Bar.SpineAllowance,
	}
	b.XZero = k.xReference(b.Butt)
	width := k.Bar.Width.Or(k.neededBarWidth())
	if w, known := measured.Width(); known {
		width, b.MeasuredWidth = w, true
	}
	for _, w := range measured.Widths {
		b.widths = append(b.widths, station{b.Butt + w.FromButt, w.Value})
	}
	b.Bottom = b.Top - width
	b.Front = b.Butt + measured.Length.Or(k.Bar.Length.Or(k.neededBarLength()))
	b.bought = stations{{b.Butt, k.Bar.Thickness.Or(k.neededBarThickness())}}
	b.thickness, b.Tapered = b.bought, k.Bar.Tapered
	if b.TaperedFirst() {
		b.thickness = k.groundFaces()
	}
	b.measure(measured.Thickness)
	return b
}

// measure sets the thickness to what was read. Between readings a bar with parallel faces
// is straight, and one that is ground to its taper off it by what is straight between them.
func (b *Bar) measure(read []MeasuredStation) {
	if len(read) == 0 {
		return
	}
	var off stations
	planned := stations{{b.Butt, 0}}
	if b.TaperedFirst() {
		planned = b.thickness
	}
	for _, s := range read {
		x := b.Butt + s.FromButt
		off = append(off, station{x, s.Value - planned.value(x)})
		b.MeasuredAt = append(b.MeasuredAt, x)
	}
	b.thickness = planned.plus(off)
	if !b.TaperedFirst() {
		b.bought = b.thickness
	}
}

// TaperedFirst reports whether the faces are ground to the distal taper before anything is
// milled.
func (b Bar) TaperedFirst() bool { return b.Tapered == TaperedBefore }

// Bought returns the bar as it is bought: where its faces are ground to the taper before
// they are milled, still with parallel ones.
func (b Bar) Bought() Bar {
	if b.TaperedFirst() {
		b.MeasuredAt = nil
	}
	b.thickness, b.Tapered = b.bought, TaperedAfter
	return b
}

// spineTop returns the y of the highest place of the back, clip and point.
func (k Knife) spineTop() float64 {
	return max(0, k.Spine.Rise, k.clipPiece().Bounds().Max.Y)
}
