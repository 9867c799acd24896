package toolpath

import (
	"errors"
	"fmt"
	"slices"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/material"
	"fullerwright/toolpath/cutting"
)

// Steel is a blade steel of the maker's own, cut like a known one.
type Steel struct {
	Name       string
	CutsLike   string  // a steel with cutting data
	SpeedShare float64 // surface speed over that of the steel it cuts like
	Density    float64 // g/cm³
	HardestHRC float64 // to which its figures hold
}

// steelData returns the cutting data of a blade's bar in the condition it is in.
func (s Shop) steelData(b profile.Blade) (cutting.Data, error) {
	data, known := s.CuttingData(b.Knife.Blade.Steel)
	if !known {
		return cutting.Data{}, noDataError(b, s)
	}
	data, err := data.For(stockOf(b))
	if refused := (*cutting.Refusal)(nil); errors.As(err, &refused) {
		return cutting.Data{}, &RefusedError{PlanError{refused.Reason, refused.Remedy}}
	}
	return data.Paced(s.Work.Pace), err
}

func noDataError(b profile.Blade, shop Shop) error {
	return &PlanError{fmt.Sprintf("no cutting data for the steel %q", b.Knife.Blade.Steel), "name one of " + shop.steelsKnown() + ", or describe it as a [[steel]] of the shop file"}
}

func stockOf(b profile.Blade) cutting.Stock {
	return cutting.Stock{Condition: cutting.Condition(b.Knife.Bar.Condition), HRC: b.Knife.Bar.Hardness.Or(0)}
}

func steelGroup() shopGroup {
	at := func(f func(s *Steel) any) func(*Shop, int) any {
		return func(s *Shop, i int) any { return f(&s.Steels[i]) }
	}
	like := document.Key{Name: "cuts_like", Meaning: "the known steel whose cutting data it shares", Kind: document.Choice, Choices: cutting.Steels(), Default: cutting.Steels()[0]}
	return shopGroup{name: "steel", meaning: "a steel that the built-in table does not have, annealed", repeated: true, entries: []entry{
		{demanded(textKey("name", "as knife files name it", "")), at(func(s *Steel) any { return &s.Name })},
		{demanded(like), at(func(s *Steel) any { return &s.CutsLike })},
		{numberKey("speed_share", "its surface speed as a part of that steel's", "1", 0.2, 1.5), at(func(s *Steel) any { return &s.SpeedShare })},
		{numberKey("hardest_hrc", "hardness to which its speeds hold; beyond 45 they are those of hardened steel", "45", 45, 65), at(func(s *Steel) any { return &s.HardestHRC })},
		{numberKey("density", "its density, g/cm3", "7.85", 6, 10), at(func(s *Steel) any { return &s.Density })},
	}}
}

// ownSteel returns the maker's own steel of a name.
func (s Shop) ownSteel(name string) (Steel, bool) {
	i := slices.IndexFunc(s.Steels, func(steel Steel) bool { return steel.Name == name })
	if i < 0 {
		return Steel{}, false
	}
	return s.Steels[i], true
}

// CuttingData returns the cutting data of a steel: of the maker's own ones first.
func (s Shop) CuttingData(name string) (cutting.Data, bool) {
	own, is := s.ownSteel(name)
	if !is {
		return cutting.DataFor(name)
	}
	data, known := cutting.DataFor(own.CutsLike)
	data = data.Faster(own.SpeedShare)
	data.Steels, data.HardestHRC = []string{own.Name}, own.HardestHRC
	return data, known
}

// Density returns the density of a steel, g/cm³, with where it comes from.
func (s Shop) Density(name string) material.Figure {
	if own, is := s.ownSteel(name); is {
		return material.Figure{Value: own.Density, Mark: material.Given, Source: "the shop file"}
	}
	if steel, known := material.SteelNamed(name); known {
		return steel.Density
	}
	return material.DefaultDensity()
}

// steelsKnown names all steels with cutting data.
func (s Shop) steelsKnown() string {
	var names []string
	for _, steel := range s.Steels {
		names = append(names, steel.Name)
	}
	return fmt.Sprint(append(names, cutting.Steels()...))
}
