package toolpath

import (
	"fmt"
	"slices"
	"strings"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/material"
	"fullerwright/toolpath/cutting"
)

// Metal is a metal of guards as the maker has it: one of the maker's own, or a known one that
// cuts otherwise than the table says.
type Metal struct {
	Name       string
	CutsLike   string  // a metal with cutting data
	SpeedShare float64 // surface speed over that of the metal it cuts like
}

func metalGroup() shopGroup {
	at := func(f func(m *Metal) any) func(*Shop, int) any {
		return func(s *Shop, i int) any { return f(&s.Metals[i]) }
	}
	like := document.Key{Name: "cuts_like", Meaning: "the known metal whose cutting data it shares", Kind: document.Choice, Choices: cutting.Metals(), Default: cutting.Metals()[0]}
	return shopGroup{name: "metal", meaning: "a metal of guards that cuts otherwise with you than the built-in table says, or for which it has no data", repeated: true, entries: []entry{
		{demanded(textKey("name", "as guard.material names it, one of its list; its own density stands in the knife file, guard.density", "")), at(func(m *Metal) any { return &m.Name })},
		{demanded(like), at(func(m *Metal) any { return &m.CutsLike })},
		{numberKey("speed_share", "its surface speed as a part of that metal's", "1", 0.2, 1.5), at(func(m *Metal) any { return &m.SpeedShare })},
	}}
}

// validateMetals checks that knife files can name the metals: theirs is a list that densities
// stand beside.
func validateMetals(shop Shop, read document.Document) (faults document.FieldErrors) {
	for i, m := range shop.Metals {
		if slices.Contains(material.PartNames(), m.Name) {
			continue
		}
		faults = append(faults, read.Fault("metal", i, "name", "guard.material and pommel.material cannot name it: they name one of "+strings.Join(cutting.Metals(), ", "),
			fmt.Sprintf("name it %q here and in the knife file, whose guard.density takes its own density", m.CutsLike)))
	}
	return faults
}

// MetalData returns the cutting data of a metal of fittings: of the maker's own ones first.
func (s Shop) MetalData(name string) (cutting.Data, bool) {
	i := slices.IndexFunc(s.Metals, func(m Metal) bool { return m.Name == name })
	if i < 0 {
		return cutting.MetalFor(name)
	}
	data, known := cutting.MetalFor(s.Metals[i].CutsLike)
	data = data.Faster(s.Metals[i].SpeedShare)
	data.Steels = []string{name}
	return data, known
}

// guardData returns the cutting data of a knife's guard.
func (s Shop) guardData(b profile.Blade) (cutting.Data, error) {
	data, known := s.MetalData(b.Knife.Guard.Material)
	if !known {
		return cutting.Data{}, &NoCutterError{PlanError{fmt.Sprintf("no cutting data for a guard of %q", b.Knife.Guard.Material),
			fmt.Sprintf("describe it as a [[metal]] of the shop file that cuts like one of %q, or drill and file the slot", cutting.Metals())}}
	}
	return data.Paced(s.Work.Pace), nil
}
