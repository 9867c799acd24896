package cutting

import "strings"

// Data are starting values for slots with ball-ended cutters in one steel, annealed:
// suggested defaults, judgement inside published ranges, for a rigid mill and an air
// blast (carbide) or cutting oil (high-speed steel).
type Data struct {
	Steels              []string
	KC11, MC            float64 // Kienzle's constants, N/mm² (ISCAR's table by VDI 3323 group, read there)
	Coated, CoatedLeast float64 // surface speed of coated carbide, m/min: to start with, and the range
	CoatedMost          float64
	Uncoated            float64 // uncoated carbide
	HSS                 float64 // high-speed steel
	DepthRatio          float64 // depth of a level over the diameter: to start with
	DepthRatioMost      float64
}

// dataTable groups blade steels that cut alike.
func dataTable() []Data {
	return []Data{
		{[]string{"1075", "1080", "1084", "1095", "W2"}, 1700, .24, 90, 70, 110, 65, 20, .10, .20},
		{[]string{"5160", "80CrV2", "15N20", "52100"}, 1775, .24, 80, 60, 100, 60, 18, .10, .17},
		{[]string{"O1"}, 1775, .24, 70, 55, 90, 52, 15, .10, .15},
		{[]string{"A2"}, 2450, .23, 65, 50, 80, 48, 14, .08, .15},
		{[]string{"D2"}, 2450, .23, 55, 40, 70, 40, 11, .07, .12},
		{[]string{"AEB-L", "14C28N", "13C26"}, 1875, .21, 60, 45, 80, 45, 15, .08, .15},
		{[]string{"440C", "154CM", "ATS-34", "CPM 154"}, 2450, .23, 50, 40, 65, 38, 12, .07, .12},
		{[]string{"S30V", "S35VN", "MagnaCut"}, 2700, .23, 42, 30, 55, 32, 8, .05, .10},
	}
}

// DataFor returns the data of a steel by its name, and whether there are any.
func DataFor(steel string) (Data, bool) {
	for _, d := range dataTable() {
		for _, name := range d.Steels {
			if strings.EqualFold(name, steel) {
				return d, true
			}
		}
	}
	return Data{}, false
}

// Steels returns the names of all steels with data.
func Steels() []string {
	var names []string
	for _, d := range dataTable() {
		names = append(names, d.Steels...)
	}
	return names
}

// FeedPerTooth returns the feed per tooth to start with and its range, mm, for a
// carbide ball of the given diameter: 0.004·D from 3 mm on, 0.0025·D from 1 mm,
// 0.002·D below. Judgement inside makers' tables.
func FeedPerTooth(diameter float64) (start, least, most float64) {
	switch {
	case diameter >= 3:
		return .004 * diameter, .002 * diameter, .007 * diameter
	case diameter >= 1:
		return .0025 * diameter, .002 * diameter, .004 * diameter
	}
	return .002 * diameter, .001 * diameter, .003 * diameter
}
