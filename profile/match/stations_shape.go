package match

import (
	"fmt"
	"math"
)

const (
	// pointed is the greatest part of the greatest width that is a point, and blunt the least
	// that the tang's end or the ricasso has (common practice, no source).
	pointed = 0.25
	blunt   = 0.15
	// taper is by how much of it the one end must be narrower than the other at least.
	taper = 0.1
)

// checkShape tells a table that is turned over: spine and edge exchanged, or stations that
// count from the point. It is told once, since every family fails by it.
func (t *stationTable) checkShape() {
	if len(t.faults) > 0 {
		return // what else is wrong may look like it
	}
	m := t.measurements()
	if line := exchanged(m); line > 0 {
		t.fault(line, "spine, edge", "", "the spine lies below the edge at most stations; heights count upward, from edge to spine",
			"exchange the headings spine and edge; if heights were counted downward from the spine, give all of them a minus sign instead")
	}
	first, last, turned := fromThePoint(m)
	const rule = "the blade comes to its point at the least x, %.4g mm, and is broad at the greatest, %.4g mm; x counts from the guard plane, toward the point positive"
	switch {
	case turned && first < -sameStation:
		t.fault(0, "x", "", fmt.Sprintf(rule, first, last), "change the sign of every x: what lies behind the guard is negative, the blade positive")
	case turned:
		t.fault(0, "x", "", fmt.Sprintf(rule, first, last), "take each x from the length of the blade, so that the guard plane is 0 and the point the greatest; what lies behind the guard becomes negative")
	}
}

// exchanged returns the line of the first of the stations at which the spine is said to lie
// below the edge, where those are more than half, and 0 else.
func exchanged(m Measurements) int {
	spine := map[float64]float64{}
	for _, r := range m.Readings {
		if r.Kind == Spine {
			spine[r.X] = r.Value
		}
	}
	first, below, both := 0, 0, 0
	for _, r := range m.Readings {
		height, there := spine[r.X]
		if r.Kind != Edge || !there {
			continue
		}
		both++
		if height < r.Value {
			below++
			if first == 0 {
				first = r.Line
			}
		}
	}
	if 2*below > both {
		return first
	}
	return 0
}

// fromThePoint reports whether the least station is the point, and how far the stations
// reach, mm.
func fromThePoint(m Measurements) (first, last float64, turned bool) {
	widths := widthsOver(m, math.Inf(-1))
	if len(widths) < fewestStations {
		return 0, 0, false
	}
	greatest := 0.0
	for _, w := range widths {
		greatest = math.Max(greatest, w.width)
	}
	point, rear := widths[0], widths[len(widths)-1]
	turned = point.width < pointed*greatest && rear.width > blunt*greatest && rear.width-point.width > taper*greatest
	return point.x, rear.x, turned
}
