package profile

import (
	"math"
	"strings"

	"fullerwright/profile/document"
)

// Difference is a parameter that two knives have otherwise, as text in the units of each;
// empty where one leaves it out.
type Difference struct{ Key, Meaning, A, B string }

// Differences returns the parameters in which two knives differ, in the order of the
// table: their values, not how they are typed, so that files in different units may be
// compared.
func Differences(a, b Knife) []Difference {
	var out []Difference
	compareKnives(a, b, func(d Difference, alike bool) {
		if !alike {
			out = append(out, d)
		}
	})
	return out
}

// Alike returns how many parameters two knives have alike.
func Alike(a, b Knife) int {
	n := 0
	compareKnives(a, b, func(_ Difference, alike bool) {
		if alike {
			n++
		}
	})
	return n
}

// compareKnives calls f with every parameter that either knife has.
func compareKnives(a, b Knife, f func(d Difference, alike bool)) {
	inA, inB := a.spelled(), b.spelled()
	var order []string
	meaning := map[string]string{}
	for _, k := range []Knife{a, b} {
		k.eachParameter(func(group ParameterGroup, index int, p Parameter) {
			key := changeKey(group, index, p)
			if _, seen := meaning[key]; !seen {
				order = append(order, key)
				meaning[key] = p.Meaning
			}
		})
	}
	for _, key := range order {
		p, q := inA[key], inB[key]
		if p.text == "" && q.text == "" {
			continue
		}
		alike := p.number && q.number && math.Abs(p.value-q.value) < p.rounding || !p.number && !q.number && p.text == q.text
		f(Difference{strings.TrimPrefix(key, "."), meaning[key], p.text, q.text}, alike)
	}
}

// spelling is the value of a parameter.
type spelling struct {
	text     string
	value    float64
	rounding float64 // within which values count as alike
	number   bool
}

func (k Knife) spelled() map[string]spelling {
	out := map[string]spelling{}
	k.eachParameter(func(group ParameterGroup, index int, p Parameter) {
		s := spelling{text: k.spell(p, index), rounding: 1e-9}
		if p.Kind == document.Length {
			s.rounding = 5e-4 // mm: five decimals of an inch, and less than a micrometer reads
			if s.text != "" {
				s.text += " " + k.Units.String()
			}
		}
		s.value, s.number = quantity(p.field(&k, index))
		out[changeKey(group, index, p)] = s
	})
	return out
}
