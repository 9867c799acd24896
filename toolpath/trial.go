package toolpath

import (
	"fmt"
	"math"
	"strings"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// trial is work that is tried with something changed: a blade alone, or one program for it.
type trial struct {
	blade profile.Blade
	shop  Shop
	plan  func(b profile.Blade, shop Shop, bought string) (*Job, error) // nil for the blade alone
	tried map[string]tried
}

// tried is what came of one change: the checks that are not well, and whether the knife
// could be built and the program planned at all.
type tried struct {
	checks []Check
	ok     bool
}

// onTrial lets the checks that are not well find their ways out.
func (t *trial) onTrial(checks []Check) []Check {
	t.tried = map[string]tried{}
	for i := range checks {
		if checks[i].Verdict != OK && checks[i].trial == nil {
			checks[i].trial = t
		}
	}
	return checks
}

// waysMost is how many ways out of one check are told.
const waysMost = 4

// waysOut returns the ways out of a check that do.
func (t *trial) waysOut(c Check, most int) []Way {
	out := t.those(c, most, func(way Way) bool { return t.does(c, way) })
	if c.Verdict == Stop {
		for i, way := range out {
			out[i] = t.forAll(c, way)
		}
	}
	return t.wholes(out)
}

// forAll returns a way with the value that does for other stops on the same key as well,
// where there are some that ask for more.
func (t *trial) forAll(c Check, way Way) Way {
	now, known := t.value(way.File, way.Key)
	if !known || len(way.Also) > 0 {
		return way
	}
	for _, other := range Stops(t.with(Way{}).checks) {
		for _, guess := range other.guesses {
			further := math.Abs(guess.Value-now) > math.Abs(way.Value-now) && (guess.Value > now) == (way.Value > now)
			if guess.Key == way.Key && further && len(guess.Also) == 0 && t.does(c, guess) {
				way = guess
			}
		}
	}
	return way
}

// those returns the ways that a check knows and for which something holds, each key once
// and no more than so many.
func (t *trial) those(c Check, most int, holds func(Way) bool) (out []Way) {
	seen := map[string]bool{}
	add := func(way Way) {
		seen[way.Key] = true
		out = append(out, way)
	}
	looked := c.looked
	for _, guess := range c.guesses {
		guess = t.inSteps(guess)
		switch now, known := t.value(guess.File, guess.Key); {
		case seen[guess.Key] || len(out) >= most:
		case holds(guess):
			add(guess)
		case known && len(guess.Also) == 0:
			looked = append(looked[:len(looked):len(looked)], direction{guess.File, guess.Key, guess.Value - now})
		}
	}
	levers := c.levers
	for _, d := range looked {
		levers = append(levers[:len(levers):len(levers)], t.lever(d))
	}
	for _, l := range levers {
		if way, found := l.nearest(holds, func(way Way) bool { return seen[way.Key] || len(out) >= most }); found {
			add(way)
		}
	}
	return out
}

// inSteps returns a way in inches whose value is farther from what it is now by as little as
// makes it a number that can be read; guesses are in hundredths of a millimetre.
func (t *trial) inSteps(way Way) Way {
	q, known := t.quantity(way.File, way.Key)
	if !known || way.Word != "" || !q.inches || len(way.Also) > 0 {
		return way
	}
	steps := math.Ceil(way.Value/q.step - 1e-6)
	if way.Value < q.now {
		steps = math.Floor(way.Value/q.step + 1e-6)
	}
	if value := steps * q.step; value >= q.least && value <= q.most {
		way.Value = math.Round(value*1e6) / 1e6
	}
	return way
}

// nearest returns the first value of a lever for which something holds: looked for in steps
// that double, then between the last two.
func (l lever) nearest(holds func(Way) bool, skip func(Way) bool) (Way, bool) {
	low, high := 0, 1
	var found Way
	for {
		way, ok := l(high)
		if !ok {
			if high = l.last(low, high); high == low {
				return Way{}, false
			}
			way, _ = l(high)
		}
		if skip(way) {
			return Way{}, false
		}
		if found = way; holds(way) {
			break
		}
		low, high = high, 2*high
	}
	for high-low > 1 {
		middle := (low + high) / 2
		if way, ok := l(middle); ok && holds(way) {
			high, found = middle, way
		} else {
			low = middle
		}
	}
	return found, true
}

// last returns the last value of a lever between one that it has, or 0, and one that it has
// not.
func (l lever) last(low, high int) int {
	for high-low > 1 {
		if middle := (low + high) / 2; l.has(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

func (l lever) has(n int) bool { _, ok := l(n); return ok }

// does reports whether a change does away with a check, and no check stops the work that
// did not before.
func (t *trial) does(c Check, way Way) bool {
	after := t.with(way)
	if !after.ok {
		return false
	}
	for _, other := range after.checks {
		if other.Name == c.Name || other.Verdict == Stop && !t.stoppedBy(other.Name) {
			return false
		}
	}
	return true
}

// letsDo reports whether with a change no check stops the work.
func (t *trial) letsDo(way Way) bool {
	after := t.with(way)
	if !after.ok {
		return false
	}
	for _, c := range Stops(after.checks) {
		if t.plan == nil || !t.onBlade(c.Name) {
			return false
		}
	}
	return true
}

// stoppedBy reports whether a check stops the work as it is.
func (t *trial) stoppedBy(name string) bool { return stops(t.with(Way{}).checks, name) }

// onBlade reports whether a check stops the blade as it is, whatever the program.
func (t *trial) onBlade(name string) bool {
	return stops((&trial{blade: t.blade, shop: t.shop, tried: map[string]tried{}}).with(Way{}).checks, name)
}

func stops(checks []Check, name string) bool {
	for _, c := range Stops(checks) {
		if c.Name == name {
			return true
		}
	}
	return false
}

// with returns what comes of a change; of none for the zero way.
func (t *trial) with(way Way) tried {
	key := fmt.Sprintf("%+v", way)
	if way.Cutter != nil {
		key += fmt.Sprintf("%+v", *way.Cutter)
	}
	if was, known := t.tried[key]; known {
		return was
	}
	out := t.look(way)
	t.tried[key] = out
	return out
}

func (t *trial) look(way Way) (out tried) {
	blade, shop, err := t.changed(way)
	if err != nil {
		return tried{}
	}
	checks := designChecks(blade, shop)
	if t.plan != nil {
		bought := ""
		if way.Cutter != nil {
			bought = way.Cutter.Name
		}
		job, err := t.plan(blade, shop, bought)
		if err != nil {
			return tried{}
		}
		checks = append(checks, job.Checks...)
	}
	out.ok = true
	for _, c := range checks {
		if c.Verdict != OK {
			out.checks = append(out.checks, c)
		}
	}
	return out
}

// changed returns blade and shop with a change.
func (t *trial) changed(way Way) (profile.Blade, Shop, error) {
	knife, shop := t.blade.Knife, t.shop
	var err error
	for _, one := range append([]Way{way}, way.Also...) {
		if err != nil {
			break
		}
		switch {
		case one.Cutter != nil:
			shop.Cutters = append(shop.Cutters[:len(shop.Cutters):len(shop.Cutters)], *one.Cutter)
		case one.Key == "":
		case one.File == ShopFile:
			shop, err = shop.Put(one.Key, one.Value)
		case one.Word != "":
			knife, err = knife.PutWord(one.Key, one.Word)
		default:
			knife, err = knife.Put(one.Key, t.beforeHardening(one))
		}
	}
	if err != nil || way.File == ShopFile && len(way.Also) == 0 || way.Key == "" {
		return t.blade, shop, err
	}
	blade, err := t.blade.With(knife)
	return blade, shop, err
}

// beforeHardening returns a value as the blade has it before it grows in hardening.
func (t *trial) beforeHardening(way Way) float64 {
	if growth := t.blade.Knife.Allowance.Growth; growth != 0 && profile.InPlane(way.Key) {
		return way.Value / (1 + growth)
	}
	return way.Value
}

// value returns what a key is.
func (t *trial) value(file File, key string) (float64, bool) {
	q, known := t.quantity(file, key)
	return q.now, known
}

// quantityNow is a number of one of the files: what it is, its limits and the step in which
// it is looked for.
type quantityNow struct {
	now, least, most, step float64
	inches                 bool // a length that is read in inches
}

// quantity returns the number with a key.
func (t *trial) quantity(file File, key string) (quantityNow, bool) {
	if file == ShopFile {
		return t.shop.quantity(key, t.blade.Knife.Units)
	}
	for _, q := range t.blade.Knife.Quantities() {
		if q.Key == key {
			least, most := q.Limits()
			now := q.Of(t.blade.Knife)
			if q.InPlane {
				now *= 1 + t.blade.Knife.Allowance.Growth
			}
			return quantityNow{now, least, most, stepOf(q.Parameter.Key, t.blade.Knife.Units), readInInches(q.Parameter.Key, t.blade.Knife.Units)}, true
		}
	}
	return quantityNow{}, false
}

// stepOf returns the step in which a value is looked for: for a length what a caliper reads,
// or a micrometre for a small one; in inches half a thousandth, or a tenth of one.
func stepOf(key document.Key, unit document.Unit) float64 {
	switch {
	case key.Kind == document.Angle:
		return 0.01 * float64(geom.Degree)
	case readInInches(key, unit):
		if key.Max <= 1 {
			return 0.0001 * document.Inch.Millimetres()
		}
		return 0.0005 * document.Inch.Millimetres()
	case key.Max <= 1:
		return 0.001
	case key.Kind == document.Length && key.Max <= 5000:
		return 0.01
	}
	return 1
}

// readInInches reports whether a value is a length, and lengths are read in inches.
func readInInches(key document.Key, unit document.Unit) bool {
	return key.Kind == document.Length && unit == document.Inch && key.Max <= 5000
}

// direction is a key whose value is looked for, up from what it is or down.
type direction struct {
	file File
	key  string
	sign float64
}

// lever returns the values of a key in a direction, a step apart, up to its limit.
func (t *trial) lever(d direction) lever {
	q, known := t.quantity(d.file, d.key)
	return func(n int) (Way, bool) {
		steps := math.Floor(q.now/q.step + 1e-6)
		if d.sign < 0 {
			steps = math.Ceil(q.now/q.step-1e-6) - float64(n)
		} else {
			steps += float64(n)
		}
		value := steps * q.step
		if rounded := math.Round(value*1e6) / 1e6; q.step >= 0.001 {
			value = rounded
		}
		if !known || d.sign == 0 || value < q.least || value > q.most || value == 0 {
			return Way{}, false
		}
		return Way{File: d.file, Key: d.key, Value: value}, true
	}
}

// fullerKey names a key of a fuller.
func fullerKey(index int, name string) string { return fmt.Sprintf("fuller[%d].%s", index+1, name) }

// indexOf returns the number of the occurrence in a key, from 0, and the key without it.
func splitKey(key string) (group string, index int, name string) {
	group, name, _ = strings.Cut(key, ".")
	if _, err := fmt.Sscanf(strings.TrimPrefix(group[strings.IndexByte(group+"[", '['):], "["), "%d]", &index); err == nil {
		index--
	}
	group, _, _ = strings.Cut(group, "[")
	return group, index, name
}
