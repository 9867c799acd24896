package profile

import (
	"bytes"
	"fmt"
	"math"
	"strconv"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// Resolved returns a knife file in which every parameter stands with its value, as
// typed or by default, and its meaning beside it. Read again it gives the same knife.
func Resolved(k Knife) []byte {
	var b bytes.Buffer
	for _, group := range Table() {
		n := 1
		if group.Repeated {
			n = group.count(k)
		}
		for index := range n {
			switch {
			case group.Repeated:
				fmt.Fprintf(&b, "\n[[%s]] # %s\n", group.Name, group.Meaning)
			case group.Name != "":
				fmt.Fprintf(&b, "\n[%s] # %s\n", group.Name, group.Meaning)
			}
			for _, parameter := range group.Parameters {
				writeParameter(&b, k, index, parameter)
			}
		}
	}
	return b.Bytes()
}

func writeParameter(b *bytes.Buffer, k Knife, index int, p Parameter) {
	value := k.spell(p, index)
	if value == "" {
		fmt.Fprintf(b, "# %s is not given: %s\n", p.Name, p.Meaning)
		return
	}
	fmt.Fprintf(b, "%s = %s # %s\n", p.Name, value, p.Meaning)
}

// spell writes the value of a parameter as TOML; empty where it is left out.
func (k Knife) spell(p Parameter, index int) string {
	if p.Name == "units" {
		return strconv.Quote(k.Units.String())
	}
	switch field := p.field(&k, index).(type) {
	case *string:
		return strconv.Quote(*field)
	case *geom.Angle:
		return spellNumber(field.Degrees())
	case *float64:
		return k.spellKind(p.Kind, *field)
	case *Optional:
		if field.Known {
			return k.spellKind(p.Kind, field.Value)
		}
	}
	return ""
}

func (k Knife) spellKind(kind document.Kind, v float64) string {
	switch kind {
	case document.Length:
		return document.FormatLength(v, k.Units)
	case document.Angle:
		return spellNumber(v * 180 / math.Pi)
	}
	return spellNumber(v)
}

// spellNumber writes a number with at most nine decimals.
func spellNumber(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e9)/1e9, 'f', -1, 64)
}
