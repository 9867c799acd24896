package export

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/profile/geom"
)

// feature is a named place of the blade, in the blade frame; it is dimensioned by its
// distance from the guard plane.
type feature struct {
	name string
	at   geom.Point
}

// spineFeatures returns the features that are dimensioned over the side view.
func spineFeatures(b profile.Blade) []feature {
	k := b.Knife
	var out []feature
	for i := range b.Fullers {
		name := "fuller"
		if len(b.Fullers) > 1 {
			name = fmt.Sprintf("fuller %d", i+1)
		}
		out = append(out, fullerEnds(b, i, name)...)
	}
	out = append(out, feature{"clip start", b.ClipStart()})
	if k.FalseEdge.Length > 0 {
		out = append(out, onBack(b, "false edge", k.Blade.Length-k.FalseEdge.Length))
	}
	if k.SecondEdge.Length > 0 {
		out = append(out, onBack(b, "second edge", k.Blade.Length-k.SecondEdge.Length))
	}
	return out
}

// fullerEnds returns the ends of a fuller as its file gives them. An open near end is that
// of the steel; at an open far end it is the place where the last of it leaves the blade.
func fullerEnds(b profile.Blade, index int, name string) []feature {
	f := b.Fullers[index]
	from, to, how := f.StartVisible, f.EndVisible, ""
	if f.Size.Ends == profile.FullDepthEnds {
		from, to, how = f.StartFull, f.EndFull, " full depth"
	}
	var out []feature
	if !f.Size.OpenStart() {
		out = append(out, feature{name + how + " from", onCentreline(f, from)})
	}
	if !f.Size.OpenEnd() {
		return append(out, feature{name + how + " to", onCentreline(f, to)})
	}
	at := onCentreline(f, f.EndVisible)
	at.Y = math.Max(b.EdgeAt(at.X-1e-6), math.Min(at.Y, b.BackAt(at.X-1e-6)))
	return append(out, feature{name + " leaves at", at})
}

func onCentreline(f profile.Fuller, x float64) geom.Point {
	at, _ := f.Finished.Place(f.Finished.AtX(x))
	return at
}

func onBack(b profile.Blade, name string, x float64) feature {
	return feature{name, geom.Point{X: x, Y: b.BackAt(x)}}
}

// edgeFeatures returns the features that are dimensioned under the side view: those of
// the edge, of the tang and of the hilt.
func edgeFeatures(b profile.Blade, balance geom.Point) []feature {
	k, stack := b.Knife, b.Knife.StackUp()
	under := func(name string, x, width float64) feature {
		return feature{name, geom.Point{X: x, Y: middleOfTang(k) - width/2}}
	}
	edge := func(name string, x float64) feature { return feature{name, geom.Point{X: x, Y: b.EdgeAt(x)}} }
	out := []feature{edge("plunge line", k.Ricasso.Length)}
	if k.Ricasso.Choil > 0 {
		out = append(out, edge("heel", k.Ricasso.Length+k.Ricasso.Choil))
	}
	if k.Edge.BellyLength > 0 {
		out = append(out, edge("belly", k.Blade.Length-k.Edge.BellyLength))
	}
	out = append(out, feature{"point", b.Point()}, feature{"tang end", geom.Point{X: -stack.Tang, Y: middleOfTang(k) - k.Tang.EndWidth/2}})
	if stack.Rod > stack.Tang {
		out = append(out, feature{"thread end", geom.Point{X: -stack.Rod, Y: middleOfTang(k)}})
	}
	before := 0.0
	for _, part := range []feature{under("guard back", -stack.Guard, k.Guard.Length), under("handle front", -stack.Spacers, k.Handle.Width),
		under("handle end", -stack.Handle, k.Handle.Width), under("pommel end", -stack.Pommel, k.Pommel.Width)} {
		if -part.at.X > before+1e-9 {
			out = append(out, part)
			before = -part.at.X
		}
	}
	for _, i := range ownHoles(b) {
		out = append(out, feature{holeName(i), b.Knife.Holes[i].Place()})
	}
	return append(out, feature{"balance", geom.Point{X: balance.X, Y: balance.Y}})
}

// middleOfTang returns the y of the middle of the tang.
func middleOfTang(k profile.Knife) float64 { return -k.ShoulderTop() - k.Tang.Width/2 }

// hiltPart is a part of the hilt in outline, in the blade frame: behind the guard plane
// from one distance to another, so wide about the middle of the tang and so thick about
// the centre-plane.
type hiltPart struct {
	name                       string
	from, to, width, thickness float64
}

// hiltParts returns the parts of the hilt that a knife has.
func hiltParts(k profile.Knife) []hiltPart {
	s := k.StackUp()
	var out []hiltPart
	for _, p := range []hiltPart{
		{"guard", 0, s.Guard, k.Guard.Length, k.Guard.Width}, {"spacers", s.Guard, s.Spacers, k.Handle.Width, k.Handle.Thickness},
		{"handle", s.Spacers, s.Handle, k.Handle.Width, k.Handle.Thickness}, {"pommel", s.Handle, s.Pommel, k.Pommel.Width, k.Pommel.Thickness},
	} {
		if p.to > p.from {
			out = append(out, p)
		}
	}
	return out
}

// highest and lowest return the y between which the knife with its hilt lies.
func highest(b profile.Blade) float64 {
	y := b.Outline.Bounds().Max.Y
	for _, p := range hiltParts(b.Knife) {
		y = math.Max(y, middleOfTang(b.Knife)+p.width/2)
	}
	return y
}

func lowest(b profile.Blade) float64 {
	y := b.Outline.Bounds().Min.Y
	for _, p := range hiltParts(b.Knife) {
		y = math.Min(y, middleOfTang(b.Knife)-p.width/2)
	}
	return y
}

// halfThickest returns half the greatest thickness of knife and hilt.
func halfThickest(b profile.Blade) float64 {
	half := 0.0
	for _, s := range b.Knife.Taper {
		half = math.Max(half, s.Thickness/2)
	}
	half = math.Max(half, b.Knife.Blade.Thickness/2)
	for _, p := range hiltParts(b.Knife) {
		half = math.Max(half, p.thickness/2)
	}
	return half
}

// silhouette returns half the greatest thickness at a distance from the guard plane,
// before fullers: what is seen of it from the back.
func silhouette(b profile.Blade, x float64) float64 {
	c := b.CrossSectionAt(x)
	if c.Empty() {
		return 0
	}
	const places = 24
	half := 0.0
	consider := func(y float64) { half = math.Max(half, b.GroundHalf(x, y)) }
	for i := range places + 1 {
		consider(c.Bottom + (c.Top-c.Bottom)*float64(i)/places)
	}
	for _, line := range []func() (float64, bool){c.EdgeBevelLine, c.BackBevelLine, c.Ridge} {
		if y, ok := line(); ok {
			consider(y)
		}
	}
	return half
}
