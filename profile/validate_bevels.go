package profile

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
)

func (k Knife) validateBevel() (faults document.FieldErrors) {
	half := (k.Blade.Thickness - k.Bevel.EdgeThickness) / 2
	if half <= 0 {
		return append(faults, k.fault("bevel", 0, "edge_thickness",
			fmt.Sprintf("must be less than the blade's thickness, %s", k.say(k.Blade.Thickness)), "lessen edge_thickness"))
	}
	switch {
	case !k.Bevel.Height.Known && !k.Bevel.Angle.Known:
		faults = append(faults, k.fault("bevel", 0, "height", "the bevel needs a height or an angle", "give bevel.height or bevel.angle"))
	case k.Bevel.Height.Known && k.Bevel.Angle.Known:
		if by := half / math.Tan(k.Bevel.Angle.Value); math.Abs(by-k.Bevel.Height.Value) > agreement {
			faults = append(faults, k.fault("bevel", 0, "height",
				fmt.Sprintf("the angle of %.3f degrees makes it %s, a difference of %s", k.Bevel.Angle.Value*180/math.Pi, k.say(by), k.say(by-k.Bevel.Height.Value)),
				"delete one of height and angle"))
		}
	}
	if height := k.BevelHeight(); height > k.Blade.Width {
		faults = append(faults, k.fault("bevel", 0, "height",
			fmt.Sprintf("the bevel line lies %s above the edge, over a spine at %s", k.say(height), k.say(k.Blade.Width)),
			fmt.Sprintf("lower it to %s or less", k.say(k.Blade.Width))))
	}
	if k.Bevel.Kind == HollowBevel && !k.Bevel.WheelRadius.Known {
		faults = append(faults, k.fault("bevel", 0, "wheel_radius", "a hollow bevel needs the radius of its wheel", "give bevel.wheel_radius"))
	}
	if w := k.Bevel.WheelRadius; k.Bevel.Kind == HollowBevel && w.Known {
		if chord := math.Hypot(k.BevelHeight(), half); w.Value <= chord/2 {
			faults = append(faults, k.fault("bevel", 0, "wheel_radius",
				fmt.Sprintf("a wheel that grinds a bevel %s from line to edge needs a radius above %s", k.say(chord), k.say(chord/2)), "enlarge wheel_radius or lower the bevel"))
		}
	}
	return faults
}

// validateBackBevel checks the false edge and the second edge.
func (k Knife) validateBackBevel() (faults document.FieldErrors) {
	f, e := k.FalseEdge, k.SecondEdge
	if f.Length > 0 && e.Length > 0 {
		faults = append(faults, k.fault("false_edge", 0, "length", "the back has a second edge already", "set one of false_edge.length and second_edge.length to 0"))
	}
	if f.Length > k.Clip.Length+agreement {
		faults = append(faults, k.fault("false_edge", 0, "length",
			fmt.Sprintf("must not be longer than the clip, %s", k.say(k.Clip.Length)), "shorten the false edge"))
	}
	if room := k.Blade.Length - k.Ricasso.Length; e.Length > room {
		faults = append(faults, k.fault("second_edge", 0, "length",
			fmt.Sprintf("must end in front of the plunge line, %s from the point", k.say(room)), "shorten the second edge"))
	}
	faults = append(faults, k.validateSlope("false_edge", f.Length, slope{f.Height, f.Angle, f.Thickness, "thickness"})...)
	return append(faults, k.validateSlope("second_edge", e.Length, slope{e.Height, e.Angle, e.EdgeThickness, "edge_thickness"})...)
}

// slope is a bevel along the back as its group gives it.
type slope struct {
	height, angle Optional
	rim           float64
	rimKey        string
}

func (k Knife) validateSlope(group string, length float64, s slope) (faults document.FieldErrors) {
	if length <= 0 {
		return nil
	}
	thickness := k.Thickness(k.Blade.Length - length)
	cut := (thickness - s.rim) / 2
	switch {
	case cut <= 0:
		faults = append(faults, k.fault(group, 0, s.rimKey,
			fmt.Sprintf("must be less than the blade's thickness where it begins, %s", k.say(thickness)), "lessen "+s.rimKey))
	case !s.height.Known && !s.angle.Known:
		faults = append(faults, k.fault(group, 0, "height", "it needs a height or an angle", fmt.Sprintf("give %s.height or %s.angle", group, group)))
	case s.height.Known && s.angle.Known:
		if by := cut / math.Tan(s.angle.Value); math.Abs(by-s.height.Value) > agreement {
			faults = append(faults, k.fault(group, 0, "height",
				fmt.Sprintf("the angle of %.3f degrees makes it %s, a difference of %s", s.angle.Value*180/math.Pi, k.say(by), k.say(by-s.height.Value)),
				"delete one of height and angle"))
		}
	}
	return faults
}

// validateFittings checks that each part of the hilt that is there has a size.
func (k Knife) validateFittings() (faults document.FieldErrors) {
	for _, part := range []struct {
		group, there string
		along        float64
		sizes        map[string]float64
	}{
		{"guard", "thickness", k.Guard.Thickness, map[string]float64{"length": k.Guard.Length, "width": k.Guard.Width}},
		{"handle", "length", k.Handle.Length, map[string]float64{"width": k.Handle.Width, "thickness": k.Handle.Thickness}},
		{"pommel", "length", k.Pommel.Length, map[string]float64{"width": k.Pommel.Width, "thickness": k.Pommel.Thickness}},
	} {
		if part.along <= 0 {
			continue
		}
		for _, key := range []string{"length", "width", "thickness"} {
			if size, asked := part.sizes[key]; asked && size <= 0 {
				faults = append(faults, k.fault(part.group, 0, key,
					fmt.Sprintf("a %s with a %s needs one", part.group, part.there), fmt.Sprintf("give %s.%s, or set %s.%s to 0", part.group, key, part.group, part.there)))
			}
		}
	}
	if k.Spacers.Thickness > 0 && k.Handle.Length <= 0 {
		faults = append(faults, k.fault("spacers", 0, "thickness", "spacers have the size of the handle, and there is none", "give handle.length, or set spacers.thickness to 0"))
	}
	return faults
}
