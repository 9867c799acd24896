package profile

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
)

// defaultRunOut is the radius of the floor of a swept run-out over the radius of the
// groove where the knife file gives none (common practice, no source: it reads as a
// fade and not as a step).
const defaultRunOut = 5

// runOutRadius returns the radius of the floor of a run-out of the given kind.
func (s FullerSize) runOutRadius(kind RunOutKind) float64 {
	if kind == BallRunOut {
		return s.Radius
	}
	return s.RunOutRadius.Or(defaultRunOut * s.Radius)
}

// runOutLength returns the length of a run-out of the given kind from a level floor of the
// given depth: sqrt(2·ρ·d - d²).
func (s FullerSize) runOutLength(kind RunOutKind, depth float64) float64 {
	return rootOf(2*s.runOutRadius(kind)*depth - square(depth))
}

// nearEnd returns the near end of a fuller as dimensioned; the guard plane where it is
// open.
func (k Knife) nearEnd(s FullerSize) float64 {
	if s.OpenStart() {
		return 0
	}
	return s.Start.Value
}

// farEnd returns the far end as dimensioned, from end or from start and length; the
// distance of the point where it is open.
func (k Knife) farEnd(s FullerSize) float64 {
	switch {
	case s.OpenEnd():
		return k.Blade.Length
	case s.End.Known:
		return s.End.Value
	}
	return k.nearEnd(s) + s.Length.Value
}

// depthAt returns the finished depth under a face where the blade is t thick; it is
// negative where a fuller of constant web has ended by itself.
func (s FullerSize) depthAt(t float64) float64 {
	switch {
	case s.Depth.Known:
		return s.Depth.Value
	case s.Web.Known:
		return (t - s.Web.Value) / 2
	default:
		return s.Ratio.Value * t
	}
}

// GrooveWidth returns the width at the face of a groove of the given radius and
// depth, mm: 2·sqrt(2 R d - d²), and 2 R where it is deeper than its radius.
func GrooveWidth(radius, depth float64) float64 {
	if depth >= radius {
		return 2 * radius
	}
	return 2 * rootOf(float64(2*radius*depth)-float64(depth*depth))
}

func (k Knife) validateFuller(i int) (faults document.FieldErrors) {
	s := k.Fullers[i]
	laws := 0
	for _, law := range []Optional{s.Depth, s.Web, s.Ratio} {
		if law.Known {
			laws++
		}
	}
	if laws != 1 {
		return append(faults, k.fault("fuller", i, "depth",
			fmt.Sprintf("a fuller needs exactly one of depth, web and ratio; this one gives %d", laws), "keep one of them"))
	}
	if wrong := k.validateEnds(i); len(wrong) > 0 {
		return append(faults, wrong...)
	}
	near, far := k.nearEnd(s), k.farEnd(s)
	if far <= max(near, 0) {
		return append(faults, k.fault("fuller", i, "end", fmt.Sprintf("must lie beyond the start, %s, and in front of the guard plane", k.say(near)), "move the end toward the point"))
	}
	if far > k.Blade.Length {
		faults = append(faults, k.fault("fuller", i, "end",
			fmt.Sprintf("the fuller is longer than the blade, which ends %s from the guard plane", k.say(k.Blade.Length)), "shorten the fuller"))
	}
	faults = append(faults, k.validateSection(i)...)
	if s.Follows == FollowsSpine && s.FromSpineEnd.Known && s.FromSpineEnd.Value != s.FromSpine {
		faults = append(faults, k.fault("fuller", i, "from_spine_end", "a fuller that follows the spine keeps its distance from it", "delete from_spine_end, or set follows to straight"))
	}
	if _, curved := k.spineArc(); curved && s.Follows == FollowsSpine && !s.OpenEnd() && far > k.clipStart().X {
		faults = append(faults, k.fault("fuller", i, "end",
			fmt.Sprintf("a fuller that follows the spine must end before the clip, %s from the guard plane", k.say(k.clipStart().X)), "shorten it, or set follows to straight"))
	}
	return faults
}

// validateEnds checks that each end of a fuller is dimensioned once, and an open one not
// at all.
func (k Knife) validateEnds(i int) (faults document.FieldErrors) {
	s := k.Fullers[i]
	const undimensioned = "that end is open: the fuller runs out of the steel there, and where follows from its centreline"
	switch {
	case s.OpenStart() && s.Start.Known:
		faults = append(faults, k.fault("fuller", i, "start", undimensioned, "delete start, or choose another start_run_out"))
	case !s.OpenStart() && !s.Start.Known:
		faults = append(faults, k.fault("fuller", i, "start", "a fuller needs a start", "give fuller.start, or start_run_out = \"open\""))
	case s.Start.Known && s.Start.Value <= -k.Tang.Length:
		faults = append(faults, k.fault("fuller", i, "start", fmt.Sprintf("lies behind the end of the tang, %s behind the guard plane", k.say(k.Tang.Length)),
			"move it toward the point, or delete it and give start_run_out = \"open\""))
	}
	switch {
	case s.OpenEnd() && s.End.Known:
		faults = append(faults, k.fault("fuller", i, "end", undimensioned, "delete end, or choose another end_run_out"))
	case s.OpenEnd() && s.Length.Known:
		faults = append(faults, k.fault("fuller", i, "length", undimensioned, "delete length, or choose another end_run_out"))
	case s.OpenStart() && s.Length.Known:
		faults = append(faults, k.fault("fuller", i, "length", "it counts from the start, and that end is open", "give fuller.end"))
	case s.OpenEnd():
	case !s.End.Known && !s.Length.Known:
		faults = append(faults, k.fault("fuller", i, "end", "a fuller needs an end or a length", "give fuller.end or fuller.length, or end_run_out = \"open\""))
	case s.End.Known && s.Length.Known && math.Abs(s.Start.Value+s.Length.Value-s.End.Value) > agreement:
		faults = append(faults, k.fault("fuller", i, "length",
			fmt.Sprintf("start and length make the end %s, a difference of %s", k.say(s.Start.Value+s.Length.Value), k.say(s.Start.Value+s.Length.Value-s.End.Value)),
			"delete one of end and length"))
	}
	return append(faults, k.validateBevelEnds(i)...)
}

// validateBevelEnds checks that a fuller whose depth is measured from the bevel ends on it.
func (k Knife) validateBevelEnds(i int) (faults document.FieldErrors) {
	s := k.Fullers[i]
	if s.On != OnBevel {
		return nil
	}
	if s.OpenStart() || s.Start.Value < 0 {
		faults = append(faults, k.fault("fuller", i, "on",
			"a fuller on the bevel must begin on it: it would run on through plunge and ricasso to the tang, where there is no bevel to measure its depth from",
			fmt.Sprintf("set on to flat, or give a start in front of the plunge line, %s from the guard plane, with start_run_out swept or ball", k.say(k.Ricasso.Length))))
	}
	if s.OpenEnd() {
		faults = append(faults, k.fault("fuller", i, "on",
			"a fuller on the bevel must end on it: the bevel comes down to the edge, and there is no steel for a depth measured from it",
			"set on to flat, or end the fuller on the blade by swept or ball"))
	}
	return faults
}

// validateSection checks radius, width, depth and run-out of a fuller against each
// other.
func (k Knife) validateSection(i int) (faults document.FieldErrors) {
	s := k.Fullers[i]
	near := k.nearEnd(s)
	depth := s.depthAt(k.Thickness(near))
	if s.On == OnBevel {
		return k.validateBevelSection(i) // the rest needs the bevel
	}
	if depth <= 0 {
		return append(faults, k.fault("fuller", i, "web",
			fmt.Sprintf("leaves no groove: the blade is %s thick at the start", k.say(k.Thickness(near))), "lessen the web"))
	}
	if depth >= s.Radius {
		faults = append(faults, k.fault("fuller", i, "radius",
			fmt.Sprintf("must be greater than the depth, %s, or the walls stand upright", k.say(depth)), "enlarge the radius or lessen the depth"))
	}
	far := k.farEnd(s)
	if s.OpenEnd() {
		far = k.clipStart().X // where it leaves the blade is known once the outline is
	}
	thin, at := k.thicknessStations().least(near, max(near, far))
	if deep := s.depthAt(thin); 2*deep >= thin {
		faults = append(faults, k.fault("fuller", i, "depth",
			fmt.Sprintf("two fullers %s deep go through a blade %s thick %s from the guard plane", k.say(deep), k.say(thin), k.say(at)),
			"lessen the depth; a published depth is often the web, or the sum of both faces"))
	}
	if by := GrooveWidth(s.Radius, depth); s.Width.Known && math.Abs(by-s.Width.Value) > agreement {
		faults = append(faults, k.fault("fuller", i, "width",
			fmt.Sprintf("a radius of %s and a depth of %s make it %s, a difference of %s", k.say(s.Radius), k.say(depth), k.say(by), k.say(by-s.Width.Value)),
			fmt.Sprintf("for that width and depth the radius is %s", k.say((square(s.Width.Value)/4+square(depth))/(2*depth)))))
	}
	return append(faults, k.validateRadii(i)...)
}

// validateBevelSection checks what can be said of a fuller on the bevel before the
// outline is built.
func (k Knife) validateBevelSection(i int) (faults document.FieldErrors) {
	if k.Fullers[i].Width.Known {
		faults = append(faults, k.fault("fuller", i, "width", "the width of a fuller on a sloping face follows from its radius and depth", "delete width"))
	}
	return append(faults, k.validateRadii(i)...)
}

func (k Knife) validateRadii(i int) (faults document.FieldErrors) {
	s := k.Fullers[i]
	if s.RunOutRadius.Known && s.RunOutRadius.Value < s.Radius {
		faults = append(faults, k.fault("fuller", i, "run_out_radius",
			fmt.Sprintf("must be at least the radius of the groove, %s", k.say(s.Radius)), "enlarge it, or choose the run-out \"ball\""))
	}
	if s.Radius <= k.Allowance.Sanding {
		faults = append(faults, k.fault("fuller", i, "radius", "must be greater than what sanding takes", "enlarge it"))
	}
	return faults
}
