package profile

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/profile/document"
)

// Came is how a fuller came out in one face, from all readings of it.
type Came struct {
	Shift      GrooveShift
	RadiusRead bool    // width and depth were both read, and with them the radius
	Spread     float64 // greatest difference between the depths that the readings say, mm
	Second     SecondFace
	again      bool // the face is to be touched up to the design
}

// mean is a running mean.
type mean struct{ sum, count float64 }

func (m *mean) add(o Optional) {
	if o.Known {
		m.sum, m.count = m.sum+o.Value, m.count+1
	}
}

func (m mean) value() float64 { return m.sum / math.Max(1, m.count) }

// cameRounds is how often depth and place are worked out in turn: on a sloping floor the
// depth at a station depends on where the groove lies, and the place of its ends on how
// deep it is. Each round leaves less than a tenth of the error.
const cameRounds = 8

// cameOut returns how a fuller came out in a face, nil where it was not read there.
func (m Measured) cameOut(index int, face Face, g Groove, bar Bar) *Came {
	var readings []FullerReading
	for _, r := range m.Fullers {
		if r.Fuller == index && r.Face == face {
			readings = append(readings, r)
		}
	}
	if len(readings) == 0 {
		return nil
	}
	out := Came{Second: readings[0].Second}
	for range cameRounds {
		out.settle(readings, g, bar)
	}
	return &out
}

// settle works out the depth at the place known so far, and then the place.
func (c *Came) settle(readings []FullerReading, g Groove, bar Bar) {
	var sunk, wider, aside, along mean
	least, most := math.Inf(1), math.Inf(-1)
	there := g.Shifted(GrooveShift{Aside: c.Shift.Aside, Along: c.Shift.Along})
	for _, r := range readings {
		deeper, larger := r.sunkAndWider(there, bar)
		least, most = math.Min(least, deeper), math.Max(most, deeper)
		sunk.add(Some(deeper))
		wider.add(Optional{larger, r.Width.Known && r.Depth.Known})
	}
	c.Shift.Sunk, c.Shift.Wider = sunk.value(), wider.value()
	c.RadiusRead, c.Spread = wider.count > 0, most-least
	lies := g.Shifted(c.Shift)
	for _, r := range readings {
		aside.add(r.aside(lies, bar))
		along.add(r.along(lies, bar))
	}
	c.Shift.Aside += aside.value()
	c.Shift.Along += along.value()
}

// settleReadings works out how each fuller came out, and says which readings cannot be
// true.
func (b *Blade) settleReadings() (faults document.FieldErrors) {
	for i, r := range b.real.Fullers {
		f := b.Fullers[r.Fuller]
		fault := func(key, rule, hint string) {
			faults = append(faults, b.real.source.Fault("fuller", i, key, rule, hint))
		}
		x := b.Bar.Butt + r.FromButt
		if x < f.StartFull || x > f.EndFull {
			fault("from_butt", fmt.Sprintf("fuller %d has its full depth from %s to %s from the butt", r.Fuller+1, b.Knife.say(f.StartFull-b.Bar.Butt), b.Knife.say(f.EndFull-b.Bar.Butt)),
				"read it between the two")
			continue
		}
		if r.Width.Known && !r.Depth.Known && r.Width.Value >= 2*f.Milled.Radius {
			fault("width", fmt.Sprintf("a groove of radius %s is at most %s wide", b.Knife.say(f.Milled.Radius), b.Knife.say(2*f.Milled.Radius)), "measure again, and read the depth as well")
			continue
		}
		key := "depth"
		if !r.Depth.Known {
			key = "width"
		}
		sunk, wider := r.sunkAndWider(f.Milled, b.Bar)
		if math.Abs(sunk) > farthestReading {
			fault(key, fmt.Sprintf("makes the fuller %s deeper than designed; more than %s either way is not believed", b.Knife.say(sunk), b.Knife.say(farthestReading)), "measure again; was from_butt right?")
		}
		if share := math.Abs(wider) / f.Milled.Radius; share > mostRadiusOff {
			fault("width", fmt.Sprintf("with that depth it makes the radius %s, and it was designed as %s", b.Knife.say(f.Milled.Radius+wider), b.Knife.say(f.Milled.Radius)), "measure both again, or leave one out")
		}
	}
	if len(faults) > 0 {
		return faults
	}
	for i := range b.Fullers {
		f := &b.Fullers[i]
		for _, face := range Faces() {
			f.came[face] = b.real.cameOut(i, face, f.Milled, b.Bar)
			faults = append(faults, b.misplaced(i, face)...)
		}
	}
	return faults
}

// misplaced says that the place of a fuller cannot be as it was read.
func (b *Blade) misplaced(index int, face Face) (faults document.FieldErrors) {
	came := b.Fullers[index].came[face]
	if came == nil {
		return nil
	}
	entry := slices.IndexFunc(b.real.Fullers, func(r FullerReading) bool { return r.Fuller == index && r.Face == face })
	for _, off := range []struct {
		key, way string
		by       float64
	}{{"from_edge", "nearer to the spine", came.Shift.Aside}, {"start", "nearer to the point", came.Shift.Along}} {
		if math.Abs(off.by) > farthestPlace {
			faults = append(faults, b.real.source.Fault("fuller", entry, off.key,
				fmt.Sprintf("puts the fuller %s %s than designed; more than %s either way is not believed", b.Knife.say(off.by), off.way, b.Knife.say(farthestPlace)), "measure again"))
		}
	}
	return faults
}

// farthestPlace bounds how far beside its place a groove may lie for the reading to be
// believed, mm (judgement: more is the wrong end or the wrong edge).
const farthestPlace = 2

// mostRadiusOff is how far a radius by width and depth may be off, as a part of it, to be
// believed (as far as a cutter may be off its nominal diameter in a shop file).
const mostRadiusOff = 0.1

// Came returns how the fuller came out in a face, and whether it was read there.
func (f Fuller) Came(face Face) (Came, bool) {
	if f.came[face] == nil {
		return Came{}, false
	}
	return *f.came[face], true
}

// risen returns the shift with the depth of the design: a touch-up goes where the groove
// lies, and has the cutter that made it.
func (s GrooveShift) risen() GrooveShift {
	s.Sunk = 0
	return s
}

// ShiftIn returns how far from the design the fuller lies in a face: as it came out where
// it was read, as the second face follows the first where only that one was read. The
// second face has the designed radius: what the cutter really leaves is not planned.
func (f Fuller) ShiftIn(face Face) GrooveShift {
	first := f.came[1-face]
	switch {
	case f.came[face] != nil && f.came[face].again:
		return f.came[face].Shift.risen()
	case f.came[face] != nil:
		return f.came[face].Shift
	case first == nil:
		return GrooveShift{}
	}
	shift := first.Shift
	if first.again {
		shift = shift.risen()
	}
	shift.Wider = 0
	if first.Second == KeepWeb {
		shift.Sunk = -shift.Sunk
	}
	return shift
}

// design returns the fuller as designed.
func (f Fuller) design() Fuller {
	if f.designed != nil {
		return *f.designed
	}
	return f
}

// On returns the fuller as it lies, or is to lie, in one face.
func (f Fuller) On(face Face) Fuller {
	f = f.design()
	by := f.ShiftIn(face)
	if by == (GrooveShift{}) {
		return f
	}
	designed := f
	f.designed = &designed
	f.Milled, f.Finished = f.Milled.Shifted(by), f.Finished.Shifted(by)
	f.StartFull, f.EndFull = f.StartFull+by.Along, f.EndFull+by.Along
	f.StartVisible, f.EndVisible = f.StartVisible+by.Along, f.EndVisible+by.Along
	f.StartCut, f.EndCut = f.StartCut+by.Along, f.EndCut+by.Along
	f.kinks = append([]float64(nil), f.kinks...)
	for i := range f.kinks {
		f.kinks[i] += by.Along
	}
	return f
}

// On returns the blade with its fullers as they lie, or are to lie, in one face.
func (b Blade) On(face Face) Blade {
	fullers := make([]Fuller, len(b.Fullers))
	for i, f := range b.Fullers {
		fullers[i] = f.On(face)
	}
	b.Fullers = fullers
	return b
}

// FullersMilled reports whether the fullers of a face are milled already, because one of
// them was read.
func (b Blade) FullersMilled(face Face) bool {
	for _, f := range b.Fullers {
		if f.came[face] != nil {
			return true
		}
	}
	return false
}

// Designed returns the blade as if no fuller had been read.
func (b Blade) Designed() Blade {
	fullers := make([]Fuller, len(b.Fullers))
	for i, f := range b.Fullers {
		fullers[i] = f.design()
		fullers[i].came = [2]*Came{}
	}
	b.Fullers = fullers
	return b
}

// Again returns the blade whose fullers of a face, as far as they came out shallower than
// designed by more than least, are to be touched up; and whether there are any.
func (b Blade) Again(face Face, least float64) (Blade, bool) {
	fullers := append([]Fuller(nil), b.Fullers...)
	any := false
	for i := range fullers {
		if came := fullers[i].came[face]; came != nil && came.Shift.Sunk < -least {
			touched := *came
			touched.again = true
			fullers[i].came[face] = &touched
			any = true
		}
	}
	b.Fullers = fullers
	return b, any
}

// ToTouchUp reports whether the fuller is to be touched up in a face.
func (f Fuller) ToTouchUp(face Face) bool { return f.came[face] != nil && f.came[face].again }

// AsMilled returns the surface of a face of the bar as it is now: with the fullers that
// are milled already as they came out.
func (b Blade) AsMilled(face Face) Surface {
	s := Surface{bar: b.Bar}
	if !b.FullersMilled(face) {
		return s
	}
	for _, f := range b.Fullers {
		if !f.Size.Cut(face) {
			continue
		}
		g := f.design().Milled
		if f.came[face] != nil {
			g = g.Shifted(f.came[face].Shift)
		}
		s.grooves = append(s.grooves, g)
	}
	return s
}
