package gcode_test

import (
	"fmt"
	"math"

	"fullerwright/toolpath/motion"
)

// Limits of the standard for arcs, NISTIR 6556, 3.5.3 and the reference
// interpreter's constants.
const (
	oracleRadiusTolerance     = 0.002  // mm, in millimetres
	oracleRadiusToleranceInch = 0.0002 // inch, in inches
	oracleChordTolerance      = 1e-12  // of half a chord against a radius, less 1
	oracleSamePoint           = 1e-9   // mm: below it an arc ends where it began
)

// oracleAxes gives the axes of a plane: the first, the second and the normal,
// right-handed.
var oracleAxes = map[int][3]int{17: {0, 1, 2}, 18: {2, 0, 1}, 19: {1, 2, 0}}

// oracleFlat is a point of a plane, mm.
type oracleFlat struct{ first, second float64 }

// to returns the distance of two points.
func (p oracleFlat) to(q oracleFlat) float64 {
	return math.Hypot(q.first-p.first, q.second-p.second)
}

// angle returns the direction from p to q.
func (p oracleFlat) angle(q oracleFlat) float64 {
	return math.Atan2(q.second-p.second, q.first-p.first)
}

// arc does a G2 or a G3.
func (m *oracleMachine) arc(block oracleBlock, counterclockwise bool) error {
	axes := oracleAxes[m.plane]
	end := m.target(block)
	from := oracleFlat{m.position[axes[0]], m.position[axes[1]]}
	to := oracleFlat{end[axes[0]], end[axes[1]]}
	centre, err := m.centre(block, from, to, counterclockwise)
	if err != nil {
		return err
	}

	sweep := centre.angle(to) - centre.angle(from)
	full := from.to(to) < oracleSamePoint
	switch {
	case counterclockwise && (full || sweep <= 0):
		sweep += 2 * math.Pi
	case !counterclockwise && (full || sweep >= 0):
		sweep -= 2 * math.Pi
	}
	added := m.begin(motion.Arc, end)
	added.Plane = map[int]motion.Plane{
		17: motion.PlaneXY, 18: motion.PlaneZX, 19: motion.PlaneYZ,
	}[m.plane]
	middle := m.position
	middle[axes[0]], middle[axes[1]] = centre.first, centre.second
	added.Centre, added.Sweep = middle.vec(), sweep
	rise := end[axes[2]] - m.position[axes[2]]
	added.Feed = m.rate(math.Hypot(sweep*centre.to(from), rise))
	m.end(added, end)
	return nil
}

// centre returns the centre of an arc from the words of its line.
func (m *oracleMachine) centre(block oracleBlock, from, to oracleFlat, counterclockwise bool) (oracleFlat, error) {
	axes := oracleAxes[m.plane]
	if !block.has(string([]byte{"xyz"[axes[0]], "xyz"[axes[1]]})) {
		return from, fmt.Errorf("no end in the plane")
	}
	if block.has("ijk"[axes[2] : axes[2]+1]) {
		return from, fmt.Errorf("an offset along the normal")
	}
	if block.has("r") == block.has("ijk") {
		return from, fmt.Errorf("neither a radius nor a centre, or both")
	}
	if block.has("r") {
		return oracleCentre(from, to, block.word['r']*m.unit, counterclockwise)
	}
	centre := oracleFlat{
		from.first + m.unit*block.word["ijk"[axes[0]]],
		from.second + m.unit*block.word["ijk"[axes[1]]],
	}
	return centre, m.checkRadii(centre.to(from), centre.to(to))
}

// checkRadii compares the radii at the two ends of an arc.
func (m *oracleMachine) checkRadii(start, end float64) error {
	allowed := oracleRadiusTolerance
	if m.unit != 1 {
		allowed = oracleRadiusToleranceInch * m.unit
	}
	if start == 0 || end == 0 {
		return fmt.Errorf("a radius of nought")
	}
	if math.Abs(start-end) > allowed {
		return fmt.Errorf("the radii differ by %v mm", math.Abs(start-end))
	}
	return nil
}

// oracleCentre returns the centre of an arc given by its radius.
func oracleCentre(from, to oracleFlat, radius float64, counterclockwise bool) (oracleFlat, error) {
	chord := from.to(to)
	if radius == 0 || chord < oracleSamePoint {
		return from, fmt.Errorf("no radius or no chord")
	}
	ratio := chord / 2 / math.Abs(radius)
	if ratio > 1+oracleChordTolerance {
		return from, fmt.Errorf("the radius is too small")
	}
	height := 0.0
	if ratio < 1-oracleChordTolerance {
		height = math.Abs(radius) * math.Sqrt(1-ratio*ratio)
	}
	// The centre of a short counterclockwise arc is to the left of its chord.
	if (radius > 0) != counterclockwise {
		height = -height
	}
	along, across := (to.first-from.first)/chord, (to.second-from.second)/chord
	return oracleFlat{
		(from.first+to.first)/2 - height*across,
		(from.second+to.second)/2 + height*along,
	}, nil
}
