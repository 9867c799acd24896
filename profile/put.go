package profile

import (
	"fmt"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// Put returns the knife with one number set, as fuller[1].depth, whether its file gives
// it or not, and what the file gives besides those it follows from made to agree. Lengths
// are in mm, angles in radians. Faults of the knife so made are document.FieldErrors.
func (k Knife) Put(key string, value float64) (Knife, error) {
	moved := k.copied()
	found := false
	moved.eachParameter(func(group ParameterGroup, index int, p Parameter) {
		if changeKey(group, index, p) != key {
			return
		}
		found = true
		switch field := p.field(&moved, index).(type) {
		case *Optional:
			*field = Some(value)
		case *float64:
			*field = value
		case *geom.Angle:
			*field = geom.Angle(value)
		default:
			found = false
		}
	})
	if !found {
		return Knife{}, fmt.Errorf("there is no number %s", key)
	}
	moved = moved.with(moved.agreed(nil))
	if err := moved.Validate(); err != nil {
		return Knife{}, err
	}
	return moved, nil
}

// KindOf returns the kind of a key as changes name it; Text for one that is not there.
func KindOf(key string) document.Kind {
	for _, group := range Table() {
		for _, p := range group.Parameters {
			if group.Name+"."+p.Name == withoutIndex(key) {
				return p.Kind
			}
		}
	}
	return document.Text
}

// PutWord returns the knife with the value of a key that is a word, as bar.condition. What
// a knife file could not say is an error.
func (k Knife) PutWord(key, word string) (Knife, error) {
	moved := k.copied()
	found := false
	moved.eachParameter(func(group ParameterGroup, index int, p Parameter) {
		if field, is := p.field(&moved, index).(*string); is && changeKey(group, index, p) == key {
			*field, found = word, true
		}
	})
	if !found {
		return Knife{}, fmt.Errorf("there is no word %s", key)
	}
	if key == "bar.condition" && word != "hardened" {
		moved.Bar.Hardness = Optional{} // it is of a hardened bar
	}
	if err := moved.Validate(); err != nil {
		return Knife{}, err
	}
	return moved, nil
}

// InPlane reports whether a key, as changes name it, is a length in the plane of the face,
// which grows in hardening.
func InPlane(key string) bool {
	for _, group := range Table() {
		for _, p := range group.Parameters {
			if p.InPlane && group.Name+"."+p.Name == withoutIndex(key) {
				return true
			}
		}
	}
	return false
}
