package toolpath

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/profile/geom"
)

// sizesSold are diameters of end mills that are sold everywhere, mm (common practice, no
// source).
func sizesSold() []float64 { return []float64{20, 16, 12, 10, 8, 6, 5, 4, 3, 2.5, 2, 1.5, 1} }

// triedRunOut is what a cutter that is to be bought runs out: as little
// as a good collet does, mm (common practice, no source).
const triedRunOut = 0.005

// buying returns the cutters that might do a step, one after the other: for fullers of the
// groove's own radius, else of sizes that are sold, with flutes as long as it takes.
func (t *trial) buying(step Step) lever {
	var out []Cutter
	b := t.blade
	switch step.Operation {
	case Fullers:
		if len(b.Grooves(step.Face)) == 0 {
			break
		}
		own := 2 * smallestRadius(b, step.Face)
		out = append(out, boughtMill(BallEnd, own, 2*own))
		for _, size := range sizesSold() {
			if size < own {
				out = append(out, boughtMill(BallEnd, size, 2*size))
			}
		}
	case Marks:
		d := 2 * b.Knife.Mark.Radius
		out = append(out, boughtMill(BallEnd, d, math.Max(1.5*d, b.Knife.Mark.Depth+1)))
	case Holes, Slot:
		if step.Bore > 0 {
			out = append(out, boughtDrill(step.Bore, t.throughBar(step)+2*step.Bore))
			break
		}
		fallthrough
	case Shoulders, Outline:
		for _, size := range sizesSold() {
			out = append(out, boughtMill(SquareEnd, size, over(t.throughBar(step)+1)))
		}
	}
	return func(n int) (Way, bool) {
		// Steps that double would leave sizes out: what is asked for beyond the first is
		// the next of those that may be.
		i := ordinal(n)
		if i >= len(out) {
			return Way{}, false
		}
		return Way{File: ShopFile, Key: "cutter", Cutter: &out[i]}, true
	}
}

// ordinal returns which power of two a number is, from 0; other numbers count as the next.
func ordinal(n int) int { return int(math.Ceil(math.Log2(float64(n)))) }

// throughBar is how thick the steel of a step is, mm.
func (t *trial) throughBar(step Step) float64 {
	if step.Operation == Slot {
		return t.blade.Knife.Guard.Thickness + breakThrough
	}
	return 2*highestFace(t.blade.Bar) + breakThrough
}

// boughtMill is a coated carbide end mill as it is sold.
func boughtMill(end CutterEnd, diameter, flutes float64) Cutter {
	flutes = over(flutes)
	return Cutter{Name: sayBought(end, diameter), End: end, Diameter: diameter, RunOut: triedRunOut, Flutes: map[CutterEnd]int{BallEnd: 2, SquareEnd: 4}[end],
		FluteLength: flutes, ShankDiameter: math.Max(diameter, 6), StickOut: over(math.Max(flutes+holderClearance, 3*diameter)), HolderRadius: 16, Material: "carbide", Coated: true}
}

// boughtDrill is a drill of high-speed steel as it is sold.
func boughtDrill(diameter, flutes float64) Cutter {
	return Cutter{Name: sayBought(DrillEnd, diameter), End: DrillEnd, Diameter: diameter, RunOut: 0.01, Flutes: 2, FluteLength: over(flutes), ShankDiameter: diameter,
		StickOut: over(flutes + holderClearance), HolderRadius: 16, PointAngle: usualPoint, Material: "hss"}
}

// usualPoint is the angle of the usual drill's point, from side to side.
const usualPoint = 118 * geom.Degree

func sayBought(end CutterEnd, diameter float64) string {
	return fmt.Sprintf("%s %g, to be bought", end, diameter)
}

// byStickOut adds the same cutter, held so that it stands out more, or less.
func (t *trial) byStickOut(c Check, cutter Cutter, sign float64) Check {
	i := slices.IndexFunc(t.shop.Cutters, func(other Cutter) bool { return other.Name == cutter.Name })
	if i < 0 {
		return c
	}
	key := fmt.Sprintf("cutter[%d].stick_out", i+1)
	return c.byShop(key, sign)
}

// holeKey names a key of a hole.
func holeKey(index int, name string) string { return fmt.Sprintf("hole[%d].%s", index+1, name) }
