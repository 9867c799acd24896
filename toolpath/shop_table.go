package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// entry is one key of the shop file and where its value goes.
type entry struct {
	document.Key
	field func(s *Shop, index int) any
}

type shopGroup struct {
	name, meaning string
	repeated      bool
	entries       []entry
}

func lengthKey(name, meaning, standard string, least, most float64) document.Key {
	return document.Key{Name: name, Meaning: meaning, Kind: document.Length, Default: standard, Min: least, Max: most}
}

func numberKey(name, meaning, standard string, least, most float64) document.Key {
	return document.Key{Name: name, Meaning: meaning, Kind: document.Number, Default: standard, Min: least, Max: most}
}

func angleKey(name, meaning, standard string, least, most float64) document.Key {
	return document.Key{Name: name, Meaning: meaning, Kind: document.Angle, Default: standard, Min: least, Max: most}
}

func choiceKey(name, meaning string, choices ...string) document.Key {
	return document.Key{Name: name, Meaning: meaning, Kind: document.Choice, Default: choices[0], Choices: choices}
}

func textKey(name, meaning, standard string) document.Key {
	return document.Key{Name: name, Meaning: meaning, Kind: document.Text, Default: standard}
}

// demanded marks a key that every shop file must give: whatever moves a machine has
// no default.
func demanded(key document.Key) document.Key {
	key.Required = true
	return key
}

// shopTable is every key that a shop file may hold. Defaults of limits are common
// practice, no source, unless their meaning names one.
func shopTable() []shopGroup {
	return []shopGroup{
		{entries: []entry{
			{choiceKey("units", "unit of every plain number that is a length", "mm", "in"), func(*Shop, int) any { return nil }},
			{textKey("name", "name of the shop", "shop"), func(s *Shop, _ int) any { return &s.Name }},
		}},
		machineGroup(), dialectGroup(), viseGroup(), parallelsGroup(), cutterGroup(), steelGroup(), metalGroup(), stockGroup(), limitsGroup(), workGroup(), errorsGroup(), flipGroup(), paperGroup(),
	}
}

func machineGroup() shopGroup {
	return shopGroup{name: "machine", meaning: "the mill", entries: []entry{
		{demanded(lengthKey("travel_x", "travel along the table", "", 50, 5000)), func(s *Shop, _ int) any { return &s.Machine.TravelX }},
		{demanded(lengthKey("travel_y", "travel across the table", "", 30, 3000)), func(s *Shop, _ int) any { return &s.Machine.TravelY }},
		{demanded(lengthKey("travel_z", "travel of the quill or knee under power", "", 20, 2000)), func(s *Shop, _ int) any { return &s.Machine.TravelZ }},
		{demanded(numberKey("spindle_least", "least spindle speed, rev/min", "", 0, 100000)), func(s *Shop, _ int) any { return &s.Machine.SpindleLeast }},
		{demanded(numberKey("spindle_most", "greatest spindle speed, rev/min", "", 50, 100000)), func(s *Shop, _ int) any { return &s.Machine.SpindleMost }},
		{demanded(numberKey("power", "power of the spindle motor, W", "", 20, 100000)), func(s *Shop, _ int) any { return &s.Machine.Power }},
		{demanded(lengthKey("feed_most", "greatest feed a minute", "", 10, 60000)), func(s *Shop, _ int) any { return &s.Machine.FeedMost }},
		{demanded(lengthKey("rapid", "rapid rate a minute", "", 10, 100000)), func(s *Shop, _ int) any { return &s.Machine.Rapid }},
		{demanded(lengthKey("acceleration", "acceleration a second squared", "", 1, 50000)), func(s *Shop, _ int) any { return &s.Machine.Acceleration }},
		{choiceKey("program_units", "units of the programs it is given", "mm", "in"), func(*Shop, int) any { return nil }},
		{textKey("dialect", "how programs are spelled: a preset (fullerwright help dialects), or one of your own from [[dialect]]", "short-lines"), func(s *Shop, _ int) any { return &s.Machine.Dialect }},
		{choiceKey("coolant", "what the program switches on while it cuts", "none", "mist", "flood"), func(s *Shop, _ int) any { return &s.Machine.Coolant }},
	}}
}

func viseGroup() shopGroup {
	return shopGroup{name: "vise", meaning: "what holds the bar", entries: []entry{
		{lengthKey("jaw_length", "length of the jaws", "150 mm", 20, 2000), func(s *Shop, _ int) any { return &s.Vise.JawLength }},
		{lengthKey("jaw_height", "height of the jaws above the bed of the vise, on which parallels stand; 0 where you choose the parallels yourself", "0 mm", 0, 200), func(s *Shop, _ int) any { return &s.Vise.JawHeight }},
		{lengthKey("jaw_opening", "greatest width that they open to", "100 mm", 5, 1000), func(s *Shop, _ int) any { return &s.Vise.JawOpening }},
		{lengthKey("bar_above_jaws", "how far you want the face of the bar above the jaws; the nearest that your parallels allow is taken", "2 mm", 0, 50), func(s *Shop, _ int) any { return &s.Vise.BarAboveJaws }},
	}}
}

func cutterGroup() shopGroup {
	at := func(f func(c *Cutter) any) func(*Shop, int) any {
		return func(s *Shop, i int) any { return f(&s.Cutters[i]) }
	}
	return shopGroup{name: "cutter", meaning: "a cutter in the drawer", repeated: true, entries: []entry{
		{demanded(textKey("name", "what you call it", "")), at(func(c *Cutter) any { return &c.Name })},
		{choiceKey("end", "form of its end", string(BallEnd), string(SquareEnd), string(DrillEnd)), at(func(c *Cutter) any { return (*string)(&c.End) })},
		{demanded(lengthKey("diameter", "nominal diameter", "", 0.2, 60)), at(func(c *Cutter) any { return &c.Diameter })},
		{lengthKey("measured_diameter", "diameter as measured, after a regrind", "", 0.2, 60), at(func(c *Cutter) any { return &c.Measured })},
		{lengthKey("run_out", "total indicator reading at the tip", "0.01 mm", 0, 0.2), at(func(c *Cutter) any { return &c.RunOut })},
		{document.Key{Name: "flutes", Meaning: "number of cutting edges", Kind: document.Count, Required: true, Min: 1, Max: 12}, at(func(c *Cutter) any { return &c.Flutes })},
		{demanded(lengthKey("flute_length", "length of the cutting edges", "", 0.3, 200)), at(func(c *Cutter) any { return &c.FluteLength })},
		{lengthKey("shank_diameter", "diameter of the shank; as the cutter where not given", "", 0.5, 60), at(func(c *Cutter) any { return &c.ShankDiameter })},
		{demanded(lengthKey("stick_out", "from the holder to the tip", "", 1, 300)), at(func(c *Cutter) any { return &c.StickOut })},
		{lengthKey("holder_radius", "radius of the holder above it", "16 mm", 1, 100), at(func(c *Cutter) any { return &c.HolderRadius })},
		{lengthKey("corner_radius", "radius of the corner of a square end; 0 for a sharp one", "0 mm", 0, 10), at(func(c *Cutter) any { return &c.CornerRadius })},
		{angleKey("point_angle", "angle of a drill's point, from side to side", "118", 60, 150), at(func(c *Cutter) any { return &c.PointAngle })},
		{choiceKey("material", "what it is made of", "carbide", "hss"), at(func(c *Cutter) any { return &c.Material })},
		{document.Key{Name: "slot", Meaning: "its slot in the tool changer, where the dialect changes tools; 0 for none", Kind: document.Count, Default: "0", Min: 0, Max: 128}, at(func(c *Cutter) any { return &c.Slot })},
		{document.Key{Name: "coated", Meaning: "whether it is coated", Kind: document.Flag, Default: "false"}, at(func(c *Cutter) any { return &c.Coated })},
	}}
}

func limitsGroup() shopGroup {
	return shopGroup{name: "limits", meaning: "what you do not go beyond", entries: []entry{
		{lengthKey("web", "least steel between two fullers", "1.5 mm", 0.2, 20), func(s *Shop, _ int) any { return &s.Limits.Web }},
		{numberKey("web_ratio", "the same as a part of the local thickness", "0.333", 0.1, 0.9), func(s *Shop, _ int) any { return &s.Limits.WebRatio }},
		{numberKey("depth_ratio", "greatest depth of a fuller as a part of the local thickness", "0.334", 0.05, 0.45), func(s *Shop, _ int) any { return &s.Limits.DepthRatio }},
		{lengthKey("spine_land", "least flat between a fuller and the back", "2.5 mm", 0.2, 50), func(s *Shop, _ int) any { return &s.Limits.SpineLand }},
		{lengthKey("bevel_land", "least flat between a fuller and the bevel line", "1 mm", 0.1, 50), func(s *Shop, _ int) any { return &s.Limits.BevelLand }},
		{angleKey("bevel_least", "least angle of a bevel to the centre-plane that your grinder and hand can hold", "1.5", 0.2, 20), func(s *Shop, _ int) any { return &s.Limits.BevelLeast }},
		{angleKey("bevel_most", "greatest angle of a bevel that they can", "20", 2, 60), func(s *Shop, _ int) any { return &s.Limits.BevelMost }},
		{lengthKey("edge_before_quench", "least thickness at the edge before hardening", "0.45 mm", 0.1, 3), func(s *Shop, _ int) any { return &s.Limits.EdgeBeforeQuench }},
		{lengthKey("point_thickness", "least thickness of the thickest place 10 mm behind the point", "0.8 mm", 0.1, 10), func(s *Shop, _ int) any { return &s.Limits.PointThickness }},
		{numberKey("tang_ratio", "least width of the tang at the shoulder as a part of the ricasso's", "0.33", 0.1, 1), func(s *Shop, _ int) any { return &s.Limits.TangRatio }},
		{lengthKey("pommel_wall", "least wall of a pommel beside its thread", "1 mm", 0.2, 20), func(s *Shop, _ int) any { return &s.Limits.PommelWall }},
		{lengthKey("cusp", "greatest ridge left between passes, square to the wall", "0.005 mm", 0.0005, 0.1), func(s *Shop, _ int) any { return &s.Limits.Cusp }},
		{angleKey("ramp_angle", "steepest way into solid steel", "3", 0.5, 10), func(s *Shop, _ int) any { return &s.Limits.Ramp }},
		{lengthKey("cutter_deflection", "how far a cutter may bend aside in roughing, and a hundredth of its diameter at most", "0.03 mm", 0.002, 0.2), func(s *Shop, _ int) any { return &s.Limits.CutterBend }},
		{lengthKey("cutter_deflection_finishing", "the same in finishing", "0.01 mm", 0.001, 0.1), func(s *Shop, _ int) any { return &s.Limits.CutterBendFinishing }},
		{numberKey("cutter_stress", "greatest bending stress in a cutter, N/mm2", "800", 50, 2000), func(s *Shop, _ int) any { return &s.Limits.CutterStress }},
		{lengthKey("gouge", "how far the proof may find the cut below the design", "0.005 mm", 0.001, 0.005), func(s *Shop, _ int) any { return &s.Limits.Gouge }},
		{lengthKey("leftover", "how far it may find it above, beyond the ridge allowed", "0.005 mm", 0.001, 0.005), func(s *Shop, _ int) any { return &s.Limits.Leftover }},
	}}
}

func workGroup() shopGroup {
	return shopGroup{name: "work", meaning: "how you like to work", entries: []entry{
		{lengthKey("finish_stock", "left for the finishing passes, square to the wall", "0.1 mm", 0.02, 0.5), func(s *Shop, _ int) any { return &s.Work.FinishStock }},
		{demanded(lengthKey("clearance", "height of rapid moves over the face of the bar", "", 0.5, 50)), func(s *Shop, _ int) any { return &s.Work.Clearance }},
		{numberKey("ramp_feed_share", "feed on a ramp as a part of the feed in a slot (published advice 0.5 to 0.75)", "0.5", 0.2, 1), func(s *Shop, _ int) any { return &s.Work.RampFeedShare }},
		{document.Key{Name: "spring_pass", Meaning: "whether the finishing passes of fullers are run a second time, to take what the cutter bent away from", Kind: document.Flag, Default: "false"}, func(s *Shop, _ int) any { return &s.Work.SpringPass }},
		{numberKey("pace", "how near the ends of the published ranges speeds, feeds and depths may go: 0 for where makers' tables start, 1 for the ends", "1", 0, 1), func(s *Shop, _ int) any { return &s.Work.Pace }},
	}}
}

func errorsGroup() shopGroup {
	return shopGroup{name: "errors", meaning: "errors to reckon with when the bar is turned over", entries: []entry{
		{lengthKey("bar_width", "width of the bar against what is set", "0.05 mm", 0, 1), func(s *Shop, _ int) any { return &s.Errors.BarWidth }},
		{lengthKey("bar_length", "length of the bar against what is set", "0.05 mm", 0, 2), func(s *Shop, _ int) any { return &s.Errors.BarLength }},
		{lengthKey("bar_thickness", "thickness of the bar against what is set", "0.01 mm", 0, 0.5), func(s *Shop, _ int) any { return &s.Errors.BarThickness }},
		{lengthKey("y_zero", "zero at the fixed jaw", "0.01 mm", 0, 0.5), func(s *Shop, _ int) any { return &s.Errors.YZero }},
		{lengthKey("stop", "zero at the stop", "0.01 mm", 0, 0.5), func(s *Shop, _ int) any { return &s.Errors.Stop }},
		{lengthKey("seating", "how the bar seats each time it is clamped", "0.005 mm", 0, 0.5), func(s *Shop, _ int) any { return &s.Errors.Seating }},
		{lengthKey("readout", "step of the readout", "0.005 mm", 0, 0.1), func(s *Shop, _ int) any { return &s.Errors.Readout }},
		{lengthKey("touch_dowel", "middle of a dowel, each time it is touched for X", "0.01 mm", 0, 0.5), func(s *Shop, _ int) any { return &s.Errors.TouchDowel }},
		{lengthKey("touch_line", "sawn line, each time it is sighted for X", "0.1 mm", 0, 1), func(s *Shop, _ int) any { return &s.Errors.TouchLine }},
		{lengthKey("touch_flat", "milled flat, each time it is touched for X", "0.01 mm", 0, 0.5), func(s *Shop, _ int) any { return &s.Errors.TouchFlat }},
		{angleKey("jaw_sweep", "fixed jaw against the travel in X", "0.005", 0, 1), func(s *Shop, _ int) any { return &s.Errors.JawSweep }},
		{angleKey("edges_not_parallel", "long edges of the bar against each other", "0.005", 0, 1), func(s *Shop, _ int) any { return &s.Errors.EdgesNotParallel }},
		{lengthKey("side_shift", "how far the cutter is pushed aside while it finishes", "0.005 mm", 0, 0.2), func(s *Shop, _ int) any { return &s.Errors.SideShift }},
	}}
}

func flipGroup() shopGroup {
	return shopGroup{name: "flip", meaning: "about which axis the bar is turned between the faces", entries: []entry{
		{choiceKey("fuller", "for fullers: best lets the predicted mismatch decide", "best", string(AboutY), string(AboutX)), func(s *Shop, _ int) any { return &s.Flip.Fuller }},
		{choiceKey("shoulder", "the same for the shoulder's steps on the two faces", "best", string(AboutX), string(AboutY)), func(s *Shop, _ int) any { return &s.Flip.Shoulder }},
	}}
}

func paperGroup() shopGroup {
	return shopGroup{name: "paper", meaning: "what the printer takes", entries: []entry{
		{choiceKey("size", "paper in the printer; both prints on A4 and on Letter", "both", "A4", "Letter", "Legal", "A3", "Tabloid"), func(s *Shop, _ int) any { return &s.Paper.Size }},
		{numberKey("printer_x", "what the printer made of a true length across the feed of the paper, measured over true; fullerwright template --printer works it out", "1", 0.9, 1.1), func(s *Shop, _ int) any { return &s.Paper.PrinterX }},
		{numberKey("printer_y", "the same along the feed", "1", 0.9, 1.1), func(s *Shop, _ int) any { return &s.Paper.PrinterY }},
		{angleKey("printer_skew", "by how much what is drawn along the feed leans to the right, with the feed up", "0", -2, 2), func(s *Shop, _ int) any { return &s.Paper.PrinterSkew }},
		{choiceKey("feed", "which side of the paper lies along the feed", string(FeedLongSide), string(FeedShortSide)), func(s *Shop, _ int) any { return (*string)(&s.Paper.Feed) }},
	}}
}

// ShopSchema returns the shop's table as the document package reads it.
func ShopSchema() document.Schema {
	var schema document.Schema
	for _, group := range shopTable() {
		out := document.Group{Name: group.name, Meaning: group.meaning, Repeated: group.repeated}
		out.Required = group.name == "machine" || group.name == "cutter" || group.name == "work"
		for _, e := range group.entries {
			out.Keys = append(out.Keys, e.Key)
		}
		schema.Groups = append(schema.Groups, out)
	}
	return schema
}

// ParseShop reads a shop file: all faults at once, as document.FieldErrors; the shop
// is zero when there are any.
func ParseShop(file string, data []byte) (Shop, error) {
	read, faults := document.ReadPartly(file, data, ShopSchema())
	if len(faults) > 0 {
		return Shop{}, append(faults, dialectsBeside(faults, read)...)
	}
	return shopFrom(read)
}

// ParseShopFile is ParseShop for a file on disk.
func ParseShopFile(path string) (Shop, error) {
	data, err := document.FileBytes(path)
	if err != nil {
		return Shop{}, err
	}
	return ParseShop(path, data)
}

func shopFrom(read document.Document) (Shop, error) {
	shop := Shop{Cutters: make([]Cutter, read.Len("cutter")), Parallels: make([]Parallel, read.Len("parallels")), Steels: make([]Steel, read.Len("steel")), Metals: make([]Metal, read.Len("metal")),
		Stock: make([]Stock, read.Len("stock")), Dialects: ownDialects(read), Inch: read.Value("machine", 0, "program_units").Text == "in"}
	for _, group := range shopTable() {
		n := 1
		if group.repeated {
			n = read.Len(group.name)
		}
		for i := range n {
			for _, e := range group.entries {
				assign(e.field(&shop, i), read.Value(group.name, i, e.Name))
			}
		}
	}
	if faults := validateShop(shop, read); len(faults) > 0 {
		return Shop{}, faults
	}
	for i := range shop.Cutters {
		if shop.Cutters[i].ShankDiameter == 0 {
			shop.Cutters[i].ShankDiameter = shop.Cutters[i].Diameter
		}
	}
	return shop, nil
}

func assign(field any, value document.Value) {
	switch target := field.(type) {
	case nil:
	case *float64:
		*target = value.Float
	case *profile.Optional:
		*target = profile.Optional{Value: value.Float, Known: value.Known}
	case *geom.Angle:
		*target = geom.Angle(value.Float)
	case *int:
		*target = value.Count
	case *bool:
		*target = value.Flag
	case *string:
		*target = value.Text
	default:
		panic(fmt.Sprintf("impossible: the shop's table points to a %T", field))
	}
}

// validateShop checks the shop's values against each other.
func validateShop(shop Shop, read document.Document) document.FieldErrors {
	faults := cuttersAgree(shop, read)
	seen := map[string]int{}
	for i, c := range shop.Cutters {
		if first, twice := seen[c.Name]; twice {
			faults = append(faults, read.Fault("cutter", i, "name", fmt.Sprintf("cutter %d has this name already", first+1), "give each cutter a name of its own"))
		}
		seen[c.Name] = i
	}
	faults = append(faults, validateMetals(shop, read)...)
	return append(faults, validateDialects(shop, read)...)
}

// cuttersAgree checks the numbers of spindle and cutters against each other.
func cuttersAgree(shop Shop, read document.Document) (faults document.FieldErrors) {
	if shop.Machine.SpindleLeast > shop.Machine.SpindleMost {
		faults = append(faults, read.Fault("machine", 0, "spindle_least", fmt.Sprintf("must not be above spindle_most, %g", shop.Machine.SpindleMost), "exchange the two"))
	}
	for i, c := range shop.Cutters {
		if c.FluteLength > c.StickOut {
			faults = append(faults, read.Fault("cutter", i, "flute_length", fmt.Sprintf("must not be longer than the stick-out, %g mm", c.StickOut), "measure both again"))
		}
		switch {
		case c.End != SquareEnd && c.CornerRadius > 0:
			faults = append(faults, read.Fault("cutter", i, "corner_radius", fmt.Sprintf("a %s has no such corner", c.End), "leave it out, or make the end square"))
		case c.CornerRadius > 0 && c.CornerRadius >= c.Radius():
			faults = append(faults, read.Fault("cutter", i, "corner_radius", fmt.Sprintf("must be less than the radius, %g mm", c.Radius()), "make the end a ball, or lessen it"))
		}
		if d := c.Measured.Or(c.Diameter); math.Abs(d-c.Diameter) > 0.1*c.Diameter {
			faults = append(faults, read.Fault("cutter", i, "measured_diameter", fmt.Sprintf("is more than a tenth off the nominal %g mm", c.Diameter), "measure again, or name it a cutter of its own"))
		}
	}
	return faults
}
