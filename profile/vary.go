package profile

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fullerwright/profile/document"
)

// Variable is a quantity that a knife file gives, which may be varied.
type Variable struct {
	Quantity
	Value       float64 // in the file: mm, radians or plain
	Least, Most float64 // its limits, in the same; it must be above Least where AboveMin says so
}

// Variables returns every number that a knife file gives, in the order of the table:
// those of the groups it has, left out ones not.
func (k Knife) Variables() (out []Variable) {
	k.eachQuantity(func(group ParameterGroup, q Quantity) {
		if k.gives(group, q.Index) {
			least, most := q.Limits()
			out = append(out, Variable{q, q.Of(k), least, most})
		}
	})
	return out
}

// Variable returns the number with a key, as blade.length, fuller[2].depth, or
// fuller.depth where there is one fuller.
func (k Knife) Variable(key string) (Variable, error) {
	variables := k.Variables()
	var matches, names []string
	for _, v := range variables {
		if v.Key == key {
			return v, nil
		}
		if withoutIndex(v.Key) == key {
			matches = append(matches, v.Key)
		}
		names = append(names, withoutIndex(v.Key))
	}
	switch {
	case len(matches) == 1:
		return k.Variable(matches[0])
	case len(matches) > 1:
		return Variable{}, fmt.Errorf("%s stands more than once; name one of %s", key, strings.Join(matches, ", "))
	}
	if why := k.notVaried(withoutIndex(key)); why != "" {
		return Variable{}, fmt.Errorf("%s cannot be varied: %s", key, why)
	}
	if near, ok := document.Nearest(key, names); ok {
		return Variable{}, fmt.Errorf("the file gives no number %s; did you mean %s?", key, near)
	}
	return Variable{}, fmt.Errorf("the file gives no number %s; fullerwright help keys lists the keys, as bevel.height or fuller.depth", key)
}

// notVaried says why a key of the table is none that can be varied; empty for a key that
// is not in the table.
func (k Knife) notVaried(key string) string {
	for _, group := range Table() {
		for _, p := range group.Parameters {
			if strings.TrimPrefix(group.Name+"."+p.Name, ".") != key {
				continue
			}
			if numeric := map[document.Kind]bool{document.Length: true, document.Angle: true, document.Number: true}[p.Kind]; !numeric {
				return "it is a word, not a number"
			}
			if group.Repeated && group.count(k) == 0 || !group.Repeated && !k.gives(group, 0) {
				return fmt.Sprintf("the file says nothing of %s; write a group [%s] first", group.Name, group.Name)
			}
			return "the file leaves it out; write it there first, with a value to start from"
		}
	}
	return ""
}

// withoutIndex takes the number of the group out of a key.
func withoutIndex(key string) string {
	before, rest, indexed := strings.Cut(key, "[")
	number, after, closed := strings.Cut(rest, "]")
	if _, err := strconv.Atoi(number); !indexed || !closed || err != nil {
		return key
	}
	return before + after
}

// Rewrite returns the source of a knife file with the changed values; every other byte
// stays. A value that five decimals of the file's unit hold is written with no more than
// it needs, any other in the author's style.
func (k Knife) Rewrite(data []byte, changes []Change) []byte {
	edits := k.edits(changes, false)
	for i, e := range edits {
		unit := 1.0
		switch e.Kind {
		case document.Length:
			unit = k.Units.Millimetres()
		case document.Angle:
			unit = math.Pi / 180
		}
		hundredThousandths := e.Value / unit * 1e5
		edits[i].Fresh = math.Abs(hundredThousandths-math.Round(hundredThousandths)) < 1e-4
	}
	return document.Apply(data, k.Units, edits)
}

// Varier sets some variables of a knife, many times over.
type Varier struct {
	Variables []Variable
	knife     Knife
	follow    map[string]Quantity // what the file gives besides what it follows from, by key
}

// Varier returns one for the variables with the given keys; all faults are in the error.
func (k Knife) Varier(keys ...string) (Varier, error) {
	out := Varier{knife: k, follow: map[string]Quantity{}}
	var faults []error
	seen := map[string]bool{}
	for _, key := range keys {
		v, err := k.Variable(key)
		switch {
		case err != nil:
			faults = append(faults, err)
		case seen[v.Key]:
			faults = append(faults, fmt.Errorf("%s is named twice", v.Key))
		}
		seen[v.Key] = true
		out.Variables = append(out.Variables, v)
	}
	if len(faults) > 0 {
		return Varier{}, errors.Join(faults...)
	}
	redundant := k.redundant()
	for _, q := range k.Quantities() {
		if slices.ContainsFunc(redundant, func(d derived) bool { return d.name() == q.Key }) {
			out.follow[q.Key] = q
		}
	}
	return out, nil
}

// At returns the knife with the given values, one for each variable, and what the file
// gives besides those it follows from made to agree. Faults are document.FieldErrors.
func (v Varier) At(values []float64) (Knife, error) {
	moved := v.knife.copied()
	for i, variable := range v.Variables {
		variable.Put(&moved, values[i])
	}
	for _, d := range moved.redundant() {
		if q, follows := v.follow[d.name()]; follows && (v.varies(q.Key) || math.Abs(q.Of(moved)-d.value) > agreement) {
			q.Put(&moved, d.value)
		}
	}
	if err := moved.Validate(); err != nil {
		return Knife{}, err
	}
	return moved, nil
}

func (v Varier) varies(key string) bool {
	return slices.ContainsFunc(v.Variables, func(w Variable) bool { return w.Key == key })
}

// Changes returns what a file with the given values has otherwise: the variables that
// differ, then what follows from them.
func (v Varier) Changes(values []float64) []Change {
	var changes []Change
	for i, variable := range v.Variables {
		if values[i] != variable.Value {
			changes = append(changes, Change{Key: variable.Key, Kind: variable.Kind, Was: variable.Value, Is: values[i], Why: "as it comes out"})
		}
	}
	return v.knife.agreed(changes)
}
