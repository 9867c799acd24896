package gcode

import "fullerwright/toolpath/motion"

// The parameters that the report gives a meaning (table 2): the homes of G28 and G30, the
// offset of G92, the number of the coordinate system in force, and the origins of the
// nine systems, which stand originStep apart. X, Y and Z follow each other.
const (
	homeParameter       = 5161
	secondHomeParameter = 5181
	offsetParameter     = 5211
	systemParameter     = 5220
	originParameter     = 5221
	originStep          = 20
)

// set gives a parameter a value in the units in force. The origin of a system and the
// offset of G92 so set are stored, and in force only when a code calls for them.
func (m *machine) set(number int, value float64) {
	m.parameters[number] = value
	if axis := number - offsetParameter; axis >= 0 && axis < 3 {
		*axisOf(&m.kept, "XYZ"[axis]) = value * m.unit()
		return
	}
	system, axis := (number-originParameter)/originStep, (number-originParameter)%originStep
	if number >= originParameter && system < len(m.origins) && axis < 3 {
		*axisOf(&m.origins[system], "XYZ"[axis]) = value * m.unit()
	}
}

// chooseSystem puts the coordinate system of a G code in force (3.5.13).
func (m *machine) chooseSystem(ten int) {
	m.system = (ten - 540) / 10
	if ten > 590 {
		m.system = 5 + ten - 590
	}
	if m.system > 0 {
		m.note(code(ten) + " is taken from the same zero as G54 but for what the program sets")
	}
	m.parameters[systemParameter] = float64(m.system + 1)
	m.origin = m.origins[m.system]
}

// special does the non-modal codes that use axis words.
func (m *machine) special(b *block) error {
	switch b.g[nonModal] {
	case 100:
		m.setOrigin(b)
	case 280, 300:
		return m.home(b)
	case 530:
		m.note("G53: the zero of the machine is taken to be that of G54")
	case 920:
		// The offset becomes what makes the point where the machine stands have the
		// coordinates given.
		for _, l := range []byte("XYZ") {
			if b.has(l) {
				*axisOf(&m.offset, l) = *axisOf(&m.at, l) - *axisOf(&m.origin, l) - b.value(l)*m.unit()
			}
		}
		m.keepOffset()
	case 921:
		m.offset = motion.Vec{}
		m.keepOffset()
	case 922:
		m.offset = motion.Vec{}
	case 923:
		m.offset = m.kept
	}
	return nil
}

// keepOffset stores the offset of G92 for G92.3 and for whoever reads its parameters.
func (m *machine) keepOffset() {
	m.kept = m.offset
	for i, l := range []byte("XYZ") {
		m.parameters[offsetParameter+i] = *axisOf(&m.offset, l) / m.unit()
	}
}

// setOrigin stores the origin of a coordinate system, and puts it in force at once if
// its system is (3.5.5).
func (m *machine) setOrigin(b *block) {
	n, _ := whole(b.value('P'))
	for i, l := range []byte("XYZ") {
		if b.has(l) {
			m.set(originParameter+originStep*(n-1)+i, b.value(l))
		}
	}
	if n == m.system+1 {
		m.origin = m.origins[m.system]
	}
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

// home goes to the home position through the programmed point; homes stand at zero
// until a program sets their parameters (3.5.8).
func (m *machine) home(b *block) error {
	m.note(code(b.g[nonModal]) + ": the zero of the machine is taken to be that of G54")
	if err := m.straight(motion.Rapid, m.target(b)); err != nil {
		return err
	}
	first := homeParameter
	if b.g[nonModal] == 300 {
		first = secondHomeParameter
	}
	p := m.parameters[first : first+3]
	return m.straight(motion.Rapid, motion.Vec{X: p[0], Y: p[1], Z: p[2]}.Scale(m.unit()))
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
