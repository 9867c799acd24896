package profile

import (
	"math"

	"fullerwright/profile/geom"
)

// GroundLine is a line on the finished face where two ground surfaces meet: the bevel
// line with its plunge, the lower bound of the false edge or second edge, or the ridge
// where both bevels meet.
type GroundLine struct {
	Name   string
	Points []geom.Point // toward the point of the blade, within lineChord of each other
}

// lineChord is how far apart, along the blade, the points of a ground line are, mm.
// Over it the plunge's curve, the sharpest, departs from its chord by less than 0.02 mm.
const lineChord = 0.25

// touching is how near two bevel lines may come to each other before there is a ridge
// and no flat, mm.
const touching = 1e-6

// GroundLines returns the lines that the grinder leaves on the faces.
func (b Blade) GroundLines() []GroundLine {
	back := "false edge"
	if b.Knife.SecondEdge.Length > 0 {
		back = "second edge"
	}
	var out []GroundLine
	for _, line := range []struct {
		name string
		at   func(CrossSection) (float64, bool)
	}{{"bevel line", CrossSection.EdgeBevelLine}, {back, CrossSection.BackBevelLine}, {"ridge", CrossSection.Ridge}} {
		out = append(out, b.trace(line.name, line.at)...)
	}
	return out
}

// trace follows a line of the sections along the blade; where it is broken off, another
// begins.
func (b Blade) trace(name string, at func(CrossSection) (float64, bool)) (out []GroundLine) {
	length := b.Knife.Blade.Length
	n := int(math.Ceil(length / lineChord))
	on := false
	// A fuller on the bevel takes the line away with the steel.
	where := func(x float64) (y float64, there bool) {
		c := b.CrossSectionAt(x)
		if y, there = at(c); there {
			there = c.Half(Right, y) > c.ground(y)-near
		}
		return y, there
	}
	add := func(x float64) bool {
		y, there := where(x)
		if there {
			out[len(out)-1].Points = append(out[len(out)-1].Points, geom.Point{X: x, Y: y})
		}
		return there
	}
	is := func(x float64) bool { _, there := where(x); return there }
	for i := range n + 1 {
		x := math.Min(float64(i)*lineChord, length-resolution)
		switch there := is(x); {
		case there && !on:
			out = append(out, GroundLine{Name: name})
			if i > 0 {
				add(edgeOf(is, x, x-lineChord))
			}
			add(x)
			on = true
		case there:
			add(x)
		case on:
			add(edgeOf(is, x-lineChord, x))
			on = false
		}
	}
	return out
}

// edgeOf returns the last place, from one where something is so toward one where it is
// not, at which it still is.
func edgeOf(is func(float64) bool, yes, no float64) float64 {
	for math.Abs(no-yes) > near {
		middle := (yes + no) / 2
		if is(middle) {
			yes = middle
		} else {
			no = middle
		}
	}
	return yes
}

// Ridge returns where the bevels of both sides meet at this section without a flat
// between them, and whether they do.
func (c CrossSection) Ridge() (y float64, ok bool) {
	if !c.edge.present || !c.back.present || c.edgeLine() < c.backLine()-touching {
		return 0, false
	}
	y = c.meeting(math.Max(c.backLine(), c.Bottom), math.Min(c.edgeLine(), c.Top))
	return y, y > c.Bottom+near && y < c.Top-near
}
