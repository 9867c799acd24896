package profile

import "fullerwright/profile/document"

// ResizeClass says what a parameter does when the pattern is made longer, wider or
// thicker.
type ResizeClass string

// The resize classes.
const (
	Along   ResizeClass = "along"   // stretches with the length of the blade
	Across  ResizeClass = "across"  // stretches with its width
	Through ResizeClass = "through" // stretches with its thickness
	Fixed   ResizeClass = "fixed"   // stays: a hand, a cutter, a thread has its size
	Angular ResizeClass = "angle"   // an angle or a proportion: stays as it is
	Verbal  ResizeClass = "word"    // not a quantity
	Scaled  ResizeClass = "scale"   // no class of a key: a scale moves every length
)

// Parameter is one row of the parameter table: a key of the knife file, its meaning,
// kind, default and limits, and what it does when the pattern is resized.
type Parameter struct {
	document.Key
	Resize ResizeClass
	// InPlane is true for lengths that lie in the plane of the blade's face, the ones
	// that grow in hardening by the growth given for the steel.
	InPlane bool

	field func(k *Knife, index int) any
}

// ParameterGroup is one group of the knife file.
type ParameterGroup struct {
	Name, Meaning string
	Repeated      bool
	Required      bool
	Feature       bool // a knife whose file says nothing of it has none
	Parameters    []Parameter

	resize func(k *Knife, n int)
	count  func(k Knife) int
}

// plain makes a parameter that is not a length in the plane of the face.
func plain(key document.Key, class ResizeClass, field func(*Knife, int) any) Parameter {
	return Parameter{Key: key, Resize: class, field: field}
}

// planar makes a parameter that is a length in the plane of the face.
func planar(key document.Key, class ResizeClass, field func(*Knife, int) any) Parameter {
	return Parameter{Key: key, Resize: class, InPlane: true, field: field}
}

// length describes a length with its limits in millimetres.
func length(name, meaning, standard string, least, most float64) document.Key {
	return document.Key{Name: name, Meaning: meaning, Kind: document.Length, Default: standard, Min: least, Max: most}
}

// needed describes a length that every knife file must give.
func needed(name, meaning string, least, most float64) document.Key {
	key := length(name, meaning, "", least, most)
	key.Required = true
	return key
}

// angle describes an angle with its limits in degrees.
func angle(name, meaning, standard string, least, most float64) document.Key {
	return document.Key{Name: name, Meaning: meaning, Kind: document.Angle, Default: standard, Min: least, Max: most}
}

// number describes a plain number with its limits.
func number(name, meaning, standard string, least, most float64) document.Key {
	return document.Key{Name: name, Meaning: meaning, Kind: document.Number, Default: standard, Min: least, Max: most}
}

// text describes a word or a sentence.
func text(name, meaning, standard string) document.Key {
	return document.Key{Name: name, Meaning: meaning, Kind: document.Text, Default: standard}
}

// choice describes one word out of several, the first of which is the default.
func choice(name, meaning string, choices ...string) document.Key {
	return document.Key{Name: name, Meaning: meaning, Kind: document.Choice, Default: choices[0], Choices: choices}
}

// above makes the lower limit of a key exclusive.
func above(key document.Key) document.Key {
	key.AboveMin = true
	return key
}

// Table returns the parameter table: every key that a knife file may hold. The
// parser, the checks of limits, the starter files, the help and the rules of
// resizing all read it. Ranges are common practice for guarded fixed blades, widened
// so that a large camp knife and a small trout knife both fit.
func Table() []ParameterGroup {
	return []ParameterGroup{
		rootGroup(), bladeGroup(), taperGroup(), spineGroup(), clipGroup(), falseEdgeGroup(), secondEdgeGroup(),
		edgeGroup(), ricassoGroup(), plungeGroup(), bevelGroup(), tangGroup(), shoulderGroup(), fullerGroup(), holeGroup(),
		guardGroup(), spacersGroup(), handleGroup(), pommelGroup(), markGroup(), outlineGroup(), barGroup(), allowanceGroup(),
	}
}

func rootGroup() ParameterGroup {
	return ParameterGroup{Parameters: []Parameter{
		plain(choice("units", "unit of every plain number that is a length", "mm", "in"), Verbal,
			func(*Knife, int) any { return nil }),
		plain(text("name", "name of the knife, used for folders and titles", "knife"), Verbal,
			func(k *Knife, _ int) any { return &k.Name }),
		plain(text("maker", "who makes it, for title blocks and as the author of documents; empty for nobody", ""), Verbal,
			func(k *Knife, _ int) any { return &k.Maker }),
	}}
}

func bladeGroup() ParameterGroup {
	return ParameterGroup{Name: "blade", Meaning: "size of the blade", Required: true, Parameters: []Parameter{
		planar(needed("length", "from the guard plane to the point", 30, 900), Along,
			func(k *Knife, _ int) any { return &k.Blade.Length }),
		planar(needed("width", "from the spine to the straight edge", 8, 150), Across,
			func(k *Knife, _ int) any { return &k.Blade.Width }),
		plain(needed("thickness", "finished thickness at the ricasso", 1, 20), Through,
			func(k *Knife, _ int) any { return &k.Blade.Thickness }),
		plain(text("steel", "name of the steel", "1084"), Verbal,
			func(k *Knife, _ int) any { return &k.Blade.Steel }),
	}}
}

func taperGroup() ParameterGroup {
	return ParameterGroup{Name: "taper", Repeated: true,
		Meaning: "distal taper: finished thickness at a station; between stations the faces are flat",
		Parameters: []Parameter{
			planar(needed("at", "distance of the station from the guard plane", 0, 900), Along,
				func(k *Knife, i int) any { return &k.Taper[i].At }),
			plain(needed("thickness", "finished thickness there", 0.5, 20), Through,
				func(k *Knife, i int) any { return &k.Taper[i].Thickness }),
		},
		resize: func(k *Knife, n int) { k.Taper = make([]TaperStation, n) },
		count:  func(k Knife) int { return len(k.Taper) },
	}
}

func spineGroup() ParameterGroup {
	return ParameterGroup{Name: "spine", Meaning: "back of the blade from the guard plane to the clip", Parameters: []Parameter{
		planar(length("rise", "height of the clip start over the spine line; the back curves up (positive) or down from the plunge line on", "0 mm", -60, 60), Across,
			func(k *Knife, _ int) any { return &k.Spine.Rise }),
	}}
}

func clipGroup() ParameterGroup {
	return ParameterGroup{Name: "clip", Meaning: "the part of the back that runs down to the point", Required: true, Parameters: []Parameter{
		planar(needed("length", "from the clip start to the point, along the blade", 1, 900), Along,
			func(k *Knife, _ int) any { return &k.Clip.Length }),
		planar(needed("drop", "how far the point lies below the spine line", -60, 150), Across,
			func(k *Knife, _ int) any { return &k.Clip.Drop }),
		planar(length("sag", "depth of the clip's curve under its chord: positive hollow, 0 straight, negative a drop point that leaves the spine smoothly", "0 mm", -60, 60), Across,
			func(k *Knife, _ int) any { return &k.Clip.Sag }),
	}}
}

func falseEdgeGroup() ParameterGroup {
	return ParameterGroup{Name: "false_edge", Feature: true, Meaning: "bevel ground along the clip, from the point back; give its height or its angle", Parameters: []Parameter{
		planar(length("length", "from the point back, along the blade; 0 for none", "0 mm", 0, 900), Along,
			func(k *Knife, _ int) any { return &k.FalseEdge.Length }),
		planar(length("height", "height of the false edge, measured square to the spine line", "", 0.2, 60), Across,
			func(k *Knife, _ int) any { return &k.FalseEdge.Height }),
		plain(angle("angle", "angle of the false edge to the centre-plane where it begins", "", 0.5, 60), Angular,
			func(k *Knife, _ int) any { return &k.FalseEdge.Angle }),
		plain(length("thickness", "thickness left at the very back of it", "1 mm", 0.1, 10), Through,
			func(k *Knife, _ int) any { return &k.FalseEdge.Thickness }),
	}}
}

func secondEdgeGroup() ParameterGroup {
	return ParameterGroup{Name: "second_edge", Feature: true, Meaning: "a bevel like that of the edge along the back of a two-edged blade; give its height or its angle", Parameters: []Parameter{
		planar(length("length", "from the point back, along the blade; 0 for none", "0 mm", 0, 900), Along,
			func(k *Knife, _ int) any { return &k.SecondEdge.Length }),
		planar(length("height", "from the back down to its bevel line, square to the spine line", "", 1, 150), Across,
			func(k *Knife, _ int) any { return &k.SecondEdge.Height }),
		plain(angle("angle", "angle of its bevels to the centre-plane where it begins", "", 0.3, 30), Angular,
			func(k *Knife, _ int) any { return &k.SecondEdge.Angle }),
		plain(length("edge_thickness", "thickness at the second edge before sharpening", "0.5 mm", 0.05, 3), Fixed,
			func(k *Knife, _ int) any { return &k.SecondEdge.EdgeThickness }),
	}}
}

func edgeGroup() ParameterGroup {
	return ParameterGroup{Name: "edge", Meaning: "the cutting side", Required: true, Parameters: []Parameter{
		planar(needed("belly_length", "from where the straight edge begins to curve up to the point, along the blade; 0 where the edge is straight to a point that lies on it", 0, 900), Along,
			func(k *Knife, _ int) any { return &k.Edge.BellyLength }),
		plain(angle("point_angle", "angle between the edge at the point and the spine line", "45", 1, 89), Angular,
			func(k *Knife, _ int) any { return &k.Edge.PointAngle }),
		plain(number("fullness", "fullness of the belly: 0 a straight second edge, 0.55 near a circle, 0.9 very full", "0.55", 0, 0.95), Angular,
			func(k *Knife, _ int) any { return &k.Edge.Fullness }),
		planar(length("recurve", "how far the middle of the straight edge is drawn in", "0 mm", 0, 30), Across,
			func(k *Knife, _ int) any { return &k.Edge.Recurve }),
	}}
}

func ricassoGroup() ParameterGroup {
	return ParameterGroup{Name: "ricasso", Meaning: "the unbevelled part in front of the guard", Parameters: []Parameter{
		planar(length("length", "from the guard plane to the plunge line", "14 mm", 1, 120), Fixed,
			func(k *Knife, _ int) any { return &k.Ricasso.Length }),
		planar(length("width", "width of the ricasso; as the blade where not given", "", 6, 150), Across,
			func(k *Knife, _ int) any { return &k.Ricasso.Width }),
		planar(length("choil", "radius of a round notch in the edge at the plunge line; 0 for none", "0 mm", 0, 25), Fixed,
			func(k *Knife, _ int) any { return &k.Ricasso.Choil }),
	}}
}

func plungeGroup() ParameterGroup {
	return ParameterGroup{Name: "plunge", Meaning: "where the bevel ends against the ricasso", Parameters: []Parameter{
		planar(length("radius", "radius that the belt or wheel leaves there", "3 mm", 0, 30), Fixed,
			func(k *Knife, _ int) any { return &k.Plunge.Radius }),
	}}
}

func bevelGroup() ParameterGroup {
	return ParameterGroup{Name: "bevel", Meaning: "the primary bevel; give its height or its angle", Parameters: []Parameter{
		planar(length("height", "from the edge up to the bevel line, square to the spine line", "", 1, 150), Across,
			func(k *Knife, _ int) any { return &k.Bevel.Height }),
		plain(angle("angle", "angle of each bevel to the centre-plane at the plunge line", "", 0.3, 30), Angular,
			func(k *Knife, _ int) any { return &k.Bevel.Angle }),
		plain(choice("constant", "what stays the same along a tapering blade: the height of the bevel line, or the angle of the jig", string(ConstantHeight), string(ConstantAngle)), Verbal,
			func(k *Knife, _ int) any { return (*string)(&k.Bevel.Constant) }),
		plain(choice("kind", "surface of the bevel", string(FlatBevel), string(HollowBevel), string(ConvexBevel)), Verbal,
			func(k *Knife, _ int) any { return (*string)(&k.Bevel.Kind) }),
		plain(length("wheel_radius", "radius of the wheel of a hollow bevel", "", 10, 1000), Fixed,
			func(k *Knife, _ int) any { return &k.Bevel.WheelRadius }),
		plain(length("edge_thickness", "thickness at the edge before sharpening", "0.5 mm", 0.05, 3), Fixed,
			func(k *Knife, _ int) any { return &k.Bevel.EdgeThickness }),
		plain(angle("edge_angle", "angle of each side of the sharpened edge to the centre-plane", "20", 5, 45), Angular,
			func(k *Knife, _ int) any { return &k.Bevel.EdgeAngle }),
	}}
}

func tangGroup() ParameterGroup {
	return ParameterGroup{Name: "tang", Meaning: "the part inside the handle", Required: true, Parameters: []Parameter{
		planar(needed("width", "width at the shoulder", 3, 120), Fixed,
			func(k *Knife, _ int) any { return &k.Tang.Width }),
		planar(needed("length", "from the guard plane back to its end, without a thread", 10, 400), Fixed,
			func(k *Knife, _ int) any { return &k.Tang.Length }),
		planar(length("end_width", "width at its end", "8 mm", 2, 120), Fixed,
			func(k *Knife, _ int) any { return &k.Tang.EndWidth }),
		plain(length("end_thickness", "thickness at its end; as the ricasso where not given", "", 1, 20), Fixed,
			func(k *Knife, _ int) any { return &k.Tang.EndThickness }),
		planar(above(length("corner_radius", "radius of the inside corner at the shoulder; a sharp one cracks in the quench", "1 mm", 0, 12)), Fixed,
			func(k *Knife, _ int) any { return &k.Tang.CornerRadius }),
		plain(length("edge_break", "taken off its long edges at 45 degrees, so that it goes in beside round corners of the guard's slot; 0 for sharp edges", "0 mm", 0, 3), Fixed,
			func(k *Knife, _ int) any { return &k.Tang.EdgeBreak }),
		plain(text("thread", "thread of an extension, as M6x1 or 1/4-20, or by its dimensions as 6.6 x 1.1 mm, drill 5.5 mm; empty for none", ""), Verbal,
			func(k *Knife, _ int) any { return &k.Tang.Thread }),
		plain(length("thread_length", "length of the threaded extension", "0 mm", 0, 200), Fixed,
			func(k *Knife, _ int) any { return &k.Tang.ThreadLength }),
	}}
}

func shoulderGroup() ParameterGroup {
	return ParameterGroup{Name: "shoulder", Meaning: "where the blade steps down to the tang and the guard seats", Parameters: []Parameter{
		planar(length("top", "step at the spine; half of what the tang leaves where not given", "", 0, 100), Fixed,
			func(k *Knife, _ int) any { return &k.Shoulder.Top }),
		planar(length("bottom", "step at the edge; what the tang leaves where not given", "", 0, 100), Fixed,
			func(k *Knife, _ int) any { return &k.Shoulder.Bottom }),
		plain(length("face_step", "step on each face of the tang", "0 mm", 0, 2), Fixed,
			func(k *Knife, _ int) any { return &k.Shoulder.FaceStep }),
		plain(length("file_allowance", "left on the shoulder for the file", "0.05 mm", 0, 1), Fixed,
			func(k *Knife, _ int) any { return &k.Shoulder.FileStock }),
		plain(length("milled_length", "how far behind the guard plane the mill cuts the sides of the tang; the guard's thickness and 10 mm where not given", "", 2, 400), Fixed,
			func(k *Knife, _ int) any { return &k.Shoulder.MilledLength }),
	}}
}

func barGroup() ParameterGroup {
	return ParameterGroup{Name: "bar", Meaning: "the bar the blade is cut from, as ordered", Parameters: []Parameter{
		plain(length("length", "length; what the blade and the allowances need where not given", "", 40, 2000), Fixed,
			func(k *Knife, _ int) any { return &k.Bar.Length }),
		plain(length("width", "width; what the blade and the allowances need where not given", "", 8, 200), Fixed,
			func(k *Knife, _ int) any { return &k.Bar.Width }),
		plain(length("thickness", "thickness; the finished thickness and the allowances of both faces where not given", "", 1, 30), Fixed,
			func(k *Knife, _ int) any { return &k.Bar.Thickness }),
		plain(length("spine_allowance", "bar above the spine line", "2 mm", 0, 100), Fixed,
			func(k *Knife, _ int) any { return &k.Bar.SpineAllowance }),
		plain(length("edge_allowance", "bar below the edge", "2 mm", 0, 100), Fixed,
			func(k *Knife, _ int) any { return &k.Bar.EdgeAllowance }),
		plain(length("tang_allowance", "bar behind the tang", "5 mm", 0, 300), Fixed,
			func(k *Knife, _ int) any { return &k.Bar.TangAllowance }),
		plain(length("point_allowance", "bar in front of the point", "5 mm", 0, 300), Fixed,
			func(k *Knife, _ int) any { return &k.Bar.PointAllowance }),
		plain(choice("condition", "how heat left its steel; hot-rolled counts as normalised", "annealed", "normalised", "hardened"), Verbal,
			func(k *Knife, _ int) any { return &k.Bar.Condition }),
		plain(number("hardness", "hardness of a hardened bar, HRC", "", 10, 70), Fixed,
			func(k *Knife, _ int) any { return &k.Bar.Hardness }),
		plain(choice("tapered", "when its faces are ground to the distal taper: after the fullers are milled into parallel faces, or before, so that they are milled from each tapered face", string(TaperedAfter), string(TaperedBefore)), Verbal,
			func(k *Knife, _ int) any { return (*string)(&k.Bar.Tapered) }),
		plain(choice("x_zero", "what is touched for X: the butt at the stop, or where that is rough a dowel in a hole, a sawn line or a milled flat in the waste", string(ButtZero), string(DowelZero), string(LineZero), string(FlatZero)), Verbal,
			func(k *Knife, _ int) any { return (*string)(&k.Bar.XZero) }),
		plain(length("x_zero_from_butt", "distance of what is touched for X from the butt as ordered, where that is not the butt", "", 0, 2000), Fixed,
			func(k *Knife, _ int) any { return &k.Bar.XZeroFromButt }),
	}}
}

func allowanceGroup() ParameterGroup {
	return ParameterGroup{Name: "allowance", Meaning: "what the work takes off between the bar and the finished knife", Parameters: []Parameter{
		plain(length("sanding", "taken inside each fuller by sanding and etching", "0 mm", 0, 0.5), Fixed,
			func(k *Knife, _ int) any { return &k.Allowance.Sanding }),
		plain(length("finish", "taken off each face after hardening by grinding, sanding and etching", "0.05 mm", 0, 1), Fixed,
			func(k *Knife, _ int) any { return &k.Allowance.Finish }),
		plain(length("scale", "scale and decarburised skin taken off each face", "0.05 mm", 0, 2), Fixed,
			func(k *Knife, _ int) any { return &k.Allowance.Scale }),
		plain(length("clean_up", "taken off each face of the bar after milling, before hardening", "0.1 mm", 0, 3), Fixed,
			func(k *Knife, _ int) any { return &k.Allowance.CleanUp }),
		plain(length("grinding", "left outside the finished outline by rough profiling", "1 mm", 0, 6), Fixed,
			func(k *Knife, _ int) any { return &k.Allowance.Grinding }),
		plain(number("growth", "growth of lengths in hardening, per unit of length", "0", -0.005, 0.005), Fixed,
			func(k *Knife, _ int) any { return &k.Allowance.Growth }),
	}}
}
