package profile

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/profile/lettering"
)

// Mark is the maker's mark, cut with a small ball in single strokes. Without a text there
// is none.
type Mark struct {
	Text          string
	Height        float64
	At, FromSpine Optional // its middle; the middle of the ricasso where not given
	Depth, Radius float64  // finished depth, and radius of the ball that cuts it
	Face          string   // "right", "left" or "both"
}

func markGroup() ParameterGroup {
	return ParameterGroup{Name: "mark", Feature: true, Meaning: "the maker's mark, engraved in single strokes before hardening", Parameters: []Parameter{
		plain(text("text", "what it says; empty for no mark", ""), Verbal,
			func(k *Knife, _ int) any { return &k.Mark.Text }),
		plain(length("height", "height of its capitals", "3 mm", 0.5, 50), Fixed,
			func(k *Knife, _ int) any { return &k.Mark.Height }),
		planar(length("at", "distance of its middle from the guard plane; the middle of the ricasso where not given", "", 0, 900), Fixed,
			func(k *Knife, _ int) any { return &k.Mark.At }),
		planar(length("from_spine", "distance of its middle under the spine line; the middle of the ricasso where not given", "", -100, 250), Fixed,
			func(k *Knife, _ int) any { return &k.Mark.FromSpine }),
		plain(length("depth", "depth on the finished face", "0.1 mm", 0.01, 1), Fixed,
			func(k *Knife, _ int) any { return &k.Mark.Depth }),
		plain(length("radius", "radius of the ball that cuts it", "0.25 mm", 0.05, 3), Fixed,
			func(k *Knife, _ int) any { return &k.Mark.Radius }),
		plain(choice("face", "face it stands on", "right", "left", "both"), Verbal,
			func(k *Knife, _ int) any { return &k.Mark.Face }),
	}}
}

// MarkedOn reports whether the mark is cut in a face.
func (k Knife) MarkedOn(face Face) bool {
	return k.Mark.Text != "" && (k.Mark.Face == "both" || k.Mark.Face == face.String())
}

// markLine returns the width of the mark's lines on the finished face, mm.
func (k Knife) markLine() float64 {
	return GrooveWidth(k.Mark.Radius, math.Min(k.Mark.Depth, k.Mark.Radius))
}

// markMiddle returns where the middle of the mark stands.
func (k Knife) markMiddle() geom.Point {
	return geom.Point{X: k.Mark.At.Or(k.Ricasso.Length / 2), Y: -k.Mark.FromSpine.Or(k.RicassoWidth() / 2)}
}

// validateMark checks that the mark can be set.
func (k Knife) validateMark() (faults document.FieldErrors) {
	if k.Mark.Text == "" {
		return nil
	}
	if _, err := lettering.Set(k.Mark.Text, k.Mark.Height, k.markLine()); err != nil {
		faults = append(faults, k.fault("mark", 0, "text", err.Error(), fmt.Sprintf("lines of %s are cut: make the letters at least %s high, or cut less deep", k.say(k.markLine()), k.say(6*k.markLine()))))
	}
	return faults
}

// MarkCut is the mark as it is milled into one face of the bar.
type MarkCut struct {
	Strokes []geom.Chain // in the blade frame, in the order of the letters
	Radius  float64      // of the ball
	bar     Bar
	floor   float64 // height of the lines' floor over the centre-plane
}

// MarkCut returns the mark of a face, so that it reads from left to right with that face
// up and the spine away.
func (b Blade) MarkCut(face Face) (MarkCut, error) {
	k := b.Knife
	set, err := lettering.Set(k.Mark.Text, k.Mark.Height, k.markLine())
	if err != nil {
		return MarkCut{}, err
	}
	at := k.markMiddle()
	c := MarkCut{Radius: k.Mark.Radius, bar: b.Bar, floor: b.Thickness(at.X)/2 - k.Mark.Depth}
	if face == Right {
		c.Strokes = set.Placed(at, 0).Chains()
		return c, nil
	}
	for _, stroke := range set.Placed(geom.Point{X: -at.X, Y: at.Y}, 0).Chains() {
		c.Strokes = append(c.Strokes, stroke.MirrorX())
	}
	return c, nil
}

// Floor returns the height of the lines' floor over the centre-plane.
func (c MarkCut) Floor() float64 { return c.floor }

// Depth returns the greatest depth from the face of the bar.
func (c MarkCut) Depth() float64 {
	box := c.Bounds()
	high := 0.0
	for _, s := range c.bar.thickness.over(box.Min.X, box.Max.X) {
		high = math.Max(high, s.value/2)
	}
	return high - c.floor
}

// Bounds returns the box of the middles of the lines.
func (c MarkCut) Bounds() r2.Box {
	out := c.Strokes[0].Bounds()
	for _, s := range c.Strokes[1:] {
		box := s.Bounds()
		out.Min = geom.Point{X: math.Min(out.Min.X, box.Min.X), Y: math.Min(out.Min.Y, box.Min.Y)}
		out.Max = geom.Point{X: math.Max(out.Max.X, box.Max.X), Y: math.Max(out.Max.Y, box.Max.Y)}
	}
	return out
}

// MarkShare is the part of the ball's radius, from the middle of a line, within which the
// floor of the line is looked at: what stands steeper is made by the same ball.
const MarkShare = 0.8

// Low returns the lowest that the face may lie once the mark is cut, NaN where the walls
// of a line stand too steep to be looked at from above.
func (c MarkCut) Low() func(x, y float64) float64 {
	type stretch struct {
		piece geom.Piece
		box   r2.Box
	}
	var all []stretch
	for _, s := range c.Strokes {
		for _, p := range s.Pieces() {
			box := p.Bounds()
			box.Min = geom.Point{X: box.Min.X - c.Radius - wallDoubt, Y: box.Min.Y - c.Radius - wallDoubt}
			box.Max = geom.Point{X: box.Max.X + c.Radius + wallDoubt, Y: box.Max.Y + c.Radius + wallDoubt}
			all = append(all, stretch{p, box})
		}
	}
	return func(x, y float64) float64 {
		away, face := math.Inf(1), c.bar.Face(x)
		for _, s := range all {
			if x >= s.box.Min.X && x <= s.box.Max.X && y >= s.box.Min.Y && y <= s.box.Max.Y {
				away = math.Min(away, geom.Distance(s.piece, geom.Point{X: x, Y: y}))
			}
		}
		lip := c.Radius
		if depth := face - c.floor; depth < c.Radius {
			lip = GrooveWidth(c.Radius, depth) / 2
		}
		switch {
		case away > lip+wallDoubt:
			return face
		case away > math.Min(MarkShare*c.Radius, lip):
			return math.NaN()
		}
		return c.floor + c.Radius - math.Sqrt(square(c.Radius)-square(away))
	}
}
