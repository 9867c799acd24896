package gcode

import "fmt"

// slots is how many tool slots and length offsets there are taken to be.
const slots = 128

// mode returns the motion code that the axis words of a block serve, and whether any
// code uses them: -1 for none.
func (m *machine) mode(b *block) (ten int, axes bool) {
	axes = b.hasAny("XYZ")
	switch g := b.g[nonModal]; {
	case g == 100 || g == 280 || g == 300 || g == 920:
		return -1, axes
	}
	if b.g[motionGroup] >= 0 {
		return b.g[motionGroup], axes
	}
	if axes {
		return m.motionMode, axes
	}
	return -1, false
}

// check holds the rules about the words of one block together, before anything of it
// is done.
func (m *machine) check(b *block) error {
	for _, rule := range []func(*block) error{m.checkAxes, m.checkUsers, m.checkNonModal, m.checkNumbers, m.checkTool, m.checkPathTolerance} {
		if err := rule(b); err != nil {
			return err
		}
	}
	return nil
}

func (m *machine) checkAxes(b *block) error {
	ten, axes := m.mode(b)
	g0, g1 := b.g[nonModal], b.g[motionGroup]
	usesAxes := g0 == 100 || g0 == 280 || g0 == 300 || g0 == 920
	switch {
	case usesAxes && g1 >= 0 && g1 != 800:
		return m.rule(b.gColumn[motionGroup], code(g1), "two G codes on the line both use the axis words", "3.4")
	case usesAxes:
		return nil
	case g1 == 800 && (axes || b.hasAny("ABC")):
		return m.rule(b.gColumn[motionGroup], "G80", "axis words stand on a line with G80", "3.5.15")
	case axes && ten == 800, g1 < 0 && b.hasAny("ABC") && m.motionMode == 800:
		return m.rule(m.firstAxis(b).column, "", "no motion mode is active that could use the axis words", "3.5.15")
	case !axes && (g1 == 0 || g1 == 10) && !b.hasAny("ABC"):
		return m.rule(b.gColumn[motionGroup], code(g1), "a straight move needs an axis word", "3.5.1")
	case !axes && g1 > 10 && g1 != 800:
		return m.rule(b.gColumn[motionGroup], code(g1), "this code needs an axis word", "3.5.3")
	}
	return nil
}

func (m *machine) firstAxis(b *block) word {
	for _, l := range []byte("XYZABC") {
		if b.has(l) {
			return b.word(l)
		}
	}
	return word{}
}

// checkUsers refuses words that no code on the line uses.
func (m *machine) checkUsers(b *block) error {
	ten, _ := m.mode(b)
	g0 := b.g[nonModal]
	arc, cycle := isArc(ten), isCycle(ten)
	for _, use := range []struct {
		letter byte
		used   bool
		by     string
	}{
		{'D', b.g[compensationGroup] == 410 || b.g[compensationGroup] == 420, "G41 or G42"},
		{'H', b.g[lengthGroup] == 430, "G43"},
		{'I', arc || ten == 870, "G2, G3 or G87"},
		{'J', arc || ten == 870, "G2, G3 or G87"},
		{'K', arc || ten == 870, "G2, G3 or G87"},
		{'L', g0 == 100 || cycle, "G10 or a cycle"},
		{'P', g0 == 40 || g0 == 100 || ten == 820 || ten == 860 || ten == 880 || ten == 890 || m.extensions.PathTolerance && b.g[pathGroup] == 640, "G4, G10, G82, G86, G88 or G89"},
		{'Q', ten == 830, "G83"},
		{'R', arc || cycle, "G2, G3 or a cycle"},
	} {
		if b.has(use.letter) && !use.used {
			return m.rule(b.word(use.letter).column, string(use.letter), fmt.Sprintf("no code on the line uses it; it belongs with %s", use.by), "3.5")
		}
	}
	return nil
}

func (m *machine) checkNonModal(b *block) error {
	column := b.gColumn[nonModal]
	switch b.g[nonModal] {
	case 40:
		switch {
		case !b.has('P'):
			return m.rule(column, "G4", "a dwell needs its time in a P word", "3.5.4")
		case b.value('P') < 0:
			return m.rule(b.word('P').column, "P", "a dwell must not be negative", "3.5.4")
		}
	case 100:
		return m.checkSetOrigin(b)
	case 530:
		mode := m.motionMode
		if b.g[motionGroup] >= 0 {
			mode = b.g[motionGroup]
		}
		distance := m.distance
		if b.g[distanceGroup] >= 0 {
			distance = b.g[distanceGroup]
		}
		switch {
		case mode != 0 && mode != 10:
			return m.rule(column, "G53", "it goes with G0 and G1 only", "3.5.12")
		case distance == 910:
			return m.rule(column, "G53", "it does not go with increments (G91)", "3.5.12")
		case !b.hasAny("XYZ"):
			return m.rule(column, "G53", "it needs an axis word", "3.5.12")
		}
	case 920:
		if !b.hasAny("XYZABC") {
			return m.rule(column, "G92", "it needs an axis word", "3.5.18")
		}
	}
	return nil
}

func (m *machine) checkSetOrigin(b *block) error {
	l, okL := whole(b.value('L'))
	p, okP := whole(b.value('P'))
	switch {
	case !b.has('L') || !okL || l != 2:
		return m.rule(b.gColumn[nonModal], "G10", "it needs L2", "3.5.5")
	case !b.has('P') || !okP || p < 1 || p > 9:
		return m.rule(b.gColumn[nonModal], "G10", "it needs a P word from 1 to 9", "3.5.5")
	}
	return nil
}

// checkNumbers holds the limits of single words.
func (m *machine) checkNumbers(b *block) error {
	for _, limit := range []struct {
		letter  byte
		integer bool
		most    int
		section string
	}{{'F', false, 0, "3.7.1"}, {'S', false, 0, "3.7.2"}, {'T', true, slots, "3.7.3"}, {'H', true, slots, "3.5.11"},
		{'D', true, slots, "3.5.10"}, {'L', true, 0, "3.5.16"}} {
		w := b.word(limit.letter)
		if !w.given {
			continue
		}
		n, isWhole := whole(w.value)
		switch {
		case w.value < 0:
			return m.rule(w.column, string(limit.letter), "it must not be negative", limit.section)
		case limit.integer && !isWhole:
			return m.rule(w.column, string(limit.letter), "it must be a whole number", limit.section)
		case limit.most > 0 && n > limit.most:
			return m.rule(w.column, string(limit.letter), fmt.Sprintf("there are %d slots", limit.most), limit.section)
		}
	}
	return nil
}

func (m *machine) checkTool(b *block) error {
	switch {
	case b.g[lengthGroup] == 430 && !b.has('H'):
		return m.rule(b.gColumn[lengthGroup], "G43", "it needs an H word", "3.5.11")
	case b.g[compensationGroup] == 410 || b.g[compensationGroup] == 420:
		return m.unsupported(b.gColumn[compensationGroup], code(b.g[compensationGroup]), "cutter radius compensation")
	case b.g[motionGroup] == 382:
		return m.unsupported(b.gColumn[motionGroup], "G38.2", "probing")
	}
	return nil
}

// code spells a G code.
func code(ten int) string {
	if ten%10 == 0 {
		return fmt.Sprintf("G%d", ten/10)
	}
	return fmt.Sprintf("G%d.%d", ten/10, ten%10)
}
