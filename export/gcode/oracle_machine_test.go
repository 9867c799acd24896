package gcode_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"fullerwright/toolpath/motion"
)

// errOracleSkips says that a line is legal and that the oracle does not follow it.
var errOracleSkips = errors.New("not followed")

// oraclePoint is a position or displacement along X, Y and Z, mm.
type oraclePoint [3]float64

// plus returns the point moved by a multiple of a displacement.
func (p oraclePoint) plus(q oraclePoint, times float64) oraclePoint {
	for i := range p {
		p[i] += times * q[i]
	}
	return p
}

// vec returns the point as the motions have it.
func (p oraclePoint) vec() motion.Vec { return motion.Vec{X: p[0], Y: p[1], Z: p[2]} }

// oracleMachine is the state that the words of a program change. Positions are in
// the machine's frame, which is where G54 begins. Offsets stay at their place when
// the units change: the standard leaves this open, and the reader notes it.
type oracleMachine struct {
	line       int
	parameters map[int]float64
	position   oraclePoint
	origins    [10]oraclePoint // of the systems 1 to 9
	system     int
	shift      oraclePoint // by G92
	savedShift oraclePoint
	unit       float64 // mm
	plane      int     // 17, 18 or 19
	increments bool    // G91
	inverse    bool    // G93
	toR        bool    // G99
	feed       float64 // under G94, as programmed
	perMove    float64 // under G93: moves a minute
	mode       int     // ten times the G word, or oracleNoMode
	cycle      oracleCycle
	state      motion.Motion // spindle, coolant and tool
	selected   int
	moves      []motion.Motion
	ended      bool
}

const oracleNoMode = 800

// Parameters that the machine keeps: NISTIR 6556, table 2.
const (
	oracleHome       = 5161 // X of the place that G28 goes to, then Y and Z
	oracleSecondHome = 5181 // the same for G30
	oracleShift      = 5211 // X of the shift by G92
	oracleSystem     = 5220 // number of the coordinate system
	oracleOrigins    = 5221 // X of the origin of system 1; system 2 is 20 further
)

// newOracleMachine returns the state before the first line.
func newOracleMachine() *oracleMachine {
	return &oracleMachine{
		parameters: map[int]float64{oracleSystem: 1}, system: 1, unit: 1, plane: 17, mode: oracleNoMode,
	}
}

// oracleRun carries out a whole program. Where it fails it gives the line, or 0
// for a fault of the whole.
func oracleRun(program string) (moves []motion.Motion, line int, err error) {
	program = strings.ReplaceAll(program, "\r\n", "\n")
	lines := strings.Split(strings.ReplaceAll(program, "\r", "\n"), "\n")
	m := newOracleMachine()
	bracketed, begun := false, false
	for i, text := range lines {
		blank := strings.TrimSpace(text) == ""
		if percent := strings.TrimSpace(text) == "%"; percent && (bracketed || !begun) {
			if bracketed {
				return m.moves, 0, nil
			}
			bracketed, begun = true, true
			continue
		}
		begun = begun || !blank
		if err := m.do(i+1, text); err != nil {
			return nil, i + 1, err
		}
		if m.ended {
			return m.moves, 0, nil
		}
	}
	return nil, 0, fmt.Errorf("the program does not end")
}

// do carries out a line.
func (m *oracleMachine) do(number int, text string) error {
	m.line = number
	block, err := oracleParse(text, m.parameters)
	if err != nil {
		return err
	}
	move, err := m.check(block)
	if err != nil {
		return err
	}
	for _, setting := range block.settings {
		m.parameters[setting.index] = setting.value
	}
	if slices.ContainsFunc(block.codes, func(code int) bool {
		return code == 410 || code == 420 || code == 430 || code == 382
	}) {
		return errOracleSkips
	}
	return m.execute(block, move)
}

// execute does what the words say, in the order of the standard's table 8. The
// code of the motion is move, or oracleNoMode.
func (m *oracleMachine) execute(block oracleBlock, move int) error {
	has := func(code int) bool { return slices.Contains(block.codes, code) }
	m.inverse = has(930) || m.inverse && !has(940)
	if feed, there := block.word['f']; there && !m.inverse {
		m.feed = feed // that of G93 holds for its line only
	}
	m.auxiliary(block)
	if has(40) {
		m.pause(motion.Dwell, block.word['p'])
	}
	for _, code := range block.codes {
		m.setMode(code)
	}
	for _, code := range block.codes {
		m.settle(code, block)
	}
	if slices.ContainsFunc(block.codes, func(code int) bool { return oracleGroups[code] == 1 }) {
		if move != m.mode {
			m.cycle.active = false
		}
		m.mode = move
	}
	if move != oracleNoMode {
		if err := m.move(block, move, has(530)); err != nil {
			return err
		}
	}
	m.stop(block)
	return nil
}

// setMode does the words of the groups 2, 3, 6, 10 and 12, whose order among
// themselves does not matter.
func (m *oracleMachine) setMode(code int) {
	switch {
	case code == 170 || code == 180 || code == 190:
		m.plane = code / 10
	case code == 200:
		m.unit = 25.4
	case code == 210:
		m.unit = 1
	case code >= 540 && code <= 590:
		m.use(code/10 - 53)
	case code > 590 && code <= 593:
		m.use(code - 590 + 6)
	case code == 900 || code == 910:
		m.increments = code == 910
	case code == 980 || code == 990:
		m.toR = code == 990
	}
}

// use takes a coordinate system into use.
func (m *oracleMachine) use(system int) {
	m.system = system
	m.parameters[oracleSystem] = float64(system)
}

// auxiliary does the words of the spindle, the tool and the coolant.
func (m *oracleMachine) auxiliary(block oracleBlock) {
	if speed, there := block.word['s']; there {
		m.state.Speed = speed
	}
	if slot, there := block.word['t']; there {
		m.selected = int(math.Round(slot))
	}
	if slices.Contains(block.switches, 6) {
		m.state.Slot, m.state.Spindle = m.selected, motion.SpindleOff
		m.pause(motion.Tool, 0)
	}
	for _, code := range block.switches {
		switch code {
		case 3:
			m.state.Spindle = motion.SpindleClockwise
		case 4:
			m.state.Spindle = motion.SpindleCounterclockwise
		case 5:
			m.state.Spindle = motion.SpindleOff
		case 7:
			m.state.Mist = true
		case 8:
			m.state.Flood = true
		case 9:
			m.state.Mist, m.state.Flood = false, false
		}
	}
}

// settle does the words of group 0 that set origins or go home.
func (m *oracleMachine) settle(code int, block oracleBlock) {
	given := func(axis int) (float64, bool) {
		value, there := block.word["xyz"[axis]]
		return value * m.unit, there
	}
	switch code {
	case 100:
		for axis := range 3 {
			if value, there := given(axis); there {
				system := int(math.Round(block.word['p']))
				m.origins[system][axis] = value
				m.parameters[oracleOrigins+20*(system-1)+axis] = value / m.unit
			}
		}
	case 280, 300:
		m.straight(motion.Rapid, m.target(block))
		home := map[int]int{280: oracleHome, 300: oracleSecondHome}[code]
		m.straight(motion.Rapid, oraclePoint{}.plus(oraclePoint{
			m.parameters[home], m.parameters[home+1], m.parameters[home+2],
		}, m.unit))
	case 920:
		for axis := range 3 {
			if value, there := given(axis); there {
				m.shift[axis] = m.position[axis] - m.origins[m.system][axis] - value
			}
		}
		m.saveShift()
	case 921:
		m.shift = oraclePoint{}
		m.saveShift()
	case 922:
		m.shift = oraclePoint{}
	case 923:
		m.shift = m.savedShift
	}
}

// saveShift keeps the shift for G92.3 and in the parameters.
func (m *oracleMachine) saveShift() {
	m.savedShift = m.shift
	for axis, shift := range m.shift {
		m.parameters[oracleShift+axis] = shift / m.unit
	}
}

// work returns the position in the system in force and the units in force.
func (m *oracleMachine) work() oraclePoint {
	p := m.position.plus(m.origins[m.system], -1).plus(m.shift, -1)
	return oraclePoint{}.plus(p, 1/m.unit)
}

// target returns the point that the axis words name.
func (m *oracleMachine) target(block oracleBlock) oraclePoint {
	target := m.position
	for axis := range target {
		value, there := block.word["xyz"[axis]]
		switch {
		case !there:
		case m.increments:
			target[axis] += value * m.unit
		default:
			target[axis] = value*m.unit + m.origins[m.system][axis] + m.shift[axis]
		}
	}
	return target
}

// move does a word of the motion group.
func (m *oracleMachine) move(block oracleBlock, code int, absolute bool) error {
	if absolute {
		if m.increments {
			return fmt.Errorf("G53 with increments")
		}
		kept := *m
		m.shift, m.system = oraclePoint{}, 0 // system 0 is the machine's frame
		defer func() { m.shift, m.system = kept.shift, kept.system }()
	}
	if code >= 10 && code <= 30 {
		m.perMove = block.word['f'] // needed under G93, and not nought
		if m.inverse && m.perMove == 0 || !m.inverse && m.feed == 0 {
			return fmt.Errorf("no feed")
		}
	}
	switch code {
	case 0:
		m.straight(motion.Rapid, m.target(block))
	case 10:
		m.straight(motion.Line, m.target(block))
	case 20, 30:
		return m.arc(block, code == 30)
	default:
		return m.drill(block, code)
	}
	return nil
}

// straight adds a straight move.
func (m *oracleMachine) straight(kind motion.Kind, to oraclePoint) {
	added := m.begin(kind, to)
	if kind == motion.Line {
		added.Feed = m.rate(to.vec().Sub(m.position.vec()).Norm())
	}
	m.end(added, to)
}

// pause adds a motion that goes nowhere.
func (m *oracleMachine) pause(kind motion.Kind, seconds float64) {
	added := m.begin(kind, m.position)
	added.Seconds = seconds
	m.end(added, m.position)
}

// begin returns a motion from the present state.
func (m *oracleMachine) begin(kind motion.Kind, to oraclePoint) motion.Motion {
	added := m.state
	added.TextLine, added.Kind = m.line, kind
	added.From, added.To = m.position.vec(), to.vec()
	return added
}

// end adds a motion and takes its end for the position.
func (m *oracleMachine) end(added motion.Motion, to oraclePoint) {
	m.moves = append(m.moves, added)
	m.position = to
}

// rate returns the feed along a path of some length, mm/min.
func (m *oracleMachine) rate(length float64) float64 {
	if m.inverse {
		return m.perMove * length
	}
	return m.feed * m.unit
}

// stop does the words that stop or end the program.
func (m *oracleMachine) stop(block oracleBlock) {
	for _, code := range block.switches {
		switch code {
		case 0, 1, 60:
			m.pause(motion.Stop, 0)
		case 2, 30:
			m.ended = true
		}
	}
}
