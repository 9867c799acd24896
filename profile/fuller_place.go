package profile

import "fullerwright/profile/geom"

// fullerPlace is a place on the centreline of a fuller of a blade.
type fullerPlace struct {
	ground        *ground
	fuller        *Fuller
	s             float64 // along the centreline
	at, direction geom.Point
	section       CrossSection // of the blade there before fullers, of one on the bevel
}

// placeAt returns the place of a fuller with the given x.
func (b *Blade) placeAt(index int, x float64) fullerPlace {
	g := &b.Fullers[index].Finished
	at, direction := g.PlaceAt(x)
	return b.place(index, g.AtX(x), at, direction)
}

// place returns the place at s, where the centreline has the given point and direction.
func (b *Blade) place(index int, s float64, at, direction geom.Point) fullerPlace {
	p := fullerPlace{ground: &b.ground, fuller: &b.Fullers[index], s: s, at: at, direction: direction}
	if p.fuller.Size.On == OnBevel {
		p.section = b.ground.section(at.X)
	}
	return p
}

// faceHalf returns half the thickness there before fullers: of the flat, or of the bevel
// that the fuller is cut into.
func (p *fullerPlace) faceHalf() float64 {
	if p.fuller.Size.On == OnBevel {
		return p.section.ground(p.at.Y)
	}
	return p.ground.thickness(p.at.X) / 2
}

// lips returns the two lips square to the centreline: upper toward the spine, lower toward
// the edge. Both lie on the centreline where the fuller does not reach the face.
func (p *fullerPlace) lips() (upper, lower geom.Point) {
	g := &p.fuller.Finished
	aside := func(by float64) geom.Point {
		return geom.Point{X: p.at.X - by*p.direction.Y, Y: p.at.Y + by*p.direction.X}
	}
	deep := g.beneath(p.s, p.faceHalf())
	level := deep.halfWidth() // were the face that
	if p.fuller.Size.On != OnBevel {
		return aside(level), aside(-level)
	}
	c, cut := p.section, g.across(p.at.X)
	under := func(by float64) float64 {
		q := aside(by)
		if q.X != c.X { // square to a centreline that lies oblique each place has a section of its own
			c, cut = p.ground.section(q.X), g.across(q.X)
		}
		return cut.height(q.Y) - c.ground(q.Y)
	}
	if level == 0 || under(0) > -near { // at a visible end it is 0 but for rounding
		return p.at, p.at
	}
	lip := func(side float64) geom.Point {
		slope := (p.section.ground(p.at.Y+side*level) - p.faceHalf()) / level
		by, steep := deep.lip(1, 0, slope)
		return aside(rootNear(under, guess{side * by, side * steep}, 0, side*g.Radius))
	}
	return lip(1), lip(-1)
}
