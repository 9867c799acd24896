package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// A card is a female gauge for one face at one station: held square across the blade
// with its hook on the back, its side follows bevel and fuller.
type card struct {
	station Station
	section profile.CrossSection
	face    profile.Face
	words   []string
	width   float64
}

// Measures of a card, mm.
const (
	cardBody  = 16.0 // beyond its words, least behind the face
	cardHook  = 7.0  // over the back
	cardFoot  = 5.0  // under the edge
	cardGap   = 5.0
	cardText  = 3.5
	cardRow   = 5.6
	cardReach = 1.5 // of the hook beyond the centre-plane
	cardTitle = 8.0 // over the words on the head of a page
)

// cardPen draws what is cut to: fine, so that the middle of the line is plain.
var cardPen = sheet.Pen{Width: 0.13}

// cards returns the gauges of a blade at the stations of its plan, from the near end of
// the bevel to the point: one for both faces where they are alike.
func cards(b profile.Blade, p pencil, digest string) []card {
	alike := true
	for _, f := range b.Fullers {
		alike = alike && f.Size.Faces == "both"
	}
	var out []card
	for _, s := range PlanStations(b) {
		if s.X < b.Knife.Ricasso.Length {
			continue // no bevel and no fuller to look at
		}
		faces := profile.Faces()
		if alike {
			faces = faces[:1]
		}
		for _, face := range faces {
			c := card{station: s, section: b.CrossSectionAt(s.X), face: face}
			c.words = []string{"", "", b.Knife.Name + " " + digest, face.String() + " face"}
			if alike {
				c.words[3] = "either face: turn over"
			}
			at, _ := p.style.Length(s.X)
			c.words[0] = fmt.Sprintf("%s   %s %s", s.Letter, at, p.style.Unit())
			c.words[1] = s.Name
			for _, w := range c.words {
				c.width = math.Max(c.width, p.width(w))
			}
			c.width += cardBody
			out = append(out, c)
		}
	}
	return out
}

// height returns how high a card is.
func (c card) height() float64 {
	return math.Max(c.section.Top-c.section.Bottom+cardFoot, float64(len(c.words))*cardRow+2) + cardHook
}

// outline returns the card as a closed chain and the line of the face in it, with the
// centre-plane at X = 0 and the back of the blade at Y = 0. The body lies out of the
// face.
func (c card) outline() (outline, face geom.Chain, err error) {
	line, err := c.section.FaceChain(c.face)
	if err != nil {
		return outline, face, fmt.Errorf("the gauge at %s cannot be drawn: %w", c.station.Name, err)
	}
	face = line.Translate(geom.Point{Y: -c.section.Top})
	pieces := face.Pieces()
	start, end := pieces[0].Start(), pieces[len(pieces)-1].End()
	right, low := c.width, cardHook-c.height()
	corner := []geom.Point{end, {X: -cardReach, Y: end.Y}, {X: -cardReach, Y: cardHook}, {X: right, Y: cardHook}, {X: right, Y: low}, {X: start.X, Y: low}, start}
	for i := 1; i < len(corner); i++ {
		if corner[i] != corner[i-1] {
			pieces = append(pieces, geom.Line{From: corner[i-1], To: corner[i]})
		}
	}
	outline, err = geom.NewChain(pieces...)
	return outline, face, err
}

// draw draws a card with its upper left corner at a place.
func (c card) draw(p pencil, left, top float64) error {
	outline, _, err := c.outline()
	if err != nil {
		return err
	}
	origin := geom.Point{X: left + cardReach, Y: top - cardHook}
	p.add("cut", sheet.Path{Pieces: outline.Translate(origin).Pieces(), Pen: cardPen})
	right := origin.X + c.width - 2
	for i, w := range c.words {
		p.add("notes", sheet.Text{At: geom.Point{X: right, Y: origin.Y - 1.5 - float64(i)*cardRow}, Height: cardText, Bold: i == 0, Anchor: sheet.End, Content: w})
	}
	p.add("notes", sheet.Line(sheet.Pen{Width: 0.13, Dash: []float64{2, 1, 0.5, 1}}, origin.X, origin.Y, origin.X, origin.Y+cardHook))
	return nil
}

// SectionCards returns the gauges of a blade on pages of one size of paper, upright, at
// true size.
func SectionCards(b profile.Blade, o PlanOptions) ([]sheet.Sheet, error) {
	ruler, err := sheet.NewRuler()
	if err != nil {
		return nil, err
	}
	title := "Section gauges: " + b.Knife.Name
	blank, inside := o.bench(title, false)
	words := append(wrapped(ruler, "Glue to card, cut to the middle of the line. Hold square across the blade, hook on the back, at the station of the plan. "+
		"Light between card and steel: grind there. Finished sizes, before sharpening.", cardText, inside.MaxX-inside.MinX),
		wrapped(ruler, o.statement(), cardText, inside.MaxX-inside.MinX)...)
	top := inside.MaxY - cardTitle - benchRow*float64(len(words)) - cardGap
	var pages []sheet.Sheet
	p := pencil{nil, ruler, o.Lengths, cardText}
	x, y, row := 0.0, 0.0, 0.0
	turn := func() {
		pages = append(pages, blank)
		p.sheet = &pages[len(pages)-1]
		x, y, row = inside.MinX, top, 0
	}
	turn()
	for _, c := range cards(b, p, o.Digest) {
		wide, high := c.width+cardReach, c.height()
		if x > inside.MinX && x+wide > inside.MaxX-benchStrip {
			x, y, row = inside.MinX, y-row-cardGap, 0
		}
		if y-high < inside.MinY+benchStrip {
			turn()
		}
		if wide > inside.MaxX-benchStrip-x || y-high < inside.MinY+benchStrip {
			return nil, fmt.Errorf("the gauges of %s do not fit %s paper; take a larger paper", b.Knife.Name, o.Paper.Name)
		}
		if err := c.draw(p, x, y); err != nil {
			return nil, err
		}
		x, row = x+wide+cardGap, math.Max(row, high)
	}
	for i := range pages {
		p.sheet = &pages[i]
		head := sheet.Text{At: geom.Point{X: inside.MinX, Y: inside.MaxY - 4.5}, Height: benchTitle, Bold: true, Content: title}
		side := sheet.Text{At: geom.Point{X: inside.MaxX, Y: inside.MaxY - 4.5}, Height: cardText, Anchor: sheet.End, Content: fmt.Sprintf("%d of %d, %s", i+1, len(pages), o.Digest)}
		p.add("notes", p.titleBeside(head, side), side)
		p.rowsAt(words, geom.Point{X: inside.MinX, Y: inside.MaxY - cardTitle - cardText})
		p.provingLines(inside)
	}
	return pages, nil
}
