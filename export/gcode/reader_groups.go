package gcode

// Modal groups of G and M codes (NISTIR 6556, table 4). G codes are ten times their
// number throughout, so that G59.1 is 591.
const (
	nonModal = iota
	motionGroup
	planeGroup
	distanceGroup
	feedModeGroup
	unitsGroup
	compensationGroup
	lengthGroup
	returnGroup
	systemGroup
	pathGroup
	stopGroup
	toolGroup
	spindleGroup
	coolantGroup
	overrideGroup
	groupCount
)

var groupNames = [groupCount]string{"0, non-modal", "1, motion", "2, plane", "3, distance", "5, feed mode", "6, units",
	"7, cutter radius compensation", "8, tool length", "10, cycle return", "12, coordinate system", "13, path control",
	"4, stopping", "6, tool change", "7, spindle", "8, coolant", "9, overrides"}

// gGroup returns the group of a G code, and whether there is such a code.
func gGroup(ten int) (group int, known bool) {
	switch ten {
	case 40, 100, 280, 300, 530, 920, 921, 922, 923:
		return nonModal, true
	case 0, 10, 20, 30, 382, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890:
		return motionGroup, true
	case 170, 180, 190:
		return planeGroup, true
	case 900, 910:
		return distanceGroup, true
	case 930, 940:
		return feedModeGroup, true
	case 200, 210:
		return unitsGroup, true
	case 400, 410, 420:
		return compensationGroup, true
	case 430, 490:
		return lengthGroup, true
	case 980, 990:
		return returnGroup, true
	case 540, 550, 560, 570, 580, 590, 591, 592, 593:
		return systemGroup, true
	case 610, 611, 640:
		return pathGroup, true
	}
	return 0, false
}

// mGroup returns the group of an M code, and whether there is such a code.
func mGroup(n int) (group int, known bool) {
	switch n {
	case 0, 1, 2, 30, 60:
		return stopGroup, true
	case 6:
		return toolGroup, true
	case 3, 4, 5:
		return spindleGroup, true
	case 7, 8, 9:
		return coolantGroup, true
	case 48, 49:
		return overrideGroup, true
	}
	return 0, false
}

func isArc(ten int) bool   { return ten == 20 || ten == 30 }
func isCycle(ten int) bool { return ten >= 810 && ten <= 890 }
