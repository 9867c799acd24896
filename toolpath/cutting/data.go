package cutting

import (
	"slices"
	"strings"
)

// Data are starting values for slots with ball-ended cutters in one steel, annealed
// unless For has made others of them: suggested defaults, judgement inside published
// ranges, for a rigid mill and an air blast (carbide) or cutting oil (high-speed steel).
type Data struct {
	Steels              []string
	KC11, MC            float64 // Kienzle's constants, N/mm² (ISCAR's table by VDI 3323 group, read there)
	Coated, CoatedLeast float64 // surface speed of coated carbide, m/min: to start with, and the range
	CoatedMost          float64
	Uncoated            float64 // uncoated carbide
	HSS                 float64 // high-speed steel, uncoated with cobalt
	HSSLeast, HSSMost   float64
	DepthRatio          float64 // depth of a level over the diameter: to start with
	DepthRatioMost      float64
	SmallFeed           float64 // feed per tooth over the diameter of cutters under 1 mm
	FeedShare           float64 // feed per tooth over that in steel; 1 where 0
	HardestHRC          float64 // to which the figures hold; DefaultHardestHRC where 0
	NoHSS               string  // why not to mill with high-speed steel; empty where one may
	hard                bool    // the steel is hardened beyond DefaultHardestHRC
	ease                float64 // how far below the upper end of each range to stay (Paced)
}

// Paced returns the data with the upper ends of the ranges of speed, feed and depth moved:
// a pace of 0 leaves the values to start with as the greatest, 1 the ranges as they are.
func (d Data) Paced(pace float64) Data {
	d.ease = 1 - pace
	d.DepthRatioMost += (d.DepthRatio - d.DepthRatioMost) * d.ease
	return d
}

// eased moves the upper end of a range to the pace.
func (d Data) eased(s Start) Start {
	s.Most += (s.Start - s.Most) * d.ease
	return s
}

// Feeds of cutters under 1 mm over their diameter: judgement beside the rows of a maker's
// slot table for a diameter of 0.4 mm (Kyocera SGS, read there), 0.0008 mm in carbon
// steel, 0.0005 mm in alloy and tool steel and in stainless.
const (
	smallFeedCarbon = .002
	smallFeedTool   = .0015
)

// vanadiumCarbides is why powder steels are not milled with high-speed steel (judgement;
// drills of it do, slowly).
const vanadiumCarbides = "the vanadium carbides of a powder steel are harder than high-speed steel and dull it within a pass"

// dataTable groups blade steels that cut alike.
func dataTable() []Data {
	return []Data{
		{Steels: []string{"1075", "1080", "1084", "1095", "W2"}, KC11: 1700, MC: .24, Coated: 90, CoatedLeast: 70, CoatedMost: 110,
			Uncoated: 65, HSS: 20, HSSLeast: 18, HSSMost: 23, DepthRatio: .10, DepthRatioMost: .20, SmallFeed: smallFeedCarbon},
		{Steels: []string{"5160", "80CrV2", "15N20", "52100"}, KC11: 1775, MC: .24, Coated: 80, CoatedLeast: 60, CoatedMost: 100,
			Uncoated: 60, HSS: 18, HSSLeast: 15, HSSMost: 21, DepthRatio: .10, DepthRatioMost: .17, SmallFeed: smallFeedTool},
		{Steels: []string{"O1"}, KC11: 1775, MC: .24, Coated: 70, CoatedLeast: 55, CoatedMost: 90,
			Uncoated: 52, HSS: 15, HSSLeast: 13, HSSMost: 16, DepthRatio: .10, DepthRatioMost: .15, SmallFeed: smallFeedTool},
		{Steels: []string{"A2"}, KC11: 2450, MC: .23, Coated: 65, CoatedLeast: 50, CoatedMost: 80,
			Uncoated: 48, HSS: 14, HSSLeast: 12, HSSMost: 15, DepthRatio: .08, DepthRatioMost: .15, SmallFeed: smallFeedTool},
		{Steels: []string{"D2"}, KC11: 2450, MC: .23, Coated: 55, CoatedLeast: 40, CoatedMost: 70,
			Uncoated: 40, HSS: 11, HSSLeast: 9, HSSMost: 13, DepthRatio: .07, DepthRatioMost: .12, SmallFeed: smallFeedTool},
		{Steels: []string{"AEB-L", "14C28N", "13C26"}, KC11: 1875, MC: .21, Coated: 60, CoatedLeast: 45, CoatedMost: 80,
			Uncoated: 45, HSS: 15, HSSLeast: 12, HSSMost: 18, DepthRatio: .08, DepthRatioMost: .15, SmallFeed: smallFeedTool},
		{Steels: []string{"440C", "154CM", "ATS-34", "CPM 154"}, KC11: 2450, MC: .23, Coated: 50, CoatedLeast: 40, CoatedMost: 65,
			Uncoated: 38, HSS: 12, HSSLeast: 10, HSSMost: 14, DepthRatio: .07, DepthRatioMost: .12, SmallFeed: smallFeedTool},
		{Steels: []string{"S30V", "S35VN", "MagnaCut"}, KC11: 2700, MC: .23, Coated: 42, CoatedLeast: 30, CoatedMost: 55,
			Uncoated: 32, HSS: 8, HSSLeast: 6, HSSMost: 10, DepthRatio: .05, DepthRatioMost: .10, SmallFeed: smallFeedTool, NoHSS: vanadiumCarbides},
	}
}

// DataFor returns the data of a steel by its name, and whether there are any.
func DataFor(steel string) (Data, bool) {
	for _, d := range dataTable() {
		if slices.ContainsFunc(d.Steels, func(name string) bool { return strings.EqualFold(name, steel) }) {
			return d, true
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

// Start is a value to start with and the range that it lies in.
type Start struct{ Start, Least, Most float64 }

// times returns the value and its range as a share of themselves.
func (s Start) times(share float64) Start {
	return Start{s.Start * share, s.Least * share, s.Most * share}
}

// Speeds returns the surface speed of a tool material, m/min. The range of uncoated
// carbide is that of coated carbide, scaled by the values to start with.
func (d Data) Speeds(material ToolMaterial) Start {
	coated := Start{d.Coated, d.CoatedLeast, d.CoatedMost}
	switch material {
	case HighSpeedSteel:
		return d.eased(Start{d.HSS, d.HSSLeast, d.HSSMost})
	case UncoatedCarbide:
		return d.eased(coated.times(d.Uncoated / d.Coated))
	default:
		return d.eased(coated)
	}
}

// Faster returns the data with all surface speeds multiplied by a share.
func (d Data) Faster(share float64) Data {
	for _, speed := range []*float64{&d.Coated, &d.CoatedLeast, &d.CoatedMost, &d.Uncoated, &d.HSS, &d.HSSLeast, &d.HSSMost} {
		*speed *= share
	}
	return d
}

// Refuses returns why a tool is not to mill the steel, as a *Refusal, or nil.
func (d Data) Refuses(t Tool) error {
	switch {
	case t.Material != HighSpeedSteel:
		return nil
	case d.hard:
		return &Refusal{"high-speed steel does not cut hardened steel", "a coated carbide cutter would do"}
	case d.NoHSS != "":
		return &Refusal{d.NoHSS, "a coated carbide cutter would do"}
	}
	return nil
}

// hssFeedShare is the feed per tooth of high-speed steel over that of carbide: the same
// or a fifth less (judgement).
const hssFeedShare = 0.8

// FeedPerTooth returns the feed per tooth of a tool, mm, with what its stick-out takes
// off: 0.004·D from 3 mm on, 0.0025·D from 1 mm, and below that 0.002·D in carbon steel
// and 0.0015·D in others; in hardened steel 0.001 to 0.003·D (ISCAR's starting values,
// read there). Judgement inside makers' tables.
func (d Data) FeedPerTooth(t Tool) Start {
	feed := Start{}
	feed.Start, feed.Least, feed.Most = FeedPerTooth(t.Diameter)
	switch {
	case d.hard:
		feed = Start{.001, .001, .003}.times(t.Diameter)
	case t.Diameter < 1:
		feed.Start = d.SmallFeed * t.Diameter
	}
	if t.Material == HighSpeedSteel {
		feed.Start *= hssFeedShare
	}
	if d.FeedShare > 0 {
		feed = feed.times(d.FeedShare)
	}
	return d.eased(feed).times(t.StickOutShare())
}

// FeedPerTooth returns the feed per tooth to start with and its range, mm, for a
// carbide ball of the given diameter in carbon steel: 0.004·D from 3 mm on, 0.0025·D
// from 1 mm, 0.002·D below. Judgement inside makers' tables.
func FeedPerTooth(diameter float64) (start, least, most float64) {
	switch {
	case diameter >= 3:
		return .004 * diameter, .002 * diameter, .007 * diameter
	case diameter >= 1:
		return .0025 * diameter, .002 * diameter, .004 * diameter
	}
	return smallFeedCarbon * diameter, .001 * diameter, .003 * diameter
}

// LevelDepth returns the depth of a level of a tool, mm: what to start with and the most.
func (d Data) LevelDepth(t Tool) (start, most float64) {
	share := t.Diameter * t.StickOutShare()
	return d.DepthRatio * share, d.DepthRatioMost * share
}
