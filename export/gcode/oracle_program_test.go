package gcode_test

import "strconv"

// write adds a number of random steps and the end.
func (a *oracleAuthor) write(steps int) {
	for range steps {
		a.step()
	}
	if a.lines[0] == "%" && a.chance(0.5) {
		a.lines = append(a.lines, "%")
		return
	}
	a.line(a.pick("M2", "M30", "M02"))
}

// step adds one or a few lines.
func (a *oracleAuthor) step() {
	switch a.random.IntN(20) {
	case 0, 1, 2:
		a.straight(1)
	case 3, 4:
		a.straight(0)
	case 5, 6, 7, 8:
		a.centredArc(0)
	case 9, 10:
		a.radiusArc()
	case 11:
		a.fullCircle()
	case 12, 13:
		a.setMode()
	case 14:
		a.auxiliary()
	case 15:
		a.origins()
	case 16, 17:
		a.cycles()
	case 18:
		a.inverseTime()
	default:
		a.odd()
	}
}

// setMode adds words of modes.
func (a *oracleAuthor) setMode() {
	switch a.random.IntN(5) {
	case 0, 1:
		a.line(a.pick("G17", "G18", "G19"))
	case 2:
		a.line(a.pick("G20", "G21"), a.pick("", "F"+a.spell(a.between(5, 700), 1)))
	case 3:
		a.line(a.pick("G90", "G91"), a.pick("G98", "G99"))
	default:
		a.line(a.pick("G61", "G61.1", "G64"), a.pick("G40", "G49"))
	}
}

// auxiliary adds words of the spindle, the tool, the coolant and stops.
func (a *oracleAuthor) auxiliary() {
	switch a.random.IntN(4) {
	case 0:
		a.line(a.pick("M3", "M4", "M5"), a.pick("M7", "M8", "M9"), "S"+a.spell(a.between(0, 9000), 0))
	case 1:
		a.line("T"+strconv.Itoa(a.random.IntN(20)), a.pick("M6", "", "M48"))
	case 2:
		a.line(a.pick("M0", "M1", "M60"), a.pick("M3", "M5", "M9"))
	default:
		a.line("G4", "P"+a.spell(a.between(0, 3), 2), a.pick("M3", "M48", "G18"))
	}
}

// origins adds words that move the origin.
func (a *oracleAuthor) origins() {
	far := func() string { return a.spell(a.between(-a.reach(), a.reach()), 4) }
	systems := []string{"G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"}
	system := a.random.IntN(9)
	switch a.random.IntN(5) {
	case 4:
		a.line(a.pick("#5161", "#5162", "#5163", "#5181", "#5183") + "=" + far())
		a.line(a.pick("G28", "G30"), a.pick("", "X"+far(), "Y"+far()+"Z"+far()))
	case 0:
		a.line("G92", a.pick("X", "Y", "Z")+far())
	case 1:
		a.line(a.pick("G92.1", "G92.2"))
		a.line("G92", "X"+far(), "Z"+far(), a.pick("", "Y"+far()))
		a.line(a.pick("G92.1", "G92.2"))
		a.straight(0)
		a.line("G92.3")
	case 2:
		a.line("G10", "L2", "P"+strconv.Itoa(system+1), "X"+far(), "Y"+far(), "Z"+far())
		a.line(systems[system])
	default:
		a.line("G90")
		a.line("G53", a.pick("G0", "G1"), "F100", a.pick("X", "Y", "Z")+far())
	}
}

// cycles adds a series of holes.
func (a *oracleAuthor) cycles() {
	axes := oracleAxes[a.m.plane]
	code := a.pick("G81", "G82", "G83", "G85", "G86", "G89")
	deep, scale := "XYZ"[axes[2]:axes[2]+1], 1/a.m.unit
	r, bottom := a.between(-10, 10)*scale, a.between(-30, -11)*scale
	if a.m.increments {
		bottom -= r
	}
	words := []string{code, deep + a.spell(bottom, 4), "R" + a.spell(r, 4)}
	switch code {
	case "G86":
		a.line("M3")
	}
	switch code {
	case "G82", "G86", "G89":
		words = append(words, "P"+a.spell(a.between(0, 3), 2))
	case "G83":
		words = append(words, "Q"+a.spell(a.between(3, 9)*scale, 3))
	}
	if a.chance(0.3) {
		words = append(words, "L"+strconv.Itoa(1+a.random.IntN(3)))
	}
	if a.m.increments || a.chance(0.7) {
		words = append(words, a.axis(axes[0], a.between(-a.reach(), a.reach())))
	}
	a.line(words...)
	for range a.random.IntN(3) {
		a.line(a.axis(axes[a.random.IntN(2)], a.between(-a.reach(), a.reach())))
	}
	if a.chance(0.5) {
		a.line("G80")
	}
}

// inverseTime adds moves whose feed is a rate of lines.
func (a *oracleAuthor) inverseTime() {
	a.line("G93")
	for range 1 + a.random.IntN(3) {
		switch a.random.IntN(4) {
		case 0:
			a.straight(1)
		case 1:
			a.centredArc(0)
		case 2:
			a.radiusArc()
		default:
			a.straight(0)
		}
	}
	a.line("G94", "F"+a.spell(a.between(5, 700), 1))
}

// odd adds lines that are easily got wrong.
func (a *oracleAuthor) odd() {
	switch a.random.IntN(7) {
	case 0:
		a.line()
	case 1:
		a.line("(nothing; but [ a remark)")
	case 2: // the setting takes effect after the line
		a.line("#7=3")
		a.line("#7=[#7+1]", "G0", "X#7", "Y[#7*2]", "#8=#7")
		a.line("#9=8")
		a.line("G0", "Z##9")
	case 3: // the units of the same line, and the dwell first
		a.line("F"+a.spell(a.between(10, 90), 1), "G1", "X1", "Z2")
		a.line(a.pick("G20", "G21"), "G4", "P0.5", "G0", "X1")
		a.line("F" + a.spell(a.between(10, 90), 1))
	case 4: // the words of the spindle come before the move, the stop after
		a.line(a.pick("G0", "G1"), "X5", a.pick("M5", "M3", "M8"), a.pick("M0", "M1", "M48"))
	case 5:
		a.centredArc(a.pickNumber(-0.0017, 0.0017))
	default:
		a.line("G0", "X+ 1. 2 5", "Y- .5", "Z00 7.")
	}
}

// pickNumber returns one of some numbers.
func (a *oracleAuthor) pickNumber(numbers ...float64) float64 {
	return numbers[a.random.IntN(len(numbers))]
}
