package profile

import "math"

// StockSize is a size in which bars are had, mm. A width of 0 is a sheet, sawn as wide as
// it is wanted.
type StockSize struct{ Thickness, Width float64 }

// Stores is what the shop has of what comes in steps.
type Stores struct {
	Bars  []StockSize
	Balls []float64 // radii of its ball cutters, mm
}

// inStore is how far a size may be off one of the stores and count as it, mm: under the
// tolerance of ground bars (trade.md 7: 0.025 mm).
const inStore = 0.01

// nearestThickness returns the thickness of bar nearest to a wanted one, the thicker of
// two that are as near; ok is false where there are no bars.
func (s Stores) nearestThickness(wanted float64) (thickness float64, ok bool) {
	off := math.Inf(1)
	for _, b := range s.Bars {
		d := math.Abs(b.Thickness - wanted)
		if d < off-resolution || d < off+resolution && b.Thickness > thickness {
			off, thickness = d, b.Thickness
		}
	}
	return thickness, len(s.Bars) > 0
}

// holding returns the bar that holds a thickness and a width: the thinnest, and of those
// the narrowest. ok is false where none does.
func (s Stores) holding(thickness, width float64) (best StockSize, ok bool) {
	for _, b := range s.Bars {
		if b.Thickness < thickness-inStore || b.Width != 0 && b.Width < width-inStore {
			continue
		}
		if b.Width == 0 {
			b.Width = width
		}
		if !ok || b.Thickness < best.Thickness || b.Thickness == best.Thickness && b.Width < best.Width {
			best, ok = b, true
		}
	}
	return best, ok
}

// ball returns the radius of the largest ball that goes into a groove; ok is false where
// none does.
func (s Stores) ball(groove float64) (radius float64, ok bool) {
	for _, r := range s.Balls {
		if r <= groove+resolution && r > radius {
			radius, ok = r, true
		}
	}
	return radius, ok
}
