package gcode_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
)

// oracleAuthor writes random programs that are legal. It follows them with an
// oracle of its own, to know where it stands.
type oracleAuthor struct {
	random *rand.Rand
	m      *oracleMachine
	lines  []string
	last   int   // parameter set
	err    error // the first line that the oracle refused
}

// newOracleAuthor begins a program with a feed.
func newOracleAuthor(random *rand.Rand) *oracleAuthor {
	a := &oracleAuthor{random: random, m: newOracleMachine()}
	if a.chance(0.2) {
		a.lines = []string{"%"}
	}
	a.line("G21", "G90", "G17", "F"+a.spell(100+900*random.Float64(), 1))
	return a
}

// text returns the program.
func (a *oracleAuthor) text() string { return oracleProgram(a.lines) }

// oracleProgram joins lines.
func oracleProgram(lines []string) string { return strings.Join(lines, "\n") + "\n" }

// chance is true with a probability.
func (a *oracleAuthor) chance(probability float64) bool { return a.random.Float64() < probability }

// pick returns one of some texts.
func (a *oracleAuthor) pick(texts ...string) string { return texts[a.random.IntN(len(texts))] }

// between returns a random number of a range.
func (a *oracleAuthor) between(low, high float64) float64 {
	return low + (high-low)*a.random.Float64()
}

// line adds a line of words, in a random order, dress and case.
func (a *oracleAuthor) line(words ...string) {
	a.random.Shuffle(len(words), func(i, j int) { words[i], words[j] = words[j], words[i] })
	if a.chance(0.1) {
		words = append(words, a.pick("(a remark)", "(x1 g5 %)", "( MSG, wait)"))
	}
	text := strings.Join(words, a.pick(" ", "", "\t", "  "))
	if a.chance(0.2) {
		text = "N" + strconv.Itoa(a.random.IntN(100000)) + " " + text
	}
	if a.chance(0.05) {
		text = "/" + text
	}
	if a.chance(0.3) {
		text = strings.ToLower(text)
	}
	a.lines = append(a.lines, text)
	if err := a.m.do(len(a.lines), text); err != nil && a.err == nil {
		a.err = fmt.Errorf("%s: %w", text, err)
	}
}

// spell writes a value with some decimals, in one of the ways the standard has.
func (a *oracleAuthor) spell(value float64, decimals int) string {
	fixed := func(v float64) string { return strconv.FormatFloat(v, 'f', decimals, 64) }
	plain := fixed(value)
	switch a.random.IntN(16) {
	case 0:
		part := a.between(-50, 50)
		return "[" + fixed(value-part) + "+" + fixed(part) + "]"
	case 1:
		return "[" + plain + "*[5-1]/[3*2-2]]"
	case 2:
		return "[" + plain + "*" + a.pick("cos[0]", "2**0", "[7 mod 3]", "sin[90]", "fup[0.5]",
			"fix[1.5]", "round[0.6]", "abs[-1]", "exp[0]", "[3 and 1]", "[1 xor 0]", "[0 or 2]",
			"sqrt[1]", "[1+ln[1]]", "[atan[1]/[1]/45]", "[asin[1]/90]", "[1-acos[1]]", "tan[45]",
			"[[0-4] mod 5]", "[2**3**2/64]", "[2-4/2*0.5]", "[fix[-0.5]+2]", "[fup[-1.5]+2]") + "]"
	case 3:
		a.last++
		index := strconv.Itoa(100 + a.last)
		a.setting(index, plain)
		return "#" + index
	case 4:
		if value >= 0 {
			return "+00" + plain
		}
	case 5:
		if strings.Contains(plain, ".") {
			plain = strings.TrimRight(plain, "0") // may end with its point
			if strings.HasPrefix(plain, "0.") && plain != "0." {
				plain = plain[1:]
			}
		}
	}
	return plain
}

// setting adds a line that gives a parameter its value.
func (a *oracleAuthor) setting(index, value string) {
	a.line("#" + a.pick(index, "["+index+"]", index+".0") + "=" + value)
}

// motionCode returns a code of group 1, or nothing where it is in force.
func (a *oracleAuthor) motionCode(code int) []string {
	if a.m.mode == 10*code && a.chance(0.6) {
		return nil
	}
	return []string{a.pick("G", "G0", "G00") + strconv.Itoa(code) + a.pick("", "", ".", ".0")}
}

// axis writes an axis word that leads to a work coordinate, by the distance mode in
// force.
func (a *oracleAuthor) axis(axis int, target float64) string {
	if a.m.increments {
		target -= a.m.work()[axis]
	}
	return "XYZ"[axis:axis+1] + a.spell(target, 7)
}

// reach is the half width of the space where programs move, in the units in force.
func (a *oracleAuthor) reach() float64 { return 60 / a.m.unit }

// straight adds a rapid or a line with one to three axis words.
func (a *oracleAuthor) straight(code int) {
	var words []string
	for len(words) == 0 {
		for axis := range 3 {
			if a.chance(0.5) {
				words = append(words, a.axis(axis, a.between(-a.reach(), a.reach())))
			}
		}
	}
	if code == 1 && (a.chance(0.2) || a.m.inverse) {
		words = append(words, "F"+a.spell(a.between(1, 500), 2))
	}
	words = append(words, a.motionCode(code)...)
	a.line(words...)
}

// arcEnds returns the words that a centred and a radius arc share.
func (a *oracleAuthor) arcEnds(first, second float64) []string {
	axes := oracleAxes[a.m.plane]
	words := append(a.motionCode(2+a.random.IntN(2)), a.axis(axes[0], first), a.axis(axes[1], second))
	if a.chance(0.3) {
		words = append(words, a.axis(axes[2], a.between(-a.reach(), a.reach())))
	}
	if a.m.inverse {
		words = append(words, "F"+a.spell(a.between(1, 50), 2))
	}
	return words
}

// centredArc adds an arc with offsets of the centre. Its end may lie off the circle
// by what the standard allows.
func (a *oracleAuthor) centredArc(off float64) {
	axes := oracleAxes[a.m.plane]
	start := a.m.work()
	size := a.reach() / 2
	offset := oracleFlat{a.between(0.1, size), a.between(-size, size)}
	offset.first = math.Round(offset.first*1e4) / 1e4
	offset.second = math.Round(offset.second*1e4) / 1e4
	if a.chance(0.2) {
		offset.second = 0
	}
	radius := math.Hypot(offset.first, offset.second) + off/a.m.unit
	angle := math.Atan2(-offset.second, -offset.first) + a.between(0.05, 2*math.Pi-0.05)
	words := a.arcEnds(start[axes[0]]+offset.first+radius*math.Cos(angle),
		start[axes[1]]+offset.second+radius*math.Sin(angle))
	words = append(words, "IJK"[axes[0]:axes[0]+1]+a.spell(offset.first, 4))
	if offset.second != 0 || a.chance(0.3) {
		words = append(words, "IJK"[axes[1]:axes[1]+1]+a.spell(offset.second, 4))
	}
	a.line(words...)
}

// radiusArc adds an arc with a radius of either sign.
func (a *oracleAuthor) radiusArc() {
	axes := oracleAxes[a.m.plane]
	start := a.m.work()
	chord := oracleFlat{a.between(0.1, 1) * a.reach(), a.between(-1, 1) * a.reach()}
	radius := math.Hypot(chord.first, chord.second) / 2 * a.between(1.01, 4)
	if a.chance(0.5) {
		radius = -radius
	}
	words := a.arcEnds(start[axes[0]]+chord.first, start[axes[1]]+chord.second)
	a.line(append(words, "R"+a.spell(radius, 5))...)
}

// fullCircle adds a circle or a helix of one turn, or half a circle by its radius.
func (a *oracleAuthor) fullCircle() {
	if !a.m.increments {
		a.line("G91")
	}
	axes := oracleAxes[a.m.plane]
	first, second := "XYZ"[axes[0]:axes[0]+1], "XYZ"[axes[1]:axes[1]+1]
	words := []string{a.pick("G2", "G3")}
	if a.m.inverse {
		words = append(words, "F3")
	}
	if a.chance(0.4) {
		words = append(words, a.axis(axes[2], a.between(-a.reach(), a.reach())))
	}
	switch a.random.IntN(3) {
	case 0:
		words = append(words, first+"0", "IJK"[axes[1]:axes[1]+1]+a.spell(a.between(1, 5), 3))
	case 1:
		words = append(words, second+"0", first+"0",
			"IJK"[axes[0]:axes[0]+1]+a.spell(a.between(-5, -1), 3))
	case 2:
		words = append(words, second+"8", "R4")
	}
	a.line(words...)
	if a.chance(0.5) {
		a.line("G90")
	}
}
