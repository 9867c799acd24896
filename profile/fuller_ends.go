package profile

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
)

// visible returns the distance from the guard plane at which a run-out that begins at
// full reaches the finished face, toward the given side (-1 the guard, 1 the point).
func (d *fullerDraft) visible(full, side float64) float64 {
	g := d.tail(full, side, full)
	arc := g.EndArc
	if side < 0 {
		arc = g.StartArc
	}
	cover := func(x float64) float64 { return d.cover(g, x) }
	if cover(full) <= 0 {
		return full
	}
	last, _ := g.Place(arc.S + side*(arc.Radius+g.Radius))
	return bisect(cover, full, last.X)
}

// cover returns how far the floor of a groove lies under the finished face at x on its
// centreline.
func (d *fullerDraft) cover(g Groove, x float64) float64 { return d.faceAt(x) - g.floor(g.AtX(x)) }

// tail returns the groove near one end of its full depth, enough of it to tell its height at
// the given place of its run-out: what lies further than the ball's radius from there does
// not reach it.
func (d *fullerDraft) tail(full, side, at float64) Groove {
	reach := max(0, 2*d.size.Radius-side*(at-full))
	if side < 0 {
		return d.groove(d.floor(full, math.Max(full+1, d.far), full, full+reach))
	}
	return d.groove(d.floor(math.Min(full-1, d.near), full, full-reach, full))
}

// faceAt returns the height of the finished face over the centreline at x, before fullers:
// that of the tang behind the guard plane.
func (d *fullerDraft) faceAt(x float64) float64 {
	if x < 0 {
		return d.ground.thickness(x) / 2
	}
	return d.thicknessAt(x) / 2
}

// fullEnds returns the ends of full depth. An open end has it up to the end of the tang,
// or as far as the centreline lies on the blade.
func (d *fullerDraft) fullEnds(i int) (start, end float64, err error) {
	start, end = d.near, d.far
	if d.size.OpenStart() {
		start = -d.knife.Tang.Length
	}
	if d.size.OpenEnd() {
		if end = d.lastOnBlade(start); end <= max(start, 0) {
			return 0, 0, document.FieldErrors{d.knife.fault("fuller", i, "from_spine", "its centreline does not lie on the blade", "move it")}
		}
	}
	if start < 0 && !d.size.OpenStart() && d.faceAt(start) <= d.floorAt(start) {
		return 0, 0, document.FieldErrors{d.knife.fault("fuller", i, "start",
			fmt.Sprintf("the faces of the tang lie no higher than its floor %s behind the guard plane: it leaves the steel through the shoulder", d.knife.say(-start)),
			"delete start and give start_run_out = \"open\", or lessen shoulder.face_step")}
	}
	if d.size.Ends == FullDepthEnds {
		return start, end, nil
	}
	from, to := start, end
	okStart, okEnd := true, true
	if !d.size.OpenStart() {
		start, okStart = d.fullFor(d.near, -1, to)
	}
	if !d.size.OpenEnd() {
		end, okEnd = d.fullFor(d.far, 1, from)
	}
	if !okStart || !okEnd {
		return 0, 0, document.FieldErrors{d.knife.fault("fuller", i, "end",
			"its run-outs are longer than the fuller", "lengthen the fuller, or lessen run_out_radius or the depth")}
	}
	return start, end, nil
}

// fullFor returns the end of full depth from which the run-out toward a side comes up to the
// face right where the end is to be seen; ok is false where that lies beyond the other end
// of the fuller, the furthest that full depth can be moved in.
func (d *fullerDraft) fullFor(seen, side, other float64) (full float64, ok bool) {
	kind := d.size.StartRunOut
	if side > 0 {
		kind = d.size.EndRunOut
	}
	depth := d.faceAt(seen) - d.floorAt(seen)
	length := d.size.runOutLength(kind, depth) // from a level floor
	full = seen - side*length
	step := d.closer(full, side, seen)
	for i := 0; i < 5 && math.Abs(step) > near/4; i++ {
		// How much of a step each leaves to the next is much alike: on a floor that is
		// straight nothing.
		full += step
		if !(side*(seen-full) > 0 && side*(full-other) > 0) {
			step = math.NaN()
			break
		}
		left := d.closer(full, side, seen)
		step = left * step / (step - left)
	}
	if !(math.Abs(step) <= near/4) {
		short := func(full float64) float64 { return -d.cover(d.tail(full, side, seen), seen) }
		rise := -side * length / (d.size.runOutRadius(kind) - depth)
		full = rootNear(short, guess{seen - side*length, rise}, seen, other)
	}
	return full, side*(full-other) > 0
}

// closer returns how far the end of full depth must move for the run-out toward a side to
// come up to the face where the end is to be seen, were the floor to go on there as straight
// as its last piece is: the centre of the run-out then moves with the end along that piece,
// to where it is a radius away from the place. It is not a number where it never is.
func (d *fullerDraft) closer(full, side, seen float64) float64 {
	g := d.tail(full, side, seen)
	arc, end := g.EndArc, len(g.Axis)-1
	if side < 0 {
		arc, end = g.StartArc, 1
	}
	slope, radius := g.slopeOf(end), arc.Radius+g.Radius
	ds, dh := g.AtX(seen)-arc.S, d.faceAt(seen)-arc.H
	along, whole := ds+slope*dh, 1+square(slope)
	return (along - side*math.Sqrt(square(along)-whole*(square(ds)+square(dh)-square(radius)))) / whole
}
