package toolpath

import (
	"math"

	"fullerwright/profile"
	"fullerwright/profile/document"
)

// Stock is a size of bar that the maker has or can get. A width of 0 is a sheet, sawn as
// wide as it is wanted.
type Stock struct {
	Steel            string // as knife files name it; empty for any
	Thickness, Width float64
}

func stockGroup() shopGroup {
	at := func(f func(s *Stock) any) func(*Shop, int) any {
		return func(s *Shop, i int) any { return f(&s.Stock[i]) }
	}
	return shopGroup{name: "stock", meaning: "a size of bar that you have or can get, for resize; without any, the sizes that bars usually come in", repeated: true, entries: []entry{
		{demanded(lengthKey("thickness", "thickness of the bar", "", 1, 30)), at(func(s *Stock) any { return &s.Thickness })},
		{lengthKey("width", "its width; 0 for a sheet, sawn as wide as it is wanted", "0 mm", 0, 500), at(func(s *Stock) any { return &s.Width })},
		{textKey("steel", "its steel, as knife files name it; any where not given", ""), at(func(s *Stock) any { return &s.Steel })},
	}}
}

// usualStock returns the thicknesses and widths that flat bars of tool steel usually come
// in, mm, metric or in fractions of an inch. Common practice: the fractions are those of
// a supplier's list of ground flat stock, the metric ones from memory.
func usualStock(unit document.Unit) (thicknesses, widths []float64) {
	if unit != document.Inch {
		return []float64{2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 8}, []float64{20, 25, 30, 35, 40, 50}
	}
	for _, of32 := range []float64{3, 4, 5, 6, 7, 8} {
		thicknesses = append(thicknesses, of32/32*25.4)
	}
	for _, of4 := range []float64{3, 4, 5, 6, 7, 8, 10} {
		widths = append(widths, of4/4*25.4)
	}
	return thicknesses, widths
}

// Stores returns what the shop has of what comes in steps, for a knife of a steel whose
// file is in a unit: its bars of that steel, or where the shop file names none at all the
// usual sizes in that unit, in each thickness every width; and its balls. A thickness
// asked for that is a usual one in the other unit is among them too.
func (s Shop) Stores(steel string, unit document.Unit, asked float64) profile.Stores {
	out := profile.Stores{}
	for _, c := range s.Cutters {
		if c.End == BallEnd {
			out.Balls = append(out.Balls, c.Radius())
		}
	}
	for _, b := range s.Stock {
		if b.Steel == "" || b.Steel == steel {
			out.Bars = append(out.Bars, profile.StockSize{Thickness: b.Thickness, Width: b.Width})
		}
	}
	if len(s.Stock) > 0 {
		return out
	}
	for _, each := range []document.Unit{document.Millimetre, document.Inch} {
		thicknesses, widths := usualStock(each)
		for _, t := range thicknesses {
			if each != unit && math.Abs(t-asked) > sameStock {
				continue
			}
			for _, w := range widths {
				out.Bars = append(out.Bars, profile.StockSize{Thickness: t, Width: w})
			}
		}
	}
	return out
}

// sameStock is within what two thicknesses are those of one bar, mm: the tolerance of
// ground flat stock, a thousandth of an inch (trade of ground flat stock, published).
const sameStock = 0.0254
