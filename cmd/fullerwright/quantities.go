package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

// quantity is something that a finished knife comes to: what can be aimed at, tabled and
// compared.
type quantity struct {
	name, title, unit string // the flag, the words of a picture, the unit
	meaning           string
	tolerance         float64 // within which a target counts as reached
	decimals          int
	better            int                     // 1 where more is better, -1 where less is, 0 where neither
	of                func(d *design) float64 // NaN where the knife has no such thing
}

// quantities returns them all, in the order in which they are listed.
func quantities() []quantity {
	return []quantity{
		{"weight", "weight of the whole knife", "g", "weight of the whole knife, as 210g or 7.4oz", 0.05, 1, 0,
			func(d *design) float64 { return d.measures().Whole.Mass }},
		{"balance", "balance in front of the guard plane", "mm", "balance of the whole knife: in front of the guard plane, as 12mm or -5mm, or as a part of the overall length from the butt, as 42%", 0.05, 2, 0,
			func(d *design) float64 { return d.measures().Whole.X }},
		{"blade-weight", "weight of blade and tang", "g", "weight of blade and tang without fittings", 0.05, 1, 0,
			func(d *design) float64 { return d.measures().Blade.Mass }},
		{"stiffness", "stiffness sideways, of now", "%", "stiffness sideways as a part of what it is now, as 90%", 0.05, 2, 1,
			func(d *design) float64 { return 100 * d.now().Bends.Sideways / d.measures().Bends.Sideways }},
		{"deflection", "point sideways under 10 N", "mm", "bend of the point sideways under 10 N", 0.002, 3, -1,
			func(d *design) float64 { return d.measures().Bends.Sideways }},
		{"web", "least web", "mm", "least steel between opposite fullers", 0.002, 3, 1,
			func(d *design) float64 { return finiteOr(leastWeb(d.finished), math.NaN()) }},
		{"saving", "weight of what the fullers take", "g", "weight that the fullers take", 0.02, 2, 0,
			func(d *design) float64 { return d.measures().Buy.Grams }},
		{"overall", "overall length", "mm", "length from the butt to the point, with the hilt", 0.005, 2, 0,
			func(d *design) float64 { return d.finished.Knife.Blade.Length + butt(d.finished.Knife) }},
	}
}

// balanceShare is the balance as a part of the overall length, which balance becomes
// where the target is a percentage.
func balanceShare() quantity {
	return quantity{"balance", "balance, of overall length from the butt", "%", "", 0.02, 2, 0, func(d *design) float64 {
		back := butt(d.finished.Knife)
		return 100 * (d.measures().Whole.X + back) / (d.finished.Knife.Blade.Length + back)
	}}
}

// butt returns how far behind the guard plane the knife ends.
func butt(k profile.Knife) float64 {
	s := k.StackUp()
	return max(s.Pommel, s.Tang, s.Rod)
}

func finiteOr(v, other float64) float64 {
	if math.IsInf(v, 0) {
		return other
	}
	return v
}

// say writes a value of the quantity with its unit, which is the reader's.
func (q quantity) say(v float64, unit document.Unit) string {
	if math.IsNaN(v) {
		return "none"
	}
	_, name := unit.Say(v, q.unit)
	return q.figure(v, unit) + " " + name
}

// figure writes a value of the quantity in the reader's unit.
func (q quantity) figure(v float64, unit document.Unit) string {
	said, _ := unit.Say(v, q.unit)
	return plainNumber(said, unit.Decimals(q.decimals, q.unit))
}

// plainNumber writes a number with a number of decimals and no negative zero.
func plainNumber(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return text
}

// target reads what is aimed at; lengths without a unit are in that of the knife file.
func (q quantity) target(text string, unit document.Unit) (quantity, float64, error) {
	trimmed := strings.TrimSpace(text)
	percent, isPercent := strings.CutSuffix(trimmed, "%")
	wrong := func(hint string) (quantity, float64, error) {
		return q, 0, &usageError{fmt.Sprintf("--%s %q is no %s", q.name, text, q.title), hint}
	}
	if q.name == "balance" && isPercent {
		q = balanceShare()
	}
	var v float64
	var err error
	switch q.unit {
	case "%":
		if v, err = strconv.ParseFloat(strings.TrimSpace(percent), 64); err != nil {
			return wrong("write it as 90%")
		}
	case "g":
		if v, err = grams(trimmed); err != nil {
			return wrong("write it as 210, 210g or 7.4oz")
		}
	default:
		if v, err = document.ParseLength(trimmed, unit); err != nil {
			return wrong("write it as 12, 12mm or \"1/2 in\"")
		}
	}
	if !(math.Abs(v) <= greatestTarget) {
		return wrong("it must be a number that a knife can come to")
	}
	if v <= 0 && q.name != "balance" { // that lies on either side of the guard
		return wrong("it must be greater than 0")
	}
	return q, v, nil
}

// greatestTarget bounds what can be aimed at, in any unit.
const greatestTarget = 1e6

// grams reads a weight.
func grams(text string) (float64, error) {
	const ounce = 28.349523125 // g, avoirdupois (NIST Handbook 44, appendix C; exact)
	lower := strings.ToLower(text)
	per := 1.0
	for _, unit := range []struct {
		suffix string
		grams  float64
	}{{"oz", ounce}, {"kg", 1000}, {"g", 1}} {
		if number, found := strings.CutSuffix(lower, unit.suffix); found {
			lower, per = number, unit.grams
			break
		}
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(lower), 64)
	return v * per, err
}

// design is one knife with what it comes to, worked out when it is asked for.
type design struct {
	finished profile.Blade
	maker    *designer
	measured *profile.Measures
}

func (d *design) measures() profile.Measures {
	if d.measured == nil {
		m := d.finished.Measure(d.maker.density(d.finished.Knife))
		d.measured = &m
	}
	return *d.measured
}

// now returns the measures of the knife as the file has it.
func (d *design) now() profile.Measures { return d.maker.asIs.measures() }

// designer makes the designs of one knife file with some of its numbers varied.
type designer struct {
	profile.Varier
	in   job
	asIs *design

	hiltOnly bool // what varies is of handle and pommel alone
	once     sync.Once
	kept     work // where hiltOnly: the programs of any design, which all have
	keptErr  error
}

func newDesigner(in job, keys []string) (*designer, error) {
	varier, err := in.knife.Varier(keys...)
	if err != nil {
		return nil, err
	}
	m := &designer{Varier: varier, in: in, hiltOnly: !slices.ContainsFunc(varier.Variables, func(v profile.Variable) bool { return !milledWithout(v.Group) })}
	blade, err := profile.Build(in.knife, in.measured)
	if err != nil {
		return nil, err
	}
	m.asIs = &design{finished: blade, maker: m}
	m.asIs.measures()
	return m, nil
}

func (m *designer) density(k profile.Knife) float64 { return m.in.shop.Density(k.Blade.Steel).Value }

// at makes the finished knife with the given values.
func (m *designer) at(values []float64) (*design, error) {
	knife, err := m.At(values)
	if err != nil {
		return nil, err
	}
	blade, err := profile.Build(knife, m.in.measured)
	if err != nil {
		return nil, err
	}
	return &design{finished: blade, maker: m}, nil
}

// value returns what a design comes to; NaN where there is none.
func (m *designer) value(q quantity, values []float64) float64 {
	d, err := m.at(values)
	if err != nil {
		return math.NaN()
	}
	return q.of(d)
}

// checks runs the checks on the blade, and where none of them stops it those on its
// programs too, which take much longer.
func (m *designer) checks(values []float64) ([]toolpath.Check, error) {
	w, err := m.planned(values, m.in.shop)
	if err != nil || len(toolpath.Stops(w.checks)) > 0 {
		return w.checks, err
	}
	w.planCorners()
	return w.allChecks(), nil
}

// stops is checks for those that stop the work alone.
func (m *designer) stops(values []float64) ([]toolpath.Check, error) {
	w, err := m.planned(values, m.in.shop.AnyCutter())
	return toolpath.Stops(w.allChecks()), err
}

// planned plans the programs of a design but those for corners, where no check on the blade
// stops it. What is kept for designs of the hilt is planned once, whoever asks, with all cutters.
func (m *designer) planned(values []float64, shop toolpath.Shop) (*work, error) {
	knife, err := m.At(values)
	if err != nil {
		return &work{}, err
	}
	w, err := prepare(job{knife: knife, shop: shop, measured: m.in.measured})
	if err != nil {
		return &work{}, err
	}
	if len(toolpath.Stops(w.checks)) > 0 {
		return w, nil
	}
	all := func(toolpath.Step) bool { return true }
	if !m.hiltOnly {
		return w, w.planSteps("", all)
	}
	m.once.Do(func() {
		m.kept = *w
		m.kept.shop = m.in.shop
		m.keptErr = m.kept.planSteps("", all)
	})
	w.faces, w.byHand = slices.Clone(m.kept.faces), slices.Clone(m.kept.byHand)
	return w, m.keptErr
}

// milledWithout reports whether a group has no part in any program: handle and pommel are
// shaped by hand once the knife is milled.
func milledWithout(group string) bool {
	return group == "handle" || group == "pommel"
}

// designChecks runs the checks on a design that need no program.
func (d *design) designChecks() ([]toolpath.Check, error) {
	blade := d.finished
	if k := blade.Knife; k.Allowance.Growth != 0 {
		var err error
		if blade, err = profile.Build(k.BeforeHardening(), d.maker.in.measured); err != nil {
			return nil, err
		}
	}
	return toolpath.DesignChecks(blade, d.maker.in.shop), nil
}

// firstFault says the first fault of a design that cannot be, in one line.
func firstFault(err error) string {
	var faults document.FieldErrors
	if errors.As(err, &faults) && len(faults) > 0 {
		return fmt.Sprintf("%s: %s", faults[0].Field, faults[0].Rule)
	}
	line, _, _ := strings.Cut(err.Error(), "\n")
	return line
}

// sayValue writes the value of a variable in the units of the knife file.
func sayValue(kind document.Kind, value float64, unit document.Unit) string {
	switch kind {
	case document.Length:
		return document.FormatLength(value, unit) + " " + unit.String()
	case document.Angle:
		return strconv.FormatFloat(math.Round(value*180/math.Pi*1e4)/1e4, 'f', -1, 64) + " degrees"
	}
	return strconv.FormatFloat(math.Round(value*1e6)/1e6, 'f', -1, 64)
}
