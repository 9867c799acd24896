package profile

import (
	"slices"

	"fullerwright/profile/geom"
)

// eachParameter calls f for every row of the table with every group that the knife has of
// it, in the order of the table.
func (k Knife) eachParameter(f func(group ParameterGroup, index int, p Parameter)) {
	for _, group := range Table() {
		n := 1
		if group.Repeated {
			n = group.count(k)
		}
		for index := range n {
			for _, p := range group.Parameters {
				f(group, index, p)
			}
		}
	}
}

// copied returns a knife whose repeated groups are its own.
func (k Knife) copied() Knife {
	k.Taper, k.Fullers, k.Holes = slices.Clone(k.Taper), slices.Clone(k.Fullers), slices.Clone(k.Holes)
	return k
}

// quantity returns the number a field of the table holds, if it holds one.
func quantity(field any) (float64, bool) {
	switch f := field.(type) {
	case *float64:
		return *f, true
	case *Optional:
		return f.Value, f.Known
	case *geom.Angle:
		return float64(*f), true
	}
	return 0, false
}

// setQuantity puts a number where quantity found one.
func setQuantity(field any, value float64) {
	switch f := field.(type) {
	case *float64:
		*f = value
	case *Optional:
		f.Value = value
	case *geom.Angle:
		*f = geom.Angle(value)
	}
}
