package profile

import (
	"fullerwright/profile/document"
	"fullerwright/profile/material"
)

// made describes the material of a part of the hilt.
func made(standard string) document.Key {
	return document.Key{Name: "material", Meaning: "what it is made of", Kind: document.Choice, Default: standard, Choices: material.PartNames()}
}

func density() document.Key {
	return number("density", "its density in g/cm3, where the table of materials is not good enough", "", 0.1, 20)
}

func shape(meaning string) document.Key {
	return choice("shape", meaning, string(Oval), string(Block))
}

func guardGroup() ParameterGroup {
	return ParameterGroup{Name: "guard", Feature: true, Meaning: "the cross-piece that seats on the shoulders", Parameters: []Parameter{
		plain(length("length", "from tip to tip, along the width of the blade", "0 mm", 0, 300), Fixed,
			func(k *Knife, _ int) any { return &k.Guard.Length }),
		plain(length("width", "across the faces of the blade", "0 mm", 0, 80), Fixed,
			func(k *Knife, _ int) any { return &k.Guard.Width }),
		plain(length("thickness", "along the knife; 0 for no guard", "0 mm", 0, 40), Fixed,
			func(k *Knife, _ int) any { return &k.Guard.Thickness }),
		plain(shape("its outline seen from the point"), Verbal,
			func(k *Knife, _ int) any { return (*string)(&k.Guard.Shape) }),
		plain(made("brass"), Verbal, func(k *Knife, _ int) any { return &k.Guard.Material }),
		plain(density(), Fixed, func(k *Knife, _ int) any { return &k.Guard.Density }),
		plain(length("clearance", "of the slot on each side of the tang", "0.02 mm", 0, 1), Fixed,
			func(k *Knife, _ int) any { return &k.Guard.Clearance }),
		plain(length("chamfer", "of the front rim of the slot, over the inside corners of the shoulder", "0 mm", 0, 5), Fixed,
			func(k *Knife, _ int) any { return &k.Guard.Chamfer }),
	}}
}

func spacersGroup() ParameterGroup {
	return ParameterGroup{Name: "spacers", Feature: true, Meaning: "thin plates between guard and handle, of the handle's size", Parameters: []Parameter{
		plain(length("thickness", "of all of them together; 0 for none", "0 mm", 0, 60), Fixed,
			func(k *Knife, _ int) any { return &k.Spacers.Thickness }),
		plain(made("brass"), Verbal, func(k *Knife, _ int) any { return &k.Spacers.Material }),
		plain(density(), Fixed, func(k *Knife, _ int) any { return &k.Spacers.Density }),
	}}
}

func handleGroup() ParameterGroup {
	return ParameterGroup{Name: "handle", Feature: true, Meaning: "the grip over the tang", Parameters: []Parameter{
		plain(length("length", "along the knife; 0 for no handle", "0 mm", 0, 400), Fixed,
			func(k *Knife, _ int) any { return &k.Handle.Length }),
		plain(length("width", "mean, along the width of the blade", "0 mm", 0, 80), Fixed,
			func(k *Knife, _ int) any { return &k.Handle.Width }),
		plain(length("thickness", "mean, across the faces of the blade", "0 mm", 0, 60), Fixed,
			func(k *Knife, _ int) any { return &k.Handle.Thickness }),
		plain(shape("its cross-section"), Verbal,
			func(k *Knife, _ int) any { return (*string)(&k.Handle.Shape) }),
		plain(made("hardwood"), Verbal, func(k *Knife, _ int) any { return &k.Handle.Material }),
		plain(density(), Fixed, func(k *Knife, _ int) any { return &k.Handle.Density }),
	}}
}

func pommelGroup() ParameterGroup {
	return ParameterGroup{Name: "pommel", Feature: true, Meaning: "what closes the handle and holds it on the tang", Parameters: []Parameter{
		plain(length("length", "along the knife; 0 for no pommel", "0 mm", 0, 100), Fixed,
			func(k *Knife, _ int) any { return &k.Pommel.Length }),
		plain(length("width", "along the width of the blade", "0 mm", 0, 80), Fixed,
			func(k *Knife, _ int) any { return &k.Pommel.Width }),
		plain(length("thickness", "across the faces of the blade", "0 mm", 0, 60), Fixed,
			func(k *Knife, _ int) any { return &k.Pommel.Thickness }),
		plain(shape("its cross-section"), Verbal,
			func(k *Knife, _ int) any { return (*string)(&k.Pommel.Shape) }),
		plain(made("brass"), Verbal, func(k *Knife, _ int) any { return &k.Pommel.Material }),
		plain(density(), Fixed, func(k *Knife, _ int) any { return &k.Pommel.Density }),
		plain(length("hole_depth", "depth of its threaded hole; 0 for a hole right through", "0 mm", 0, 100), Fixed,
			func(k *Knife, _ int) any { return &k.Pommel.HoleDepth }),
	}}
}
