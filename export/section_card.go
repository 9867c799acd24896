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
	cardBody   = 16.0 // beyond its words, least behind the face
	cardHook   = 7.0  // over the back
	cardFoot   = 5.0  // under the edge
	cardGap    = 5.0
	cardText   = 3.5
	cardRow    = 5.6
	cardReach  = 1.5 // of the hook beyond the centre-plane
	cardLine   = 100.0
	cardStrip  = 9.0 // beside and under the cards, for the check lines
	cardHeader = 33.0
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
	var pages []sheet.Sheet
	p := pencil{nil, ruler, o.Lengths, cardText}
	x, y, row := 0.0, 0.0, 0.0
	turn := func() {
		pages = append(pages, sheet.Sheet{Title: "Section gauges: " + b.Knife.Name, Width: o.Paper.Width, Height: o.Paper.Height,
			Description: fmt.Sprintf("%s: section gauges at true size, parameters %s.", b.Knife.Name, o.Digest)})
		p.sheet = &pages[len(pages)-1]
		x, y, row = planFrame, o.Paper.Height-planFrame-cardHeader, 0
	}
	turn()
	for _, c := range cards(b, p, o.Digest) {
		wide, high := c.width+cardReach, c.height()
		if x > planFrame && x+wide > o.Paper.Width-planFrame-cardStrip {
			x, y, row = planFrame, y-row-cardGap, 0
		}
		if y-high < planFrame+cardStrip {
			turn()
		}
		if err := c.draw(p, x, y); err != nil {
			return nil, err
		}
		x, row = x+wide+cardGap, math.Max(row, high)
	}
	for i := range pages {
		p.sheet = &pages[i]
		p.cardHeading(b, o, fmt.Sprintf("%d of %d", i+1, len(pages)))
	}
	return pages, nil
}

// cardHeading writes what the gauges are and draws the lines that prove the scale.
func (p pencil) cardHeading(b profile.Blade, o PlanOptions, page string) {
	s := p.sheet
	left, top := float64(planFrame), s.Height-planFrame
	p.add("notes",
		sheet.Text{At: geom.Point{X: left, Y: top - 4.5}, Height: 4.5, Bold: true, Content: "Section gauges: " + b.Knife.Name},
		sheet.Text{At: geom.Point{X: s.Width - planFrame, Y: top - 4.5}, Height: cardText, Anchor: sheet.End, Content: page + ", " + o.Digest})
	for i, line := range []string{
		"Print at actual size, 100 %. Glue to card, cut to the middle of the line.",
		"Hold square across the blade, hook on the back, at the station of the plan.",
		"Light between card and steel: grind there. Finished sizes, before sharpening.",
	} {
		p.add("notes", sheet.Text{At: geom.Point{X: left, Y: top - 11.5 - 5.4*float64(i)}, Height: cardText, Content: line})
	}
	p.checkLine(geom.Point{X: s.Width - planFrame - cardLine, Y: planFrame + 1}, geom.Point{X: 1})
	p.checkLine(geom.Point{X: s.Width - planFrame - 4, Y: planFrame + 12}, geom.Point{Y: 1})
}

// checkLine draws a line of 100 mm along a direction with its length.
func (p pencil) checkLine(from, along geom.Point) {
	to := geom.Point{X: from.X + cardLine*along.X, Y: from.Y + cardLine*along.Y}
	p.line(cardPen, from, to)
	for _, end := range []geom.Point{from, to} {
		p.line(cardPen, geom.Point{X: end.X - 1.5*along.Y, Y: end.Y - 1.5*along.X}, geom.Point{X: end.X + 1.5*along.Y, Y: end.Y + 1.5*along.X})
	}
	middle := geom.Point{X: (from.X + to.X) / 2, Y: (from.Y + to.Y) / 2}
	p.label(sheet.Text{At: geom.Point{X: middle.X + along.Y*cardText/2, Y: middle.Y + along.X*0.8}, Height: cardText, Anchor: sheet.Middle, Upright: along.Y != 0, Content: "100 mm"})
}
