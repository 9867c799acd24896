package profile

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// The outline is built in this order, each feature on what the ones before left:
// spine, clip, belly, straight edge with its recurve, choil, ricasso, shoulders, tang.

// outline returns the finished outline as a closed chain, counterclockwise.
func (k Knife) outline() (geom.Chain, error) {
	chain, err := k.uncheckedOutline()
	if err != nil {
		return geom.Chain{}, err
	}
	if crossings := chain.SelfCrossings(); len(crossings) > 0 {
		var faults document.FieldErrors
		for _, c := range crossings {
			faults = append(faults, k.fault("blade", 0, "length",
				fmt.Sprintf("the outline crosses itself %s from the guard plane, %s from the spine line", k.say(c.Point.X), k.say(-c.Point.Y)),
				"look at the features near that place: clip, belly, choil, shoulders"))
		}
		return geom.Chain{}, faults
	}
	return chain, nil
}

// QuickOutline returns the finished outline as Build does, but looks only at what makes
// an outline: the blade, its tang and their limits to each other, not whether it crosses
// itself. It is for searches that try thousands of knives. From the spine end of the
// guard plane it goes round the tang, along the edge to the point and back along the back.
func (k Knife) QuickOutline() (geom.Chain, error) {
	if faults := append(k.validateOutline(), k.validateTang()...); len(faults) > 0 {
		return geom.Chain{}, faults
	}
	return k.uncheckedOutline()
}

func (k Knife) uncheckedOutline() (geom.Chain, error) {
	var pieces []geom.Piece
	pieces = append(pieces, k.spinePieces()...)
	pieces = append(pieces, k.clipPiece())
	pieces = append(pieces, k.edgePieces()...)
	tang, err := k.tangPieces()
	if err != nil {
		return geom.Chain{}, err
	}
	chain, err := geom.NewChain(dropEmpty(append(pieces, tang...))...)
	if err != nil {
		return geom.Chain{}, document.FieldErrors{k.fault("blade", 0, "length", "the outline does not close: "+err.Error(), "check clip, belly and shoulders")}
	}
	return chain.Reverse(), nil
}

// dropEmpty leaves out the straight pieces of no length that features of size zero make.
func dropEmpty(pieces []geom.Piece) []geom.Piece {
	kept := pieces[:0]
	for _, piece := range pieces {
		if line, ok := piece.(geom.Line); ok && math.Hypot(line.To.X-line.From.X, line.To.Y-line.From.Y) < resolution {
			continue
		}
		kept = append(kept, piece)
	}
	return kept
}

// clipStart returns where the clip begins on the back.
func (k Knife) clipStart() geom.Point {
	return geom.Point{X: k.Blade.Length - k.Clip.Length, Y: k.Spine.Rise}
}

// point returns the point of the blade.
func (k Knife) point() geom.Point { return geom.Point{X: k.Blade.Length, Y: -k.Clip.Drop} }

// spineArc returns the curved part of the back, from the plunge line to the clip, and
// whether there is one. It leaves the spine line smoothly.
func (k Knife) spineArc() (geom.Arc, bool) {
	start, end := geom.Point{X: k.Ricasso.Length}, k.clipStart()
	if math.Abs(k.Spine.Rise) < resolution || end.X-start.X < resolution {
		return geom.Arc{}, false
	}
	return geom.ArcTangent(start, geom.Point{X: 1}, end), true
}

func (k Knife) spinePieces() []geom.Piece {
	arc, curved := k.spineArc()
	if !curved {
		return []geom.Piece{geom.Line{From: geom.Point{}, To: k.clipStart()}}
	}
	return []geom.Piece{geom.Line{From: geom.Point{}, To: arc.Start()}, arc}
}

// spineTangent returns the direction of the back where the clip begins.
func (k Knife) spineTangent() geom.Point {
	if arc, curved := k.spineArc(); curved {
		return arc.Tangent(1)
	}
	return geom.Point{X: 1}
}

// dropPointSag returns the sine of the angle between the back and the chord of the
// clip, and the greatest swell of a drop point: beyond it the curve would pass the
// point before turning to it.
func (k Knife) dropPointSag() (sine, most float64) {
	start, end, tangent := k.clipStart(), k.point(), k.spineTangent()
	chord := math.Hypot(end.X-start.X, end.Y-start.Y)
	ux, uy := (end.X-start.X)/chord, (end.Y-start.Y)/chord
	sine = float64(ux*tangent.Y) - float64(uy*tangent.X)
	cosine := float64(ux*tangent.X) + float64(uy*tangent.Y)
	if sine <= 0 || cosine <= 0 {
		return math.Max(0, sine), 0
	}
	// The control point lies 2·sag/sine along the tangent; its foot on the chord
	// must stay on the chord.
	return sine, chord * sine / (2 * cosine) * (1 - 1e-9)
}

// clipPiece returns the clip: the arc of the given sag when it is hollow, a line when
// it is straight, and for a drop point the parabola that leaves the back smoothly and
// swells by the sag over its chord.
func (k Knife) clipPiece() geom.Piece {
	start, end := k.clipStart(), k.point()
	switch {
	case k.Clip.Sag > resolution:
		return geom.ArcThrough(start, end, -k.Clip.Sag)
	case k.Clip.Sag < -resolution:
		sine, _ := k.dropPointSag()
		tangent, reach := k.spineTangent(), 2*-k.Clip.Sag/sine
		control := geom.Point{X: start.X + reach*tangent.X, Y: start.Y + reach*tangent.Y}
		return geom.QuadraticAsCubic(start, control, end)
	}
	return geom.Line{From: start, To: end}
}

// bellyStart returns where the straight edge begins to curve up.
func (k Knife) bellyStart() geom.Point {
	return geom.Point{X: k.Blade.Length - k.Edge.BellyLength, Y: -k.Blade.Width}
}

// edgePieces returns the pieces from the point back to the guard plane.
func (k Knife) edgePieces() []geom.Piece {
	pieces := k.bellyPieces()
	heel, ricasso := k.choilPieces()
	pieces = append(pieces, k.straightEdge(heel)...)
	return append(pieces, ricasso...)
}

func (k Knife) bellyPieces() []geom.Piece {
	start, end := k.bellyStart(), k.point()
	if k.Edge.BellyLength < resolution {
		return nil
	}
	if k.Edge.Fullness == 0 {
		return []geom.Piece{geom.Line{From: end, To: start}}
	}
	// The tangents at both ends meet at the corner; the control points lie the
	// fullness of the way to it.
	corner := geom.Point{X: end.X - (end.Y-start.Y)/math.Tan(k.Edge.PointAngle.Radians()), Y: start.Y}
	toward := func(p geom.Point) geom.Point {
		return geom.Point{X: p.X + k.Edge.Fullness*(corner.X-p.X), Y: p.Y + k.Edge.Fullness*(corner.Y-p.Y)}
	}
	return []geom.Piece{geom.Cubic{P0: end, P1: toward(end), P2: toward(start), P3: start}}
}

// straightEdge returns the edge from the belly back to the heel. A recurve draws its
// middle in by two cubics that are level at both ends and in the middle.
func (k Knife) straightEdge(heel geom.Point) []geom.Piece {
	start := k.bellyStart()
	if k.Edge.Recurve < resolution {
		return []geom.Piece{geom.Line{From: start, To: heel}}
	}
	middle := geom.Point{X: (start.X + heel.X) / 2, Y: start.Y + k.Edge.Recurve}
	half := func(a, b geom.Point) geom.Piece {
		x := (a.X + b.X) / 2
		return geom.Cubic{P0: a, P1: geom.Point{X: x, Y: a.Y}, P2: geom.Point{X: x, Y: b.Y}, P3: b}
	}
	return []geom.Piece{half(start, middle), half(middle, heel)}
}

// choilPieces returns the heel, where the edge begins, and the pieces from there back
// to the guard plane: the choil, if any, and the edge side of the ricasso.
func (k Knife) choilPieces() (heel geom.Point, pieces []geom.Piece) {
	plunge, c := k.Ricasso.Length, k.Ricasso.Choil
	ricasso, edge := -k.RicassoWidth(), -k.Blade.Width
	guard := geom.Point{X: 0, Y: ricasso}
	if c < resolution {
		heel = geom.Point{X: plunge, Y: edge}
		return heel, []geom.Piece{geom.Line{From: heel, To: guard}}
	}
	heel = geom.Point{X: plunge + c, Y: edge}
	rise := ricasso - edge
	back := geom.Point{X: plunge - rootOf(float64(c*c)-float64(rise*rise)), Y: ricasso}
	sweep := geom.Angle(math.Atan2(rise, back.X-plunge))
	notch := geom.Arc{Centre: geom.Point{X: plunge, Y: edge}, Radius: c, From: 0, Sweep: sweep}
	return heel, []geom.Piece{notch, geom.Line{From: back, To: guard}}
}

// tangPieces returns the pieces from the edge side of the guard plane round the tang
// to the spine side of it.
func (k Knife) tangPieces() ([]geom.Piece, error) {
	top, bottom := -k.ShoulderTop(), -k.ShoulderTop()-k.Tang.Width
	ricasso := -k.RicassoWidth()
	middle, half := (top+bottom)/2, k.Tang.EndWidth/2
	endTop := geom.Point{X: -k.Tang.Length, Y: middle + half}
	endBottom := geom.Point{X: -k.Tang.Length, Y: middle - half}
	lower, err := k.insideCorner(
		geom.Line{From: geom.Point{Y: ricasso}, To: geom.Point{Y: bottom}},
		geom.Line{From: geom.Point{Y: bottom}, To: endBottom})
	if err != nil {
		return nil, err
	}
	upper, err := k.insideCorner(
		geom.Line{From: endTop, To: geom.Point{Y: top}},
		geom.Line{From: geom.Point{Y: top}, To: geom.Point{}})
	if err != nil {
		return nil, err
	}
	pieces := append(lower, geom.Line{From: endBottom, To: endTop})
	return append(pieces, upper...), nil
}

// insideCorner joins a step of the shoulder and a side of the tang by the arc of the
// corner. A step of no height has no corner.
func (k Knife) insideCorner(a, b geom.Line) ([]geom.Piece, error) {
	if a.Length() < resolution || b.Length() < resolution {
		return []geom.Piece{a, b}, nil
	}
	before, corner, after, err := geom.Fillet(a, b, k.Tang.CornerRadius)
	if err != nil {
		return nil, document.FieldErrors{k.fault("tang", 0, "corner_radius", "the inside corner does not fit: "+err.Error(), "lessen corner_radius")}
	}
	return []geom.Piece{before, corner, after}, nil
}
