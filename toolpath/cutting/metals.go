package cutting

import "slices"

// metalTable holds starting values for slots in the metals of guards and pommels, half hard
// or as rolled, by the names that knife files use. Feeds per tooth are those of steel times a
// share.
//
// What is read in a source stands beside it. All else is from memory, of handbook tables and
// of the groups of VDI 3323, and moved toward a small mill without coolant (judgement):
// surface speeds of copper alloys and aluminium are far from the most that makers give, and
// bench mills seldom reach them with small cutters anyway.
func metalTable() []Data {
	return []Data{
		// Free-cutting brass, 360: short chips, little force.
		{Steels: []string{"brass"}, KC11: 700, MC: .27, Coated: 150, CoatedLeast: 90, CoatedMost: 250,
			Uncoated: 150, HSS: 45, HSSLeast: 30, HSSMost: 70, DepthRatio: .15, DepthRatioMost: .30, SmallFeed: smallFeedCarbon, FeedShare: 1.25},
		// Tin and aluminium bronzes are tougher than brass.
		{Steels: []string{"bronze"}, KC11: 1000, MC: .27, Coated: 90, CoatedLeast: 60, CoatedMost: 140,
			Uncoated: 90, HSS: 25, HSSLeast: 18, HSSMost: 35, DepthRatio: .12, DepthRatioMost: .25, SmallFeed: smallFeedCarbon},
		// Copper with nickel and zinc, no lead: it work-hardens and sticks.
		{Steels: []string{"nickel silver"}, KC11: 1100, MC: .27, Coated: 70, CoatedLeast: 45, CoatedMost: 110,
			Uncoated: 70, HSS: 20, HSSLeast: 15, HSSMost: 30, DepthRatio: .10, DepthRatioMost: .20, SmallFeed: smallFeedCarbon},
		{Steels: []string{"copper"}, KC11: 1200, MC: .27, Coated: 90, CoatedLeast: 60, CoatedMost: 150,
			Uncoated: 90, HSS: 25, HSSLeast: 18, HSSMost: 40, DepthRatio: .10, DepthRatioMost: .20, SmallFeed: smallFeedCarbon},
		// Forces: ISCAR's table, group 1, read there. Speeds: 135 m/min in a slot at 150 HB
		// (Sandvik, read there), 101 in carbon steel to 225 HB (Kyocera SGS, read there);
		// high-speed steel 90 ft/min at 125 to 175 HB (Machinery's Handbook as reproduced,
		// for harder grades; read there).
		{Steels: []string{"steel"}, KC11: 1350, MC: .21, Coated: 110, CoatedLeast: 80, CoatedMost: 135,
			Uncoated: 80, HSS: 27, HSSLeast: 22, HSSMost: 30, DepthRatio: .12, DepthRatioMost: .22, SmallFeed: smallFeedCarbon},
		// 304 and its like. Forces: ISCAR's table, group 14, read there. Speeds: 57 m/min
		// coated, 44 uncoated, in stainless steels that are hard to cut (Kyocera SGS, slots,
		// read there). It hardens under a cutter that rubs.
		{Steels: []string{"stainless steel"}, KC11: 2150, MC: .20, Coated: 50, CoatedLeast: 40, CoatedMost: 57,
			Uncoated: 40, HSS: 12, HSSLeast: 9, HSSMost: 15, DepthRatio: .07, DepthRatioMost: .12, SmallFeed: smallFeedTool},
		// Speeds: 82 m/min coated, 63 uncoated, in free-machining stainless steels to 185 HB
		// (Kyocera SGS, slots, read there). Forces: of the plain grades' groups 14 and 12,
		// ISCAR's table, read there; sulphur makes them less.
		{Steels: []string{"303 stainless steel"}, KC11: 2150, MC: .20, Coated: 70, CoatedLeast: 50, CoatedMost: 82,
			Uncoated: 55, HSS: 18, HSSLeast: 14, HSSMost: 24, DepthRatio: .08, DepthRatioMost: .15, SmallFeed: smallFeedTool},
		{Steels: []string{"416 stainless steel"}, KC11: 1875, MC: .21, Coated: 70, CoatedLeast: 50, CoatedMost: 82,
			Uncoated: 55, HSS: 22, HSSLeast: 16, HSSMost: 28, DepthRatio: .10, DepthRatioMost: .17, SmallFeed: smallFeedTool},
		// Ti-6Al-4V; mild titanium cuts easier. Its chips burn: CAUTIONS.md.
		{Steels: []string{"titanium"}, KC11: 1450, MC: .23, Coated: 45, CoatedLeast: 30, CoatedMost: 60,
			Uncoated: 45, HSS: 10, HSSLeast: 7, HSSMost: 13, DepthRatio: .06, DepthRatioMost: .12, SmallFeed: smallFeedTool},
		// Wrought alloys, 6061 and its like.
		{Steels: []string{"aluminium"}, KC11: 700, MC: .25, Coated: 200, CoatedLeast: 120, CoatedMost: 350,
			Uncoated: 200, HSS: 70, HSSLeast: 50, HSSMost: 110, DepthRatio: .20, DepthRatioMost: .40, SmallFeed: smallFeedCarbon, FeedShare: 1.5},
	}
}

// MetalFor returns the data of a metal of fittings by its name, and whether there are any.
func MetalFor(name string) (Data, bool) {
	for _, d := range metalTable() {
		if slices.Contains(d.Steels, name) {
			return d, true
		}
	}
	return Data{}, false
}

// Metals returns the names of the metals of fittings with data.
func Metals() []string {
	var names []string
	for _, d := range metalTable() {
		names = append(names, d.Steels...)
	}
	return names
}
