package export

import (
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
)

// cell is a drawing of its own size that is laid out with others.
type cell struct {
	width, height float64
	draw          func(p pencil, left, top float64)
}

// figure is a drawing with a title over it, captions under it and dimensions about it.
// All places are on paper, about an origin of its own.
type figure struct {
	title, captions        []string
	box                    sheet.Box // of what is drawn
	top, foot, left, right []linear
	paint                  func(p pencil, origin geom.Point)
}

const (
	cellMargin = 5.0
	rowSpace   = 1.8 // between rows of letters
	firstTier  = 4.0 // from a drawing to its first dimension line, over the height of a letter
	titleSpace = 2.0 // under a title
)

func boxOf(chain geom.Chain) sheet.Box {
	b := chain.Bounds()
	return sheet.Box{MinX: b.Min.X, MinY: b.Min.Y, MaxX: b.Max.X, MaxY: b.Max.Y}
}

// with returns the stretch that holds both.
func (i interval) with(j interval) interval {
	return interval{math.Min(i.least, j.least), math.Max(i.most, j.most)}
}

// row returns the distance from one row of letters to the next.
func (p pencil) row() float64 { return p.letter + rowSpace }

// figureRoom is how much room the dimensions of a figure take about what is drawn.
type figureRoom struct {
	top, foot, left, right float64
	away                   interval // of the first tiers under and over it, from what is drawn
	reach                  interval // across, of dimensions over and under it
	rise                   interval // up, of dimensions beside it
}

func (f figure) room(p pencil) figureRoom {
	first := firstTier + p.letter
	r := figureRoom{reach: interval{f.box.MinX, f.box.MaxX}, rise: interval{f.box.MinY, f.box.MaxY}, away: interval{first, first}}
	depth := func(dims []linear, k stack) (outward float64, along interval) {
		arranged := k.arrange(p, dims)
		return p.depth(arranged), reach(arranged, k)
	}
	beside := func(dims []linear, outward float64) float64 {
		if len(dims) == 0 {
			return 0
		}
		deep, along := depth(dims, stack{outward: outward, upright: true})
		r.rise = r.rise.with(along)
		return first + deep
	}
	r.left, r.right = beside(f.left, -1), beside(f.right, 1)
	// Dimensions that reach past what is drawn keep clear of the texts beside it.
	level := func(dims []linear, outward, past float64, away *float64) float64 {
		if len(dims) == 0 {
			return 0
		}
		deep, along := depth(dims, stack{outward: outward})
		r.reach = r.reach.with(along)
		if along.least < f.box.MinX || along.most > f.box.MaxX {
			*away += past
		}
		return *away + deep
	}
	r.top = level(f.top, 1, r.rise.most-f.box.MaxY, &r.away.most)
	r.foot = level(f.foot, -1, f.box.MinY-r.rise.least, &r.away.least)
	r.top, r.foot = math.Max(r.top, r.rise.most-f.box.MaxY+1), math.Max(r.foot, f.box.MinY-r.rise.least+1)
	return r
}

// cell returns a figure with all that belongs to it as a cell.
func (f figure) cell(p pencil) cell {
	r := f.room(p)
	least, most := math.Min(f.box.MinX-r.left, r.reach.least), math.Max(f.box.MaxX+r.right, r.reach.most)
	text := 0.0
	for i, line := range append(append([]string(nil), f.title...), f.captions...) {
		text = math.Max(text, p.ruler.Width(sheet.Text{Height: p.letter, Bold: i == 0, Content: line}))
	}
	head := p.row()*float64(len(f.title)) + titleSpace
	c := cell{width: math.Max(most-least, text) + 2*cellMargin,
		height: head + r.top + f.box.MaxY - f.box.MinY + r.foot + 3 + p.row()*float64(len(f.captions))}
	c.draw = func(p pencil, left, top float64) {
		middle := left + c.width/2
		origin := geom.Point{X: middle - (least+most)/2, Y: top - head - r.top - f.box.MaxY}
		f.draw(p, origin)
		f.words(p, f.title, middle, top, true)
		f.words(p, f.captions, middle, origin.Y+f.box.MinY-r.foot-3, false)
	}
	return c
}

// words writes lines under each other about a middle, the first of them bold where they
// are a title.
func (f figure) words(p pencil, lines []string, middle, top float64, title bool) {
	for i, line := range lines {
		p.add("notes", sheet.Text{At: geom.Point{X: middle, Y: top - p.letter - p.row()*float64(i)}, Height: p.letter,
			Anchor: sheet.Middle, Bold: title && i == 0, Content: line})
	}
}

// draw draws a figure about its origin, and its dimensions.
func (f figure) draw(p pencil, origin geom.Point) {
	f.paint(p, origin)
	first, away := firstTier+p.letter, f.room(p).away
	p.stacked(stack{base: origin.Y + f.box.MaxY + away.most, outward: 1}, moved(f.top, origin))
	p.stacked(stack{base: origin.Y + f.box.MinY - away.least, outward: -1}, moved(f.foot, origin))
	p.stacked(stack{base: origin.X + f.box.MinX - first, outward: -1, upright: true}, moved(f.left, origin))
	p.stacked(stack{base: origin.X + f.box.MaxX + first, outward: 1, upright: true}, moved(f.right, origin))
}

func moved(dims []linear, by geom.Point) []linear {
	out := make([]linear, len(dims))
	for i, d := range dims {
		out[i] = linear{geom.Point{X: d.from.X + by.X, Y: d.from.Y + by.Y}, geom.Point{X: d.to.X + by.X, Y: d.to.Y + by.Y}, d.text}
	}
	return out
}
