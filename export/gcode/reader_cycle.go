package gcode

import (
	"math"

	"fullerwright/toolpath/motion"
)

// cycleWords are the words that stay in force from one cycle to the next.
type cycleWords struct {
	z, r, p, q                 float64
	haveZ, haveR, haveP, haveQ bool
}

// drill does a canned cycle along the normal of the plane in force (3.5.16).
func (m *machine) drill(b *block, ten int) error {
	column := max(1, b.gColumn[motionGroup])
	switch {
	case ten == 840 || ten == 870 || ten == 880:
		return m.unsupported(column, code(ten), "this cycle")
	case m.inverse:
		return m.rule(column, code(ten), "cycles do not go with inverse-time feed", "3.5.16")
	case m.feed == 0:
		return m.rule(column, code(ten), "a fed move needs a feed greater than 0", "3.5.16")
	case ten == 860 && m.spindle == motion.SpindleOff:
		return m.rule(column, "G86", "the spindle must turn before this cycle stops it", "3.5.16.7")
	}
	if err := m.cycleWords(b, ten, column); err != nil {
		return err
	}
	repeats := 1
	if b.has('L') {
		repeats, _ = whole(b.value('L'))
	}
	if repeats == 0 {
		return m.rule(b.word('L').column, "L", "a cycle must not be repeated 0 times", "3.5.16")
	}
	return m.drillAll(b, ten, repeats)
}

// depthLetter is the letter of the axis along the plane's normal.
func (m *machine) depthLetter() byte { return "ZYX"[m.plane] }

func (m *machine) cycleWords(b *block, ten, column int) error {
	c := &m.cycle
	unit := m.unit()
	keep := func(letter byte, value *float64, have *bool, scale float64) {
		if b.has(letter) {
			*value, *have = b.value(letter)*scale, true
		}
	}
	depth := m.depthLetter()
	keep(depth, &c.z, &c.haveZ, unit)
	keep('R', &c.r, &c.haveR, unit)
	keep('P', &c.p, &c.haveP, 1)
	keep('Q', &c.q, &c.haveQ, unit)
	switch {
	case !c.haveZ:
		return m.rule(column, code(ten), "a cycle needs the depth of the hole ("+string(depth)+")", "3.5.16")
	case !c.haveR:
		return m.rule(column, code(ten), "a cycle needs its R word", "3.5.16")
	case (ten == 820 || ten == 860 || ten == 890) && !c.haveP:
		return m.rule(column, code(ten), "this cycle needs a dwell in a P word", "3.5.16")
	case c.haveP && c.p < 0:
		return m.rule(column, "P", "a dwell must not be negative", "3.5.16")
	case ten == 830 && !c.haveQ:
		return m.rule(column, "G83", "it needs a Q word", "3.5.16")
	case ten == 830 && c.q <= 0:
		return m.rule(b.word('Q').column, "Q", "it must be greater than 0", "3.5.16")
	}
	return nil
}

// drillAll does the repeats of a cycle: over to each place, down to R, the hole, and
// back to the height of return.
func (m *machine) drillAll(b *block, ten, repeats int) error {
	_, _, height := m.plane.Split(m.at)
	_, _, zero := m.plane.Split(m.shift())
	clear, bottom := m.cycle.r+zero, m.cycle.z+zero
	if m.distance == 910 {
		clear = height + m.cycle.r
		bottom = clear + m.cycle.z
	}
	if bottom > clear {
		return m.rule(max(1, b.gColumn[motionGroup]), code(ten), "the bottom of the hole must not lie above R", "3.5.16")
	}
	back := math.Max(clear, height)
	if m.returnR {
		back = clear
	}
	if height < clear {
		if err := m.along(motion.Rapid, clear); err != nil {
			return err
		}
	}
	for i := range repeats {
		over := m.overHole(b, i)
		if err := m.straight(motion.Rapid, over); err != nil {
			return err
		}
		if err := m.along(motion.Rapid, clear); err != nil {
			return err
		}
		if err := m.hole(ten, clear, bottom); err != nil {
			return err
		}
		if err := m.retractHole(ten, back); err != nil {
			return err
		}
	}
	return nil
}

// overHole returns the place over a hole at the present height. Increments add up with
// each repeat.
func (m *machine) overHole(b *block, repeat int) motion.Vec {
	to := m.target(b)
	if repeat > 0 && m.distance == 900 {
		to = m.at
	}
	first, second, _ := m.plane.Split(to)
	_, _, height := m.plane.Split(m.at)
	return m.plane.Join(first, second, height)
}

// along moves along the normal of the plane, if there is any way to go.
func (m *machine) along(kind motion.Kind, height float64) error {
	first, second, now := m.plane.Split(m.at)
	if now == height {
		return nil
	}
	return m.straight(kind, m.plane.Join(first, second, height))
}

// hole does the way down.
func (m *machine) hole(ten int, clear, bottom float64) error {
	if ten == 830 {
		return m.peck(clear, bottom)
	}
	if err := m.along(motion.Line, bottom); err != nil {
		return err
	}
	if ten == 820 || ten == 860 || ten == 890 {
		return m.emit(motion.Motion{Kind: motion.Dwell, From: m.at, To: m.at, Seconds: m.seconds(m.cycle.p)})
	}
	return nil
}

// peck drills in steps of Q, out to R after each, and rapidly back to 0.010 inch over
// the bottom reached, as the report has it.
func (m *machine) peck(clear, bottom float64) error {
	const gap = 0.010 * millimetresPerInch
	if clear-m.cycle.q == clear || bottom+m.cycle.q == bottom {
		return m.unsupported(1, "Q", "a peck too small to be told from the height it starts at")
	}
	for depth := clear - m.cycle.q; depth > bottom; depth -= m.cycle.q {
		for _, step := range []struct {
			kind   motion.Kind
			height float64
		}{{motion.Line, depth}, {motion.Rapid, clear}, {motion.Rapid, depth + gap}} {
			if err := m.along(step.kind, step.height); err != nil {
				return err
			}
		}
	}
	return m.along(motion.Line, bottom)
}

// retractHole does the way out: fed for reaming and boring with feed out, with the
// spindle stopped for boring with a stop, else rapid.
func (m *machine) retractHole(ten int, back float64) error {
	switch ten {
	case 850, 890:
		return m.along(motion.Line, back)
	case 860:
		turning := m.spindle
		m.spindle = motion.SpindleOff
		err := m.along(motion.Rapid, back)
		m.spindle = turning
		return err
	}
	return m.along(motion.Rapid, back)
}
