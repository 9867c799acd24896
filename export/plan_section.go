package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// sectionCells returns the sections of a plan, the detail of its shoulder, and the view from
// the point where that does not stand beside the side view, at the greatest scale of the
// series, up to 5:1, at which all of them go on one page. Under 2:1 they are drawn larger
// on more pages, where a page holds each.
func sectionCells(b profile.Blade, p pencil, o PlanOptions, l viewLayout) (cells []cell, scale float64, err error) {
	room := o.free()
	for _, together := range []bool{true, false} {
		for _, scale = range scaleSeries {
			if scale > 5 || together && scale < 2 {
				continue
			}
			if cells, err = cellsAt(b, p, scale); err != nil {
				return nil, 0, err
			}
			if !l.beside {
				cells = append(cells, l.end.cell(b.Knife, p, scale, highestOf(cells)))
			}
			height, widest, highest := 0.0, 0.0, 0.0
			for rest := cells; len(rest) > 0; {
				n, _, high := rowOf(rest, room.width)
				height, highest = height+high+cellGap, math.Max(highest, high)
				rest = rest[n:]
			}
			for _, c := range cells {
				widest = math.Max(widest, c.width)
			}
			if widest <= room.width && highest <= room.height && (!together || height <= room.height) {
				return cells, scale, nil
			}
		}
	}
	return nil, 0, fmt.Errorf("the sections of %s do not fit %s paper; take a larger paper", b.Knife.Name, o.Paper.Name)
}

func highestOf(cells []cell) (height float64) {
	for _, c := range cells {
		height = math.Max(height, c.height)
	}
	return height
}

func cellsAt(b profile.Blade, p pencil, scale float64) ([]cell, error) {
	var cells []cell
	for _, s := range PlanStations(b) {
		v, err := newSectionView(b, s, p.style, scale)
		if err != nil {
			return nil, err
		}
		cells = append(cells, v.cell(p))
	}
	return append(cells, shoulderCell(b, p, scale)), nil
}

// sectionView is one section with what is written about it.
type sectionView struct {
	figure
	section profile.CrossSection
	chain   geom.Chain // about its own origin, at scale
	scale   float64
}

func newSectionView(b profile.Blade, s Station, style LengthStyle, scale float64) (sectionView, error) {
	c := b.CrossSectionAt(s.X)
	chain, err := c.Chain()
	if err != nil {
		return sectionView{}, fmt.Errorf("the section at %s cannot be drawn: %w", s.Name, err)
	}
	at, _ := style.Length(s.X)
	v := sectionView{section: c, scale: scale, chain: chain.Scale(scale).Translate(geom.Point{Y: -scale * (c.Top + c.Bottom) / 2})}
	v.title = []string{fmt.Sprintf("%s–%s (%s) at %s", s.Letter, s.Letter, sayScale(scale), at), s.Name}
	v.box = boxOf(v.chain)
	v.paint = v.draw
	v.dimension(b, style)
	v.captions = sectionCaptions(b, s.X, style)
	return v, nil
}

// on returns where a place of the section lies on paper, about its own origin.
func (v sectionView) on(z, y float64) geom.Point {
	return geom.Point{X: v.scale * z, Y: v.scale * (y - (v.section.Top+v.section.Bottom)/2)}
}

// dimension finds the dimensions of a section: its thickness over it, the edge under
// it, bevels to the left, the whole and the fullers to the right.
func (v *sectionView) dimension(b profile.Blade, style LengthStyle) {
	c := v.section
	widest := widestAt(c)
	half := c.Half(profile.Right, widest)
	if s := 2 * half; s > 0 {
		v.top = append(v.top, linear{v.on(-half, widest), v.on(half, widest), style.Thickness(s)})
	}
	if rim := c.Half(profile.Right, c.Bottom); rim > 0 && half-rim > 0.01 {
		v.foot = append(v.foot, linear{v.on(-rim, c.Bottom), v.on(rim, c.Bottom), style.Thickness(2 * rim)})
	}
	if line, ok := c.EdgeBevelLine(); ok {
		v.left = append(v.left, linear{v.on(-c.Half(profile.Left, c.Bottom), c.Bottom), v.on(-c.Half(profile.Left, line), line), style.Thickness(line - c.Bottom)})
	}
	if line, ok := c.BackBevelLine(); ok {
		v.left = append(v.left, linear{v.on(-c.Half(profile.Left, line), line), v.on(-c.Half(profile.Left, c.Top), c.Top), style.Thickness(c.Top - line)})
	}
	v.right = append(v.right, linear{v.on(c.Half(profile.Right, c.Bottom), c.Bottom), v.on(c.Half(profile.Right, c.Top), c.Top), style.Thickness(c.Top - c.Bottom)})
	for _, f := range b.Fullers {
		if !cuts(f, c.X) || !f.Size.Cut(profile.Right) {
			continue
		}
		centre := onCentreline(f, c.X)
		v.right = append(v.right, linear{v.on(c.Half(profile.Right, centre.Y), centre.Y), v.on(c.Half(profile.Right, c.Top), c.Top), style.Thickness(c.Top - centre.Y)})
	}
}

// widestAt returns a y at which the section is as thick as it gets: the highest such
// place that is looked at.
func widestAt(c profile.CrossSection) float64 {
	most, at := 0.0, c.Top
	consider := func(y float64) {
		if h := c.Half(profile.Right, y); h > most+1e-6 {
			most, at = h, y
		}
	}
	if y, ok := c.BackBevelLine(); ok {
		consider(y)
	}
	if y, ok := c.Ridge(); ok {
		consider(y)
	}
	const places = 60
	for i := range places + 1 {
		consider(c.Top - (c.Top-c.Bottom)*float64(i)/places)
	}
	return at
}

// cuts reports whether a fuller is seen at x; at an open far end, whether its whole width
// is.
func cuts(f profile.Fuller, x float64) bool {
	if f.Size.OpenEnd() && x > f.EndFull {
		return false
	}
	return x > f.StartCut && x < f.EndCut
}

// sectionCaptions writes what a section cannot show as lengths: radii, depths and webs
// of the fullers, and the angle of the bevel.
func sectionCaptions(b profile.Blade, x float64, style LengthStyle) []string {
	var out []string
	for i, f := range b.Fullers {
		if !cuts(f, x) {
			continue
		}
		s := b.InSteelAt(i, x)
		name := "fuller"
		if len(b.Fullers) > 1 {
			name = fmt.Sprintf("fuller %d", i+1)
		}
		out = append(out, fmt.Sprintf("%s R %s, depth %s", name, style.Thickness(f.Size.Radius), style.Thickness(s.Depth)),
			fmt.Sprintf("width %s, web (%s)", style.Thickness(s.Width), style.Thickness(s.Web)))
	}
	if _, ok := b.CrossSectionAt(x).EdgeBevelLine(); ok {
		form := map[profile.BevelKind]string{profile.FlatBevel: "flat bevel, %.1f° a side", profile.HollowBevel: "hollow bevel, chord %.1f° a side", profile.ConvexBevel: "convex bevel, chord %.1f° a side"}
		out = append(out, fmt.Sprintf(form[b.Knife.Bevel.Kind], b.GrindingAt(x).Angle*180/math.Pi))
	}
	return out
}

// draw draws a section about its centre, without its dimensions.
func (v sectionView) draw(p pencil, centre geom.Point) {
	chain := v.chain.Translate(centre)
	p.add("hatching", hatchInside(hatchPen, chain, hatchApart))
	p.add("outline", sheet.Path{Pieces: chain.Pieces(), Pen: edgePen})
	p.add("centre-lines", sheet.Line(axisPen, centre.X, centre.Y+v.box.MinY-2.5, centre.X, centre.Y+v.box.MaxY+2.5))
}
