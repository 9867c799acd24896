package profile

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// chordShare bounds how far the straight pieces of a centreline that follows a curved spine
// lie from the true curve, as a part of the blade's length, so that a knife to scale has as
// many: half a micrometre on a blade of 250 mm. The pieces are the centreline from then on:
// every program and every check uses them.
const chordShare = 2e-6

// chordError is that bound for a knife, mm.
func (k Knife) chordError() float64 { return chordShare * k.Blade.Length }

// Fuller is one fuller of a blade, resolved from its dimensions; alike in every face
// it is cut in.
type Fuller struct {
	Size FullerSize
	// Finished is the groove of the finished knife, Milled the one that the cutter
	// must leave: the same axis, less what sanding takes.
	Finished, Milled Groove
	// The ends of the full depth and the ends that are seen on the finished face, by
	// the distance of the place on the centreline from the guard plane.
	// Where an end is open the full depth ends where its whole width no longer lies on
	// the flat, and it is seen up to where the last of it leaves the steel.
	StartFull, EndFull, StartVisible, EndVisible float64
	// The first and the last distance from the guard plane at which any of it cuts the
	// finished steel: less far than it would be seen where its centreline ends off the steel.
	StartCut, EndCut float64
	// Whether the milled groove runs on beyond the end of the bar, into the air. One that
	// is open and does not ends in the waste beyond the outline.
	StartInAir, EndInAir bool
	kinks                []float64 // where the outline and the bevels begin to cut into it, and cease
	leaves               bool      // it runs over a side of the blade somewhere, or has an open end

	came     [2]*Came // by face, where it was read there
	designed *Fuller  // where this one lies otherwise; nil where it lies as designed
}

// DepthAt returns the finished depth under the finished face at x on the centreline,
// 0 outside the fuller.
func (f Fuller) DepthAt(b Blade, x float64) float64 {
	return math.Max(0, b.surfaceUnder(f, x)-f.Finished.floor(f.Finished.AtX(x)))
}

// MilledDepthAt returns the depth to mill, from the bar's own face, at x on the
// centreline; 0 outside the groove.
func (f Fuller) MilledDepthAt(bar Bar, x float64) float64 {
	return math.Max(0, bar.Face(x)-f.Milled.floor(f.Milled.AtX(x)))
}

// fuller resolves the fuller of the given index.
func (k Knife) fuller(i int, blade ground, bar Bar) (Fuller, error) {
	size := k.Fullers[i]
	draft := fullerDraft{knife: k, ground: blade, size: size, near: k.nearEnd(size), far: k.farEnd(size), plan: k.centreline(size)}
	if size.On == OnBevel {
		if err := draft.validateOnBevel(i); err != nil {
			return Fuller{}, err
		}
	}
	startFull, endFull, err := draft.fullEnds(i)
	if err != nil {
		return Fuller{}, err
	}
	if endFull-startFull < resolution {
		return Fuller{}, document.FieldErrors{k.fault("fuller", i, "end",
			"its run-outs meet before full depth is reached", "lengthen the fuller, or lessen run_out_radius or the depth")}
	}
	floor := draft.floor(startFull, endFull, startFull, endFull)
	if vanish, does := draft.vanishes(floor); does {
		return Fuller{}, document.FieldErrors{k.fault("fuller", i, "end",
			fmt.Sprintf("the taper takes the last of its depth %s from the guard plane", k.say(vanish)),
			fmt.Sprintf("end it before %s, lessen the web, or give a constant depth", k.say(vanish)))}
	}
	if size.OpenStart() || size.OpenEnd() {
		return draft.open(i, bar, startFull, endFull)
	}
	finished := draft.groove(floor).withBends()
	f := Fuller{Size: size, Finished: finished, Milled: finished.WithRadius(size.Radius - k.Allowance.Sanding),
		StartFull: startFull, EndFull: endFull, StartVisible: draft.near, EndVisible: draft.far}
	if size.Ends == FullDepthEnds {
		f.StartVisible, f.EndVisible = draft.visible(startFull, -1), draft.visible(endFull, 1)
	}
	draft.settle(&f)
	return f, nil
}

// centreline returns the vertices of a fuller's centreline in plan, long enough for
// its dimensioned ends; beyond them it goes straight on.
func (k Knife) centreline(s FullerSize) []geom.Point {
	start, end := k.nearEnd(s), k.farEnd(s)
	arc, curved := k.spineArc()
	if s.Follows == FollowsStraight || !curved {
		return []geom.Point{{X: start, Y: -s.FromSpine}, {X: end, Y: -s.FromSpineEnd.Or(s.FromSpine)}}
	}
	end = min(end, k.clipStart().X) // an open one leaves the spine where the clip does
	// A line at a constant distance under the back: straight to the plunge line, then
	// about the same centre as the arc of the back.
	radius := math.Abs(arc.Centre.Y + s.FromSpine)
	side := math.Copysign(1, arc.Centre.Y)
	on := func(x float64) geom.Point {
		if x <= arc.Centre.X {
			return geom.Point{X: x, Y: -s.FromSpine}
		}
		return geom.Point{X: x, Y: arc.Centre.Y - side*rootOf(square(radius)-square(x-arc.Centre.X))}
	}
	points := []geom.Point{on(start)}
	if start < arc.Centre.X && arc.Centre.X < end {
		points = append(points, on(arc.Centre.X))
	}
	if from := points[len(points)-1].X; from >= arc.Centre.X-resolution && end > from {
		turn := func(x float64) float64 { return math.Asin((x - arc.Centre.X) / radius) }
		step := 2 * math.Acos(1-k.chordError()/radius)
		n := int(math.Ceil((turn(end) - turn(from)) / step))
		for j := 1; j < n; j++ {
			a := turn(from) + (turn(end)-turn(from))*float64(j)/float64(n)
			points = append(points, on(arc.Centre.X+radius*math.Sin(a)))
		}
	}
	return append(points, on(end))
}

// fullerDraft is a fuller whose full-depth ends are being found.
type fullerDraft struct {
	knife     Knife
	ground    ground
	size      FullerSize
	near, far float64  // its ends as dimensioned
	level     Optional // distance beyond which the floor of an open end runs on level
	plan      []geom.Point
}

// thicknessAt returns the finished thickness on the centreline at x, before fullers:
// that of the flat, or of the bevel the fuller is cut into.
func (d *fullerDraft) thicknessAt(x float64) float64 {
	if d.size.On == OnBevel {
		at, _ := Groove{Plan: d.plan}.PlaceAt(x)
		return 2 * d.ground.half(x, at.Y)
	}
	return d.ground.blade.value(x)
}

// floorAt returns the height of the finished floor at x, where the depth is full.
func (d *fullerDraft) floorAt(x float64) float64 {
	x = min(x, d.level.Or(x))
	t := d.thicknessAt(x)
	return t/2 - d.size.depthAt(t)
}

// validateOnBevel checks a fuller that is cut into the bevel against the local
// thickness at its dimensioned ends.
func (d *fullerDraft) validateOnBevel(i int) error {
	var faults document.FieldErrors
	for _, end := range []struct {
		key string
		x   float64
	}{{"start", d.near}, {"end", d.far}} {
		t := d.thicknessAt(end.x)
		depth := d.size.depthAt(t)
		switch {
		case t <= 0:
			faults = append(faults, d.knife.fault("fuller", i, end.key, "its centreline leaves the blade there", "move it, or shorten the fuller"))
		case depth <= 0:
			faults = append(faults, d.knife.fault("fuller", i, "web",
				fmt.Sprintf("leaves no groove %s from the guard plane: the bevel is %s thick there", d.knife.say(end.x), d.knife.say(t)), "lessen the web"))
		case 2*depth >= t:
			faults = append(faults, d.knife.fault("fuller", i, "depth",
				fmt.Sprintf("two fullers %s deep go through the bevel, %s thick %s from the guard plane", d.knife.say(depth), d.knife.say(t), d.knife.say(end.x)),
				"lessen the depth, or move the fuller away from the edge"))
		case depth >= d.size.Radius:
			faults = append(faults, d.knife.fault("fuller", i, "radius",
				fmt.Sprintf("must be greater than the depth, %s, or the walls stand upright", d.knife.say(depth)), "enlarge the radius or lessen the depth"))
		}
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}

// groove returns the finished groove with its full depth over a floor that is straight
// between stations.
func (d *fullerDraft) groove(over stations) Groove {
	g := Groove{Radius: d.size.Radius, Plan: d.plan}
	floor := make([]AxisPoint, len(over))
	for i, s := range over {
		floor[i] = AxisPoint{g.AtX(s.at), s.value}
	}
	g.Axis = raise(floor, d.size.Radius)
	last := len(g.Axis) - 1
	g.StartArc = runOut(g.Axis[0], g.Axis[1], d.size.runOutRadius(d.size.StartRunOut)-d.size.Radius)
	g.EndArc = runOut(g.Axis[last], g.Axis[last-1], d.size.runOutRadius(d.size.EndRunOut)-d.size.Radius)
	return g
}

// floor returns the height of the floor between two distances from the guard plane: at the
// stations of the taper, where an open end runs on level, and on a bevel, which makes it
// curved, as often as it takes. Of its pieces only those are returned that reach between
// least and most.
func (d *fullerDraft) floor(from, to, least, most float64) stations {
	xs := []float64{from}
	last := to
	if d.level.Known && d.level.Value > from+resolution && d.level.Value < to-resolution {
		last = d.level.Value
	}
	for _, s := range d.ground.blade {
		if s.at > from+resolution && s.at < last-resolution {
			xs = append(xs, s.at)
		}
	}
	if last < to {
		xs = append(xs, last)
	}
	xs = append(xs, to)
	var out stations
	for i := 1; i < len(xs); i++ {
		a, b := xs[i-1], xs[i]
		if b < least || a > most {
			continue
		}
		before, after := station{a, d.floorAt(a)}, station{b, d.floorAt(b)}
		if out == nil {
			out = append(out, before)
		}
		if d.size.On == OnBevel {
			out = d.between(out, before, station{(a + b) / 2, d.floorAt((a + b) / 2)}, after, least, most)
		}
		out = append(out, after)
	}
	return out
}

// leastPiece is how long a piece of a floor is at least, as a part of the blade's length.
const leastPiece = 0.0025

// between adds places between two to a floor until it lies within the chord error of straight
// pieces between them. The middle is given. Pieces that do not reach between least and
// most stay as they are.
func (d *fullerDraft) between(out stations, a, middle, b station, least, most float64) stations {
	if b.at-a.at < leastPiece*d.knife.Blade.Length || b.at < least || a.at > most {
		return out
	}
	at := func(x float64) station { return station{x, d.floorAt(x)} }
	away := func(t float64, s station) float64 { return math.Abs(s.value - (a.value + (b.value-a.value)*t)) }
	first, last := at((a.at+middle.at)/2), at((middle.at+b.at)/2)
	if max(away(0.25, first), away(0.5, middle), away(0.75, last)) <= d.knife.chordError() {
		return out
	}
	out = append(d.between(out, a, first, middle, least, most), middle)
	return d.between(out, middle, last, b, least, most)
}

// vanishes returns where the depth of a fuller comes to nothing along its floor, and
// whether it does.
func (d *fullerDraft) vanishes(floor stations) (at float64, does bool) {
	depth := func(x float64) float64 { return d.size.depthAt(d.thicknessAt(x)) }
	previous := floor[0].at
	for _, s := range floor {
		if depth(s.at) <= 0 {
			return bisect(depth, previous, s.at), true
		}
		previous = s.at
	}
	return 0, false
}

// span is a stretch along the blade, or across it.
type span struct{ from, to float64 }
