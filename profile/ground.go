package profile

import (
	"math"

	"fullerwright/profile/geom"
)

// ground is the finished blade before its fullers: the flats with their taper, and the
// bevels that the grinder takes off them.
type ground struct {
	outline    geom.Chain
	blade      stations // thickness in front of the guard plane
	tang       stations // thickness behind it
	heel       geom.Point
	edge, back bevel
}

// bevel is a bevel along one side of the blade. Its section across the blade is a line,
// or the arc of a wheel, from its rim up to the bevel line, where it meets the flat. It
// begins at the plunge line, where the wheel's or belt's edge leaves its radius.
type bevel struct {
	present bool
	rimHalf float64 // half the thickness at the rim
	height  float64 // from the rim to the bevel line, where that is constant
	tangent float64 // of the angle to the centre-plane, where that is constant; else 0
	kind    BevelKind
	wheel   float64 // radius, of a hollow bevel
	plunge  float64 // radius
	foot    float64 // distance from the guard plane at which the plunge's radius begins
}

// groundOf returns the ground blade of a knife with its outline.
func (k Knife) groundOf(outline geom.Chain) ground {
	g := ground{outline: outline, blade: k.thicknessStations(), tang: k.tangStations()}
	g.heel, _ = k.choilPieces()
	g.edge = bevel{present: true, rimHalf: k.Bevel.EdgeThickness / 2, height: k.BevelHeight(), kind: k.Bevel.Kind,
		wheel: k.Bevel.WheelRadius.Value, plunge: k.Plunge.Radius}
	if k.Bevel.Constant == ConstantAngle {
		g.edge.tangent = math.Tan(k.BevelAngle())
	}
	g.edge.foot = g.edge.footBefore(k.Ricasso.Length, k.Thickness(k.Ricasso.Length))
	g.back = k.backBevel()
	return g
}

// backBevel returns the bevel along the back: the second edge, the false edge, or none.
func (k Knife) backBevel() bevel {
	var b bevel
	length := k.FalseEdge.Length
	switch {
	case k.SecondEdge.Length > 0:
		length = k.SecondEdge.Length
		b = bevel{rimHalf: k.SecondEdge.EdgeThickness / 2, height: k.SecondEdgeHeight(), kind: k.Bevel.Kind, wheel: k.Bevel.WheelRadius.Value}
		if k.Bevel.Constant == ConstantAngle {
			b.tangent = (k.Thickness(k.Blade.Length-length)/2 - b.rimHalf) / b.height
		}
	case length > 0:
		b = bevel{rimHalf: k.FalseEdge.Thickness / 2, height: k.FalseEdgeHeight(), kind: FlatBevel}
	default:
		return bevel{}
	}
	b.present, b.plunge = true, k.Plunge.Radius
	start := k.Blade.Length - length
	b.foot = b.footBefore(start, k.Thickness(start))
	return b
}

// footBefore returns where the radius of the plunge begins, for a plunge line that is
// to be seen at a distance on the rim, where the blade is t thick.
func (b bevel) footBefore(line, t float64) float64 {
	cut := max(0, t/2-b.rimHalf)
	if cut >= b.plunge {
		return line
	}
	return line - b.plunge + rootOf(float64(2*b.plunge*cut)-float64(cut*cut))
}

// heightAt returns the height of the bevel line over the rim where the blade is t
// thick.
func (b *bevel) heightAt(t float64) float64 {
	if b.tangent > 0 {
		return max(0, t/2-b.rimHalf) / b.tangent
	}
	return b.height
}

// rise returns how far the edge of the wheel or belt stands over the bevel at x: its
// quarter circle at the plunge, 0 in front of it, and +Inf behind.
func (b *bevel) rise(x float64) float64 {
	beyond := x - b.foot
	if beyond < 0 {
		return math.Inf(1)
	}
	if beyond >= b.plunge {
		return 0
	}
	return b.plunge - rootOf(square(b.plunge)-square(b.plunge-beyond))
}

// tangStations returns the thickness of the tang by its distance from the guard plane.
func (k Knife) tangStations() stations {
	shoulder := k.Blade.Thickness - 2*k.Shoulder.FaceStep
	return stations{{-k.Tang.Length, min(shoulder, k.Tang.EndThickness.Or(shoulder))}, {0, shoulder}}
}

// thickness returns the thickness between the bevels at x.
func (g *ground) thickness(x float64) float64 {
	if x < 0 {
		return g.tang.value(x)
	}
	return g.blade.value(x)
}

// section returns the ground blade at x. In front of the point and behind the tang it
// is empty: its Bottom is not below its Top.
func (g *ground) section(x float64) CrossSection {
	c := CrossSection{X: x, Flat: g.thickness(x) / 2}
	at := x
	if x == 0 {
		at = resolution // the guard plane is the blade's side of the step
	}
	lowest, highest, there := g.sides(at)
	if !there {
		return c
	}
	c.Bottom, c.Top = lowest, highest
	if x < 0 {
		return c
	}
	c.edge = g.edge.at(x, g.rim(x, c.Bottom), c.Flat)
	c.back = g.back.at(x, c.Top, c.Flat)
	return c
}

// bevelLine returns the y of the bevel line of the edge at x, whether or not the bevel
// has begun there; NaN where there is no blade.
func (g *ground) bevelLine(x float64) float64 {
	lowest, _, there := g.sides(x)
	if !there {
		return math.NaN()
	}
	return g.rim(x, lowest) + g.edge.heightAt(g.thickness(x))
}

// sides returns the y of the edge side and of the back at x, and whether there is blade.
func (g *ground) sides(x float64) (lowest, highest float64, there bool) {
	var room [8]float64
	ys := g.outline.AppendCrossings(room[:], x)
	if len(ys) < 2 {
		return 0, 0, false
	}
	return ys[0], ys[len(ys)-1], true
}

// rim returns the y from which the bevel of the edge is measured at x, where the outline
// is lowest at the given y: a choil is a notch in a bevel that is there already.
func (g *ground) rim(x, lowest float64) float64 {
	if x < g.heel.X {
		return g.heel.Y
	}
	return lowest
}

// half returns half the thickness of the ground blade at a place; 0 outside it.
func (g *ground) half(x, y float64) float64 {
	c := g.section(x)
	return c.ground(y)
}

// bevelCut is the section of a bevel at one distance from the guard plane: half the
// thickness by the distance from the rim.
type bevelCut struct {
	present bool
	rim     float64
	height  float64 // from the rim to where it meets the flat
	rimHalf float64
	slope   float64    // of a flat bevel
	kind    BevelKind  // FlatBevel where the arc has no room
	centre  geom.Point // of an arc, X from the rim, Y over the centre-plane
	radius  float64
	rise    float64
}

// at returns the section of a bevel where the rim and half the thickness are given.
func (b *bevel) at(x, rim, flat float64) bevelCut {
	rise, height := 0.0, 0.0
	if b.present {
		rise, height = b.rise(x), b.heightAt(2*flat)
	}
	cut := flat - b.rimHalf
	if !b.present || math.IsInf(rise, 1) || cut <= 0 || height <= 0 {
		return bevelCut{}
	}
	c := bevelCut{present: true, rim: rim, height: height, rimHalf: b.rimHalf, kind: FlatBevel, slope: cut / height, rise: rise}
	switch b.kind {
	case HollowBevel:
		chord := math.Hypot(height, cut)
		if away := square(b.wheel) - square(chord/2); away > 0 {
			// The wheel stands over the bevel, its centre square over the middle of
			// the chord.
			d := math.Sqrt(away) / chord
			c.kind, c.radius = HollowBevel, b.wheel
			c.centre = geom.Point{X: height/2 - d*cut, Y: b.rimHalf + cut/2 + d*height}
		}
	case ConvexBevel:
		// The arc that leaves the flat smoothly and ends at the rim.
		c.kind, c.radius = ConvexBevel, (square(height)+square(cut))/(2*cut)
		c.centre = geom.Point{X: height, Y: flat - c.radius}
	}
	return c
}

// over returns half the thickness that the bevel leaves at a distance in from the rim;
// +Inf beyond the bevel line.
func (c *bevelCut) over(distance float64) float64 {
	if !c.present || distance > c.height {
		return math.Inf(1)
	}
	return c.surface(distance)
}

// surface is over without its ends: what the bevel would leave if it went on.
func (c *bevelCut) surface(distance float64) float64 {
	switch c.kind {
	case HollowBevel:
		return c.centre.Y - rootOf(square(c.radius)-square(distance-c.centre.X)) + c.rise
	case ConvexBevel:
		return c.centre.Y + rootOf(square(c.radius)-square(distance-c.centre.X)) + c.rise
	}
	return c.rimHalf + c.slope*distance + c.rise
}

// lineAt returns the distance in from the rim at which the bevel meets the flat of the
// given half thickness: the height of the bevel line, less in the radius of the plunge,
// and at most 0 where the plunge has not begun.
func (c *bevelCut) lineAt(flat float64) float64 {
	if !c.present {
		return 0
	}
	switch c.kind {
	case HollowBevel:
		return c.centre.X + rootOf(square(c.radius)-square(c.centre.Y+c.rise-flat))
	case ConvexBevel:
		return c.centre.X - rootOf(square(c.radius)-square(flat-c.centre.Y-c.rise))
	}
	return (flat - c.rimHalf - c.rise) / c.slope
}
