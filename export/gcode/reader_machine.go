package gcode

import (
	"fmt"
	"math"

	"fullerwright/toolpath/motion"
)

// millimetresPerInch is exact by definition.
const millimetresPerInch = 25.4

// machine is the state that a program works on. Positions are in millimetres in the
// frame of G54 as the operator set it.
type machine struct {
	program    Program
	visit      func(motion.Motion) error
	trace      func(call string) // canonical calls as the report names them; for tests
	line       int
	begun      bool // a line that is not blank was met
	bracketed  bool // it began with %
	ended      bool
	scratch    block
	parameters [lastParameter + 1]float64

	at         motion.Vec // of the controlled point
	motionMode int        // ten times the code; 800 for none
	plane      motion.Plane
	distance   int // 900 or 910
	inverse    bool
	inch       bool
	feed       float64 // as programmed, in the units in force
	spindle    motion.Spindle
	speed      float64
	mist       bool
	flood      bool
	selected   int // tool
	slot       int // tool in the spindle
	returnR    bool
	system     int           // 0 for G54
	origins    [9]motion.Vec // of G54 to G59.3
	offset     motion.Vec    // of G92
	kept       motion.Vec    // of G92 for G92.3
	cycle      cycleWords
	moved      bool
	fromLine   int // motions that the present line has made so far
}

// mostFromLine bounds the motions that one line may make by the repeats and pecks of a
// cycle, so that no line can make the reader run on or fill the memory.
const mostFromLine = 10000

func newMachine(visit func(motion.Motion) error) *machine {
	return &machine{visit: visit, motionMode: 800, distance: 900}
}

func (m *machine) tell(format string, values ...any) {
	if m.trace != nil {
		m.trace(fmt.Sprintf(format, values...))
	}
}

func (m *machine) note(text string) {
	m.program.Notes = append(m.program.Notes, Note{m.line, text})
}

// unit returns how long the unit in force is, mm.
func (m *machine) unit() float64 {
	if m.inch {
		return millimetresPerInch
	}
	return 1
}

// shift is what stands between the program's coordinates and the frame of G54.
func (m *machine) shift() motion.Vec { return m.origins[m.system].Add(m.offset) }

// execute does what a block says, in the order of the report's table 8.
func (m *machine) execute(b *block) error {
	for _, s := range b.settings {
		m.parameters[s.number] = s.value
	}
	if b.comment != "" {
		m.tell("COMMENT(%q)", b.comment)
	}
	if b.hasAny("ABC") {
		m.note("words of rotary axes move nothing here")
	}
	m.setFeed(b)
	if b.has('S') {
		m.speed = b.value('S')
		m.tell("SET_SPINDLE_SPEED(%.4f)", m.speed)
	}
	if b.has('T') {
		m.selected, _ = whole(b.value('T'))
		m.tell("SELECT_TOOL(%d)", m.selected)
	}
	if err := m.switches(b); err != nil {
		return err
	}
	if b.g[nonModal] == 40 {
		m.tell("DWELL(%.4f)", b.value('P'))
		if err := m.emit(motion.Motion{Kind: motion.Dwell, From: m.at, To: m.at, Seconds: b.value('P')}); err != nil {
			return err
		}
	}
	m.modes(b)
	if err := m.special(b); err != nil {
		return err
	}
	if err := m.move(b); err != nil {
		return err
	}
	return m.stop(b)
}

func (m *machine) setFeed(b *block) {
	switch b.g[feedModeGroup] {
	case 930:
		m.inverse = true
		m.tell(`COMMENT("interpreter: feed mode set to inverse time")`)
	case 940:
		m.inverse = false
	}
	if b.has('F') {
		m.feed = b.value('F')
		if !m.inverse {
			m.tell("SET_FEED_RATE(%.4f)", m.feed)
		}
	}
}

// switches does the tool change, spindle, coolant and override words.
func (m *machine) switches(b *block) error {
	if b.m[toolGroup] == 6 {
		m.tell("CHANGE_TOOL(%d)", m.selected)
		m.slot, m.spindle = m.selected, motion.SpindleOff
		if err := m.emit(motion.Motion{Kind: motion.Tool, From: m.at, To: m.at}); err != nil {
			return err
		}
	}
	switch b.m[spindleGroup] {
	case 3:
		m.spindle = motion.SpindleClockwise
		m.tell("START_SPINDLE_CLOCKWISE()")
	case 4:
		m.spindle = motion.SpindleCounterclockwise
		m.tell("START_SPINDLE_COUNTERCLOCKWISE()")
	case 5:
		m.spindle = motion.SpindleOff
		m.tell("STOP_SPINDLE_TURNING()")
	}
	switch b.m[coolantGroup] {
	case 7:
		m.mist = true
		m.tell("MIST_ON()")
	case 8:
		m.flood = true
		m.tell("FLOOD_ON()")
	case 9:
		m.coolantOff()
	}
	switch b.m[overrideGroup] {
	case 48:
		m.tell("ENABLE_FEED_OVERRIDE()")
		m.tell("ENABLE_SPEED_OVERRIDE()")
	case 49:
		m.tell("DISABLE_FEED_OVERRIDE()")
		m.tell("DISABLE_SPEED_OVERRIDE()")
	}
	return nil
}

func (m *machine) coolantOff() {
	if m.mist {
		m.tell("MIST_OFF()")
	}
	if m.flood {
		m.tell("FLOOD_OFF()")
	}
	m.mist, m.flood = false, false
}

// modes does plane, units, length offset, coordinate system, path control, distance
// mode and cycle return.
func (m *machine) modes(b *block) {
	switch b.g[planeGroup] {
	case 170:
		m.setPlane(motion.PlaneXY)
	case 180:
		m.setPlane(motion.PlaneZX)
	case 190:
		m.setPlane(motion.PlaneYZ)
	}
	switch b.g[unitsGroup] {
	case 200:
		m.setUnits(true)
	case 210:
		m.setUnits(false)
	}
	if b.g[lengthGroup] == 430 {
		m.note(fmt.Sprintf("tool length offset H%.0f is not known here and taken as 0", b.value('H')))
	}
	if g := b.g[systemGroup]; g >= 0 {
		m.system = (g - 540) / 10
		if g > 590 {
			m.system = 5 + g - 590
		}
		if m.system > 0 {
			m.note(code(g) + " is taken from the same zero as G54 but for what the program sets")
		}
	}
	switch b.g[pathGroup] {
	case 610:
		m.tell("SET_MOTION_CONTROL_MODE(CANON_EXACT_PATH)")
	case 611:
		m.tell("SET_MOTION_CONTROL_MODE(CANON_EXACT_STOP)")
	case 640:
		m.tell("SET_MOTION_CONTROL_MODE(CANON_CONTINUOUS)")
	}
	if g := b.g[distanceGroup]; g >= 0 {
		m.distance = g
	}
	switch b.g[returnGroup] {
	case 980:
		m.returnR = false
	case 990:
		m.returnR = true
	}
}

func (m *machine) setPlane(p motion.Plane) {
	m.plane = p
	m.tell("SELECT_PLANE(CANON_PLANE_%s)", [...]string{"XY", "XZ", "YZ"}[p])
}

func (m *machine) setUnits(inch bool) {
	if m.moved && inch != m.inch {
		m.note("the units change after the first motion; the feed keeps its number")
	}
	m.inch = inch
	m.tell("USE_LENGTH_UNITS(CANON_UNITS_%s)", map[bool]string{true: "INCHES", false: "MM"}[inch])
}

// special does the non-modal codes that use axis words.
func (m *machine) special(b *block) error {
	switch b.g[nonModal] {
	case 100:
		n, _ := whole(b.value('P'))
		m.each(b, func(axis *float64, value float64) { *axis = value * m.unit() }, &m.origins[n-1])
	case 280, 300:
		return m.home(b)
	case 920:
		// The offset becomes what makes the point where the machine stands have the
		// coordinates given.
		here := m.at.Sub(m.origins[m.system])
		m.each(b, func(axis *float64, value float64) { *axis -= value * m.unit() }, &here)
		for _, l := range []byte("XYZ") {
			if b.has(l) {
				*axisOf(&m.offset, l) = *axisOf(&here, l)
			}
		}
		m.kept = m.offset
	case 921:
		m.offset, m.kept = motion.Vec{}, motion.Vec{}
	case 922:
		m.offset = motion.Vec{}
	case 923:
		m.offset = m.kept
	}
	return nil
}

func axisOf(v *motion.Vec, letter byte) *float64 {
	switch letter {
	case 'X':
		return &v.X
	case 'Y':
		return &v.Y
	}
	return &v.Z
}

// each calls f for every axis word of a block with that axis of v.
func (m *machine) each(b *block, f func(axis *float64, value float64), v *motion.Vec) {
	for _, l := range []byte("XYZ") {
		if b.has(l) {
			f(axisOf(v, l), b.value(l))
		}
	}
}

// home goes to the home position through the programmed point; homes stand at zero
// until a program sets their parameters.
func (m *machine) home(b *block) error {
	if err := m.straight(motion.Rapid, m.target(b)); err != nil {
		return err
	}
	first := 5161
	if b.g[nonModal] == 300 {
		first = 5181
	}
	unit := m.unit()
	return m.straight(motion.Rapid, motion.Vec{X: m.parameters[first] * unit, Y: m.parameters[first+1] * unit, Z: m.parameters[first+2] * unit})
}

// target returns the point that the axis words of a block name.
func (m *machine) target(b *block) motion.Vec {
	to := m.at
	shift := m.shift()
	if b.g[nonModal] == 530 {
		shift = motion.Vec{}
	}
	for _, l := range []byte("XYZ") {
		if !b.has(l) {
			continue
		}
		value := b.value(l) * m.unit()
		if m.distance == 910 {
			*axisOf(&to, l) += value
			continue
		}
		*axisOf(&to, l) = value + *axisOf(&shift, l)
	}
	return to
}

// move does the motion of a block, if it has any.
func (m *machine) move(b *block) error {
	ten, axes := m.mode(b)
	if g := b.g[motionGroup]; g >= 0 && g != m.motionMode {
		m.motionMode = g
		m.cycle = cycleWords{}
	}
	if b.g[motionGroup] == 800 {
		m.tell(`COMMENT("interpreter: motion mode set to none")`)
	}
	if !axes || ten < 0 || ten == 800 {
		return nil
	}
	if !isCycle(ten) && ten != 0 {
		if err := m.needFeed(b, ten); err != nil {
			return err
		}
	}
	if b.g[nonModal] == 530 {
		m.tell(`COMMENT("interpreter: offsets temporarily suspended")`)
	}
	switch {
	case ten == 0:
		return m.straight(motion.Rapid, m.target(b))
	case ten == 10:
		return m.straight(motion.Line, m.target(b))
	case isArc(ten):
		return m.arc(b, ten == 20)
	}
	return m.drill(b, ten)
}

func (m *machine) needFeed(b *block, ten int) error {
	switch {
	case m.inverse && !b.has('F'):
		return m.rule(1, code(ten), "with inverse-time feed each fed move needs an F word", "3.5.19")
	case m.feed == 0:
		return m.rule(1, code(ten), "a fed move needs a feed greater than 0", "3.5.2")
	}
	return nil
}

// straight does a straight move.
func (m *machine) straight(kind motion.Kind, to motion.Vec) error {
	name := "STRAIGHT_FEED"
	if kind == motion.Rapid {
		name = "STRAIGHT_TRAVERSE"
	}
	m.tellPoint(name, to)
	return m.emit(motion.Motion{Kind: kind, From: m.at, To: to})
}

// tellPoint traces a point in the program's coordinates and units.
func (m *machine) tellPoint(name string, p motion.Vec) {
	if m.trace == nil {
		return
	}
	q := p.Sub(m.shift()).Scale(1 / m.unit())
	m.tell("%s(%.4f, %.4f, %.4f)", name, q.X, q.Y, q.Z)
}

// emit completes a motion with the state of the machine and hands it over.
func (m *machine) emit(v motion.Motion) error {
	v.TextLine, v.Spindle, v.Speed, v.Mist, v.Flood, v.Slot = m.line, m.spindle, m.speed, m.mist, m.flood, m.slot
	if v.Kind == motion.Line || v.Kind == motion.Arc {
		v.Feed = m.feed * m.unit()
		if m.inverse {
			v.Feed = m.feed * v.Length()
		}
	}
	if m.fromLine++; m.fromLine > mostFromLine {
		return m.unsupported(1, "", fmt.Sprintf("a line that makes more than %d motions", mostFromLine))
	}
	if !m.moved {
		m.moved, m.program.Inch = true, m.inch
	}
	m.at = v.To
	if math.IsInf(v.To.X+v.To.Y+v.To.Z, 0) || math.IsNaN(v.To.X+v.To.Y+v.To.Z) {
		return m.rule(1, "", "the end of the move is no point", "3.3.2.1")
	}
	return m.visit(v)
}

// stop does the stopping words, after everything else on the line.
func (m *machine) stop(b *block) error {
	switch n := b.m[stopGroup]; n {
	case 0, 1, 60:
		if n != 1 {
			m.tell("PROGRAM_STOP()")
		} else {
			m.tell("OPTIONAL_PROGRAM_STOP()")
		}
		return m.emit(motion.Motion{Kind: motion.Stop, From: m.at, To: m.at, Text: b.comment})
	case 2, 30:
		m.coolantOff()
		if m.plane != motion.PlaneXY {
			m.setPlane(motion.PlaneXY)
		}
		if n == 30 {
			m.tell("PALLET_SHUTTLE()")
		}
		m.end(fmt.Sprintf("M%d", n))
	}
	return nil
}

// end ends the program; nothing after it is read.
func (m *machine) end(by string) {
	m.ended = true
	m.program.Ended = by
}
