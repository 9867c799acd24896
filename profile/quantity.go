package profile

import (
	"math"
	"slices"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// Quantity is one number of a knife, a row of the parameter table with the occurrence of
// its group, for what searches among knives. The zero value is invalid;
// Knife.Quantities makes them.
type Quantity struct {
	Parameter
	Key   string // as blade.length, or taper[1].at counted from 1
	Group string
	Index int // of the occurrence, from 0
}

// Quantities returns every length, angle and number of a knife that its file gives or
// that has a default, in the order of the table. They hold for any knife with as many of
// each repeated group.
func (k Knife) Quantities() (out []Quantity) {
	k.eachQuantity(func(_ ParameterGroup, q Quantity) { out = append(out, q) })
	return out
}

// eachQuantity calls f with the quantities and their groups.
func (k Knife) eachQuantity(f func(group ParameterGroup, q Quantity)) {
	k.eachParameter(func(group ParameterGroup, index int, p Parameter) {
		if _, known := quantity(p.field(&k, index)); known && p.Name != "units" {
			f(group, Quantity{Parameter: p, Key: changeKey(group, index, p), Group: group.Name, Index: index})
		}
	})
}

// Of returns the value of the quantity in a knife: mm, radians or plain.
func (q Quantity) Of(k Knife) float64 {
	value, _ := quantity(q.field(&k, q.Index))
	return value
}

// Put puts a value where Of found one. The lists of a knife that Copied made are its own.
func (q Quantity) Put(k *Knife, value float64) { setQuantity(q.field(k, q.Index), value) }

// Limits returns both limits of the quantity: mm, radians or plain.
func (q Quantity) Limits() (least, most float64) {
	if q.Kind == document.Angle {
		return q.Min * float64(geom.Degree), q.Max * float64(geom.Degree)
	}
	return q.Min, q.Max
}

// Copied returns a knife whose repeated groups are its own, to put quantities in.
func (k Knife) Copied() Knife { return k.copied() }

// EditsTo returns what must be written into the knife's file to make it that of another
// knife with the same groups: the quantities that differ, in the order of the table, and
// the dimensions that the file gives besides those they follow from.
func (k Knife) EditsTo(other Knife) []document.Edit {
	redundant := other.redundant()
	var out []document.Edit
	for _, q := range other.Quantities() {
		is := q.Of(other)
		at := slices.IndexFunc(redundant, func(d derived) bool { return d.name() == q.Key })
		was, given := quantity(q.field(&k, q.Index))
		switch {
		case at >= 0 && math.Abs(was-redundant[at].value) > agreement:
			is = redundant[at].value
		case at >= 0:
			continue // agrees as it is
		}
		if !given || was != is {
			out = append(out, document.Edit{Group: q.Group, Index: q.Index, Key: q.Name, Kind: q.Kind, Value: is})
		}
	}
	return out
}
