package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// FittingsSheet returns the sheets of the parts of the hilt, at true size unless the
// paper is too small, with letters to be read at the bench: guard blank, front and back;
// tang and slot together; pommel; the handle's envelope. Where the knife file gives no
// hilt the sheet says so.
func FittingsSheet(b profile.Blade, o PlanOptions) ([]sheet.Sheet, error) {
	ruler, err := sheet.NewRuler()
	if err != nil {
		return nil, err
	}
	title := "Fittings: " + b.Knife.Name
	p := pencil{&sheet.Sheet{}, ruler, o.Lengths, shopLetter}
	room := o.shopRoom(ruler)
	cells, fit := []cell{}, false
	for _, scale := range scaleSeries {
		if scale > 1 || fit {
			continue
		}
		cells, fit = nil, true
		for _, f := range fittingFigures(b, p, scale) {
			c := f.cell(p)
			cells, fit = append(cells, c), fit && c.width <= room.width && c.height <= room.height
		}
	}
	if !fit {
		return nil, fmt.Errorf("the fittings of %s do not fit %s paper; take a larger paper", b.Knife.Name, o.Paper.Name)
	}
	return shopPages(p, o, title, "Clamp blanks to drill; tape the edge to fit.", cells), nil
}

// fittingFigures returns the figures of a hilt.
func fittingFigures(b profile.Blade, p pencil, scale float64) []figure {
	k, style := b.Knife, p.style
	var out []figure
	if k.Guard.Thickness > 0 {
		out = append(out, guardFigure(b, style, scale, true), guardFigure(b, style, scale, false), guardSection(b, style, scale), slotFigure(b, style), shoulderSeat(b, style))
	}
	if k.Pommel.Length > 0 {
		out = append(out, pommelEnd(k, style, scale), pommelSection(k, style, scale))
	}
	if k.Handle.Length > 0 {
		out = append(out, handleFigure(b, style, scale), handleEnd(b, style, scale))
	}
	if len(out) == 0 {
		out = append(out, figure{title: []string{"This knife file gives no guard, handle or pommel."}, paint: func(pencil, geom.Point) {}})
	}
	return out
}

// outlineOf returns the outline of a part of the hilt about its middle, so wide and so
// high: a rectangle, or an ellipse by four cubics, which lie within 0.03 % of its half
// axes (the usual constant 0.5523, which makes them meet it at their middles).
func outlineOf(shape profile.Shape, width, height float64) []geom.Piece {
	a, b := width/2, height/2
	if shape != profile.Oval {
		return sheet.Rectangle(sheet.Pen{}, -a, -b, width, height).Pieces
	}
	const round = 4.0 / 3 * (math.Sqrt2 - 1)
	corner := func(x0, y0, x1, y1 float64) geom.Piece {
		return geom.Cubic{P0: geom.Point{X: x0, Y: y0}, P1: geom.Point{X: x0 + round*x1, Y: y0 + round*y1},
			P2: geom.Point{X: x1 + round*x0, Y: y1 + round*y0}, P3: geom.Point{X: x1, Y: y1}}
	}
	return []geom.Piece{corner(a, 0, 0, b), corner(0, b, -a, 0), corner(-a, 0, 0, -b), corner(0, -b, a, 0)}
}

// at draws pieces about an origin.
func (p pencil) at(origin geom.Point, layer string, pen sheet.Pen, pieces []geom.Piece) {
	chain, err := geom.NewChain(pieces...)
	if err != nil {
		panic("impossible: a figure's outline is none: " + err.Error())
	}
	p.add(layer, sheet.Path{Pieces: chain.Translate(origin).Pieces(), Pen: pen})
}

// box draws a rectangle by two corners about an origin.
func (p pencil) box(origin geom.Point, layer string, pen sheet.Pen, b sheet.Box) {
	p.add(layer, sheet.Rectangle(pen, origin.X+b.MinX, origin.Y+b.MinY, b.MaxX-b.MinX, b.MaxY-b.MinY))
}

// hatched draws a rectangle with hatching inside.
func (p pencil) hatched(origin geom.Point, b sheet.Box) {
	if b.MaxX-b.MinX < 1e-6 || b.MaxY-b.MinY < 1e-6 {
		return
	}
	moved := sheet.Box{MinX: origin.X + b.MinX, MinY: origin.Y + b.MinY, MaxX: origin.X + b.MaxX, MaxY: origin.Y + b.MaxY}
	p.add("hatching", sheet.Hatch(hatchPen, moved, hatchApart*math.Sqrt2))
	p.box(origin, "outline", edgePen, b)
}

// about returns a box about an origin, so wide and so high.
func about(width, height float64) sheet.Box {
	return sheet.Box{MinX: -width / 2, MinY: -height / 2, MaxX: width / 2, MaxY: height / 2}
}

// across and upAlong return dimensions of a box, and of a part of it, about its middle.
func across(width, y float64, text string) linear {
	return linear{geom.Point{X: -width / 2, Y: y}, geom.Point{X: width / 2, Y: y}, text}
}

func upAlong(height, x float64, text string) linear {
	return linear{geom.Point{X: x, Y: -height / 2}, geom.Point{X: x, Y: height / 2}, text}
}
