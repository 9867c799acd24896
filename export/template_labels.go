package export

import (
	"cmp"
	"math"
	"slices"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// callout is a word with the place it points to.
type callout struct {
	at   geom.Point
	text string
}

// labels puts callouts over or under a view, in lanes, so that no word lies on another
// and no pointer runs through a word.
type labels struct {
	setter sheet.Typesetter
	sheet  *sheet.Sheet
	limit  float64   // words end to the left of it where they can
	seams  []float64 // no word may lie on one
	taken  []sheet.Box
}

const (
	lane    = letter + 1.8 // from one lane to the next
	beside  = 0.9          // from a pointer to its word
	gapping = 0.5          // around words
)

// place writes callouts from a base line away, upward or downward (side 1 or -1), and
// returns how far they reach. Words stand to the right of their pointers, set from the
// rightmost on, so that the pointers of those yet to come pass to the left of them; a
// word without room there stands to the left, and those are set from the leftmost on.
func (l *labels) place(list []callout, base, side float64) (reach float64) {
	l.taken = nil
	slices.SortStableFunc(list, func(a, b callout) int { return cmp.Compare(b.at.X, a.at.X) })
	reach = base
	var turned []callout
	for _, c := range list {
		far, ok := l.set(c, base, side, sheet.Start, turned)
		if !ok {
			turned = append([]callout{c}, turned...)
			continue
		}
		reach = side * math.Max(side*reach, side*far)
	}
	for _, c := range turned {
		far, _ := l.set(c, base, side, sheet.End, nil)
		reach = side * math.Max(side*reach, side*far)
	}
	return reach
}

// set writes one callout in the first lane with room for it. Pointers of those turned to
// the left may rise anywhere, so that no word may lie over their place.
func (l *labels) set(c callout, base, side float64, anchor sheet.Anchor, turned []callout) (far float64, ok bool) {
	const lanes = 12
	for i := range lanes {
		y := base + side*float64(i)*lane
		if side < 0 {
			y -= letter
		}
		text := sheet.Text{At: geom.Point{X: c.at.X + beside, Y: y}, Height: letter, Anchor: anchor, Content: c.text}
		if anchor == sheet.End {
			text.At.X = c.at.X - beside
		}
		box := l.setter.Box(text)
		if anchor == sheet.Start && (box.MaxX > l.limit || slices.ContainsFunc(turned, func(o callout) bool { return o.at.X > c.at.X && o.at.X < box.MaxX+gapping })) {
			return 0, false
		}
		if slices.ContainsFunc(l.seams, func(x float64) bool { return x > box.MinX-gapping && x < box.MaxX+gapping }) {
			if anchor == sheet.Start {
				return 0, false
			}
			text.At.X -= box.MaxX + 2*gapping - l.seamUnder(box)
			box = l.setter.Box(text)
		}
		wide := sheet.Box{MinX: box.MinX - gapping, MinY: box.MinY - gapping/2, MaxX: box.MaxX + gapping, MaxY: box.MaxY + gapping/2}
		if slices.ContainsFunc(l.taken, wide.Overlaps) && i < lanes-1 {
			continue
		}
		end := y
		if side > 0 {
			end = y + letter
		}
		pointer := sheet.Box{MinX: c.at.X - 0.1, MinY: math.Min(base, end), MaxX: c.at.X + 0.1, MaxY: math.Max(base, end)}
		l.taken = append(l.taken, box, pointer)
		l.sheet.Add("pointers", "pointers of the words", arrow(c.at, end, side))
		l.sheet.Add(notesLayer, "notes", text)
		return y + side*letter, true
	}
	return 0, false
}

// seamUnder returns the seam that runs through a box.
func (l *labels) seamUnder(box sheet.Box) float64 {
	for _, x := range l.seams {
		if x > box.MinX-gapping && x < box.MaxX+gapping {
			return x
		}
	}
	return box.MaxX
}

// arrow returns an upright pointer to a place, with its head there.
func arrow(at geom.Point, from, side float64) sheet.Path {
	const length, half = 1.6, 0.45
	y := at.Y + side*length
	p := sheet.Polyline(thinPen, []geom.Point{{X: at.X, Y: from}, at, {X: at.X - half, Y: y}})
	p.Pieces = append(p.Pieces, geom.Line{From: at, To: geom.Point{X: at.X + half, Y: y}})
	return p
}
