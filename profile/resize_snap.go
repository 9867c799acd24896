package profile

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/profile/document"
)

const (
	// nearStock is how far stock may be off what is asked for, as a part of it, and be
	// taken for it (judgement: steps of bars lie up to a quarter apart).
	nearStock = 0.15
	// nearRadius is by how much the radius of a groove may shrink to that of a ball, as a
	// part of it (judgement: a groove as deep becomes a twentieth narrower, which is not
	// seen; more changes the look).
	nearRadius = 0.1
)

// snapStock puts the nearest thickness of bar in place of the one asked for.
func (z *resizer) snapStock() {
	z.asked = z.Stock
	if z.Stores == nil {
		return
	}
	if near, ok := z.Stores.nearestThickness(z.Stock); ok && math.Abs(near-z.Stock) > inStore && math.Abs(near-z.Stock) <= nearStock*z.Stock {
		z.Stock = near
	}
}

func (z resizer) sayStock() string {
	if z.Stock == z.asked {
		return "the stock asked for"
	}
	return fmt.Sprintf("the nearest stock to the %s asked for", z.knife.say(z.asked))
}

// snapRadius makes the radius of a groove that of the largest ball that goes into it, less
// what sanding takes, where that is near: it asks for no larger cutter, and one pass does
// what took several.
func (z resizer) snapRadius(c *Change) {
	if z.Stores == nil {
		return
	}
	sanding := z.knife.Allowance.Sanding
	ball, ok := z.Stores.ball(c.Is - sanding)
	if less := c.Is - sanding - ball; !ok || less < resolution || less > nearRadius*c.Is {
		return
	}
	came := c.Is
	c.Is, c.Snapped = ball+sanding, true
	c.Why = fmt.Sprintf("came to %s; the ball of %s radius leaves this in one pass", z.knife.say(came), z.knife.say(ball))
}

// snapBar snaps the sizes of the bar that the file gives, where the resized blade needs a
// larger one, to the next bar of the stores. Where the file leaves them out the bar follows
// from the blade, and which bar of the stores holds it is told.
func (z resizer) snapBar(changes []Change) []Change {
	if z.Stores == nil {
		return changes
	}
	k := z.knife
	moved := k.with(changes)
	thickness, width := moved.Bar.Thickness.Or(moved.neededBarThickness()), moved.Bar.Width.Or(moved.neededBarWidth())
	thickness, width = math.Max(thickness, moved.neededBarThickness()), math.Max(width, moved.neededBarWidth())
	bar, ok := z.Stores.holding(thickness, width)
	for _, size := range []struct {
		name              string
		was, given        Optional
		needed, then, had float64
	}{
		{"bar.width", k.Bar.Width, moved.Bar.Width, moved.neededBarWidth(), bar.Width, k.neededBarWidth()},
		{"bar.thickness", k.Bar.Thickness, moved.Bar.Thickness, moved.neededBarThickness(), bar.Thickness, k.neededBarThickness()},
	} {
		c := Change{Key: size.name, Was: size.was.Or(size.had), Is: size.needed, Kind: document.Length, Class: Fixed, LeftOut: !size.given.Known}
		kept := slices.Contains(z.Keep, size.name)
		switch {
		case kept || math.Abs(size.needed-size.had) < inStore:
			continue
		case size.given.Known && size.given.Value >= size.needed-resolution:
			continue
		case size.given.Known && ok:
			c.Is, c.Snapped = size.then, true
			c.Why = fmt.Sprintf("the blade needs %s; the next stock that holds it", k.say(size.needed))
		case size.given.Known:
			continue // Parse says what is needed
		case size.name == "bar.thickness" && z.Stock != 0:
			c.Class, c.Why, c.Snapped = Through, z.sayStock(), z.Stock != z.asked
		case ok:
			c.Why = fmt.Sprintf("what the blade needs; stock of %s holds it", k.sayStockSize(bar))
		default:
			c.Why = fmt.Sprintf("what the blade needs; no stock holds %s", k.sayStockSize(StockSize{thickness, width}))
		}
		changes = replaced(changes, c)
	}
	return z.snapLength(changes, moved.neededBarLength())
}

// replaced returns changes with one in place of another of the same key.
func replaced(changes []Change, c Change) []Change {
	return append(slices.DeleteFunc(changes, func(other Change) bool { return other.Key == c.Key }), c)
}

// snapLength makes a bar that the file gives and that has become too short as long as the
// blade needs, up to the next length that a saw is set to.
func (z resizer) snapLength(changes []Change, needed float64) []Change {
	const key = "bar.length"
	given := z.knife.Bar.Length
	if !given.Known || given.Value >= needed-resolution || slices.Contains(z.Keep, key) {
		return changes
	}
	step := sawStep(z.knife.Units)
	return replaced(changes, Change{Key: key, Kind: document.Length, Class: Fixed, Was: given.Value, Is: math.Ceil(needed/step-resolution) * step, Snapped: true,
		Why: fmt.Sprintf("the blade needs %s; sawn to the next %s", z.knife.say(needed), z.knife.say(step))})
}

// sawStep returns to what a bar is marked off for the saw, mm: whole millimetres, or in
// inches sixteenths (common practice, no source).
func sawStep(unit document.Unit) float64 {
	if unit == document.Inch {
		return unit.Millimetres() / 16
	}
	return 1
}

// sayStockSize writes thickness and width of a bar in the units of the knife file.
func (k Knife) sayStockSize(b StockSize) string {
	return fmt.Sprintf("%s × %s", k.say(b.Thickness), k.say(b.Width))
}
