package profile

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
)

// FullerReading is what was measured of a fuller in one face of the bar once it was
// milled. Lengths in mm, on the bar's own face.
type FullerReading struct {
	Fuller   int // counted from 0
	Face     Face
	FromButt float64  // station of width, depth and lip
	Width    Optional // from lip to lip
	Depth    Optional // of the floor
	FromEdge Optional // from the bar's long edge at the spine to the nearer lip
	Start    Optional // from the butt to where the groove begins
	End      Optional // and to where it ends
	Second   SecondFace
}

// SecondFace says what the second face follows once the first is measured.
type SecondFace string

// What the second face may follow. Either way it lies opposite the first.
const (
	MatchFirst SecondFace = "match"    // the depth that the first face really has
	KeepWeb    SecondFace = "keep web" // the web of the design: shallower by what the first is too deep
)

// farthestReading bounds how far a groove may have come out from the design for the
// reading to be believed, mm (judgement: a zero that is further off is seen by eye).
const farthestReading = 0.5

func fullerReadingGroup() document.Group {
	count := document.Key{Name: "number", Meaning: "which fuller of the knife file, counted from 1", Kind: document.Count, Default: "1", Min: 1, Max: 50}
	return document.Group{Name: "fuller", Repeated: true, Meaning: "a fuller of the bar once it is milled, read on the bar's face; several stations are averaged", Keys: []document.Key{
		count,
		choice("face", "face it was read in", "right", "left"),
		needed("from_butt", "distance from the butt of the station where width, depth and from_edge were read", 0, 2000),
		length("width", "from lip to lip", "", 0.2, 60),
		length("depth", "of the floor under the bar's face", "", 0.02, 15),
		length("from_edge", "from the bar's long edge at the spine to the nearer lip", "", 0, 200),
		length("start", "distance from the butt of where it begins on the bar's face", "", 0, 2000),
		length("end", "distance from the butt of where it ends on the bar's face", "", 0, 2000),
		choice("second_face", "what the second face follows: the depth of the first, or the web of the design", string(MatchFirst), string(KeepWeb)),
	}}
}

func readFullers(read document.Document) []FullerReading {
	out := make([]FullerReading, read.Len("fuller"))
	for i := range out {
		value := func(key string) document.Value { return read.Value("fuller", i, key) }
		one := func(key string) Optional { return Optional{value(key).Float, value(key).Known} }
		out[i] = FullerReading{Fuller: value("number").Count - 1, FromButt: value("from_butt").Float, Width: one("width"), Depth: one("depth"),
			FromEdge: one("from_edge"), Start: one("start"), End: one("end"), Second: SecondFace(value("second_face").Text)}
		if value("face").Text == Left.String() {
			out[i].Face = Left
		}
	}
	return out
}

// validateFullers checks what can be said of the readings before the grooves are built.
func (m Measured) validateFullers(k Knife) (faults document.FieldErrors) {
	for i, r := range m.Fullers {
		switch {
		case r.Fuller >= len(k.Fullers):
			faults = append(faults, m.source.Fault("fuller", i, "number", fmt.Sprintf("the knife has %d", len(k.Fullers)), "count the [[fuller]] of the knife file from 1"))
		case !k.Fullers[r.Fuller].Cut(r.Face):
			faults = append(faults, m.source.Fault("fuller", i, "face", fmt.Sprintf("fuller %d is not cut in the %s face", r.Fuller+1, r.Face), "name the other face"))
		case !r.Width.Known && !r.Depth.Known:
			faults = append(faults, m.source.Fault("fuller", i, "width", "a reading needs the width, the depth or both", "lay a caliper across the lips"))
		}
		faults = append(faults, m.openReading(k, i)...)
		for _, before := range m.Fullers[:i] {
			if before.Fuller == r.Fuller && before.Face == r.Face && before.Second != r.Second {
				faults = append(faults, m.source.Fault("fuller", i, "second_face", "another reading of this fuller says otherwise", "say the same in all of them"))
				break
			}
		}
	}
	return faults
}

// openReading says that an open end has no place where the groove ends.
func (m Measured) openReading(k Knife, i int) (faults document.FieldErrors) {
	r := m.Fullers[i]
	if r.Fuller >= len(k.Fullers) {
		return nil
	}
	size := k.Fullers[r.Fuller]
	for _, end := range []struct {
		key  string
		read Optional
		open bool
	}{{"start", r.Start, size.OpenStart()}, {"end", r.End, size.OpenEnd()}} {
		if end.read.Known && end.open {
			faults = append(faults, m.source.Fault("fuller", i, end.key, "the fuller is open there and has no end to read", "delete it"))
		}
	}
	return faults
}

// GrooveShift is how a groove came out against the design.
type GrooveShift struct {
	Sunk  float64 // deeper, mm; negative where it is too shallow
	Wider float64 // of its radius: the cutter is that much larger than its figure, mm
	Aside float64 // toward the spine, mm
	Along float64 // toward the point, mm
}

// Shifted returns the groove as it lies shifted. A cutter whose radius is larger than its
// figure, with its tip at the height of the program, leaves the groove of the larger
// radius about an axis higher by as much: each ball of it is so.
func (g Groove) Shifted(by GrooveShift) Groove {
	up := by.Wider - by.Sunk
	out := g
	out.Radius += by.Wider
	out.Plan = append(out.Plan[:0:0], g.Plan...)
	for i := range out.Plan {
		out.Plan[i].X += by.Along
		out.Plan[i].Y += by.Aside
	}
	out.Axis = append(out.Axis[:0:0], g.Axis...)
	for i := range out.Axis {
		out.Axis[i].H += up
	}
	out.StartArc.H += up
	out.EndArc.H += up
	return out.withBends()
}

// sunkAndWider returns how far a groove came out deeper than designed, and its radius
// larger, at the station of a reading. Cut square to a level bar a floor of slope m is an
// ellipse, R across and R·sqrt(1+m²) down, so that with d' = depth/sqrt(1+m²)
//
//	R = (w² + 4·d'²)/(8·d') and d' = R - sqrt(R² - w²/4).
//
// A width alone leaves the radius as designed.
func (r FullerReading) sunkAndWider(g Groove, bar Bar) (sunk, wider float64) {
	x := bar.Butt + r.FromButt
	s := g.AtX(x)
	lean := math.Hypot(1, g.slopeAt(s))
	designed := bar.Face(x) - g.floor(s)
	switch {
	case r.Width.Known && r.Depth.Known:
		deep := r.Depth.Value / lean
		wider = (square(r.Width.Value)+4*square(deep))/(8*deep) - g.Radius
		return r.Depth.Value - designed + wider*(1-lean), wider
	case r.Depth.Known:
		return r.Depth.Value - designed, 0
	}
	return lean*(g.Radius-rootOf(square(g.Radius)-square(r.Width.Value)/4)) - designed, 0
}

// slopeAt returns the slope of the axis at s, on its straight part.
func (g Groove) slopeAt(s float64) float64 {
	i := 1
	for i < len(g.Axis)-1 && s > g.Axis[i].S {
		i++
	}
	return (g.Axis[i].H - g.Axis[i-1].H) / (g.Axis[i].S - g.Axis[i-1].S)
}

// aside returns how far toward the spine the groove lies from g, which has the depth and
// the radius that were read.
func (r FullerReading) aside(g Groove, bar Bar) Optional {
	if !r.FromEdge.Known {
		return Optional{}
	}
	x := bar.Butt + r.FromButt
	s := g.AtX(x)
	at, u := g.Place(s)
	half := r.Width.Or(2*g.HalfWidth(s, bar.Face(x))) / 2
	return Some(bar.Top - r.FromEdge.Value - half/math.Abs(u.X) - at.Y)
}

// along returns how far toward the point it lies, from the ends that were read.
func (r FullerReading) along(g Groove, bar Bar) Optional {
	from, to := Surface{bar: bar}.reach(g)
	sum, n := 0.0, 0.0
	for _, end := range []struct {
		read Optional
		s    float64
	}{{r.Start, from}, {r.End, to}} {
		if end.read.Known {
			at, _ := g.Place(end.s)
			sum, n = sum+bar.Butt+end.read.Value-at.X, n+1
		}
	}
	if n == 0 {
		return Optional{}
	}
	return Some(sum / n)
}
