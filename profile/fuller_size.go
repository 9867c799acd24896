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

// End returns the far end as dimensioned, from end or from start and length.
func (s FullerSize) farEnd() float64 {
	if s.End.Known {
		return s.End.Value
	}
	return s.Start + s.Length.Value
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
	switch {
	case !s.End.Known && !s.Length.Known:
		return append(faults, k.fault("fuller", i, "end", "a fuller needs an end or a length", "give fuller.end or fuller.length"))
	case s.End.Known && s.Length.Known && math.Abs(s.Start+s.Length.Value-s.End.Value) > agreement:
		faults = append(faults, k.fault("fuller", i, "length",
			fmt.Sprintf("start and length make the end %s, a difference of %s", k.say(s.Start+s.Length.Value), k.say(s.Start+s.Length.Value-s.End.Value)),
			"delete one of end and length"))
	}
	if s.farEnd() <= s.Start {
		return append(faults, k.fault("fuller", i, "end", fmt.Sprintf("must lie beyond the start, %s", k.say(s.Start)), "move the end toward the point"))
	}
	if s.farEnd() > k.Blade.Length {
		faults = append(faults, k.fault("fuller", i, "end",
			fmt.Sprintf("the fuller is longer than the blade, which ends %s from the guard plane", k.say(k.Blade.Length)), "shorten the fuller"))
	}
	faults = append(faults, k.validateSection(i)...)
	if s.Follows == FollowsSpine && s.FromSpineEnd.Known && s.FromSpineEnd.Value != s.FromSpine {
		faults = append(faults, k.fault("fuller", i, "from_spine_end", "a fuller that follows the spine keeps its distance from it", "delete from_spine_end, or set follows to straight"))
	}
	if _, curved := k.spineArc(); curved && s.Follows == FollowsSpine && s.farEnd() > k.clipStart().X {
		faults = append(faults, k.fault("fuller", i, "end",
			fmt.Sprintf("a fuller that follows the spine must end before the clip, %s from the guard plane", k.say(k.clipStart().X)), "shorten it, or set follows to straight"))
	}
	return faults
}

// validateSection checks radius, width, depth and run-out of a fuller against each
// other.
func (k Knife) validateSection(i int) (faults document.FieldErrors) {
	s := k.Fullers[i]
	depth := s.depthAt(k.Thickness(s.Start))
	if s.On == OnBevel {
		return k.validateBevelSection(i) // the rest needs the bevel
	}
	if depth <= 0 {
		return append(faults, k.fault("fuller", i, "web",
			fmt.Sprintf("leaves no groove: the blade is %s thick at the start", k.say(k.Thickness(s.Start))), "lessen the web"))
	}
	if depth >= s.Radius {
		faults = append(faults, k.fault("fuller", i, "radius",
			fmt.Sprintf("must be greater than the depth, %s, or the walls stand upright", k.say(depth)), "enlarge the radius or lessen the depth"))
	}
	thin, at := k.thicknessStations().least(s.Start, s.farEnd())
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
