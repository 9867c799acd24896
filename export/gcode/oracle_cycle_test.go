package gcode_test

import (
	"fmt"
	"math"

	"fullerwright/toolpath/motion"
)

// oracleMany is more holes or pecks than a line is followed for.
const oracleMany = 1000

// oracleCycle is what a canned cycle keeps from line to line. Lengths stay what they
// are when the units change, which the standard leaves open.
type oracleCycle struct {
	active        bool
	code          int
	r, depth      float64 // mm, from the origin or, with G91, from the start and R
	dwell, peck   float64 // seconds, mm
	hasDwell      bool
	hasPeck       bool
	hasR, hasDeep bool
}

// drill does a line of a canned cycle: NISTIR 6556, 3.5.16.
func (m *oracleMachine) drill(block oracleBlock, code int) error {
	if code == 840 || code == 870 || code == 880 {
		return errOracleSkips
	}
	if code == 860 && m.state.Spindle == motion.SpindleOff {
		return fmt.Errorf("the spindle does not turn, and the cycle stops it")
	}
	axes := oracleAxes[m.plane]
	normal := axes[2]
	if err := m.cycleWords(block, code, "xyz"[normal]); err != nil {
		return err
	}
	c := m.cycle
	repeats := 1
	if times, there := block.word['l']; there {
		repeats = int(math.Round(times))
	}
	if repeats < 1 {
		return fmt.Errorf("no repeat")
	}

	// The target of the axis words gives the place in the plane; the normal's is
	// reckoned here.
	base := m.origins[m.system][normal] + m.shift[normal]
	if m.increments {
		base = m.position[normal]
	}
	r := base + c.r
	bottom := base + c.depth
	if m.increments {
		bottom = r + c.depth
	}
	if r < bottom {
		return fmt.Errorf("R is below the bottom")
	}
	clearance := r
	if !m.toR {
		clearance = math.Max(r, m.position[normal]) // just before the cycle: 3.5.20
	}
	if m.position[normal] < r {
		m.along(motion.Rapid, normal, r)
	}
	if repeats > oracleMany || c.code == 830 && (r-bottom)/c.peck > oracleMany {
		return errOracleSkips
	}
	for range repeats {
		place := m.target(block)
		place[normal] = m.position[normal]
		m.straight(motion.Rapid, place)
		m.along(motion.Rapid, normal, r)
		m.hole(r, bottom, clearance)
	}
	return nil
}

// cycleWords takes the words of a cycle's line over into what it keeps.
func (m *oracleMachine) cycleWords(block oracleBlock, code int, deep byte) error {
	if m.inverse || m.feed == 0 {
		return fmt.Errorf("a cycle in inverse time, or without a feed")
	}
	c := &m.cycle
	if !c.active {
		*c = oracleCycle{active: true, code: code}
	}
	for letter, kept := range map[byte]struct {
		value *float64
		known *bool
	}{
		'r': {&c.r, &c.hasR}, deep: {&c.depth, &c.hasDeep},
		'p': {&c.dwell, &c.hasDwell}, 'q': {&c.peck, &c.hasPeck},
	} {
		if value, there := block.word[letter]; there {
			if letter != 'p' {
				value *= m.unit
			}
			*kept.value, *kept.known = value, true
		}
	}
	dwells := code == 820 || code == 860 || code == 890
	switch {
	case !c.hasR || !c.hasDeep || dwells && !c.hasDwell:
		return fmt.Errorf("the cycle lacks a word")
	case code == 830 && c.peck <= 0:
		return fmt.Errorf("a peck of nothing")
	}
	return nil
}

// along moves along the normal only.
func (m *oracleMachine) along(kind motion.Kind, normal int, to float64) {
	target := m.position
	target[normal] = to
	m.straight(kind, target)
}

// hole does a cycle's moves at one place, from R down and up again.
func (m *oracleMachine) hole(r, bottom, clearance float64) {
	const backOff = 0.254 // mm above the hole's bottom: 0.010 inch in the interpreter
	normal := oracleAxes[m.plane][2]
	c := m.cycle
	if c.code == 830 {
		for depth := r - c.peck; depth > bottom; depth -= c.peck {
			m.along(motion.Line, normal, depth)
			m.along(motion.Rapid, normal, r)
			m.along(motion.Rapid, normal, depth+backOff)
		}
	}
	m.along(motion.Line, normal, bottom)
	turns := m.state.Spindle
	up := motion.Rapid
	switch c.code {
	case 820, 860, 890:
		m.pause(motion.Dwell, c.dwell)
	}
	switch c.code {
	case 850, 890:
		up = motion.Line
	case 860:
		m.state.Spindle = motion.SpindleOff
	}
	m.along(up, normal, clearance)
	m.state.Spindle = turns
}
