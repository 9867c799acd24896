package profile

import (
	"math"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// Blade is a knife resolved into geometry, in the blade frame. The zero value is
// invalid; Build makes one. It does not change once built.
type Blade struct {
	Knife   Knife
	Outline geom.Chain // finished, closed, counterclockwise
	Fullers []Fuller
	Bar     Bar
	ground  ground
	real    Measured
}

// Build resolves a knife and the bar it is cut from. Faults are document.FieldErrors,
// all at once; the blade is zero when there are any.
func Build(k Knife, measured Measured) (Blade, error) {
	var faults document.FieldErrors
	outline, err := k.outline()
	faults = collect(faults, err)
	b := Blade{Knife: k, Outline: outline, Bar: BarOf(k, measured), ground: k.groundOf(outline), real: measured}
	for i := range k.Fullers {
		f, err := k.fuller(i, b.ground, b.Bar)
		faults = collect(faults, err)
		b.Fullers = append(b.Fullers, f)
	}
	if len(faults) > 0 {
		return Blade{}, faults
	}
	if faults := b.settleReadings(); len(faults) > 0 {
		return Blade{}, faults
	}
	return b, nil
}

// With builds a changed knife from the same real bar.
func (b Blade) With(k Knife) (Blade, error) { return Build(k, b.real) }

// collect adds the faults in err to faults.
func collect(faults document.FieldErrors, err error) document.FieldErrors {
	if more, ok := err.(document.FieldErrors); ok {
		return append(faults, more...)
	}
	return faults
}

// Thickness returns the finished thickness before fullers and bevels at x, mm.
func (b Blade) Thickness(x float64) float64 { return b.ground.blade.value(x) }

// BackAt returns the y of the back, spine or clip, at x.
func (b Blade) BackAt(x float64) float64 {
	_, highest, there := b.ground.sides(x)
	if !there {
		return math.NaN()
	}
	return highest
}

// EdgeAt returns the y of the edge side at x.
func (b Blade) EdgeAt(x float64) float64 {
	lowest, _, there := b.ground.sides(x)
	if !there {
		return math.NaN()
	}
	return lowest
}

// BevelLineAt returns the y of the bevel line of the edge at x: at the height of the
// bevel over the edge there, or over the straight edge where a choil cuts it away. It
// may lie over the back, near the point.
func (b Blade) BevelLineAt(x float64) float64 { return b.ground.bevelLine(x) }

// ClipStart returns where the clip begins on the back.
func (b Blade) ClipStart() geom.Point { return b.Knife.clipStart() }

// Point returns the point of the blade.
func (b Blade) Point() geom.Point { return b.Knife.point() }

// Section is the state of one fuller at one station, on the finished knife and on
// the bar. Lengths in mm; widths are measured square to the centreline.
type Section struct {
	X                     float64
	Thickness             float64 // finished, where the fuller is: of the flat, or of the bevel at its centreline
	Depth, Width          float64 // finished
	Web                   float64 // steel between this fuller and its twin in the other face
	MilledDepth, BarWidth float64 // from the bar's own face
	// SpineLand is the flat between its upper lip and the back, LowerLand that between
	// its lower lip and the bevel line, or the edge where it lies on the bevel; on the tang
	// they are what is left beside it.
	SpineLand, LowerLand float64
	BackBevelLand        Optional // between its upper lip and the false edge or second edge, where that is
}

// SectionAt returns the state of the fuller of the given index at x.
func (b Blade) SectionAt(index int, x float64) Section {
	f := &b.Fullers[index]
	p := b.placeAt(index, x)
	s, half, face := p.s, p.faceHalf(), b.Bar.Face(x)
	upper, lower := p.lips()
	out := Section{X: x, Thickness: 2 * half, Depth: max(0, half-f.Finished.floor(s)), Width: math.Hypot(upper.X-lower.X, upper.Y-lower.Y),
		MilledDepth: max(0, face-f.Milled.floor(s)), BarWidth: 2 * f.Milled.beneath(s, face).halfWidth()}
	out.Web = b.webAt(f, x, &out)
	c := p.section
	if f.Size.On != OnBevel {
		c = b.ground.section(x)
	}
	if c.Empty() {
		out.SpineLand, out.LowerLand = math.NaN(), math.NaN()
		return out
	}
	// Lips lie square to the centreline; over the land that is the same to within the
	// square of its slope.
	out.SpineLand = c.Top - upper.Y
	if f.Size.On == OnBevel || x < 0 {
		out.LowerLand = lower.Y - c.Bottom
		return out
	}
	out.LowerLand = lower.Y - b.ground.rim(x, c.Bottom) - b.ground.edge.heightAt(2*c.Flat)
	if line, there := c.BackBevelLine(); there {
		out.BackBevelLand = Some(line - upper.Y)
	}
	return out
}

// webAt returns the steel between the fuller and its twin in the other face at x, each as
// it lies in its face.
func (b *Blade) webAt(f *Fuller, x float64, s *Section) float64 {
	sides := 1.0
	if f.Size.Faces == "both" {
		sides = 2
	}
	if f.came == [2]*Came{} {
		return s.Thickness - sides*s.Depth
	}
	web := s.Thickness
	for _, face := range Faces() {
		if f.Size.Cut(face) {
			web -= f.On(face).DepthAt(*b, x)
		}
	}
	return web
}

// surfaceUnder returns half the thickness, before fullers, on the centreline of a
// fuller at x.
func (b Blade) surfaceUnder(f Fuller, x float64) float64 {
	if f.Size.On == OnBevel {
		at, _ := f.Finished.PlaceAt(x)
		return b.ground.half(x, at.Y)
	}
	return b.ground.thickness(x) / 2
}

// LipsAt returns the two lips of a fuller square to its centreline where that has the
// given x: upper toward the spine, lower toward the edge. Both lie on the centreline where
// it does not reach the face.
func (b Blade) LipsAt(index int, x float64) (upper, lower geom.Point) {
	p := b.placeAt(index, x)
	return p.lips()
}

// Sections returns the state of a fuller at n stations evenly between the ends of its
// full depth, ends included; n is at least 2.
func (b Blade) Sections(index, n int) []Section {
	f := b.Fullers[index]
	out := make([]Section, n)
	for i := range out {
		out[i] = b.SectionAt(index, f.StartFull+(f.EndFull-f.StartFull)*float64(i)/float64(n-1))
	}
	return out
}

// Lips returns the two lips of a fuller on the finished face as points from its near
// to its far visible end, n of each: upper toward the spine, lower toward the edge. Where it
// runs over a side of the blade or the tang, as at an open end, each goes as far as it lies
// on the steel.
func (b Blade) Lips(index, n int) (upper, lower []geom.Point) {
	f := b.Fullers[index]
	if f.leaves {
		return b.openLips(f, n)
	}
	g := f.Finished
	from, to := g.AtX(f.StartVisible), g.AtX(f.EndVisible)
	for i := range n {
		// Closer together at the ends, where the lips turn.
		t := (1 - math.Cos(math.Pi*float64(i)/float64(n-1))) / 2
		s := from + (to-from)*t
		at, u := g.Place(s)
		p := b.place(index, s, at, u)
		up, low := p.lips()
		upper, lower = append(upper, up), append(lower, low)
	}
	return upper, lower
}

// Grooves returns the milled grooves of one face: the surface that the fuller
// programs of that face must leave.
func (b Blade) Grooves(face Face) []Groove {
	var out []Groove
	for _, f := range b.Fullers {
		if f.Size.Cut(face) {
			out = append(out, f.On(face).Milled)
		}
	}
	return out
}

// Surface is a designed surface of one face of the bar, in its face frame.
type Surface struct {
	bar     Bar
	grooves []Groove
}

// FullerSurface returns the surface that the bar's face must have once the fullers of
// that face are milled, from the parameters alone.
func (b Blade) FullerSurface(face Face) Surface { return Surface{bar: b.Bar, grooves: b.Grooves(face)} }

// Height returns the height of the surface over the centre-plane at a place of the
// face, mm.
func (s Surface) Height(x, y float64) float64 {
	low := s.bar.Face(x)
	for _, g := range s.grooves {
		low = min(low, g.Height(x, y))
	}
	return low
}

// Stock returns the surface of a face of the bar before anything is milled.
func (b Blade) Stock() Surface { return Surface{bar: b.Bar} }

// Bounds returns the smallest upright box that holds every place where the surface
// lies under the face of the bar; ok is false where there is none.
func (s Surface) Bounds() (least, most geom.Point, ok bool) {
	least, most = geom.Point{X: math.Inf(1), Y: math.Inf(1)}, geom.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, g := range s.grooves {
		from, to := s.reach(g)
		widest := 0.0
		const places = 200
		for i := range places + 1 {
			at := from + (to-from)*float64(i)/places
			p, _ := g.Place(at)
			widest = max(widest, g.HalfWidth(at, s.bar.Face(p.X)))
			least = geom.Point{X: min(least.X, p.X), Y: min(least.Y, p.Y)}
			most = geom.Point{X: max(most.X, p.X), Y: max(most.Y, p.Y)}
		}
		// The widest place may stand between two of those looked at.
		widest *= 1.01
		least = geom.Point{X: least.X - widest, Y: least.Y - widest}
		most = geom.Point{X: most.X + widest, Y: most.Y + widest}
		ok = true
	}
	least.X, most.X = max(least.X, s.bar.Butt), min(most.X, s.bar.Front) // where a groove is open at the bar's end
	return least, most, ok
}

// reach returns the places along a groove at which its run-outs come up to the face
// of the bar.
func (s Surface) reach(g Groove) (from, to float64) {
	cover := func(at float64) float64 {
		p, _ := g.Place(at)
		return s.bar.Face(p.X) - g.floor(at)
	}
	end := func(inner float64, arc AxisArc, side float64) float64 {
		if cover(inner) <= 0 {
			return inner
		}
		return bisect(cover, inner, arc.S+side*(arc.Radius+g.Radius))
	}
	return end(g.Axis[0].S, g.StartArc, -1), end(g.Axis[len(g.Axis)-1].S, g.EndArc, 1)
}

// SteepestWall returns the greatest lean of the walls of a face's grooves under the
// face of the bar, radians from the level.
func (b Blade) SteepestWall(face Face) float64 {
	steepest := 0.0
	b = b.On(face)
	for i, f := range b.Fullers {
		if !f.Size.Cut(face) {
			continue
		}
		for _, s := range b.Sections(i, 21) {
			steepest = max(steepest, math.Acos(max(0, 1-s.MilledDepth/f.Milled.Radius)))
		}
	}
	return steepest
}
