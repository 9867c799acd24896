package profile

import (
	"fmt"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// Schema returns the parameter table as the document package reads it.
func Schema() document.Schema {
	var schema document.Schema
	for _, group := range Table() {
		keys := make([]document.Key, len(group.Parameters))
		for i, parameter := range group.Parameters {
			keys[i] = parameter.Key
		}
		schema.Groups = append(schema.Groups, document.Group{
			Name: group.Name, Meaning: group.Meaning, Repeated: group.Repeated, Required: group.Required, Keys: keys,
		})
	}
	return schema
}

// Parse reads a knife file. It reports, all at once as document.FieldErrors, what is
// not written as the table says, and dimensions that cannot belong to one knife;
// the knife is zero when there is an error.
func Parse(file string, data []byte) (Knife, error) {
	read, err := document.Read(file, data, Schema())
	if err != nil {
		return Knife{}, err
	}
	return fromDocument(read)
}

// ParseFile is Parse for a file on disk.
func ParseFile(path string) (Knife, error) {
	read, err := document.ReadFile(path, Schema())
	if err != nil {
		return Knife{}, err
	}
	return fromDocument(read)
}

func fromDocument(read document.Document) (Knife, error) {
	knife := Knife{Units: read.Units(), source: read}
	for _, group := range Table() {
		n := 1
		if group.Repeated {
			n = read.Len(group.Name)
			group.resize(&knife, n)
		}
		for index := range n {
			for _, parameter := range group.Parameters {
				assign(parameter.field(&knife, index), read.Value(group.Name, index, parameter.Name))
			}
		}
	}
	if err := knife.Validate(); err != nil {
		return Knife{}, err
	}
	return knife, nil
}

// assign puts a value of the file where the table points.
func assign(field any, value document.Value) {
	switch target := field.(type) {
	case nil:
	case *float64:
		*target = value.Float
	case *Optional:
		*target = Optional{Value: value.Float, Known: value.Known}
	case *geom.Angle:
		*target = geom.Angle(value.Float)
	case *string:
		*target = value.Text
	default:
		panic(fmt.Sprintf("impossible: the table points to a %T", field))
	}
}

// fault makes an error about one key of the knife's file, in its units.
func (k Knife) fault(group string, index int, key, rule, hint string) document.FieldError {
	in := func(text string) string { return document.Words(text).In(k.Units) }
	return k.source.Fault(group, index, key, in(rule), in(hint))
}

// say writes a length in the units of the knife's file.
func (k Knife) say(mm float64) string {
	if k.Units == document.Inch {
		return fmt.Sprintf("%.4f in", mm/25.4)
	}
	return fmt.Sprintf("%.3f mm", mm)
}
