// Package document reads the files a maker writes, knife files, shop files and files
// of measured values, against a table of the keys they may hold, and reports every
// fault of a file at once.
//
// The files are TOML. A length is a number in the file's units or a text that carries
// its own unit; an angle is a number in degrees. What comes out is in millimetres and
// radians.
package document

import "math"

// Unit is the unit of a file's plain numbers that are lengths.
type Unit uint8

// The units of a file.
const (
	Millimetre Unit = iota
	Inch
)

// inch is the length of an inch, mm; exact since the international yard and pound
// agreement of 1959.
const inch = 25.4

// String returns the unit's symbol.
func (u Unit) String() string {
	if u == Inch {
		return "in"
	}
	return "mm"
}

// Millimetres returns how long one unit is.
func (u Unit) Millimetres() float64 {
	if u == Inch {
		return inch
	}
	return 1
}

// Kind is what a key's value is.
type Kind uint8

// The kinds of value.
const (
	Length Kind = iota // mm inside
	Angle              // degrees in the file and in limits, radians inside
	Number
	Count // a whole number
	Text
	Choice // one of several words
	Flag   // true or false
)

// Key describes one key of a file.
type Key struct {
	Name, Meaning string
	Kind          Kind
	Default       string // as typed in a file in millimetres; empty for none
	Required      bool
	Min, Max      float64 // inclusive, in mm, degrees or plain; both 0 for no limits
	AboveMin      bool    // the value must be greater than Min
	Choices       []string
}

// Group describes one group of keys. The group without a name holds the keys before
// any group.
type Group struct {
	Name, Meaning string
	Repeated      bool // written [[name]], any number of times
	Required      bool
	Keys          []Key
}

// Schema is all that a file may hold.
type Schema struct{ Groups []Group }

func (s Schema) group(name string) (Group, bool) {
	for _, g := range s.Groups {
		if g.Name == name {
			return g, true
		}
	}
	return Group{}, false
}

func (g Group) key(name string) (Key, bool) {
	for _, k := range g.Keys {
		if k.Name == name {
			return k, true
		}
	}
	return Key{}, false
}

// Value is one value of a file, or the default of its key.
type Value struct {
	Float float64 // of a length in mm, an angle in radians, or a number
	Count int
	Text  string
	Flag  bool
	Given bool   // it stands in the file
	Known bool   // it stands in the file or has a default
	Line  int    // of the file, counted from 1; 0 for a default
	Raw   string // as it was typed
}

// Document is a file that was read. The zero value holds nothing.
type Document struct {
	file   string
	schema Schema
	units  Unit
	groups map[string][]instance
}

// instance is one occurrence of a group.
type instance struct {
	line   int
	values map[string]Value
}

// Units returns the unit of the file's plain numbers.
func (d Document) Units() Unit { return d.units }

// File returns the name of the file.
func (d Document) File() string { return d.file }

// Len returns how often a group stands in the file.
func (d Document) Len(group string) int { return len(d.groups[group]) }

// Value returns the value of a key in one occurrence of a group, or the key's default.
func (d Document) Value(group string, index int, key string) Value {
	if list := d.groups[group]; index < len(list) {
		if v, ok := list[index].values[key]; ok {
			return v
		}
	}
	g, _ := d.schema.group(group)
	k, ok := g.key(key)
	if !ok || k.Default == "" && k.Kind != Text {
		return Value{}
	}
	v, fault := k.fromText(k.Default, Millimetre)
	if fault != "" {
		panic("impossible: the default of " + key + " is no value: " + fault)
	}
	v.Known = true
	return v
}

// Fault makes a fault about one key for checks that are made after reading.
func (d Document) Fault(group string, index int, key, rule, hint string) FieldError {
	e := FieldError{File: d.file, Field: d.field(group, index, key), Rule: rule, Hint: hint}
	list := d.groups[group]
	if index < len(list) {
		e.Line = list[index].line
		if v, ok := list[index].values[key]; ok {
			e.Line, e.Value = v.Line, v.Raw
		}
	}
	return e
}

// field names a key as a person would.
func (d Document) field(group string, index int, key string) string {
	g, _ := d.schema.group(group)
	return fieldName(g, index, key)
}

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }
