package gcode

import (
	"fmt"
	"math"
	"strings"

	"fullerwright/toolpath/dialect"
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
	feed       float64 // a minute, as programmed, in the units in force
	often      float64 // moves a minute, as programmed with G93
	spindle    motion.Spindle
	speed      float64
	mist       bool
	flood      bool
	selected   int // tool
	slot       int // tool in the spindle
	returnR    bool
	system     int           // 0 for G54 to 8 for G59.3
	origins    [9]motion.Vec // of the systems, as stored
	origin     motion.Vec    // of the system in force
	offset     motion.Vec    // of G92
	kept       motion.Vec    // of G92 for G92.3
	cycle      cycleWords
	moved      bool
	unitsSaid  bool // G20 or G21 was met
	fromLine   int  // motions that the present line has made so far
	fromCycles int  // motions that lines have made beyond those of a plain line

	present      []byte // the present line
	keepComments bool
	extensions   dialect.Extensions
	worded       bool // a word was met, block numbers aside
}

// Bounds on the motions that cycles make by their repeats and pecks, on one line and in
// a whole program, so that no text can make the reader run on or fill the memory. A
// line makes no more than mostPlain motions without a cycle.
const (
	mostFromLine   = 10_000
	mostFromCycles = 500_000
	mostPlain      = 8
)

// mostNotes bounds the notes that are kept.
const mostNotes = 1000

func newMachine(visit func(motion.Motion) error) *machine {
	m := &machine{visit: visit, motionMode: 800, distance: 900}
	m.parameters[systemParameter] = 1
	return m
}

func (m *machine) tell(format string, values ...any) {
	if m.trace != nil {
		m.trace(fmt.Sprintf(format, values...))
	}
}

// tellNumber is tell for a call of one number; without a trace it costs nothing.
func (m *machine) tellNumber(name string, value float64) {
	if m.trace != nil {
		m.tell("%s(%.4f)", name, value)
	}
}

// tellComment traces the comment of a block, or its message.
func (m *machine) tellComment(b *block) {
	if m.trace == nil || len(b.comment) == 0 {
		return
	}
	if text, is := message(b.comment); is {
		m.tell("MESSAGE(%q)", text)
		return
	}
	m.tell("COMMENT(%q)", b.comment)
}

func (m *machine) note(text string) {
	switch n := len(m.program.Notes); {
	case n < mostNotes-1:
		m.program.Notes = append(m.program.Notes, Note{m.line, text})
	case n == mostNotes-1:
		m.program.Notes = append(m.program.Notes, Note{m.line, "this and later notes are left out"})
	}
}

// unit returns how long the unit in force is, mm.
func (m *machine) unit() float64 {
	if m.inch {
		return millimetresPerInch
	}
	return 1
}

// shift is what stands between the program's coordinates and the frame of G54.
func (m *machine) shift() motion.Vec { return m.origin.Add(m.offset) }

// execute does what a block says, in the order of the report's table 8.
func (m *machine) execute(b *block) error {
	for _, s := range b.settings {
		m.set(s.number, s.value)
	}
	m.tellComment(b)
	if b.hasAny("ABC") {
		m.note("words of rotary axes move nothing here")
	}
	m.setFeed(b)
	if b.has('S') {
		m.speed = b.value('S')
		m.tellNumber("SET_SPINDLE_SPEED", m.speed)
	}
	if b.has('T') {
		m.selected, _ = whole(b.value('T'))
		m.tell("SELECT_TOOL(%d)", m.selected)
	}
	if err := m.switches(b); err != nil {
		return err
	}
	if b.g[nonModal] == 40 {
		seconds := m.seconds(b.value('P'))
		m.tellNumber("DWELL", seconds)
		if err := m.emit(motion.Motion{Kind: motion.Dwell, From: m.at, To: m.at, Seconds: seconds}); err != nil {
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
		if m.inverse && !b.has('F') && m.feed > 0 {
			m.note("G94 comes without an F word: the feed from before G93 is in force again")
		}
		m.inverse = false
	}
	switch {
	case !b.has('F'):
	case m.inverse:
		m.often = b.value('F')
	default:
		m.feed = b.value('F')
		m.tellNumber("SET_FEED_RATE", m.feed)
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
	if b.g[lengthGroup] == 430 && b.value('H') > 0 {
		m.note(fmt.Sprintf("tool length offset H%.0f is not known here and taken as 0", b.value('H')))
	}
	if g := b.g[systemGroup]; g >= 0 {
		m.chooseSystem(g)
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
	if m.trace != nil {
		m.tell("SELECT_PLANE(CANON_PLANE_%s)", [...]string{"XY", "XZ", "YZ"}[p])
	}
}

func (m *machine) setUnits(inch bool) {
	if m.moved && inch != m.inch {
		m.note("the units change after the first motion; the feed keeps its number")
	}
	if inch != m.inch && (m.origins != [9]motion.Vec{} || m.offset != motion.Vec{} || m.kept != motion.Vec{}) {
		m.note("the units change while offsets are stored: the offsets are taken to stay where they are")
	}
	m.inch, m.unitsSaid = inch, true
	if inch {
		m.tell("USE_LENGTH_UNITS(CANON_UNITS_INCHES)")
	} else {
		m.tell("USE_LENGTH_UNITS(CANON_UNITS_MM)")
	}
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
	column := max(1, b.gColumn[motionGroup])
	switch {
	case m.inverse && !b.has('F'):
		return m.rule(column, code(ten), "with inverse-time feed each fed move needs an F word", "3.5.19")
	case !m.inverse && m.feed == 0, m.inverse && m.often == 0:
		return m.rule(column, code(ten), "a fed move needs a feed greater than 0", "3.5.2")
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
			v.Feed = m.often * v.Length()
		}
	}
	if err := m.bounded(v); err != nil {
		return err
	}
	if !m.moved && v.Kind <= motion.Arc {
		m.moved, m.program.Inch = true, m.inch
		if !m.unitsSaid {
			m.note("neither G20 nor G21 comes before the first move: millimetres are taken")
		}
	}
	m.at = v.To
	return m.visit(v)
}

// bounded refuses a motion that is one too many, or whose numbers have run out of range.
func (m *machine) bounded(v motion.Motion) error {
	m.fromLine++
	if m.fromLine > mostPlain {
		m.fromCycles++
	}
	size := v.To.X + v.To.Y + v.To.Z + v.Feed + v.Length()
	switch {
	case m.fromLine > mostFromLine:
		return m.unsupported(1, "", fmt.Sprintf("a line that makes more than %d motions", mostFromLine))
	case m.fromCycles > mostFromCycles:
		return m.unsupported(1, "", fmt.Sprintf("a program whose cycles make more than %d motions", mostFromCycles))
	case math.IsInf(size, 0) || math.IsNaN(size):
		return m.rule(1, "", "the end of the move lies beyond all numbers", "3.3.2.1")
	}
	return nil
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
		text, is := message(b.comment)
		if !is {
			text = string(b.comment)
		}
		return m.emit(motion.Motion{Kind: motion.Stop, From: m.at, To: m.at, Text: strings.TrimSpace(text)})
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
