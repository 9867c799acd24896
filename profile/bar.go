package profile

// Bar is the bar a blade is cut from and where the blade lies in it, in the blade
// frame: as measured where somebody measured it, as ordered elsewhere. It is taken as
// symmetric about the centre-plane.
type Bar struct {
	Butt, Front   float64 // x of its ends: behind the tang, in front of the point
	Top, Bottom   float64 // y of its long edges: at the spine, at the edge
	thickness     stations
	MeasuredWidth bool // the width is one that was measured
	MeasuredAt    []float64
	XZero         XReference
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

// Stations returns the distances at which the thickness of the bar is known, in
// ascending order; between them it is straight.
func (b Bar) Stations() []float64 {
	at := make([]float64, len(b.thickness))
	for i, s := range b.thickness {
		at[i] = s.at
	}
	return at
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
	b.Bottom = b.Top - width
	b.Front = b.Butt + measured.Length.Or(k.Bar.Length.Or(k.neededBarLength()))
	b.thickness = stations{{b.Butt, k.Bar.Thickness.Or(k.neededBarThickness())}}
	if len(measured.Thickness) > 0 {
		b.thickness = nil
		for _, s := range measured.Thickness {
			b.thickness = append(b.thickness, station{b.Butt + s.FromButt, s.Value})
			b.MeasuredAt = append(b.MeasuredAt, b.Butt+s.FromButt)
		}
	}
	return b
}

// spineTop returns the y of the highest place of the back, clip and point.
func (k Knife) spineTop() float64 {
	return max(0, k.Spine.Rise, k.clipPiece().Bounds().Max.Y)
}
