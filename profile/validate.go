package profile

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
)

// Validate checks the dimensions of a knife against each other. All faults are
// reported at once, as document.FieldErrors. Its rules:
//   - the clip, the belly and the ricasso fit into the length of the blade
//   - the belly can reach the point at the angle given
//   - the point lies between the spine and the edge
//   - taper stations ascend and do not lie beyond the point
//   - the bevel has a height or an angle, and both only where they agree
//   - a false edge or second edge likewise, one of them at most
//   - shoulders and tang add up to the ricasso, and the inside corners fit
//   - there are no more than mostFullers fullers
//   - each fuller has one law of depth, one far end, and dimensions that agree
//   - guard, handle and pommel, where there are any, have a size
//   - the bar, where given, holds the blade and its allowances
func (k Knife) Validate() error {
	var faults document.FieldErrors
	faults = append(faults, k.validateOutline()...)
	faults = append(faults, k.validateTaper()...)
	faults = append(faults, k.validateBevel()...)
	faults = append(faults, k.validateBackBevel()...)
	faults = append(faults, k.validateTang()...)
	if len(k.Fullers) > mostFullers {
		faults = append(faults, k.fault("fuller", mostFullers, "", fmt.Sprintf("a knife has at most %d fullers, this one %d", mostFullers, len(k.Fullers)), "leave some out"))
		k.Fullers = k.Fullers[:mostFullers]
	}
	for i := range k.Fullers {
		faults = append(faults, k.validateFuller(i)...)
	}
	faults = append(faults, k.validateFittings()...)
	faults = append(faults, k.validateHoles()...)
	faults = append(faults, k.validateXZero()...)
	faults = append(faults, k.validateMark()...)
	faults = append(faults, k.validateBar()...)
	if len(faults) > 0 {
		return faults
	}
	return nil
}

// mostFullers is how many fullers a knife may have: more than any knife has (judgement), and no
// more than can be looked at against each other in a moment.
const mostFullers = 20

func (k Knife) validateOutline() (faults document.FieldErrors) {
	room := k.Blade.Length - k.Ricasso.Length
	if k.Clip.Length > room {
		faults = append(faults, k.fault("clip", 0, "length",
			fmt.Sprintf("the clip must end before the plunge line, %s from the point", k.say(room)),
			fmt.Sprintf("shorten the clip to %s or less, or lengthen the blade", k.say(room))))
	}
	heelRoom := room - k.Ricasso.Choil
	if k.Edge.BellyLength > heelRoom {
		faults = append(faults, k.fault("edge", 0, "belly_length",
			fmt.Sprintf("the belly must begin in front of the plunge line and choil, %s from the point", k.say(heelRoom)),
			fmt.Sprintf("shorten the belly to %s or less", k.say(heelRoom))))
	}
	height := k.Blade.Width - k.Clip.Drop
	switch {
	case height < -resolution:
		faults = append(faults, k.fault("clip", 0, "drop",
			fmt.Sprintf("the point must not lie below the edge, %s under the spine line", k.say(k.Blade.Width)),
			"lessen the drop, or widen the blade"))
	case height > resolution:
		faults = append(faults, k.validateBelly(height)...)
	case k.Edge.BellyLength > 0:
		faults = append(faults, k.fault("edge", 0, "belly_length",
			"the point lies on the line of the edge, so there is no belly", "set belly_length to 0, or lessen clip.drop"))
	}
	faults = append(faults, k.validateClipCurve()...)
	faults = append(faults, k.validateRicasso()...)
	return faults
}

func (k Knife) validateBelly(height float64) (faults document.FieldErrors) {
	if k.Edge.BellyLength <= 0 {
		return append(faults, k.fault("edge", 0, "belly_length",
			fmt.Sprintf("the point lies %s above the edge, so the edge needs a belly", k.say(height)),
			"give belly_length, or set clip.drop to the width of the blade"))
	}
	if reach := height / math.Tan(k.Edge.PointAngle.Radians()); k.Edge.Fullness > 0 && reach > k.Edge.BellyLength {
		least := math.Atan2(height, k.Edge.BellyLength) * 180 / math.Pi
		faults = append(faults, k.fault("edge", 0, "point_angle",
			fmt.Sprintf("a belly %s long that rises %s must meet the point at more than %.1f degrees", k.say(k.Edge.BellyLength), k.say(height), least),
			fmt.Sprintf("set point_angle above %.1f, or belly_length above %s", least, k.say(reach))))
	}
	return faults
}

func (k Knife) validateClipCurve() (faults document.FieldErrors) {
	chord := math.Hypot(k.Clip.Length, k.Clip.Drop+k.Spine.Rise)
	if k.Clip.Sag > chord/2 {
		faults = append(faults, k.fault("clip", 0, "sag",
			fmt.Sprintf("a hollow must be no deeper than half its chord, %s", k.say(chord/2)), "lessen the sag"))
	}
	if k.Clip.Sag >= 0 {
		return faults
	}
	_, most := k.dropPointSag()
	if -k.Clip.Sag > most {
		faults = append(faults, k.fault("clip", 0, "sag",
			fmt.Sprintf("a drop point that leaves the spine smoothly here can swell by at most %s", k.say(most)),
			fmt.Sprintf("set sag between 0 and -%s", k.say(most))))
	}
	return faults
}

func (k Knife) validateRicasso() (faults document.FieldErrors) {
	step := k.Blade.Width - k.RicassoWidth()
	switch {
	case step < -resolution:
		faults = append(faults, k.fault("ricasso", 0, "width",
			fmt.Sprintf("must not be wider than the blade, %s", k.say(k.Blade.Width)), "widen the blade or narrow the ricasso"))
	case step > resolution && k.Ricasso.Choil <= step:
		faults = append(faults, k.fault("ricasso", 0, "choil",
			fmt.Sprintf("a ricasso %s narrower than the blade needs a choil of a larger radius, or a sharp inside corner is left", k.say(step)),
			fmt.Sprintf("set choil above %s", k.say(step))))
	}
	if k.Ricasso.Choil > k.Ricasso.Length-k.Tang.CornerRadius && k.Ricasso.Choil > 0 {
		faults = append(faults, k.fault("ricasso", 0, "choil",
			fmt.Sprintf("the notch must end in front of the guard plane, within a ricasso of %s", k.say(k.Ricasso.Length)),
			"lessen the choil or lengthen the ricasso"))
	}
	return faults
}

func (k Knife) validateTaper() (faults document.FieldErrors) {
	for i, s := range k.Taper {
		if s.At > k.Blade.Length {
			faults = append(faults, k.fault("taper", i, "at",
				fmt.Sprintf("the station lies beyond the point, %s from the guard plane", k.say(k.Blade.Length)), "move or delete the station"))
		}
		if i > 0 && s.At <= k.Taper[i-1].At {
			faults = append(faults, k.fault("taper", i, "at",
				fmt.Sprintf("stations must ascend: the one before stands at %s", k.say(k.Taper[i-1].At)), "put the stations in order"))
		}
		if s.At <= k.Ricasso.Length && math.Abs(s.Thickness-k.Blade.Thickness) > resolution {
			faults = append(faults, k.fault("taper", i, "thickness",
				fmt.Sprintf("a station on the ricasso must have the thickness of the ricasso, %s", k.say(k.Blade.Thickness)),
				"move the station in front of the plunge line, or change blade.thickness"))
		}
	}
	return faults
}

func (k Knife) validateTang() (faults document.FieldErrors) {
	ricasso := k.RicassoWidth()
	if k.Tang.Width > ricasso {
		return append(faults, k.fault("tang", 0, "width",
			fmt.Sprintf("must not be wider than the ricasso, %s", k.say(ricasso)), "narrow the tang"))
	}
	top, bottom := k.ShoulderTop(), k.ShoulderBottom()
	if sum := top + k.Tang.Width + bottom; math.Abs(sum-ricasso) > agreement {
		faults = append(faults, k.fault("shoulder", 0, "bottom",
			fmt.Sprintf("the two steps and the tang add up to %s, the ricasso is %s: a difference of %s", k.say(sum), k.say(ricasso), k.say(sum-ricasso)),
			"delete one of shoulder.top, shoulder.bottom, or correct the one that is wrong"))
	}
	if bottom < -resolution {
		faults = append(faults, k.fault("shoulder", 0, "top",
			fmt.Sprintf("leaves no room for a tang %s wide in a ricasso of %s", k.say(k.Tang.Width), k.say(ricasso)),
			fmt.Sprintf("lessen it to %s or less, or delete it: then the tang lies in the middle", k.say(max(0, ricasso-k.Tang.Width-k.Tang.CornerRadius)))))
	}
	for _, corner := range []struct {
		name string
		step float64
	}{{"top", top}, {"bottom", bottom}} {
		if corner.step > resolution && corner.step < k.Tang.CornerRadius {
			faults = append(faults, k.fault("tang", 0, "corner_radius",
				fmt.Sprintf("the inside corner must fit into the %s step of the shoulder, %s", corner.name, k.say(corner.step)),
				fmt.Sprintf("set corner_radius to %s or less", k.say(corner.step))))
		}
	}
	if k.Tang.EndWidth > k.Tang.Width {
		faults = append(faults, k.fault("tang", 0, "end_width",
			fmt.Sprintf("the tang must not widen toward its end: it is %s wide at the shoulder", k.say(k.Tang.Width)), "narrow the end"))
	}
	if t := k.Tang.EndThickness.Or(k.Blade.Thickness); t > k.Blade.Thickness {
		faults = append(faults, k.fault("tang", 0, "end_thickness",
			fmt.Sprintf("the tang must not be thicker than the ricasso, %s, or no guard passes over it", k.say(k.Blade.Thickness)), "thin the end"))
	}
	if least := math.Min(k.Tang.EndThickness.Or(k.Blade.Thickness), k.Tang.EndWidth); 2*k.Tang.EdgeBreak >= least {
		faults = append(faults, k.fault("tang", 0, "edge_break",
			fmt.Sprintf("the tang is %s at its thinnest: broken so far, its edges leave nothing flat", k.say(least)), fmt.Sprintf("set edge_break to less than %s", k.say(least/2))))
	}
	if k.Tang.Thread != "" {
		if _, err := k.thread(); err != nil {
			faults = append(faults, k.fault("tang", 0, "thread", err.Error(), "name one of these, or leave it empty"))
		}
	}
	if k.Tang.ThreadLength > 0 && k.Tang.Thread == "" {
		faults = append(faults, k.fault("tang", 0, "thread", "a threaded extension needs the name of its thread", "give tang.thread, as M6x1"))
	}
	return faults
}

func (k Knife) validateBar() (faults document.FieldErrors) {
	for _, check := range []struct {
		key   string
		given Optional
		least float64
	}{
		{"length", k.Bar.Length, k.neededBarLength()},
		{"width", k.Bar.Width, k.neededBarWidth()},
		{"thickness", k.Bar.Thickness, k.neededBarThickness()},
	} {
		if check.given.Known && check.given.Value < check.least-resolution {
			faults = append(faults, k.fault("bar", 0, check.key,
				fmt.Sprintf("the blade with its allowances needs %s, %s more", k.say(check.least), k.say(check.least-check.given.Value)),
				"choose a larger bar or smaller allowances"))
		}
	}
	return faults
}
