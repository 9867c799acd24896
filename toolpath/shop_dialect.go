package toolpath

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fullerwright/profile/document"
	"fullerwright/toolpath/dialect"
)

// dialectGroup is the table of a dialect of the maker's own. Its values are taken by
// ownDialects, since what is left out is as in the preset that it is like.
func dialectGroup() shopGroup {
	nowhere := func(*Shop, int) any { return nil }
	out := shopGroup{name: "dialect", meaning: "how programs are spelled for a control of your own; what is left out is as in the preset that it is like", repeated: true, entries: []entry{
		{demanded(textKey("name", "for dialect in [machine] and for --dialect", "")), nowhere},
		{choiceKey("like", "the preset that it starts from: fullerwright help dialects", dialect.Names(nil)...), nowhere},
	}}
	for _, e := range dialect.Table() {
		out.entries = append(out.entries, entry{e.Key, nowhere})
	}
	return out
}

// ownDialects returns the dialects of a shop file.
func ownDialects(read document.Document) []dialect.Dialect {
	var out []dialect.Dialect
	for i := range read.Len("dialect") {
		like := read.Value("dialect", i, "like").Text
		d, _ := dialect.Named(like, nil)
		d.Name, d.Meaning = read.Value("dialect", i, "name").Text, "of your own, like "+like
		for _, e := range dialect.Table() {
			if v := read.Value("dialect", i, e.Name); v.Given {
				e.Set(&d, v)
			}
		}
		out = append(out, d.Adapted(func(key string) bool { return read.Value("dialect", i, key).Given }))
	}
	return out
}

// Dialect returns the dialect of a name: of the maker's own ones, or a preset.
func (s Shop) Dialect(name string) (dialect.Dialect, bool) { return dialect.Named(name, s.Dialects) }

// validateDialects checks the dialects against each other and against the machine.
func validateDialects(shop Shop, read document.Document) (faults document.FieldErrors) {
	m := shop.Machine
	use := dialect.Use{Inch: shop.Inch, Reach: math.Max(m.TravelX, math.Max(m.TravelY, m.TravelZ))}
	for i, d := range shop.Dialects {
		if rule, hint := dialect.Nameable(d.Name, shop.Dialects[:i]); rule != "" {
			faults = append(faults, read.Fault("dialect", i, "name", rule, hint))
		}
		// What the programs ask of it matters for the one that the machine takes.
		asked := use
		if d.Name != m.Dialect {
			asked.Inch = d.Units == dialect.InchOnly
		}
		for _, fault := range dialect.Check(d, asked) {
			faults = append(faults, read.Fault("dialect", i, fault.Key, fault.Rule, fault.Hint))
		}
	}
	d, known := shop.Dialect(m.Dialect)
	if !known {
		return append(faults, read.Fault("machine", 0, "dialect", "there is no such dialect", "the dialects are "+strings.Join(dialect.Names(shop.Dialects), ", ")+"; one of your own stands in [[dialect]]"))
	}
	return append(faults, validateMachineDialect(shop, d, read)...)
}

// dialectsBeside checks the dialects of a file that has faults already against their rules
// between keys, so that all is told at once. A rule that has to do with a key that is wrong
// by itself waits.
func dialectsBeside(already document.FieldErrors, read document.Document) (faults document.FieldErrors) {
	for i, d := range ownDialects(read) {
		var wrong []string
		for _, f := range already {
			if key, of := strings.CutPrefix(f.Field, fmt.Sprintf("dialect[%d].", i+1)); of {
				wrong = append(wrong, key)
			}
		}
		for _, fault := range dialect.Check(d, dialect.Use{Inch: d.Units == dialect.InchOnly}) {
			waits := slices.ContainsFunc(wrong, func(key string) bool {
				return key == fault.Key || strings.Contains(fault.Rule+" "+fault.Hint, key)
			})
			if !waits {
				faults = append(faults, read.Fault("dialect", i, fault.Key, fault.Rule, fault.Hint))
			}
		}
	}
	return faults
}

// validateMachineDialect checks whether the dialect of the machine has words for what the
// shop asks of it.
func validateMachineDialect(shop Shop, d dialect.Dialect, read document.Document) (faults document.FieldErrors) {
	if c := shop.Machine.Coolant; c == "mist" && !d.Mist || c == "flood" && !d.Flood {
		faults = append(faults, read.Fault("machine", 0, "coolant", fmt.Sprintf("the dialect %s has no word for %s", d.Name, c), `switch it by hand, with coolant = "none", or make `+c+" true in the dialect"))
	}
	if d.Tool != dialect.ToolChange {
		return faults
	}
	for i, c := range shop.Cutters {
		if c.Slot == 0 {
			faults = append(faults, read.Fault("cutter", i, "slot", fmt.Sprintf("the dialect %s changes tools, and this cutter has no slot", d.Name), "give it one from 1 to 128, as your changer has it"))
		}
	}
	return faults
}

const (
	// rampAim is the part of the steepest ramp allowed that is used, so that rounding to
	// four decimals does not lead beyond it.
	rampAim = 0.99
	// fineStep is the last decimal up to which that holds, mm, and shortChord how short the
	// chords of a ramp are taken to be, mm: those of an arc of 2.5 mm within half a
	// micrometre are 0.1 mm long.
	fineStep, shortChord = 3e-4, 0.1
	// flattest is the least part of the steepest ramp that is used, however few decimals
	// there are: what comes out too steep then, the proof finds.
	flattest = 0.3
)

// ramp returns the slope at which ramps are planned. With few decimals the ends of a short
// chord may be rounded apart by a whole step of the last one, so that ramps must be flatter
// for the text of their steepest chord to be within the limit.
func (s Shop) ramp() float64 {
	limit := math.Tan(s.Limits.Ramp.Radians())
	d, known := s.Dialect(s.Machine.Dialect)
	if !known {
		return rampAim * limit
	}
	step := d.Step(s.Inch)
	if step <= fineStep {
		return rampAim * limit
	}
	return math.Max(flattest, rampAim-step/shortChord/limit-step/shortChord) * limit
}
